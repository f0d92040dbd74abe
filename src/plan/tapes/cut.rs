//! The runs of each kind cut from its rolls.

use super::from_cloth::{ClothTape, tape_from_cloth};
use super::kind::{KindRuns, joint, tape_kinds};
use super::plan::{TapeAccount, TapePiece, TapePlan, TapeRoll, UnplacedTape};
use super::written;
use crate::covering::Covering;
use crate::job::{Job, TapeFromCloth, TapeStock};
use crate::plan::record::COORDINATE_STEP;
use crate::strips::{self, CutRoll, Joint, Plan, Proof, Roll, Run, Task, Unplaced};

/// What the search may take: far more than a whole airframe needs.
const EFFORT: u64 = 10;

/// Cuts the finishing tape of a covering from the rolls of its job.
///
/// The same job gives the same plan. Runs whose kind no tape has, that are longer than every roll and may not be joined, or
/// for which there is not enough, are [`TapePlan::unplaced`], each with why.
pub fn cut_tapes(job: &Job, covering: &Covering) -> TapePlan {
    let kinds = tape_kinds(job, covering);
    let bought: Vec<TapePlan> = kinds.iter().map(|kind| Cutting::from_rolls(job, kind).plan()).collect();
    let costs: Vec<f64> = bought.iter().map(TapePlan::cost).collect();
    let from_cloth = tape_from_cloth(job, &kinds, &costs);
    let mut whole = TapePlan::default();
    for (kind, bought) in kinds.iter().zip(bought) {
        let name = kind.kind.words(job.units);
        let strips = from_cloth.iter().find(|strips| strips.kind == name);
        let plan = match job.tape_cutting.strips().zip(strips) {
            Some((wish, strips)) => Cutting::from_strips(job, kind, wish, strips).plan(),
            None => bought,
        };
        whole.kinds.extend(plan.kinds);
        whole.rolls.extend(plan.rolls);
        whole.unplaced.extend(plan.unplaced);
    }
    TapePlan { from_cloth, ..whole }
}

/// A kind of tape on its way to rolls.
struct Cutting<'a> {
    job: &'a Job,
    kind: &'a KindRuns<'a>,
    stock: Vec<Stock>,
    name: String,
    /// How each run may be joined; `None` where it is cut whole.
    joints: Vec<Option<Joint>>,
}

/// What runs are cut from: a tape of the job, or strips of cloth.
struct Stock {
    name: String,
    length: f64,
    price: f64,
    mass: Option<f64>,
    count: Option<u32>,
}

impl<'a> Cutting<'a> {
    fn from_rolls(job: &'a Job, kind: &'a KindRuns<'a>) -> Self {
        let stock = |tape: &TapeStock| Stock {
            name: tape.name.clone(),
            length: tape.length,
            price: tape.price.unwrap_or(0.0),
            mass: tape.mass,
            count: tape.count,
        };
        let stock = job.tape.iter().filter(|tape| kind.kind.suits(tape)).map(stock).collect();
        let joints = kind.runs.iter().map(|(_, run)| joint(job, run)).collect();
        Self { job, kind, stock, name: kind.kind.words(job.units), joints }
    }

    /// The cloth of strips is paid with that of the panels.
    fn from_strips(job: &'a Job, kind: &'a KindRuns<'a>, wish: &TapeFromCloth, strips: &ClothTape) -> Self {
        let stock = Stock {
            name: strips.strip_name(),
            length: strips.strip,
            price: 0.0,
            mass: None,
            count: Some(strips.strips),
        };
        let joints = vec![strips.joint(wish, kind.kind.weave); kind.runs.len()];
        Self { job, kind, stock: vec![stock], name: kind.kind.words(job.units), joints }
    }

    fn plan(&self) -> TapePlan {
        let mut plan = TapePlan::default();
        let task = self.task();
        // A job that has been read makes a sound task; should it not, nothing is placed, and it is said why.
        let (cut, fault) = match strips::cut(&task, EFFORT) {
            Ok(cut) => (cut, None),
            Err(fault) => {
                let copies = |run: usize, count: u32| (1..=count).map(move |copy| Unplaced { run, copy });
                let unplaced = task.runs.iter().enumerate().flat_map(|(run, wants)| copies(run, wants.count)).collect();
                (Plan { rolls: Vec::new(), unplaced, cost: 0.0, proof: Proof::Least }, Some(fault.to_string()))
            }
        };
        plan.kinds.push(self.account(&task, &cut));
        let mut numbers = vec![0; self.stock.len()];
        for roll in &cut.rolls {
            numbers[roll.roll] += 1;
            plan.rolls.push(self.roll(roll, numbers[roll.roll]));
        }
        plan.unplaced.extend(cut.unplaced.iter().map(|one| self.unplaced(*one, fault.as_deref())));
        plan
    }

