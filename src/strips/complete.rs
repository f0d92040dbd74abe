//! Runs that are cut whole, one roll filled after another: each time a run is taken, and the sets of other runs that
//! fill a roll up with it are tried, those that waste least first (Korf, "A new algorithm for optimal bin packing",
//! AAAI 2002).
//!
//! A search that went wrong early does not find out for ages. So each ends soon, and the next starts with ties broken
//! otherwise. They take turns at two ways: the longest run first, with a dislike of waste that differs each time; and
//! the run that can be completed in the fewest ways, which is what finds plans without any waste at all.

use rand_xoshiro::Xoshiro256PlusPlus;
use rand_xoshiro::rand_core::{Rng, SeedableRng};

use super::Ticks;
use super::fit::{Fit, Places, Steps};

/// Rolls that one search fills before the next starts.
const ROLLS: u32 = 150;
/// Ways to complete a run that are told apart.
const WAYS: usize = 2000;
/// Runs that are asked in how few ways they can be completed.
const ASKED: usize = 40;
/// A run that can be completed in so many ways needs no comparison with others.
const PLENTY: usize = 200;
/// The strongest dislike of waste, as a multiple of what cutting the waste from runs of this length would be.
const DISLIKE: f64 = 8.0;

/// Whether runs, longest first, fit on rolls, as far as a search finds out while its steps last.
pub(super) fn completed(runs: &[Ticks], rolls: &[Ticks], steps: &mut Steps) -> Fit {
    let mut random = Xoshiro256PlusPlus::seed_from_u64(1);
    let mut left = steps.half();
    steps.left -= left;
    let mut found = Fit::Unknown;
    for round in 0.. {
        let mut search = Search::new(runs, rolls, left);
        search.fewest_first = round % 2 == 1;
        search.dislike = DISLIKE * (random.next_u32() as f64 / f64::from(u32::MAX));
        let done = search.fill(&mut random);
        left = search.steps;
        if done {
            found = Fit::Yes(search.places(runs, rolls));
        } else if left > 0 && search.has_seen_all() {
            found = Fit::No;
        }
        if left == 0 || found != Fit::Unknown {
            break;
        }
    }
    steps.left += left;
    found
}

/// Runs of a length, or rolls of a length, of which some are waiting.
#[derive(Clone, Copy)]
struct Kind {
    length: Ticks,
    waiting: u32,
}

/// A roll and what is cut from it.
#[derive(Clone)]
struct Filled {
    /// As a place in the kinds of rolls.
    roll: usize,
    /// As places in the kinds of runs.
    cuts: Vec<usize>,
    waste: Ticks,
}

struct Search {
    runs: Vec<Kind>,
    rolls: Vec<Kind>,
    /// What may still be wasted.
    slack: Ticks,
    filled: Vec<Filled>,
    fewest_first: bool,
    dislike: f64,
    rolls_left: u32,
    steps: u64,
    /// Ways were left out because there were too many.
    cut_short: bool,
}

/// Lengths in falling order, counted.
fn kinds(mut lengths: Vec<Ticks>) -> Vec<Kind> {
    lengths.sort_by_key(|length| -length);
    let same = lengths.chunk_by(|one, next| one == next);
    same.map(|kind| Kind { length: kind[0], waiting: kind.len() as u32 }).collect()
}

impl Search {
    fn new(runs: &[Ticks], rolls: &[Ticks], steps: u64) -> Self {
        Self {
            runs: kinds(runs.to_vec()),
            rolls: kinds(rolls.to_vec()),
            slack: rolls.iter().sum::<Ticks>() - runs.iter().sum::<Ticks>(),
            filled: Vec::new(),
            fewest_first: false,
            dislike: 0.0,
            rolls_left: ROLLS.max(2 * rolls.len() as u32),
            steps,
            cut_short: false,
        }
    }

    /// Whether it ended by itself, and not at a limit.
    fn has_seen_all(&self) -> bool {
        self.rolls_left > 0 && !self.cut_short
    }

    /// Fills rolls until no run waits; whether that was possible.
    fn fill(&mut self, random: &mut Xoshiro256PlusPlus) -> bool {
        if self.runs.iter().all(|kind| kind.waiting == 0) {
            return true;
        }
        if self.rolls_left == 0 || self.steps == 0 {
            return false;
        }
        self.rolls_left -= 1;
        let ways = self.ways(random);
        for way in ways {
            if way.waste > self.slack {
                continue;
            }
            self.take(&way);
            self.filled.push(way);
            if self.fill(random) {
                return true;
            }
            if let Some(way) = self.filled.pop() {
                self.put_back(&way);
            }
            if self.rolls_left == 0 || self.steps == 0 {
                return false;
            }
        }
        false
    }

    fn take(&mut self, way: &Filled) {
        way.cuts.iter().for_each(|run| self.runs[*run].waiting -= 1);
        self.rolls[way.roll].waiting -= 1;
        self.slack -= way.waste;
    }

