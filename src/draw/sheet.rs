//! One sheet: a cloth with its lay, true to size, with all that a cutter needs to read it.

use svg::Document;
use svg::node::element::Rectangle;

use crate::job::{Cloth, Job, Piece};
use crate::plan::{ClothAccount, LaidCloth};
use crate::units::Units;

use super::frame::{Frame, number};
use super::ink::{group, style, tooltip};
use super::lettering::size_within;
use super::{blocks, cloth_layer, crosses, patterns, piece_layer, piece_marks, ruler};

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
    /// The unit of lengths.
    pub units: Units,
}

impl Measures {
    fn of(sheet: &LaySheet) -> Self {
        let used = sheet.laid.length_used;
        let there = sheet.cloth.length.unwrap_or(f64::INFINITY);
        let to_end = there - used <= SHORT_REST;
        let drawn = if to_end { there } else { past_flaws(sheet, used + DRAWN_REST).min(there) };
        let lettering = size_within(drawn.max(sheet.laid.width) / LINES_ON_A_SHEET).max(2.5);
        let frame = Frame { left: 5.5 * lettering, top: 5.0 * lettering, width: sheet.laid.width };
        Self { frame, lettering, drawn, broken_off: !to_end, units: sheet.job.units }
    }
}

/// Draws a cloth and its lay as an SVG document in true size: one user unit is one millimetre.
pub fn lay_sheet(sheet: &LaySheet) -> String {
    let measures = Measures::of(sheet);
    let marks = piece_marks::marks(sheet, &measures);
    let below = measures.frame.top + sheet.laid.width + 4.5 * measures.lettering;
    let room = measures.drawn.max(75.0 * measures.lettering);
    let beneath = blocks::beneath(sheet, &measures, &marks, (measures.frame.left, below), room);
    let margin = 2.0 * measures.lettering;
    let above = cloth_layer::over(sheet, &measures);
    let width = beneath.right.max(measures.frame.x(measures.drawn)).max(above.right) + margin;
    let height = beneath.bottom + margin;
    let document = Document::new()
        .set("width", format!("{}mm", number(width)))
        .set("height", format!("{}mm", number(height)))
        .set("viewBox", format!("0 0 {} {}", number(width), number(height)))
        .add(tooltip(&format!("{}: lay on {}", sheet.job.name, sheet.laid.cloth)))
        .add(style())
        .add(patterns::patterns(measures.lettering, narrowest_selvage(sheet.laid)))
        .add(Rectangle::new().set("fill", "#ffffff").set("width", number(width)).set("height", number(height)))
        .add(cloth_layer::cloth(sheet, &measures))
        .add(piece_layer::pieces(sheet, &measures, &marks))
        .add(crosses::crosses(sheet, &measures))
        .add(above.drawing)
        .add(group("rulers").add(ruler::along(&measures)).add(ruler::across(&measures)))
        .add(beneath.drawing);
    format!("{document}\n")
}

/// The narrower of the selvages that there are.
fn narrowest_selvage(laid: &LaidCloth) -> f64 {
    let selvages = [laid.usable[0], laid.width - laid.usable[1]];
    selvages.into_iter().filter(|selvage| *selvage > 0.0).fold(f64::INFINITY, f64::min)
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
