//! A simple plan where choosing exactly would take too long: a roll is opened when nothing that is open holds a run. Each
//! kind of roll is tried as the one that is opened first, and in the end each roll is exchanged for the cheapest that holds
//! what is cut from it.

use super::Ticks;
use super::fit::snuggest_roll;
use super::pour::{Joinable, Part, pour};
use super::task::Roll;

/// Kinds of rolls, and which of them are open, in the order in which they were opened.
struct Shelf<'r> {
    rolls: &'r [Roll],
    open: Vec<usize>,
    left: Vec<Ticks>,
    /// The kind that is opened rather than others; without one, the cheapest by its length.
    favourite: Option<usize>,
}

impl Shelf<'_> {
    /// Opens a roll that is at least so long; what is there already comes first.
    fn open_for(&mut self, length: Ticks) -> Option<usize> {
        let there = |kind: &usize| {
            let opened = self.open.iter().filter(|open| *open == kind).count();
            self.rolls[*kind].count.is_none_or(|count| opened < count as usize)
        };
        let by_length = |kind: &usize| match self.rolls[*kind].price {
            0.0 => -1.0,
            _ if self.favourite == Some(*kind) => 0.0,
            price => price / self.rolls[*kind].length,
        };
        let kinds = (0..self.rolls.len()).filter(|kind| self.rolls[*kind].ticks() >= length).filter(there);
        let kind = kinds.min_by(|one, other| by_length(one).total_cmp(&by_length(other)))?;
        self.open.push(kind);
        self.left.push(self.rolls[kind].ticks());
        Some(self.open.len() - 1)
    }
}

/// How many times what may be joined may lie open before it is given up.
const IN_VAIN: Ticks = 8;
/// Rolls that are opened before that is looked at.
const AT_LEAST: usize = 64;

/// Rolls as places in the kinds, and what is cut from them.
pub(super) type Cuts = (Vec<usize>, Vec<Part>);

/// Rolls, as places in `rolls`, and the parts of all runs on them: first those that are cut whole, numbered as they are
/// given, then those that may be joined. `None` where there is not enough.
pub(super) fn greedy(rolls: &[Roll], whole: &[Ticks], joinable: &[Joinable]) -> Option<Cuts> {
    let bought = (0..rolls.len()).filter(|kind| !rolls[*kind].is_free()).map(Some);
    let plans = [None].into_iter().chain(bought).filter_map(|favourite| with(rolls, whole, joinable, favourite));
    let cost = |(open, _): &Cuts| -> f64 { open.iter().map(|kind| rolls[*kind].price).sum() };
    plans.map(|plan| exchanged(rolls, plan)).min_by(|one, other| cost(one).total_cmp(&cost(other)))
}

fn with(rolls: &[Roll], whole: &[Ticks], joinable: &[Joinable], favourite: Option<usize>) -> Option<Cuts> {
    let mut shelf = Shelf { rolls, open: Vec::new(), left: Vec::new(), favourite };
    let mut parts = Vec::new();
    for (run, length) in whole.iter().enumerate() {
        let roll = match snuggest_roll(&shelf.left, *length) {
            Some(roll) => roll,
            None => shelf.open_for(*length)?,
        };
        shelf.left[roll] -= length;
        parts.push(Part { run, roll, length: *length });
    }
    let wanted: Ticks = joinable.iter().map(|run| run.length).sum();
    loop {
        if let Some(poured) = pour(joinable, &shelf.left) {
            parts.extend(poured.into_iter().map(|part| Part { run: whole.len() + part.run, ..part }));
            return Some((shelf.open, parts));
        }
        if shelf.open.len() > AT_LEAST && shelf.left.iter().sum::<Ticks>() > IN_VAIN * wanted {
            return None;
        }
        shelf.open_for(0)?;
    }
}

/// The same cuts, each roll that is bought the cheapest that holds them.
fn exchanged(rolls: &[Roll], (open, parts): Cuts) -> Cuts {
    let cheapest = |(roll, kind): (usize, &usize)| {
        let cut: Ticks = parts.iter().filter(|part| part.roll == roll).map(|part| part.length).sum();
        let holds = |other: &usize| rolls[*other].count.is_none() && rolls[*other].ticks() >= cut;
        let others = (0..rolls.len()).filter(holds).filter(|other| rolls[*other].price < rolls[*kind].price);
        let by_price = |one: &usize, other: &usize| rolls[*one].price.total_cmp(&rolls[*other].price);
        others.min_by(by_price).filter(|_| !rolls[*kind].is_free()).unwrap_or(*kind)
    };
    (open.iter().enumerate().map(cheapest).collect(), parts)
}
