//! Pages true to size: boxes in millimetres, layers that a viewer can switch, lines, and text in a font that travels
//! with the file. Knows nothing of what is drawn.
//!
//! Everything is in millimetres, x to the right and y up from the lower left corner of the page. The same pages give
//! the same bytes: no clock and no chance is in them. ISO 32000-1:2008 is the standard throughout.

mod document;
mod font;
mod page;

pub(super) use document::Document;
pub(super) use font::text_width;
pub(super) use page::{Page, Pen};

/// Points in a millimetre: a point is 1/72 in (ISO 32000-1:2008, 8.3.2.3).
const POINTS: f64 = 72.0 / 25.4;

/// The longest side of a page in millimetres: 14,400 points (ISO 32000-1:2008, annex C.2).
pub(super) const LONGEST_PAGE: f64 = 14_400.0 / POINTS;
