//! What the person should think about, whatever the kind of the part.

use std::f64::consts::FRAC_PI_2;

use super::desk::Desk;
use super::notches;
use super::rules::RuleUsed;
use crate::job::{Location, Part, RuleFigure};

/// Half of the tube's circumference carries a lap round it, from face to face.
const CARRIES: f64 = FRAC_PI_2;

/// Tape over the sewn trailing edge of a fast aircraft's control surface is notched, so that it cannot come off whole.
pub(super) fn notch_caution(desk: &mut Desk, part: &Part, location: Location, longest: f64) {
    let Some(tape) = desk.figure(RuleFigure::Tape, location, &part.at) else { return };
    if let Some(notches) = notches(desk.rules.vne, longest, tape.used) {
        desk.caution(format!(
            "{}: the tape on the trailing edge has {}, up to {} in each edge (AC 2-7a(5))",
            part.name,
            notches.in_words(desk.job.units),
            notches.on_each_edge
        ));
    }
}

/// What hangs on a hinge is heavier behind it once it is covered.
pub(super) fn balance_caution(desk: &mut Desk, part: &Part) {
    desk.caution(format!(
        "{}: covering adds mass behind the hinge line; re-check the balance after covering (AC 2-5f)",
        part.name
    ));
}

/// A lapped seam needs structure as wide as itself, which a thin tube is not.
pub(super) fn narrow_tube_caution(desk: &mut Desk, part: &Part, joint: &RuleUsed, tube: f64) {
    if joint.figure == RuleFigure::Lap && joint.used > CARRIES * tube {
        let [lap, tube, carried] = [joint.used, tube, CARRIES * tube].map(|length| desk.job.units.show(length));
        desk.caution(format!(
            "{}: a lap of {lap} goes round more than the {tube} tube from face to face, {carried}; a lapped seam \
             needs structure as wide as itself (AC 2-8 NOTE)",
            part.name
        ));
    }
}
