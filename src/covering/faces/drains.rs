//! Drains: a hole at the lowest point of every bay in the parked attitude (AC 43.13-1B 2-14b; approved covering manual p. 48).

use geo_types::Coord;

use super::clearance::Structure;
use super::{Bay, Face, height, low_points};
use crate::job::Parked;
use crate::units::inches;

/// How level a face is when it counts as an underside or as upright: the part of its outward direction that is down.
const DOWN: f64 = 0.3;
/// From the side of a tube or cap to the middle of a drain, in millimetres: half of a grommet 3/4 in across, as close as it
/// sits. Common practice, no source.
const GROMMET: f64 = inches(0.375);
/// Depth of water from which a second hollow of a bay is worth a drain, in millimetres. Common practice, no source.
const DEPTH: f64 = 2.0;
/// Low points of different attitudes nearer to each other than this, in millimetres, share a drain.
const SAME_DRAIN: f64 = 40.0;

/// A drain.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Drain {
    /// Which bay it drains, as a place among the face's bays.
    pub bay: usize,
    /// Where it is on the face.
    pub at: Coord<f64>,
}

/// Whether a face has drains: an underside has, and one side of a part that stands upright, the first; of a box that is
/// covered all round the sides run off through the bottom.
fn is_drained(face: &Face, upright_too: bool) -> bool {
    let Some(skin) = &face.skin else { return false };
    let outward = skin.outward();
    outward[2] < -DOWN || upright_too && outward[2].abs() <= DOWN
}

/// The drains of a face's bays for every attitude in which the aircraft may be parked. `upright_too` where a face that
/// stands upright holds water of its own.
pub fn drains(face: &Face, bays: &[Bay], parked: &Parked, upright_too: bool) -> Vec<Drain> {
    let Some(skin) = face.skin.as_ref().filter(|_| is_drained(face, upright_too)) else { return Vec::new() };
    let mut found: Vec<Drain> = Vec::new();
    for (bay, cell) in bays.iter().enumerate() {
        let near = skin.near(&cell.ring);
        let structure = Structure::round(face, &cell.ring, GROMMET);
        let room = |at| structure.clearance(at) - GROMMET;
        for up in parked.ups() {
            for at in low_points(&cell.ring, |point| height(skin.in_triangles(&near, point), up), room, DEPTH) {
                let shared =
                    |drain: &Drain| drain.bay == bay && (drain.at.x - at.x).hypot(drain.at.y - at.y) < SAME_DRAIN;
                if !found.iter().any(shared) {
                    found.push(Drain { bay, at });
                }
            }
        }
    }
    found
}
