//! Finds what is wrong with the rings of a polygon.
//!
//! Crossings are looked for along a sweep in x, with exact orientation predicates: a ring that only just touches itself
//! is told from one that only just does not.

use geo::kernels::{Kernel, Orientation, RobustKernel};
use geo_types::Coord;

use super::fault::Place;
use super::rings::closed_pairs;
use super::{FAR_AWAY, OutlineFault, RingRole, SAME_POINT};

/// The first fault of a polygon whose rings are given open, the outer one first.
pub(super) fn first_fault(rings: &[&[Coord<f64>]]) -> Option<OutlineFault> {
    let roles = |index: usize| if index == 0 { RingRole::Outer } else { RingRole::Hole(index) };
    let each = || rings.iter().enumerate().map(|(index, ring)| (roles(index), *ring));
    each()
        .find_map(|(role, ring)| point_fault(role, ring))
        .or_else(|| each().find_map(|(role, ring)| area_fault(role, ring)))
        .or_else(|| crossing_fault(rings, roles))
        .or_else(|| hole_fault(rings))
}

fn point_fault(ring: RingRole, points: &[Coord<f64>]) -> Option<OutlineFault> {
    for (index, at) in points.iter().enumerate() {
        let point = index + 1;
        if !at.x.is_finite() || !at.y.is_finite() {
            return Some(OutlineFault::NotFinite { ring, point });
        }
        if at.x.abs().max(at.y.abs()) > FAR_AWAY {
            return Some(OutlineFault::TooFar { ring, point });
        }
    }
    if points.len() < 3 {
        return Some(OutlineFault::TooFewPoints { ring, points: points.len() });
    }
    let before = |index: usize| points[(index + points.len() - 1) % points.len()];
    let close = |a: Coord<f64>, b: Coord<f64>| (a.x - b.x).abs().max((a.y - b.y).abs()) <= SAME_POINT;
    let same_as_before = |index: &usize| close(points[*index], before(*index));
    // The first point is looked at last: there it is the last point of the ring that repeats it.
    let repeated = (1..points.len()).find(same_as_before);
    let closing = || Some(points.len() - 1).filter(|_| same_as_before(&0));
    let index = repeated.or_else(closing)?;
    Some(OutlineFault::RepeatedPoint { ring, point: index + 1, at: Place(points[index]) })
}

/// A ring is flat when no point leaves the line from its first point to the one furthest away.
fn area_fault(ring: RingRole, points: &[Coord<f64>]) -> Option<OutlineFault> {
    let first = *points.first()?;
    let length = |v: Coord<f64>| (v.x * v.x + v.y * v.y).sqrt();
    let furthest = points.iter().map(|p| *p - first).max_by(|a, b| length(*a).total_cmp(&length(*b)))?;
    let off_line = |p: &Coord<f64>| (furthest.x * (p.y - first.y) - furthest.y * (p.x - first.x)).abs();
    let flat = points.iter().all(|p| off_line(p) <= SAME_POINT * length(furthest));
    flat.then_some(OutlineFault::ZeroArea { ring })
}

/// An edge, its lower end in x first.
#[derive(Clone, Copy)]
struct Edge {
    ring: usize,
    index: usize,
    low: Coord<f64>,
    high: Coord<f64>,
}

impl Edge {
    fn y_range(&self) -> (f64, f64) {
        (self.low.y.min(self.high.y), self.low.y.max(self.high.y))
    }
}

fn crossing_fault(rings: &[&[Coord<f64>]], roles: impl Fn(usize) -> RingRole) -> Option<OutlineFault> {
    let mut edges: Vec<Edge> = Vec::new();
    for (ring, points) in rings.iter().enumerate() {
        for (index, (a, b)) in closed_pairs(points).enumerate() {
            let (low, high) = if (a.x, a.y) <= (b.x, b.y) { (a, b) } else { (b, a) };
            edges.push(Edge { ring, index, low, high });
        }
    }
    edges.sort_by(|a, b| a.low.x.total_cmp(&b.low.x).then(a.ring.cmp(&b.ring)).then(a.index.cmp(&b.index)));
    let mut open: Vec<Edge> = Vec::new();
    for edge in edges {
        open.retain(|other| other.high.x >= edge.low.x);
        let (bottom, top) = edge.y_range();
        for other in &open {
            let (other_bottom, other_top) = other.y_range();
            if other_bottom > top || other_top < bottom {
                continue;
            }
            let fault = pair_fault(other, &edge, rings[edge.ring].len(), &roles);
            if fault.is_some() {
                return fault;
            }
        }
        open.push(edge);
    }
    None
}

/// How two edges meet.
enum Meeting {
    Cross(Coord<f64>),
    Touch(Coord<f64>),
}

