//! Finishing tape onto rolls: which rolls to buy, and which runs are cut from each.
//!
//! Runs are of a kind when one tape serves them: the same width, straight or on the bias, pinked or plain. Each kind is cut
//! from the rolls of that kind that the job has, for the least cost, then the least left over, then the longest leftover.
//! A bias tape is taken by the width that it is sold in; round the curve it keeps two thirds of it (AC 43.13-1B 2-13c).

mod cut;
mod from_cloth;
mod kind;
mod plan;

use super::record::{COORDINATE_STEP, round};
pub use cut::cut_tapes;
pub use from_cloth::{ClothTape, is_tape_strip, tape_pieces};

pub use plan::{TapeAccount, TapePiece, TapePlan, TapeRoll, UnplacedTape};

/// Lengths, grams, money and hours as they are written.
fn written(value: f64) -> f64 {
    round(value, COORDINATE_STEP)
}