    fn put_back(&mut self, way: &Filled) {
        way.cuts.iter().for_each(|run| self.runs[*run].waiting += 1);
        self.rolls[way.roll].waiting += 1;
        self.slack += way.waste;
    }

    /// The ways to fill a roll with some run that must be cut anyway, the best first.
    fn ways(&mut self, random: &mut Xoshiro256PlusPlus) -> Vec<Filled> {
        let waiting: Vec<usize> = (0..self.runs.len()).filter(|run| self.runs[*run].waiting > 0).collect();
        let asked = if self.fewest_first { ASKED } else { 1 };
        let mut fewest: Option<Vec<Filled>> = None;
        for run in waiting.into_iter().take(asked) {
            let limit = fewest.as_ref().map_or(WAYS, Vec::len);
            let ways = self.completions(run, limit);
            if fewest.as_ref().is_none_or(|best| ways.len() < best.len()) {
                fewest = Some(ways);
            }
            if fewest.as_ref().is_some_and(|best| best.is_empty() || best.len() >= PLENTY) {
                break;
            }
        }
        let mut ways = fewest.unwrap_or_default();
        self.cut_short |= ways.len() >= WAYS;
        for place in (1..ways.len()).rev() {
            ways.swap(place, (random.next_u64() % (place as u64 + 1)) as usize);
        }
        if self.fewest_first {
            ways.sort_by_key(|way| (way.waste, way.cuts.len()));
        } else {
            ways.sort_by_cached_key(|way| self.dislike_of(way));
        }
        ways
    }

    /// Waste is bad, and so is leaving the long runs to the end.
    fn dislike_of(&self, way: &Filled) -> Ticks {
        let length = |run: &usize| self.runs[*run].length;
        let longest = way.cuts.first().map_or(0, length);
        let squares: f64 = way.cuts.iter().map(length).map(|length| (length as f64).powi(2)).sum();
        (self.dislike * way.waste as f64 * longest as f64 - squares) as Ticks
    }

    /// The ways to fill a roll with a run so that no further run has room on it.
    fn completions(&mut self, run: usize, limit: usize) -> Vec<Filled> {
        self.runs[run].waiting -= 1;
        let mut ways = Vec::new();
        let shortest = self.runs.iter().rev().find(|kind| kind.waiting > 0).map_or(Ticks::MAX, |kind| kind.length);
        for roll in 0..self.rolls.len() {
            if self.rolls[roll].waiting > 0 && self.rolls[roll].length >= self.runs[run].length {
                let left = self.rolls[roll].length - self.runs[run].length;
                let mut filling = Filling { roll, shortest, limit, cuts: vec![run], ways: &mut ways };
                self.complete(&mut filling, 0, left);
            }
        }
        self.runs[run].waiting += 1;
        ways
    }

    fn complete(&mut self, filling: &mut Filling, from: usize, left: Ticks) {
        self.steps = self.steps.saturating_sub(1);
        if left < filling.shortest {
            if left <= self.slack {
                filling.finish(left);
            }
            return;
        }
        let fits = self.runs.partition_point(|kind| kind.length > left);
        let mut run = from.max(fits);
        while run < self.runs.len() && filling.ways.len() < filling.limit && self.steps > 0 {
            let rest = left - self.runs[run].length;
            if rest > self.slack && rest < filling.shortest {
                // Neither full nor to be filled: on to runs that leave room for another.
                run = self.runs.partition_point(|kind| left - kind.length < filling.shortest);
                continue;
            }
            if self.runs[run].waiting > 0 {
                self.runs[run].waiting -= 1;
                filling.cuts.push(run);
                self.complete(filling, run, rest);
                filling.cuts.pop();
                self.runs[run].waiting += 1;
            }
            run += 1;
        }
        if left <= self.slack && self.runs[fits..].iter().all(|kind| kind.waiting == 0) {
            filling.finish(left);
        }
    }

    /// Of runs and rolls as they were given.
    fn places(&self, runs: &[Ticks], rolls: &[Ticks]) -> Places {
        let mut open: Vec<usize> = (0..rolls.len()).collect();
        let mut places = vec![usize::MAX; runs.len()];
        for filled in &self.filled {
            let Some(at) = open.iter().position(|roll| rolls[*roll] == self.rolls[filled.roll].length) else {
                continue;
            };
            let roll = open.remove(at);
            for cut in &filled.cuts {
                let length = self.runs[*cut].length;
                let waiting = (0..runs.len()).find(|run| runs[*run] == length && places[*run] == usize::MAX);
                waiting.into_iter().for_each(|run| places[run] = roll);
            }
        }
        places
    }
}

/// A roll that is being filled.
struct Filling<'w> {
    roll: usize,
    /// The shortest run that waits.
    shortest: Ticks,
    limit: usize,
    cuts: Vec<usize>,
    ways: &'w mut Vec<Filled>,
}

impl Filling<'_> {
    fn finish(&mut self, waste: Ticks) {
        self.ways.push(Filled { roll: self.roll, cuts: self.cuts.clone(), waste });
    }
}
