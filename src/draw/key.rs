//! The key: what the numbers on small pieces stand for.

use crate::plan::size;

use super::block::Block;
use super::ink::{Anchor, classed, group, text};
use super::lettering::text_width;
use super::measures::{LaySheet, Measures};
use super::piece_marks::Marks;

/// Lines in a column of the key.
const COLUMN: usize = 12;
const ROW: f64 = 1.5;

/// The columns of the key; none when every name fits on its piece.
pub(super) fn key(sheet: &LaySheet, measures: &Measures, marks: &Marks) -> Vec<Block> {
    let height = measures.lettering;
    let numbered: Vec<(usize, &usize)> = marks.key.iter().enumerate().collect();
    let columns = numbered.chunks(COLUMN).enumerate().map(|(column, lines)| {
        let mut drawing = group("key");
        let heading = if column == 0 { "Key of the numbers" } else { "" };
        drawing = drawing.add(classed("strong", text(heading, (0.0, height), height, Anchor::Start)));
        let mut widest = text_width(heading);
        let mut y = 2.7 * height;
        for (number, index) in lines {
            let piece = &sheet.pieces[**index];
            let bounds = piece.cut.bounds();
            let words = format!("{}, {}", piece.name, size([bounds.width(), bounds.height()], sheet.job.units));
            let here = sheet.laid.pieces.iter().filter(|laid| laid.piece == piece.name).count();
            let words = if piece.quantity > 1 { format!("{words}, {here} here") } else { words };
            drawing = drawing
                .add(classed("strong", text(&(number + 1).to_string(), (2.0 * height, y), height, Anchor::End)))
                .add(text(&words, (2.8 * height, y), height, Anchor::Start));
            widest = widest.max(2.8 + text_width(&words));
            y += ROW * height;
        }
        Block { drawing, width: widest * height, height: y - height }
    });
    columns.collect()
}
