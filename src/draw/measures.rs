//! What is drawn on a sheet, and the measures that all its layers share.

use crate::job::{Cloth, Job, Piece};
use crate::plan::{ClothAccount, LaidCloth};
use crate::units::Units;

use super::frame::Frame;
use super::lettering::size_within;

/// What is drawn.
#[derive(Clone, Copy, Debug)]
pub struct LaySheet<'a> {
    /// The job.
    pub job: &'a Job,
    /// Every piece of the job.
    pub pieces: &'a [Piece],
    /// The cloth that is drawn.
    pub cloth: &'a Cloth,
    /// What lies on it.
    pub laid: &'a LaidCloth,
    /// What it costs.
    pub account: &'a ClothAccount,
}

/// Remaining cloth up to this many millimetres is drawn to its end; of a longer rest only the beginning is drawn.
const SHORT_REST: f64 = 600.0;
/// How much of a longer rest is drawn.
const DRAWN_REST: f64 = 200.0;
/// How far from a flaw the drawing may break off.
const FLAW_MARGIN: f64 = 40.0;
/// Lines of lettering that a sheet is high or long.
const LINES_ON_A_SHEET: f64 = 100.0;

/// Measures that all layers of a sheet share.
#[derive(Clone, Copy, Debug)]
pub(super) struct Measures {
    /// Where the cloth lies on the sheet.
    pub frame: Frame,
    /// Height of ordinary lettering.
    pub lettering: f64,
    /// Length of cloth that is drawn.
    pub drawn: f64,
    /// Whether the drawing stops short of the end of the cloth.
    pub broken_off: bool,
    /// Whether the pieces reach the end of a cloth of known length, so that nothing is cut off.
    pub to_the_end: bool,
    /// The unit of lengths.
    pub units: Units,
}

/// A rest shorter than this many millimetres is no cloth: the ends of a roll are rarely cut so straight, and nothing in
/// a covering is so narrow. Common practice, no source.
pub(super) const NO_REST: f64 = 10.0;

impl Measures {
    /// The measures of a sheet.
    pub fn of(sheet: &LaySheet) -> Self {
        let drawn = drawn(sheet);
        Self::at(sheet, drawn, size_within(drawn.max(sheet.laid.width) / LINES_ON_A_SHEET).max(2.5))
    }

    /// The measures for lettering of another height than a sheet has that is looked at as a whole.
    pub fn lettered(sheet: &LaySheet, lettering: f64) -> Self {
        Self::at(sheet, drawn(sheet), lettering)
    }

    fn at(sheet: &LaySheet, drawn: f64, lettering: f64) -> Self {
        let frame = Frame { left: 5.5 * lettering, top: 5.0 * lettering, width: sheet.laid.width };
        Self {
            frame,
            lettering,
            drawn,
            broken_off: rest(sheet) > SHORT_REST,
            to_the_end: rest(sheet) < NO_REST,
            units: sheet.job.units,
        }
    }
}

/// Length of cloth beyond what is used.
fn rest(sheet: &LaySheet) -> f64 {
    sheet.cloth.length.unwrap_or(f64::INFINITY) - sheet.laid.length_used
}

/// Length of cloth that is drawn.
fn drawn(sheet: &LaySheet) -> f64 {
    let there = sheet.cloth.length.unwrap_or(f64::INFINITY);
    if rest(sheet) <= SHORT_REST {
        return there;
    }
    past_flaws(sheet, sheet.laid.length_used + DRAWN_REST).min(there)
}

/// The length to draw so that no flaw lies on the line where the drawing breaks off.
fn past_flaws(sheet: &LaySheet, mut drawn: f64) -> f64 {
    let outlines = sheet.cloth.flaws.iter().filter_map(|flaw| flaw.outline.flatten().ok());
    let mut reaches: Vec<(f64, f64)> = outlines
        .map(|outline| outline.bounds())
        .map(|bounds| (bounds.min().x - FLAW_MARGIN, bounds.max().x + FLAW_MARGIN))
        .collect();
    reaches.sort_by(|one, other| one.0.total_cmp(&other.0));
    for (from, to) in reaches {
        if from < drawn {
            drawn = drawn.max(to);
        }
    }
    drawn
}
