//! A simple plan where choosing exactly would take too long: a roll is opened when nothing that is open holds a run.

use super::Ticks;
use super::fit::snuggest_roll;
use super::pour::{Joinable, Part, pour};
use super::task::Roll;

/// Kinds of rolls, and which of them are open, in the order in which they were opened.
struct Shelf<'r> {
    rolls: &'r [Roll],
    open: Vec<usize>,
    left: Vec<Ticks>,
}

impl Shelf<'_> {
    /// Opens the cheapest roll by its length that is at least so long; what is there already comes first.
    fn open_for(&mut self, length: Ticks) -> Option<usize> {
        let there = |kind: &usize| {
            let opened = self.open.iter().filter(|open| *open == kind).count();
            self.rolls[*kind].count.is_none_or(|count| opened < count as usize)
        };
        let by_length = |kind: &usize| self.rolls[*kind].price / self.rolls[*kind].length;
        let kinds = (0..self.rolls.len()).filter(|kind| self.rolls[*kind].ticks() >= length).filter(there);
        let kind = kinds.min_by(|one, other| by_length(one).total_cmp(&by_length(other)))?;
        self.open.push(kind);
        self.left.push(self.rolls[kind].ticks());
        Some(self.open.len() - 1)
    }
}

/// Rolls, as places in `rolls`, and the parts of all runs on them: first those that are cut whole, numbered as they are
/// given, then those that may be joined. `None` where there is not enough.
pub(super) fn greedy(rolls: &[Roll], whole: &[Ticks], joinable: &[Joinable]) -> Option<(Vec<usize>, Vec<Part>)> {
    let mut shelf = Shelf { rolls, open: Vec::new(), left: Vec::new() };
    let mut parts = Vec::new();
    for (run, length) in whole.iter().enumerate() {
        let roll = match snuggest_roll(&shelf.left, *length) {
            Some(roll) => roll,
            None => shelf.open_for(*length)?,
        };
        shelf.left[roll] -= length;
        parts.push(Part { run, roll, length: *length });
    }
    loop {
        if let Some(poured) = pour(joinable, &shelf.left) {
            parts.extend(poured.into_iter().map(|part| Part { run: whole.len() + part.run, ..part }));
            return Some((shelf.open, parts));
        }
        shelf.open_for(0)?;
    }
}
