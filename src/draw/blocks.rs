//! What stands beneath the cloth: title block, scale bar, what the marks mean, key of the numbers.

use svg::node::element::Group;

use super::flaw_marks::FlawMark;
use super::frame::number;
use super::ink::group;
use super::measures::{LaySheet, Measures};
use super::piece_marks::Marks;
use super::{key, legend, scale_bar, title_block};

/// All blocks in their places.
pub(super) struct Beneath {
    /// What they show.
    pub drawing: Group,
    /// The greatest sheet x that they reach.
    pub right: f64,
    /// The greatest sheet y that they reach.
    pub bottom: f64,
}

/// Sets the blocks in rows no wider than `room`, beginning at `origin`.
pub(super) fn beneath(
    sheet: &LaySheet,
    measures: &Measures,
    marks: &Marks,
    flaws: &[FlawMark],
    origin: (f64, f64),
    room: f64,
) -> Beneath {
    let mut blocks = vec![title_block::title(sheet, measures), legend::legend(sheet, measures, marks)];
    blocks.push(scale_bar::scale_bar(measures));
    blocks.extend(key::key(sheet, measures, marks));
    blocks.extend(key::flaw_key(measures, flaws));
    let between = 2.5 * measures.lettering;
    let (mut x, mut y, mut row) = (origin.0, origin.1, 0.0_f64);
    let mut placed = Beneath { drawing: group("beneath"), right: origin.0, bottom: origin.1 };
    for block in blocks {
        if x > origin.0 && x + block.width > origin.0 + room {
            (x, y, row) = (origin.0, y + row + between, 0.0);
        }
        let there = format!("translate({} {})", number(x), number(y));
        placed.drawing = placed.drawing.add(block.drawing.set("transform", there));
        placed.right = placed.right.max(x + block.width);
        placed.bottom = placed.bottom.max(y + block.height);
        row = row.max(block.height);
        x += block.width + between;
    }
    placed
}
