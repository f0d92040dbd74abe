//! The cheapest choice of rolls on which everything that is wanted fits, and whether none is cheaper.

use super::Ticks;
use super::bound::{Bound, Demand, Source, bound};
use super::choices::{Choice, Choices};
use super::complete::completed;
use super::fit::{Fit, Steps, fit, gathered};
use super::greedy::greedy;
use super::plan::Proof;
use super::pour::{Joinable, Part, pour};
use super::rounded::rounded;
use super::task::{Roll, Task};

/// Part of a cost within which two are the same.
const SAME_COST: f64 = 1e-9;

/// Steps of a search that a glance at one roll of a choice is worth.
const GLANCE: u64 = 10;

/// One copy of a run.
#[derive(Clone, Copy, Debug)]
pub(super) struct Copy {
    pub run: usize,
    pub copy: u32,
    pub length: Ticks,
}

/// A piece of a run on a roll.
#[derive(Clone, Copy, Debug)]
pub(super) struct Laid {
    pub copy: Copy,
    pub roll: usize,
    pub length: Ticks,
    pub piece: u32,
    pub pieces: u32,
}

/// Runs in falling order of length: those that are cut whole, and those that may be joined.
#[derive(Debug, Default)]
pub(super) struct Wanted {
    pub whole: Vec<Copy>,
    pub joinable: Vec<(Copy, Joinable)>,
}

/// Rolls, each as a place in the task's kinds, what is on them, and whether none is cheaper.
pub(super) struct Found {
    pub rolls: Vec<usize>,
    pub laid: Vec<Laid>,
    pub proof: Proof,
}

/// Rolls for everything that is wanted; `None` where there is not enough.
pub(super) fn search(task: &Task, wanted: &Wanted, effort: u64) -> Option<Found> {
    let of_kind = |which: fn(&Roll) -> bool| (0..task.rolls.len()).filter(move |kind| which(&task.rolls[*kind]));
    let there = of_kind(Roll::is_free);
    let there: Vec<usize> = there.flat_map(|kind| vec![kind; task.rolls[kind].count.unwrap_or(0) as usize]).collect();
    let bought: Vec<usize> = of_kind(|roll| !roll.is_free()).collect();
    let kinds: Vec<Roll> = bought.iter().map(|kind| task.rolls[*kind].clone()).collect();

    let need = wanted.length() - there.iter().map(|kind| task.rolls[*kind].ticks()).sum::<Ticks>();
    let with = |choice: &Choice| -> (Vec<usize>, Vec<Ticks>) {
        let rolls = there.iter().copied().chain(choice.rolls(&bought));
        rolls.map(|kind| (kind, task.rolls[kind].ticks())).unzip()
    };
    // Most often the cheapest choice that is long enough holds everything, and nobody needs to know a bound.
    if let Some(choice) = Choices::new(&kinds, need).next() {
        let (rolls, lengths) = with(&choice);
        if let Tried::Fits(laid) = lay(wanted, &lengths, &mut Steps::new(0)) {
            return Some(Found { rolls, laid, proof: Proof::Least });
        }
    }
    let is_bounded = there.is_empty() && effort > 0;
    let bound = if is_bounded { bound(&demands(wanted), &sources(&kinds)) } else { Bound::default() };
    let mut unknown: Option<f64> = None;
    let mut steps = Steps::new(effort);
    for choice in Choices::new(&kinds, need) {
        if choice.cost < bound.cost * (1.0 - SAME_COST) {
            continue;
        }
        let (rolls, lengths) = with(&choice);
        // A choice that is dismissed at a glance costs something too: there may be a great many of them.
        steps.left = steps.left.saturating_sub(GLANCE * lengths.len() as u64);
        match lay(wanted, &lengths, &mut steps) {
            Tried::Fits(laid) => {
                let least = unknown.unwrap_or(choice.cost);
                return Some(Found { rolls, laid, proof: proof(choice.cost, least) });
            }
            Tried::Never => {}
            Tried::Unknown => {
                unknown.get_or_insert(choice.cost);
            }
        }
        if steps.left == 0 {
            break;
        }
    }
    simple(task, wanted, unknown.unwrap_or(bound.cost))
}

/// How sure it is that nothing is cheaper, when nothing costs less than `least`.
fn proof(cost: f64, least: f64) -> Proof {
    if cost * (1.0 - SAME_COST) <= least { Proof::Least } else { Proof::AtLeast(least) }
}

impl Choice {
    /// Its rolls, each as a place in the task's kinds.
    fn rolls(&self, bought: &[usize]) -> Vec<usize> {
        self.counts.iter().zip(bought).flat_map(|(count, kind)| vec![*kind; *count as usize]).collect()
    }
}

