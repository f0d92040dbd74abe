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

use crate::covering::CoveredPart;
use crate::job::{Job, Surface};
use crate::plan::{PLANNING_AID, part_rows};

use super::frame::number;
use super::ink::{Anchor, classed, group, style, text, tooltip};
use face::face;
use layout::{Column, LEFT, Layout, PAPER, STEP, laid_out};
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
