//! Where things stand on a page: the room for figures and drawings, and the foot below it.

use geo_types::{Coord, Rect};

use crate::draw::paper::PrintSheet;

/// Height of the foot, in millimetres.
pub(super) const FOOT: f64 = 8.0;
/// Height of a page cut off a roll, in widths of it: about that of a sheet that stands.
const ROLL_HEIGHT: f64 = 1.4;

/// Width and height of a page.
pub(super) fn page_size(sheet: &PrintSheet) -> [f64; 2] {
    let [width, height] = sheet.size;
    [width, if sheet.roll { height.min(ROLL_HEIGHT * width) } else { height }]
}

/// What is free on a page above the foot.
pub(super) fn room(sheet: &PrintSheet) -> Rect<f64> {
    let [width, height] = page_size(sheet);
    let margins = sheet.margins;
    Rect::new(
        Coord { x: margins.left, y: margins.bottom + FOOT },
        Coord { x: width - margins.right, y: height - margins.top },
    )
}
