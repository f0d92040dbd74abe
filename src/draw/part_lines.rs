//! The lines of a panel on a part's drawing, and the words beside them.

use geo_types::Coord;
use svg::node::element::Group;

use crate::covering::{CoveredPart, Panel};
use crate::job::MemberClass;
use crate::shape::Outline;

use super::frame::{Frame, line};
use super::ink::{Anchor, group, path, text};
use super::part_marks::NAME;

/// From the cut line inwards: cut, end of the lap, end of the wrap, outline of the frame.
pub(super) fn outlines(panel: &Panel, frame: &Frame) -> Group {
    let mut drawing = group("outlines");
    for strip in &panel.strips {
        drawing = drawing.add(path("plain", frame.path(strip.cut.polygon())));
    }
    // Once more on top: at a seam, the cut line of one strip lies under the next strip.
    for strip in panel.strips.iter().filter(|_| panel.strips.len() > 1) {
        drawing = drawing.add(path("cut", frame.path(strip.cut.polygon())));
    }
    let finished = panel.plan.finished.flatten().ok();
    let inner: [(&str, Option<&Outline>); 3] =
        [("wrap", Some(&panel.wrapped)), ("trim", Some(&panel.trimmed)), ("finished", finished.as_ref())];
    for (class, outline) in inner {
        if let Some(outline) = outline {
            // A line that lies on another hides it, or the dashes of both would make a third pattern.
            let data = frame.path(outline.polygon());
            drawing = drawing.add(path("beneath", data.clone())).add(path(class, data));
        }
    }
    for fold in &panel.plan.marks.folds {
        drawing = drawing.add(path("beneath", between(*fold, frame))).add(path("fold", between(*fold, frame)));
    }
    for cut in &panel.plan.marks.relief_cuts {
        drawing = drawing.add(path("relief-cut", between(*cut, frame)));
    }
    drawing
}

pub(super) fn members(panel: &Panel, frame: &Frame, letters: f64) -> Group {
    let mut drawing = group("members");
    for member in panel.plan.members.chunk_by(|line, next| next.continues(line)) {
        let lines: Vec<String> = member.iter().map(|line| between(line.ends, frame)).collect();
        drawing = drawing.add(path("member", lines.join(" ")));
        // A bent member has its word once, beside its longest line.
        let longest = member.iter().reduce(|best, line| if line.length() > best.length() { line } else { best });
        if let Some(line) = longest {
            drawing = drawing.add(label(line.class_word(), line.ends, frame, letters, word_place(line.class)));
        }
    }
    drawing
}

/// How far along a member its word stands: a nose sheet often ends on a spar, and both shall be read.
fn word_place(class: MemberClass) -> f64 {
    if class == MemberClass::NoseSheet { 0.3 } else { 0.62 }
}

pub(super) fn seams(panel: &Panel, frame: &Frame, letters: f64) -> Group {
    let mut drawing = group("seams");
    for seam in &panel.seams {
        drawing = drawing.add(path("seam", between(seam.ends, frame)));
        drawing = drawing.add(label("seam", seam.ends, frame, letters, 0.25));
    }
    drawing
}

/// The hinge line, mirrored where the panel is.
pub(super) fn hinge(part: &CoveredPart, panel: &Panel, frame: &Frame, letters: f64) -> Group {
    let mut drawing = group("hinge-line");
    if let Some(hinge) = part.hinge {
        let hand = if panel.mirrored { -1.0 } else { 1.0 };
        let ends = hinge.map(|[x, y]| Coord { x, y: hand * y });
        drawing = drawing.add(path("hinge", between(ends, frame))).add(label("hinge", ends, frame, letters, 0.4));
    }
    drawing
}

fn between(ends: [Coord<f64>; 2], frame: &Frame) -> String {
    let [from, to] = ends.map(|end| frame.point(end));
    line((from.x, from.y), (to.x, to.y))
}

/// A word beside a line, so far along it.
fn label(word: &str, ends: [Coord<f64>; 2], frame: &Frame, letters: f64, along: f64) -> svg::node::element::Element {
    let [from, to] = ends.map(|end| frame.point(end));
    let at = from + (to - from) * along;
    let across = (to.y - from.y).abs() > (to.x - from.x).abs();
    let shift = if across { (0.4 * letters, 0.0) } else { (0.0, -0.4 * letters) };
    text(word, (at.x + shift.0, at.y + shift.1), NAME * letters, Anchor::Start)
}
