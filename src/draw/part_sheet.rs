//! A drawing of a part: every panel true to size, with the lines that matter between drawing and scissors, its members,
//! its seams and the figures that it was made from.

use svg::Document;
use svg::node::element::{Group, Rectangle};

use crate::covering::{CoveredPart, Panel};
use crate::job::Job;
use crate::plan::{PLANNING_AID, grain_words, size};

use super::frame::{Frame, number};
use super::ink::{Anchor, classed, group, style, text, tooltip};
use super::lettering::{LINE_STEP, block_width, size_within};
use super::part_key::part_key;
use super::part_lines::{hinge, members, outlines, seams};
use super::part_marks::{BESIDE, WAYS, corners, edge_names, edge_notes, ways};
use super::part_style::part_style;
use super::scale_bar::bar_of;
use super::title_block::wrapped;

/// Lines of lettering that a sheet is high or long.
const LINES_ON_A_SHEET: f64 = 90.0;
/// Height of a panel's name and of the arrows below it, in letter sizes.
const HEAD: f64 = 2.0 + WAYS;
/// Least width of the figures below a panel, in letter sizes.
const FIGURES_WIDTH: f64 = 40.0;

/// A panel with the room it takes on the sheet.
struct Cell<'p> {
    panel: &'p Panel,
    figures: Vec<String>,
    width: f64,
    height: f64,
}

/// Draws a covered part as an SVG document in true size: one user unit is one millimetre.
pub fn part_sheet(job: &Job, part: &CoveredPart) -> String {
    let letters = lettering(part);
    let cells: Vec<Cell> = part.panels.iter().map(|panel| cell(job, panel, letters)).collect();
    let margin = 3.0 * letters;
    let head = heading(job, part, letters);
    let top = margin + head.1;
    let in_row = in_a_row(&cells, letters);
    let mut drawing = Group::new().add(head.0);
    let (mut x, mut y, mut right, mut bottom) = (margin, top, margin, top);
    for cell in &cells {
        drawing = drawing.add(cell.drawn(job, part, (x, y), letters));
        right = right.max(x + cell.width);
        bottom = bottom.max(y + cell.height);
        if in_row {
            x += cell.width + 4.0 * letters;
        } else {
            y += cell.height + 3.0 * letters;
        }
    }
    let key = part_key(part, letters);
    let bar = bar_of(job.units, letters);
    let beneath = bottom + 2.0 * letters;
    let at = |x: f64| format!("translate({} {})", number(x), number(beneath));
    let bar_at = margin + key.width + 4.0 * letters;
    drawing = drawing
        .add(Group::new().set("transform", at(margin)).add(key.drawing))
        .add(Group::new().set("transform", at(bar_at)).add(bar.drawing));
    let width = right.max(bar_at + bar.width).max(margin + head.2) + margin;
    let height = beneath + key.height.max(bar.height) + margin;
    let document = Document::new()
        .set("width", format!("{}mm", number(width)))
        .set("height", format!("{}mm", number(height)))
        .set("viewBox", format!("0 0 {} {}", number(width), number(height)))
        .add(tooltip(&format!("{}: panels of {}", job.name, part.name)))
        .add(style())
        .add(part_style(letters))
        .add(Rectangle::new().set("fill", "#ffffff").set("width", number(width)).set("height", number(height)))
        .add(drawing);
    format!("{document}\n")
}

/// Letters that can be read where the whole sheet is seen.
fn lettering(part: &CoveredPart) -> f64 {
    let extents = part.panels.iter().map(|panel| panel.cut.bounds());
    let (mut across, mut high, mut widest) = (0.0, 0.0, 0.0_f64);
    for bounds in extents {
        across += bounds.width();
        high += bounds.height();
        widest = widest.max(bounds.width()).max(bounds.height());
    }
    size_within(widest.max(f64::min(across, high)) / LINES_ON_A_SHEET).max(2.5)
}