    fn task(&self) -> Task {
        let roll = |stock: &Stock| Roll { length: stock.length, price: stock.price, count: stock.count };
        let runs = (0..self.kind.runs.len()).map(|run| self.asked(run)).collect();
        Task { rolls: self.stock.iter().map(roll).collect(), runs }
    }

    /// A run as it is asked for.
    fn asked(&self, run: usize) -> Run {
        let (_, wants) = self.kind.runs[run];
        Run { length: wants.length, count: wants.quantity, joint: self.joints[run] }
    }

    fn account(&self, task: &Task, cut: &Plan) -> TapeAccount {
        let used = |roll: &CutRoll| -> Option<f64> {
            let tape = &self.stock[roll.roll];
            Some(tape.mass? * (1.0 - roll.left / tape.length))
        };
        let mass: Option<f64> = cut.rolls.iter().map(used).sum();
        let cost = written(cut.cost);
        let kind = self.kind.kind;
        TapeAccount {
            kind: self.name.clone(),
            width: kind.width,
            bias: kind.weave == crate::job::TapeWeave::Bias,
            pinked: kind.pinked,
            runs: task.runs.iter().map(|run| run.count).sum(),
            length: written(task.runs.iter().map(|run| run.length * f64::from(run.count)).sum()),
            rolls: cut.rolls.len() as u32,
            joints: cut.joints(),
            cost,
            cost_at_least: match cut.proof {
                Proof::Least => cost,
                // Never rounded up to the cost, which would call it least.
                Proof::AtLeast(bound) => libm::floor(bound / COORDINATE_STEP) * COORDINATE_STEP,
            },
            left: written(cut.left()),
            longest_left: written(cut.longest_left()),
            mass: mass.filter(|_| !cut.rolls.is_empty()).map(written),
        }
    }

    fn roll(&self, roll: &CutRoll, number: u32) -> TapeRoll {
        let tape = &self.stock[roll.roll];
        let mut from = 0.0;
        let pieces = roll.cuts.iter().map(|cut| {
            let begins = from;
            from += cut.length;
            TapePiece {
                run: self.kind.runs[cut.run].1.copy_name(cut.copy),
                over: self.over(cut.run),
                piece: cut.piece,
                pieces: cut.pieces,
                from: written(begins),
                length: written(cut.length),
            }
        });
        TapeRoll {
            kind: self.name.clone(),
            tape: tape.name.clone(),
            number,
            length: written(tape.length),
            pieces: pieces.collect(),
            left: written(roll.left),
        }
    }

    fn over(&self, run: usize) -> String {
        let (part, run) = self.kind.runs[run];
        format!("{part}: {}", run.over)
    }

    fn unplaced(&self, one: Unplaced, fault: Option<&str>) -> UnplacedTape {
        let (_, run) = self.kind.runs[one.run];
        UnplacedTape {
            run: run.copy_name(one.copy),
            kind: self.name.clone(),
            over: self.over(one.run),
            length: written(run.length),
            why: fault.map_or_else(|| self.why(&self.asked(one.run)), str::to_owned),
        }
    }

    /// Why a run is on no roll.
    fn why(&self, run: &Run) -> String {
        let show = |length: f64| self.job.units.show(length);
        let longest = self.stock.iter().map(|tape| tape.length).fold(0.0, f64::max);
        if self.stock.is_empty() {
            let nearest = self
                .job
                .tape
                .iter()
                .min_by(|one, other| self.kind.kind.distance(one).total_cmp(&self.kind.kind.distance(other)));
            return match nearest {
                Some(tape) => format!(
                    "the job has no tape that is {}; the nearest is “{}”, {}",
                    self.name,
                    tape.name,
                    super::kind::TapeKind { width: tape.width, weave: tape.weave, pinked: tape.pinked }
                        .words(self.job.units)
                ),
                None => "the job has no \"tape\"".to_owned(),
            };
        }
        match run.joint {
            None if run.length > longest => format!(
                "it is {} long and may not be joined, and the longest roll of this kind is {}",
                show(run.length),
                show(longest)
            ),
            Some(joint) if !run.comes_out_of(longest) => format!(
                "it is {} long, and pieces of {} or more, as \"shortest\" has it, do not come out of rolls of {}",
                show(run.length),
                show(joint.shortest),
                show(longest)
            ),
            _ => self.not_enough(),
        }
    }

    fn not_enough(&self) -> String {
        let rolls: Vec<String> = self.stock.iter().map(|tape| format!("“{}”", tape.name)).collect();
        format!("there is not enough of {}: raise its \"count\", or add a tape that can be bought", rolls.join(", "))
    }
}
