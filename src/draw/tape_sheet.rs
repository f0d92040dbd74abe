//! The cutting of a kind of finishing tape: each roll a bar, its runs in the order of cutting, and below it where each ends.
//!
//! Bars are as wide as a sheet of A3 (ISO 216) that lies, whatever the length of the roll: a roll is a thousand times as long
//! as wide. Lengths are read from the figures.

use svg::Document;
use svg::node::element::{Element, Group, Rectangle, Style};

use crate::job::Job;
use crate::plan::{PLANNING_AID, TapeAccount, TapePiece, TapePlan, TapeRoll, metres_and_yards};
use crate::units::Units;
use crate::wording::counted;

use super::frame::{line, number};
use super::ink::{Anchor, classed, group, path, style, text, tooltip};
use super::lettering::{LINE_STEP, text_width};

/// Width of the sheet, in millimetres.
const SHEET: f64 = 420.0;
const MARGIN: f64 = 12.0;
/// Height of a bar.
const BAR: f64 = 11.0;
const LETTERS: f64 = 2.5;
/// The least letters, ISO 3098-1.
const SMALL: f64 = 1.8;
/// Between two entries of the list below a bar.
const BETWEEN: f64 = 6.0;

/// Lines in millimetres of paper: a run of tape may be no wider than two.
const LINES: &str = "path{vector-effect:none}.cloth,.plain{stroke-width:.2}.nominal{stroke-width:.3;stroke-dasharray:1 .6}\
                     .roll-end{stroke-width:.7}";

/// Draws the rolls of a kind as an SVG document; millimetres of paper.
pub fn tape_sheet(job: &Job, plan: &TapePlan, kind: &TapeAccount) -> String {
    let rolls: Vec<&TapeRoll> = plan.rolls_of(&kind.kind).collect();
    let longest = rolls.iter().map(|roll| roll.length).fold(0.0, f64::max);
    let bars = Bars { scale: (SHEET - 2.0 * MARGIN) / longest, units: job.units };
    let mut drawing = heading(job, kind);
    let mut y = 38.0;
    for roll in rolls {
        let (bar, below) = bars.roll(roll, y);
        drawing = drawing.add(bar);
        y = below + 7.0;
    }
    let [width, height] = [SHEET, y + MARGIN - 7.0].map(number);
    let document = Document::new()
        .set("width", format!("{width}mm"))
        .set("height", format!("{height}mm"))
        .set("viewBox", format!("0 0 {width} {height}"))
        .add(tooltip(&format!("{}: tape, {}", job.name, kind.kind)))
        .add(style())
        .add(Style::new(LINES))
        .add(Rectangle::new().set("fill", "#ffffff").set("width", width).set("height", height))
        .add(drawing);
    format!("{document}\n")
}

fn heading(job: &Job, kind: &TapeAccount) -> Group {
    let title = format!("{}: finishing tape, {}", job.name, kind.kind);
    let [metres, yards] = metres_and_yards(kind.length);
    let sums = format!(
        "{}, {metres} m ({yards} yd), from {}; cost {:.2}, {}; left over {}, of which {} in one piece",
        counted(kind.runs, "run", "runs"),
        counted(kind.rolls, "roll", "rolls"),
        kind.cost,
        kind.proof_words(),
        job.units.show(kind.left),
        job.units.show(kind.longest_left),
    );
    let about = "Cut each roll from its end on, in the order of the list below it: number as on the covering map, length, and \
                 where the cut is, measured from the end of the roll.";
    let mut drawing = group("heading").add(classed("strong", text(&title, (MARGIN, 15.0), 5.0, Anchor::Start)));
    for (index, words) in [sums.as_str(), about, PLANNING_AID].into_iter().enumerate() {
        let y = 20.5 + index as f64 * 1.4 * LETTERS;
        drawing = drawing.add(text(words, (MARGIN, y), LETTERS, Anchor::Start));
    }
    drawing
}

struct Bars {
    /// Millimetres of paper for one of tape.
    scale: f64,
    units: Units,
}

