//! What the marks of a sheet mean; only marks that occur on it.

use svg::node::element::Group;

use crate::job::{Edge, GrainDirection, Piece};

use super::block::Block;
use super::frame::{line, number};
use super::ink::{Anchor, classed, group, path, text};
use super::lettering::text_width;
use super::measures::{LaySheet, Measures};
use super::piece_marks::Marks;

const ROW: f64 = 2.1;
const SAMPLE: f64 = 4.0;

/// The legend of a sheet.
pub(super) fn legend(sheet: &LaySheet, measures: &Measures, marks: &Marks) -> Block {
    let size = measures.lettering;
    let entries = entries(sheet, marks, size);
    let widest = entries.iter().map(|(words, _)| text_width(words)).fold(0.0, f64::max);
    let mut drawing =
        group("legend").add(classed("strong", text("What the marks mean", (0.0, size), size, Anchor::Start)));
    let mut y = 1.9 * size;
    for (words, sample) in entries {
        let there = format!("translate(0 {})", number(y));
        drawing = drawing.add(sample.set("transform", there)).add(text(
            &words,
            ((SAMPLE + 1.0) * size, y + 1.15 * size),
            size,
            Anchor::Start,
        ));
        y += ROW * size;
    }
    Block { drawing, width: (SAMPLE + 1.0 + widest) * size, height: y }
}

fn entries(sheet: &LaySheet, marks: &Marks, size: f64) -> Vec<(String, Group)> {
    let laid: Vec<(&Piece, bool)> = sheet
        .laid
        .pieces
        .iter()
        .filter_map(|laid| Some((&sheet.pieces[marks.piece_index(laid)?], laid.flipped)))
        .collect();
    let any = |test: &dyn Fn(&Piece) -> bool| laid.iter().any(|(piece, _)| test(piece));
    let pinked = |piece: &Piece| matches!(piece.edge, Edge::Pinked(_));
    let units = sheet.job.units;
    let mut entries: Vec<(String, Group)> = Vec::new();
    let mut entry = |words: &str, sample: Group| entries.push((words.to_owned(), sample));
    if any(&|piece| !pinked(piece)) {
        entry("piece with a plain edge: the line is the cut", swatch("plain", size));
    }
    if any(&pinked) {
        let sample = swatch("nominal", size).add(path("teeth", saw(size)));
        entry("piece with a pinked edge: tooth tips on the dotted line", sample);
    }
    if any(&|piece| piece.grain.direction == GrainDirection::Bias) {
        entry("lines along the warp: piece cut on the bias", hatched("plain", "bias", size));
    }
    let flipped_pinked = laid.iter().filter(|(_, flipped)| *flipped).all(|(piece, _)| pinked(piece));
    if laid.iter().any(|(_, flipped)| *flipped) {
        entry("dots: laid face down", hatched(if flipped_pinked { "nominal" } else { "plain" }, "face-down", size));
    }
    if any(&|piece| piece.grain.direction != GrainDirection::Free) {
        entry("arrow: the piece's grain line (its x axis)", group("sample").add(path("grain", arrow(size))));
    }
    if any(&|piece| piece.grain.direction == GrainDirection::Free) {
        entry("no arrow: any grain", group("sample"));
    }
    if sheet.job.gap > 0.0 {
        let words = format!("white band round a piece: half the gap of {}", units.show(sheet.job.gap));
        // Two pieces with the gap between them.
        let gap = path("", split(size)).set("style", "fill:#ffffff");
        entry(&words, swatch("plain", size).add(gap).add(path("tick", split(size))));
    }
    let cross = group("sample").add(path("cross", cross(size)));
    entry("cross: x from the roll's end, y from the lower edge", cross);
    if sheet.laid.usable[0] > 0.0 || sheet.laid.usable[1] < sheet.laid.width {
        entry("selvage, not used", hatched("cloth", "selvage-sample", size));
    }
    if !sheet.cloth.flaws.is_empty() {
        entry("crosshatched: flaw, not used", hatched("cloth", "no-cloth", size));
    }
    if !marks.key.is_empty() {
        let sample = group("sample").add(text("3·7", (SAMPLE * size / 2.0, 1.15 * size), size, Anchor::Middle));
        entry("3·7: number 3 of the key, copy 7", sample);
    }
    entries
}

fn bar(size: f64) -> String {
    let (width, height) = (number(SAMPLE * size), number(1.5 * size));
    format!("M0 0L{width} 0L{width} {height}L0 {height}Z")
}

/// A band across the middle of a bar.
fn split(size: f64) -> String {
    let [from, to] = [-0.25, 0.25].map(|aside| number((SAMPLE / 2.0 + aside) * size));
    format!("M{from} 0L{to} 0L{to} {0}L{from} {0}Z", number(1.5 * size))
}

fn swatch(class: &str, size: f64) -> Group {
    group("sample").add(path(class, bar(size)))
}

fn hatched(class: &str, pattern: &str, size: f64) -> Group {
    swatch(class, size).add(path("sample-hatching", bar(size)).set("style", format!("fill:url(#{pattern})")))
}

/// A bar with teeth, as far as a sample can show them.
fn saw(size: f64) -> String {
    let (width, height, tooth) = (SAMPLE * size, 1.5 * size, 0.25 * size);
    let count = libm::round(width / (2.0 * tooth)) as usize;
    let step = width / count as f64;
    let point = |x: f64, y: f64| format!("{} {}", number(x), number(y));
    let mut data = format!("M{}", point(0.0, 0.0));
    for index in 0..count {
        let x = index as f64 * step;
        data.push_str(&format!("L{}L{}", point(x + step / 2.0, tooth), point(x + step, 0.0)));
    }
    for index in (0..count).rev() {
        let x = index as f64 * step;
        let corner = if index == count - 1 { format!("L{}", point(width, height)) } else { String::new() };
        data.push_str(&format!("{corner}L{}L{}", point(x + step / 2.0, height - tooth), point(x, height)));
    }
    data.push('Z');
    data
}

fn cross(size: f64) -> String {
    let (x, y, arm) = (SAMPLE * size / 2.0, 0.75 * size, 0.6 * size);
    format!("{}{}", line((x - arm, y), (x + arm, y)), line((x, y - arm), (x, y + arm)))
}

fn arrow(size: f64) -> String {
    let (y, end, head) = (0.75 * size, SAMPLE * size, 0.6 * size);
    [
        line((0.0, y), (end, y)),
        line((end - head, y - 0.25 * size), (end, y)),
        line((end - head, y + 0.25 * size), (end, y)),
    ]
    .concat()
}
