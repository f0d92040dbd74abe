//! A large piece: its drawing, its points in the order in which one walks round it, its curves, its diagonals.

use super::flow::{SMALL, TEXT};
use super::ground::ROUND;
use super::piece_drawing::{draw_piece, span_of};
use super::rows::Table;
use super::{MarkOutSheets, layer};
use crate::draw::pdf::Page;
use crate::plan::{MarkOut, MarkRun, Offset, grain_words, size};

/// Share of the page's height that the drawing may take.
const SHARE: f64 = 0.45;
/// Stations of a curve in one row.
const STATIONS: usize = 9;

/// Draws the pages of a large piece.
pub(super) fn pages(sheets: &MarkOutSheets, step: usize) -> Vec<Page> {
    let Some(marks) = &sheets.marked.steps[step].marks else { return Vec::new() };
    let mut flow = sheets.flow(&format!("{}  {}", sheets.key(step), sheets.name(step)));
    flow.words(&about(sheets, step), TEXT);
    let span = span_of(sheets.laid_at(step));
    let scale = (flow.width() - 2.0 * ROUND[0]) / (span[1] - span[0]);
    let height = (scale * sheets.laid.width + 2.0 * ROUND[1]).min(SHARE * flow.height());
    flow.drawing(height, |page, room| draw_piece(page, room, sheets, step, marks));
    flow.table(&points(sheets, marks));
    for (index, run) in marks.runs.iter().enumerate() {
        if let MarkRun::Curved { chord, offsets } = run {
            let next = (index + 1) % marks.runs.len();
            let words = format!(
                "Curve from {} to {}, chord {}: offsets square to the chord, {}",
                index + 1,
                next + 1,
                sheets.show(*chord),
                side_words(offsets)
            );
            flow.need(4.0 * TEXT * 1.6);
            flow.words(&words, TEXT);
            for part in offsets.chunks(STATIONS) {
                flow.table(&stations(sheets, part, is_inwards(offsets)));
            }
        }
    }
    if !marks.diagonals.is_empty() {
        flow.words(&diagonals(sheets, marks), TEXT);
    }
    flow.words(&accuracy(sheets, marks), SMALL);
    let _ = layer::TEXT;
    flow.finish()
}

fn about(sheets: &MarkOutSheets, step: usize) -> String {
    let (piece, laid) = (&sheets.pieces[sheets.piece_at(step)], sheets.laid_at(step));
    let face = if laid.flipped { "face down" } else { "face up" };
    let mut words = format!(
        "Cut {} of {}; {}, laid {face}, grain {}",
        step + 1,
        sheets.marked.steps.len(),
        size(piece.size, sheets.job.units),
        grain_words(piece.grain)
    );
    if let Some(goes) = &piece.goes {
        words.push_str(&format!("; {goes}"));
    }
    words
}

fn points(sheets: &MarkOutSheets, marks: &MarkOut) -> Table {
    let unit = sheets.units().symbol();
    let head = [format!(">from the end ({unit})"), format!(">from the lower edge ({unit})")];
    let mut table = Table::new(&[">point", &head[0], &head[1], "to the next point"], 3);
    for (index, (point, run)) in marks.points.iter().zip(&marks.runs).enumerate() {
        let next = (index + 1) % marks.points.len() + 1;
        let run = match run {
            MarkRun::Straight { length } => format!("straight to {next}, {}", sheets.show(*length)),
            MarkRun::Curved { chord, .. } => format!("curve to {next}, chord {}", sheets.show(*chord)),
        };
        let cells = [sheets.number(point.from_end), sheets.number(point.from_edge)];
        let [end, edge] = cells;
        table.rows.push(vec![(index + 1).to_string(), end, edge, run]);
    }
    table
}

fn is_inwards(offsets: &[Offset]) -> bool {
    offsets.iter().all(|offset| offset.out <= 0.0)
}

fn side_words(offsets: &[Offset]) -> &'static str {
    if is_inwards(offsets) {
        "into the piece"
    } else if offsets.iter().all(|offset| offset.out >= 0.0) {
        "out of the piece"
    } else {
        "out of the piece, with − into it"
    }
}

/// The stations of a curve, side by side.
fn stations(sheets: &MarkOutSheets, offsets: &[Offset], inwards: bool) -> Table {
    let head: Vec<String> = offsets.iter().map(|offset| sheets.number(offset.along)).collect();
    let head: Vec<String> =
        std::iter::once("along".to_owned()).chain(head.iter().map(|head| format!(">{head}"))).collect();
    let mut table = Table::new(&head.iter().map(String::as_str).collect::<Vec<_>>(), 0);
    let side = if inwards { -1.0 } else { 1.0 };
    let out = offsets.iter().map(|offset| sheets.number(side * offset.out).replace('-', "−"));
    table.rows.push(std::iter::once(if inwards { "in" } else { "out" }.to_owned()).chain(out).collect());
    table
}

fn diagonals(sheets: &MarkOutSheets, marks: &MarkOut) -> String {
    let one = |diagonal: &crate::plan::Diagonal| {
        let [from, to] = diagonal.between.map(|end| end + 1);
        format!("{from} to {to}: {}", sheets.show(diagonal.length))
    };
    let words: Vec<String> = marks.diagonals.iter().map(one).collect();
    format!("Prove before you cut: {}.", words.join("; "))
}

fn accuracy(sheets: &MarkOutSheets, marks: &MarkOut) -> String {
    let units = sheets.units();
    let mut words =
        format!("Rounding puts no mark more than {} from where it should be.", units.show(marks.worst_rounding));
    if marks.worst_bend > 0.0 {
        words.push_str(&format!(
            " Straight lines from mark to mark lie up to {} off the edge: bend a batten through the marks of a curve.",
            units.show(marks.worst_bend)
        ));
    }
    words
}
