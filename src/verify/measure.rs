//! How far one outline reaches into another, and how far apart two outlines are.

use geo_types::Coord;

use super::TOLERANCE;
use super::edges::{Edge, Measured, Shape};

/// Shortest stretch of a cut line, in millimetres, that is looked at: less is rounding.
const SHORTEST: f64 = 1e-9;
/// Step, in millimetres, to which a depth is measured.
const STEP: f64 = 0.001;

/// Which side of a cut line is looked at.
#[derive(Clone, Copy, PartialEq)]
enum Side {
    Inside,
    Outside,
}

impl Side {
    fn holds(self, shape: &Shape, point: Coord<f64>) -> bool {
        shape.contains(point) == (self == Self::Inside)
    }
}

/// The overlap of two shapes, when it is deeper than [`TOLERANCE`].
pub(super) fn overlap(one: &Shape, other: &Shape) -> Option<Measured> {
    if !one.bounds().near(other.bounds(), -TOLERANCE) {
        return None;
    }
    let reach = deeper(strays(one, other, Side::Inside), strays(other, one, Side::Inside));
    // Pieces that lie exactly on each other have no cut line inside the other: then the points inside decide.
    reach.or_else(|| deeper(inner_stray(one, other, Side::Inside), inner_stray(other, one, Side::Inside)))
}

/// How far a piece lies outside a region, when that is more than [`TOLERANCE`].
pub(super) fn outside(piece: &Shape, region: &Shape) -> Option<Measured> {
    let beyond = deeper(strays(piece, region, Side::Outside), strays(region, piece, Side::Inside));
    beyond.or_else(|| inner_stray(piece, region, Side::Outside))
}

/// The distance between the cut lines of two shapes, when it is less than `limit`.
pub(super) fn nearer_than(one: &Shape, other: &Shape, limit: f64) -> Option<Measured> {
    let mut nearest = Measured { mm: limit, at: Coord::zero() };
    for edge in one.edges().iter().filter(|edge| edge.bounds().near(other.bounds(), limit)) {
        for facing in other.edges() {
            if edge.bounds().near(facing.bounds(), nearest.mm) {
                let between = edge.distance_between(facing);
                if between.mm < nearest.mm {
                    nearest = between;
                }
            }
        }
    }
    (nearest.mm < limit).then_some(nearest)
}

/// The point of a cut line that lies furthest from another on the given side of it, when that is more than [`TOLERANCE`].
fn strays(walker: &Shape, of: &Shape, side: Side) -> Option<Measured> {
    let mut furthest: Option<Measured> = None;
    let mut stretches = Vec::new();
    let reachable = |edge: &&Edge| side == Side::Outside || edge.bounds().near(of.bounds(), -TOLERANCE);
    for edge in walker.edges().iter().filter(reachable) {
        let mut floor = furthest.map_or(TOLERANCE, |found| found.mm + STEP);
        while let Some(at) = point_beyond(edge, of, side, floor, &mut stretches) {
            let mm = of.distance_to_cut_line(at);
            furthest = deeper(furthest, Some(Measured { mm, at }));
            floor = floor.max(mm) + STEP;
        }
    }
    furthest
}

/// A point of the edge that is further than `floor` from a cut line, on the given side of it.
fn point_beyond(edge: &Edge, of: &Shape, side: Side, floor: f64, stretches: &mut Vec<[f64; 2]>) -> Option<Coord<f64>> {
    stretches.clear();
    let near = of.edges().iter().filter(|other| edge.bounds().near(other.bounds(), floor));
    stretches.extend(near.filter_map(|other| edge.stretch_near(other, floor)));
    stretches.sort_by(|one, two| one[0].total_cmp(&two[0]));
    let whole = edge.length();
    let mut covered = 0.0_f64;
    for stretch in stretches.iter().chain([&[whole, whole]]) {
        if stretch[0] - covered > SHORTEST {
            let share = (covered + stretch[0]) / 2.0 / whole;
            let middle = edge.at(share);
            if side.holds(of, middle) {
                return Some(middle);
            }
        }
        covered = covered.max(stretch[1]);
    }
    None
}

/// A point inside of a piece, well clear of its cut line, that also lies on the given side of another cut line.
///
/// Needed where the cut lines run on top of each other. One point beside the middle of each edge is enough as long as a
/// piece is nowhere pinched to less than two hundredths of a millimetre.
fn inner_stray(piece: &Shape, of: &Shape, side: Side) -> Option<Measured> {
    let clear = 2.0 * TOLERANCE;
    let is_stray = |at: Coord<f64>, depth: f64| {
        side.holds(of, at) && piece.contains(at) && piece.distance_to_cut_line(at) >= depth - SHORTEST
    };
    let (edge, mut at) = piece.inner_points(clear).find(|(_, at)| is_stray(*at, clear))?;
    let mut depth = clear;
    while is_stray(edge.beside_middle(2.0 * depth), 2.0 * depth) {
        depth *= 2.0;
        at = edge.beside_middle(depth);
    }
    Some(Measured { mm: depth, at })
}

fn deeper(one: Option<Measured>, other: Option<Measured>) -> Option<Measured> {
    match (one, other) {
        (Some(a), Some(b)) => Some(if b.mm > a.mm { b } else { a }),
        (a, b) => a.or(b),
    }
}
