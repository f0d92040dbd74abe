//! A cloth with its lay as a drawing within the page.
//!
//! Its unit is a millimetre of cloth. Each kind of piece is drawn once and set in its places; what is written stands as on the
//! sheet of the cloth. Nothing in it has an id or a style that another drawing of the page could share.

use std::collections::BTreeMap;

use geo::Simplify;
use geo_types::{LineString, Polygon};
use svg::node::element::{Definitions, Group, Path, Use};

use crate::draw::frame::number;
use crate::draw::lettering::size_within;
use crate::draw::measures::{LaySheet, Measures};
use crate::draw::piece_marks::{PieceMark, marks};
use crate::draw::{cloth_layer, flaw_marks, piece_layer, ruler};
use crate::job::{Edge, GrainDirection, Piece};
use crate::plan::{LaidPiece, cutting_order};
use crate::shape::sin_cos_degrees;

/// How far a drawn outline may be from the true one, in millimetres: less than the width of a line.
const COARSE: f64 = 0.3;
/// Lines of lettering across a cloth.
const LINES: f64 = 30.0;
/// Length of a printed stretch of cloth, in widths of the drawing, and how much of it the next stretch shows again.
const STRETCH: f64 = 2.1;
const AGAIN: f64 = 0.06;

/// A drawing.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct ClothDrawing {
    /// Its marks, for the inside of an `svg` element.
    pub marks: String,
    /// The box that holds all of it: left, top, width, height.
    pub all: [f64; 4],
    /// Boxes of stretches that are large enough to be read on paper.
    pub stretches: Vec<[f64; 4]>,
}

/// Draws a cloth; `number` counts the cloths of the page and keeps their ids apart.
pub(super) fn cloth_drawing(sheet: &LaySheet, cloth: usize) -> ClothDrawing {
    let lettering = size_within(sheet.laid.width / LINES).max(2.5);
    let measures = Measures::lettered(sheet, lettering);
    let flaws = flaw_marks::flaw_marks(sheet, &measures);
    let above = cloth_layer::over(sheet, &measures, &flaws);
    let kinds = kinds(sheet);
    let drawing = Group::new()
        .add(definitions(sheet, &kinds, cloth))
        .add(cloth_layer::cloth(sheet, &measures))
        .add(pieces(sheet, &measures, &kinds, cloth))
        .add(above.drawing)
        .add(ruler::along(&measures))
        .add(ruler::across(&measures));
    let frame = measures.frame;
    let width = frame.x(measures.drawn).max(above.right) + lettering;
    let height = frame.y(0.0) + 2.5 * lettering;
    ClothDrawing { marks: drawing.to_string(), all: [0.0, 0.0, width, height], stretches: stretches(width, height) }
}

/// The places of the laid kinds among the pieces of the job.
fn kinds<'s>(sheet: &LaySheet<'s>) -> BTreeMap<&'s str, usize> {
    let is_laid = |piece: &Piece| sheet.laid.pieces.iter().any(|laid| laid.piece == piece.name);
    let laid = sheet.pieces.iter().enumerate().filter(|(_, piece)| is_laid(piece));
    laid.map(|(index, piece)| (piece.name.as_str(), index)).collect()
}

fn id(cloth: usize, piece: usize) -> String {
    format!("c{cloth}k{}", piece + 1)
}

fn definitions(sheet: &LaySheet, kinds: &BTreeMap<&str, usize>, cloth: usize) -> Definitions {
    // What is set in place is a copy that the style sheet does not reach: lines keep their width by this attribute.
    let outline = |index: &usize| {
        let path = Path::new().set("id", id(cloth, *index)).set("d", data(sheet.pieces[*index].cut.polygon()));
        path.set("vector-effect", "non-scaling-stroke")
    };
    kinds.values().map(outline).fold(Definitions::new(), Definitions::add)
}

