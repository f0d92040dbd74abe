//! Crosses over the cloth, each with its distances from the roll's end and from the lower edge, so that a printed part
//! of the sheet still says where it is. They keep clear of cut lines and of all that is written on the pieces.

use geo::{BoundingRect, Contains, Intersects, MapCoords};
use geo_types::{Coord, LineString, Point, Polygon, Rect};
use svg::node::element::Group;

use super::flaw_marks::FlawMark;
use super::frame::line;
use super::geometry::laid_polygon;
use super::ink::{Anchor, classed, group, path, text};
use super::lettering::{size_within, text_width};
use super::measures::{LaySheet, Measures};
use super::piece_marks::Marks;
use super::ruler::numbered_step;

/// Distance from cross to cross, at least, in letter sizes of the sheet.
const APART: f64 = 8.5;
/// Letters of a cross in letter sizes of the sheet: less cannot be read where the whole sheet is on a screen.
const LETTERS: f64 = 0.7;
/// Where a cross is tried, in half steps of the ruler from where it should stand.
const ASIDE: [(f64, f64); 9] =
    [(0.0, 0.0), (0.0, 1.0), (0.0, -1.0), (1.0, 0.0), (-1.0, 0.0), (1.0, 1.0), (-1.0, -1.0), (1.0, -1.0), (-1.0, 1.0)];

/// The crosses of a sheet, on the cloth that is used.
pub(super) fn crosses(sheet: &LaySheet, measures: &Measures, marks: &Marks, flaws: &[FlawMark]) -> Group {
    let size = size_within(measures.lettering * LETTERS).max(2.5);
    let step = step(measures);
    let half = numbered_step(measures) / 2.0;
    let offcut = sheet.cloth.outline.as_ref().and_then(|outline| outline.flatten().ok());
    let on_cloth = |at: Coord<f64>| offcut.as_ref().is_none_or(|cloth| cloth.polygon().contains(&Point(at)));
    let (taken, edges) = (taken(sheet, marks, flaws), edges(sheet, flaws));
    let extent = Rect::new((0.0, 0.0), (sheet.laid.length_used, measures.frame.width));
    let places = |length: f64| (1..).map(|count| f64::from(count) * step).take_while(move |place| *place < length);
    let (mut lines, mut layer) = (String::new(), group("crosses"));
    for along in places(sheet.laid.length_used) {
        for across in places(measures.frame.width) {
            let candidates = ASIDE.iter().map(|(x, y)| Coord { x: along + x * half, y: across + y * half });
            let free = |at: &Coord<f64>| {
                let covered = covered(*at, &words(*at, measures), size);
                let on_edge = || edges.iter().any(|edge| meet(edge, &covered));
                let on_words = || taken.iter().any(|taken| meet(taken, &covered));
                on_cloth(*at) && extent.contains(&covered) && !on_edge() && !on_words()
            };
            let Some(at) = candidates.into_iter().find(free) else { continue };
            let (x, y, arm) = (measures.frame.x(at.x), measures.frame.y(at.y), ARM * size);
            lines.push_str(&line((x - arm, y), (x + arm, y)));
            lines.push_str(&line((x, y - arm), (x, y + arm)));
            let words = text(&words(at, measures), (x + 0.4 * size, y + 1.2 * size), size, Anchor::Start);
            layer = layer.add(classed("over-lines", words));
        }
    }
    layer.add(path("cross", lines))
}

/// Half the length of a cross, in sizes of its letters.
const ARM: f64 = 1.2;

fn words(at: Coord<f64>, measures: &Measures) -> String {
    format!("x {}, y {}", measures.units.show_number(at.x), measures.units.show_number(at.y))
}

/// What a cross and its words cover of the cloth.
fn covered(at: Coord<f64>, words: &str, size: f64) -> Rect<f64> {
    let arm = ARM * size;
    Rect::new((at.x - arm, at.y - 1.5 * size), (at.x + arm.max((0.4 + text_width(words)) * size), at.y + arm))
}

/// All that is written on the cloth.
fn taken(sheet: &LaySheet, marks: &Marks, flaws: &[FlawMark]) -> Vec<Polygon<f64>> {
    let on_pieces = sheet.laid.pieces.iter().flat_map(|laid| {
        let written = marks.of(laid).map_or(&[][..], |mark| &mark.taken[..]);
        written.iter().map(|polygon| polygon.map_coords(|point| point + Coord { x: laid.at[0], y: laid.at[1] }))
    });
    on_pieces.chain(flaws.iter().filter_map(FlawMark::taken)).collect()
}

/// The cut lines and the edges of flaws.
fn edges(sheet: &LaySheet, flaws: &[FlawMark]) -> Vec<LineString<f64>> {
    let laid = sheet.laid.pieces.iter().map(laid_polygon);
    let polygons = laid.chain(flaws.iter().map(|flaw| flaw.outline.polygon().clone()));
    polygons
        .flat_map(|polygon| {
            let (outer, holes) = polygon.into_inner();
            std::iter::once(outer).chain(holes)
        })
        .collect()
}

fn meet<T>(shape: &T, covered: &Rect<f64>) -> bool
where
    T: BoundingRect<f64> + Intersects<Rect<f64>>,
    T::Output: Into<Option<Rect<f64>>>,
{
    shape.bounding_rect().into().is_some_and(|bounds| bounds.intersects(covered)) && shape.intersects(covered)
}

/// Whole steps of the ruler, far enough apart to leave the pieces readable.
fn step(measures: &Measures) -> f64 {
    let numbered = numbered_step(measures);
    numbered * libm::ceil(APART * measures.lettering / numbered)
}
