//! The figures beside the faces: from where places are measured, the table, and what the marks mean.

use svg::node::element::Group;

use super::super::ink::{Anchor, classed, text};
use super::super::lettering::text_width;
use super::super::title_block::wrapped;
use super::LETTERS;
use super::key::{Sample, samples};
use super::layout::COLUMN;
use super::pen::Pen;
use crate::covering::CoveredPart;
use crate::job::Job;
use crate::plan::{MapFlag, MapKind, MapRow, map_flags, tape_measure};
use crate::wording::counted;

/// From the left edge of a column, in millimetres of paper: where words begin, and where the last three cells end.
const WORDS: f64 = 17.0;
const FROM: f64 = 61.0;
const ALONG: f64 = 78.0;
const SQUARE: f64 = COLUMN;
/// Where the words of the key begin.
const MEANING: f64 = 14.0;

/// A line of figures.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Line {
    /// Nothing.
    Blank,
    /// Words in bold.
    Heading(String),
    /// Words with the places, in millimetres of paper, that they begin or end at.
    Cells(Vec<(f64, Anchor, String)>),
    /// A mark with what it means.
    Meaning(Sample, &'static str),
    /// The bar that shows the scale.
    Scale,
}

impl Line {
    /// Whether lines that belong to it follow.
    pub fn is_heading(&self) -> bool {
        matches!(self, Self::Heading(_))
    }

    /// Whether it keeps two blocks apart.
    pub fn is_blank(&self) -> bool {
        matches!(self, Self::Blank)
    }

    /// Adds the line to a drawing; `x` and `y` are its left end and base line in millimetres of paper.
    pub fn drawn(&self, drawing: Group, (x, y): (f64, f64), job: &Job, pen: Pen) -> Group {
        let words = |words: &str, from: f64, anchor| text(words, pen.at(x + from, y), pen.mm(LETTERS), anchor);
        match self {
            Self::Blank => drawing,
            Self::Heading(heading) => drawing.add(classed("strong", words(heading, 0.0, Anchor::Start))),
            Self::Cells(cells) => {
                cells.iter().fold(drawing, |drawing, (from, anchor, cell)| drawing.add(words(cell, *from, *anchor)))
            }
            Self::Meaning(sample, meaning) => {
                drawing.add(sample.drawn((x, y), pen)).add(words(meaning, MEANING, Anchor::Start))
            }
            Self::Scale => drawing.add(super::key::scale((x, y), job.units, pen)),
        }
    }
}

/// All lines that a sheet could have.
pub(super) struct Lines {
    /// The corners that something is measured from.
    pub datums: Vec<MapFlag>,
    flags: Vec<Line>,
    table: Vec<(MapKind, Vec<Line>)>,
    key: Vec<Line>,
}

impl Lines {
    /// The lines for the table of a part.
    pub fn new(job: &Job, part: &CoveredPart, rows: &[MapRow]) -> Self {
        let datums = map_flags(part);
        let table = rows.iter().map(|row| (row.kind, row_lines(job, row))).collect();
        // The bar is three lines high, and stands first so that no column ends within it.
        let bar = [Line::Scale, Line::Blank, Line::Blank, Line::Blank];
        let mut key: Vec<Line> = bar.into_iter().chain([Line::Heading("What the marks mean".to_owned())]).collect();
        key.extend(samples(part, rows).into_iter().map(|(sample, words)| Line::Meaning(sample, words)));
        Self { flags: flag_lines(part, &datums, rows), datums, table, key }
    }

    /// How many rows the table has.
    pub fn rows(&self) -> usize {
        self.table.len()
    }

    /// The lines of a sheet that has so many rows of the table.
    pub fn to_fit(&self, rows: usize) -> Vec<Line> {
        let mut lines = self.key.clone();
        if !self.datums.is_empty() {
            lines.push(Line::Blank);
            lines.push(Line::Heading("Measured from".to_owned()));
            lines.extend(self.flags.iter().cloned());
        }
        let mut last = None;
        for (kind, row) in self.table.iter().take(rows) {
            if last != Some(*kind) {
                lines.push(Line::Blank);
                lines.push(heading(*kind));
                last = Some(*kind);
            }
            lines.extend(row.iter().cloned());
        }
        if rows < self.table.len() {
            let more = counted(self.table.len() - rows, "more line stands", "more lines stand");
            lines.push(Line::Blank);
            lines.push(plain(format!("{more} in the table map.csv")));
        }
        lines
    }
}

