//! What an item can meet near a place, looked up once for all steps of a descent.
//!
//! Each question goes to some neighbours at once, first for the cell of the index and then for the depth, so that memory
//! answers for several of them at the same time.

use super::{Separator, Thing};
use crate::nest::no_fit::{Slope, Spot};
use crate::nest::pairs::Between;

/// Neighbours that are asked at once.
const AT_ONCE: usize = 4;

/// A place that no place is near.
const NOWHERE: [f64; 2] = [f64::INFINITY; 2];

/// One of the things that an item can meet.
#[derive(Clone, Copy)]
struct Neighbour<'a> {
    other: u32,
    at: [f64; 2],
    between: Between<'a>,
    /// What a depth of one costs: the weight of the pair by its bulk.
    weight: f64,
}

impl Neighbour<'_> {
    #[inline(always)]
    fn spot(&self, at: [f64; 2]) -> Spot {
        self.between.spot([self.at[0] - at[0], self.at[1] - at[1]])
    }
}

/// Everything that an item can meet within some reach of a place.
pub(super) struct Around<'a> {
    centre: [f64; 2],
    reach: f64,
    neighbours: Vec<Neighbour<'a>>,
}

impl Default for Around<'_> {
    fn default() -> Self {
        Self { centre: NOWHERE, reach: 0.0, neighbours: Vec::new() }
    }
}

impl<'a> Around<'a> {
    /// Forgets what was noted; what is needed next will be noted within this reach.
    pub(super) fn forget(&mut self, reach: f64) {
        self.centre = NOWHERE;
        self.reach = reach;
    }

    fn knows(&self, at: [f64; 2]) -> bool {
        (at[0] - self.centre[0]).abs() <= self.reach && (at[1] - self.centre[1]).abs() <= self.reach
    }

    /// Finds what is overlapped or touched, across a gap of so much at most, at a place within reach, and what that costs
    /// where a depth up to `touch` costs nothing.
    fn lines(&self, at: [f64; 2], touch: f64, gap: f64, found: &mut Vec<Line>) -> f64 {
        found.clear();
        let mut total = 0.0;
        let (groups, _) = self.neighbours.as_chunks::<AT_ONCE>();
        for some in groups {
            // Not `some.map`, which the compiler keeps as a call of its own for each of them.
            let spots: [Spot; AT_ONCE] = std::array::from_fn(|k| some[k].spot(at));
            for (spot, it) in spots.iter().zip(some) {
                let Slope { depth, inwards } = it.between.slope_at(spot);
                if depth >= -gap && it.weight > 0.0 {
                    total += if depth > touch { depth * it.weight } else { 0.0 };
                    // The way inwards is that of the neighbour.
                    found.push(Line { other: it.other, depth, out: inwards, weight: it.weight });
                }
            }
        }
        total
    }
}

/// The line up to which an item overlaps another thing, or on which it touches it.
#[derive(Clone, Copy, Debug)]
pub(super) struct Line {
    pub(super) other: u32,
    /// How far the item lies beyond it; below zero where there is a gap.
    pub(super) depth: f64,
    /// Unit way of the item straight off it.
    pub(super) out: [f64; 2],
    /// What a depth of one costs.
    pub(super) weight: f64,
}

impl<'a> Separator<'a> {
    /// Notes everything that an item, as it is meant to lie, can meet within reach of a place.
    fn look_around(&self, item: usize, me: &Thing, centre: [f64; 2], around: &mut Around<'a>) {
        around.centre = centre;
        around.neighbours.clear();
        let pairs = self.strip.shapes.pairs();
        let half = me.half.map(|half| half + around.reach);
        let weights = self.conflicts.weights_of(item);
        for other in self.near(item, centre, half) {
            let it = &self.things[other];
            let meets = |axis: usize| (it.at[axis] - centre[axis]).abs() < half[axis] + it.half[axis];
            if meets(0) && meets(1) {
                around.neighbours.push(Neighbour {
                    other: other as u32,
                    at: it.at,
                    between: pairs.between(me.shape as usize, it.shape as usize),
                    weight: f64::from(weights[other]) * f64::from(me.bulk * it.bulk),
                });
            }
        }
        // A group is asked as a whole: what is missing from the last one costs nothing.
        if let Some(&last) = around.neighbours.last() {
            let whole = around.neighbours.len().next_multiple_of(AT_ONCE);
            around.neighbours.resize(whole, Neighbour { weight: 0.0, ..last });
        }
    }

