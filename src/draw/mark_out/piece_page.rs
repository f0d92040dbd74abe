//! A large piece: its drawing, its points in the order in which one walks round it, its curves, its diagonals.

use super::MarkOutSheets;
use super::flow::{Flow, SMALL, TEXT};
use super::ground::scale_and_height;
use super::piece_drawing::{draw_piece, part_of};
use super::rows::Table;
use crate::draw::pdf::Page;
use crate::plan::{MarkOut, MarkRun, Offset, Rounding, grain_words, size};
use crate::units::Units;

/// Share of the page's height that a drawing may take.
const SHARE: f64 = 0.42;
/// What two pieces on a page need between them, in millimetres.
const BETWEEN: f64 = 8.0;
/// Stations of a curve in one row.
const STATIONS: usize = 11;

/// Draws the pages of the large pieces, in the order of cutting; and the first page of each, from 0. Pieces of few figures
/// share a page.
pub(super) fn pages(sheets: &MarkOutSheets, large: &[usize]) -> (Vec<Page>, Vec<usize>) {
    let mut flow = Flow::new(sheets.sheet);
    let mut first = Vec::new();
    for step in large {
        let mut alone = Flow::new(sheets.sheet);
        draw(&mut alone, sheets, *step);
        if first.is_empty() || alone.before() > 0 || alone.height() - alone.left() > flow.left() - BETWEEN {
            flow.new_page();
        } else {
            flow.rule();
        }
        first.push(flow.before());
        draw(&mut flow, sheets, *step);
    }
    (if large.is_empty() { Vec::new() } else { flow.finish() }, first)
}

fn draw(flow: &mut Flow, sheets: &MarkOutSheets, step: usize) {
    let Some(marks) = &sheets.marked.steps[step].marks else { return };
    flow.begin(&format!("{}  {}", sheets.key(step), sheets.name(step)));
    flow.words(&about(sheets, step), TEXT);
    let part = part_of(sheets.laid_at(step), sheets.laid.width);
    let room = [flow.width(), SHARE * flow.height()];
    let [_, height] = scale_and_height([part.width(), part.height()], room);
    flow.drawing(height, |page, room| draw_piece(page, room, sheets, step, marks));
    flow.table(&points(sheets, marks));
    for (index, run) in marks.runs.iter().enumerate() {
        if let MarkRun::Curved { chord, offsets } = run {
            flow.need(6.0 * TEXT);
            flow.words(&curve_words(sheets, [index, (index + 1) % marks.runs.len()], *chord, offsets), TEXT);
            flow.table(&stations(sheets, offsets));
        }
    }
    if !marks.diagonals.is_empty() {
        flow.words(&diagonals(sheets, marks), TEXT);
    }
    flow.words(&accuracy(sheets, marks), SMALL);
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

/// The points; of a cloth that is drawn over a table, with the place of each on it.
fn points(sheets: &MarkOutSheets, marks: &MarkOut) -> Table {
    let unit = sheets.units().symbol();
    let windows = &sheets.marked.windows;
    let end = if windows.len() > 1 { "stretch: from its beginning" } else { "" };
    let head = [format!(">from end ({unit})"), format!(">from lower edge ({unit})"), format!(">{end}")];
    let mut table = Table::new(&[">point", &head[0], &head[1], "to the next point", &head[2]], 3);
    for (index, (point, run)) in marks.points.iter().zip(&marks.runs).enumerate() {
        let next = (index + 1) % marks.points.len() + 1;
        let run = match run {
            MarkRun::Straight { length } => format!("straight to {next}, {}", sheets.show(*length)),
            MarkRun::Curved { chord, .. } => format!("curve to {next}, chord {}", sheets.show(*chord)),
        };
        let on_table = windows.iter().rposition(|window| window.span[0] <= point.from_end).unwrap_or(0);
        let on_table = match windows.len() {
            0 | 1 => String::new(),
            _ => format!("{}: {}", on_table + 1, sheets.number(point.from_end - windows[on_table].span[0])),
        };
        let [end, edge] = [sheets.number(point.from_end), sheets.number(point.from_edge)];
        table.rows.push(vec![(index + 1).to_string(), end, edge, run, on_table]);
    }
    table
}

/// Which side of its chord a curve lies on.
#[derive(Clone, Copy, PartialEq)]
enum Side {
    Out,
    In,
    Both,
}

fn side(offsets: &[Offset]) -> Side {
    if offsets.iter().all(|offset| offset.out >= 0.0) {
        Side::Out
    } else if offsets.iter().all(|offset| offset.out <= 0.0) {
        Side::In
    } else {
        Side::Both
    }
}

fn curve_words(sheets: &MarkOutSheets, ends: [usize; 2], chord: f64, offsets: &[Offset]) -> String {
    let [from, to] = ends.map(|end| end + 1);
    let side = match side(offsets) {
        Side::Out => "out of the piece",
        Side::In => "into the piece",
        Side::Both => "out of the piece, with − into it",
    };
    format!("Curve from {from} to {to}, chord {}; offsets are square to the chord, {side}:", sheets.show(chord))
}

/// The stations of a curve side by side, in as many pairs of rows as they take.
fn stations(sheets: &MarkOutSheets, offsets: &[Offset]) -> Table {
    let side = side(offsets);
    let widest = offsets.len().min(STATIONS);
    let mut table = Table::new(&[vec![""], vec![">"; widest]].concat(), 0);
    let (hand, word) = if side == Side::In { (-1.0, "in") } else { (1.0, "out") };
    for part in offsets.chunks(STATIONS) {
        let row = |word: &str, figure: &dyn Fn(&Offset) -> String| {
            let mut row: Vec<String> = std::iter::once(word.to_owned()).chain(part.iter().map(figure)).collect();
            row.resize(widest + 1, String::new());
            row
        };
        table.rows.push(row("along", &|offset| sheets.number(offset.along)));
        table.rows.push(row(word, &|offset| sheets.number(hand * offset.out).replace('-', "−")));
    }
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

/// How true a piece is that is drawn by these figures.
fn accuracy(sheets: &MarkOutSheets, marks: &MarkOut) -> String {
    // In metres these would be all zeros.
    let units = match sheets.wish.rounding {
        Rounding::Millimetre => Units::Mm,
        Rounding::SixteenthInch => Units::In,
    };
    let mut words =
        format!("Rounding puts no mark more than {} from where it should be.", units.show(marks.worst_rounding));
    if marks.runs.iter().any(|run| matches!(run, MarkRun::Curved { .. })) {
        words.push_str(&format!(
            " Straight lines between the marks of a curve would lie up to {} off it: bend a batten through them.",
            units.show(marks.worst_bend)
        ));
    }
    words
}
