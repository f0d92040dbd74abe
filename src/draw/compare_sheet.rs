//! A comparison as bars: a row for each way, money and waste side by side, with the spread from seed to seed.

use svg::node::element::{Group, Style};

use super::frame::{line, number};
use super::ink::{Anchor, classed, group, path, text};
use super::lettering::text_width;
use crate::job::Job;
use crate::plan::{Compared, PLANNING_AID, Range, Verdict, Winners, percent};

/// What is drawn.
pub struct CompareSheet<'a> {
    /// The job.
    pub job: &'a Job,
    /// The ways, in order.
    pub ways: &'a [Compared],
    /// Who is best.
    pub winners: &'a Winners,
    /// How they were laid, in words.
    pub note: &'a str,
}

const MARGIN: f64 = 10.0;
const LETTERS: f64 = 3.5;
const ROW: f64 = 14.0;
const BAR: f64 = 6.0;
const PLOT: f64 = 75.0;
const VALUE_ROOM: f64 = 34.0;
const SEAMS_ROOM: f64 = 30.0;
const HEAD: f64 = 34.0;

const LOOK: &str = "text{font-family:sans-serif;fill:#222}.strong{font-weight:bold}.faint{fill:#666}\
                    .bar{fill:#9fb4c4}.best{fill:#2f6f8f}.tie{fill:#5f93ad}.spread{stroke:#222;stroke-width:.5;fill:none}\
                    .rule{stroke:#bbb;stroke-width:.25;fill:none}.seam{fill:#b5651d}";

/// A column of bars.
struct Column<'a> {
    title: &'static str,
    left: f64,
    verdict: &'a Verdict,
    value: fn(&Compared) -> Option<Range>,
    words: fn(f64) -> String,
}

/// The drawing, in millimetres.
pub fn compare_sheet(sheet: &CompareSheet) -> String {
    let names = sheet.ways.iter().map(|way| text_width(&way.name) * LETTERS).fold(40.0, f64::max) + 4.0;
    let priced = sheet.ways.iter().any(|way| way.cost().is_some());
    let with_tape = sheet.ways.iter().any(|way| way.tape.is_some());
    let first = if priced {
        Column {
            title: if with_tape { "Money for cloth and tape" } else { "Money for cloth" },
            left: MARGIN + names,
            verdict: &sheet.winners.cost,
            value: Compared::cost,
            words: |cost| format!("{cost:.2}"),
        }
    } else {
        Column {
            title: "Length used",
            left: MARGIN + names,
            verdict: &Verdict::None,
            value: Compared::length,
            words: |mm| format!("{:.2} m", mm / 1000.0),
        }
    };
    let step = PLOT + VALUE_ROOM;
    let second = Column {
        title: "Waste",
        left: first.left + step,
        verdict: &sheet.winners.waste,
        value: Compared::waste,
        words: percent,
    };
    let seams_at = second.left + step;
    let width = seams_at + SEAMS_ROOM + MARGIN;
    let foot = HEAD + sheet.ways.len() as f64 * ROW + 8.0;
    let height = foot + 18.0;
    let mut drawing = group("comparison")
        .add(classed("strong", text(&sheet.job.name, (MARGIN, MARGIN + 5.0), 5.0, Anchor::Start)))
        .add(classed("faint", text("The same job on each", (MARGIN, MARGIN + 11.0), LETTERS, Anchor::Start)))
        .add(classed("strong", text("Seams", (seams_at, HEAD - 4.0), LETTERS, Anchor::Start)));
    for (index, way) in sheet.ways.iter().enumerate() {
        drawing = drawing.add(row(way, HEAD + index as f64 * ROW, seams_at, width));
    }
    for column in [&first, &second] {
        drawing = drawing.add(bars(sheet.ways, column));
    }
    let words = [
        "Dark: best, clearer than the spread from seed to seed. Middle: a tie. The thin line is that spread.",
        sheet.note,
        PLANNING_AID,
    ];
    for (index, words) in words.iter().enumerate() {
        drawing = drawing.add(classed("faint", text(words, (MARGIN, foot + 5.0 * index as f64), 2.5, Anchor::Start)));
    }
    let size = |mm: f64| format!("{}mm", number(mm));
    let widest = words.iter().map(|words| text_width(words) * 2.5).fold(0.0, f64::max) + 2.0 * MARGIN;
    let width = width.max(widest);
    svg::Document::new()
        .set("width", size(width))
        .set("height", size(height))
        .set("viewBox", format!("0 0 {} {}", number(width), number(height)))
        .add(Style::new(LOOK))
        .add(path("page", rectangle(0.0, 0.0, width, height)).set("fill", "#fff"))
        .add(drawing)
        .to_string()
}

