//! Outlines that grow outwards: allowances for laps and hems, and the gap round a piece.
//!
//! Each edge moves outwards and corners are filled. Mostly the moved edges already are the grown ring, to the last bit
//! of the given numbers. Where a notch closes or a corner swallows an edge they cross; then the bands that the edges
//! sweep are united with the outline, on a grid of about 0.00001 mm.

use geo::{Area, BooleanOps, unary_union};
use geo_types::{Coord, LineString, Polygon};
use kurbo::{Point, Vec2};

use super::flatten::{Vertex, VertexKind};
use super::join::{Corner, Join};
use super::rings::{closed_pairs, coord, double_area, open_points};
use super::segment::unit;
use super::soundness::first_fault;
use super::{Outline, OutlineFault};

/// Points of a united outline nearer than this, in millimetres, are one point: ten steps of the grid on 50 m of cloth.
const GRID: f64 = 1e-4;

/// How far the cut line lies outside the finished outline.
#[derive(Clone, Debug, PartialEq)]
pub struct Allowance {
    /// Millimetres for each segment of the outer ring in order; one entry for all round; empty for none.
    pub by_edge: Vec<f64>,
    /// How corners are filled.
    pub join: Join,
}

impl Allowance {
    /// One distance for each edge.
    pub(super) fn for_edges(&self, edges: usize) -> Result<Vec<f64>, OutlineFault> {
        if let Some(given) = self.by_edge.iter().copied().find(|distance| !is_distance(*distance)) {
            return Err(OutlineFault::Allowance { given });
        }
        match self.by_edge.as_slice() {
            [] => Ok(vec![0.0; edges]),
            [all_round] => Ok(vec![*all_round; edges]),
            each if each.len() == edges => Ok(each.to_vec()),
            each => Err(OutlineFault::AllowanceCount { given: each.len(), edges }),
        }
    }
}

fn is_distance(distance: f64) -> bool {
    distance.is_finite() && distance >= 0.0
}

/// Grows an outline all round: the outer ring outwards, holes inwards. A hole that closes vanishes; a notch whose mouth
/// closes leaves a hole.
///
/// Nowhere is the distance less than asked, save past the [`MITRE_LIMIT`](super::MITRE_LIMIT) of a mitred corner; arcs
/// exceed it by [`FLATTENING`](super::FLATTENING) at most.
///
/// ```
/// use clothwright::shape::{Curve, Join, grown};
/// let frame = Curve::polygon(
///     &[[0.0, 0.0], [100.0, 0.0], [100.0, 100.0], [0.0, 100.0]],
///     &[vec![[40.0, 40.0], [60.0, 40.0], [60.0, 60.0], [40.0, 60.0]]],
/// )
/// .flatten()?;
/// assert_eq!(grown(&frame, 5.0, Join::Mitred)?.area(), 110.0 * 110.0 - 10.0 * 10.0);
/// assert_eq!(grown(&frame, 15.0, Join::Mitred)?.area(), 130.0 * 130.0);
/// # Ok::<(), clothwright::shape::OutlineFault>(())
/// ```
///
/// # Errors
/// [`OutlineFault::Allowance`] where the distance is negative or not finite; any other fault where the grown rings are
/// beyond what is taken for cloth.
pub fn grown(outline: &Outline, distance: f64, join: Join) -> Result<Outline, OutlineFault> {
    if !is_distance(distance) {
        return Err(OutlineFault::Allowance { given: distance });
    }
    if distance == 0.0 {
        return Ok(outline.clone());
    }
    let mut rings = outline.rings().map(|(_, ring)| {
        let points: Vec<Point> = ring.iter().map(|p| Point::new(p.x, p.y)).collect();
        MovedRing::all_round(&points, distance, join)
    });
    let Some(outer) = rings.next() else { return Ok(outline.clone()) };
    let (exterior, mut holes) = outer.grown_outwards().into_inner();
    for hole in rings {
        holes.extend(hole.shrunken_hole());
    }
    Outline::new(Polygon::new(exterior, holes))
}

/// Grows an outer ring, counter-clockwise, by a distance for each segment of its curve. Cavities left where a notch
/// closes are filled.
pub(super) fn grow_outer_ring(vertices: &[Vertex], by_segment: &[f64], join: Join) -> LineString<f64> {
    let before = |index: usize| vertices[(index + vertices.len() - 1) % vertices.len()];
    let distance = |vertex: &Vertex| by_segment[vertex.segment];
    let kept: Vec<&Vertex> = vertices
        .iter()
        .enumerate()
        .filter(|(i, v)| v.kind != VertexKind::Smooth || distance(v) != distance(&before(*i)))
        .map(|(_, vertex)| vertex)
        .collect();
    let points: Vec<Point> = kept.iter().map(|vertex| vertex.at).collect();
    let distances: Vec<f64> = kept.iter().map(|vertex| distance(vertex)).collect();
    let join_at = |index: usize| if kept[index].kind == VertexKind::Bend { Join::Round } else { join };
    MovedRing::new(&points, &distances, join_at).grown_outwards().into_inner().0
}

/// A ring with its material on the left, each edge of which moves to its right.
struct MovedRing {
    /// Corner `i` lies where edge `i - 1` meets edge `i`.
    corners: Vec<Corner>,
}

