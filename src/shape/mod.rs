//! Outlines: curves, flattening, growing, pinked edges, unrolling, and where an outline lies; wing sections and their
//! girth.
//!
//! Everything is in millimetres, in `f64`. A [`Curve`] is what a person describes (arcs stay arcs); an [`Outline`] is
//! the polygon that the rest of the program cuts, lays and checks.
//!
//! ```
//! use clothwright::shape::{Allowance, Curve, Join, Pose};
//! use geo_types::coord;
//!
//! // A patch with one round end, 20 mm of lap on its straight sides and none on the arc.
//! let patch = Curve::from_svg_path("M 0 0 H 200 A 50 50 0 0 1 200 100 H 0 Z", 1.0)?;
//! let lap = Allowance { by_edge: vec![20.0, 0.0, 20.0, 20.0], join: Join::Mitred };
//! let cut = patch.cut_outline(&lap)?;
//! assert_eq!(cut.bounds().min(), coord! { x: -20.0, y: -20.0 });
//!
//! // Across the roll, 500 mm from its end.
//! let laid = Pose { turn: 90.0, flipped: false, at: coord! { x: 500.0, y: 20.0 } }.apply_to(&cut);
//! assert_eq!(laid.area(), cut.area());
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

mod cells;
mod curve;
pub mod drawing;
mod fault;
mod flatten;
mod grow;
mod integral;
mod join;
mod outline;
mod path;
mod pink;
mod polyline;
mod pose;
mod rings;
mod section;
mod segment;
mod skin;
mod soundness;
mod space;
mod svg_arc;
mod svg_path;
mod unroll;

pub use cells::cells;
pub use curve::Curve;
pub use fault::{OutlineFault, PathFault, Place, RingRole};
pub use grow::{Allowance, grown};
pub use join::{Join, MITRE_LIMIT};
pub use outline::Outline;
pub use path::{Path, Stretch};
pub use pink::pinked;
pub(crate) use polyline::{distance, length_of, point_along, turn};
pub use pose::{Pose, sin_cos_degrees};
pub(crate) use rings::{double_area, open_points};
pub use section::{Section, SectionFault, Side};
pub use skin::{Chord, FlatSkin, SpanLine, lay_skin_flat};
pub use space::SpacePoint;
pub(crate) use space::{dot, double_area_vector, length, minus, scaled};
pub use unroll::{Distances, UnrollFault, Unrolled, unroll, unroll_strip};

/// Largest distance, in millimetres, between a curve and the polygon that stands for it.
///
/// The polygon always holds the whole curve: flattening never cuts into the piece.
pub const FLATTENING: f64 = 0.1;

/// The most corners of a polygon that stands for a curve.
pub const CORNERS: usize = 50_000;

/// Points nearer to each other than this, in millimetres, are the same point: what the sums of one drawing may differ
/// by, and far less than anybody can cut.
pub const SAME_POINT: f64 = 1e-6;

/// Distance, in millimetres, by which a lay may miss a rule and still pass: what two floating-point roads to the same
/// point may differ by, and far less than scissors can follow.
pub const TOLERANCE: f64 = 0.01;

/// The largest coordinate, in millimetres, that is taken for cloth: one kilometre.
pub const FAR_AWAY: f64 = 1e6;
