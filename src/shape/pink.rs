//! The saw-tooth line of a pinked edge, for drawings.
//!
//! The nominal size of a pinked piece is measured from tip to tip, so the teeth are cut into the outline and never
//! stand out of it.

use geo_types::{Coord, LineString, Polygon};
use kurbo::{Point, Vec2};

use super::rings::{closed_pairs, coord};
use super::segment::unit;
use super::{FLATTENING, Outline};

/// A corner that turns by more than this, in degrees, carries a tip; gentler ones pass for a bend.
const SHARP_DEGREES: f64 = 30.0;
/// How deep a tooth may be, in distances from its nip to edges that face another way: past one, the nip would be nearer
/// to them than to its own edge, and teeth would cross.
const SHARE: f64 = 0.9;
/// How often a tooth is made shallower before it is left out.
const SHALLOWEST: usize = 40;

/// Two points, the material on the left.
type Edge = (Point, Point);

/// The line that pinking shears leave along every ring of an outline: tips on the outline, nips `depth` inside it.
///
/// Between sharp corners, each of which carries a tip, a whole number of teeth is spread evenly; `pitch` (tip to tip) is
/// kept as nearly as that allows. Teeth are shallower where there is no room for their depth: beside a sharp corner, in
/// a narrow strip. All lengths are in millimetres; where pitch or depth is not above zero there are no teeth, and none
/// are finer than [`FLATTENING`]. The line is for drawing; the cut outline that is laid and checked is
/// the nominal one.
///
/// ```
/// use clothwright::shape::{Curve, pinked};
/// use geo::Area;
/// let doily = Curve::circle(165.0).flatten()?;
/// let teeth = pinked(&doily, 6.0, 3.0);
/// // 165 · π / 6 = 86.4 teeth, each with a tip and a nip.
/// assert_eq!(teeth.exterior().0.len() - 1, 2 * 86);
/// assert!(teeth.unsigned_area() < doily.area());
/// # Ok::<(), clothwright::shape::OutlineFault>(())
/// ```
pub fn pinked(outline: &Outline, pitch: f64, depth: f64) -> Polygon<f64> {
    if !(pitch > 0.0 && depth > 0.0) {
        return outline.polygon().clone();
    }
    let pitch = pitch.max(FLATTENING);
    let edges: Vec<Edge> = outline.rings().flat_map(|(_, ring)| ring_edges(ring)).collect();
    let mut rings = outline.rings().map(|(_, ring)| pinked_ring(&ring_edges(ring), &edges, pitch, depth));
    let exterior = rings.next().unwrap_or_else(|| LineString::new(Vec::new()));
    Polygon::new(exterior, rings.collect())
}

fn ring_edges(ring: &[Coord<f64>]) -> Vec<Edge> {
    let point = |c: Coord<f64>| Point::new(c.x, c.y);
    closed_pairs(ring).map(|(a, b)| (point(a), point(b))).collect()
}

fn pinked_ring(ring: &[Edge], all: &[Edge], pitch: f64, depth: f64) -> LineString<f64> {
    let sharp = sharp_corners(ring, pitch, depth);
    let mut points = Vec::new();
    for (index, start) in sharp.iter().enumerate() {
        let end = sharp.get(index + 1).copied().unwrap_or(sharp[0] + ring.len());
        let run: Vec<Edge> = (*start..end).map(|edge| ring[edge % ring.len()]).collect();
        // A ring without corners needs three teeth to enclose anything.
        let fewest = if sharp.len() == 1 { 3 } else { 1 };
        points.extend(teeth(&run, all, pitch, depth, fewest));
    }
    LineString::new(points.into_iter().map(coord).collect())
}

/// Edges that begin at a sharp corner; the first edge where there is none.
fn sharp_corners(ring: &[Edge], pitch: f64, depth: f64) -> Vec<usize> {
    // A tooth flatter than the corner would cut across it.
    let flank = libm::atan2(2.0 * depth, pitch) / 2.0;
    let least = flank.min(SHARP_DEGREES.to_radians());
    let turn = |index: usize| {
        let (before, after) = (ring[(index + ring.len() - 1) % ring.len()], ring[index]);
        let (arriving, leaving) = (before.1 - before.0, after.1 - after.0);
        libm::atan2(arriving.cross(leaving), arriving.dot(leaving)).abs()
    };
    let sharp: Vec<usize> = (0..ring.len()).filter(|index| turn(*index) > least).collect();
    if sharp.is_empty() { vec![0] } else { sharp }
}

/// Tips and nips along a run of edges, its start included and its end left out.
fn teeth(run: &[Edge], all: &[Edge], pitch: f64, depth: f64, fewest: usize) -> Vec<Point> {
    let length: f64 = run.iter().map(|(a, b)| (*b - *a).hypot()).sum();
    let count = ((length / pitch).round() as usize).max(fewest);
    let tooth = length / count as f64;
    let mut walk = Walk { edges: run, index: 0, passed: 0.0 };
    let mut points = Vec::with_capacity(2 * count);
    for index in 0..count {
        points.push(walk.to(index as f64 * tooth).0);
        let (base, inwards) = walk.to((index as f64 + 0.5) * tooth);
        points.push(base + inwards * room(base, inwards, depth, all));
    }
    points
}

/// A walk along edges, always forwards.
struct Walk<'a> {
    edges: &'a [Edge],
    index: usize,
    passed: f64,
}

impl Walk<'_> {
    /// The point at a distance from the start, and the unit vector into the material, which is on the left.
    fn to(&mut self, distance: f64) -> (Point, Vec2) {
        loop {
            let (start, end) = self.edges[self.index];
            let length = (end - start).hypot();
            if distance <= self.passed + length || self.index + 1 == self.edges.len() {
                let direction = unit(end - start);
                let point = start + direction * (distance - self.passed).clamp(0.0, length);
                return (point, Vec2::new(-direction.y, direction.x));
            }
            self.passed += length;
            self.index += 1;
        }
    }
}

/// The depth that a tooth may have here, `depth` at most.
fn room(base: Point, inwards: Vec2, depth: f64, all: &[Edge]) -> f64 {
    let alike = libm::cos(SHARP_DEGREES.to_radians());
    let faces_another_way = |(a, b): &&Edge| unit(*b - *a).cross(inwards) < alike;
    // Only edges within reach of the deepest nip matter.
    let rivals: Vec<&Edge> =
        all.iter().filter(faces_another_way).filter(|edge| distance_to(edge, base) < 3.0 * depth).collect();
    let mut room = depth;
    for _ in 0..SHALLOWEST {
        let nip = base + inwards * room;
        if rivals.iter().all(|edge| room <= SHARE * distance_to(edge, nip)) {
            return room;
        }
        room *= SHARE;
    }
    0.0
}

fn distance_to((a, b): &Edge, point: Point) -> f64 {
    let along = *b - *a;
    let t = ((point - *a).dot(along) / along.hypot2()).clamp(0.0, 1.0);
    (point - (*a + along * t)).hypot()
}
