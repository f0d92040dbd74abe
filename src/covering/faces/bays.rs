//! Bays: the cells into which members divide a face.

use geo_types::Coord;

use super::Face;
use crate::job::MemberClass;
use crate::shape::{cells, double_area, open_points};

/// How far short of what holds it a member may be drawn, in millimetres: to the side of a tube and not to its middle.
const REACH: f64 = 30.0;

/// A cell of a face.
#[derive(Clone, Debug, PartialEq)]
pub struct Bay {
    /// Its corners, counter-clockwise.
    pub ring: Vec<Coord<f64>>,
}

impl Bay {
    /// In square millimetres.
    pub fn area(&self) -> f64 {
        double_area(&self.ring) / 2.0
    }
}

/// The bays of a face. Together they are the face: every member divides it, whether cloth is attached to it or not, since
/// water stops at each.
pub fn bays(face: &Face) -> Vec<Bay> {
    let ring = open_points(face.outline.polygon().exterior());
    // The edge of a nose sheet is no member: the sheet lies against the cloth and holds no water back.
    let members = face.members.iter().filter(|member| member.class != MemberClass::NoseSheet);
    let lines: Vec<Vec<Coord<f64>>> = members.map(|member| member.run.clone()).collect();
    cells(ring, &lines, REACH).into_iter().map(|ring| Bay { ring }).collect()
}
