//! The same job laid several ways, so that a person sees which cloth to buy and what a change of a figure does.
//!
//! Panels and their seams are worked out anew for each way. Every way has the same effort and the same seeds; two ways
//! whose results overlap from seed to seed are a tie, for their difference is no larger than the engine's own spread.

mod layers;
mod seams;
mod tape;
mod what_if;
mod winner;

use std::sync::atomic::{AtomicUsize, Ordering};

use rayon::prelude::*;
use serde::{Deserialize, Serialize};

pub use layers::{LayerChoice, UnknownFace, layer_choices};
pub use seams::SeamSums;
use tape::compared_tape;
pub use tape::{ComparedTape, TapeSource};
pub use what_if::{WhatIfFault, what_if};
pub use winner::{Range, Verdict, Winners, winners};

use super::WorkedLay;
use super::work::lay_pieces;
use crate::job::{Cloth, Job};
use crate::nest::{Budget, Progress, Watch};
use crate::wording::counted;

/// One way to do the job.
#[derive(Clone, Debug)]
pub struct Way {
    /// What it is called.
    pub name: String,
    /// The job as it is then.
    pub job: Job,
    /// Where its finishing tape comes from; `None` leaves tape aside.
    pub tape: Option<TapeSource>,
}

/// What one lay of a way came to. Lengths in millimetres.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Run {
    /// Its seed.
    pub seed: u64,
    /// Length used, of all cloths.
    pub length_used: f64,
    /// Share of the used cloth that no piece covers.
    pub waste: f64,
    /// Length bought, in the steps in which it is sold.
    pub bought: f64,
    /// What that costs, with the tape where it is compared; `None` where a cloth has no price.
    pub cost: Option<f64>,
    /// Length that is left over.
    pub left: f64,
    /// Copies of pieces without a place.
    pub unplaced: usize,
}

/// A way with its lays.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Compared {
    /// What it is called.
    pub name: String,
    /// Full width of its widest cloth, in millimetres.
    pub width: f64,
    /// Seams within panels that the width forces.
    pub seams: SeamSums,
    /// Copies of pieces to lay.
    pub pieces: u64,
    /// Its finishing tape, where that is compared.
    pub tape: Option<ComparedTape>,
    /// One for each seed, in order.
    pub runs: Vec<Run>,
    /// Why there is no lay; then there are no runs.
    pub impossible: Option<String>,
}

/// A comparison as it is written to `compare.json`: millimetres, grams, hours.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Comparison {
    /// Always 1.
    pub format: u32,
    /// What the job is called.
    pub job: String,
    /// Effort of each lay.
    pub effort: u64,
    /// How many seeds each way had.
    pub seeds: u64,
    /// The ways.
    pub ways: Vec<Compared>,
    /// Which of them are best.
    pub winners: Winners,
    /// Patches against a second layer of cloth.
    pub layers: Vec<LayerChoice>,
}

/// A way of the job with one cloth alone: as it stands in the job, or of another width.
///
/// Pieces that name a cloth may then be cut from this one.
pub fn on_one_cloth(job: &Job, cloth: Cloth, name: String) -> Way {
    let mut job = Job { cloth: vec![cloth], ..job.clone() };
    let names = job.pieces.iter_mut().map(|piece| &mut piece.cloth);
    let parts = job.airframe.iter_mut().map(|part| &mut part.cloth);
    let repairs = job.repairs.iter_mut().map(|repair| &mut repair.cloth);
    names.chain(parts).chain(repairs).for_each(Vec::clear);
    // Strips for tape would weigh on the one cloth that the job names for them; who wants to compare them asks for it.
    if let Some(wish) = &mut job.tape_cutting.from_cloth {
        wish.in_lay = false;
    }
    Way { name, job, tape: None }
}

