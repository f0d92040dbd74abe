//! What a line of the log may say.

use std::cmp::Ordering;

use jiff::civil::Date;
use serde::{Deserialize, Serialize};

use crate::plan::LaidPiece;

/// A line of the log that could be read.
#[derive(Clone, Debug, PartialEq)]
pub struct Entry {
    /// Its line in the file, from 1. Lines are never taken out, so it stays.
    pub line: usize,
    /// The day of the work.
    pub date: Date,
    /// What was done.
    pub event: Event,
}

/// What was done. Lengths in millimetres.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(tag = "event", rename_all = "snake_case")]
pub enum Event {
    /// This lay is the one that is cut from.
    Lay {
        /// The lay file as seen from the folder of the job.
        file: String,
    },
    /// Copies of a piece were cut.
    Cut {
        /// Name of the piece.
        piece: String,
        /// The copies, from 1.
        copies: Vec<u32>,
        /// The cloth that they came from, where it is known.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        cloth: Option<String>,
        /// Extent of the cut outline along and across the piece's own x axis, as the job had it that day.
        size: [f64; 2],
        /// Where each copy lay on the cloth, with its outline: what is gone from it. Empty where no lay says so.
        #[serde(default, skip_serializing_if = "Vec::is_empty")]
        laid: Vec<LaidPiece>,
    },
    /// Copies were glued or sewn onto the airframe.
    Glued {
        /// Name of the piece.
        piece: String,
        /// The copies.
        copies: Vec<u32>,
    },
    /// Copies have all that goes onto them.
    Finished {
        /// Name of the piece.
        piece: String,
        /// The copies.
        copies: Vec<u32>,
    },
    /// Copies are of no use any more and must be cut again.
    Spoiled {
        /// Name of the piece.
        piece: String,
        /// The copies.
        copies: Vec<u32>,
        /// What happened.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        why: Option<String>,
    },
    /// Tape was used.
    Tape {
        /// Which tape.
        #[serde(flatten)]
        tape: TapeKind,
        /// How much.
        length: f64,
        /// For which part.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        part: Option<String>,
    },
    /// A roll of tape was bought.
    BoughtTape {
        /// Which tape.
        #[serde(flatten)]
        tape: TapeKind,
        /// How much.
        length: f64,
    },
    /// Cloth was bought: the first length of a kind bears its name, each later one a number besides.
    Bought {
        /// The job's cloth.
        cloth: String,
        /// The name of this length.
        name: String,
        /// How long it is.
        length: f64,
    },
    /// An offcut turned up that the job does not know.
    Found {
        /// Its name.
        name: String,
        /// The job's cloth that it is of.
        of: String,
        /// Its corners: x along the warp, y across, both from zero.
        outline: Vec<[f64; 2]>,
    },
    /// Cloth was thrown away or given away.
    Gone {
        /// Name of the cloth.
        cloth: String,
        /// From its end to here; all of it where this is missing.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        up_to: Option<f64>,
    },
    /// Hours were spent.
    Hours {
        /// On which part.
        part: String,
        /// On what.
        step: Step,
        /// How many.
        hours: f64,
    },
    /// Something to remember.
    Note {
        /// The words.
        text: String,
        /// About which part.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        part: Option<String>,
    },
    /// The job calls a piece or a part otherwise than it did.
    Renamed {
        /// As the lines above have it.
        from: String,
        /// As the job has it now.
        to: String,
    },
    /// A line does not count.
    Undo {
        /// Which one.
        line: usize,
    },
}

/// A width of tape and how it is cut.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct TapeKind {
    /// How wide.
    pub width: f64,
    /// Whether it is cut on the bias.
    #[serde(default)]
    pub bias: bool,
}

impl TapeKind {
    /// Narrow before wide, straight before bias.
    pub(super) fn order(&self, other: &Self) -> Ordering {
        self.width.total_cmp(&other.width).then(self.bias.cmp(&other.bias))
    }
}

/// What hours are spent on.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Step {
    /// Laying out, marking and cutting.
    Cutting,
    /// Gluing or sewing onto the airframe.
    Gluing,
    /// Shrinking with the iron.
    Ironing,
    /// Lacing or otherwise attaching to ribs.
    Lacing,
    /// Tapes, patches, rings and drains.
    Taping,
    /// Dope, primer and paint.
    Coating,
    /// Anything else.
    Other,
}

impl Step {
    /// Every step, in the order of work.
    pub const ALL: [Self; 7] =
        [Self::Cutting, Self::Gluing, Self::Ironing, Self::Lacing, Self::Taping, Self::Coating, Self::Other];

    /// Its word.
    pub fn word(self) -> &'static str {
        match self {
            Self::Cutting => "cutting",
            Self::Gluing => "gluing",
            Self::Ironing => "ironing",
            Self::Lacing => "lacing",
            Self::Taping => "taping",
            Self::Coating => "coating",
            Self::Other => "other",
        }
    }
}
