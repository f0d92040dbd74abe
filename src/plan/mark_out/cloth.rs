//! A whole cloth marked out: its large pieces in the order of cutting, and the windows of a table shorter than the cloth.

use std::collections::BTreeSet;

use geo_types::{Coord, LineString, Polygon};

use super::{MarkOut, Rounding, mark_out};
use crate::plan::{LaidCloth, LaidPiece, cutting_order};
use crate::shape::{Outline, OutlineFault};

/// A rest of cloth so short that it lies on the table with the window before it, in millimetres.
const NO_WINDOW: f64 = 1.0;

/// How a cloth is marked out.
#[derive(Clone, Debug, PartialEq)]
pub struct MarkOutWish {
    /// What lengths are rounded to.
    pub rounding: Rounding,
    /// Names of the pieces that are marked out by dimensions; the others are traced from their templates.
    pub large: BTreeSet<String>,
    /// Length of the table in millimetres; `None` where the whole cloth lies on it.
    pub table: Option<f64>,
}

/// A cloth with its pieces marked out.
#[derive(Clone, Debug, PartialEq)]
pub struct MarkedCloth {
    /// Every piece in the order of cutting.
    pub steps: Vec<MarkedPiece>,
    /// The parts of the cloth that lie on the table one after the other; one for all where the table is long enough.
    pub windows: Vec<Window>,
}

/// A piece in the order of cutting.
#[derive(Clone, Debug, PartialEq)]
pub struct MarkedPiece {
    /// Which piece, as a place in [`LaidCloth::pieces`].
    pub piece: usize,
    /// Its dimensions, where it is large.
    pub marks: Option<MarkOut>,
}

/// A part of the cloth that lies on the table.
#[derive(Clone, Debug, PartialEq)]
pub struct Window {
    /// Where it begins and ends, from the cloth's end.
    pub span: [f64; 2],
    /// What lies wholly in it, as places in [`MarkedCloth::steps`].
    pub whole: Vec<usize>,
    /// What goes on into the next one.
    pub crossing: Vec<Crossing>,
}

/// A piece that goes on into the next window.
#[derive(Clone, Debug, PartialEq)]
pub struct Crossing {
    /// Which piece, as a place in [`MarkedCloth::steps`].
    pub step: usize,
    /// Where its edge crosses the end of the window, from the cloth's lower edge, rounded, in rising order: to be marked
    /// before the cloth is pulled on, and found again afterwards.
    pub marks: Vec<f64>,
}

/// Marks out a cloth of a lay.
///
/// # Errors
/// [`OutlineFault`] where an outline of the lay is not sound, which the independent check would have said.
pub fn marked_cloth(laid: &LaidCloth, wish: &MarkOutWish) -> Result<MarkedCloth, OutlineFault> {
    let mut steps = Vec::new();
    for piece in cutting_order(laid) {
        let marks = match wish.large.contains(&laid.pieces[piece].piece) {
            true => Some(mark_out(&outline(&laid.pieces[piece])?, wish.rounding)),
            false => None,
        };
        steps.push(MarkedPiece { piece, marks });
    }
    let windows = windows(laid, &steps, wish);
    Ok(MarkedCloth { steps, windows })
}

fn outline(piece: &LaidPiece) -> Result<Outline, OutlineFault> {
    let ring = |points: &[[f64; 2]]| {
        let mut ring: Vec<Coord<f64>> = points.iter().map(|[x, y]| Coord { x: *x, y: *y }).collect();
        ring.extend(ring.first().copied());
        LineString::new(ring)
    };
    Outline::new(Polygon::new(ring(&piece.outline), piece.holes.iter().map(|hole| ring(hole)).collect()))
}

fn windows(laid: &LaidCloth, steps: &[MarkedPiece], wish: &MarkOutWish) -> Vec<Window> {
    let length = laid.length_used;
    let table = wish.table.unwrap_or(length).max(f64::MIN_POSITIVE);
    let count = ((length - NO_WINDOW) / table).ceil().max(1.0) as usize;
    let window = |index: usize| {
        let to = if index + 1 == count { length } else { (index + 1) as f64 * table };
        let span = [index as f64 * table, to];
        window(laid, steps, span, wish.rounding)
    };
    (0..count).map(window).collect()
}

fn window(laid: &LaidCloth, steps: &[MarkedPiece], [from, to]: [f64; 2], rounding: Rounding) -> Window {
    let mut whole = Vec::new();
    let mut crossing = Vec::new();
    for (step, marked) in steps.iter().enumerate() {
        let piece = &laid.pieces[marked.piece];
        let [least, most] = piece.span(0);
        if least >= from && least < to && most <= to {
            whole.push(step);
        } else if least < to && most > to {
            let marks = piece.crossings(0, to).into_iter().map(|y| rounding.round(y)).collect();
            crossing.push(Crossing { step, marks });
        }
    }
    Window { span: [from, to], whole, crossing }
}
