//! A large piece on its cloth: outline, numbered points, chords with their offsets, diagonals, which way is forward.

use geo::MapCoords;
use geo_types::{Coord, Line, Rect};

use super::arrow::{ARROW, Heads, draw_arrow};
use super::flow::{HAIRLINE, SMALL};
use super::ground::{Ends, draw_ground, within};
use super::numbers::{POINT, number_places};
use super::view::View;
use super::{MarkOutSheets, layer};
use crate::draw::geometry::laid_polygon;
use crate::draw::label::{BoxShape, Room};
use crate::draw::pdf::{Page, Pen, text_width};
use crate::plan::{LaidPiece, MarkOut, MarkRun};
use crate::shape::{Path, distance};

const EDGE: Pen = Pen { width: 0.4, dash: &[], ink: [0.0; 3] };
const CHORD: Pen = Pen { width: 0.12, dash: &[1.5, 1.0], ink: [0.0; 3] };
const DIAGONAL: Pen = Pen { width: 0.12, dash: &[4.0, 1.5, 0.8, 1.5], ink: [0.3; 3] };
const OFFSET: Pen = Pen { width: 0.12, dash: &[], ink: [0.0; 3] };
/// Cloth that is drawn beyond the piece, as a share of its length, and at least, in millimetres.
const BEYOND: [f64; 2] = [0.03, 60.0];
/// An end or an edge of the cloth that is no farther off is drawn, in millimetres.
const NEAR: f64 = 500.0;
/// Largest letters of the number on the piece, in millimetres.
const NUMBER: f64 = 6.0;

/// The part of the cloth that is drawn round a piece.
pub(super) fn part_of(laid: &LaidPiece, width: f64) -> Rect<f64> {
    let [x, y] = [laid.span(0), laid.span(1)];
    let beyond = (BEYOND[0] * (x[1] - x[0])).max(BEYOND[1]);
    let least = |from: f64| if from < NEAR { 0.0 } else { from - beyond };
    let upper = if width - y[1] < NEAR { width } else { y[1] + beyond };
    Rect::new(Coord { x: least(x[0]), y: least(y[0]) }, Coord { x: x[1] + beyond, y: upper })
}

/// Draws a piece and what lies round it.
pub(super) fn draw_piece(page: &mut Page, room: Rect<f64>, sheets: &MarkOutSheets, step: usize, marks: &MarkOut) {
    let laid = sheets.laid_at(step);
    let view = View::fitted(part_of(laid, sheets.laid.width), within(room));
    let from = view.part.min();
    let ends = Ends {
        left: format!("{} from cloth's end", sheets.show(from.x)),
        below: format!("{} from lower edge", sheets.show(from.y)),
        right: String::new(),
    };
    draw_ground(page, &view, sheets, &ends);
    draw_ways(page, &view, sheets, step);
    page.on(layer::DRAWING, |page| {
        page.within(view.frame(), |page| {
            let others = sheets.laid.pieces.iter().filter(|other| *other != laid);
            others.filter_map(|other| view.ring(&other.outline)).for_each(|ring| page.stroke(&ring, &HAIRLINE));
        });
        for diagonal in &marks.diagonals {
            let [from, to] = diagonal.between.map(|end| view.at(marks.points[end].at));
            page.stroke(&Path::line(from, to), &DIAGONAL);
        }
        for ring in std::iter::once(&laid.outline).chain(&laid.holes).filter_map(|ring| view.ring(ring)) {
            page.stroke(&ring, &EDGE);
        }
        draw_curves(page, &view, marks);
        marks.points.iter().for_each(|point| draw_point(page, view.at(point.at)));
    });
    draw_words(page, &view, sheets, step, marks);
}

/// Which way forward, up and the like are, in the line above the cloth.
fn draw_ways(page: &mut Page, view: &View, sheets: &MarkOutSheets, step: usize) {
    let mut at = Coord { x: view.frame().min().x, y: view.frame().max().y + 2.2 };
    for (degrees, towards) in sheets.ways(step) {
        let width = text_width(towards) * SMALL + 1.5;
        at.x += width + ARROW / 2.0;
        draw_arrow(page, at, degrees, Heads::One, towards);
        at.x += ARROW / 2.0 + 4.0;
    }
}

fn draw_curves(page: &mut Page, view: &View, marks: &MarkOut) {
    for (index, run) in marks.runs.iter().enumerate() {
        let MarkRun::Curved { offsets, .. } = run else { continue };
        let (from, to) = (marks.points[index].at, marks.points[(index + 1) % marks.points.len()].at);
        page.stroke(&Path::line(view.at(from), view.at(to)), &CHORD);
        let along = (to - from) / distance(from, to).max(f64::MIN_POSITIVE);
        for offset in offsets {
            let foot = from + along * offset.along;
            page.stroke(&Path::line(view.at(foot), view.at(offset.at)), &OFFSET);
        }
    }
}

fn draw_point(page: &mut Page, at: Coord<f64>) {
    let corners = [(-1.0, -1.0), (1.0, -1.0), (1.0, 1.0), (-1.0, 1.0), (-1.0, -1.0)];
    if let Some(square) = Path::through(&corners.map(|(x, y)| at + Coord { x, y } * POINT)) {
        page.fill(&[Path { closed: true, ..square }], [0.0; 3]);
    }
}

/// The numbers of the points, and that of the piece off them and off the diagonals.
fn draw_words(page: &mut Page, view: &View, sheets: &MarkOutSheets, step: usize, marks: &MarkOut) {
    let points: Vec<Coord<f64>> = marks.points.iter().map(|point| view.at(point.at)).collect();
    let size = 1.1 * SMALL;
    let outline = laid_polygon(sheets.laid_at(step)).map_coords(|point| view.at(point));
    let mut room = Room::new(&outline);
    for diagonal in &marks.diagonals {
        let [from, to] = diagonal.between.map(|end| points[end]);
        room.keep_off(Line::new(from, to));
    }
    page.on(layer::TEXT, |page| {
        for (index, place) in number_places(&points, size).into_iter().enumerate() {
            let number = (index + 1).to_string();
            let half = Coord { x: text_width(&number) / 2.0, y: 0.36 } * size;
            page.text(&number, place - half, size, 0.0);
        }
        let number = sheets.key(step);
        let shape = BoxShape { width: text_width(&number) + 0.4, height: 1.2 };
        // What is narrow has its number beside it, in the title.
        if let Some(spot) = room.at_angle(shape, 0.0, NUMBER, None).filter(|spot| spot.size > SMALL) {
            let half = Coord { x: text_width(&number) / 2.0, y: 0.36 } * spot.size;
            page.text(&number, spot.at - half, spot.size, 0.0);
        }
    });
}
