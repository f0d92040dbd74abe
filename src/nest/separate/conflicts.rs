//! How deep pairs lie in each other, and what each pair weighs.
//!
//! Of all pairs few overlap or have done so of late. They are kept in a list, so that what is done for each pass takes
//! the time of those and not of all. How weights grow and sink is the rule of Gardeyn, Vanden Berghe and Wauters (2025).

/// Share of its weight that a pair keeps from pass to pass where it does not overlap.
const KEPT: f32 = 0.95;
/// How weights grow where there is overlap: the least, and what is added for the deepest.
const GROWTH: [f32; 2] = [1.2, 0.8];
/// What a pair weighs at most: beyond, no other counts beside it.
const MOST: f32 = 1e12;

/// Depths and weights of all pairs of an item and a thing; the first things are the items.
pub(super) struct Conflicts {
    things: usize,
    items: usize,
    /// Depth of each pair, by item and thing.
    depths: Vec<f32>,
    /// Weight of each pair, by item and thing.
    weights: Vec<f32>,
    /// Pairs that overlap or weigh more than one, each once, with the item of the lower number first.
    active: Vec<[u32; 2]>,
    is_active: Vec<bool>,
}

impl Conflicts {
    /// Room for pairs, without overlap and with weights of one.
    pub(super) fn new(items: usize, things: usize) -> Self {
        let pairs = items * things;
        Self {
            things,
            items,
            depths: vec![0.0; pairs],
            weights: vec![1.0; pairs],
            active: Vec::new(),
            is_active: vec![false; pairs],
        }
    }

    fn of(&self, item: usize) -> std::ops::Range<usize> {
        item * self.things..(item + 1) * self.things
    }

    /// Both places at which something is noted of a pair: the second is the first where the other thing is no item.
    fn places(&self, item: usize, other: usize) -> [usize; 2] {
        let place = item * self.things + other;
        [place, if other < self.items { other * self.things + item } else { place }]
    }

    /// The weights of all pairs of an item.
    pub(super) fn weights_of(&self, item: usize) -> &[f32] {
        &self.weights[self.of(item)]
    }

    /// Whether an item overlaps anything.
    pub(super) fn has(&self, item: usize) -> bool {
        self.depths[self.of(item)].iter().fold(false, |any, depth| any | (*depth > 0.0))
    }

    /// The items that overlap anything, in order.
    pub(super) fn items(&self) -> Vec<usize> {
        let mut conflicting = vec![false; self.items];
        for &pair in self.active.iter().filter(|&&pair| self.depth(pair) > 0.0) {
            // A thing that is no item has no place in the list.
            for thing in pair {
                if let Some(found) = conflicting.get_mut(thing as usize) {
                    *found = true;
                }
            }
        }
        (0..self.items).filter(|&item| conflicting[item]).collect()
    }

    /// Forgets the depths of an item.
    pub(super) fn clear(&mut self, item: usize) {
        for other in 0..self.things {
            if self.depths[item * self.things + other] > 0.0 {
                for place in self.places(item, other) {
                    self.depths[place] = 0.0;
                }
            }
        }
    }

    /// Forgets all depths.
    pub(super) fn clear_all(&mut self) {
        for &[item, other] in &self.active {
            for place in self.places(item as usize, other as usize) {
                self.depths[place] = 0.0;
            }
        }
    }

    /// Forgets all depths, and sets all weights to one.
    pub(super) fn reset(&mut self) {
        for [item, other] in std::mem::take(&mut self.active) {
            let places = self.places(item as usize, other as usize);
            self.is_active[places[0]] = false;
            for place in places {
                self.depths[place] = 0.0;
                self.weights[place] = 1.0;
            }
        }
    }

    /// Notes how deep a pair lies in each other. Where it is noted twice, from both sides, an overlap that only one of them
    /// sees is one.
    pub(super) fn note(&mut self, item: usize, other: usize, depth: f32) {
        if depth <= 0.0 {
            return;
        }
        for place in self.places(item, other) {
            self.depths[place] = depth;
        }
        let pair = [item.min(other), item.max(other)];
        let is_active = &mut self.is_active[pair[0] * self.things + pair[1]];
        if !*is_active {
            *is_active = true;
            self.active.push(pair.map(|thing| thing as u32));
        }
    }

    fn depth(&self, [item, other]: [u32; 2]) -> f32 {
        self.depths[item as usize * self.things + other as usize]
    }