impl Wanted {
    fn length(&self) -> Ticks {
        let joinable = self.joinable.iter().map(|(copy, _)| copy.length);
        self.whole.iter().map(|copy| copy.length).chain(joinable).sum()
    }
}

fn demands(wanted: &Wanted) -> Vec<Demand> {
    let same = wanted.whole.chunk_by(|one, next| one.length == next.length);
    same.map(|runs| Demand { length: runs[0].length, count: runs.len() as u32 }).collect()
}

fn sources(kinds: &[Roll]) -> Vec<Source> {
    kinds.iter().map(|roll| Source { length: roll.ticks(), price: roll.price }).collect()
}

enum Tried {
    Fits(Vec<Laid>),
    Never,
    Unknown,
}

/// Everything whole, or else what may be joined in pieces.
fn lay(wanted: &Wanted, rolls: &[Ticks], steps: &mut Steps) -> Tried {
    let mut all: Vec<Copy> = wanted.whole.iter().chain(wanted.joinable.iter().map(|(copy, _)| copy)).copied().collect();
    all.sort_by_key(|copy| (-copy.length, copy.run, copy.copy));
    let whole = lay_whole(&all, rolls, steps);
    if wanted.joinable.is_empty() || matches!(whole, Fit::Yes(_)) {
        return match whole {
            Fit::Yes(places) => Tried::Fits(laid_whole(&all, &places)),
            Fit::No => Tried::Never,
            Fit::Unknown => Tried::Unknown,
        };
    }
    match lay_whole(&wanted.whole, rolls, steps) {
        Fit::Yes(places) => lay_joined(wanted, rolls, &places),
        Fit::No => Tried::Never,
        Fit::Unknown => Tried::Unknown,
    }
}

fn lay_whole(copies: &[Copy], rolls: &[Ticks], steps: &mut Steps) -> Fit {
    let lengths: Vec<Ticks> = copies.iter().map(|copy| copy.length).collect();
    let mut found = fit(&lengths, rolls, steps);
    if found == Fit::Unknown {
        found = completed(&lengths, rolls, steps);
    }
    if found == Fit::Unknown {
        found = rounded(&lengths, rolls, steps);
    }
    match found {
        Fit::Yes(places) => Fit::Yes(gathered(&lengths, rolls, places)),
        other => other,
    }
}

/// What may be joined, into what the places of the others leave.
fn lay_joined(wanted: &Wanted, rolls: &[Ticks], places: &[usize]) -> Tried {
    let mut left = rolls.to_vec();
    places.iter().zip(&wanted.whole).for_each(|(roll, copy)| left[*roll] -= copy.length);
    let joinable: Vec<Joinable> = wanted.joinable.iter().map(|(_, joinable)| *joinable).collect();
    let Some(parts) = pour(&joinable, &left) else { return Tried::Unknown };
    let mut laid = laid_whole(&wanted.whole, places);
    laid.extend(laid_in_parts(wanted.joinable.iter().map(|(copy, _)| *copy), &parts));
    Tried::Fits(laid)
}

/// A simple plan, when nothing costs less than `least`.
fn simple(task: &Task, wanted: &Wanted, least: f64) -> Option<Found> {
    let lengths: Vec<Ticks> = wanted.whole.iter().map(|copy| copy.length).collect();
    let joinable: Vec<Joinable> = wanted.joinable.iter().map(|(_, joinable)| *joinable).collect();
    let (rolls, parts) = greedy(&task.rolls, &lengths, &joinable)?;
    let copies = wanted.whole.iter().chain(wanted.joinable.iter().map(|(copy, _)| copy));
    let laid = laid_in_parts(copies.copied(), &parts);
    let cost = rolls.iter().map(|kind| task.rolls[*kind].price).sum();
    Some(Found { rolls, laid, proof: proof(cost, least) })
}

fn laid_whole(copies: &[Copy], places: &[usize]) -> Vec<Laid> {
    let whole =
        |(copy, roll): (&Copy, &usize)| Laid { copy: *copy, roll: *roll, length: copy.length, piece: 1, pieces: 1 };
    copies.iter().zip(places).map(whole).collect()
}

/// Runs in the parts that were made of them.
fn laid_in_parts(copies: impl Iterator<Item = Copy>, parts: &[Part]) -> Vec<Laid> {
    let mut laid = Vec::new();
    for (run, copy) in copies.enumerate() {
        let parts: Vec<&Part> = parts.iter().filter(|part| part.run == run).collect();
        let pieces = parts.len() as u32;
        laid.extend(parts.into_iter().zip(1..).map(|(part, piece)| Laid {
            copy,
            roll: part.roll,
            length: part.length,
            piece,
            pieces,
        }));
    }
    laid
}
