//! How things stand once every line of the log has been read.

use std::collections::{BTreeMap, BTreeSet};
use std::fmt;

use jiff::civil::Date;

use super::{Oddity, Step, TapeKind};
use crate::plan::LaidPiece;
use crate::shape::TOLERANCE;

/// How things stand. Names are those of the job as far as the log knows: what was renamed has its new name.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Standing {
    /// The copies of each piece that were ever cut.
    pub pieces: BTreeMap<String, BTreeMap<u32, Copy>>,
    /// Everything that was cut out of cloth, spoiled or not, in the order of the log.
    pub cuts: Vec<CutCopy>,
    /// Lengths that were bought, by the name of the job's cloth: names and lengths in the order of the log.
    pub bought: BTreeMap<String, Vec<(String, f64)>>,
    /// Lengths whose purchase was undone and that were not bought again, with the line of the purchase.
    pub never_bought: BTreeMap<String, usize>,
    /// Offcuts that turned up, in the order of the log.
    pub found: Vec<FoundCloth>,
    /// Cloths that are gone altogether.
    pub gone: BTreeSet<String>,
    /// Cloths of which the beginning is gone, and up to where.
    pub gone_up_to: BTreeMap<String, f64>,
    /// Tape, the narrowest first.
    pub tape: Vec<TapeStanding>,
    /// Hours by part and step.
    pub hours: BTreeMap<(String, Step), f64>,
    /// What was noted.
    pub notes: Vec<Noted>,
    /// The lay that is cut from, as seen from the folder of the job.
    pub lay: Option<String>,
    /// Lines that make no sense after those above them, with their numbers; they do not count.
    pub oddities: Vec<(usize, Oddity)>,
}

/// How far a copy of a piece is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Stage {
    /// Not there, or spoiled.
    ToCut,
    /// Cut.
    Cut,
    /// On the airframe.
    Glued,
    /// With all that goes onto it.
    Finished,
}

/// A copy of a piece that was ever cut.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Copy {
    /// How far it is.
    pub stage: Stage,
    /// How often it was spoiled.
    pub spoiled: u32,
    /// The size that it was cut to the last time.
    pub size: [f64; 2],
}

/// A piece that was cut out of cloth.
#[derive(Clone, Debug, PartialEq)]
pub struct CutCopy {
    /// Its line in the log.
    pub line: usize,
    /// Name of the piece.
    pub piece: String,
    /// Which copy.
    pub copy: u32,
    /// The cloth, where it is known.
    pub cloth: Option<String>,
    /// Where it lay, where that is known.
    pub laid: Option<LaidPiece>,
}

/// An offcut that the job does not know.
#[derive(Clone, Debug, PartialEq)]
pub struct FoundCloth {
    /// Its name.
    pub name: String,
    /// The job's cloth that it is of.
    pub of: String,
    /// Its corners.
    pub outline: Vec<[f64; 2]>,
}

/// Tape of one kind. Lengths in millimetres.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TapeStanding {
    /// Which tape.
    pub tape: TapeKind,
    /// How much was bought.
    pub bought: f64,
    /// How much was used.
    pub used: f64,
}

/// Something to remember.
#[derive(Clone, Debug, PartialEq)]
pub struct Noted {
    /// Its line in the log.
    pub line: usize,
    /// The day.
    pub date: Date,
    /// The words.
    pub text: String,
    /// About which part.
    pub part: Option<String>,
}

impl fmt::Display for Stage {
    fn fmt(&self, formatter: &mut fmt::Formatter) -> fmt::Result {
        formatter.write_str(match self {
            Self::ToCut => "to cut",
            Self::Cut => "cut",
            Self::Glued => "glued",
            Self::Finished => "finished",
        })
    }
}

impl Standing {
    /// How far a copy of a piece is.
    pub fn stage(&self, piece: &str, copy: u32) -> Stage {
        self.pieces.get(piece).and_then(|copies| copies.get(&copy)).map_or(Stage::ToCut, |copy| copy.stage)
    }

    /// How many copies of a piece have come at least so far.
    pub fn come_to(&self, piece: &str, stage: Stage) -> usize {
        self.pieces.get(piece).map_or(0, |copies| copies.values().filter(|copy| copy.stage >= stage).count())
    }

    /// Up to where a cloth is gone, in millimetres, where a piece would begin before that.
    pub fn gone_there(&self, cloth: &str, laid: &LaidPiece) -> Option<f64> {
        self.gone_up_to.get(cloth).copied().filter(|up_to| laid.span(0)[0] < up_to - TOLERANCE)
    }

    /// Whether the log made a cloth of this name.
    pub fn has_cloth(&self, name: &str) -> bool {
        let bought = self.bought.values().flatten().any(|(bought, _)| bought == name);
        bought || self.found.iter().any(|found| found.name == name)
    }
}
