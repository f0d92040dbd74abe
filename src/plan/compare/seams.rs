//! What the seams take that a narrow cloth forces upon panels.

use serde::{Deserialize, Serialize};

use crate::covering::{Covering, SeamKind};
use crate::job::{Job, Rates, Words, Work};

/// Sums over the seams within all panels. Millimetres, square millimetres, grams, hours.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct SeamSums {
    /// How many.
    pub count: u32,
    /// How many of them are sewn.
    pub sewn: u32,
    /// Length of all.
    pub length: f64,
    /// Cloth that lies double.
    pub lap_area: f64,
    /// Tape over them.
    pub tape_length: f64,
    /// Mass of the cloth that lies double; `None` where the cloth has no mass.
    pub mass: Option<f64>,
    /// Hours, by the job's rate or common practice.
    pub hours: f64,
}

impl SeamSums {
    /// The seams of a covering.
    pub fn of(job: &Job, covering: &Covering) -> Self {
        let panels = covering.parts.iter().flat_map(|part| &part.panels);
        let seams = panels.flat_map(|panel| panel.seams.iter().map(|seam| (seam, panel.plan.quantity)));
        let mut sums = Self::default();
        for (seam, copies) in seams {
            let times = f64::from(copies);
            sums.count += copies;
            if seam.kind == SeamKind::Sewn {
                sums.sewn += copies;
            }
            sums.length += times * seam.length();
            sums.lap_area += times * seam.length() * seam.overlap;
            sums.tape_length += times * seam.tape_length();
        }
        let grams = job.cloth.first().and_then(|cloth| cloth.mass);
        sums.mass = grams.map(|grams| grams * sums.lap_area * 1e-6);
        sums.hours = sums.length / 1000.0 * hours(&job.rates, Work::Seam);
        sums
    }
}

/// Hours for a piece or a metre: the job's own rate, else common practice without a source. Together the defaults give
/// some 130 hours for a two-seat fuselage with its patches, which is what one builder's log has.
pub(super) fn hours(rates: &Rates, work: Work) -> f64 {
    rates.of(work).unwrap_or(match work {
        Work::Panel => 4.0,
        Work::Patch => 0.2,
        Work::CutEdge => 0.05,
        Work::PinkedEdge => 0.08,
        Work::GluedEdge => 0.2,
        Work::Seam => 0.5,
    })
}

/// Words for the rates that are not the person's own.
pub(super) fn defaults_used(rates: &Rates) -> Vec<String> {
    let lacking = Work::ALL.iter().filter(|(work, _)| rates.of(*work).is_none());
    lacking.map(|(work, word)| format!("{word} {}", hours(rates, *work))).collect()
}
