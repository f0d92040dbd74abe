//! An independent check of a lay; shares no collision code with the engine.
//!
//! The engine looks for a lay with rasters, no-fit polygons and weights of its own. This floor knows nothing of them: it takes the
//! outlines as they lie and measures how far one reaches into another ([`check_cloth`]). Around that stand two doors:
//! [`verify_lay`] checks a written lay against its job, [`verify_task`] the engine's answer against its question.
//!
//! # How deep is an overlap
//!
//! The *reach* of one piece into another is the greatest distance from a point that lies in both to the other's cut line:
//! how far a knife that follows the one would stray into the other. The *overlap* of two pieces is the larger reach of
//! the two. Pieces that touch have an overlap of zero; if rounding carries either of them by a hair, the overlap is two
//! hairs at most. Whether an overlap is deeper than [`TOLERANCE`] is decided only at points that are that far from the
//! cut line, a million times further than the rounding of an `f64` at a hundred metres; so no exact arithmetic is needed.

mod cloth;
mod counts;
mod edges;
mod finding;
mod measure;
mod outline;
mod rest;
mod tape;
mod task;
mod words;
mod written;

pub use crate::shape::TOLERANCE;
pub use cloth::{Laid, check_cloth};
pub use finding::{Fault, Finding, Named};
pub use rest::verify_rest;
pub use task::verify_task;
pub use written::{RATIO_TOLERANCE, verify_lay};
