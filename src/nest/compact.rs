//! Moves all items of a sound arrangement at once so that it becomes as short as their neighbourhoods permit.
//!
//! Compaction by linear programming, after Li and Milenkovic, "Compaction and separation algorithms for non-convex
//! polygons and their applications" (1995): for each two items near each other a convex region of displacements at which
//! they do not overlap is cut out of the plane, and within all these regions and a small reach the length is made least.
//! Unlike a search that moves one item at a time it moves whole chains that touch.

use microlp::{ComparisonOp, OptimizationDirection, Problem, Variable};

use super::no_fit::HalfPlane;
use super::separate::touch_of;
use super::strip::{Arrangement, Lying, Strip};

/// Items up to which it is worth the time.
const MOST_ITEMS: usize = 200;
/// How far an item may move at a time, as a share of the width of the cloth.
const REACH: f64 = 0.02;
/// Rounds, at most.
const ROUNDS: usize = 4;
/// A round that gains a smaller share of the length is the last.
const LEAST_GAIN: f64 = 1e-6;

/// A shorter arrangement, if there is one within reach.
pub fn compacted(strip: &Strip, arrangement: &Arrangement) -> Option<Arrangement> {
    if arrangement.len() > MOST_ITEMS {
        return None;
    }
    let mut best = None;
    let mut here = arrangement.clone();
    for _ in 0..ROUNDS {
        let length = strip.length_of(&here);
        let Some(next) = moved(strip, &here).filter(|next| is_sound(strip, next)) else { break };
        let gain = length - strip.length_of(&next);
        if gain <= 0.0 {
            break;
        }
        here = next;
        best = Some(here.clone());
        if gain < LEAST_GAIN * length {
            break;
        }
    }
    best
}

/// One step: the solution of the linear programme, where there is one.
fn moved(strip: &Strip, here: &Arrangement) -> Option<Arrangement> {
    let length = strip.length_of(here);
    let reach = REACH * strip.width();
    let mut programme = Problem::new(OptimizationDirection::Minimize);
    let end = programme.add_var(1.0, (0.0, length));
    let mut places: Vec<[Variable; 2]> = Vec::with_capacity(here.len());
    for (item, lying) in here.iter().enumerate() {
        let half = strip.half(item, lying.way);
        let range = |axis: usize, low: f64, high: f64| {
            let at = lying.at[axis];
            // Where it lies is allowed, whatever rounding says.
            (at.min(low.max(at - reach)), at.max(high.min(at + reach)))
        };
        let x = programme.add_var(0.0, range(0, half[0], length - half[0]));
        let y = programme.add_var(0.0, range(1, strip.usable[0] + half[1], strip.usable[1] - half[1]));
        programme.add_constraint([(x, 1.0), (end, -1.0)], ComparisonOp::Le, -half[0]);
        places.push([x, y]);
    }
    for item in 0..here.len() {
        for other in item + 1..here.len() {
            for plane in free_region(strip, (item, &here[item]), (other, &here[other]), 2.0 * reach) {
                let [a, b] = plane.normal;
                let ([xi, yi], [xj, yj]) = (places[item], places[other]);
                programme.add_constraint([(xj, a), (yj, b), (xi, -a), (yi, -b)], ComparisonOp::Ge, plane.offset);
            }
        }
        for &(shape, at) in &strip.obstacles {
            let mine = strip.shape_of(item, here[item].way);
            let apart = [here[item].at[0] - at[0], here[item].at[1] - at[1]];
            for plane in strip.shapes.pairs().free_region(shape, mine, apart, reach) {
                let [a, b] = plane.normal;
                let [x, y] = places[item];
                programme.add_constraint([(x, a), (y, b)], ComparisonOp::Ge, plane.offset + a * at[0] + b * at[1]);
            }
        }
    }
    let solution = programme.solve().ok()?.into_solution().ok()?;
    let place = |(lying, [x, y]): (&Lying, &[Variable; 2])| Lying {
        way: lying.way,
        at: [solution.var_value(*x), solution.var_value(*y)],
    };
    Some(here.iter().zip(&places).map(place).collect())
}

/// Half planes of the displacement from one item to another within which the two do not overlap.
fn free_region(
    strip: &Strip,
    (one, lying): (usize, &Lying),
    (other, other_lying): (usize, &Lying),
    reach: f64,
) -> Vec<HalfPlane> {
    let shapes = [strip.shape_of(one, lying.way), strip.shape_of(other, other_lying.way)];
    let apart = [0, 1].map(|axis| other_lying.at[axis] - lying.at[axis]);
    let near = [0, 1].into_iter().all(|axis| {
        let halves = shapes.map(|shape| strip.shapes.shape(shape).half_with_gap[axis]);
        apart[axis].abs() < halves[0] + halves[1] + reach
    });
    if near { strip.shapes.pairs().free_region(shapes[0], shapes[1], apart, reach) } else { Vec::new() }
}

