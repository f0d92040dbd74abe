//! Laid pieces as polygons.

use geo::MapCoords;
use geo_types::{Coord, LineString, Polygon};

use crate::job::{Edge, Piece};
use crate::plan::LaidPiece;
use crate::shape::{Pose, pinked};

/// The cut outline as it lies on the cloth.
pub(super) fn laid_polygon(laid: &LaidPiece) -> Polygon<f64> {
    let ring =
        |points: &Vec<[f64; 2]>| -> LineString<f64> { points.iter().map(|[x, y]| Coord { x: *x, y: *y }).collect() };
    Polygon::new(ring(&laid.outline), laid.holes.iter().map(ring).collect())
}

/// The line that pinking shears leave, in the piece's own coordinates; `None` for a plain edge.
pub(super) fn toothed(piece: &Piece) -> Option<Polygon<f64>> {
    match piece.edge {
        Edge::Plain => None,
        Edge::Pinked(teeth) => Some(pinked(&piece.cut, teeth.pitch, teeth.depth)),
    }
}

/// Carries a polygon from the piece's own coordinates to where the piece lies.
pub(super) fn carried(polygon: &Polygon<f64>, laid: &LaidPiece) -> Polygon<f64> {
    let pose = Pose { turn: laid.turn, flipped: laid.flipped, at: Coord { x: laid.at[0], y: laid.at[1] } };
    polygon.map_coords(|point| pose.apply(point))
}