/// The pieces in the order of cutting, so that each has the number of its line in the cut list.
fn pieces(sheet: &LaySheet, measures: &Measures, kinds: &BTreeMap<&str, usize>, cloth: usize) -> Group {
    let marks = marks(sheet, measures);
    let mut layer = Group::new();
    for (step, at) in cutting_order(sheet.laid).into_iter().enumerate() {
        let laid = &sheet.laid.pieces[at];
        let Some(index) = kinds.get(laid.piece.as_str()).copied() else { continue };
        let piece = &sheet.pieces[index];
        let shape = Use::new()
            .set("class", look(piece, laid))
            .set("href", format!("#{}", id(cloth, index)))
            .set("transform", placed(laid, measures));
        let mut drawing = Group::new().set("class", "piece").set("id", format!("c{cloth}p{}", step + 1)).add(shape);
        if let Some(mark) = marks.of(laid) {
            // The page tells the name of whatever is pointed at; here it stands once.
            let once = PieceMark { again: Vec::new(), ..mark.clone() };
            drawing = piece_layer::written(drawing, measures, laid, piece, &once, marks.number(index));
        }
        layer = layer.add(drawing);
    }
    layer
}

fn look(piece: &Piece, laid: &LaidPiece) -> String {
    let edge = if matches!(piece.edge, Edge::Pinked(_)) { "cut pinked" } else { "cut" };
    let bias = if piece.grain.direction == GrainDirection::Bias { " on-bias" } else { "" };
    let face = if laid.flipped { " face-down" } else { "" };
    format!("{edge}{bias}{face}")
}

/// From the piece's own coordinates to the drawing, whose y axis points down.
fn placed(laid: &LaidPiece, measures: &Measures) -> String {
    let (sin, cos) = sin_cos_degrees(laid.turn);
    let hand = if laid.flipped { -1.0 } else { 1.0 };
    let [x, y] = [measures.frame.x(laid.at[0]), measures.frame.y(laid.at[1])];
    let terms = [cos, -sin, -sin * hand, -cos * hand].map(|term| (term * 1e7).round() / 1e7 + 0.0);
    let [a, b, c, d] = terms;
    format!("matrix({a} {b} {c} {d} {} {})", number(x), number(y))
}

/// Path data of an outline in the piece's own coordinates, to a tenth of a millimetre.
fn data(polygon: &Polygon<f64>) -> String {
    let coarse = polygon.simplify(COARSE);
    std::iter::once(coarse.exterior()).chain(coarse.interiors()).map(ring).collect()
}

fn ring(ring: &LineString<f64>) -> String {
    let tenth = |value: f64| (value * 10.0).round() / 10.0 + 0.0;
    let points = ring.0.iter().take(ring.0.len().saturating_sub(1)).enumerate();
    let step = |(index, point): (usize, &geo_types::Coord<f64>)| {
        format!("{}{} {}", if index == 0 { 'M' } else { 'L' }, tenth(point.x), tenth(point.y))
    };
    points.map(step).chain(["Z".to_owned()]).collect()
}

/// The boxes of stretches one after the other; the last one reaches back so that it is as long as the others.
fn stretches(width: f64, height: f64) -> Vec<[f64; 4]> {
    let long = STRETCH * height;
    if width <= long * (1.0 + AGAIN) {
        return vec![[0.0, 0.0, width, height]];
    }
    let step = long * (1.0 - AGAIN);
    let count = ((width - long) / step).ceil() as usize + 1;
    (0..count).map(|index| [(index as f64 * step).min(width - long), 0.0, long, height]).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn stretches_leave_nothing_out() {
        for width in [500.0, 2100.0, 2250.0, 9000.0] {
            let all = stretches(width, 1000.0);
            assert_eq!(all[0][0], 0.0);
            assert!(all.windows(2).all(|pair| pair[1][0] <= pair[0][0] + pair[0][2]), "{all:?}");
            let last = all[all.len() - 1];
            assert!((last[0] + last[2] - width).abs() < 1e-9, "{all:?}");
        }
    }
}
