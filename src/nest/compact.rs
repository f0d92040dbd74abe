//! Moves all items of an arrangement at once so that it becomes as short as their neighbourhoods permit.
//!
//! Compaction and separation by linear programming, after Li and Milenkovic, "Compaction and separation algorithms for
//! non-convex polygons and their applications" (1995): for each two items near each other a convex region of displacements
//! at which they do not overlap is cut out of the plane, and within all these regions and a small reach the length is made
//! least. Unlike a search that moves one item at a time it moves whole chains that touch. Where two items overlap the
//! region lies beyond the shortest way out, so that a lay with a few small overlaps is parted and made short in one go.

use microlp::{ComparisonOp, OptimizationDirection, Problem, Variable};

use super::no_fit::{HalfPlane, WayOut};
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
/// Trials of a search that take about as long as a row of the programme.
const TRIALS_PER_ROW: u64 = 80;
/// Components of a direction below this are nothing.
const DUST: f64 = 1e-9;
/// Share of the length wanted by which an arrangement that was parted may be longer.
const MISS: f64 = 0.001;

/// A shorter arrangement, if there is one within reach. What it takes is added to `trials`.
pub fn compacted(strip: &Strip, arrangement: &Arrangement, trials: &mut u64) -> Option<Arrangement> {
    if arrangement.len() > MOST_ITEMS {
        return None;
    }
    let mut best = None;
    let mut here = arrangement.clone();
    for _ in 0..ROUNDS {
        let length = strip.length_of(&here);
        let next = Programme::new(strip, &here, length).solved(trials);
        let Some(next) = next.filter(|next| is_sound(strip, next)) else { break };
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

/// An arrangement without overlap near one with some, about as long as wanted or shorter. What it takes is added to
/// `trials`.
pub fn parted(strip: &Strip, arrangement: &Arrangement, wanted: f64, trials: &mut u64) -> Option<Arrangement> {
    if arrangement.len() > MOST_ITEMS || is_hopeless(strip, arrangement) {
        return None;
    }
    let most = strip.length_of(arrangement) + REACH * strip.width();
    let found = Programme::new(strip, arrangement, most).solved(trials)?;
    let near = strip.length_of(&found) <= wanted * (1.0 + MISS) && is_sound(strip, &found);
    near.then_some(found)
}

/// Whether two items lie so deep in each other that they do not come apart within reach.
fn is_hopeless(strip: &Strip, arrangement: &Arrangement) -> bool {
    let farthest = 2.0 * std::f64::consts::SQRT_2 * REACH * strip.width();
    let items: Vec<(usize, [f64; 2])> = strip.shapes_in(arrangement).collect();
    some_overlap(strip, &items, items.len(), farthest)
}

/// Whether one of the first things, which are items, lies deeper than so far in one that follows it.
fn some_overlap(strip: &Strip, things: &[(usize, [f64; 2])], items: usize, depth: f64) -> bool {
    let deep = |one: usize, other: usize| {
        let ((shape, at), (other_shape, other_at)) = (things[one], things[other]);
        strip.shapes.pairs().depth(shape, other_shape, [other_at[0] - at[0], other_at[1] - at[1]]) > depth
    };
    let [start, end] = [-1.0, 1.0].map(|side| {
        move |thing: usize| things[thing].1[0] + side * strip.shapes.shape(things[thing].0).half_with_gap[0]
    });
    let mut order: Vec<usize> = (0..things.len()).collect();
    order.sort_by(|&a, &b| start(a).total_cmp(&start(b)));
    order.iter().enumerate().any(|(rank, &one)| {
        let beside = order[rank + 1..].iter().take_while(|&&other| start(other) < end(one));
        beside.filter(|&&other| one < items || other < items).any(|&other| deep(one, other))
    })
}

/// The linear programme of all moves within reach, which it reckons in: moves and what is left between items are near
/// one, and the solver's tolerances suit them.
struct Programme<'a> {
    strip: &'a Strip<'a>,
    here: &'a Arrangement,
    /// Shape and place of each item.
    lying: Vec<(usize, [f64; 2])>,
    reach: f64,
    problem: Problem,
    moves: Vec<[Variable; 2]>,
    rows: usize,
}

impl<'a> Programme<'a> {
    /// Moves from the places of an arrangement, on cloth of at most a length.
    fn new(strip: &'a Strip<'a>, here: &'a Arrangement, most: f64) -> Self {
        let reach = REACH * strip.width();
        let length = strip.length_of(here);
        let mut problem = Problem::new(OptimizationDirection::Minimize);
        let end = problem.add_var(1.0, (-1.0, (most - length) / reach));
        let mut moves: Vec<[Variable; 2]> = Vec::with_capacity(here.len());
        for (item, lying) in here.iter().enumerate() {
            let half = strip.half(item, lying.way);
            // Where it lies is allowed, whatever rounding says.
            let range = |axis: usize, low: f64, high: f64| {
                let within = |to: f64| (to - lying.at[axis]) / reach;
                (within(low).clamp(-1.0, 0.0), within(high).clamp(0.0, 1.0))
            };
            let x = problem.add_var(0.0, range(0, half[0], most - half[0]));
            let y = problem.add_var(0.0, range(1, strip.usable[0] + half[1], strip.usable[1] - half[1]));
            let behind = (length - lying.at[0] - half[0]) / reach;
            problem.add_constraint([(x, 1.0), (end, -1.0)], ComparisonOp::Le, behind);
            moves.push([x, y]);
        }
        let lying = strip.shapes_in(here).collect();
        let mut programme = Self { strip, here, lying, reach, problem, moves, rows: here.len() };
        programme.part_items();
        programme.part_from_obstacles();
        programme
    }

    fn part_items(&mut self) {
        for item in 0..self.lying.len() {
            for other in item + 1..self.lying.len() {
                let ([xi, yi], [xj, yj]) = (self.moves[item], self.moves[other]);
                for ([a, b], lacking) in self.free_moves(self.lying[item], self.lying[other], 2.0) {
                    self.problem.add_constraint([(xj, a), (yj, b), (xi, -a), (yi, -b)], ComparisonOp::Ge, lacking);
                    self.rows += 1;
                }
            }
        }
    }

    fn part_from_obstacles(&mut self) {
        for item in 0..self.lying.len() {
            let [x, y] = self.moves[item];
            for &obstacle in &self.strip.obstacles {
                for ([a, b], lacking) in self.free_moves(obstacle, self.lying[item], 1.0) {
                    self.problem.add_constraint([(x, a), (y, b)], ComparisonOp::Ge, lacking);
                    self.rows += 1;
                }
            }
        }
    }

    /// Directions of moves of the second thing as seen from the first, and how far it has to move in each at least so
    /// that the two do not overlap, where they can meet when they come nearer by so many times the reach.
    fn free_moves(&self, one: (usize, [f64; 2]), other: (usize, [f64; 2]), times: f64) -> Vec<([f64; 2], f64)> {
        let apart = [other.1[0] - one.1[0], other.1[1] - one.1[1]];
        let region = self.free_region([one.0, other.0], apart, times * self.reach);
        let lacking =
            |plane: &HalfPlane| (plane.offset - plane.normal[0] * apart[0] - plane.normal[1] * apart[1]) / self.reach;
        region.iter().map(|plane| (plane.normal.map(without_dust), lacking(plane))).collect()
    }

    /// Half planes of the displacement of the second shape from the first within which the two do not overlap, where
    /// they can meet when they come nearer by the reach.
    fn free_region(&self, [one, other]: [usize; 2], apart: [f64; 2], reach: f64) -> Vec<HalfPlane> {
        let near = [0, 1].into_iter().all(|axis| {
            let halves = [one, other].map(|shape| self.strip.shapes.shape(shape).half_with_gap[axis]);
            apart[axis].abs() < halves[0] + halves[1] + reach
        });
        if !near {
            return Vec::new();
        }
        let pairs = self.strip.shapes.pairs();
        match pairs.way_out(one, other, apart).filter(|out| out.depth > touch_of(self.strip)) {
            Some(WayOut { depth, push }) => {
                pairs.free_region(one, other, [apart[0] + push[0], apart[1] + push[1]], reach + depth)
            }
            None => pairs.free_region(one, other, apart, reach),
        }
    }

    /// The places that make the length least; none where the regions leave no room.
    fn solved(self, trials: &mut u64) -> Option<Arrangement> {
        *trials += TRIALS_PER_ROW * self.rows as u64;
        let solution = self.problem.solve().ok()?.into_solution().ok()?;
        let place = |(lying, moves): (&Lying, &[Variable; 2])| Lying {
            way: lying.way,
            at: [0, 1].map(|axis| lying.at[axis] + self.reach * solution.var_value(moves[axis])),
        };
        Some(self.here.iter().zip(&self.moves).map(place).collect())
    }
}

/// A direction's component without what rounding has left: the solver stalls over rows of very unlike coefficients.
fn without_dust(component: f64) -> f64 {
    if component.abs() < DUST { 0.0 } else { component }
}

/// Whether nothing overlaps and all lies on the cloth.
pub fn is_sound(strip: &Strip, arrangement: &Arrangement) -> bool {
    let touch = touch_of(strip);
    let things: Vec<(usize, [f64; 2])> = strip.shapes_in(arrangement).chain(strip.obstacles.iter().copied()).collect();
    let on_cloth = arrangement.iter().enumerate().all(|(item, lying)| {
        let half = strip.half(item, lying.way);
        let within = strip.onto_cloth(half, lying.at, f64::INFINITY);
        (0..2).all(|axis| (within[axis] - lying.at[axis]).abs() <= touch)
    });
    on_cloth && !some_overlap(strip, &things, arrangement.len(), touch)
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::nest::random::Random;
    use crate::nest::shapes::Shapes;
    use crate::nest::task::Piece;
    use crate::nest::test_pieces::piece;

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
            piece(&[[0.0, 0.0], [60.0, 0.0], [0.0, 120.0]], 1, &[0.0]),
            piece(&[[0.0, 0.0], [40.0, 0.0], [40.0, 40.0], [0.0, 40.0]], 1, &[0.0]),
        ];
        with_laid(&pieces, &[[0.0, 0.0], [45.0, 30.0]], 120.0, |strip, arrangement| {
            assert!(is_sound(strip, &arrangement));
            let shorter = compacted(strip, &arrangement, &mut 0).expect("there is room");
            // Four rounds of 2.4 up; the slope takes it back half as far.
            assert!((strip.length_of(&shorter) - (85.0 - 4.8)).abs() < 1e-3, "{}", strip.length_of(&shorter));
            assert!(is_sound(strip, &shorter));
        });
    }

    #[test]
    fn nothing_is_gained_where_all_is_tight() {
        let square = piece(&[[0.0, 0.0], [40.0, 0.0], [40.0, 40.0], [0.0, 40.0]], 1, &[0.0]);
        with_laid(&[square.clone(), square], &[[0.0, 0.0], [40.0, 5.0]], 45.0, |strip, arrangement| {
            assert!(compacted(strip, &arrangement, &mut 0).is_none_or(|other| strip.length_of(&other) > 80.0 - 1e-6));
        });
    }

    /// Three squares in a row on cloth too short for them, and one that must get out of the way.
    #[test]
    fn overlaps_are_parted_all_at_once() {
        let square = piece(&[[0.0, 0.0], [40.0, 0.0], [40.0, 40.0], [0.0, 40.0]], 1, &[0.0]);
        let corners = [[0.0, 0.0], [39.0, 0.0], [78.5, 0.0], [1.0, 39.0]];
        with_laid(&[square.clone(), square.clone(), square.clone(), square], &corners, 80.0, |strip, arrangement| {
            let mut trials = 0;
            let parted = parted(strip, &arrangement, 120.0, &mut trials).expect("there is room");
            assert!(is_sound(strip, &parted));
            assert!((strip.length_of(&parted) - 120.0).abs() < 1e-3, "{}", strip.length_of(&parted));
            assert!(trials > 0);
            // Far from what is wanted it is of no use.
            assert!(super::parted(strip, &arrangement, 119.0, &mut trials).is_none());
        });
    }

    /// A polygon with corners at given shares of 50 mm from its middle.
    fn star(arms: &[f64]) -> Piece {
        let corner = |(k, arm): (usize, &f64)| {
            let (sin, cos) = crate::shape::sin_cos_degrees(360.0 * k as f64 / arms.len() as f64);
            [50.0 * arm * cos, 50.0 * arm * sin]
        };
        piece(&arms.iter().enumerate().map(corner).collect::<Vec<_>>(), 1, &[0.0])
    }

    #[test]
    fn small_overlaps_of_many_pieces_are_parted_soundly() {
        let mut random = Random::new(5, 0);
        let (mut tangled, mut untangled) = (0, 0);
        for _ in 0..60 {
            let pieces: Vec<Piece> = (0..9)
                .map(|_| star(&(0..3 + random.index(5)).map(|_| random.between(0.3, 1.0)).collect::<Vec<_>>()))
                .collect();
            let corners: Vec<[f64; 2]> = (0..9)
                .map(|k| [(k / 3) as f64, (k % 3) as f64].map(|place| 78.0 * place + random.between(0.0, 8.0)))
                .collect();
            with_laid(&pieces, &corners, 320.0, |strip, arrangement| {
                tangled += usize::from(!is_sound(strip, &arrangement));
                let wanted = strip.length_of(&arrangement);
                if let Some(parted) = parted(strip, &arrangement, wanted, &mut 0) {
                    assert!(is_sound(strip, &parted));
                    assert!(strip.length_of(&parted) <= wanted * (1.0 + MISS));
                    untangled += usize::from(!is_sound(strip, &arrangement));
                }
            });
        }
        assert!(tangled > 30 && untangled > tangled / 2, "{untangled} of {tangled}");
    }

    #[test]
    fn directions_along_an_axis_are_free_of_dust() {
        let angles = [0.0, 90.0, 180.0, 270.0];
        let ell = [[0.0, 0.0], [90.0, 0.0], [90.0, 30.0], [30.0, 30.0], [30.0, 70.0], [0.0, 70.0]];
        let pieces = [piece(&ell, 1, &angles), piece(&ell[..3], 1, &[0.0])];
        with_laid(&pieces, &[[0.0, 0.0], [95.0, 5.0]], 200.0, |strip, arrangement| {
            let programme = Programme::new(strip, &arrangement, strip.length_of(&arrangement));
            let mut seen = 0;
            for way in 0..4 {
                for step in 0..40 {
                    let at = [100.0 + 0.37 * f64::from(step), 10.0 + 2.3 * f64::from(step)];
                    let one = (strip.shape_of(0, way), at);
                    let other = (strip.shape_of(0, (way + 1) % 4), [0.0; 2]);
                    for (direction, _) in programme.free_moves(one, other, 60.0) {
                        assert!(direction.iter().all(|c| *c == 0.0 || c.abs() >= DUST), "{direction:?}");
                        seen += 1;
                    }
                }
            }
            assert!(seen > 100, "{seen}");
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
            let pieces: Vec<Piece> = arms.iter().map(|arms| star(arms)).collect();
            let corners: Vec<[f64; 2]> = (0..pieces.len())
                .map(|k| [121.0 * (k / 3) as f64 + offsets[k].0, 121.0 * (k % 3) as f64 + offsets[k].1])
                .collect();
            with_laid(&pieces, &corners, 363.0, |strip, arrangement| {
                let shorter = compacted(strip, &arrangement, &mut 0).expect("there is room");
                assert!(is_sound(strip, &shorter));
                assert!(strip.length_of(&shorter) < strip.length_of(&arrangement));
            });
        }
    }
}
