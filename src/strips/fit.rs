//! Whether runs that are cut whole fit on given rolls, and how to leave what is left in as long a piece as possible.

use super::Ticks;
use super::fill::fullest;

/// Steps of one search that a unit of effort pays for.
const STEPS: u64 = 100_000;
/// Searches that may end without an answer before a simple plan is taken.
const SEARCHES: u64 = 20;

/// Steps that the simple ways are worth for each run and roll.
const SIMPLE: u64 = 100;

/// On which roll each run is; both as places in what was given.
pub(super) type Places = Vec<usize>;

/// What a search found.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Fit {
    /// They fit like this.
    Yes(Places),
    /// They do not fit, which every possibility was looked at for.
    No,
    /// The search ended before it knew.
    Unknown,
}

/// What searches may still take.
#[derive(Clone, Copy, Debug)]
pub(super) struct Steps {
    each: u64,
    /// For all searches together.
    pub left: u64,
}

impl Steps {
    /// Half of what is left: what one long search may take, so that there is always something left for the next.
    pub fn half(&self) -> u64 {
        self.left / 2
    }

    /// What some effort pays for.
    pub fn new(effort: u64) -> Self {
        let each = effort.saturating_mul(STEPS);
        Self { each, left: each.saturating_mul(SEARCHES) }
    }
}

/// Whether runs, longest first, fit on rolls.
pub(super) fn fit(runs: &[Ticks], rolls: &[Ticks], steps: &mut Steps) -> Fit {
    let slack = rolls.iter().sum::<Ticks>() - runs.iter().sum::<Ticks>();
    if slack < 0 || runs.first() > rolls.iter().max() {
        return Fit::No;
    }
    steps.left = steps.left.saturating_sub(SIMPLE * (runs.len() * rolls.len()) as u64);
    if let Some(places) = snuggest(runs, rolls).or_else(|| one_after_another(runs, rolls, &shortest_first(rolls))) {
        return Fit::Yes(places);
    }
    let allowed = steps.each.min(steps.left);
    let mut search = Search { runs, left: rolls.to_vec(), places: Vec::new(), dead: 0, slack, steps: allowed };
    let found = search.from(0);
    steps.left -= allowed - search.steps;
    match found {
        Some(true) => Fit::Yes(search.places),
        Some(false) => Fit::No,
        None => Fit::Unknown,
    }
}

/// The roll with so much left that has least left, the first of equals; `None` where none has so much.
pub(super) fn snuggest_roll(left: &[Ticks], length: Ticks) -> Option<usize> {
    (0..left.len()).filter(|roll| left[*roll] >= length).min_by_key(|roll| (left[*roll], *roll))
}

/// Each run where it leaves least.
fn snuggest(runs: &[Ticks], rolls: &[Ticks]) -> Option<Places> {
    let mut left = rolls.to_vec();
    let mut place = |run: &Ticks| {
        let roll = snuggest_roll(&left, *run)?;
        left[roll] -= run;
        Some(roll)
    };
    runs.iter().map(&mut place).collect()
}

fn shortest_first(rolls: &[Ticks]) -> Vec<usize> {
    let mut order: Vec<usize> = (0..rolls.len()).collect();
    order.sort_by_key(|roll| rolls[*roll]);
    order
}

/// One roll after the other as full as it can be.
fn one_after_another(runs: &[Ticks], rolls: &[Ticks], order: &[usize]) -> Option<Places> {
    let mut places = vec![usize::MAX; runs.len()];
    let mut waiting: Vec<usize> = (0..runs.len()).collect();
    for roll in order {
        let lengths: Vec<Ticks> = waiting.iter().map(|run| runs[*run]).collect();
        for place in fullest(&lengths, rolls[*roll]).into_iter().rev() {
            places[waiting.remove(place)] = *roll;
        }
    }
    waiting.is_empty().then_some(places)
}

/// Rearranges runs that fit so that what is left over on rolls that are cut is in as long a piece as possible.
///
/// Each kind of roll is tried as the one that takes the rest, the others before it as full as they can be.
pub(super) fn gathered(runs: &[Ticks], rolls: &[Ticks], found: Places) -> Places {
    let longest = |places: &Places| {
        let mut left = rolls.to_vec();
        let mut cut = vec![false; rolls.len()];
        for (run, roll) in places.iter().enumerate() {
            left[*roll] -= runs[run];
            cut[*roll] = true;
        }
        left.iter().zip(&cut).filter(|(_, cut)| **cut).map(|(left, _)| *left).max().unwrap_or(0)
    };
    let mut tried: Vec<Ticks> = Vec::new();
    let mut best = (longest(&found), found);
    for rest in 0..rolls.len() {
        if tried.contains(&rolls[rest]) {
            continue;
        }
        tried.push(rolls[rest]);
        let mut order = shortest_first(rolls);
        order.retain(|roll| *roll != rest);
        order.push(rest);
        if let Some(places) = one_after_another(runs, rolls, &order) {
            let left = longest(&places);
            if left > best.0 {
                best = (left, places);
            }
        }
    }
    best.1
}

/// Every way to put runs on rolls, but for those that differ by a swap of equals.
struct Search<'r> {
    runs: &'r [Ticks],
    left: Vec<Ticks>,
    places: Places,
    /// What is left on rolls on which no further run fits.
    dead: Ticks,
    slack: Ticks,
    steps: u64,
}

impl Search<'_> {
    /// Puts the runs from a place on; `None` where the steps ended.
    fn from(&mut self, place: usize) -> Option<bool> {
        let Some(&run) = self.runs.get(place) else { return Some(true) };
        if self.steps == 0 {
            return None;
        }
        self.steps -= 1;
        // Of equal runs the later one is never on an earlier roll, and of rolls with the same left only the first is tried.
        let first = match place.checked_sub(1) {
            Some(before) if self.runs[before] == run => self.places[before],
            _ => 0,
        };
        let mut rolls: Vec<usize> = (first..self.left.len()).filter(|roll| self.left[*roll] >= run).collect();
        rolls.sort_by_key(|roll| (self.left[*roll], *roll));
        rolls.dedup_by_key(|roll| self.left[*roll]);
        let shortest = self.runs[self.runs.len() - 1];
        for roll in rolls {
            self.left[roll] -= run;
            let dead = if self.left[roll] < shortest { self.left[roll] } else { 0 };
            self.dead += dead;
            if self.dead <= self.slack {
                self.places.push(roll);
                if self.from(place + 1)? {
                    return Some(true);
                }
                self.places.pop();
            }
            self.dead -= dead;
            self.left[roll] += run;
        }
        Some(false)
    }
}