fn plain(words: String) -> Line {
    Line::Cells(vec![(0.0, Anchor::Start, words)])
}

fn heading(kind: MapKind) -> Line {
    let words = match kind {
        MapKind::Patch => "Patches, to their middles",
        MapKind::Ring => "Rings, to their middles",
        MapKind::Drain => "Drain holes, to their middles",
        MapKind::Tape => return Line::Heading("Tapes, in the order of the work".to_owned()),
        MapKind::Laces => "Laces, to the first of each rib",
    };
    let cells = [(FROM, "from"), (ALONG, "along"), (SQUARE, "square")];
    let named = cells.map(|(at, word)| (at, Anchor::End, word.to_owned()));
    Line::Cells([(0.0, Anchor::Start, words.to_owned())].into_iter().chain(named).collect())
}

fn flag_lines(part: &CoveredPart, flags: &[MapFlag], rows: &[MapRow]) -> Vec<Line> {
    let several = part.faces.len() > 1;
    let words = |flag: &MapFlag| {
        let face = part.faces.get(flag.face)?;
        let datum = face.datums.get(flag.datum)?;
        let of_face = if several { format!("{}: ", face.name) } else { String::new() };
        Some(format!("{of_face}{}, along {}; then square to it", datum.corner, datum.edge))
    };
    let named = |flag: &MapFlag| cells(&flag.letter, 6.0, &words(flag).unwrap_or_default(), COLUMN, Vec::new());
    let mut lines: Vec<Line> = flags.iter().flat_map(named).collect();
    if rows.iter().any(|row| [row.along, row.square].into_iter().flatten().any(|figure| figure <= -0.5)) {
        let minus = "A minus: against the arrow from the corner, or outside the edge.";
        lines.extend(cells("", 0.0, minus, COLUMN, Vec::new()));
    }
    lines
}

fn row_lines(job: &Job, row: &MapRow) -> Vec<Line> {
    let size = row.size_words(job.units);
    let (words, right) = match row.kind {
        MapKind::Patch => (format!("{size}, {}", row.what), FROM - 4.0),
        MapKind::Ring => (format!("doily {size}, {}", row.what), FROM - 4.0),
        MapKind::Drain => (format!("{size}, {}", row.face), FROM - 4.0),
        MapKind::Tape => (format!("{}: {size}", row.what), COLUMN),
        MapKind::Laces => (format!("{}, {}: {}", row.what, row.face, row.quantity), FROM - 4.0),
    };
    let figure = |mm: Option<f64>| mm.map(|mm| tape_measure(mm, job.units));
    let places = [(FROM, row.flag.clone()), (ALONG, figure(row.along)), (SQUARE, figure(row.square))];
    let places = places.into_iter().filter_map(|(at, words)| Some((at, Anchor::End, words?))).collect();
    cells(&row.number, if row.number.is_empty() { 0.0 } else { WORDS }, &words, right, places)
}

/// A first word, others from `left` to `right` on as many lines as they take, and what else stands on the first line.
fn cells(first: &str, left: f64, words: &str, right: f64, more: Vec<(f64, Anchor, String)>) -> Vec<Line> {
    let left = left.max((text_width(first) + 0.8) * LETTERS * f64::from(u8::from(!first.is_empty())));
    let mut lines: Vec<Vec<(f64, Anchor, String)>> =
        wrapped(words, (right - left) / LETTERS).into_iter().map(|line| vec![(left, Anchor::Start, line)]).collect();
    if let Some(line) = lines.first_mut() {
        line.insert(0, (0.0, Anchor::Start, first.to_owned()));
        line.extend(more);
    }
    lines.into_iter().map(Line::Cells).collect()
}
