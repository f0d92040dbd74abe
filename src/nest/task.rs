//! What the engine is asked and what it answers.

use std::time::Duration;

use thiserror::Error;

use crate::shape::{Outline, Pose};

/// Cloth that pieces may be laid on: a roll, a bolt or an offcut.
///
/// x runs along the roll from its end, y across it from the lower edge of the full width.
#[derive(Clone, Debug, PartialEq)]
pub struct Cloth {
    /// The lowest and highest y that a piece may reach, in millimetres.
    pub usable: [f64; 2],
    /// Length in millimetres; `None` for as much as is needed.
    pub length: Option<f64>,
    /// The region that may be used, where it is not a rectangle; `usable` and `length` still hold.
    pub region: Option<Outline>,
    /// Areas that no piece may touch.
    pub flaws: Vec<Outline>,
    /// How many such cloths there are.
    pub count: u32,
    /// Price of a millimetre of length; zero for cloth that is already on the shelf. Cheaper cloth per usable area is
    /// filled first.
    pub price: f64,
    /// Whether pieces may be laid face down on it.
    pub faces_alike: bool,
}

/// The turns that the grain allows.
#[derive(Clone, Debug, PartialEq)]
pub enum Turns {
    /// These angles in degrees, each give or take `tilt` degrees.
    These {
        /// Degrees, counter-clockwise.
        angles: Vec<f64>,
        /// Degrees either way.
        tilt: f64,
    },
    /// Any angle.
    Any,
}

/// An outline to be cut, and how often.
#[derive(Clone, Debug, PartialEq)]
pub struct Piece {
    /// The cut outline in the piece's own coordinates.
    pub outline: Outline,
    /// How many copies.
    pub quantity: u32,
    /// The turns that the grain allows.
    pub turns: Turns,
    /// Whether it may be laid face down where the cloth's faces are alike.
    pub flip: bool,
    /// Indices of the cloths that it may be cut from; `None` for all.
    pub cloths: Option<Vec<usize>>,
}

/// Everything that the engine needs to know.
#[derive(Clone, Debug, PartialEq)]
pub struct Task {
    /// The cloths, in the order of the job.
    pub cloths: Vec<Cloth>,
    /// The pieces, in the order of the job.
    pub pieces: Vec<Piece>,
    /// Free distance between cut lines, in millimetres; zero lets pieces touch.
    pub gap: f64,
}

/// How hard to look.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Budget {
    /// Seed of every random choice.
    pub seed: u64,
    /// Work to spend, in units that do not depend on the machine; the same effort gives the same lay.
    pub effort: u64,
    /// Stop early, with the best lay so far.
    pub time: Option<Duration>,
}

/// One copy of a piece on cloth.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Placed {
    /// Index into [`Task::pieces`].
    pub piece: usize,
    /// Copy number, from 1.
    pub copy: u32,
    /// Where it lies.
    pub pose: Pose,
}

/// One cloth with what lies on it.
#[derive(Clone, Debug, PartialEq)]
pub struct ClothLay {
    /// Index into [`Task::cloths`].
    pub cloth: usize,
    /// Which of its copies, from 1.
    pub number: u32,
    /// The pieces, by piece and copy.
    pub placed: Vec<Placed>,
    /// The greatest x that a piece reaches.
    pub length_used: f64,
}

/// A copy for which no place was found.
#[derive(Clone, Debug, PartialEq)]
pub struct Unplaced {
    /// Index into [`Task::pieces`].
    pub piece: usize,
    /// Copy number, from 1.
    pub copy: u32,
    /// Why, in words for the person.
    pub why: String,
}

/// Why the search ended.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Ending {
    /// The effort was spent.
    EffortSpent,
    /// The time was up.
    TimeUp,
    /// Somebody interrupted it.
    Interrupted,
}

/// The answer.
#[derive(Clone, Debug, PartialEq)]
pub struct Lay {
    /// Every cloth that something lies on, in the order in which they were filled.
    pub cloths: Vec<ClothLay>,
    /// What found no place.
    pub unplaced: Vec<Unplaced>,
    /// Why the search ended.
    pub ending: Ending,
    /// Work that was done, in trials: places looked at, and what other work takes in their stead.
    pub trials: u64,
}

/// How far the search has come.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Progress {
    /// Share of the budget that is spent, 0 to 1.
    pub spent: f64,
    /// Length used on the cloth at work, in millimetres; `None` before the first lay.
    pub length: Option<f64>,
    /// Density of that lay, 0 to 1.
    pub density: Option<f64>,
}

/// Somebody who watches the search and may end it.
pub trait Watch: Sync {
    /// Asked often; `true` ends the search with the best lay so far.
    fn interrupted(&self) -> bool {
        false
    }
    /// Told now and then.
    fn report(&self, _progress: Progress) {}
}

/// Watches nothing.
impl Watch for () {}

/// Why a task cannot be worked on.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum TaskFault {
    /// There is no cloth.
    #[error("there is no cloth to lay pieces on")]
    NoCloth,
    /// A cloth has no usable width or length.
    #[error("cloth {cloth} has no usable area")]
    EmptyCloth {
        /// Index into [`Task::cloths`].
        cloth: usize,
    },
    /// A piece may be turned to no angle.
    #[error("piece {piece} has no allowed turn")]
    NoTurn {
        /// Index into [`Task::pieces`].
        piece: usize,
    },
    /// A piece cannot be given half the gap all round.
    #[error("piece {piece} cannot keep so large a gap")]
    Growth {
        /// Index into [`Task::pieces`].
        piece: usize,
    },
    /// The gap is negative or not a number.
    #[error("the gap must be zero or more, and finite")]
    Gap,
}

impl Task {
    /// Whether the task makes sense.
    pub(super) fn check(&self) -> Result<(), TaskFault> {
        if self.cloths.is_empty() {
            return Err(TaskFault::NoCloth);
        }
        if !(self.gap >= 0.0 && self.gap.is_finite()) {
            return Err(TaskFault::Gap);
        }
        let has_area = |cloth: &Cloth| {
            let width = cloth.usable[1] - cloth.usable[0];
            width > 0.0 && width.is_finite() && cloth.length.is_none_or(|length| length > 0.0 && length.is_finite())
        };
        if let Some(cloth) = self.cloths.iter().position(|cloth| !has_area(cloth)) {
            return Err(TaskFault::EmptyCloth { cloth });
        }
        let may_lie = |piece: &Piece| match &piece.turns {
            Turns::Any => true,
            Turns::These { angles, tilt } => {
                !angles.is_empty() && angles.iter().all(|a| a.is_finite()) && *tilt >= 0.0 && tilt.is_finite()
            }
        };
        match self.pieces.iter().position(|piece| !may_lie(piece)) {
            Some(piece) => Err(TaskFault::NoTurn { piece }),
            None => Ok(()),
        }
    }
}
