//! The words that a job file has for a choice: one home for reader, schema, messages and tables.

use super::airframe::{ClothClass, MeasuredTo, MemberClass, Method, Sides, Surface, Wrap};
use super::attachment::Attachment;
use super::parked::Direction;
use super::repair::{RepairKind, RepairPlace, Side};
use super::ribbed::{RibbedCover, Roll};
use super::rule_figure::{Location, RuleFigure};

/// A choice that is written as a word.
pub trait Words: Copy + PartialEq + 'static {
    /// Every choice with its word.
    const ALL: &'static [(Self, &'static str)];

    /// The word of this choice.
    fn word(self) -> &'static str {
        Self::ALL.iter().find(|(choice, _)| *choice == self).map_or("", |(_, word)| word)
    }

    /// All words, in order.
    fn words() -> Vec<&'static str> {
        Self::ALL.iter().map(|(_, word)| *word).collect()
    }
}

impl Words for Method {
    const ALL: &'static [(Self, &'static str)] =
        &[(Self::Doped, "doped"), (Self::Cemented, "cemented"), (Self::Sewn, "sewn")];
}

impl Words for ClothClass {
    const ALL: &'static [(Self, &'static str)] =
        &[(Self::Light, "light"), (Self::Intermediate, "intermediate"), (Self::GradeA, "grade A")];
}

impl Words for RuleFigure {
    const ALL: &'static [(Self, &'static str)] = &[
        (Self::Lap, "lap"),
        (Self::Tape, "tape"),
        (Self::Margin, "margin"),
        (Self::Handling, "handling"),
        (Self::Fold, "fold"),
        (Self::Spacing, "spacing"),
        (Self::Length, "length"),
        (Self::Diameter, "diameter"),
    ];
}

impl Words for Location {
    const ALL: &'static [(Self, &'static str)] = &[
        (Self::WingLeadingEdge, "wing leading edge"),
        (Self::WingTrailingEdge, "wing trailing edge"),
        (Self::WingTip, "wing tip"),
        (Self::WingButt, "wing butt"),
        (Self::ControlSurface, "control surface"),
        (Self::Empennage, "empennage"),
        (Self::Fuselage, "fuselage"),
        (Self::PanelSeam, "panel seam"),
        (Self::Recess, "recess"),
        (Self::Rib, "rib"),
        (Self::SlipstreamRib, "rib in slipstream"),
        (Self::NoseRib, "nose rib"),
        (Self::ButtRib, "butt rib"),
        (Self::Spar, "spar"),
        (Self::LeadingEdge, "leading edge"),
        (Self::TrailingEdge, "trailing edge"),
        (Self::TailEdge, "tail edge"),
        (Self::TipBow, "tip bow"),
        (Self::Longeron, "longeron"),
        (Self::CrossTube, "cross tube"),
        (Self::Diagonal, "diagonal"),
        (Self::Stringer, "stringer"),
        (Self::Former, "former"),
        (Self::HardEdge, "hard edge"),
        (Self::Attachment, "attachment"),
        (Self::LastAttachment, "last attachment"),
        (Self::ReinforcingTape, "reinforcing tape"),
        (Self::AntiTearStrip, "anti-tear strip"),
        (Self::InspectionRing, "inspection ring"),
        (Self::Doily, "doily"),
        (Self::DrainHole, "drain hole"),
        (Self::DrainPatch, "drain patch"),
        (Self::Repair, "repair"),
    ];
}

impl Words for Surface {
    const ALL: &'static [(Self, &'static str)] = &[
        (Self::Empennage, "empennage"),
        (Self::ControlSurface, "control surface"),
        (Self::Wing, "wing"),
        (Self::Fuselage, "fuselage"),
    ];
}

impl Words for MeasuredTo {
    const ALL: &'static [(Self, &'static str)] =
        &[(Self::TubeOutside, "tube outside"), (Self::TubeCentre, "tube centre")];
}

impl Words for Sides {
    const ALL: &'static [(Self, &'static str)] = &[(Self::Both, "both"), (Self::One, "one")];
}

