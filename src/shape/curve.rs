//! What a person describes: an outline whose arcs and curves are still arcs and curves.

use kurbo::BezPath;
use thiserror::Error;

use super::{Outline, OutlineFault};

/// A closed curve with holes, in millimetres, before it becomes a polygon.
///
/// A `rect` and a `strip` have their lower left corner at the origin, the length along x; a `circle` and a `ring` have
/// their centre there.
#[derive(Clone, Debug, PartialEq)]
pub struct Curve {
    /// The outer ring.
    pub outer: BezPath,
    /// The holes.
    pub holes: Vec<BezPath>,
}

/// What is wrong with a text that should have been SVG path data.
#[derive(Clone, Debug, PartialEq, Error)]
#[error("{message} (at character {at} of the path)")]
pub struct PathFault {
    /// Offset in characters from the start of the path data.
    pub at: usize,
    /// What is wrong and what would be right.
    pub message: String,
}

/// How corners are filled where an outline grows.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Join {
    /// Edges are drawn out until they meet.
    Mitred,
    /// An arc round the corner.
    Round,
}

/// How far the cut line lies outside the finished outline.
#[derive(Clone, Debug, PartialEq)]
pub struct Allowance {
    /// Millimetres for each segment of the outer ring in order; one entry for all round; empty for none.
    pub by_edge: Vec<f64>,
    /// How corners are filled.
    pub join: Join,
}

impl Curve {
    /// A rectangle from the origin to (`width`, `height`).
    pub fn rect(_width: f64, _height: f64) -> Self {
        unimplemented!()
    }
    /// A circle round the origin.
    pub fn circle(_diameter: f64) -> Self {
        unimplemented!()
    }
    /// A ring round the origin.
    pub fn ring(_outer_diameter: f64, _inner_diameter: f64) -> Self {
        unimplemented!()
    }
    /// A straight strip, its length along x, from the origin.
    pub fn strip(_length: f64, _width: f64) -> Self {
        unimplemented!()
    }
    /// A polygon; the first point may or may not be repeated at the end of a ring.
    pub fn polygon(_points: &[[f64; 2]], _holes: &[Vec<[f64; 2]>]) -> Self {
        unimplemented!()
    }
    /// SVG path data (W3C SVG 1.1 §8.3); `unit` is the millimetres in one unit of the path. The ring with the largest
    /// area is the outer one, the others are its holes.
    pub fn from_svg_path(_data: &str, _unit: f64) -> Result<Self, PathFault> {
        unimplemented!()
    }
    /// The polygon that holds the curve, no more than [`super::FLATTENING`] away from it.
    pub fn flatten(&self) -> Result<Outline, OutlineFault> {
        unimplemented!()
    }
    /// Number of segments of the outer ring, which is how many entries a by-edge allowance needs.
    pub fn edge_count(&self) -> usize {
        unimplemented!()
    }
    /// The cut outline: flattened and grown by the allowance. Holes are left as they are.
    pub fn cut_outline(&self, _allowance: &Allowance) -> Result<Outline, OutlineFault> {
        unimplemented!()
    }
}
