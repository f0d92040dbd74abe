//! What is done, what is left and how long it will take, part by part.

use std::collections::BTreeMap;

use serde::Serialize;

use super::{CountedPiece, Stage, Standing, Step, TapeKind, stock};
use crate::covering::Covering;
use crate::job::Job;

/// How things stand, to be shown. Lengths in millimetres, areas in square millimetres.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Status {
    /// The parts, in the order of the job; those that only the log knows come last.
    pub parts: Vec<PartRow>,
    /// The steps that took hours or will.
    pub hours: Vec<HourRow>,
    /// The cloths that are there or were.
    pub cloths: Vec<ClothRow>,
    /// Tape by kind.
    pub tape: Vec<TapeRow>,
}

/// A part.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
pub struct PartRow {
    /// Its name.
    pub part: String,
    /// Copies of pieces that the job asks for.
    pub pieces: usize,
    /// Of these, how many are cut, glued or not.
    pub cut: usize,
    /// How many are glued, finished or not.
    pub glued: usize,
    /// How many are finished.
    pub finished: usize,
    /// How many are still to be cut.
    pub left: usize,
    /// How often something was spoiled.
    pub spoiled: u32,
    /// Hours so far.
    pub hours: f64,
    /// Hours to go, as far as the pace of steps is known.
    pub hours_to_go: Option<f64>,
}

/// A step of the work.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct HourRow {
    /// The step.
    pub step: Step,
    /// Hours so far.
    pub hours: f64,
    /// Hours for a metre of edge; `None` where nothing has come so far yet.
    pub hours_per_metre: Option<f64>,
    /// Hours to go at that pace.
    pub hours_to_go: Option<f64>,
}

/// A cloth.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct ClothRow {
    /// Its name.
    pub cloth: String,
    /// How long it was; `None` for as long as needed, where none was bought yet.
    pub length: Option<f64>,
    /// Pieces cut from it, spoiled ones among them.
    pub cut: usize,
    /// Of these, those of which nobody knows where they lay.
    pub cut_anywhere: usize,
    /// The farthest that it was cut or thrown away.
    pub used_up_to: f64,
    /// What is left of its length beyond that.
    pub left: Option<f64>,
    /// Whether it is gone.
    pub gone: bool,
}

/// A kind of tape.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct TapeRow {
    /// Its width and cut.
    #[serde(flatten)]
    pub tape: TapeKind,
    /// What the job asks for.
    pub asked: f64,
    /// What was used.
    pub used: f64,
    /// What was bought.
    pub bought: f64,
    /// What is left on the rolls: bought and not used.
    pub left: f64,
    /// What must still be bought for what the job asks: zero where there is enough.
    pub to_buy: f64,
}

/// How things stand with a job.
pub fn status(job: &Job, covering: &Covering, pieces: &[CountedPiece], standing: &Standing) -> Status {
    let hours: Vec<HourRow> = Step::ALL.iter().filter_map(|step| hour_row(*step, pieces, standing)).collect();
    let mut parts: Vec<PartRow> = Vec::new();
    for counted in pieces {
        let place = row_of(&mut parts, &counted.part);
        add_piece(&mut parts[place], counted, standing);
    }
    for ((part, _), spent) in &standing.hours {
        let place = row_of(&mut parts, part);
        parts[place].hours += spent;
    }
    for row in &mut parts {
        row.hours_to_go = to_go(&row.part, &hours, pieces, standing);
    }
    let stock = stock(job, standing);
    let cloths = stock.iter().map(|cloth| {
        let used_up_to = cloth.used_up_to();
        let length = cloth.length.filter(|_| !cloth.to_buy);
        ClothRow {
            cloth: cloth.name.clone(),
            length,
            cut: cloth.cuts.len(),
            cut_anywhere: cloth.cut_anywhere(),
            used_up_to,
            left: length.map(|length| if cloth.gone { 0.0 } else { (length - used_up_to).max(0.0) }),
            gone: cloth.gone,
        }
    });
    Status { cloths: cloths.collect(), tape: tape_rows(job, covering, standing), parts, hours }
}

fn row_of(parts: &mut Vec<PartRow>, part: &str) -> usize {
    parts.iter().position(|row| row.part == part).unwrap_or_else(|| {
        parts.push(PartRow { part: part.to_owned(), ..PartRow::default() });
        parts.len() - 1
    })
}

