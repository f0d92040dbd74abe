//! Full-size templates: small ones laid together on sheets of paper, large ones in tiles to be glued together; or one
//! file a template for a plotter.

mod book;
mod contents;
mod dxf;
mod file;
mod foot;
mod grid;
mod lines;
mod marks;
mod sheet;
mod small;
mod tiles;
mod writing;

pub use book::{Book, Printed, book, large_pieces};
pub use dxf::template_dxf;
pub use file::template_svg;

use geo_types::Coord;

use crate::shape::Pose;

/// A pose after another: what `first` carries somewhere, `then` carries on.
fn carried_on(first: &Pose, then: &Pose) -> Pose {
    let hand = if then.flipped { -1.0 } else { 1.0 };
    Pose {
        turn: (hand * first.turn + then.turn).rem_euclid(360.0),
        flipped: first.flipped != then.flipped,
        at: then.apply(first.at),
    }
}

/// A unit vector in a direction, in degrees counter-clockwise.
fn towards(degrees: f64) -> Coord<f64> {
    let (sin, cos) = crate::shape::sin_cos_degrees(degrees);
    Coord { x: cos, y: sin }
}
