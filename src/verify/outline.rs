//! Whether an outline in a lay is the outline that it should be.

use geo_types::{Coord, LineString, Polygon};

use super::TOLERANCE;
use super::cloth::coordinates;
use crate::wording::counted;

/// Says how a written outline differs from the one that is expected, if it does.
///
/// Rings may start at any of their points and run either way, and holes may come in any order; but each point must lie
/// within [`TOLERANCE`] of the point that it stands for.
pub(super) fn check_outline(expected: &Polygon<f64>, outer: &[[f64; 2]], holes: &[Vec<[f64; 2]>]) -> Option<String> {
    if let Err(how) = check_ring(expected.exterior(), outer) {
        return Some(how);
    }
    if expected.interiors().len() != holes.len() {
        return Some(format!(
            "it has {} and should have {}",
            counted(holes.len(), "hole", "holes"),
            expected.interiors().len()
        ));
    }
    let mut left: Vec<&LineString<f64>> = expected.interiors().iter().collect();
    for (index, hole) in holes.iter().enumerate() {
        match left.iter().position(|ring| check_ring(ring, hole).is_ok()) {
            Some(match_) => {
                left.remove(match_);
            }
            None => return Some(format!("its hole {} is none of the piece's holes", index + 1)),
        }
    }
    None
}

fn check_ring(expected: &LineString<f64>, written: &[[f64; 2]]) -> Result<(), String> {
    let expected = open(&expected.0);
    let written = coordinates(written);
    // The last point of a ring may lie so near the first that rounding makes them one, and still be a point of its own.
    let written = if written.len() > expected.len() { open(&written) } else { &written[..] };
    if expected.len() != written.len() {
        return Err(format!("it has {} and should have {}", counted(written.len(), "point", "points"), expected.len()));
    }
    let count = expected.len();
    let off = |start: usize, backwards: bool| {
        let at = |index: usize| (if backwards { start + count - index } else { start + index }) % count;
        expected.iter().enumerate().map(|(index, point)| apart(*point, written[at(index)])).fold(0.0, f64::max)
    };
    let ways = (0..count).flat_map(|start| [(start, false), (start, true)]);
    let mut least = f64::INFINITY;
    for (start, backwards) in ways {
        least = least.min(off(start, backwards));
        if least <= TOLERANCE {
            return Ok(());
        }
    }
    Err(format!("a point is {least:.3} mm from where it should be"))
}

/// The points of a ring without the last one where that repeats the first.
fn open(points: &[Coord<f64>]) -> &[Coord<f64>] {
    match points {
        [first, rest @ .., last] if !rest.is_empty() && first == last => &points[..points.len() - 1],
        _ => points,
    }
}

fn apart(a: Coord<f64>, b: Coord<f64>) -> f64 {
    (a.x - b.x).hypot(a.y - b.y)
}
