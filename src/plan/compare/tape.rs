//! Finishing tape in a comparison: rolls that are bought, or strips that are cut from the cloth and laid with the pieces.

use serde::{Deserialize, Serialize};

use super::Way;
use crate::covering::Covering;
use crate::job::TapeFromCloth;
use crate::plan::cut_tapes;

/// Where finishing tape comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum TapeSource {
    /// Rolls of tape.
    Bought,
    /// The cloth of the panels.
    Cut,
}

/// What finishing tape takes in a way.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct ComparedTape {
    /// Where it comes from.
    pub from: TapeSource,
    /// Price of the rolls that are bought; the cloth of strips is in the lay.
    pub rolls_cost: f64,
    /// Strips that are cut from cloth.
    pub strips: u32,
    /// Millimetres of edge that are cut for them.
    pub edge: f64,
    /// Hours that this takes by the job's own rate.
    pub hours: f64,
    /// Runs that are on no roll and on no strip.
    pub unplaced: usize,
}

impl Way {
    /// The same way with its finishing tape from somewhere, its money counted.
    pub fn with_tape(mut self, from: TapeSource) -> Self {
        let cloth = self.job.cloth.first().map(|cloth| cloth.name.clone()).unwrap_or_default();
        let usual = self.job.tape_cutting.from_cloth.take();
        self.job.tape_cutting.from_cloth = match from {
            TapeSource::Bought => None,
            TapeSource::Cut => Some(match usual {
                Some(own) => TapeFromCloth { cloth, in_lay: true, ..own },
                None => TapeFromCloth::laid(&cloth),
            }),
        };
        self.tape = Some(from);
        self.name.push_str(match from {
            TapeSource::Bought => ", tape bought",
            TapeSource::Cut => ", tape cut from it",
        });
        self
    }
}

/// What the tape of a way takes; `None` where its tape is left aside.
pub(super) fn compared_tape(way: &Way, covering: &Covering) -> Option<ComparedTape> {
    let from = way.tape?;
    let plan = cut_tapes(&way.job, covering);
    let strips = || plan.from_cloth.iter();
    Some(ComparedTape {
        from,
        rolls_cost: plan.cost(),
        strips: strips().map(|kind| kind.strips).sum(),
        edge: strips().map(|kind| kind.edge).sum(),
        hours: strips().map(|kind| kind.hours).sum(),
        unplaced: plan.unplaced.len(),
    })
}
