//! How sharply a line turns: the radius that a tape along it has to follow.

use geo_types::Coord;

use crate::shape::{length_of, turn};

/// Length over which a turn is spread, in millimetres: cloth and tape do not feel a bend of a few degrees at one point, and
/// a flattened curve has nothing else.
const SPREAD: f64 = 150.0;
/// Steps along the line at which it is looked at, in millimetres.
const STEP: f64 = 25.0;

/// The sharpest bend of a line.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Bend {
    /// Radius in millimetres; endless for a straight line.
    pub radius: f64,
    /// Length of the line that turns at all.
    pub length: f64,
}

/// The sharpest bend of a line of two points or more.
pub(super) fn sharpest(run: &[Coord<f64>]) -> Bend {
    let mut turns: Vec<(f64, f64)> = Vec::new();
    let mut along = 0.0;
    for triple in run.windows(3) {
        along += length_of(&triple[..2]);
        turns.push((along, turn(triple[1] - triple[0], triple[2] - triple[1])));
    }
    let total = length_of(run);
    let mut sharpest: f64 = 0.0;
    let mut bent = 0.0;
    let mut at = 0.0;
    while at < total {
        let inside = turns.iter().filter(|(place, _)| (at..at + SPREAD).contains(place));
        let turned = inside.map(|(_, turn)| turn).sum::<f64>().abs();
        sharpest = sharpest.max(turned);
        if turned > 0.0 {
            bent += STEP;
        }
        at += STEP;
    }
    let radius = if sharpest > 0.0 { SPREAD / sharpest } else { f64::INFINITY };
    Bend { radius, length: bent.min(total) }
}
