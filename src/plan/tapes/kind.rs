//! Kinds of tape, and the runs of each.

use std::collections::BTreeMap;

use crate::covering::{Covering, TapeOrder, TapeRun};
use crate::job::{Job, TapeJoins, TapeStock, TapeWeave};
use crate::strips::Joint;
use crate::units::Units;

/// Widths this close are one: 2 in is also sold as 51 mm, and 50 mm is less than the rules ask for.
const SAME_WIDTH: f64 = 0.5;

/// What one tape serves.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TapeKind {
    /// Width as it is sold, in millimetres.
    pub width: f64,
    /// Which way its threads run.
    pub weave: TapeWeave,
    /// Whether its edges are pinked.
    pub pinked: bool,
}

/// The runs of a kind, in the order of their numbers, and the part of each.
#[derive(Clone, Debug, PartialEq)]
pub struct KindRuns<'c> {
    /// The kind.
    pub kind: TapeKind,
    /// Name of the part, and the run.
    pub runs: Vec<(&'c str, &'c TapeRun)>,
}

impl TapeKind {
    /// `50.8 mm straight, pinked`.
    pub fn words(&self, units: Units) -> String {
        let weave = match self.weave {
            TapeWeave::Straight => "straight",
            TapeWeave::Bias => "bias",
        };
        let edge = if self.pinked { "pinked" } else { "plain" };
        format!("{} {weave}, {edge}", units.show(self.width))
    }

    /// Whether a tape is of this kind.
    pub fn suits(&self, tape: &TapeStock) -> bool {
        self.suits_but_edge(tape) && self.pinked == tape.pinked
    }

    fn suits_but_edge(&self, tape: &TapeStock) -> bool {
        self.weave == tape.weave && (self.width - tape.width).abs() <= SAME_WIDTH
    }

    /// How far a tape is from this kind: another weave counts most, then width, then the edge.
    pub(super) fn distance(&self, tape: &TapeStock) -> f64 {
        let weave = if self.weave == tape.weave { 0.0 } else { 1e6 };
        let edge = if self.pinked == tape.pinked { 0.0 } else { 0.1 };
        weave + (self.width - tape.width).abs() + edge
    }
}

/// The runs of a covering, a group for each kind: straight before bias, narrow before wide.
pub fn tape_kinds<'c>(job: &Job, covering: &'c Covering) -> Vec<KindRuns<'c>> {
    let mut kinds: BTreeMap<(TapeWeave, i64), KindRuns> = BTreeMap::new();
    for part in &covering.parts {
        for run in &part.dressed.tapes {
            let kind = kind_of(job, run);
            // Hundredths of a millimetre: rules give widths in quarters of an inch.
            let key = (kind.weave, libm::round(kind.width * 100.0) as i64);
            let group = kinds.entry(key).or_insert_with(|| KindRuns { kind, runs: Vec::new() });
            group.runs.push((&part.name, run));
        }
    }
    kinds.into_values().collect()
}

fn kind_of(job: &Job, run: &TapeRun) -> TapeKind {
    let weave = if run.is_bias() { TapeWeave::Bias } else { TapeWeave::Straight };
    let kind = TapeKind { width: run.sold_width(), weave, pinked: true };
    let pinked = job.tape_cutting.pinked.unwrap_or_else(|| {
        let mut suiting = job.tape.iter().filter(|tape| kind.suits_but_edge(tape)).peekable();
        suiting.peek().is_none() || suiting.any(|tape| tape.pinked)
    });
    TapeKind { pinked, ..kind }
}

/// How a run may be joined; `None` where it is cut whole.
pub(super) fn joint(job: &Job, run: &TapeRun) -> Option<Joint> {
    let straight = !run.is_bias() && run.order != TapeOrder::TipBow;
    let may_be = match job.tape_cutting.joins {
        TapeJoins::AlongSpan => run.joined,
        TapeJoins::Never => false,
        TapeJoins::Everywhere => straight,
    };
    may_be.then_some(Joint { overlap: job.tape_cutting.overlap, shortest: job.tape_cutting.shortest })
}
