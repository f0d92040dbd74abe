//! `lay.json`, the file that others may rely on.

use std::path::{Path, PathBuf};

use serde::{Deserialize, Serialize};
use thiserror::Error;

use super::{TakeOffLine, TapePlan, limits};
use crate::job::read_up_to;

/// A lay as it is written: millimetres, x along the roll, y across it from the lower edge of the full width.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct LayFile {
    /// Always 1.
    pub format: u32,
    /// The job file, relative to the lay where that is possible.
    pub job: String,
    /// Seed of the search.
    pub seed: u64,
    /// Effort of the search.
    pub effort: u64,
    /// One entry for each cloth that is cut.
    pub cloths: Vec<LaidCloth>,
    /// Pieces that found no place.
    pub unplaced: Vec<UnplacedPiece>,
    /// Finishing tape, for a job that has any.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub tape: Option<TapePlan>,
    /// Cautions that the person should read.
    pub cautions: Vec<String>,
    /// What to buy.
    #[serde(default)]
    pub take_off: Vec<TakeOffLine>,
    /// What it is the rest of, for a lay of what a log leaves.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub rest: Option<RestOf>,
}

/// What a lay of the rest started from.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct RestOf {
    /// How many lines the log beside the job had. Later ones change nothing about the lay.
    pub lines: usize,
}

/// One cloth with what lies on it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct LaidCloth {
    /// Name of the cloth in the job.
    pub cloth: String,
    /// Which of the job's cloths of this name, from 1.
    pub number: u32,
    /// Full width.
    pub width: f64,
    /// Lowest and highest usable y.
    pub usable: [f64; 2],
    /// Greatest x that a piece reaches.
    pub length_used: f64,
    /// 1 − area of the cut outlines ÷ (full width × length used).
    pub waste: f64,
    /// Area of the cut outlines ÷ (usable width × length used).
    pub density: f64,
    /// The pieces.
    pub pieces: Vec<LaidPiece>,
}

/// One copy of a piece on cloth.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct LaidPiece {
    /// Name of the piece in the job.
    pub piece: String,
    /// Copy number, from 1.
    pub copy: u32,
    /// Degrees counter-clockwise, after the flip.
    pub turn: f64,
    /// Whether it is laid face down.
    pub flipped: bool,
    /// Where the piece's own origin lands.
    pub at: [f64; 2],
    /// The cut outline as it lies on the cloth: no point repeated at the end.
    pub outline: Vec<[f64; 2]>,
    /// Its holes.
    pub holes: Vec<Vec<[f64; 2]>>,
}

/// A copy that found no place.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct UnplacedPiece {
    /// Name of the piece in the job.
    pub piece: String,
    /// Copy number, from 1.
    pub copy: u32,
    /// Why.
    pub why: String,
}

/// Why a written lay cannot be read.
#[derive(Debug, Error)]
pub enum LayReadFault {
    /// It is a folder.
    #[error("{} is a folder; name the lay.json in it", .0.display())]
    Folder(PathBuf),
    /// The system would not let it be read.
    #[error("{} cannot be read: {error}", file.display())]
    Io {
        /// The file.
        file: PathBuf,
        /// What the system said.
        error: std::io::Error,
    },
    /// It is too large to be a lay.
    #[error("{} has more than {} MB, which no lay needs; is it the right file?", .0.display(), limits::LAY_BYTES / 1024 / 1024)]
    TooLarge(PathBuf),
    /// It is no lay.
    #[error("{} is no lay file: {error}; give the lay.json that `lay` wrote", file.display())]
    NoLay {
        /// The file.
        file: PathBuf,
        /// What is wrong, with line and column.
        error: serde_json::Error,
    },
}

impl LayFile {
    /// Reads a lay from a file.
    ///
    /// # Errors
    /// [`LayReadFault`].
    pub fn read(path: &Path) -> Result<Self, LayReadFault> {
        let file = path.to_owned();
        if path.is_dir() {
            return Err(LayReadFault::Folder(file));
        }
        if path.metadata().is_ok_and(|data| data.len() > limits::LAY_BYTES) {
            return Err(LayReadFault::TooLarge(file));
        }
        match read_up_to(path, limits::LAY_BYTES) {
            Err(error) => Err(LayReadFault::Io { file, error }),
            Ok(None) => Err(LayReadFault::TooLarge(file)),
            Ok(Some(bytes)) => Self::from_json(&bytes).map_err(|error| LayReadFault::NoLay { file, error }),
        }
    }

    /// Reads a lay from its text.
    ///
    /// # Errors
    /// What is wrong with the text, with line and column. Whether the lay is sound is asked of [`crate::verify`].
    pub fn from_json(text: &[u8]) -> Result<Self, serde_json::Error> {
        serde_json::from_slice(text)
    }
}

impl LaidPiece {
    /// The least and the greatest x (axis 0) or y (axis 1) that it reaches.
    pub fn span(&self, axis: usize) -> [f64; 2] {
        let reach = self.outline.iter().map(|point| point[axis]);
        reach.fold([f64::INFINITY, f64::NEG_INFINITY], |[least, most], value| [least.min(value), most.max(value)])
    }

    /// Where its outer edge crosses a line on which x (axis 0) or y (axis 1) has a value: the other coordinate, in rising
    /// order.
    pub(super) fn crossings(&self, axis: usize, at: f64) -> Vec<f64> {
        let other = 1 - axis;
        let pairs = self.outline.iter().zip(self.outline.iter().cycle().skip(1));
        let crossed = pairs.filter(|(from, to)| (from[axis] > at) != (to[axis] > at));
        let place = |(from, to): (&[f64; 2], &[f64; 2])| {
            from[other] + (to[other] - from[other]) * (at - from[axis]) / (to[axis] - from[axis])
        };
        let mut found: Vec<f64> = crossed.map(place).collect();
        found.sort_by(f64::total_cmp);
        found
    }
}
