//! Rolls of finishing tape, and how tape is cut.

use crate::units::inches;

use super::Spot;

/// A kind of roll that there is or that can be bought.
#[derive(Clone, Debug, PartialEq)]
pub struct TapeStock {
    /// Unique among the tapes.
    pub name: String,
    /// Width as it is sold, tooth tip to tooth tip where it is pinked, in millimetres.
    pub width: f64,
    /// Which way its threads run.
    pub weave: TapeWeave,
    /// Whether its edges are pinked.
    pub pinked: bool,
    /// Length of a roll, in millimetres.
    pub length: f64,
    /// Price of a roll, in the job's money; `None` for rolls that are there already.
    pub price: Option<f64>,
    /// Grams that a roll weighs.
    pub mass: Option<f64>,
    /// How many there are at most; `None` for as many as are needed.
    pub count: Option<u32>,
    /// What the person noted about it.
    pub note: Option<String>,
    /// Where it is written.
    pub at: Spot,
}

/// Which way the threads of a tape run.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum TapeWeave {
    /// The warp along the tape.
    Straight,
    /// Threads at 45° to the tape.
    Bias,
}

/// Which runs may be joined from pieces.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum TapeJoins {
    /// Straight runs along the span or along the fuselage, as the rules have it.
    AlongSpan,
    /// None.
    Never,
    /// Every straight run, rib tapes too.
    Everywhere,
}

/// How tape is cut. Lengths in millimetres.
#[derive(Clone, Debug, PartialEq)]
pub struct TapeCutting {
    /// Which runs may be joined from pieces. Bias tape never is: it is laid in one pull.
    pub joins: TapeJoins,
    /// How far two pieces lie over each other.
    pub overlap: f64,
    /// Length of the shortest piece of a run that is joined.
    pub shortest: f64,
    /// Whether tapes have pinked edges; `None` for whichever edge the stock has, pinked before plain.
    pub pinked: Option<bool>,
    /// How tape may be cut from the roll of cloth; `None` where it may not.
    pub from_cloth: Option<TapeFromCloth>,
}

/// Tape cut from the cloth of the panels.
#[derive(Clone, Debug, PartialEq)]
pub struct TapeFromCloth {
    /// Name of the cloth.
    pub cloth: String,
    /// Millimetres of edge that are marked and cut in an hour.
    pub edge_an_hour: f64,
    /// Lap of a seam between two pieces of bias tape, in millimetres.
    pub seam_lap: f64,
    /// Whether it is cut so, its strips laid with the other pieces; otherwise it is only worked out what that would take.
    pub in_lay: bool,
}

impl TapeCutting {
    /// How tape is cut from the cloth of the panels, where it is: its strips are pieces of the lay.
    pub fn strips(&self) -> Option<&TapeFromCloth> {
        self.from_cloth.as_ref().filter(|wish| wish.in_lay)
    }
}

impl TapeFromCloth {
    /// What the name of a piece begins with that is a strip for tape; no other piece is called so.
    pub const STRIP: &str = "tape strip ";

    /// Edge that is marked and cut in an hour, about a foot and a half a minute with shears. Common practice, no source.
    pub const EDGE_AN_HOUR: f64 = 25_000.0;
    /// Lap of a seam in bias tape. Common practice, no source.
    pub const SEAM_LAP: f64 = inches(0.5);

    /// Cut from a cloth as one usually does, its strips laid with the other pieces.
    pub fn laid(cloth: &str) -> Self {
        Self { cloth: cloth.to_owned(), edge_an_hour: Self::EDGE_AN_HOUR, seam_lap: Self::SEAM_LAP, in_lay: true }
    }
}

/// What is taken where the job says nothing: runs along the span may be joined (approved covering manual p. 45); for the lap
/// of tape on tape no least figure was found, two inches is from memory; a piece shorter than half a metre is not worth a
/// joint, common practice, no source.
impl Default for TapeCutting {
    fn default() -> Self {
        Self { joins: TapeJoins::AlongSpan, overlap: inches(2.0), shortest: 500.0, pinked: None, from_cloth: None }
    }
}