/// Cloth as another one, but of another width, as long as needed and without flaws; without a price of its own it costs
/// the same by area.
pub fn of_width(cloth: &Cloth, width: f64, price: Option<f64>) -> Cloth {
    Cloth {
        width,
        price: price.or(cloth.price.map(|per_metre| per_metre * width / cloth.width)),
        length: None,
        count: 1,
        outline: None,
        flaws: Vec::new(),
        ..cloth.clone()
    }
}

/// Lays each way with each seed from `first_seed` on. Ways and seeds are worked on side by side; results come in order.
///
/// `watch` is told which share of the lays is done. Where it asks for an end, every lay ends with the best so far.
pub fn compare(ways: &[Way], effort: u64, first_seed: u64, seeds: u64, watch: &dyn Watch) -> Vec<Compared> {
    let tasks: Vec<(&Way, u64)> =
        ways.iter().flat_map(|way| (0..seeds).map(move |more| (way, first_seed.wrapping_add(more)))).collect();
    let done = AtomicUsize::new(0);
    let one = EachLay { watch };
    let lay = |(way, seed): &(&Way, u64)| {
        let worked = lay_pieces(&way.job, "", &Budget { seed: *seed, effort, time: None }, &one);
        let spent = (done.fetch_add(1, Ordering::Relaxed) + 1) as f64 / tasks.len() as f64;
        watch.report(Progress { spent, length: None, density: None });
        (*seed, worked)
    };
    let laid: Vec<_> = tasks.par_iter().map(lay).collect();
    let of_way = laid.chunks(usize::try_from(seeds.max(1)).unwrap_or(usize::MAX));
    ways.iter().zip(of_way).map(|(way, laid)| compared(way, laid)).collect()
}

/// One lay among many: it ends when all are to end, and its own progress is nobody's business.
struct EachLay<'w> {
    watch: &'w dyn Watch,
}

impl Watch for EachLay<'_> {
    fn interrupted(&self) -> bool {
        self.watch.interrupted()
    }
}

fn compared(way: &Way, laid: &[(u64, Result<WorkedLay, super::PlanFault>)]) -> Compared {
    let width = way.job.cloth.iter().map(|cloth| cloth.width).fold(0.0, f64::max);
    let mut found = Compared {
        name: way.name.clone(),
        width,
        seams: SeamSums::default(),
        pieces: 0,
        tape: None,
        runs: Vec::new(),
        impossible: None,
    };
    for (seed, worked) in laid {
        match worked {
            Ok(worked) => {
                found.seams = SeamSums::of(&way.job, &worked.covering);
                found.pieces = worked.pieces.iter().map(|piece| u64::from(piece.quantity)).sum();
                found.tape = found.tape.or_else(|| compared_tape(way, &worked.covering));
                let tape_cost = found.tape.as_ref().map_or(0.0, |tape| tape.rolls_cost);
                found.runs.push(run(way, *seed, worked, tape_cost));
            }
            Err(fault) => found.impossible = Some(fault.to_string()),
        }
    }
    if let Some(run) = found.runs.iter().find(|run| run.unplaced > 0) {
        found.impossible = Some(format!("{} of {} pieces have no place on it", run.unplaced, found.pieces));
    }
    if let Some(tape) = found.tape.as_ref().filter(|tape| tape.unplaced > 0) {
        let runs = counted(tape.unplaced, "run", "runs");
        found.impossible.get_or_insert_with(|| format!("{runs} of tape fit on no roll and no strip"));
    }
    found
}

fn run(way: &Way, seed: u64, worked: &WorkedLay, tape_cost: f64) -> Run {
    let accounts = &worked.accounts;
    let totals = super::totals(&way.job, accounts);
    Run {
        seed,
        length_used: accounts.iter().map(|account| account.length_used).sum(),
        waste: totals.waste,
        bought: accounts.iter().filter_map(|account| account.purchase.length()).sum(),
        cost: totals.cost_complete.then_some(totals.cost + tape_cost),
        left: accounts.iter().map(|account| account.left).sum(),
        unplaced: worked.file.unplaced.len(),
    }
}
