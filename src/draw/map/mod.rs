//! The covering map of a part: its faces with every tape, patch, ring, drain and lace in its place, on one sheet that is
//! printed on A3 (ISO 216) or tabloid and read at arm's length.
//!
//! The drawing's unit is a millimetre of the face; how many of them a millimetre of paper shows is the sheet's [`Pen`].

mod bands;
mod face;
mod key;
mod layout;
mod list;
mod pen;
mod style;
mod tags;
mod wishes;

use svg::Document;
use svg::node::element::{Group, Rectangle};

use crate::covering::{CoveredPart, Face};
use crate::job::{Job, Surface};
use crate::plan::{MapRow, PLANNING_AID, map_flags, part_rows};

use super::frame::number;
use super::ink::{Anchor, classed, group, style, text, tooltip};
use face::face;
use layout::{BESIDE, Column, HEAD, LEFT, Layout, PAPER, STEP, laid_out};
use list::{Line, Lines};
use pen::Pen;
use style::map_style;

/// Height of the letters of words, in millimetres of paper.
const LETTERS: f64 = 2.5;

/// Draws the map of a part as an SVG document that is as large as a sheet of A3.
pub fn map_sheet(job: &Job, part: &CoveredPart) -> String {
    let rows = part_rows(job, part);
    let lines = Lines::new(job, part, &rows);
    let sizes: Vec<[f64; 2]> =
        part.faces.iter().map(|face| face.outline.bounds()).map(|b| [b.width(), b.height()]).collect();
    let layout = laid_out(&sizes, &lines);
    let pen = Pen { scale: layout.scale };
    let mut drawing = heading(job, part, pen);
    for (shown, place) in part.faces.iter().zip(&layout.faces) {
        drawing = drawing.add(face(part, shown, &lines.datums, *place, pen));
    }
    drawing = drawing.add(columns(&lines.to_fit(layout.rows), &layout, job, pen));
    let [width, height] = PAPER.map(|length| number(pen.mm(length)));
    let document = Document::new()
        .set("width", format!("{}mm", number(PAPER[0])))
        .set("height", format!("{}mm", number(PAPER[1])))
        .set("viewBox", format!("0 0 {width} {height}"))
        .add(tooltip(&format!("{}: covering map of {}", job.name, part.name)))
        .add(style())
        .add(map_style(pen))
        .add(Rectangle::new().set("fill", "#ffffff").set("width", width).set("height", height))
        .add(drawing);
    format!("{document}\n")
}

/// A face by itself.
pub(super) struct FaceDrawing {
    /// Its marks; their unit is a millimetre of the face.
    pub drawing: Group,
    /// Width and height of the room that they take, from the origin.
    pub size: [f64; 2],
    /// Millimetres of the face in a millimetre of paper.
    pub scale: f64,
}

/// Draws a face with its tags, to fit into a room of so many millimetres of paper, and no larger than it is.
pub(super) fn face_alone(part: &CoveredPart, shown: &Face, room: [f64; 2]) -> FaceDrawing {
    let bounds = shown.outline.bounds();
    let round = [2.0 * BESIDE, 2.0 * BESIDE + HEAD];
    let sides = [bounds.width(), bounds.height()];
    let scale = [0, 1].map(|axis| sides[axis] / (room[axis] - round[axis])).into_iter().fold(1.0, f64::max);
    let pen = Pen { scale };
    let size = [0, 1].map(|axis| sides[axis] + pen.mm(round[axis]));
    FaceDrawing { drawing: face(part, shown, &map_flags(part), [0.0; 2], pen), size, scale }
}

/// The marks of a part's map, each on a strip of [`SAMPLE`] millimetres of paper, with what they mean.
pub(super) fn samples(part: &CoveredPart, rows: &[MapRow]) -> Vec<(Group, &'static str)> {
    let pen = Pen { scale: 1.0 };
    let drawn = |(sample, words): (key::Sample, &'static str)| (sample.drawn((0.5, 3.0), pen), words);
    key::samples(part, rows).into_iter().map(drawn).collect()
}

/// Width and height of the strip that a sample is drawn on.
pub(super) const SAMPLE: [f64; 2] = [12.0, 4.2];

/// What the sheet is, and what it is not.
fn heading(job: &Job, part: &CoveredPart, pen: Pen) -> Group {
    let title = format!("{}: {}, covering map", job.name, part.name);
    let fuselage = part.faces.iter().any(|face| face.surface == Surface::Fuselage);
    let tapes = if fuselage { "across, then lengthwise" } else { "along the chord, along the span, the tip bow last" };
    let order = format!(
        "Work in this order: patches over fittings, then tapes by their numbers: {tapes}. Faces are seen from outside. \
         Print on A3 or tabloid, fitted to the page; the drawing is not to a scale of its own."
    );
    let words = [(order.as_str(), 20.0), (PLANNING_AID, 23.6)];
    let strong = classed("strong", text(&title, pen.at(LEFT, 15.0), pen.mm(5.0), Anchor::Start));
    words.into_iter().fold(group("heading").add(strong), |drawing, (words, y)| {
        drawing.add(text(words, pen.at(LEFT, y), pen.mm(LETTERS), Anchor::Start))
    })
}

/// The figures and the key, line by line, column by column.
fn columns(lines: &[Line], layout: &Layout, job: &Job, pen: Pen) -> Group {
    let mut drawing = group("figures");
    let mut column = 0;
    let mut row = 0;
    for (index, line) in lines.iter().enumerate() {
        let held = layout.columns.get(column).map_or(0, |column| column.lines);
        // No heading stands at the foot of a column, away from its lines.
        let alone = line.is_heading() && row + 1 >= held && lines.len() > index + 1;
        if row >= held || alone {
            (column, row) = (column + 1, 0);
        }
        if row == 0 && line.is_blank() {
            continue;
        }
        let Some(Column { at: [x, y], .. }) = layout.columns.get(column) else { break };
        drawing = line.drawn(drawing, (*x, y + STEP * (row as f64 + 0.8)), job, pen);
        row += 1;
    }
    drawing
}
