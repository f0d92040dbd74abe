//! The figures beside the faces: from where places are measured, the table, and what the marks mean.

use svg::node::element::Group;

use super::super::ink::{Anchor, classed, text};
use super::super::lettering::text_width;
use super::super::title_block::wrapped;
use super::LETTERS;
use super::key::{Sample, samples};
use super::layout::COLUMN;
use super::pen::Pen;
use super::rows::{cells, heading, row_lines};
use crate::covering::CoveredPart;
use crate::job::Job;
use crate::plan::{MapFlag, MapKind, MapRow, map_flags};

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
    /// The same above lines that belong to it.
    Head(Vec<(f64, Anchor, String)>),
    /// A mark with what it means.
    Meaning(Sample, &'static str),
    /// The bar that shows the scale.
    Scale,
}

impl Line {
    /// Whether lines that belong to it follow.
    pub fn is_heading(&self) -> bool {
        matches!(self, Self::Heading(_) | Self::Head(_))
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
            Self::Head(cells) => cells.iter().fold(drawing, |drawing, (from, anchor, cell)| {
                drawing.add(classed("strong", words(cell, *from, *anchor)))
            }),
            Self::Meaning(sample, meaning) => {
                drawing.add(sample.drawn((x, y), pen)).add(words(meaning, MEANING, Anchor::Start))
            }
            Self::Scale => drawing.add(super::key::scale((x, y), job.units, pen)),
        }
    }
}

/// What the sheets of a part say in words.
pub(super) struct Words<'p> {
    job: &'p Job,
    part: &'p CoveredPart,
    rows: &'p [MapRow],
    /// The corners that something is measured from.
    pub flags: Vec<MapFlag>,
}

impl<'p> Words<'p> {
    /// The words for the table of a part.
    pub fn new(job: &'p Job, part: &'p CoveredPart, rows: &'p [MapRow]) -> Self {
        Self { job, part, rows, flags: map_flags(part) }
    }

    /// Places of the rows that are about some faces; what lies on no face known goes with the first.
    pub fn rows_of(&self, faces: &[usize]) -> Vec<usize> {
        let about = |row: &MapRow| {
            row.faces.iter().any(|face| faces.contains(face)) || row.faces.is_empty() && faces.contains(&0)
        };
        (0..self.rows.len()).filter(|index| about(&self.rows[*index])).collect()
    }

    /// The lines of a sheet with faces and some rows.
    pub fn lines(&self, faces: &[usize], rows: &[usize]) -> Vec<Line> {
        let of_faces: Vec<&MapRow> = self.rows_of(faces).into_iter().map(|index| &self.rows[index]).collect();
        // The bar is three lines high, and stands first so that no column ends within it.
        let mut lines = vec![Line::Scale, Line::Blank, Line::Blank, Line::Blank];
        lines.push(Line::Heading("What the marks mean".to_owned()));
        lines.extend(
            samples(self.part, faces, &of_faces).into_iter().map(|(sample, words)| Line::Meaning(sample, words)),
        );
        lines.extend(self.flag_lines(faces));
        lines.extend(self.table(faces, rows));
        lines
    }

    /// The lines of a sheet that has some rows and no face.
    pub fn further(&self, faces: &[usize], rows: &[usize]) -> Vec<Line> {
        let mut lines = self.flag_lines(faces);
        lines.extend(self.table(faces, rows));
        lines
    }

    /// The rows under their headings.
    fn table(&self, faces: &[usize], rows: &[usize]) -> Vec<Line> {
        let mut lines = Vec::new();
        // Where a sheet is about one face, its rows need not name it.
        let face = match faces {
            [only] => self.part.faces.get(*only).map(|face| face.name.as_str()),
            _ => None,
        };
        let of_kind = |kind: MapKind| -> Vec<&MapRow> {
            rows.iter().map(|index| &self.rows[*index]).filter(|row| row.kind == kind).collect()
        };
        for kind in [MapKind::Patch, MapKind::Ring, MapKind::Drain, MapKind::Tape, MapKind::Laces] {
            let rows = of_kind(kind);
            if rows.is_empty() {
                continue;
            }
            lines.push(Line::Blank);
            lines.extend(heading(self.job, kind, rows[0]));
            lines.extend(row_lines(self.job, kind, &rows, face));
        }
        lines
    }

    fn flag_lines(&self, faces: &[usize]) -> Vec<Line> {
        let flags: Vec<&MapFlag> = self.flags.iter().filter(|flag| faces.contains(&flag.face)).collect();
        if flags.is_empty() {
            return Vec::new();
        }
        let several = faces.len() > 1;
        let words = |flag: &MapFlag| {
            let face = self.part.faces.get(flag.face)?;
            let datum = face.datums.get(flag.datum)?;
            let of_face = if several { format!("{}: ", face.name) } else { String::new() };
            Some(format!("{of_face}{}, along {}; then square to it", datum.corner, datum.edge))
        };
        let named = |flag: &&MapFlag| cells(&flag.letter, 6.0, &words(flag).unwrap_or_default(), COLUMN, Vec::new());
        let mut lines = vec![Line::Blank, Line::Heading("Measured from".to_owned())];
        lines.extend(flags.iter().flat_map(named));
        let outside = |index: usize| {
            let row = &self.rows[index];
            [row.along, row.square].into_iter().flatten().any(|figure| figure <= -0.5)
        };
        if self.rows_of(faces).into_iter().any(outside) {
            let minus = "A minus: against the arrow from the corner, or outside the edge.";
            lines.extend(cells("", 0.0, minus, COLUMN, Vec::new()));
        }
        lines
    }
}

/// Words on as many lines as they take.
pub(super) fn plain(words: &str, width: f64) -> Vec<String> {
    wrapped(words, width / LETTERS)
}

/// Width of words in millimetres of paper.
pub(super) fn width(words: &str) -> f64 {
    text_width(words) * LETTERS
}
