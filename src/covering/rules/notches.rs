//! Notches in the tape over sewn trailing edges of fast aircraft: AC 43.13-1B paragraph 2-7a(5).

use crate::units::{Speed, Units};

const IN: f64 = 25.4;
/// Above this Vne the tape is notched.
const FAST: Speed = Speed::mph(200.0);
/// Notches are no farther apart.
const SPACING: f64 = 6.0 * IN;
const WIDTH: f64 = 0.25 * IN;
const DEPTH: f64 = 1.0 * IN;
/// Tape narrower than this is notched by a third of its width.
const NARROW: f64 = 3.0 * IN;

/// V-notches in both edges of a tape. Lengths in millimetres.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Notches {
    /// From the edge to the point of the V.
    pub depth: f64,
    /// Across the mouth of the V.
    pub width: f64,
    /// Greatest distance from one notch to the next.
    pub spacing: f64,
    /// Fewest notches in each edge.
    pub on_each_edge: u32,
}

impl Notches {
    /// Their figures, without their number.
    pub(in crate::covering) fn in_words(&self, units: Units) -> String {
        let [depth, width, spacing] = [self.depth, self.width, self.spacing].map(|length| units.show(length));
        format!("V-notches in both edges, {depth} deep, {width} wide, {spacing} apart at most")
    }
}

/// The notches in the tape over a sewn spanwise trailing edge of a control surface; `None` where none are needed.
///
/// `length` and `tape` (its width) are in millimetres. The count is derived: notches between the ends, no gap longer
/// than the spacing.
pub fn notches(vne: Speed, length: f64, tape: f64) -> Option<Notches> {
    if !FAST.below(vne) {
        return None;
    }
    let gaps = libm::ceil(length / SPACING - 1e-9).max(1.0);
    let depth = if tape < NARROW { tape / 3.0 } else { DEPTH };
    Some(Notches { depth, width: WIDTH, spacing: SPACING, on_each_edge: gaps as u32 - 1 })
}