impl MovedRing {
    fn all_round(points: &[Point], distance: f64, join: Join) -> Self {
        Self::new(points, &vec![distance; points.len()], |_| join)
    }

    fn new(points: &[Point], distances: &[f64], join: impl Fn(usize) -> Join) -> Self {
        let count = points.len();
        let directions: Vec<Vec2> = (0..count).map(|i| unit(points[(i + 1) % count] - points[i])).collect();
        let corner = |i: usize| {
            let before = (i + count - 1) % count;
            Corner {
                at: points[i],
                directions: [directions[before], directions[i]],
                distances: [distances[before], distances[i]],
                join: join(i),
            }
        };
        Self { corners: (0..count).map(corner).collect() }
    }

    /// The ring before it moved.
    fn original(&self) -> Vec<Coord<f64>> {
        self.corners.iter().map(|corner| coord(corner.at)).collect()
    }

    /// The moved edges, where they make a sound ring of the same sense.
    fn moved(&self) -> Option<Vec<Coord<f64>>> {
        let joins: Vec<Vec<Point>> = self.corners.iter().map(Corner::points).collect();
        for (i, corner) in self.corners.iter().enumerate() {
            let (from, to) = (joins[i].last()?, joins[(i + 1) % joins.len()].first()?);
            if (*to - *from).dot(corner.directions[1]) <= 0.0 {
                return None;
            }
        }
        let ring: Vec<Coord<f64>> = joins.into_iter().flatten().map(coord).collect();
        let same_sense = (double_area(&ring) > 0.0) == (double_area(&self.original()) > 0.0);
        (same_sense && first_fault(&[&ring]).is_none() && self.bands_kept()).then_some(ring)
    }

    /// Whether bands of unlike width lie inside the moved edges: in a notch one band may be so wide that it stands out
    /// past the far end of the other.
    fn bands_kept(&self) -> bool {
        let count = self.corners.len();
        let length = |edge: usize| (self.corners[(edge + 1) % count].at - self.corners[edge].at).hypot();
        let alike = self.corners.iter().all(|corner| corner.distances[0] == corner.distances[1]);
        alike || self.corners.iter().enumerate().all(|(i, c)| c.has_room([length((i + count - 1) % count), length(i)]))
    }

    fn grown_outwards(&self) -> Polygon<f64> {
        if let Some(ring) = self.moved() {
            return Polygon::new(LineString::new(ring), Vec::new());
        }
        let mut parts = self.bands();
        parts.push(Polygon::new(LineString::new(self.original()), Vec::new()));
        let united = unary_union(&parts);
        let largest = united.0.into_iter().max_by(|a, b| a.unsigned_area().total_cmp(&b.unsigned_area()));
        largest.map_or_else(|| parts.remove(parts.len() - 1), |polygon| on_grid(&polygon))
    }

    fn shrunken_hole(&self) -> Vec<LineString<f64>> {
        if let Some(ring) = self.moved() {
            return vec![LineString::new(ring)];
        }
        let hole = Polygon::new(LineString::new(self.original()), Vec::new());
        let left = hole.difference(&unary_union(&self.bands()));
        left.iter().map(|part| on_grid(part).into_inner().0).filter(|ring| !is_sliver(ring)).collect()
    }

    /// What the edges sweep over, and the corners between.
    fn bands(&self) -> Vec<Polygon<f64>> {
        let mut bands = Vec::new();
        for (i, corner) in self.corners.iter().enumerate() {
            let next = &self.corners[(i + 1) % self.corners.len()];
            let (start, end) = (corner.moved_ends()[1], next.moved_ends()[0]);
            if corner.distances[1] > 0.0 {
                bands.push(band(&[corner.at, start, end, next.at]));
            }
            if corner.bulges() {
                let [end, start] = corner.moved_ends();
                let wedge: Vec<Point> = [corner.at, end].into_iter().chain(corner.points()).chain([start]).collect();
                bands.push(band(&wedge));
            }
        }
        bands.retain(|polygon| polygon.unsigned_area() > GRID * GRID);
        bands
    }
}

fn band(points: &[Point]) -> Polygon<f64> {
    Polygon::new(LineString::new(points.iter().map(|point| coord(*point)).collect()), Vec::new())
}

/// A united polygon without the tiny edges and the slivers that rounding to the grid may leave.
fn on_grid(polygon: &Polygon<f64>) -> Polygon<f64> {
    let clean = |ring: &LineString<f64>| {
        let apart = |(a, b): &(Coord<f64>, Coord<f64>)| (a.x - b.x).abs().max((a.y - b.y).abs()) > GRID;
        LineString::new(closed_pairs(open_points(ring)).filter(apart).map(|(a, _)| a).collect())
    };
    let holes = polygon.interiors().iter().map(clean).filter(|hole| !is_sliver(hole));
    Polygon::new(clean(polygon.exterior()), holes.collect())
}

/// Whether a ring is nowhere wider than a step of the grid or so.
fn is_sliver(ring: &LineString<f64>) -> bool {
    let length: f64 = closed_pairs(&ring.0).map(|(a, b)| (a.x - b.x).abs() + (a.y - b.y).abs()).sum();
    double_area(&ring.0).abs() <= GRID * length
}
