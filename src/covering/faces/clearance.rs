//! How clear of the structure a point of a bay is: a grommet sits on cloth, beside tubes and caps and not over them.

use geo::{BoundingRect, Distance, Euclidean, Intersects};
use geo_types::{Coord, Line, LineString, Point, Rect};

use super::Face;
use crate::units::inches;

/// Half of a rib's cap of 1/2 in, where a member's width is not given. Common practice, no source.
const HALF_CAP: f64 = inches(0.25);

/// The structure round a bay, each line with how far it reaches to either side.
pub(super) struct Structure {
    lines: Vec<(Line, f64)>,
}

impl Structure {
    /// What of a face's structure lies within `near` millimetres of a ring.
    pub fn round(face: &Face, ring: &[Coord<f64>], near: f64) -> Self {
        let Some(bay) = LineString::new(ring.to_vec()).bounding_rect() else { return Self { lines: Vec::new() } };
        let edges = face.edges.iter().map(|edge| (&edge.run, edge.reaches_in.unwrap_or(HALF_CAP)));
        let members =
            face.members.iter().map(|member| (&member.run, member.width.map_or(HALF_CAP, |width| width / 2.0)));
        let mut lines = Vec::new();
        for (run, half) in edges.chain(members) {
            let reach = Coord { x: near + half, y: near + half };
            let around = Rect::new(bay.min() - reach, bay.max() + reach);
            let all = run.windows(2).map(|pair| Line::new(pair[0], pair[1]));
            lines.extend(all.filter(|line| around.intersects(&line.bounding_rect())).map(|line| (line, half)));
        }
        Self { lines }
    }

    /// Distance in millimetres from a point to where the nearest structure begins; less than zero on top of it.
    pub fn clearance(&self, at: Coord<f64>) -> f64 {
        let off = |(line, half): &(Line, f64)| Euclidean.distance(&Point(at), line) - half;
        self.lines.iter().map(off).fold(f64::INFINITY, f64::min)
    }
}
