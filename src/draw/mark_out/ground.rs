//! The cloth on which pieces are drawn: its edges, its end, its selvages, the way of the warp.

use geo_types::Coord;

use super::flow::SMALL;
use super::view::View;
use super::{MarkOutSheets, layer};
use crate::draw::pdf::{Page, Pen, text_width};
use crate::shape::Path;

/// What is free round the cloth for words, in millimetres of the page: left and right, above and below.
pub(super) const ROUND: [f64; 2] = [9.0, 4.0];

const EDGE: Pen = Pen { width: 0.25, dash: &[], ink: [0.35; 3] };
const END: Pen = Pen { width: 0.8, dash: &[], ink: [0.0; 3] };
const GOES_ON: Pen = Pen { width: 0.25, dash: &[2.0, 1.2], ink: [0.35; 3] };
const SELVAGE: Pen = Pen { width: 0.15, dash: &[1.0, 1.0], ink: [0.5; 3] };
/// Length of the arrow of the warp.
const ARROW: f64 = 14.0;

/// What is written at the left end of a stretch that is not the cloth's end, and at its right end.
pub(super) struct Ends {
    pub left: String,
    pub right: String,
}

/// Draws a stretch of cloth.
pub(super) fn draw_ground(page: &mut Page, view: &View, sheets: &MarkOutSheets, ends: &Ends) {
    let (low, high) = (view.frame().min(), view.frame().max());
    let usable = sheets.laid.usable;
    page.on(layer::DRAWING, |page| {
        for y in [low.y, high.y] {
            page.stroke(&Path::line(Coord { x: low.x, y }, Coord { x: high.x, y }), &EDGE);
        }
        for y in usable.into_iter().filter(|y| *y > 0.0 && *y < view.width) {
            let at = |x: f64| view.at(Coord { x, y });
            page.stroke(&Path::line(at(view.span[0]), at(view.span[1])), &SELVAGE);
        }
        let upright = |x: f64| Path::line(Coord { x, y: low.y }, Coord { x, y: high.y });
        page.stroke(&upright(low.x), if view.span[0] <= 0.0 { &END } else { &GOES_ON });
        page.stroke(&upright(high.x), &GOES_ON);
    });
    page.on(layer::TEXT, |page| {
        let left = if view.span[0] <= 0.0 { "the cloth's end" } else { &ends.left };
        beside(page, left, low.x - 1.2, [low.y, high.y]);
        beside(page, &ends.right, high.x + 1.2 + 0.75 * SMALL, [low.y, high.y]);
        page.text("lower edge", Coord { x: low.x, y: low.y - 1.2 - 0.75 * SMALL }, SMALL, 0.0);
    });
    warp(page, Coord { x: high.x, y: high.y + 2.0 });
}

/// Words that run upwards beside an end, in its middle, as long as they have room.
fn beside(page: &mut Page, words: &str, x: f64, [low, high]: [f64; 2]) {
    let size = SMALL.min((high - low + 6.0) / text_width(words).max(1.0));
    page.text(words, Coord { x, y: (low + high - text_width(words) * size) / 2.0 }, size, 90.0);
}

/// The arrow of the warp, ending at a point, with its word before it.
fn warp(page: &mut Page, to: Coord<f64>) {
    let from = Coord { x: to.x - ARROW, ..to };
    page.on(layer::DRAWING, |page| {
        page.stroke(&Path::line(from, to), &EDGE);
        for (tip, back) in [(to, -1.5), (from, 1.5)] {
            let barb = |aside: f64| Coord { x: tip.x + back, y: tip.y + aside };
            if let Some(head) = Path::through(&[barb(0.6), tip, barb(-0.6)]) {
                page.stroke(&head, &EDGE);
            }
        }
    });
    let at = Coord { x: from.x - 1.5 - text_width("warp") * SMALL, y: to.y - 0.36 * SMALL };
    page.on(layer::TEXT, |page| page.text("warp", at, SMALL, 0.0));
}
