//! Ways out of a dead end: an arrangement changed so much that the search for one without overlap takes another course.
//!
//! Gardeyn, Vanden Berghe and Wauters (2025) swap two large items; here that is one way of several.

use super::random::Random;
use super::strip::{Lying, Strip};

/// Changes an arrangement on a length of cloth.
type Change = fn(&Strip, &mut [Lying], f64, &mut Random);

/// Changes of an item or two, mostly, each with how often it is made.
const LITTLE: [(usize, Change); 7] = [
    (30, move_one),
    (25, swap_alike),
    (20, mix_neighbours),
    (10, swap_large),
    (8, turn_part),
    (4, scatter),
    (3, swap_parts),
];

/// Changes of a great part, each with how often it is made.
const MUCH: [(usize, Change); 4] = [(2, scatter), (1, swap_large), (1, turn_part), (1, swap_parts)];

/// Shares of the cloth's length that are thrown into disorder, at least and at most.
const SCATTERED: [f64; 2] = [0.1, 0.4];
/// Shares of the cloth's length that are turned, at least and at most.
const TURNED: [f64; 2] = [0.1, 0.6];
/// Neighbours that change places, at least and at most.
const NEIGHBOURS: [usize; 2] = [2, 4];

/// One in so many items is near enough in size to be swapped with.
const ALIKE: usize = 5;

/// Changes an arrangement, mostly by little.
pub fn disrupt(strip: &Strip, arrangement: &mut [Lying], length: f64, random: &mut Random) {
    one_of(&LITTLE, random)(strip, arrangement, length, random);
}

/// Changes a great part of an arrangement.
pub fn disrupt_much(strip: &Strip, arrangement: &mut [Lying], length: f64, random: &mut Random) {
    one_of(&MUCH, random)(strip, arrangement, length, random);
}

fn one_of(changes: &[(usize, Change)], random: &mut Random) -> Change {
    let mut ticket = random.index(changes.iter().map(|(often, _)| often).sum());
    let drawn = changes.iter().find(|(often, _)| {
        let hit = ticket < *often;
        ticket = ticket.saturating_sub(*often);
        hit
    });
    drawn.unwrap_or(&changes[0]).1
}

/// Puts an item at a place near a point, in a random way.
fn put_anyhow(strip: &Strip, item: usize, lying: &mut Lying, at: [f64; 2], length: f64, random: &mut Random) {
    let way = random.index(strip.ways(item).len());
    if strip.admits(item, way, length) {
        lying.way = way;
    }
    lying.at = strip.onto_cloth(strip.half(item, lying.way), at, length);
}

/// Puts one item somewhere else.
fn move_one(strip: &Strip, arrangement: &mut [Lying], length: f64, random: &mut Random) {
    let item = random.index(arrangement.len());
    let at = [random.between(0.0, length), random.between(strip.usable[0], strip.usable[1])];
    put_anyhow(strip, item, &mut arrangement[item], at, length, random);
}

/// Lets the items around a point change places.
fn mix_neighbours(strip: &Strip, arrangement: &mut [Lying], length: f64, random: &mut Random) {
    let centre = arrangement[random.index(arrangement.len())].at;
    let away = |lying: &Lying| (lying.at[0] - centre[0]).powi(2) + (lying.at[1] - centre[1]).powi(2);
    let mut near: Vec<usize> = (0..arrangement.len()).collect();
    near.sort_by(|&a, &b| away(&arrangement[a]).total_cmp(&away(&arrangement[b])).then(a.cmp(&b)));
    near.truncate(NEIGHBOURS[0] + random.index(NEIGHBOURS[1] - NEIGHBOURS[0] + 1));
    let mut places: Vec<[f64; 2]> = near.iter().map(|&item| arrangement[item].at).collect();
    random.shuffle(&mut places);
    for (item, place) in near.into_iter().zip(places) {
        put_anyhow(strip, item, &mut arrangement[item], place, length, random);
    }
}