/// The name of a way, its seams, and what is wrong with it.
fn row(way: &Compared, top: f64, seams_at: f64, width: f64) -> Group {
    let base = top + ROW / 2.0 + LETTERS / 3.0;
    let rule = path("rule", line((MARGIN, top), (width - MARGIN, top)));
    let mut row = group("way").add(rule).add(text(&way.name, (MARGIN, base), LETTERS, Anchor::Start));
    if way.impossible.is_some() {
        let words = "does not hold all pieces";
        return row.add(classed("seam", text(words, (seams_at - VALUE_ROOM, base), LETTERS, Anchor::Start)));
    }
    let dots = way.seams.count.min(8);
    for dot in 0..dots {
        let x = seams_at + 9.0 + 2.2 * f64::from(dot);
        row = row.add(path("seam", rectangle(x, base - LETTERS, 1.4, LETTERS)));
    }
    row.add(text(&way.seams.count.to_string(), (seams_at, base), LETTERS, Anchor::Start))
}

fn bars(ways: &[Compared], column: &Column) -> Group {
    let values: Vec<Option<Range>> =
        ways.iter().map(|way| (column.value)(way).filter(|_| way.impossible.is_none())).collect();
    let most = values.iter().flatten().map(|range| range.most).fold(0.0, f64::max);
    let scale = if most > 0.0 { PLOT / most } else { 0.0 };
    let title = text(column.title, (column.left, HEAD - 4.0), LETTERS, Anchor::Start);
    let mut drawing = group("bars").add(classed("strong", title));
    for (index, (way, range)) in ways.iter().zip(&values).enumerate() {
        let Some(range) = range else { continue };
        let top = HEAD + index as f64 * ROW + (ROW - BAR) / 2.0;
        let class = match column.verdict {
            Verdict::Clear(name) if *name == way.name => "best",
            Verdict::Tie(names) if names.contains(&way.name) => "tie",
            _ => "bar",
        };
        drawing = drawing.add(path(class, rectangle(column.left, top, range.mean * scale, BAR)));
        let (from, to) = (column.left + range.least * scale, column.left + range.most * scale);
        if to - from > 0.1 {
            let middle = top + BAR / 2.0;
            let whisker = [
                (from, to, middle, middle),
                (from, from, top + 1.5, top + BAR - 1.5),
                (to, to, top + 1.5, top + BAR - 1.5),
            ];
            let data = whisker.iter().map(|(x, to_x, y, to_y)| line((*x, *y), (*to_x, *to_y))).collect();
            drawing = drawing.add(path("spread", data));
        }
        let at = (column.left + range.most * scale + 2.0, top + BAR / 2.0 + LETTERS / 3.0);
        drawing = drawing.add(text(&(column.words)(range.mean), at, LETTERS, Anchor::Start));
    }
    drawing
}

fn rectangle(x: f64, y: f64, width: f64, height: f64) -> String {
    let (left, top, right, foot) = (number(x), number(y), number(x + width), number(y + height));
    format!("M{left} {top}L{right} {top}L{right} {foot}L{left} {foot}Z")
}
