//! Crosses over the cloth, each with its distances from the roll's end and from the lower edge, so that a printed part
//! of the sheet still says where it is.

use geo::Contains;
use geo_types::Point;
use svg::node::element::Group;

use super::frame::line;
use super::ink::{Anchor, group, path, text};
use super::lettering::size_within;
use super::measures::{LaySheet, Measures};
use super::ruler::numbered_step;

/// Distance from cross to cross, at least, in letter sizes of the sheet.
const APART: f64 = 8.5;

/// The crosses of a sheet.
pub(super) fn crosses(sheet: &LaySheet, measures: &Measures) -> Group {
    let size = size_within(measures.lettering * 0.18).max(2.5);
    let arm = 1.2 * size;
    let step = step(measures);
    let offcut = sheet.cloth.outline.as_ref().and_then(|outline| outline.flatten().ok());
    let on_cloth = |x: f64, y: f64| offcut.as_ref().is_none_or(|cloth| cloth.polygon().contains(&Point::new(x, y)));
    let places = |length: f64| (1..).map(|count| f64::from(count) * step).take_while(move |place| *place < length);
    let (mut lines, mut layer) = (String::new(), group("crosses"));
    for along in places(measures.drawn) {
        for across in places(measures.frame.width).filter(|across| on_cloth(along, *across)) {
            let (x, y) = (measures.frame.x(along), measures.frame.y(across));
            lines.push_str(&line((x - arm, y), (x + arm, y)));
            lines.push_str(&line((x, y - arm), (x, y + arm)));
            let words = format!("{} · {}", measures.units.show_number(along), measures.units.show_number(across));
            layer = layer.add(text(&words, (x + 0.4 * size, y + 1.2 * size), size, Anchor::Start));
        }
    }
    layer.add(path("cross", lines))
}

/// Whole steps of the ruler, far enough apart to leave the pieces readable.
fn step(measures: &Measures) -> f64 {
    let numbered = numbered_step(measures);
    numbered * libm::ceil(APART * measures.lettering / numbered)
}
