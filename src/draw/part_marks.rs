//! The names of a panel's edges and corners, and the arrows that say how it lies.

use geo_types::Coord;
use svg::node::element::Group;

use crate::covering::{EdgeName, Panel};
use crate::job::GrainDirection;

use super::frame::{Frame, line, number};
use super::ink::{Anchor, group, path, text};
use super::lettering::text_width;

/// Room round a panel for the names of its edges, in letter sizes.
pub(super) const BESIDE: f64 = 2.4;
/// Height of the row of arrows, in letter sizes.
pub(super) const WAYS: f64 = 2.6;
/// Size of the names, in letter sizes.
pub(super) const NAME: f64 = 0.85;
/// Length of an arrow, in letter sizes.
const ARROW: f64 = 2.2;

/// The names of the edges, outside the cut line and along it. A name that is longer than its edge has a letter there,
/// which [`edge_notes`] explain.
pub(super) fn edge_names(panel: &Panel, frame: &Frame, letters: f64) -> Group {
    let mut drawing = group("edge-names");
    for (edge, words) in panel.plan.marks.edges.iter().zip(written(panel, letters)) {
        let outwards = Coord { x: edge.along.y, y: -edge.along.x };
        let forward = edge.along.x > 1e-6 || (edge.along.x > -1e-6 && edge.along.y > 0.0);
        let reading = if forward { edge.along } else { Coord { x: -edge.along.x, y: -edge.along.y } };
        // Words stand on their line above the cloth and hang from it below.
        let gap = if forward { 0.4 + 0.75 * NAME } else { 0.4 };
        let at = frame.point(edge.at + outwards * (edge.out + gap * letters));
        let turn = -libm::atan2(reading.y, reading.x).to_degrees();
        let mut name = text(&words, (at.x, at.y), NAME * letters, Anchor::Middle);
        let turned = format!("rotate({} {} {})", number(turn), number(at.x), number(at.y));
        svg::Node::assign(&mut name, "transform", turned);
        drawing = drawing.add(name);
    }
    drawing
}

/// What the letters beside edges stand for.
pub(super) fn edge_notes(panel: &Panel, letters: f64) -> Vec<String> {
    let edges = panel.plan.marks.edges.iter().zip(written(panel, letters));
    edges
        .filter(|(edge, written)| edge.words != *written)
        .map(|(edge, letter)| format!("edge {letter}: {}", edge.words))
        .collect()
}

/// What stands beside each edge: its name, or a letter.
fn written(panel: &Panel, letters: f64) -> Vec<String> {
    let mut next = ('A'..='Z').chain('a'..='z');
    let fits = |edge: &EdgeName| text_width(&edge.words) * NAME * letters <= edge.length + 2.0 * edge.out;
    let edges = panel.plan.marks.edges.iter();
    edges.map(|edge| if fits(edge) { None } else { next.next() }.map_or(edge.words.clone(), String::from)).collect()
}

/// The names of the corners, outside the cut line.
pub(super) fn corners(panel: &Panel, frame: &Frame, letters: f64) -> Group {
    let mut drawing = group("corner-names");
    for name in &panel.plan.marks.corners {
        let size = name.outwards.x.hypot(name.outwards.y);
        let way = if size > 0.0 { name.outwards / size } else { Coord { x: 0.0, y: 1.0 } };
        // A name is wider than it is high, and stands off by as much as it reaches back.
        let reach = way.x.abs() * text_width(&name.words) / 2.0 + way.y.abs() / 2.0;
        let at = frame.point(name.at + name.outwards + way * (0.4 + reach * NAME) * letters);
        let at = (at.x, at.y + 0.36 * NAME * letters);
        drawing = drawing.add(text(&name.words, at, NAME * letters, Anchor::Middle));
    }
    drawing
}

/// Arrows for the warp, the front, the top or the tip, in a row; `at` is its left end, half way up.
pub(super) fn ways(panel: &Panel, (x, y): (f64, f64), letters: f64) -> Group {
    let mut drawing = group("ways");
    let along = Coord { x: 1.0, y: 0.0 };
    let across = Coord { x: 0.0, y: 1.0 };
    let warp: &[Coord<f64>] = match panel.plan.grain.direction {
        GrainDirection::Along => &[along],
        GrainDirection::Across => &[across],
        GrainDirection::Either => &[along, across],
        GrainDirection::Bias | GrainDirection::Free => &[],
    };
    let warp_words = if warp.len() == 2 { "warp, either way" } else { "warp" };
    let mut right = x;
    let rows = (!warp.is_empty()).then(|| (warp_words, warp.to_vec(), true));
    let named = panel.plan.marks.ways.iter().map(|way| (way.word, vec![way.towards], false));
    for (words, towards, both_ends) in rows.into_iter().chain(named) {
        let middle = (right + ARROW / 2.0 * letters, y);
        for way in towards {
            drawing = drawing.add(path("grain", arrow(middle, way, letters, both_ends)));
        }
        let at = (right + (ARROW + 0.5) * letters, y + 0.35 * letters);
        drawing = drawing.add(text(words, at, letters, Anchor::Start));
        right += (ARROW + 2.5 + text_width(words)) * letters;
    }
    drawing
}

/// An arrow that points a way in the coordinates of the cloth; warp runs both ways, and so does its arrow.
pub(super) fn arrow(middle: (f64, f64), way: Coord<f64>, letters: f64, both_ends: bool) -> String {
    let at = |ahead: f64, aside: f64| {
        let [ahead, aside] = [ahead, aside].map(|length| length * letters);
        (middle.0 + ahead * way.x - aside * way.y, middle.1 - ahead * way.y - aside * way.x)
    };
    let end = ARROW / 2.0;
    let head = |end: f64, back: f64| [line(at(back, 0.3), at(end, 0.0)), line(at(back, -0.3), at(end, 0.0))].concat();
    let tail = if both_ends { head(-end, 0.7 - end) } else { String::new() };
    [line(at(-end, 0.0), at(end, 0.0)), head(end, end - 0.7), tail].concat()
}
