//! The covering map of a part: its faces with every tape, patch, ring, drain and lace in its place, printed on A3 (ISO 216)
//! or tabloid and read at arm's length. It is one sheet where nothing comes out small or hidden on that, else one for each face,
//! with further ones for figures that have no room beside it.
//!
//! The drawing's unit is a millimetre of the face; how many of them a millimetre of paper shows is the sheet's [`Pen`].

mod bands;
mod face;
mod key;
mod layout;
mod list;
mod pen;
mod rows;
mod sheets;
mod style;
mod tags;
mod wishes;

use svg::Document;
use svg::node::element::{Group, Rectangle};

use crate::covering::CoveredPart;
use crate::job::{Job, Surface};
use crate::plan::{MapRow, PLANNING_AID, map_flags, part_rows};

use super::frame::number;
use super::ink::{Anchor, classed, group, style, text, tooltip};
use face::face;
use layout::{BESIDE, Column, HEAD, HEADINGS, LEFT, Layout, PAPER, STEP};
use list::{Line, Words};
use pen::Pen;
use sheets::{Sheet, one_a_face, single};
use style::map_style;

/// Height of the letters of words, in millimetres of paper.
const LETTERS: f64 = 2.5;

/// Draws the map of a part: SVG documents, each as large as a sheet of A3.
pub fn map_sheets(job: &Job, part: &CoveredPart) -> Vec<String> {
    let rows = part_rows(job, part);
    let words = Words::new(job, part, &rows);
    if let Some(sheet) = single(part, &words) {
        let (faces, hidden) = drawn_faces(part, &words, &sheet);
        // Where a part has one face, another sheet of it would be no better.
        if hidden == 0 || part.faces.len() == 1 {
            return vec![document(job, part, &sheet, faces, [1, 1])];
        }
    }
    let sheets = one_a_face(part, &words);
    let draw = |(index, sheet): (usize, &Sheet)| {
        let (faces, _) = drawn_faces(part, &words, sheet);
        document(job, part, sheet, faces, [index + 1, sheets.len()])
    };
    sheets.iter().enumerate().map(draw).collect()
}

/// The faces of a sheet, and how many tags hide something.
fn drawn_faces(part: &CoveredPart, words: &Words, sheet: &Sheet) -> (Group, usize) {
    let pen = Pen { scale: sheet.layout.scale };
    let mut drawing = group("faces");
    let mut all_hidden = 0;
    for (index, place) in sheet.faces.iter().zip(&sheet.layout.faces) {
        let (drawn, hidden) = face(part, *index, &words.flags, *place, pen);
        drawing = drawing.add(drawn);
        all_hidden += hidden;
    }
    (drawing, all_hidden)
}

fn document(
    job: &Job,
    part: &CoveredPart,
    sheet: &Sheet,
    faces: Group,
    [number_of_sheet, count]: [usize; 2],
) -> String {
    let pen = Pen { scale: sheet.layout.scale };
    let mut title = format!("{}: {}, covering map", job.name, part.name);
    if !sheet.about.is_empty() {
        title.push_str(&format!(", {}", sheet.about));
    }
    if count > 1 {
        title.push_str(&format!(" (sheet {number_of_sheet} of {count})"));
    }
    let drawing = heading(part, &title, pen).add(faces).add(columns(&sheet.lines, &sheet.layout, job, pen));
    let [width, height] = PAPER.map(|length| number(pen.mm(length)));
    let document = Document::new()
        .set("width", format!("{}mm", number(PAPER[0])))
        .set("height", format!("{}mm", number(PAPER[1])))
        .set("viewBox", format!("0 0 {width} {height}"))
        .add(tooltip(&title))
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
pub(super) fn face_alone(part: &CoveredPart, index: usize, room: [f64; 2]) -> FaceDrawing {
    let bounds = part.faces[index].outline.bounds();
    let round = [2.0 * BESIDE, 2.0 * BESIDE + HEAD];
    let sides = [bounds.width(), bounds.height()];
    let scale = [0, 1].map(|axis| sides[axis] / (room[axis] - round[axis])).into_iter().fold(1.0, f64::max);
    let pen = Pen { scale };
    let size = [0, 1].map(|axis| sides[axis] + pen.mm(round[axis]));
    let (drawing, _) = face(part, index, &map_flags(part), [0.0; 2], pen);
    FaceDrawing { drawing, size, scale }
}

/// The marks of a part's map, each on a strip of [`SAMPLE`] millimetres of paper, with what they mean.
pub(super) fn samples(part: &CoveredPart, rows: &[MapRow]) -> Vec<(Group, &'static str)> {
    let pen = Pen { scale: 1.0 };
    let faces: Vec<usize> = (0..part.faces.len()).collect();
    let drawn = |(sample, words): (key::Sample, &'static str)| (sample.drawn((0.5, 3.0), pen), words);
    key::samples(part, &faces, &rows.iter().collect::<Vec<_>>()).into_iter().map(drawn).collect()
}

/// Width and height of the strip that a sample is drawn on.
pub(super) const SAMPLE: [f64; 2] = [12.0, 4.2];

/// What the sheet is, and what it is not.
fn heading(part: &CoveredPart, title: &str, pen: Pen) -> Group {
    let fuselage = part.faces.iter().any(|face| face.surface == Surface::Fuselage);
    let tapes = if fuselage { "across, then lengthwise" } else { "along the chord, along the span, the tip bow last" };
    let order = format!(
        "Work in this order: patches over fittings, then tapes by their numbers: {tapes}. Faces are seen from outside. \
         Print on A3 or tabloid, fitted to the page; the drawing is not to a scale of its own."
    );
    let words = [(order.as_str(), 20.0), (PLANNING_AID, 23.6)];
    let strong = classed("strong", text(title, pen.at(LEFT, 15.0), pen.mm(5.0), Anchor::Start));
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
        // No heading stands at the foot of a column, away from its lines; a second one may follow the first.
        let alone = line.is_heading() && row + HEADINGS >= held && lines.len() > index + 1;
        if row >= held || alone {
            (column, row) = (column + 1, 0);
        }
        if row == 0 && line.is_blank() {
            continue;
        }
        debug_assert!(column < layout.columns.len(), "a line of figures has no room on its sheet");
        let Some(Column { at: [x, y], .. }) = layout.columns.get(column) else { break };
        drawing = line.drawn(drawing, (*x, y + STEP * (row as f64 + 0.8)), job, pen);
        row += 1;
    }
    drawing
}
