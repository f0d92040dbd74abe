//! Where things stand on a sheet: the drawing, the foot below it, the upright check length in its corner.

use geo_types::{Coord, Rect};

use crate::draw::paper::PrintSheet;

/// Height of the foot where check length and words stand side by side, in millimetres.
const FOOT: f64 = 10.0;
/// Height of the foot of a narrow sheet, where they stand over each other.
const HIGH_FOOT: f64 = 19.0;
/// Width that a foot needs for both side by side.
const WIDE: f64 = 170.0;
/// Width and height of the room that the upright check length takes in the lower left corner of the drawing.
const UPRIGHT: [f64; 2] = [3.5, 103.0];

/// The layers of the file, in their order.
pub(super) const LAYERS: [&str; 5] = ["cut line", "wrap and lap lines", "member lines", "text", "sheet"];

/// The layers by what they hold.
pub(super) mod layer {
    /// Cut lines and teeth.
    pub const CUT: usize = 0;
    /// Wraps, laps, finished edges.
    pub const LAPS: usize = 1;
    /// Members, centre lines, seams, hinges.
    pub const MEMBERS: usize = 2;
    /// Everything that is written on templates.
    pub const TEXT: usize = 3;
    /// Check lengths, frames, marks to glue by.
    pub const SHEET: usize = 4;
}

/// A sheet of one page.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Layout {
    /// Width and height of the page.
    pub page: [f64; 2],
    /// Where templates are drawn.
    pub drawing: Rect<f64>,
    /// What stands below.
    pub foot: Rect<f64>,
    /// The upright check length, in a corner of the drawing.
    pub upright: Rect<f64>,
}

impl Layout {
    /// The layout of a whole sheet.
    pub fn of(sheet: &PrintSheet) -> Self {
        Self::in_room(sheet.size, sheet.printable())
    }

    /// The layout of a stretch of a roll on which the drawing is so high; of a sheet that is none, the whole of it.
    pub fn cut_off(sheet: &PrintSheet, height: f64) -> Self {
        let whole = Self::of(sheet);
        let spare = whole.drawing.height() - height.max(whole.least_height());
        if !sheet.roll || spare <= 0.0 {
            return whole;
        }
        let room = sheet.printable();
        let upper = Coord { x: room.max().x, y: room.max().y - spare };
        Self::in_room([sheet.size[0], sheet.size[1] - spare], Rect::new(room.min(), upper))
    }

    fn in_room(page: [f64; 2], room: Rect<f64>) -> Self {
        let (low, high) = (room.min(), room.max());
        let foot = if room.width() < WIDE { HIGH_FOOT } else { FOOT };
        let corner = Coord { x: low.x, y: low.y + foot };
        Self {
            page,
            drawing: Rect::new(corner, high),
            foot: Rect::new(low, Coord { x: high.x, y: low.y + foot }),
            upright: Rect::new(corner, corner + Coord { x: UPRIGHT[0], y: UPRIGHT[1] }),
        }
    }

    /// The least height of the drawing, for the upright check length.
    fn least_height(&self) -> f64 {
        110.0
    }

    /// Whether check length and words stand side by side in the foot.
    pub fn is_wide(&self) -> bool {
        self.foot.width() >= WIDE
    }
}