fn add_piece(row: &mut PartRow, counted: &CountedPiece, standing: &Standing) {
    let stages = (1..=counted.piece.quantity).map(|copy| standing.stage(&counted.piece.name, copy));
    for stage in stages {
        row.pieces += 1;
        row.cut += usize::from(stage >= Stage::Cut);
        row.glued += usize::from(stage >= Stage::Glued);
        row.finished += usize::from(stage >= Stage::Finished);
        row.left += usize::from(stage == Stage::ToCut);
    }
    let copies = standing.pieces.get(&counted.piece.name).into_iter().flat_map(BTreeMap::values);
    row.spoiled += copies.map(|copy| copy.spoiled).sum::<u32>();
}

/// The stage that a piece has come to once a step is done on it; `None` for what cannot be counted.
fn done_by(step: Step) -> Option<Stage> {
    match step {
        Step::Cutting => Some(Stage::Cut),
        Step::Gluing | Step::Ironing => Some(Stage::Glued),
        Step::Lacing | Step::Taping | Step::Coating => Some(Stage::Finished),
        Step::Other => None,
    }
}

/// Metres of edge of the pieces that have come to a stage, and of those that have not. Scissors, brush and iron go along
/// edges, so a metre of edge takes about as long on a panel as on a patch.
fn edges<'p>(pieces: impl Iterator<Item = &'p CountedPiece>, stage: Stage, standing: &Standing) -> [f64; 2] {
    let mut metres = [0.0, 0.0];
    for counted in pieces {
        let edge = counted.piece.cut.perimeter() / 1000.0;
        for copy in 1..=counted.piece.quantity {
            let side = usize::from(standing.stage(&counted.piece.name, copy) < stage);
            metres[side] += edge;
        }
    }
    metres
}

fn hour_row(step: Step, pieces: &[CountedPiece], standing: &Standing) -> Option<HourRow> {
    let spent = standing.hours.iter().filter(|((_, of), _)| *of == step);
    let hours: f64 = spent.map(|(_, hours)| hours).sum();
    if hours <= 0.0 {
        return None;
    }
    let edges = done_by(step).map(|stage| edges(pieces.iter(), stage, standing));
    let pace = edges.filter(|[done, _]| *done > 0.0).map(|[done, _]| hours / done);
    let hours_to_go = pace.zip(edges).map(|(pace, [_, left])| pace * left);
    Some(HourRow { step, hours, hours_per_metre: pace, hours_to_go })
}

fn to_go(part: &str, hours: &[HourRow], pieces: &[CountedPiece], standing: &Standing) -> Option<f64> {
    let of_part = || pieces.iter().filter(|counted| counted.part == part);
    of_part().next()?;
    let steps = hours.iter().filter_map(|row| {
        let [_, left] = edges(of_part(), done_by(row.step)?, standing);
        Some(row.hours_per_metre? * left)
    });
    let steps: Vec<f64> = steps.collect();
    (!steps.is_empty()).then(|| steps.iter().sum())
}

fn tape_rows(job: &Job, covering: &Covering, standing: &Standing) -> Vec<TapeRow> {
    let mut rows: Vec<TapeRow> = Vec::new();
    let mut add = |tape: TapeKind, [asked, used, bought]: [f64; 3]| {
        let place = rows.iter().position(|row| row.tape == tape).unwrap_or_else(|| {
            rows.push(TapeRow { tape, asked: 0.0, used: 0.0, bought: 0.0, left: 0.0, to_buy: 0.0 });
            rows.len() - 1
        });
        let row = &mut rows[place];
        row.asked += asked;
        row.used += used;
        row.bought += bought;
    };
    for run in covering.parts.iter().flat_map(|part| &part.dressed.tapes) {
        let tape = TapeKind { width: run.sold_width(), bias: run.is_bias() };
        add(tape, [run.length * f64::from(run.quantity), 0.0, 0.0]);
    }
    for tape in &standing.tape {
        add(tape.tape, [0.0, tape.used, tape.bought]);
    }
    for row in &mut rows {
        row.left = (row.bought - row.used).max(0.0);
        row.to_buy = ((row.asked - row.used).max(0.0) - row.left).max(0.0);
    }
    // Where tape is cut from cloth, its strips are pieces, and their cloth is counted with that of the others.
    if job.cuts_tape_from_cloth() {
        rows.iter_mut().for_each(|row| row.to_buy = 0.0);
    }
    rows.sort_by(|one, other| one.tape.order(&other.tape));
    rows
}
