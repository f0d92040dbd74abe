//! What the person wants to buy beyond what is worked out, what goods cost, and how fast the work goes in their own hangar.

use super::words::Words;

/// What is bought for the work.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Goods {
    /// Cloth off the roll.
    Cloth,
    /// Small pieces with a pinked edge: patches, doilies, gussets.
    Patches,
    /// Finishing tape.
    Tape,
    /// Rings round openings for inspection.
    Rings,
    /// Covers of such openings.
    Covers,
    /// Grommets of drain holes.
    Grommets,
    /// Screws, rivets, clips or laces.
    Attachments,
    /// Cord for lacing.
    LacingCord,
    /// Tape under the laces.
    ReinforcingTape,
    /// Tape against chafing over ribs.
    ChafeTape,
    /// Tape that holds ribs upright.
    RibToRibTape,
    /// Cement.
    Cement,
    /// Dope, primer, varnish, finish.
    Coats,
}

impl Words for Goods {
    const ALL: &'static [(Self, &'static str)] = &[
        (Self::Cloth, "cloth"),
        (Self::Patches, "patches"),
        (Self::Tape, "tape"),
        (Self::Rings, "rings"),
        (Self::Covers, "covers"),
        (Self::Grommets, "grommets"),
        (Self::Attachments, "attachments"),
        (Self::LacingCord, "lacing_cord"),
        (Self::ReinforcingTape, "reinforcing_tape"),
        (Self::ChafeTape, "chafe_tape"),
        (Self::RibToRibTape, "rib_to_rib_tape"),
        (Self::Cement, "cement"),
        (Self::Coats, "coats"),
    ];
}

/// Spares in per cent of what is worked out, each kind once at most; where a kind is not named, none are bought.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Spares(pub Vec<(Goods, f64)>);

impl Spares {
    /// Per cent of a kind; `None` where the job asks for none.
    pub fn of(&self, kind: Goods) -> Option<f64> {
        self.0.iter().find(|(known, percent)| *known == kind && *percent > 0.0).map(|(_, percent)| *percent)
    }
}

/// Prices of goods other than cloth and finishing tape, in the job's money: one, a metre or a litre.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Prices(pub Vec<(Goods, f64)>);

impl Prices {
    /// The price of a kind, where the job gives one.
    pub fn of(&self, kind: Goods) -> Option<f64> {
        self.0.iter().find(|(known, _)| *known == kind).map(|(_, price)| *price)
    }
}

/// Work for which the person may say how long it takes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Work {
    /// Putting a panel on: fit, hold, trim, shrink; hours a panel.
    Panel,
    /// Putting a patch or a doily on: hours a piece.
    Patch,
    /// Marking and cutting a straight edge: hours a metre.
    CutEdge,
    /// Cutting an edge with pinking shears: hours a metre.
    PinkedEdge,
    /// Gluing an edge down: hours a metre.
    GluedEdge,
    /// A seam that divides a panel, with its tape: hours a metre.
    Seam,
}

impl Words for Work {
    const ALL: &'static [(Self, &'static str)] = &[
        (Self::Panel, "panel"),
        (Self::Patch, "patch"),
        (Self::CutEdge, "cut_edge"),
        (Self::PinkedEdge, "pinked_edge"),
        (Self::GluedEdge, "glued_edge"),
        (Self::Seam, "seam"),
    ];
}

/// Hours that the person measured; where some work is not named, a default holds.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Rates(pub Vec<(Work, f64)>);

impl Rates {
    /// Hours a piece or a metre, where the job says it.
    pub fn of(&self, work: Work) -> Option<f64> {
        self.0.iter().find(|(known, _)| *known == work).map(|(_, hours)| *hours)
    }
}
