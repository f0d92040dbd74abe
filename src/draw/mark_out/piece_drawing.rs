//! A large piece on its cloth: outline, numbered points, chords with their offsets, diagonals.

use geo_types::{Coord, Rect};

use super::flow::{HAIRLINE, SMALL};
use super::ground::{Ends, ROUND, draw_ground};
use super::view::View;
use super::{MarkOutSheets, layer};
use crate::draw::pdf::{Page, Pen, text_width};
use crate::plan::{LaidPiece, MarkOut, MarkRun};
use crate::shape::Path;

const EDGE: Pen = Pen { width: 0.35, dash: &[], ink: [0.0; 3] };
const CHORD: Pen = Pen { width: 0.12, dash: &[1.5, 1.0], ink: [0.0; 3] };
const DIAGONAL: Pen = Pen { width: 0.12, dash: &[4.0, 1.5, 0.8, 1.5], ink: [0.3; 3] };
const OFFSET: Pen = Pen { width: 0.12, dash: &[], ink: [0.0; 3] };
/// Cloth that is drawn beyond the piece, as a share of its length, and where it begins at the cloth's end, in millimetres.
const BEYOND: f64 = 0.04;
const NEAR_END: f64 = 600.0;
/// How far the number of a point stands off it, in millimetres of the page.
const OFF: f64 = 2.6;
/// Half the side of the square that marks a point.
const POINT: f64 = 0.6;

/// The stretch of cloth that is drawn round a piece: from the cloth's end where that is near.
pub(super) fn span_of(laid: &LaidPiece) -> [f64; 2] {
    let [least, most] = laid.span(0);
    let beyond = BEYOND * (most - least);
    [if least - beyond < NEAR_END { 0.0 } else { least - beyond }, most + beyond]
}

/// Draws a piece and what lies round it.
pub(super) fn draw_piece(page: &mut Page, room: Rect<f64>, sheets: &MarkOutSheets, step: usize, marks: &MarkOut) {
    let laid = sheets.laid_at(step);
    let round = Coord { x: ROUND[0], y: ROUND[1] };
    let view = View::fitted(span_of(laid), sheets.laid.width, Rect::new(room.min() + round, room.max() - round));
    let ends = Ends { left: format!("{} from the cloth's end", sheets.show(view.span[0])), right: String::new() };
    draw_ground(page, &view, sheets, &ends);
    page.on(layer::DRAWING, |page| {
        page.within(view.frame(), |page| {
            let others = sheets.laid.pieces.iter().filter(|other| *other != laid);
            others.filter_map(|other| view.ring(&other.outline)).for_each(|ring| page.stroke(&ring, &HAIRLINE));
        });
        for ring in std::iter::once(&laid.outline).chain(&laid.holes).filter_map(|ring| view.ring(ring)) {
            page.stroke(&ring, &EDGE);
        }
        draw_curves(page, &view, marks);
        for diagonal in &marks.diagonals {
            let [from, to] = diagonal.between.map(|end| view.at(marks.points[end].at));
            page.stroke(&Path::line(from, to), &DIAGONAL);
        }
        marks.points.iter().for_each(|point| draw_point(page, view.at(point.at)));
    });
    page.on(layer::TEXT, |page| {
        let number = sheets.key(step);
        let middle = view.at(middle(marks));
        page.text(&number, middle - Coord { x: text_width(&number) * 2.5, y: 1.8 }, 5.0, 0.0);
        draw_numbers(page, &view, marks);
    });
}

fn middle(marks: &MarkOut) -> Coord<f64> {
    let sum = marks.points.iter().fold(Coord { x: 0.0, y: 0.0 }, |sum, point| sum + point.at);
    sum / marks.points.len().max(1) as f64
}

fn draw_curves(page: &mut Page, view: &View, marks: &MarkOut) {
    for (index, run) in marks.runs.iter().enumerate() {
        let MarkRun::Curved { offsets, .. } = run else { continue };
        let (from, to) = (marks.points[index].at, marks.points[(index + 1) % marks.points.len()].at);
        page.stroke(&Path::line(view.at(from), view.at(to)), &CHORD);
        let along = (to - from) / crate::shape::distance(from, to).max(f64::MIN_POSITIVE);
        for offset in offsets {
            let foot = from + along * offset.along;
            page.stroke(&Path::line(view.at(foot), view.at(offset.at)), &OFFSET);
        }
    }
}

fn draw_point(page: &mut Page, at: Coord<f64>) {
    let corner = |x: f64, y: f64| at + Coord { x: x * POINT, y: y * POINT };
    let corners = [corner(-1.0, -1.0), corner(1.0, -1.0), corner(1.0, 1.0), corner(-1.0, 1.0), corner(-1.0, -1.0)];
    if let Some(square) = Path::through(&corners) {
        page.fill(&[Path { closed: true, ..square }], [0.0; 3]);
    }
}

/// The number of each point, inside the piece, off its edges.
fn draw_numbers(page: &mut Page, view: &View, marks: &MarkOut) {
    let count = marks.points.len();
    for index in 0..count {
        let at = |step: usize| view.at(marks.points[(index + step) % count].at);
        let (before, here, after) = (at(count - 1), at(0), at(1));
        let unit = |way: Coord<f64>| way / libm::hypot(way.x, way.y).max(f64::MIN_POSITIVE);
        let (one, other) = (unit(here - before), unit(after - here));
        // Inwards is to the left of a ring that runs counter-clockwise.
        let inwards = unit(Coord { x: -(one.y + other.y), y: one.x + other.x });
        let number = (index + 1).to_string();
        let size = 1.2 * SMALL;
        let half = Coord { x: text_width(&number) * size / 2.0, y: 0.36 * size };
        page.text(&number, here + inwards * OFF - half, size, 0.0);
    }
}