    /// Weights of pairs in conflict grow with their depth, those of others sink back to one; nothing changes where there
    /// is no conflict.
    pub(super) fn raise_weights(&mut self) {
        let deepest = self.active.iter().map(|&pair| self.depth(pair)).fold(0.0, f32::max);
        if deepest == 0.0 {
            return;
        }
        let mut active = std::mem::take(&mut self.active);
        active.retain(|&pair| {
            let places = self.places(pair[0] as usize, pair[1] as usize);
            let (depth, weight) = (self.depth(pair), self.weights[places[0]]);
            let weight = if depth > 0.0 {
                (weight * (GROWTH[0] + GROWTH[1] * depth / deepest)).min(MOST)
            } else {
                (weight * KEPT).max(1.0)
            };
            for place in places {
                self.weights[place] = weight;
            }
            let kept = depth > 0.0 || weight > 1.0;
            self.is_active[places[0]] = kept;
            kept
        });
        self.active = active;
    }

    /// The sum of all depths, each pair once.
    pub(super) fn total(&self) -> f64 {
        self.active.iter().map(|&pair| f64::from(self.depth(pair))).sum()
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    const ITEMS: usize = 5;
    const THINGS: usize = 7;

    /// All pairs, each looked at each time.
    struct Plain {
        depths: [[f32; THINGS]; THINGS],
        weights: [[f32; THINGS]; THINGS],
    }

    impl Plain {
        fn pairs() -> impl Iterator<Item = (usize, usize)> {
            (0..ITEMS).flat_map(|item| (item + 1..THINGS).map(move |other| (item, other)))
        }

        fn raise_weights(&mut self) {
            let deepest = Self::pairs().map(|(a, b)| self.depths[a][b]).fold(0.0, f32::max);
            for (a, b) in Self::pairs().filter(|_| deepest > 0.0) {
                let (depth, weight) = (self.depths[a][b], &mut self.weights[a][b]);
                *weight = if depth > 0.0 { *weight * (1.2 + 0.8 * depth / deepest) } else { (*weight * 0.95).max(1.0) };
            }
        }
    }

    proptest! {
        /// Gardeyn, Vanden Berghe and Wauters (2025): conflicts weigh 1.2 to 2 times as much from pass to pass, what is none
        /// sinks by 0.95 back to one.
        #[test]
        fn the_list_of_the_few_tells_what_a_look_at_all_pairs_does(
            steps in proptest::collection::vec((0..5u8, 0..ITEMS, proptest::collection::vec(-1.0..1.0f32, THINGS)), 1..60),
        ) {
            let mut few = Conflicts::new(ITEMS, THINGS);
            let mut plain = Plain { depths: [[0.0; THINGS]; THINGS], weights: [[1.0; THINGS]; THINGS] };
            for (what, item, depths) in steps {
                match what {
                    0 => few.raise_weights(),
                    1 => few.clear_all(),
                    2 if item == 0 => few.reset(),
                    _ => few.clear(item),
                }
                match what {
                    0 => plain.raise_weights(),
                    1 => plain.depths = [[0.0; THINGS]; THINGS],
                    2 if item == 0 => {
                        plain = Plain { depths: [[0.0; THINGS]; THINGS], weights: [[1.0; THINGS]; THINGS] };
                    }
                    _ => {
                        for (other, &depth) in depths.iter().enumerate().filter(|(other, _)| *other != item) {
                            few.note(item, other, depth);
                            plain.depths[item.min(other)][item.max(other)] = depth.max(0.0);
                        }
                    }
                }
                let total: f64 = Plain::pairs().map(|(a, b)| f64::from(plain.depths[a][b])).sum();
                prop_assert!((few.total() - total).abs() < 1e-9);
                let overlaps = |item: usize| (0..THINGS).any(|k| plain.depths[item.min(k)][item.max(k)] > 0.0);
                prop_assert_eq!(few.items(), (0..ITEMS).filter(|&item| overlaps(item)).collect::<Vec<_>>());
                prop_assert!((0..ITEMS).all(|item| few.has(item) == overlaps(item)));
                for (a, b) in Plain::pairs() {
                    let weight = few.weights_of(a)[b];
                    prop_assert_eq!(weight, plain.weights[a][b]);
                    prop_assert!(b >= ITEMS || few.weights_of(b)[a] == weight);
                }
            }
        }
    }

    #[test]
    fn a_weight_grows_up_to_a_limit() {
        let mut few = Conflicts::new(ITEMS, THINGS);
        few.note(0, 1, 1.0);
        for _ in 0..200 {
            few.raise_weights();
        }
        assert_eq!((few.weights_of(0)[1], few.weights_of(1)[0]), (MOST, MOST));
    }

    #[test]
    fn pairs_that_have_sunk_back_leave_the_list() {
        let mut few = Conflicts::new(ITEMS, THINGS);
        few.note(0, 1, 1.0);
        few.note(2, 3, 0.5);
        few.raise_weights();
        few.clear(0);
        for _ in 0..20 {
            few.raise_weights();
        }
        assert_eq!(few.active, [[2, 3]]);
        assert_eq!(few.weights_of(0), [1.0; THINGS]);
    }
}