/// Whether nothing overlaps and all lies on the cloth.
fn is_sound(strip: &Strip, arrangement: &Arrangement) -> bool {
    let touch = touch_of(strip);
    let things: Vec<(usize, [f64; 2])> = strip.shapes_in(arrangement).chain(strip.obstacles.iter().copied()).collect();
    let parted = |(a, at): &(usize, [f64; 2]), (b, other): &(usize, [f64; 2])| {
        let apart = [other[0] - at[0], other[1] - at[1]];
        strip.shapes.pairs().depth(*a, *b, apart) <= touch
    };
    let on_cloth = arrangement.iter().enumerate().all(|(item, lying)| {
        let half = strip.half(item, lying.way);
        let within = strip.onto_cloth(half, lying.at, f64::INFINITY);
        (0..2).all(|axis| (within[axis] - lying.at[axis]).abs() <= touch)
    });
    on_cloth && (0..arrangement.len()).all(|item| things[item + 1..].iter().all(|thing| parted(&things[item], thing)))
}

#[cfg(test)]
mod tests {
    use geo_types::{LineString, Polygon};
    use proptest::prelude::*;

    use super::*;
    use crate::nest::shapes::Shapes;
    use crate::nest::task::{Piece, Turns};
    use crate::shape::Outline;

    fn piece(corners: &[[f64; 2]]) -> Piece {
        let outline = Outline::new(Polygon::new(LineString::from(corners.to_vec()), Vec::new())).expect("sound");
        let turns = Turns::These { angles: vec![0.0], tilt: 0.0 };
        Piece { outline, quantity: 1, turns, flip: false, cloths: None }
    }

    /// Pieces on cloth, each with the low corner of its box at a point.
    fn with_laid<T>(
        pieces: &[Piece],
        corners: &[[f64; 2]],
        width: f64,
        see: impl FnOnce(&Strip, Arrangement) -> T,
    ) -> T {
        let shapes = Shapes::new(pieces, &[], false, 0.0).expect("no gap");
        let count = pieces.len();
        let strip = Strip::new(&shapes, (0..count).collect(), [0.0, width], count..count, false);
        let lying = |item: usize| {
            let half = strip.half(item, 0);
            Lying { way: 0, at: [corners[item][0] + half[0], corners[item][1] + half[1]] }
        };
        let arrangement = (0..count).map(lying).collect();
        see(&strip, arrangement)
    }

    /// A square that touches a slope cannot move back, but it can move back and up at once.
    #[test]
    fn a_piece_on_a_slope_moves_along_it() {
        let pieces = [
            piece(&[[0.0, 0.0], [60.0, 0.0], [0.0, 120.0]]),
            piece(&[[0.0, 0.0], [40.0, 0.0], [40.0, 40.0], [0.0, 40.0]]),
        ];
        with_laid(&pieces, &[[0.0, 0.0], [45.0, 30.0]], 120.0, |strip, arrangement| {
            assert!(is_sound(strip, &arrangement));
            let shorter = compacted(strip, &arrangement).expect("there is room");
            // Four rounds of 2.4 up; the slope takes it back half as far.
            assert!((strip.length_of(&shorter) - (85.0 - 4.8)).abs() < 1e-3, "{}", strip.length_of(&shorter));
            assert!(is_sound(strip, &shorter));
        });
    }

    #[test]
    fn nothing_is_gained_where_all_is_tight() {
        let square = piece(&[[0.0, 0.0], [40.0, 0.0], [40.0, 40.0], [0.0, 40.0]]);
        with_laid(&[square.clone(), square], &[[0.0, 0.0], [40.0, 5.0]], 45.0, |strip, arrangement| {
            assert!(compacted(strip, &arrangement).is_none_or(|other| strip.length_of(&other) > 80.0 - 1e-6));
        });
    }

    proptest! {
        #![proptest_config(ProptestConfig { cases: 60, ..ProptestConfig::default() })]

        /// Pieces scattered in the squares of a board come closer and do not overlap.
        #[test]
        fn pieces_come_closer_and_never_overlap(
            arms in proptest::collection::vec(proptest::collection::vec(0.2..1.0f64, 3..8), 2..14),
            offsets in proptest::collection::vec((0.0..20.0f64, 0.0..20.0f64), 14),
        ) {
            let star = |arms: &Vec<f64>| {
                let corner = |(k, arm): (usize, &f64)| {
                    let (sin, cos) = crate::shape::sin_cos_degrees(360.0 * k as f64 / arms.len() as f64);
                    [50.0 * arm * cos, 50.0 * arm * sin]
                };
                piece(&arms.iter().enumerate().map(corner).collect::<Vec<_>>())
            };
            let pieces: Vec<Piece> = arms.iter().map(star).collect();
            let corners: Vec<[f64; 2]> = (0..pieces.len())
                .map(|k| [121.0 * (k / 3) as f64 + offsets[k].0, 121.0 * (k % 3) as f64 + offsets[k].1])
                .collect();
            with_laid(&pieces, &corners, 363.0, |strip, arrangement| {
                let shorter = compacted(strip, &arrangement).expect("there is room");
                assert!(is_sound(strip, &shorter));
                assert!(strip.length_of(&shorter) < strip.length_of(&arrangement));
            });
        }
    }
}
