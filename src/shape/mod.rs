//! Outlines: curves, flattening, growing, pinked edges, and where an outline lies.
//!
//! Everything is in millimetres, in `f64`. A [`Curve`] is what a person describes (arcs stay arcs); an [`Outline`] is
//! the polygon that the rest of the program cuts, lays and checks.

mod curve;
mod outline;
mod pose;

pub use curve::{Allowance, Curve, Join, PathFault};
pub use outline::{Outline, OutlineFault};
pub use pose::{Pose, sin_cos_degrees};

/// Largest distance, in millimetres, between a curve and the polygon that stands for it.
///
/// The polygon always holds the whole curve: flattening never cuts into the piece.
pub const FLATTENING: f64 = 0.1;

/// Stand-in until the real one arrives.
pub fn grown(_outline: &Outline, _distance: f64, _join: Join) -> Result<Outline, OutlineFault> {
    unimplemented!()
}
