//! What is to be cut, and from what.

use thiserror::Error;

use super::pour::Joinable;
use super::{TICKS, Ticks};

/// A kind of roll.
#[derive(Clone, Debug, PartialEq)]
pub struct Roll {
    /// In millimetres.
    pub length: f64,
    /// Price of one, in any money; 0 for rolls that are there already.
    pub price: f64,
    /// How many there are; `None` for as many as are needed.
    pub count: Option<u32>,
}

/// Runs of one length.
#[derive(Clone, Debug, PartialEq)]
pub struct Run {
    /// In millimetres.
    pub length: f64,
    /// How many.
    pub count: u32,
    /// How it may be joined from pieces; `None` where it must be cut whole.
    pub joint: Option<Joint>,
}

impl Run {
    /// The run in ticks, where it may be joined.
    pub(super) fn joinable(&self) -> Option<Joinable> {
        let ticks = |joint: Joint| Joinable {
            length: ticks_wanted(self.length),
            overlap: ticks_wanted(joint.overlap),
            shortest: ticks_wanted(joint.shortest),
        };
        self.joint.map(ticks)
    }

    /// Whether it can be cut from rolls that are no longer than this, in millimetres: whole, or from pieces that are not
    /// shorter than they may be.
    pub fn comes_out_of(&self, longest: f64) -> bool {
        let longest = ticks_there(longest);
        self.joinable().map_or(ticks_wanted(self.length) <= longest, |joinable| joinable.comes_out(longest))
    }
}

/// How a run may be joined.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Joint {
    /// What two pieces lie over each other, in millimetres.
    pub overlap: f64,
    /// Length of the shortest piece, its overlaps included, in millimetres; more than the overlap.
    pub shortest: f64,
}

/// Runs that are to be cut from rolls of the same tape.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Task {
    /// The kinds of rolls.
    pub rolls: Vec<Roll>,
    /// The runs.
    pub runs: Vec<Run>,
}

/// A task that makes no sense. Places count from 0.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum TaskFault {
    /// A length that is not above zero and below a thousand kilometres.
    #[error("{what} {index} has a length of {length} mm; it must be above zero")]
    Length {
        /// `roll` or `run`.
        what: &'static str,
        /// Which one.
        index: usize,
        /// Its length.
        length: f64,
    },
    /// A price below zero, or one of nothing for rolls without end.
    #[error(
        "roll {index} has a price of {price}; it must be above zero, or 0 for a counted number of rolls that are there"
    )]
    Price {
        /// Which roll.
        index: usize,
        /// Its price.
        price: f64,
    },
    /// A joint whose shortest piece is not longer than its overlap.
    #[error(
        "run {index} may be joined from pieces of {shortest} mm, which must be more than the overlap of {overlap} mm"
    )]
    Joint {
        /// Which run.
        index: usize,
        /// Its shortest piece.
        shortest: f64,
        /// Its overlap.
        overlap: f64,
    },
}

/// Longer than any tape, and far below what ticks can count.
const LONGEST: f64 = 1e9;

impl Task {
    /// # Errors
    /// [`TaskFault`] names the first thing that is wrong.
    pub(super) fn check(&self) -> Result<(), TaskFault> {
        let sound = |length: f64| length > 0.0 && length < LONGEST;
        for (index, roll) in self.rolls.iter().enumerate() {
            if !sound(roll.length) {
                return Err(TaskFault::Length { what: "roll", index, length: roll.length });
            }
            let free = roll.price == 0.0 && roll.count.is_some();
            if !(free || roll.price > 0.0 && roll.price.is_finite()) {
                return Err(TaskFault::Price { index, price: roll.price });
            }
        }
        for (index, run) in self.runs.iter().enumerate() {
            if !sound(run.length) {
                return Err(TaskFault::Length { what: "run", index, length: run.length });
            }
            if let Some(Joint { overlap, shortest }) = run.joint
                && !(overlap >= 0.0 && shortest > overlap && shortest < LONGEST)
            {
                return Err(TaskFault::Joint { index, shortest, overlap });
            }
        }
        Ok(())
    }
}

impl Roll {
    /// Its length.
    pub(super) fn ticks(&self) -> Ticks {
        ticks_there(self.length)
    }

    /// Whether it is there already.
    pub(super) fn is_free(&self) -> bool {
        self.price == 0.0
    }
}

/// What a length in ticks may be off by rounding.
const NEARLY: f64 = 1e-4;

/// Never more than there is.
fn ticks_there(length: f64) -> Ticks {
    (length * TICKS + NEARLY).floor() as Ticks
}

/// Never less than is wanted.
pub(super) fn ticks_wanted(length: f64) -> Ticks {
    (length * TICKS - NEARLY).ceil().max(1.0) as Ticks
}
