//! Rings of points: what outlines, their faults and their growing all ask of them.

use geo_types::{Coord, LineString};
use kurbo::Point;

/// A point of a curve as a point of a polygon.
pub(super) fn coord(point: Point) -> Coord<f64> {
    Coord { x: point.x, y: point.y }
}

/// The points of a closed line string without the repeated one at the end.
pub(crate) fn open_points(ring: &LineString<f64>) -> &[Coord<f64>] {
    ring.0.split_last().map_or(&[], |(_, points)| points)
}

/// Each point with the one after it, the first following the last.
pub(super) fn closed_pairs(ring: &[Coord<f64>]) -> impl Iterator<Item = (Coord<f64>, Coord<f64>)> {
    ring.iter().copied().zip(ring.iter().copied().cycle().skip(1))
}

/// Twice the signed area of a ring. Seen from its first point, so that far from the origin nothing is lost.
pub(crate) fn double_area(ring: &[Coord<f64>]) -> f64 {
    let Some(&origin) = ring.first() else { return 0.0 };
    closed_pairs(ring).map(|(a, b)| (a.x - origin.x) * (b.y - origin.y) - (a.y - origin.y) * (b.x - origin.x)).sum()
}
