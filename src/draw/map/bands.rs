//! Tapes as bands of their true width, in the order in which they are laid: what lies over what can be seen.

use geo_types::Coord;
use svg::node::element::Group;

use super::super::frame::{Frame, number};
use super::super::ink::{group, path};
use super::pen::Pen;
use crate::covering::{TapeOrder, TapeRun};

/// Width of the line along both edges of a band, in millimetres of paper.
const EDGE: f64 = 0.2;

/// The class of a tape's band.
pub(super) fn tint(order: TapeOrder) -> &'static str {
    match order {
        TapeOrder::Chordwise => "chordwise",
        TapeOrder::Spanwise => "spanwise",
        TapeOrder::TipBow => "tip-bow",
    }
}

/// The tapes of a face.
pub(super) fn bands(tapes: &[TapeRun], face: usize, frame: &Frame, pen: Pen) -> Group {
    let mut drawing = group("tapes");
    for tape in tapes {
        for leg in tape.lines().filter(|leg| leg.face == face) {
            let bias = tape.is_bias();
            drawing = drawing.add(band(&polyline(&leg.run, frame), tint(tape.order), tape.width, bias, pen));
        }
    }
    drawing
}

/// A band of a width in millimetres of the face.
pub(super) fn band(data: &str, tint: &str, width: f64, bias: bool, pen: Pen) -> Group {
    let inner = (width - pen.mm(2.0 * EDGE)).max(0.0);
    let mut drawing = Group::new()
        .add(path("band", data.to_owned()).set("stroke-width", number(width)))
        .add(path(tint, data.to_owned()).set("stroke-width", number(inner)));
    if bias {
        drawing = drawing.add(path("bias-line", data.to_owned()));
    }
    drawing
}

/// Path data of a line through points of the face.
pub(super) fn polyline(run: &[Coord<f64>], frame: &Frame) -> String {
    let mut data = String::new();
    for (index, point) in run.iter().enumerate() {
        let at = frame.point(*point);
        data.push_str(&format!("{}{} {}", if index == 0 { 'M' } else { 'L' }, number(at.x), number(at.y)));
    }
    data
}
