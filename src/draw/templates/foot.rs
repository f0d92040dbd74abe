//! The foot of a sheet: what it is, and check lengths in both directions.

use geo_types::{Coord, Rect};

use super::sheet::{Layout, layer};
use crate::draw::pdf::{Page, Pen, text_width};
use crate::shape::Path;

/// The check length on every sheet, in millimetres.
pub(super) const CHECK: f64 = 100.0;
/// The check length for who measures in inches: 4 in.
pub(super) const CHECK_INCHES: f64 = 101.6;
/// What stands beside a check length.
const CHECK_WORDS: &str = "100 mm on a true print: measure first";

pub(super) const THIN: Pen = Pen { width: 0.2, dash: &[], ink: [0.0; 3] };
/// The edge of the drawing on a sheet that is glued to others.
pub(super) const FRAME: Pen = Pen { width: 0.13, dash: &[], ink: [0.35; 3] };

/// Sizes of the letters of a foot, in millimetres.
const LARGE: f64 = 3.0;
const SMALL: f64 = 2.1;

/// Draws check lengths and words; gives the room that is left at the right of the foot.
pub(super) fn draw_foot(page: &mut Page, layout: &Layout, title: &str, details: &str) -> Rect<f64> {
    let (low, high) = (layout.foot.min(), layout.foot.max());
    let corner = Coord { x: low.x, y: low.y + 1.5 };
    page.on(layer::SHEET, |page| {
        check_length(page, Coord { x: corner.x + 0.5, ..corner }, CHECK, false, CHECK_WORDS);
        // Along the edge of the drawing, which is a line anyway on a sheet that is glued to others.
        check_length(page, layout.upright.min(), CHECK, true, CHECK_WORDS);
        let left = if layout.is_wide() { corner.x + CHECK + 6.0 } else { corner.x };
        let top = if layout.is_wide() { high.y - LARGE } else { low.y + 15.5 };
        let room = high.x - left - MINIATURE;
        page.text(&shortened(title, LARGE, room), Coord { x: left, y: top - 0.2 }, LARGE, 0.0);
        page.text(&shortened(details, SMALL, room), Coord { x: left, y: top - 3.9 }, SMALL, 0.0);
    });
    Rect::new(Coord { x: high.x - MINIATURE + 2.0, y: low.y + 0.5 }, Coord { x: high.x, y: high.y - 0.5 })
}

/// Width that is left for the miniature of a sheet's place.
const MINIATURE: f64 = 24.0;

/// A line of a known length with ticks at its ends and at its middle, from a point to the right or upwards.
pub(super) fn check_length(page: &mut Page, from: Coord<f64>, length: f64, upwards: bool, words: &str) {
    let at = |along: f64, aside: f64| match upwards {
        true => Coord { x: from.x - aside, y: from.y + along },
        false => Coord { x: from.x + along, y: from.y + aside },
    };
    page.stroke(&Path::line(at(0.0, 0.0), at(length, 0.0)), &THIN);
    for (along, tick) in [(0.0, 1.2), (length / 2.0, 0.8), (length, 1.2)] {
        page.stroke(&Path::line(at(along, -tick), at(along, tick)), &THIN);
    }
    let angle = if upwards { 90.0 } else { 0.0 };
    // Upright words stand at the other side, where there is room for them.
    let aside = if upwards { -0.7 - 0.75 * SMALL } else { 1.8 };
    page.text(words, at(2.0, aside), SMALL, angle);
}

/// A text that is cut short where there is no room for all of it.
pub(super) fn shortened(text: &str, size: f64, room: f64) -> String {
    if text_width(text) * size <= room {
        return text.to_owned();
    }
    let mut short: String = text.to_owned();
    while !short.is_empty() && (text_width(&short) + text_width("…")) * size > room {
        short.pop();
    }
    format!("{}…", short.trim_end())
}
