//! The cloth itself: edges, selvage, usable width, flaws, where to cut it off.

use geo_types::{Coord, Polygon, Rect};
use svg::node::element::Group;

use crate::shape::Curve;

use super::flaw_marks::FlawMark;
use super::frame::{line, number};
use super::ink::{Anchor, classed, group, path, text, tooltip};
use super::lettering::text_width;
use super::measures::{LaySheet, Measures};

/// Teeth of the line where the drawing breaks off.
const BREAK_TEETH: usize = 24;

/// The cloth beneath the pieces.
pub(super) fn cloth(sheet: &LaySheet, measures: &Measures) -> Group {
    let frame = &measures.frame;
    let [low, high] = sheet.laid.usable;
    let full = frame.path(&full_width(measures));
    let mut layer = group("cloth-layer");
    match sheet.cloth.outline.as_ref().map(Curve::flatten) {
        Some(Ok(outline)) => {
            layer = layer.add(path("unseen", full)).add(path("cloth", frame.path(outline.polygon())));
        }
        _ => layer = layer.add(path("cloth", full)),
    }
    for (from, to) in [(0.0, low), (high, sheet.laid.width)] {
        if to > from {
            let band = Rect::new(Coord { x: 0.0, y: from }, Coord { x: measures.drawn, y: to }).to_polygon();
            layer = layer.add(path("selvage", frame.path(&band)).set("style", "fill:url(#selvage)"));
        }
    }
    for y in [low, high] {
        layer = layer.add(path("usable", across_drawing(measures, y)));
    }
    layer
}

/// Marks over the pieces and above the cloth.
pub(super) struct Over {
    /// What they show.
    pub drawing: Group,
    /// The greatest sheet x that they reach.
    pub right: f64,
}

/// What lies over the pieces: flaws, the roll's end, where to cut it off, where the warp runs.
pub(super) fn over(sheet: &LaySheet, measures: &Measures, flaws: &[FlawMark]) -> Over {
    let mut drawing = group("cloth-marks");
    for flaw in flaws {
        drawing = drawing.add(flawed(flaw, measures));
    }
    let frame = &measures.frame;
    let (bottom, top) = (frame.y(0.0), frame.y(sheet.laid.width));
    let (warp, warp_right) = warp(sheet, measures);
    let cut = frame.x(sheet.laid.length_used);
    let size = measures.lettering;
    let used = measures.units.show(sheet.laid.length_used);
    let words = match sheet.cloth.outline {
        _ if measures.to_the_end => format!("the whole cloth is used: {used}"),
        None => format!("cut off here: {used}"),
        Some(_) => format!("used up to here: {used}"),
    };
    let wide = 1.1 * text_width(&words) * size;
    let beside_warp = cut - wide > warp_right + size;
    let (anchor, right) = if beside_warp { (Anchor::End, cut) } else { (Anchor::Start, cut + wide) };
    // Where there is no room beside the warp arrow, the words stand above it.
    let base = top - if beside_warp || cut > warp_right + size { 1.6 } else { 3.0 } * size;
    drawing = drawing
        .add(path("roll-end", line((frame.left, bottom), (frame.left, top))))
        .add(classed("strong", text(&words, (cut, base), size, anchor)))
        .add(warp);
    if !measures.to_the_end {
        drawing = drawing.add(path("cut-off", line((cut, bottom + 0.6 * size), (cut, base + 0.3 * size))));
    }
    Over { drawing, right }
}

/// The drawn part of the full width; a zigzag where the cloth goes on beyond the drawing.
fn full_width(measures: &Measures) -> Polygon<f64> {
    let (length, width) = (measures.drawn, measures.frame.width);
    let mut ring = vec![Coord { x: 0.0, y: 0.0 }, Coord { x: length, y: 0.0 }];
    if measures.broken_off {
        let depth = measures.lettering * 0.6;
        ring.extend((1..BREAK_TEETH).map(|tooth| Coord {
            x: length - if tooth % 2 == 1 { depth } else { 0.0 },
            y: width * tooth as f64 / BREAK_TEETH as f64,
        }));
    }
    ring.extend([Coord { x: length, y: width }, Coord { x: 0.0, y: width }]);
    Polygon::new(ring.into(), Vec::new())
}

fn across_drawing(measures: &Measures, y: f64) -> String {
    line((measures.frame.left, measures.frame.y(y)), (measures.frame.x(measures.drawn), measures.frame.y(y)))
}

fn flawed(flaw: &FlawMark, measures: &Measures) -> Group {
    let data = measures.frame.path(flaw.outline.polygon());
    let drawing = group("flaw-area")
        .add(tooltip(&format!("not to be used: {}", flaw.note)))
        .add(path("flaw", data).set("style", "fill:url(#no-cloth)"));
    let Some(spot) = flaw.spot else { return drawing };
    let at = measures.frame.point(spot.at);
    let words = text(&flaw.words, (at.x, at.y + 0.35 * spot.size), spot.size, Anchor::Middle);
    let mut label = group("flaw-note").add(classed("strong over-hatching", words));
    if spot.angle != 0.0 {
        label = label.set("transform", format!("rotate({} {} {})", number(-spot.angle), number(at.x), number(at.y)));
    }
    drawing.add(label)
}

/// An arrow above the cloth that shows where the warp runs, and how far to the right it reaches.
fn warp(sheet: &LaySheet, measures: &Measures) -> (Group, f64) {
    let size = measures.lettering;
    let (x, y) = (measures.frame.left, measures.frame.y(sheet.laid.width) - 2.0 * size);
    let (tip, head) = (x + 6.0 * size, 0.5 * size);
    let arrow = format!(
        "{}{}{}",
        line((x, y), (tip, y)),
        line((tip - head, y - head * 0.5), (tip, y)),
        line((tip - head, y + head * 0.5), (tip, y))
    );
    let words = "warp, along the roll";
    let drawing = group("warp").add(path("grain", arrow)).add(text(
        words,
        (tip + 0.6 * size, y + 0.35 * size),
        size,
        Anchor::Start,
    ));
    (drawing, tip + (0.6 + text_width(words)) * size)
}