/// Turns a part of the cloth half round, with all that lies on it.
fn turn_part(strip: &Strip, arrangement: &mut [Lying], length: f64, random: &mut Random) {
    let size = length * random.between(TURNED[0], TURNED[1]);
    let from = random.between(0.0, length - size);
    let ends = [from + from + size, strip.usable[0] + strip.usable[1]];
    for (item, lying) in arrangement.iter_mut().enumerate() {
        if lying.at[0] >= from && lying.at[0] <= from + size {
            // What may not be turned only changes its place.
            lying.way = strip.half_turned(item, lying.way).unwrap_or(lying.way);
            let at = [0, 1].map(|axis| ends[axis] - lying.at[axis]);
            lying.at = strip.onto_cloth(strip.half(item, lying.way), at, length);
        }
    }
}

/// Two parts of the cloth, one behind the other, change places.
fn swap_parts(strip: &Strip, arrangement: &mut [Lying], length: f64, random: &mut Random) {
    let mut lines = [0; 3].map(|_| random.between(0.0, length));
    lines.sort_by(f64::total_cmp);
    let [from, between, to] = lines;
    for (item, lying) in arrangement.iter_mut().enumerate() {
        if lying.at[0] >= from && lying.at[0] <= to {
            let shift = if lying.at[0] < between { to - between } else { from - between };
            let at = [lying.at[0] + shift, lying.at[1]];
            lying.at = strip.onto_cloth(strip.half(item, lying.way), at, length);
        }
    }
}

/// Puts every item of some part of the cloth at a random place of that part, in a random way.
fn scatter(strip: &Strip, arrangement: &mut [Lying], length: f64, random: &mut Random) {
    let size = length * random.between(SCATTERED[0], SCATTERED[1]);
    let from = random.between(0.0, length - size);
    for (item, lying) in arrangement.iter_mut().enumerate() {
        if lying.at[0] < from || lying.at[0] > from + size {
            continue;
        }
        let at = [random.between(from, from + size), random.between(strip.usable[0], strip.usable[1])];
        put_anyhow(strip, item, lying, at, length, random);
    }
}

/// Swaps an item with one that differs in shape and little in size.
fn swap_alike(strip: &Strip, arrangement: &mut [Lying], _length: f64, random: &mut Random) {
    let first = random.index(arrangement.len());
    let mut others: Vec<usize> = (0..arrangement.len()).filter(|&item| differ(strip, item, first)).collect();
    let off = |item: usize| {
        let ratio = strip.bulk(item) / strip.bulk(first);
        ratio.max(1.0 / ratio)
    };
    others.sort_by(|&a, &b| off(a).total_cmp(&off(b)).then(a.cmp(&b)));
    others.truncate(arrangement.len() / ALIKE + 1);
    swap(arrangement, first, &others, random);
}

/// Whether two items have another outline; those of two pieces may be equal.
fn differ(strip: &Strip, one: usize, other: usize) -> bool {
    strip.shape_of(one, 0) != strip.shape_of(other, 0)
}

/// Swaps an item with one of some others, if there are any.
fn swap(arrangement: &mut [Lying], first: usize, others: &[usize], random: &mut Random) {
    if others.is_empty() {
        return;
    }
    let second = others[random.index(others.len())];
    let at = arrangement[first].at;
    arrangement[first].at = arrangement[second].at;
    arrangement[second].at = at;
}

