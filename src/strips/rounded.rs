//! Runs on rolls after the patterns of a linear programme: whole rolls of each pattern first, what is left by search.

use super::Ticks;
use super::bound::Pattern;
use super::fit::{Fit, Steps, fit};

/// Whether runs, longest first, fit on rolls when as many rolls as possible are cut by patterns.
///
/// Never says [`Fit::No`]: other patterns might do.
pub(super) fn rounded(runs: &[Ticks], rolls: &[Ticks], patterns: &[Pattern], steps: &mut Steps) -> Fit {
    let mut places = vec![None; runs.len()];
    let mut open: Vec<usize> = (0..rolls.len()).collect();
    for pattern in patterns {
        let Some(at) = open.iter().position(|roll| rolls[*roll] == pattern.roll) else { continue };
        let roll = open.remove(at);
        for length in &pattern.cuts {
            let waiting = (0..runs.len()).find(|run| runs[*run] == *length && places[*run].is_none());
            // What all patterns together have too much of is not cut.
            if let Some(run) = waiting {
                places[run] = Some(roll);
            }
        }
    }
    let rest: Vec<usize> = (0..runs.len()).filter(|run| places[*run].is_none()).collect();
    let lengths: Vec<Ticks> = rest.iter().map(|run| runs[*run]).collect();
    let left: Vec<Ticks> = open.iter().map(|roll| rolls[*roll]).collect();
    let Fit::Yes(found) = fit(&lengths, &left, steps) else { return Fit::Unknown };
    for (run, place) in rest.iter().zip(found) {
        places[*run] = Some(open[place]);
    }
    Fit::Yes(places.into_iter().flatten().collect())
}
