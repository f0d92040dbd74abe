//! A bar of known length, to hold a rule against on a printed sheet.

use crate::units::Units;

use super::block::Block;
use super::frame::number;
use super::ink::{Anchor, classed, group, path, text};
use super::lettering::text_width;
use super::measures::Measures;

const INCH: f64 = 25.4;
const METRIC: [f64; 7] = [10.0, 20.0, 50.0, 100.0, 200.0, 500.0, 1000.0];
const IMPERIAL: [f64; 6] = [INCH, 2.0 * INCH, 6.0 * INCH, 12.0 * INCH, 24.0 * INCH, 36.0 * INCH];
const PARTS: usize = 5;

/// The scale bar of a sheet.
pub(super) fn scale_bar(measures: &Measures) -> Block {
    bar_of(measures.units, measures.lettering)
}

/// A scale bar for lettering of a size, on a sheet that is true to size.
pub(super) fn bar_of(units: Units, size: f64) -> Block {
    bar(units, size, "Check of the print", "on a true print")
}

/// A scale bar for lettering of a size with a heading, and what its length is measured on.
pub(super) fn bar(units: Units, size: f64, heading: &str, measured_on: &str) -> Block {
    let lengths: &[f64] = match units {
        Units::Mm | Units::Cm | Units::M => &METRIC,
        Units::In | Units::Ft => &IMPERIAL,
    };
    let goal = 12.0 * size;
    let length = lengths.iter().copied().rev().find(|length| *length <= goal).unwrap_or(lengths[0]);
    let words = format!("{} {measured_on}", units.show(length));
    let (top, height) = (1.9 * size, 0.6 * size);
    let mut drawing = group("scale-bar").add(classed("strong", text(heading, (0.0, size), size, Anchor::Start)));
    let part_of = |from: f64, to: f64| {
        let (from, to, top, foot) = (number(from), number(to), number(top), number(top + height));
        format!("M{from} {top}L{to} {top}L{to} {foot}L{from} {foot}Z")
    };
    let part = length / PARTS as f64;
    let dark = (0..PARTS).step_by(2).map(|index| part_of(index as f64 * part, (index + 1) as f64 * part)).collect();
    drawing = drawing.add(path("bar", dark)).add(path("frame whole-bar", part_of(0.0, length)));
    drawing = drawing.add(text(&words, (0.0, top + height + 1.4 * size), size, Anchor::Start));
    Block { drawing, width: length.max(text_width(&words) * size), height: top + height + 2.0 * size }
}