impl Bars {
    /// A roll with its list; and how far down it reaches.
    fn roll(&self, roll: &TapeRoll, top: f64) -> (Group, f64) {
        let show = |mm: f64| self.units.show(mm);
        let words = format!("{}: {}, {} left over", roll.words(), show(roll.length), show(roll.left));
        let mut drawing = group("roll").add(classed("strong", text(&words, (MARGIN, top), LETTERS, Anchor::Start)));
        let bar = top + 1.5;
        drawing = drawing.add(path("cloth", self.cell(0.0, roll.length, bar)));
        for piece in &roll.pieces {
            drawing = drawing.add(self.piece(piece, bar));
        }
        let used = roll.length - roll.left;
        drawing = drawing.add(self.left_over(used, roll.length, bar));
        drawing = drawing.add(path("roll-end", line((MARGIN, bar - 1.0), (MARGIN, bar + BAR + 1.0))));
        let (list, below) = self.list(roll, bar + BAR + 2.0);
        (drawing.add(list), below)
    }

    fn x(&self, mm: f64) -> f64 {
        MARGIN + mm * self.scale
    }

    fn cell(&self, from: f64, to: f64, top: f64) -> String {
        let (left, right) = (number(self.x(from)), number(self.x(to)));
        let (top, foot) = (number(top), number(top + BAR));
        format!("M{left} {top}L{right} {top}L{right} {foot}L{left} {foot}Z")
    }

    /// A run, or with a broken edge a piece of one that is joined.
    fn piece(&self, piece: &TapePiece, top: f64) -> Group {
        let class = if piece.pieces == 1 { "plain" } else { "nominal" };
        let end = piece.from + piece.length;
        let drawing = group("tape").add(path(class, self.cell(piece.from, end, top)));
        let drawing = match self.label(&piece.words(), piece.from, end, top) {
            Some(label) => drawing.add(label),
            None => drawing,
        };
        drawing.add(tooltip(&format!("{}: {}, {}", piece.words(), piece.over, self.units.show(piece.length))))
    }

    /// The words across a cell where they fit, else up it, else nowhere: the list has them.
    fn label(&self, words: &str, from: f64, to: f64, top: f64) -> Option<Element> {
        let room = (to - from) * self.scale;
        let middle = (self.x(from) + self.x(to)) / 2.0;
        for size in [LETTERS, SMALL] {
            if text_width(words) * size <= room - 0.6 {
                return Some(text(words, (middle, top + BAR / 2.0 + 0.35 * size), size, Anchor::Middle));
            }
            if size + 0.4 <= room && text_width(words) * size <= BAR - 0.6 {
                let at = (middle + 0.35 * size, top + BAR / 2.0);
                let mut upright = text(words, at, size, Anchor::Middle);
                let turn = format!("rotate(-90 {} {})", number(at.0), number(at.1));
                svg::Node::assign(&mut upright, "transform", turn);
                return Some(upright);
            }
        }
        None
    }

    fn left_over(&self, from: f64, to: f64, top: f64) -> Group {
        let drawing = group("left-over");
        match self.label("left over", from, to, top) {
            Some(label) => drawing.add(classed("faint", label)),
            None => drawing,
        }
    }

    /// Number, length and place of each cut, in columns read downwards; and how far down it reaches.
    fn list(&self, roll: &TapeRoll, top: f64) -> (Group, f64) {
        let show = |mm: f64| self.units.show(mm);
        let entry = |piece: &TapePiece| {
            format!("{}: {}, cut at {}", piece.words(), show(piece.length), show(piece.from + piece.length))
        };
        let entries: Vec<String> = roll.pieces.iter().map(entry).collect();
        let widest = entries.iter().map(|words| text_width(words)).fold(1.0, f64::max) * LETTERS + BETWEEN;
        let columns = libm::floor((SHEET - 2.0 * MARGIN + BETWEEN) / widest).max(1.0) as usize;
        let rows = entries.len().div_ceil(columns).max(1);
        let step = LINE_STEP * 1.1 * LETTERS;
        let mut drawing = group("cuts");
        for (index, words) in entries.iter().enumerate() {
            let at = (MARGIN + (index / rows) as f64 * widest, top + ((index % rows) + 1) as f64 * step);
            drawing = drawing.add(text(words, at, LETTERS, Anchor::Start));
        }
        (drawing, top + rows as f64 * step)
    }
}