    /// Finds what an item overlaps or touches at a place, by way of what was noted around, and tells what that costs, as
    /// [`Separator::cost`] does.
    pub(super) fn lines(
        &mut self,
        item: usize,
        me: &Thing,
        at: [f64; 2],
        gap: f64,
        around: &mut Around<'a>,
        found: &mut Vec<Line>,
    ) -> f64 {
        self.work += 1;
        if !around.knows(at) {
            self.look_around(item, me, at, around);
        }
        around.lines(at, self.touch, gap, found)
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::nest::random::Random;
    use crate::nest::separate::Patience;
    use crate::nest::shapes::Shapes;
    use crate::nest::strip::{Lying, Strip};
    use crate::nest::task::Piece;
    use crate::nest::test_pieces::piece;

    const LENGTH: f64 = 300.0;
    const WIDTH: f64 = 100.0;
    const ITEMS: usize = 14;

    fn triangle(size: f64) -> Piece {
        piece(&[[0.0, 0.0], [size, 0.0], [0.3 * size, 0.8 * size]], 1, &[0.0, 90.0])
    }

    proptest! {
        /// However far a place is from where one has looked around, what is told of it is the same.
        #[test]
        fn what_is_known_from_around_is_what_a_look_at_everything_finds(
            seed in any::<u64>(),
            reach in 1.0..40.0f64,
            moves in proptest::collection::vec((-60.0..60.0f64, -60.0..60.0f64), 1..12),
        ) {
            let pieces: Vec<Piece> = (0..ITEMS).map(|k| triangle(15.0 + 3.0 * k as f64)).collect();
            let shapes = Shapes::new(&pieces, &[], false, 0.0).expect("no gap");
            let strip = Strip::new(&shapes, (0..ITEMS).collect(), [0.0, WIDTH], ITEMS..ITEMS, false);
            let mut random = Random::new(seed, 1);
            let start: Vec<Lying> = (0..ITEMS)
                .map(|_| Lying { way: random.index(2), at: [random.between(0.0, LENGTH), random.between(0.0, WIDTH)] })
                .collect();
            let mut separator = Separator::new(&strip, Random::new(seed, 0));
            separator.load(&start, LENGTH, Patience { passes: 1, strikes: 1 });
            // Some passes, so that weights differ.
            separator.run(500);
            let item = random.index(ITEMS);
            let me = separator.things[item];
            let mut around = Around::default();
            around.forget(reach);
            let mut found = Vec::new();
            for (x, y) in moves {
                let at = [me.at[0] + x, me.at[1] + y];
                let all = separator.cost(item, &me, at, f64::INFINITY);
                let near = separator.lines(item, &me, at, 0.0, &mut around, &mut found);
                prop_assert!((all - near).abs() <= 1e-9 * all, "{at:?}: {all} and {near}");
                let touch = separator.touch;
                found.retain(|line| line.depth > touch);
                let weighed: f64 = found.iter().map(|line| line.depth * line.weight).sum();
                prop_assert!((weighed - near).abs() <= 1e-9 * near);
                for Line { other, depth, out, .. } in found.iter().copied().filter(|line| line.depth > 1.0) {
                    // Half way out half is left, but for what cells deep inside are off.
                    let moved = [0, 1].map(|axis| at[axis] + 0.5 * depth * out[axis]);
                    let [before, after] = [at, moved].map(|at| separator.depth(&me, at, other as usize));
                    prop_assert!((after / before - 0.5).abs() < 0.2, "{before} and {after}");
                }
            }
        }
    }
}
