//! A side of a line, as the inside of a no-fit polygon at one of its edges and the outside of it for a linear programme.

use super::edge::Edge;
use crate::nest::vector::dot;

/// A side of a line: the points `t` with `normal · t ≥ offset`.
#[derive(Clone, Copy, Debug)]
pub struct HalfPlane {
    /// Of length one.
    pub normal: [f64; 2],
    /// Where the line lies along the normal.
    pub offset: f64,
}

impl HalfPlane {
    /// The side on the left of an edge.
    pub(super) fn left_of(edge: &Edge) -> Self {
        let normal = edge.normal();
        Self { normal, offset: dot(normal, edge.from) }
    }

    /// How far a point lies on this side of the line; below zero on the other.
    pub fn ahead(&self, t: [f64; 2]) -> f64 {
        dot(self.normal, t) - self.offset
    }

    /// The part of a stretch that lies on this side by more than `touch`.
    pub(super) fn part_ahead(&self, [a, b]: [[f64; 2]; 2], touch: f64) -> Option<[[f64; 2]; 2]> {
        let (from, to) = (self.ahead(a) - touch, self.ahead(b) - touch);
        if from <= 0.0 && to <= 0.0 {
            return None;
        }
        let share = from / (from - to);
        let between = [0, 1].map(|axis| a[axis] + share * (b[axis] - a[axis]));
        Some(match (from > 0.0, to > 0.0) {
            (true, false) => [a, between],
            (false, true) => [between, b],
            _ => [a, b],
        })
    }
}
