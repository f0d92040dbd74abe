//! What was taken from a drawing, drawn true to size: every shape where it lay, with its number, and a list below.

use geo_types::Coord;
use svg::Document;
use svg::node::element::Rectangle;

use crate::plan::{area, size};
use crate::shape::drawing::{Taken, TakenShape};
use crate::units::Units;

use super::frame::{Frame, number};
use super::ink::{Anchor, group, path, style, text, tooltip};
use super::lettering::{LINE_STEP, size_within, text_width};
use super::scale_bar::bar_of;

/// What a preview says of itself; by it a later one knows that it may take the place.
const HEADING: &str = "Preview of shapes taken from ";

/// Draws the shapes taken from the drawing called `name`, in true size.
pub fn trace_sheet(name: &str, taken: &Taken, units: Units) -> String {
    let [low, high] = corners(&taken.shapes);
    let (drawn, tall) = (high.x - low.x, high.y - low.y);
    let lettering = size_within(drawn.max(tall) / 40.0);
    let margin = 2.0 * lettering;
    let frame = Frame { left: margin - low.x, top: margin + low.y, width: tall };
    let mut shapes = group("pieces");
    let mut list = group("list");
    let step = LINE_STEP * lettering;
    let heading = format!("{HEADING}{name}");
    let top = tall + 2.0 * margin + lettering;
    list = list.add(text(&heading, (margin, top), lettering, Anchor::Start));
    let mut width = text_width(&heading) * lettering;
    for (index, shape) in taken.shapes.iter().enumerate() {
        let Ok(outline) = shape.curve.shifted(shape.at).flatten() else { continue };
        let middle = frame.point(shape.at + Coord { x: shape.size[0], y: shape.size[1] } / 2.0);
        let letters = size_within(shape.size[0].min(shape.size[1]) / 2.0).min(lettering);
        shapes = shapes.add(path("plain", frame.path(outline.polygon())).set("fill-rule", "evenodd"));
        let place = (middle.x, middle.y + 0.35 * letters);
        shapes = shapes.add(text(&(index + 1).to_string(), place, letters, Anchor::Middle));
        let words = words(index, shape, units);
        list = list.add(text(&words, (margin, top + step * (index + 1) as f64), lettering, Anchor::Start));
        width = width.max(text_width(&words) * lettering);
    }
    let below = top + step * (taken.shapes.len() + 1) as f64;
    let bar = bar_of(units, lettering);
    let (width, height) = (width.max(drawn).max(bar.width) + 2.0 * margin, below + bar.height + margin);
    let document = Document::new()
        .set("width", format!("{}mm", number(width)))
        .set("height", format!("{}mm", number(height)))
        .set("viewBox", format!("0 0 {} {}", number(width), number(height)))
        .add(tooltip(&heading))
        .add(style())
        .add(Rectangle::new().set("fill", "#ffffff").set("width", number(width)).set("height", number(height)))
        .add(shapes)
        .add(list)
        .add(bar.drawing.set("transform", format!("translate({} {})", number(margin), number(below))));
    format!("{document}\n")
}

/// Whether a text is a preview that [`trace_sheet`] drew.
pub fn is_trace_sheet(text: &str) -> bool {
    text.starts_with("<svg") && text.contains(&format!("<title>{HEADING}"))
}

fn words(index: usize, shape: &TakenShape, units: Units) -> String {
    let holes = match shape.holes {
        0 => String::new(),
        1 => ", 1 hole".to_owned(),
        holes => format!(", {holes} holes"),
    };
    format!("{}  {}: {}, {}{holes}", index + 1, shape.name, size(shape.size, units), area(shape.curve.area(), units))
}

/// Lower left and upper right corner of all shapes.
fn corners(shapes: &[TakenShape]) -> [Coord<f64>; 2] {
    let far = f64::INFINITY;
    shapes.iter().fold([Coord { x: far, y: far }, Coord { x: -far, y: -far }], |[low, high], shape| {
        let [x, y] = shape.size;
        [
            Coord { x: low.x.min(shape.at.x), y: low.y.min(shape.at.y) },
            Coord { x: high.x.max(shape.at.x + x), y: high.y.max(shape.at.y + y) },
        ]
    })
}
