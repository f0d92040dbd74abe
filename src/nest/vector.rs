//! Ways in the plane.

/// The inner product of two ways.
#[inline]
pub(super) fn dot(a: [f64; 2], b: [f64; 2]) -> f64 {
    a[0] * b[0] + a[1] * b[1]
}

/// Length of a way. Not `hypot`, of which the last digit differs from machine to machine.
#[inline]
pub(super) fn length(way: [f64; 2]) -> f64 {
    dot(way, way).sqrt()
}

/// `a` and so many times `b`.
#[inline]
pub(super) fn plus(a: [f64; 2], times: f64, b: [f64; 2]) -> [f64; 2] {
    [a[0] + times * b[0], a[1] + times * b[1]]
}
