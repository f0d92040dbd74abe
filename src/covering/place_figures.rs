//! What the rules have for one place: how cloth is joined there, and what it is held on to by.

use super::desk::Desk;
use super::rules::RuleUsed;
use crate::job::{Location, Method, RuleFigure, Spot};

/// The figures of one place.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct PlaceFigures {
    /// The lap, or the margin of a sewn seam.
    pub joint: RuleUsed,
    pub handling: RuleUsed,
}

impl PlaceFigures {
    /// Asks the rules; a fault for each figure that they do not have. The tape is asked for too, so that it is told.
    pub fn ask(desk: &mut Desk, location: Location, at: &Spot) -> Option<Self> {
        let joint = if desk.book.method() == Method::Sewn { RuleFigure::Margin } else { RuleFigure::Lap };
        let joint = desk.figure(joint, location, at);
        let handling = desk.figure(RuleFigure::Handling, location, at);
        desk.figure(RuleFigure::Tape, location, at)?;
        Some(Self { joint: joint?, handling: handling? })
    }

    /// Whether the joint is sewn.
    pub fn sewn(&self) -> bool {
        self.joint.figure == RuleFigure::Margin
    }
}
