//! Sums with points in space.

/// A point or a direction in space: x, y, z in millimetres.
pub type SpacePoint = [f64; 3];

pub(crate) fn minus(a: SpacePoint, b: SpacePoint) -> SpacePoint {
    [a[0] - b[0], a[1] - b[1], a[2] - b[2]]
}

pub(crate) fn dot(a: SpacePoint, b: SpacePoint) -> f64 {
    a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
}

pub(super) fn cross(a: SpacePoint, b: SpacePoint) -> SpacePoint {
    [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]]
}

pub(crate) fn length(a: SpacePoint) -> f64 {
    dot(a, a).sqrt()
}

pub(crate) fn scaled(a: SpacePoint, by: f64) -> SpacePoint {
    a.map(|value| value * by)
}

/// Twice the area that a ring encloses, as a vector square to its best plane, on the side from which the ring runs
/// counter-clockwise (Newell's sum). Seen from the first point, so that far from the origin nothing is lost.
pub(crate) fn double_area_vector(ring: &[SpacePoint]) -> SpacePoint {
    let Some(&origin) = ring.first() else { return [0.0; 3] };
    let mut sum = [0.0; 3];
    for (i, point) in ring.iter().enumerate() {
        let next = ring[(i + 1) % ring.len()];
        let part = cross(minus(*point, origin), minus(next, origin));
        sum = [sum[0] + part[0], sum[1] + part[1], sum[2] + part[2]];
    }
    sum
}
