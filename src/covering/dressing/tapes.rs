//! How wide the finishing tape is over each member, and whether it bonds to enough cloth beside an attachment.

use thiserror::Error;

use crate::covering::{NoRule, RuleBook, RuleUsed};
use crate::job::{Location, MemberClass, RuleFigure, Surface};

/// What a tape lies over.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct TapeOver {
    /// The member under it.
    pub class: MemberClass,
    /// What the member belongs to.
    pub surface: Surface,
    /// Whether a rib lies in the slipstream, AC 43.13-1B 2-9c.
    pub in_slipstream: bool,
    /// The seam that lies on the member, if one does.
    pub seam: Option<Location>,
}

/// A tape does not bond to enough cloth beside what it covers. Lengths in millimetres.
#[derive(Clone, Debug, PartialEq, Error)]
#[error("a tape {width:.1} mm wide bonds {bonds:.1} mm beside what it covers, {least:.1} mm is the least ({rule})")]
pub struct TapeTooNarrow {
    /// Width of the tape.
    pub width: f64,
    /// What is left on each side.
    pub bonds: f64,
    /// What must be left.
    pub least: f64,
    /// Where this comes from.
    pub rule: String,
}

impl TapeOver {
    /// The place in the rules of the tape over the member itself.
    pub fn location(self) -> Location {
        use MemberClass as M;
        let tail = self.surface == Surface::Empennage;
        match self.class {
            M::LeadingEdge | M::TrailingEdge | M::TipBow if tail => Location::TailEdge,
            M::LeadingEdge => Location::LeadingEdge,
            M::TrailingEdge => Location::TrailingEdge,
            M::TipBow => Location::TipBow,
            M::ButtRib => Location::ButtRib,
            M::Rib if self.in_slipstream => Location::SlipstreamRib,
            M::Rib => Location::Rib,
            M::NoseSheet => Location::HardEdge,
            M::Spar => Location::Spar,
            M::Longeron => Location::Longeron,
            M::CrossTube => Location::CrossTube,
            M::Diagonal => Location::Diagonal,
            M::Stringer => Location::Stringer,
            M::Former => Location::Former,
        }
    }
}

/// The width of the finishing tape over a member: that of the member, or of the seam on it where that is wider. The
/// finished width; a bias tape is cut wider, see [`super::tape_round`].
///
/// A figure of the person's own for the seam stands even where it is narrower than that of the member.
///
/// # Errors
/// [`NoRule`] where the set of rules has no tape for the seam.
pub fn tape_over(book: &RuleBook, over: TapeOver) -> Result<RuleUsed, NoRule> {
    let member = book.figure(RuleFigure::Tape, over.location())?;
    let Some(seam) = over.seam else { return Ok(member) };
    let own = book.own(RuleFigure::Tape, seam).is_some();
    let seam = book.figure(RuleFigure::Tape, seam)?;
    Ok(if own || seam.used >= member.used { seam } else { member })
}

/// Checks that a tape bonds to enough cloth on each side of what it covers, `covered` millimetres wide: an attachment or
/// the reinforcing tape under it (AC 43.13-1B 2-13b), or a hard edge, whose width is 0 (approved covering manual p. 43).
/// `least` is the margin that the rules give at [`Location::Attachment`] or [`Location::HardEdge`].
///
/// # Errors
/// [`TapeTooNarrow`] says what is left and what must be.
pub fn bonds_beside(least: &RuleUsed, tape: f64, covered: f64) -> Result<(), TapeTooNarrow> {
    let bonds = (tape - covered) / 2.0;
    if bonds >= least.used - 1e-9 {
        return Ok(());
    }
    Err(TapeTooNarrow { width: tape, bonds, least: least.used, rule: least.source_in_words() })
}
