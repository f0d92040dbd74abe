//! The tape plan of a lay against the runs and the rolls of its job.

use std::collections::BTreeMap;

use super::{Fault, TOLERANCE};
use crate::covering::dressing::TapeCut;
use crate::covering::{Covering, TapeRun};
use crate::job::{GrainDirection, Job, Piece, TapeWeave};
use crate::plan::{TapePiece, TapePlan, TapeRoll, is_tape_strip};

/// Widths of a run and of its tape that differ by less are the same, in millimetres.
const SAME_WIDTH: f64 = 0.5;

/// Checks that every run is cut once from tape of its width and weave or is listed as unplaced, that pieces of a run come to
/// its length and their overlaps, and that no roll is cut past its end, where the piece before it ends, or too often.
///
/// Tape may be cut from strips of cloth, which are pieces of the lay and there as often as the lay has them.
pub(super) fn check_tape(plan: &TapePlan, job: &Job, covering: &Covering, pieces: &[Piece]) -> Vec<Fault> {
    let supplies = supplies(job, pieces);
    let mut faults: Vec<String> = plan.rolls.iter().flat_map(|roll| check_roll(roll, &supplies)).collect();
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
            faults.extend(check_run(&name, run, &cut, unplaced, &supplies));
        }
    }
    faults.extend(pieces.keys().map(|name| format!("the job has no tape run {name}")));
    faults.into_iter().map(|why| Fault::Tape { why }).collect()
}

/// What tape is cut from.
struct Supply {
    length: f64,
    count: Option<u32>,
    width: f64,
    bias: bool,
    /// Whether it is a strip of cloth, which is cut as wide as a run needs it and no wider.
    strip: bool,
    /// How far two pieces of a run lie over each other.
    overlap: f64,
}

type Supplies<'j> = BTreeMap<&'j str, Supply>;

/// The tapes of the job, and the strips of cloth among the pieces where tape is cut from it, by name.
fn supplies<'j>(job: &'j Job, pieces: &'j [Piece]) -> Supplies<'j> {
    let from_cloth = job.tape_cutting.strips();
    let strips = pieces.iter().filter(|piece| is_tape_strip(piece)).map(|piece| {
        let bias = piece.grain.direction == GrainDirection::Bias;
        let lap = from_cloth.map_or(0.0, |wish| wish.seam_lap);
        let overlap = if bias { lap * std::f64::consts::SQRT_2 } else { job.tape_cutting.overlap };
        let [length, width] = piece.size;
        (piece.name.as_str(), Supply { length, count: Some(piece.quantity), width, bias, strip: true, overlap })
    });
    let tapes = job.tape.iter().map(|tape| {
        let bias = tape.weave == TapeWeave::Bias;
        let overlap = job.tape_cutting.overlap;
        let supply = Supply { length: tape.length, count: tape.count, width: tape.width, bias, strip: false, overlap };
        (tape.name.as_str(), supply)
    });
    let strips = strips.filter(|_| from_cloth.is_some());
    strips.chain(tapes).collect()
}

impl Supply {
    fn suits(&self, run: &TapeRun) -> bool {
        let wide_enough = match run.cut {
            TapeCut::Bias { least_cut, .. } if self.strip => self.width >= least_cut - TOLERANCE,
            _ => (self.width - run.sold_width()).abs() <= SAME_WIDTH,
        };
        self.bias == run.is_bias() && wide_enough
    }
}

fn check_roll(roll: &TapeRoll, supplies: &Supplies) -> Vec<String> {
    let words = roll.words();
    let Some(tape) = supplies.get(roll.tape.as_str()) else {
        return vec![format!("the job has no tape “{}”", roll.tape)];
    };
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

fn check_run(
    name: &str,
    run: &TapeRun,
    cut: &[(&TapeRoll, &TapePiece)],
    unplaced: usize,
    supplies: &Supplies,
) -> Option<String> {
    let joints = match (cut.len(), unplaced) {
        (0, 1) => return None,
        (0, 0) => return Some(format!("tape run {name} is on no roll and not listed as unplaced")),
        (_, 0) => cut.len() - 1,
        _ => return Some(format!("tape run {name} is on a roll and listed as unplaced, or listed twice")),
    };
    let from: Vec<&Supply> = cut.iter().filter_map(|(roll, _)| supplies.get(roll.tape.as_str())).collect();
    if !from.iter().all(|supply| supply.suits(run)) {
        return Some(format!("tape run {name} is cut from tape of another width or weave"));
    }
    let pieces = cut.len() as u32;
    let mut numbers: Vec<u32> = cut.iter().map(|(_, piece)| piece.piece).collect();
    numbers.sort_unstable();
    if !numbers.into_iter().eq(1..=pieces) || cut.iter().any(|(_, piece)| piece.pieces != pieces) {
        return Some(format!("the pieces of tape run {name} are not numbered from 1 to {pieces}"));
    }
    let overlap = from.first().map_or(0.0, |supply| supply.overlap);
    let wanted = run.length + joints as f64 * overlap;
    let sum: f64 = cut.iter().map(|(_, piece)| piece.length).sum();
    let off = (sum - wanted).abs();
    // Each piece is cut to a hundredth of a millimetre.
    let sound = off <= TOLERANCE * 2.0 * f64::from(pieces);
    (!sound).then(|| format!("tape run {name} is {sum:.2} mm of tape, and should be {wanted:.2} mm"))
}