/// Whether the panels stand side by side: whichever way is nearer to a square.
fn in_a_row(cells: &[Cell], letters: f64) -> bool {
    let between = 4.0 * letters * cells.len() as f64;
    let sum = |side: fn(&Cell) -> f64| cells.iter().map(side).sum::<f64>() + between;
    let most = |side: fn(&Cell) -> f64| cells.iter().map(side).fold(0.0, f64::max);
    let (row, column) = ([sum(|c| c.width), most(|c| c.height)], [most(|c| c.width), sum(|c| c.height)]);
    let squareness = |[width, height]: [f64; 2]| (width / height).max(height / width);
    squareness(row) <= squareness(column)
}

/// The name of job and part, and what this sheet is; with its height and width.
fn heading(job: &Job, part: &CoveredPart, letters: f64) -> (Group, f64, f64) {
    let title = format!("{}: {}", job.name, part.name);
    let x = 3.0 * letters;
    let mut drawing =
        group("heading").add(classed("strong", text(&title, (x, 4.5 * letters), 1.6 * letters, Anchor::Start)));
    let about = "Panels as they are cut, seen from outside, true to size. Edges are cut plain, and never enlarged for shrinkage.";
    let mut y = 6.4 * letters;
    let mut width = block_width(&[title]) * 1.6 * letters;
    for words in wrapped(about, 60.0).into_iter().chain(wrapped(PLANNING_AID, 60.0)) {
        drawing = drawing.add(classed("faint", text(&words, (x, y), letters, Anchor::Start)));
        width = width.max(block_width(&[words]) * letters);
        y += LINE_STEP * letters;
    }
    (drawing, y, width)
}

fn cell<'p>(job: &Job, panel: &'p Panel, letters: f64) -> Cell<'p> {
    let bounds = panel.cut.bounds();
    let columns = (bounds.width() / letters).max(FIGURES_WIDTH);
    let cut = size([bounds.width(), bounds.height()], job.units);
    let copies = if panel.plan.quantity == 1 { "cut once".to_owned() } else { format!("cut {}", panel.plan.quantity) };
    let first = format!("{copies}: {}; cut size {cut}; grain {}", panel.plan.goes, grain_words(panel.plan.grain));
    let mut figures = wrapped(&first, columns);
    for words in edge_notes(panel, letters).into_iter().chain(panel.figure_lines(job.units)) {
        figures.extend(wrapped(&words, columns));
    }
    let width = (bounds.width() + 2.0 * BESIDE * letters).max(block_width(&figures) * letters);
    let height = (HEAD + 2.0 * BESIDE + LINE_STEP * figures.len() as f64) * letters + bounds.height();
    Cell { panel, figures, width, height }
}

impl Cell<'_> {
    fn drawn(&self, job: &Job, part: &CoveredPart, (x, y): (f64, f64), letters: f64) -> Group {
        let bounds = self.panel.cut.bounds();
        let frame = Frame {
            left: x + BESIDE * letters - bounds.min().x,
            top: y + (HEAD + BESIDE) * letters,
            width: bounds.height() + bounds.min().y,
        };
        let mut drawing = group("panel")
            .add(classed("strong", text(&self.panel.plan.name, (x, y + 1.2 * letters), 1.2 * letters, Anchor::Start)))
            .add(outlines(self.panel, &frame))
            .add(members(self.panel, &frame, letters))
            .add(seams(self.panel, &frame, letters))
            .add(hinge(part, self.panel, &frame, letters))
            .add(corners(self.panel, &frame, letters))
            .add(edge_names(self.panel, &frame, letters))
            .add(ways(self.panel, (x, y + (HEAD - WAYS / 2.0) * letters), letters));
        let mut down = y + (HEAD + 2.0 * BESIDE + LINE_STEP) * letters + bounds.height();
        for words in &self.figures {
            drawing = drawing.add(text(words, (x, down), letters, Anchor::Start));
            down += LINE_STEP * letters;
        }
        drawing.add(tooltip(&format!("{}: {}", job.name, self.panel.plan.name)))
    }
}
