//! Ways out of a dead end: an arrangement changed so much that the search for one without overlap takes another course.

use super::random::Random;
use super::strip::{Lying, Strip};

/// Shares of the cloth's length that are thrown into disorder, at least and at most.
const SCATTERED: [f64; 2] = [0.1, 0.4];

/// Swaps two large items, or throws a part of the cloth into disorder.
pub fn disrupt(strip: &Strip, arrangement: &mut [Lying], length: f64, random: &mut Random) {
    if random.index(2) == 0 {
        swap_large(strip, arrangement, random);
    } else {
        scatter(strip, arrangement, length, random);
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
        let way = random.index(strip.ways(item).len());
        if strip.admits(item, way, length) {
            lying.way = way;
        }
        let at = [random.between(from, from + size), random.between(strip.usable[0], strip.usable[1])];
        lying.at = strip.onto_cloth(strip.half(item, lying.way), at, length);
    }
}

/// Swaps two of the larger items that differ in shape.
fn swap_large(strip: &Strip, arrangement: &mut [Lying], random: &mut Random) {
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
    let others: Vec<usize> = large.into_iter().filter(|&item| strip.items[item] != strip.items[first]).collect();
    if others.is_empty() {
        return;
    }
    let second = others[random.index(others.len())];
    let at = arrangement[first].at;
    arrangement[first].at = arrangement[second].at;
    arrangement[second].at = at;
}

#[cfg(test)]
mod tests {
    use geo_types::{LineString, Polygon};
    use proptest::prelude::*;

    use super::*;
    use crate::nest::shapes::Shapes;
    use crate::nest::task::{Piece, Turns};
    use crate::shape::Outline;

    const WIDTH: f64 = 100.0;

    fn rectangle([length, width]: [f64; 2], quantity: u32) -> Piece {
        let corners = vec![[0.0, 0.0], [length, 0.0], [length, width], [0.0, width]];
        let outline = Outline::new(Polygon::new(LineString::from(corners), Vec::new())).expect("sound");
        let turns = Turns::These { angles: vec![0.0, 90.0], tilt: 0.0 };
        Piece { outline, quantity, turns, flip: false, cloths: None }
    }

    /// What becomes of rectangles, two of each size, that lie at shares of the cloth.
    fn changed(
        sizes: &[(f64, f64)],
        places: &[(f64, f64)],
        length: f64,
        seed: u64,
        change: impl Fn(&Strip, &mut [Lying], &mut Random),
    ) -> (Vec<Lying>, Vec<Lying>, Vec<bool>) {
        let pieces: Vec<Piece> = sizes.iter().map(|(a, b)| rectangle([*a, *b], 2)).collect();
        let shapes = Shapes::new(&pieces, &[], false, 0.0).expect("no gap");
        let items: Vec<usize> = (0..2 * pieces.len()).map(|item| item / 2).collect();
        let strip = Strip::new(&shapes, items, [0.0, WIDTH], pieces.len()..pieces.len(), false);
        let lying = |item: usize| {
            let (x, y) = places[item];
            Lying { way: 0, at: strip.onto_cloth(strip.half(item, 0), [x * length, y * WIDTH], length) }
        };
        let before: Vec<Lying> = (0..2 * pieces.len()).map(lying).collect();
        let mut after = before.clone();
        change(&strip, &mut after, &mut Random::new(seed, 0));
        let on_cloth = |(item, lying): (usize, &Lying)| {
            let half = strip.half(item, lying.way);
            strip.admits(item, lying.way, length) && strip.onto_cloth(half, lying.at, length) == lying.at
        };
        let sound = after.iter().enumerate().map(on_cloth).collect();
        (before, after, sound)
    }

    proptest! {
        /// Rectangles longer than the cloth is wide must not be turned across it.
        #[test]
        fn disorder_keeps_to_its_part_and_to_the_cloth(
            sizes in proptest::collection::vec((10.0..130.0f64, 10.0..90.0f64), 1..6),
            places in proptest::collection::vec((0.0..1.0f64, 0.0..1.0f64), 12),
            seed in any::<u64>(),
        ) {
            let length = 400.0;
            let (before, after, sound) = changed(&sizes, &places, length, seed, |strip, arrangement, random| {
                scatter(strip, arrangement, length, random);
            });
            prop_assert!(sound.iter().all(|sound| *sound), "{:?}", after);
            let middles = before.iter().zip(&after).filter(|(old, new)| old != new).map(|(old, _)| old.at[0]);
            let (low, high) = middles.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), x| (low.min(x), high.max(x)));
            prop_assert!(high - low <= SCATTERED[1] * length);
        }

        #[test]
        fn two_that_differ_change_places_and_nothing_else(
            sizes in proptest::collection::vec((10.0..90.0f64, 10.0..90.0f64), 1..6),
            places in proptest::collection::vec((0.0..1.0f64, 0.0..1.0f64), 12),
            seed in any::<u64>(),
        ) {
            let (before, after, _) = changed(&sizes, &places, 400.0, seed, swap_large);
            let moved: Vec<usize> = (0..before.len()).filter(|&item| before[item] != after[item]).collect();
            if let [one, other] = moved[..] {
                prop_assert!(one / 2 != other / 2);
                prop_assert_eq!(after[one].at, before[other].at);
                prop_assert_eq!(after[other].at, before[one].at);
            } else {
                // Nothing moves only where there is but one large piece.
                prop_assert!(moved.is_empty());
                let area = |(a, b): &(f64, f64)| a * b;
                let all: f64 = sizes.iter().map(area).sum();
                prop_assert!(sizes.iter().any(|size| area(size) >= 0.75 * all * (1.0 - 1e-6)));
            }
            prop_assert!(before.iter().zip(&after).all(|(old, new)| old.way == new.way));
        }
    }
}
