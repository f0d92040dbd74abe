//! Runs that may be joined, into what the others leave: whole where that goes, in pieces where it does not.

use super::Ticks;
use super::fit::snuggest_roll;

/// A run that may be joined.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Joinable {
    pub length: Ticks,
    pub overlap: Ticks,
    pub shortest: Ticks,
}

impl Joinable {
    /// Whether it comes out of pieces that are neither shorter than they may be nor longer than this.
    pub fn comes_out(&self, longest: Ticks) -> bool {
        if self.length <= longest {
            return true;
        }
        if longest <= self.overlap {
            return false;
        }
        // More pieces than are needed make each of them shorter only.
        let pieces = (self.length - self.overlap + longest - self.overlap - 1) / (longest - self.overlap);
        pieces * self.shortest <= self.length + (pieces - 1) * self.overlap
    }
}

/// A piece of a run on a roll.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Part {
    /// Which run, as a place in what was given.
    pub run: usize,
    pub roll: usize,
    pub length: Ticks,
}

/// Puts runs, longest first, into what is left on rolls; `None` where they find no room.
///
/// Those that are cut whole come first, each where it leaves least, then those in pieces, from the longest that is left on.
pub(super) fn pour(runs: &[Joinable], left: &[Ticks]) -> Option<Vec<Part>> {
    let mut left = left.to_vec();
    let mut parts = Vec::new();
    let mut in_pieces = Vec::new();
    for (run, joinable) in runs.iter().enumerate() {
        match snuggest_roll(&left, joinable.length) {
            Some(roll) => {
                left[roll] -= joinable.length;
                parts.push(Part { run, roll, length: joinable.length });
            }
            None => in_pieces.push(run),
        }
    }
    for run in in_pieces {
        parts.extend(pieces(run, runs[run], &mut left)?);
    }
    Some(parts)
}

fn pieces(run: usize, joinable: Joinable, left: &mut [Ticks]) -> Option<Vec<Part>> {
    let mut parts = Vec::new();
    let mut to_go = joinable.length;
    while to_go > 0 {
        let roll = (0..left.len()).max_by_key(|roll| (left[*roll], std::cmp::Reverse(*roll)))?;
        if left[roll] >= to_go {
            parts.push(Part { run, roll, length: to_go });
            left[roll] -= to_go;
            return Some(parts);
        }
        // The rest must not be shorter than a piece may be.
        let piece = left[roll].min(to_go + joinable.overlap - joinable.shortest);
        if piece < joinable.shortest {
            return None;
        }
        parts.push(Part { run, roll, length: piece });
        left[roll] -= piece;
        to_go = to_go - piece + joinable.overlap;
    }
    None
}
