//! Runs on rolls after the patterns of a linear programme: as many whole rolls as its cheapest mixture cuts by a pattern,
//! then the same again for what is left, until a search finds places for the rest (after Belov and Scheithauer, "A
//! branch-and-cut-and-price algorithm for one-dimensional stock cutting and two-dimensional two-stage cutting", European
//! Journal of Operational Research 171, 2006, who round residual problems alike).

use super::Ticks;
use super::bound::{Demand, Pattern, Source, bound};
use super::complete::completed;
use super::fit::{Fit, Steps, fit};

/// Steps of a search that a linear programme takes as long as.
const PROGRAMME: u64 = 50_000;
/// What a whole number of rolls may lack by rounding.
const WHOLE: f64 = 1e-6;

/// Runs that wait, rolls that are not cut, and where the other runs are.
struct Rest<'r> {
    runs: &'r [Ticks],
    rolls: &'r [Ticks],
    places: Vec<Option<usize>>,
    open: Vec<usize>,
}

/// Whether runs, longest first, fit on rolls when rolls are cut by patterns one after another.
///
/// Never says [`Fit::No`]: other patterns might do.
pub(super) fn rounded(runs: &[Ticks], rolls: &[Ticks], steps: &mut Steps) -> Fit {
    let mut rest = Rest { runs, rolls, places: vec![None; runs.len()], open: (0..rolls.len()).collect() };
    while steps.left >= PROGRAMME && rest.cut_by_patterns() {
        steps.left -= PROGRAMME;
        if rest.search(steps) {
            return Fit::Yes(rest.places.into_iter().flatten().collect());
        }
    }
    Fit::Unknown
}

impl Rest<'_> {
    fn waiting(&self) -> Vec<usize> {
        (0..self.runs.len()).filter(|run| self.places[*run].is_none()).collect()
    }

    /// Cuts further rolls by patterns; false where that leads nowhere.
    fn cut_by_patterns(&mut self) -> bool {
        let lengths: Vec<Ticks> = self.waiting().into_iter().map(|run| self.runs[run]).collect();
        let same = lengths.chunk_by(|one, next| one == next);
        let demands: Vec<Demand> = same.map(|runs| Demand { length: runs[0], count: runs.len() as u32 }).collect();
        let mut open: Vec<Ticks> = self.open.iter().map(|roll| self.rolls[*roll]).collect();
        open.sort_unstable();
        open.dedup();
        let sources: Vec<Source> =
            open.iter().map(|length| Source { length: *length, price: *length as f64 }).collect();
        let mut mixture = bound(&demands, &sources).mixture;
        mixture.sort_by(|one, other| other.1.total_cmp(&one.1));
        let most = mixture.first().map_or(0.0, |(_, rolls)| *rolls);
        let mut cut = false;
        for (pattern, rolls) in &mixture {
            // Where no pattern takes a whole roll, the one that is nearest to it does.
            let whole = if most + WHOLE < 1.0 && !cut { 1 } else { (rolls + WHOLE).floor() as usize };
            for _ in 0..whole {
                cut |= self.cut(pattern);
            }
        }
        cut
    }

    /// Cuts a roll by a pattern if one is open.
    fn cut(&mut self, pattern: &Pattern) -> bool {
        let Some(at) = self.open.iter().position(|roll| self.rolls[*roll] == pattern.roll) else { return false };
        let roll = self.open.remove(at);
        for length in &pattern.cuts {
            let waiting = (0..self.runs.len()).find(|run| self.runs[*run] == *length && self.places[*run].is_none());
            // What all patterns together have too much of is not cut.
            waiting.into_iter().for_each(|run| self.places[run] = Some(roll));
        }
        true
    }

    /// Places for the runs that wait on the rolls that are open.
    fn search(&mut self, steps: &mut Steps) -> bool {
        let waiting = self.waiting();
        let runs: Vec<Ticks> = waiting.iter().map(|run| self.runs[*run]).collect();
        let rolls: Vec<Ticks> = self.open.iter().map(|roll| self.rolls[*roll]).collect();
        let found = match fit(&runs, &rolls, steps) {
            Fit::Unknown => completed(&runs, &rolls, steps),
            known => known,
        };
        let Fit::Yes(found) = found else { return false };
        waiting.iter().zip(found).for_each(|(run, place)| self.places[*run] = Some(self.open[place]));
        true
    }
}