/// Swaps two of the larger items that differ in shape.
fn swap_large(strip: &Strip, arrangement: &mut [Lying], _length: f64, random: &mut Random) {
    let mut by_bulk: Vec<usize> = (0..strip.items.len()).collect();
    by_bulk.sort_by(|&a, &b| strip.bulk(b).total_cmp(&strip.bulk(a)).then(a.cmp(&b)));
    let area = |item: usize| strip.bulk(item) * strip.bulk(item);
    let all: f64 = by_bulk.iter().map(|&item| area(item)).sum();
    let mut sum = 0.0;
    let large: Vec<usize> = by_bulk
        .into_iter()
        .take_while(|&item| {
            let before = sum;
            sum += area(item);
            before < 0.75 * all
        })
        .collect();
    let first = large[random.index(large.len())];
    let others: Vec<usize> = large.into_iter().filter(|&item| differ(strip, item, first)).collect();
    swap(arrangement, first, &others, random);
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::nest::shapes::Shapes;
    use crate::nest::task::Piece;
    use crate::nest::test_pieces::piece;

    const WIDTH: f64 = 100.0;
    const LENGTH: f64 = 400.0;

    /// A rectangle, or a triangle that is half of one: the first may be turned by a quarter, the second half round.
    fn one_of_two([length, width]: [f64; 2], triangle: bool) -> Piece {
        let mut corners = vec![[0.0, 0.0], [length, 0.0], [length, width], [0.0, width]];
        if triangle {
            corners.pop();
        }
        piece(&corners, 2, &[0.0, if triangle { 180.0 } else { 90.0 }])
    }

    /// Pieces, two of each size, that lie at shares of the cloth, before and after a change.
    #[derive(Clone, Debug)]
    struct Changed {
        before: Vec<Lying>,
        after: Vec<Lying>,
        /// Whether all of them still lie on the cloth, in ways in which they can.
        on_cloth: bool,
    }

    impl Changed {
        fn moved(&self) -> Vec<usize> {
            (0..self.before.len()).filter(|&item| self.before[item] != self.after[item]).collect()
        }

        fn no_way_changed(&self) -> bool {
            self.before.iter().zip(&self.after).all(|(old, new)| old.way == new.way)
        }
    }

    #[derive(Clone, Debug)]
    struct Drawn {
        sizes: Vec<[f64; 2]>,
        places: Vec<[f64; 2]>,
        seed: u64,
    }

    impl Drawn {
        fn changed(&self, triangles: bool, change: Change) -> Changed {
            let pieces: Vec<Piece> = self.sizes.iter().map(|size| one_of_two(*size, triangles)).collect();
            let shapes = Shapes::new(&pieces, &[], false, 0.0).expect("no gap");
            let items: Vec<usize> = (0..2 * pieces.len()).map(|item| item / 2).collect();
            let strip = Strip::new(&shapes, items, [0.0, WIDTH], pieces.len()..pieces.len(), false);
            let lying = |item: usize| {
                let [x, y] = self.places[item];
                Lying { way: 0, at: strip.onto_cloth(strip.half(item, 0), [x * LENGTH, y * WIDTH], LENGTH) }
            };
            let before: Vec<Lying> = (0..2 * pieces.len()).map(lying).collect();
            let mut after = before.clone();
            change(&strip, &mut after, LENGTH, &mut Random::new(self.seed, 0));
            let lies_well = |(item, lying): (usize, &Lying)| {
                let half = strip.half(item, lying.way);
                strip.admits(item, lying.way, LENGTH) && strip.onto_cloth(half, lying.at, LENGTH) == lying.at
            };
            let on_cloth = after.iter().enumerate().all(lies_well);
            Changed { before, after, on_cloth }
        }
    }

    /// Pieces up to so long.
    fn drawn(longest: f64) -> impl Strategy<Value = Drawn> {
        let size = (10.0..longest, 10.0..90.0f64).prop_map(|(a, b)| [a, b]);
        let place = (0.0..1.0f64, 0.0..1.0f64).prop_map(|(x, y)| [x, y]);
        let (sizes, places) = (proptest::collection::vec(size, 1..6), proptest::collection::vec(place, 12));
        (sizes, places, any::<u64>()).prop_map(|(sizes, places, seed)| Drawn { sizes, places, seed })
    }

    proptest! {
        /// Rectangles longer than the cloth is wide must not be turned across it.
        #[test]
        fn disorder_keeps_to_its_part_and_to_the_cloth(drawn in drawn(130.0)) {
            let changed = drawn.changed(false, scatter);
            prop_assert!(changed.on_cloth, "{:?}", changed.after);
            let middles = changed.moved().into_iter().map(|item| changed.before[item].at[0]);
            let (low, high) = middles.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), x| (low.min(x), high.max(x)));
            prop_assert!(high - low <= SCATTERED[1] * LENGTH);
        }

        #[test]
        fn two_that_differ_change_places_and_nothing_else(drawn in drawn(90.0)) {
            let alike = drawn.changed(false, swap_alike).moved();
            if let [one, other] = alike[..] {
                // Of the others, few are nearer in size.
                let bulk = |item: usize| { let [a, b] = drawn.sizes[item / 2]; (a * b).sqrt() };
                let off = |a: usize, b: usize| (bulk(a) / bulk(b)).max(bulk(b) / bulk(a));
                let count = 2 * drawn.sizes.len();
                let nearer = |first: usize, second: usize| {
                    let others = (0..count).filter(|item| item / 2 != first / 2);
                    others.filter(|&item| off(item, first) < off(second, first) * (1.0 - 1e-9)).count()
                };
                prop_assert!(nearer(one, other).min(nearer(other, one)) <= count / ALIKE);
            }
            prop_assert_eq!(alike.is_empty(), drawn.sizes.len() == 1);
            for change in [swap_large as Change, swap_alike] {
                let changed = drawn.changed(false, change);
                let moved = changed.moved();
                prop_assert!(changed.no_way_changed());
                if let [one, other] = moved[..] {
                    prop_assert!(one / 2 != other / 2);
                    prop_assert_eq!(changed.after[one].at, changed.before[other].at);
                    prop_assert_eq!(changed.after[other].at, changed.before[one].at);
                } else {
                    // Nothing moves only where there is but one piece, or but one large one.
                    prop_assert!(moved.is_empty());
                    let area = |[a, b]: &[f64; 2]| a * b;
                    let all: f64 = drawn.sizes.iter().map(area).sum();
                    prop_assert!(drawn.sizes.iter().any(|size| area(size) >= 0.75 * all * (1.0 - 1e-6)));
                }
            }
        }

        #[test]
        fn one_piece_moves_alone_and_neighbours_are_few(drawn in drawn(130.0)) {
            let one = drawn.changed(false, move_one);
            prop_assert!(one.on_cloth);
            prop_assert!(one.moved().len() <= 1);
            let few = drawn.changed(false, mix_neighbours);
            prop_assert!(few.on_cloth);
            prop_assert!(few.moved().len() <= NEIGHBOURS[1]);
        }

        #[test]
        fn a_part_is_turned_with_all_that_lies_on_it(drawn in drawn(130.0)) {
            let changed = drawn.changed(true, turn_part);
            prop_assert!(changed.on_cloth);
            for item in changed.moved() {
                let (old, new) = (changed.before[item], changed.after[item]);
                prop_assert!(old.way != new.way);
                prop_assert!((old.at[1] + new.at[1] - WIDTH).abs() < 1e-9);
            }
        }

        #[test]
        fn parts_that_change_places_stay_as_they_are(drawn in drawn(130.0)) {
            let changed = drawn.changed(true, swap_parts);
            prop_assert!(changed.on_cloth);
            prop_assert!(changed.no_way_changed());
            let shifts: Vec<[f64; 2]> = changed
                .before
                .iter()
                .zip(&changed.after)
                .map(|(old, new)| [new.at[0] - old.at[0], new.at[1] - old.at[1]])
                .collect();
            prop_assert!(shifts.iter().all(|shift| shift[1] == 0.0));
            // What lies on one part moves ahead, what lies on the other moves back.
            let backs = changed.moved().into_iter().filter(|&item| shifts[item][0] < 0.0);
            let first_back = backs.map(|item| changed.before[item].at[0]).fold(f64::INFINITY, f64::min);
            let aheads = changed.moved().into_iter().filter(|&item| shifts[item][0] > 0.0);
            let last_ahead = aheads.map(|item| changed.before[item].at[0]).fold(f64::NEG_INFINITY, f64::max);
            prop_assert!(last_ahead <= first_back);
        }
    }

    #[test]
    fn changes_are_made_as_often_as_they_should_be() {
        let mut random = Random::new(3, 0);
        let mut count = 0;
        for _ in 0..10_000 {
            let change = one_of(&LITTLE, &mut random);
            count += usize::from(std::ptr::fn_addr_eq(change, move_one as Change));
        }
        assert!((2800..3200).contains(&count), "{count}");
    }
}
