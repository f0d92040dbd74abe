//! Tape cut from the roll of cloth in place of bought rolls, as a calculation: cloth, edge to cut, hours.
//!
//! Straight tape is cut along the warp: strips side by side across the usable width, off a length of cloth that all runs of
//! the kind fit on. Bias tape is cut as strips at 45° across the whole width, half as wide again as it is wanted (AC
//! 43.13-1B 2-13c; approved covering manual p. 42), which are sewn together by seams along the warp where a run is longer.
//! What the strips leave of the cloth is not counted as saved.

use std::f64::consts::SQRT_2;

use serde::{Deserialize, Serialize};

use super::kind::{KindRuns, joint, tape_kinds};
use crate::covering::dressing::TapeCut;
use crate::covering::{Covering, TapeRun};
use crate::job::{Cloth, Job, TapeFromCloth, TapeWeave};
use crate::plan::record::{COORDINATE_STEP, round};
use crate::strips::{self, Joint, Roll, Run, Task};

/// Cloth is cut off to this many millimetres.
const STEP: f64 = 10.0;
/// What the search may take.
const EFFORT: u64 = 1;

/// A kind of tape as it would be cut from cloth.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ClothTape {
    /// The kind of tape that it stands for.
    pub kind: String,
    /// Width that is cut.
    pub width: f64,
    /// How many strips.
    pub strips: u32,
    /// Length of a strip that can be used.
    pub strip: f64,
    /// Seams in bias strips, and joints in straight ones.
    pub joins: u32,
    /// Length of cloth that it takes over its full width.
    pub cloth: f64,
    /// Its price; `None` where the cloth has none.
    pub cost: Option<f64>,
    /// Edge that is cut, each cut between two strips once.
    pub edge: f64,
    /// Hours of marking and cutting.
    pub hours: f64,
    /// What the rolls of this kind cost that it saves.
    pub saves: f64,
}

/// Strips, side by side.
struct Strips {
    count: u32,
    length: f64,
    joins: u32,
    cloth: f64,
    edge: f64,
}

/// Each kind of tape as it would be cut from cloth; none where the job does not permit it. `saves` is what the rolls of each
/// kind cost, in the order of kinds. A kind that cannot be cut from the cloth, since a run is too long, is left out.
pub(super) fn tape_from_cloth(job: &Job, covering: &Covering, saves: &[f64]) -> Vec<ClothTape> {
    let Some(wish) = &job.tape_cutting.from_cloth else { return Vec::new() };
    let Some(cloth) = job.cloth.iter().find(|cloth| cloth.name == wish.cloth) else { return Vec::new() };
    let kinds = tape_kinds(job, covering);
    let one = |(kind, saves): (&KindRuns, &f64)| {
        let (width, strips) = match kind.kind.weave {
            TapeWeave::Straight => (kind.kind.width, straight(job, kind, cloth)?),
            TapeWeave::Bias => {
                let width = bias_width(kind);
                (width, bias(kind, cloth, wish, width)?)
            }
        };
        Some(ClothTape {
            kind: kind.kind.words(job.units),
            width: written(width),
            strips: strips.count,
            strip: written(strips.length),
            joins: strips.joins,
            cloth: written(strips.cloth),
            cost: cloth.price.map(|price| written(price * strips.cloth / 1000.0)),
            edge: written(strips.edge),
            hours: written(strips.edge / wish.edge_an_hour),
            saves: written(*saves),
        })
    };
    kinds.iter().zip(saves).filter_map(one).collect()
}

fn usable(cloth: &Cloth) -> f64 {
    let [low, high] = cloth.usable();
    high - low
}

fn asked(run: &TapeRun, joint: Option<Joint>) -> Run {
    Run { length: run.length, count: run.quantity, joint }
}

/// The shortest length of cloth whose strips hold all runs.
fn straight(job: &Job, kind: &KindRuns, cloth: &Cloth) -> Option<Strips> {
    let lanes = libm::floor(usable(cloth) / kind.kind.width + 1e-9) as u32;
    let runs: Vec<Run> = kind.runs.iter().map(|(_, run)| asked(run, joint(job, run))).collect();
    let most = cloth.length.unwrap_or(crate::job::limits::LENGTH);
    let cut = |length: f64| {
        let rolls = vec![Roll { length, price: 1.0, count: Some(lanes) }];
        let plan = strips::cut(&Task { rolls, runs: runs.clone() }, EFFORT).ok()?;
        plan.unplaced.is_empty().then_some(plan)
    };
    if lanes == 0 {
        return None;
    }
    let sum: f64 = runs.iter().map(|run| run.length * f64::from(run.count)).sum();
    let longest = runs.iter().filter(|run| run.joint.is_none()).map(|run| run.length).fold(0.0, f64::max);
    let steps = |length: f64| libm::ceil(length / STEP - 1e-9) as u64;
    // Between what they come to side by side and what no run is longer than, the least is found by halving.
    let mut low = steps((sum / f64::from(lanes)).max(longest)).max(1);
    let mut high = steps((sum / f64::from(lanes)) * 2.0 + longest + STEP).min(libm::floor(most / STEP) as u64);
    cut(high as f64 * STEP)?;
    while low < high {
        let middle = low.midpoint(high);
        if cut(middle as f64 * STEP).is_some() {
            high = middle;
        } else {
            low = middle + 1;
        }
    }
    let length = high as f64 * STEP;
    let plan = cut(length)?;
    let count = plan.rolls.len() as u32;
    let edge = f64::from(count + 1) * length;
    Some(Strips { count, length, joins: plan.joints(), cloth: length, edge })
}

/// Half as wide again as the widest run of the kind is when it is finished.
fn bias_width(kind: &KindRuns) -> f64 {
    let least = |(_, run): &(&str, &TapeRun)| match run.cut {
        TapeCut::Bias { least_cut, .. } => least_cut,
        TapeCut::Straight | TapeCut::ReliefCuts { .. } => run.width,
    };
    kind.runs.iter().map(least).fold(0.0, f64::max)
}

/// The fewest strips at 45° that hold all runs. Both ends of a strip are slanted: a run with square ends loses half of the
/// width at each. A seam lies along the warp, so its lap counts √2 times along the strip.
fn bias(kind: &KindRuns, cloth: &Cloth, wish: &TapeFromCloth, width: f64) -> Option<Strips> {
    let across = usable(cloth) * SQRT_2;
    let length = across - width;
    if length <= width {
        return None;
    }
    let overlap = wish.seam_lap * SQRT_2;
    let joint = Joint { overlap, shortest: (overlap + width).min(length) };
    let runs = kind.runs.iter().map(|(_, run)| asked(run, Some(joint))).collect();
    let rolls = vec![Roll { length, price: 1.0, count: None }];
    let plan = strips::cut(&Task { rolls, runs }, EFFORT).ok()?;
    let count = plan.rolls.len() as u32;
    // Along the warp each strip takes √2 of its width, and the slant of the first takes the width of the cloth once.
    let needed = f64::from(count) * width * SQRT_2 + usable(cloth);
    let edge = f64::from(count + 1) * across;
    let enough = plan.unplaced.is_empty() && cloth.length.is_none_or(|there| needed <= there);
    enough.then(|| Strips { count, length, joins: plan.joints(), cloth: needed, edge })
}

/// Lengths, money and hours as they are written.
fn written(value: f64) -> f64 {
    round(value, COORDINATE_STEP)
}
