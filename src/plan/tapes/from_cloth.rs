//! Tape cut from the roll of cloth in place of bought rolls: strips, cloth, edge to cut, hours.
//!
//! Straight tape is cut along the warp, every run whole: strips of all widths side by side, off one length of cloth.
//! Bias tape is cut as strips at 45° across the whole width, half as wide again as it is wanted (AC 43.13-1B 2-13c;
//! approved covering manual p. 42), which are sewn together by seams along the warp where a run is longer. Strips may
//! be laid with the other pieces of the job; what they leave of the cloth is not counted as saved before there is a lay.

use std::f64::consts::SQRT_2;

use serde::{Deserialize, Serialize};

use super::kind::{KindRuns, TapeKind, tape_kinds};
use super::written;
use crate::covering::dressing::TapeCut;
use crate::covering::{Covering, TapeRun};
use crate::job::{Cloth, Edge, Grain, GrainDirection, Job, Piece, Pinking, TapeFromCloth, TapeWeave, limits};
use crate::shape::Curve;
use crate::strips::{self, Joint, Roll, Run, Task};

/// Cloth is cut off to this many millimetres.
const STEP: f64 = 50.0;
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
    /// Seams between pieces of bias tape; straight runs are cut whole.
    pub joins: u32,
    /// Length of cloth that it takes: of the one length that all straight strips lie on, its share by width; for bias tape,
    /// over the full width.
    pub cloth: f64,
    /// Its price; `None` where the cloth has none.
    pub cost: Option<f64>,
    /// Edge that is cut, each cut between two strips of the kind once.
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
pub(super) fn tape_from_cloth(job: &Job, kinds: &[KindRuns], saves: &[f64]) -> Vec<ClothTape> {
    let Some(wish) = &job.tape_cutting.from_cloth else { return Vec::new() };
    let Some(cloth) = job.cloth.iter().find(|cloth| cloth.name == wish.cloth) else { return Vec::new() };
    // What is laid among other pieces keeps their gap.
    let gap = if wish.in_lay { job.gap } else { 0.0 };
    let is_straight = |kind: &KindRuns| kind.kind.weave == TapeWeave::Straight && fits(kind, cloth);
    let straight: Vec<&KindRuns> = kinds.iter().filter(|kind| is_straight(kind)).collect();
    let mut straight = straight_strips(&straight, cloth, gap).into_iter();
    let one = |(kind, saves): (&KindRuns, &f64)| {
        let (width, strips) = match kind.kind.weave {
            TapeWeave::Straight if is_straight(kind) => (kind.kind.width, straight.next()?),
            TapeWeave::Straight => return None,
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

/// How many steps of length the cloth has at most.
fn most_steps(cloth: &Cloth) -> u64 {
    (cloth.length.unwrap_or(limits::LENGTH) / STEP) as u64
}

/// Whether every run of a kind is no longer than the cloth.
fn fits(kind: &KindRuns, cloth: &Cloth) -> bool {
    let most = most_steps(cloth) as f64 * STEP;
    kind.runs.iter().all(|(_, run)| run.length <= most)
}

/// Strips of every straight kind side by side with a gap between them, off the shortest length of cloth that is wide enough
/// for all of them; each run is cut whole, and each kind has its share of the cloth. Empty where the cloth is too short.
fn straight_strips(kinds: &[&KindRuns], cloth: &Cloth, gap: f64) -> Vec<Strips> {
    let widths: Vec<f64> = kinds.iter().map(|kind| kind.kind.width).collect();
    let across =
        |counts: &[u32]| -> f64 { counts.iter().zip(&widths).map(|(count, wide)| f64::from(*count) * wide).sum() };
    let counts = |steps: u64| -> Option<Vec<u32>> {
        let counts = kinds.iter().map(|kind| strip_count(kind, steps as f64 * STEP)).collect::<Option<Vec<u32>>>()?;
        let gaps = gap * f64::from(counts.iter().sum::<u32>().saturating_sub(1));
        (across(&counts) + gaps <= usable(cloth) + 1e-9).then_some(counts)
    };
    let all = || kinds.iter().flat_map(|kind| kind.runs.iter().map(|(_, run)| (kind.kind.width, *run)));
    let area: f64 = all().map(|(width, run)| width * run.length * f64::from(run.quantity)).sum();
    let longest = all().map(|(_, run)| run.length).fold(0.0, f64::max);
    let most = most_steps(cloth);
    // No length can be shorter than the runs take side by side without any waste, nor than the longest of them.
    let mut low = (libm::ceil((area / usable(cloth)).max(longest) / STEP - 1e-9) as u64).max(1);
    let mut high = low;
    while high <= most && counts(high).is_none() {
        (low, high) = (high + 1, high + high.div_ceil(4));
    }
    while low < high {
        let middle = low.midpoint(high);
        if counts(middle).is_some() {
            high = middle;
        } else {
            low = middle + 1;
        }
    }
    let Some(counts) = counts(high).filter(|_| high <= most) else { return Vec::new() };
    let (length, all_across) = (high as f64 * STEP, across(&counts));
    let strips = |(count, width): (u32, &f64)| Strips {
        count,
        length,
        joins: 0,
        cloth: length * f64::from(count) * width / all_across,
        edge: f64::from(count + 1) * length,
    };
    counts.into_iter().zip(&widths).map(strips).collect()
}

/// How many strips of a length hold all runs of a kind, cut whole: by a simple plan, since it is asked for many lengths.
fn strip_count(kind: &KindRuns, length: f64) -> Option<u32> {
    let rolls = vec![Roll { length, price: 1.0, count: None }];
    let runs = kind.runs.iter().map(|(_, run)| asked(run, None)).collect();
    let plan = strips::cut(&Task { rolls, runs }, 0).ok()?;
    plan.unplaced.is_empty().then_some(plan.rolls.len() as u32)
}

fn asked(run: &TapeRun, joint: Option<Joint>) -> Run {
    Run { length: run.length, count: run.quantity, joint }
}

/// Half as wide again as the widest run of the kind is when it is finished.
fn bias_width(kind: &KindRuns) -> f64 {
    let least = |(_, run): &(&str, &TapeRun)| match run.cut {
        TapeCut::Bias { least_cut, .. } => least_cut,
        TapeCut::Straight | TapeCut::ReliefCuts { .. } => run.width,
    };
    kind.runs.iter().map(least).fold(0.0, f64::max)
}

/// How pieces of bias tape are sewn to one run. A seam lies along the warp, so its lap counts √2 times along the strip.
fn seam(wish: &TapeFromCloth, width: f64, strip: f64) -> Joint {
    let overlap = wish.seam_lap * SQRT_2;
    Joint { overlap, shortest: (overlap + width).min(strip) }
}

/// The fewest strips at 45° that hold all runs. Both ends of a strip are slanted: a run with square ends loses half of the
/// width at each.
fn bias(kind: &KindRuns, cloth: &Cloth, wish: &TapeFromCloth, width: f64) -> Option<Strips> {
    let across = usable(cloth) * SQRT_2;
    let length = across - width;
    if length <= width {
        return None;
    }
    let joint = seam(wish, width, length);
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

impl ClothTape {
    /// What a strip is called among the pieces and in the tape plan.
    pub(super) fn strip_name(&self) -> String {
        format!("{}{}", TapeFromCloth::STRIP, self.kind)
    }

    /// How runs are cut from strips: bias tape is sewn together, straight tape is cut whole.
    pub(super) fn joint(&self, wish: &TapeFromCloth, weave: TapeWeave) -> Option<Joint> {
        (weave == TapeWeave::Bias).then(|| seam(wish, self.width, self.strip))
    }

    /// Its strips, as pieces to lay.
    fn piece(&self, wish: &TapeFromCloth, kind: TapeKind) -> Option<Piece> {
        let outline = Curve::rect(self.strip, self.width);
        let direction = match kind.weave {
            TapeWeave::Straight => GrainDirection::Along,
            TapeWeave::Bias => GrainDirection::Bias,
        };
        Some(Piece {
            name: self.strip_name(),
            cut: outline.flatten().ok()?,
            outline,
            quantity: self.strips,
            size: [self.strip, self.width],
            edge: if kind.pinked { Edge::Pinked(Pinking::USUAL) } else { Edge::Plain },
            grain: Grain { direction, tolerance: 0.0, one_way: false },
            flip: true,
            cloth: vec![wish.cloth.clone()],
            goes: Some("finishing tape; the tape plan says which runs are cut from it".to_owned()),
            source: Some("the fewest strips that hold the runs of this kind".to_owned()),
        })
    }
}

/// Whether a piece is a strip that tape is cut from.
pub fn is_tape_strip(piece: &Piece) -> bool {
    piece.name.starts_with(TapeFromCloth::STRIP)
}

/// The strips of a job whose tape is cut from cloth, as pieces to lay; none where tape is bought.
pub fn tape_pieces(job: &Job, covering: &Covering) -> Vec<Piece> {
    let Some(wish) = job.tape_cutting.strips() else { return Vec::new() };
    let kinds = tape_kinds(job, covering);
    let strips = tape_from_cloth(job, &kinds, &vec![0.0; kinds.len()]);
    let of_kind = |tape: &ClothTape| kinds.iter().find(|kind| kind.kind.words(job.units) == tape.kind);
    strips.iter().filter_map(|tape| tape.piece(wish, of_kind(tape)?.kind)).collect()
}
