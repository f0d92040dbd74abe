//! The key: what the numbers on small pieces and the letters on small flaws stand for.

use crate::plan::size;

use super::block::Block;
use super::flaw_marks::FlawMark;
use super::ink::{Anchor, classed, group, text};
use super::lettering::text_width;
use super::measures::{LaySheet, Measures};
use super::piece_marks::Marks;

/// Lines in a column of the key.
const COLUMN: usize = 12;
const ROW: f64 = 1.5;

/// The columns of the key; none when every name fits on its piece.
pub(super) fn key(sheet: &LaySheet, measures: &Measures, marks: &Marks) -> Vec<Block> {
    let line = |index: &usize| {
        let number = marks.number(*index);
        let piece = &sheet.pieces[*index];
        let words = format!("{}, {}", piece.name, size(piece.size, sheet.job.units));
        let here = sheet.laid.pieces.iter().filter(|laid| laid.piece == piece.name).count();
        let several = piece.quantity > 1;
        let mark = if several { format!("{number}·copy") } else { number.to_string() };
        (mark, if several { format!("{words}, {here} here") } else { words })
    };
    let lines: Vec<(String, String)> = marks.key.iter().map(line).collect();
    columns("Key of the numbers", &lines, measures)
}

/// The columns of the key to the letters on flaws; none when every note fits on its flaw.
pub(super) fn flaw_key(measures: &Measures, flaws: &[FlawMark]) -> Vec<Block> {
    let keyed = flaws.iter().filter(|flaw| flaw.keyed);
    let lines: Vec<(String, String)> = keyed.map(|flaw| (flaw.words.clone(), flaw.note.clone())).collect();
    columns("Flaws", &lines, measures)
}

/// Marks and what they stand for, in columns of like height.
fn columns(heading: &str, lines: &[(String, String)], measures: &Measures) -> Vec<Block> {
    let height = measures.lettering;
    let marks = lines.iter().map(|(mark, _)| text_width(mark)).fold(0.0, f64::max);
    let columns =
        lines.chunks(COLUMN).enumerate().map(|(column, lines)| {
            let heading = if column == 0 { heading } else { "" };
            let mut drawing = group("key").add(classed("strong", text(heading, (0.0, height), height, Anchor::Start)));
            let mut widest = text_width(heading);
            let mut y = 2.7 * height;
            for (mark, words) in lines {
                drawing = drawing
                    .add(classed("strong", text(mark, (marks * height, y), height, Anchor::End)))
                    .add(text(words, ((marks + 0.8) * height, y), height, Anchor::Start));
                widest = widest.max(marks + 0.8 + text_width(words));
                y += ROW * height;
            }
            Block { drawing, width: widest * height, height: y - height }
        });
    columns.collect()
}
