//! Arrows with a word before them: the warp, and what lies which way.

use geo_types::Coord;

use super::flow::SMALL;
use super::layer;
use crate::draw::pdf::{Page, Pen, text_width};
use crate::shape::{Path, sin_cos_degrees};

const PEN: Pen = Pen { width: 0.25, dash: &[], ink: [0.0; 3] };
/// Length of an arrow, in millimetres.
pub(super) const ARROW: f64 = 12.0;
/// Length and half the width of its head.
const HEAD: [f64; 2] = [1.6, 0.6];

/// Which ends of an arrow have heads.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Heads {
    One,
    Both,
}

/// Draws an arrow about a point, in a direction in degrees, with its word to the left of it; gives the width of both.
pub(super) fn draw_arrow(page: &mut Page, middle: Coord<f64>, degrees: f64, heads: Heads, word: &str) -> f64 {
    let (sin, cos) = sin_cos_degrees(degrees);
    let (ahead, aside) = (Coord { x: cos, y: sin }, Coord { x: -sin, y: cos });
    // An arrow across the line of words is shorter, so that it stays in its line.
    let half = ahead * (ARROW / 2.0 * cos.abs().max(0.3));
    page.on(layer::DRAWING, |page| {
        page.stroke(&Path::line(middle - half, middle + half), &PEN);
        let ways: &[f64] = if heads == Heads::Both { &[1.0, -1.0] } else { &[1.0] };
        for way in ways {
            let tip = middle + half * *way;
            let back = tip - ahead * (HEAD[0] * way);
            if let Some(head) = Path::through(&[back + aside * HEAD[1], tip, back - aside * HEAD[1]]) {
                page.stroke(&head, &PEN);
            }
        }
    });
    let width = text_width(word) * SMALL;
    let at = Coord { x: middle.x - half.x.abs() - 1.5 - width, y: middle.y - 0.36 * SMALL };
    page.on(layer::TEXT, |page| page.text(word, at, SMALL, 0.0));
    2.0 * half.x.abs() + 1.5 + width
}
