//! Runs on rolls by diving: the linear programme is solved, its surest pattern is cut, and what is left is solved anew.
//!
//! Rounding once leaves a rest that no search gets through where nearly every roll must be cut to its end. Solved again
//! after every cut, the programme keeps what is left possible (Wäscher and Gau, "Heuristics for the integer one-dimensional
//! cutting stock problem", OR Spektrum 18, 1996).

use super::Ticks;
use super::bound::{Demand, Pattern, Source, mixture};
use super::fit::{Fit, Places, Steps, fit};

/// So many dives are tried, each with another first cut.
const DIVES: usize = 2;
/// So few runs are left to the search.
const FEW: usize = 24;
/// Steps of a search that solving the programme once is worth, for each run.
const SOLVING: u64 = 200;

/// Whether runs, longest first, fit on rolls when one is cut after the other by the linear programme.
///
/// Never says [`Fit::No`]: other cuts might do.
pub(super) fn dived(runs: &[Ticks], rolls: &[Ticks], steps: &mut Steps) -> Fit {
    for first in 0..DIVES {
        match dive(runs, rolls, first, steps) {
            Some(places) => return Fit::Yes(places),
            None if steps.left == 0 => break,
            None => {}
        }
    }
    Fit::Unknown
}

/// One dive, its first cut the pattern at this place among those of the mixture.
fn dive(runs: &[Ticks], rolls: &[Ticks], first: usize, steps: &mut Steps) -> Option<Places> {
    let mut cutting = Cutting { runs, rolls, places: vec![None; runs.len()], open: (0..rolls.len()).collect() };
    let mut skipped = first;
    loop {
        let rest = cutting.rest();
        if rest.len() <= FEW {
            return cutting.finished(&rest, steps);
        }
        steps.left = steps.left.saturating_sub(SOLVING * rest.len() as u64);
        let mixed = mixture(&cutting.demands(&rest), &cutting.sources());
        if steps.left == 0 || mixed.is_empty() {
            return None;
        }
        let whole: Vec<&Pattern> =
            mixed.iter().filter(|(_, times)| *times > 1.0 - 1e-6).map(|(pattern, _)| pattern).collect();
        let chosen = match whole.is_empty() || skipped > 0 {
            true => vec![&mixed[skipped.min(mixed.len() - 1)].0],
            false => whole,
        };
        skipped = 0;
        for pattern in chosen {
            cutting.cut(pattern)?;
        }
    }
}

/// Rolls that are being cut.
struct Cutting<'t> {
    runs: &'t [Ticks],
    rolls: &'t [Ticks],
    places: Vec<Option<usize>>,
    open: Vec<usize>,
}

impl Cutting<'_> {
    /// Runs without a place, longest first.
    fn rest(&self) -> Vec<usize> {
        (0..self.runs.len()).filter(|run| self.places[*run].is_none()).collect()
    }

    fn demands(&self, rest: &[usize]) -> Vec<Demand> {
        let same = rest.chunk_by(|one, next| self.runs[*one] == self.runs[*next]);
        same.map(|runs| Demand { length: self.runs[runs[0]], count: runs.len() as u32 }).collect()
    }

    /// The kinds of rolls that are still there. All are paid for: the shorter ones are the cheaper use.
    fn sources(&self) -> Vec<Source> {
        let mut lengths: Vec<Ticks> = self.open.iter().map(|roll| self.rolls[*roll]).collect();
        lengths.sort_unstable();
        lengths.dedup();
        lengths.into_iter().map(|length| Source { length, price: length as f64 }).collect()
    }

    /// Cuts a pattern from an open roll; `None` where there is none of that length.
    fn cut(&mut self, pattern: &Pattern) -> Option<()> {
        let at = self.open.iter().position(|roll| self.rolls[*roll] == pattern.roll)?;
        let roll = self.open.remove(at);
        for length in &pattern.cuts {
            let waiting = (0..self.runs.len()).find(|run| self.runs[*run] == *length && self.places[*run].is_none());
            if let Some(run) = waiting {
                self.places[run] = Some(roll);
            }
        }
        Some(())
    }

    /// The few runs that are left, by search.
    fn finished(mut self, rest: &[usize], steps: &mut Steps) -> Option<Places> {
        let lengths: Vec<Ticks> = rest.iter().map(|run| self.runs[*run]).collect();
        let left: Vec<Ticks> = self.open.iter().map(|roll| self.rolls[*roll]).collect();
        let Fit::Yes(found) = fit(&lengths, &left, steps) else { return None };
        for (run, place) in rest.iter().zip(found) {
            self.places[*run] = Some(self.open[place]);
        }
        self.places.into_iter().collect()
    }
}
