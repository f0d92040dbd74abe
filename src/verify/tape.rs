//! The tape plan of a lay against the runs and the rolls of its job.

use std::collections::BTreeMap;

use super::{Fault, TOLERANCE};
use crate::covering::{Covering, TapeRun};
use crate::job::{Job, TapeStock, TapeWeave};
use crate::plan::{TapePiece, TapePlan, TapeRoll};

/// Widths of a run and of its tape that differ by less are the same, in millimetres.
const SAME_WIDTH: f64 = 0.5;

/// Checks that every run is cut once from tape of its width and weave or is listed as unplaced, that pieces of a run come to
/// its length and their overlaps, and that no roll is cut past its end, where the piece before it ends, or too often.
pub(super) fn check_tape(plan: &TapePlan, job: &Job, covering: &Covering) -> Vec<Fault> {
    let mut faults: Vec<String> = plan.rolls.iter().flat_map(|roll| check_roll(roll, job)).collect();
    let mut pieces: BTreeMap<&str, Vec<(&TapeRoll, &TapePiece)>> = BTreeMap::new();
    for roll in &plan.rolls {
        for piece in &roll.pieces {
            pieces.entry(&piece.run).or_default().push((roll, piece));
        }
    }
    for run in covering.parts.iter().flat_map(|part| &part.dressed.tapes) {
        for copy in 1..=run.quantity {
            let name = run.copy_name(copy);
            let unplaced = plan.unplaced.iter().filter(|one| one.run == name).count();
            let cut = pieces.remove(name.as_str()).unwrap_or_default();
            faults.extend(check_run(&name, run, &cut, unplaced, job));
        }
    }
    faults.extend(pieces.keys().map(|name| format!("the job has no tape run {name}")));
    faults.into_iter().map(|why| Fault::Tape { why }).collect()
}

fn stock<'j>(job: &'j Job, name: &str) -> Option<&'j TapeStock> {
    job.tape.iter().find(|tape| tape.name == name)
}

fn check_roll(roll: &TapeRoll, job: &Job) -> Vec<String> {
    let words = roll.words();
    let Some(tape) = stock(job, &roll.tape) else { return vec![format!("the job has no tape “{}”", roll.tape)] };
    let mut faults = Vec::new();
    if tape.count.is_some_and(|count| roll.number > count) || roll.number == 0 {
        faults.push(format!("there is no {words}"));
    }
    let mut end = 0.0;
    for piece in &roll.pieces {
        // What is no number at all follows on nothing.
        let follows = (piece.from - end).abs() <= TOLERANCE;
        if !follows {
            faults.push(format!(
                "{words}: {} begins at {} mm, and the one before it ends at {end} mm",
                piece.run, piece.from
            ));
        }
        end = piece.from + piece.length;
    }
    let on_it = end <= tape.length + TOLERANCE;
    if !on_it {
        faults.push(format!("{words} is cut at {end} mm, and is {} mm long", tape.length));
    }
    faults
}

fn check_run(name: &str, run: &TapeRun, cut: &[(&TapeRoll, &TapePiece)], unplaced: usize, job: &Job) -> Option<String> {
    let joints = match (cut.len(), unplaced) {
        (0, 1) => return None,
        (0, 0) => return Some(format!("tape run {name} is on no roll and not listed as unplaced")),
        (_, 0) => cut.len() - 1,
        _ => return Some(format!("tape run {name} is on a roll and listed as unplaced, or listed twice")),
    };
    let suits = |tape: &TapeStock| {
        (tape.weave == TapeWeave::Bias) == run.is_bias() && (tape.width - run.sold_width()).abs() <= SAME_WIDTH
    };
    if !cut.iter().filter_map(|(roll, _)| stock(job, &roll.tape)).all(suits) {
        return Some(format!("tape run {name} is cut from tape of another width or weave"));
    }
    let pieces = cut.len() as u32;
    let mut numbers: Vec<u32> = cut.iter().map(|(_, piece)| piece.piece).collect();
    numbers.sort_unstable();
    if !numbers.into_iter().eq(1..=pieces) || cut.iter().any(|(_, piece)| piece.pieces != pieces) {
        return Some(format!("the pieces of tape run {name} are not numbered from 1 to {pieces}"));
    }
    let wanted = run.length + joints as f64 * job.tape_cutting.overlap;
    let sum: f64 = cut.iter().map(|(_, piece)| piece.length).sum();
    let off = (sum - wanted).abs();
    // Each piece is cut to a hundredth of a millimetre.
    let sound = off <= TOLERANCE * 2.0 * f64::from(pieces);
    (!sound).then(|| format!("tape run {name} is {sum:.2} mm of tape, and should be {wanted:.2} mm"))
}