impl Words for Wrap {
    const ALL: &'static [(Self, &'static str)] = &[(Self::Shared, "shared"), (Self::FirstSide, "first side")];
}

impl Words for MemberClass {
    const ALL: &'static [(Self, &'static str)] = &[
        (Self::LeadingEdge, "leading edge"),
        (Self::TrailingEdge, "trailing edge"),
        (Self::TipBow, "tip bow"),
        (Self::ButtRib, "butt rib"),
        (Self::Rib, "rib"),
        (Self::NoseSheet, "nose sheet"),
        (Self::Spar, "spar"),
        (Self::Longeron, "longeron"),
        (Self::CrossTube, "cross tube"),
        (Self::Diagonal, "diagonal"),
        (Self::Stringer, "stringer"),
        (Self::Former, "former"),
    ];
}

impl Words for Attachment {
    const ALL: &'static [(Self, &'static str)] = &[
        (Self::Lacing, "lacing"),
        (Self::Screws, "screws"),
        (Self::Rivets, "rivets"),
        (Self::Clips, "clips"),
        (Self::None, "none"),
    ];
}

impl Words for RepairKind {
    const ALL: &'static [(Self, &'static str)] = &[
        (Self::DopedPatch, "doped patch"),
        (Self::CementedPatch, "cemented patch"),
        (Self::SewnPatch, "sewn patch"),
        (Self::SewnTear, "sewn tear"),
    ];
}

impl Words for RepairPlace {
    const ALL: &'static [(Self, &'static str)] = &[
        (Self::WingTop, "wing top"),
        (Self::WingBottom, "wing bottom"),
        (Self::ControlSurface, "control surface"),
        (Self::Empennage, "empennage"),
        (Self::Fuselage, "fuselage"),
    ];
}

impl Words for Side {
    const ALL: &'static [(Self, &'static str)] =
        &[(Self::Lower, "lower"), (Self::Right, "right"), (Self::Upper, "upper"), (Self::Left, "left")];
}

impl Words for RibbedCover {
    const ALL: &'static [(Self, &'static str)] =
        &[(Self::OnePiece, "one piece"), (Self::TopAndBottom, "top and bottom")];
}

impl Words for Roll {
    const ALL: &'static [(Self, &'static str)] =
        &[(Self::Spanwise, "spanwise"), (Self::Chordwise, "chordwise"), (Self::Better, "better")];
}

impl Words for Direction {
    const ALL: &'static [(Self, &'static str)] = &[
        (Self::Aft, "aft"),
        (Self::Forward, "forward"),
        (Self::Right, "right"),
        (Self::Left, "left"),
        (Self::Up, "up"),
        (Self::Down, "down"),
    ];
}

#[cfg(test)]
mod tests {
    use super::*;

    fn each_has_its_own<T: Words>() {
        let mut words = T::words();
        words.sort_unstable();
        words.dedup();
        assert_eq!(words.len(), T::ALL.len());
        assert!(T::ALL.iter().all(|(choice, word)| choice.word() == *word && !word.is_empty()));
    }

    #[test]
    fn every_choice_has_a_word_of_its_own() {
        each_has_its_own::<Method>();
        each_has_its_own::<ClothClass>();
        each_has_its_own::<RuleFigure>();
        each_has_its_own::<Location>();
        each_has_its_own::<Surface>();
        each_has_its_own::<MeasuredTo>();
        each_has_its_own::<Sides>();
        each_has_its_own::<Wrap>();
        each_has_its_own::<MemberClass>();
        each_has_its_own::<Attachment>();
        each_has_its_own::<RepairKind>();
        each_has_its_own::<RepairPlace>();
        each_has_its_own::<Side>();
        each_has_its_own::<RibbedCover>();
        each_has_its_own::<Roll>();
        each_has_its_own::<Direction>();
        each_has_its_own::<super::super::FittingKind>();
        each_has_its_own::<super::super::ControlKind>();
        each_has_its_own::<super::super::RingKind>();
        each_has_its_own::<super::super::Grommet>();
    }
}
