//! Lines of several points: how long they are, where a length along them ends, how they turn.

use geo_types::Coord;

/// Length of a line in the unit of its points.
pub(crate) fn length_of(line: &[Coord<f64>]) -> f64 {
    line.windows(2).map(|pair| distance(pair[0], pair[1])).sum()
}

/// From one point to another.
pub(crate) fn distance(from: Coord<f64>, to: Coord<f64>) -> f64 {
    (to.x - from.x).hypot(to.y - from.y)
}

/// The point so far along a line, and the way of length one in which the line runs there; `None` past its end.
pub(crate) fn point_along(line: &[Coord<f64>], along: f64) -> Option<(Coord<f64>, Coord<f64>)> {
    let mut left = along;
    for pair in line.windows(2) {
        let length = distance(pair[0], pair[1]);
        if left <= length && length > 0.0 {
            let way = (pair[1] - pair[0]) / length;
            return Some((pair[0] + way * left, way));
        }
        left -= length;
    }
    None
}

/// The angle from one way to the next, in radians; above zero to the left.
pub(crate) fn turn(way: Coord<f64>, next: Coord<f64>) -> f64 {
    libm::atan2(way.x * next.y - way.y * next.x, way.x * next.x + way.y * next.y)
}