fn pair_fault(a: &Edge, b: &Edge, ring_length: usize, roles: &impl Fn(usize) -> RingRole) -> Option<OutlineFault> {
    let (a, b) = if (a.ring, a.index) <= (b.ring, b.index) { (a, b) } else { (b, a) };
    let (first, second) = (a.index + 1, b.index + 1);
    if a.ring != b.ring {
        let (first, second) = (roles(a.ring), roles(b.ring));
        return meeting(a, b).map(|meeting| match meeting {
            Meeting::Cross(at) => OutlineFault::RingsCross { first, second, at: Place(at) },
            Meeting::Touch(at) => OutlineFault::RingsTouch { first, second, at: Place(at) },
        });
    }
    let ring = roles(a.ring);
    let neighbours = b.index == a.index + 1 || (a.index == 0 && b.index + 1 == ring_length);
    if neighbours {
        return folded_back(a, b).map(|at| OutlineFault::TouchesItself { ring, first, second, at: Place(at) });
    }
    meeting(a, b).map(|meeting| match meeting {
        Meeting::Cross(at) => OutlineFault::SelfCrossing { ring, first, second, at: Place(at) },
        Meeting::Touch(at) => OutlineFault::TouchesItself { ring, first, second, at: Place(at) },
    })
}

/// Where two edges with a common end run over each other, if they do.
fn folded_back(a: &Edge, b: &Edge) -> Option<Coord<f64>> {
    let ends = [a.low, a.high, b.low, b.high];
    let flat = side(a, b.low) == Orientation::Collinear && side(a, b.high) == Orientation::Collinear;
    // End to end on one line, the inner ends are equal; folded back, the outer ends of one lie inside the other.
    let apart = a.high == b.low || b.high == a.low;
    (flat && !apart).then(|| if ends[0] == ends[2] { smaller(a.high, b.high) } else { larger(a.low, b.low) })
}

fn smaller(a: Coord<f64>, b: Coord<f64>) -> Coord<f64> {
    if (a.x, a.y) <= (b.x, b.y) { a } else { b }
}

fn larger(a: Coord<f64>, b: Coord<f64>) -> Coord<f64> {
    if (a.x, a.y) <= (b.x, b.y) { b } else { a }
}

fn side(edge: &Edge, point: Coord<f64>) -> Orientation {
    RobustKernel::orient2d(edge.low, edge.high, point)
}

fn meeting(a: &Edge, b: &Edge) -> Option<Meeting> {
    use Orientation::Collinear;
    let sides = [side(a, b.low), side(a, b.high), side(b, a.low), side(b, a.high)];
    if !sides.contains(&Collinear) {
        return (sides[0] != sides[1] && sides[2] != sides[3]).then(|| Meeting::Cross(crossing_point(a, b)));
    }
    let ends = [(b.low, a), (b.high, a), (a.low, b), (a.high, b)];
    ends.iter()
        .zip(sides)
        .find(|((end, edge), side)| *side == Collinear && in_box(edge, *end))
        .map(|((end, _), _)| Meeting::Touch(*end))
}

fn in_box(edge: &Edge, point: Coord<f64>) -> bool {
    let (bottom, top) = edge.y_range();
    (edge.low.x..=edge.high.x).contains(&point.x) && (bottom..=top).contains(&point.y)
}

fn crossing_point(a: &Edge, b: &Edge) -> Coord<f64> {
    let (along, other, between) = (a.high - a.low, b.high - b.low, b.low - a.low);
    let t = (between.x * other.y - between.y * other.x) / (along.x * other.y - along.y * other.x);
    a.low + along * t
}

/// A fault of holes that cross nothing: each must lie inside the outer ring and outside the other holes.
fn hole_fault(rings: &[&[Coord<f64>]]) -> Option<OutlineFault> {
    let (outer, holes) = rings.split_first()?;
    for (index, hole) in holes.iter().enumerate() {
        let at = *hole.first()?;
        if !holds(outer, at) {
            return Some(OutlineFault::HoleOutside { hole: index + 1, at: Place(at) });
        }
    }
    for (index, hole) in holes.iter().enumerate() {
        let at = *hole.first()?;
        let around = (0..holes.len()).find(|other| *other != index && holds(holes[*other], at));
        if let Some(other) = around {
            return Some(OutlineFault::HoleInHole { inner: index + 1, outer: other + 1, at: Place(at) });
        }
    }
    None
}

/// Whether a point that is not on the ring lies inside it: the edges to its right are counted.
fn holds(ring: &[Coord<f64>], point: Coord<f64>) -> bool {
    let mut inside = false;
    for (a, b) in closed_pairs(ring) {
        let (low, high) = if a.y <= b.y { (a, b) } else { (b, a) };
        let spans = low.y <= point.y && point.y < high.y;
        if spans && RobustKernel::orient2d(low, high, point) == Orientation::CounterClockwise {
            inside = !inside;
        }
    }
    inside
}
