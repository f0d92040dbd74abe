//! What a person describes: an outline whose arcs and curves are still arcs and curves.

use kurbo::BezPath;

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
