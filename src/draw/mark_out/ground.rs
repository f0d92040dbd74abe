//! The cloth on which pieces are drawn: its edges, its end, its selvages, the way of the warp.

use geo_types::{Coord, Rect};

use super::arrow::{ARROW, Heads, draw_arrow};
use super::flow::SMALL;
use super::view::View;
use super::{MarkOutSheets, layer};
use crate::draw::pdf::{Page, Pen, text_width};
use crate::shape::Path;

/// What is free round the cloth for words, in millimetres of the page: left and right, above and below.
const ROUND: [f64; 2] = [9.0, 4.5];

const EDGE: Pen = Pen { width: 0.35, dash: &[], ink: [0.35; 3] };
const END: Pen = Pen { width: 0.8, dash: &[], ink: [0.0; 3] };
const GOES_ON: Pen = Pen { width: 0.25, dash: &[2.0, 1.2], ink: [0.35; 3] };
const SELVAGE: Pen = Pen { width: 0.15, dash: &[1.0, 1.0], ink: [0.5; 3] };

/// What is written where the drawing stops short of the cloth's end, of its lower edge, and at the right.
#[derive(Default)]
pub(super) struct Ends {
    pub left: String,
    pub below: String,
    pub right: String,
}

/// The room of a drawing without what stands round the cloth.
pub(super) fn within(room: Rect<f64>) -> Rect<f64> {
    let round = Coord { x: ROUND[0], y: ROUND[1] };
    Rect::new(room.min() + round, room.max() - round)
}

/// The scale at which a part of the cloth is drawn in a width and a height, and the height that it takes then.
pub(super) fn scale_and_height(part: [f64; 2], [width, height]: [f64; 2]) -> [f64; 2] {
    let scale = ((width - 2.0 * ROUND[0]) / part[0]).min((height - 2.0 * ROUND[1]) / part[1]);
    [scale, scale * part[1] + 2.0 * ROUND[1]]
}

/// Draws a part of the cloth.
pub(super) fn draw_ground(page: &mut Page, view: &View, sheets: &MarkOutSheets, ends: &Ends) {
    let (low, high) = (view.frame().min(), view.frame().max());
    let (least, most) = (view.part.min(), view.part.max());
    let (at_end, at_edge, at_upper) = (least.x <= 0.0, least.y <= 0.0, most.y >= sheets.laid.width);
    page.on(layer::DRAWING, |page| {
        let level = |y: f64| Path::line(Coord { x: low.x, y }, Coord { x: high.x, y });
        let upright = |x: f64| Path::line(Coord { x, y: low.y }, Coord { x, y: high.y });
        for y in sheets.laid.usable.into_iter().filter(|y| *y > least.y.max(0.0) && *y < most.y.min(sheets.laid.width))
        {
            page.stroke(&level(view.at(Coord { x: 0.0, y }).y), &SELVAGE);
        }
        page.stroke(&level(low.y), if at_edge { &EDGE } else { &GOES_ON });
        page.stroke(&level(high.y), if at_upper { &EDGE } else { &GOES_ON });
        page.stroke(&upright(high.x), &GOES_ON);
        page.stroke(&upright(low.x), if at_end { &END } else { &GOES_ON });
    });
    page.on(layer::TEXT, |page| {
        beside(page, if at_end { "cloth's end" } else { &ends.left }, low.x - 1.2, [low.y, high.y]);
        beside(page, &ends.right, high.x + 1.2 + 0.75 * SMALL, [low.y, high.y]);
        let below = if at_edge { "lower edge" } else { &ends.below };
        page.text(below, Coord { x: low.x, y: low.y - 1.2 - 0.75 * SMALL }, SMALL, 0.0);
    });
    let warp = Coord { x: high.x - ARROW / 2.0, y: high.y + 2.2 };
    draw_arrow(page, warp, 0.0, Heads::Both, "warp");
}

/// Words that run upwards beside an end, in its middle.
fn beside(page: &mut Page, words: &str, x: f64, [low, high]: [f64; 2]) {
    let size = SMALL.min((high - low + 7.0) / text_width(words).max(1.0));
    page.text(words, Coord { x, y: (low + high - text_width(words) * size) / 2.0 }, size, 90.0);
}
