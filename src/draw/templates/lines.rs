//! The lines of a template on a page.

use geo_types::{Coord, Rect};

use super::sheet::layer;
use crate::draw::pdf::{Page, Pen};
use crate::job::Edge;
use crate::plan::{LineKind, Template};
use crate::shape::{Path, Stretch};

const BLACK: [f64; 3] = [0.0; 3];
const GREY: [f64; 3] = [0.4; 3];

/// How coarsely a stretch is looked at to find out whether it is on the page, in millimetres.
const LOOK: f64 = 0.5;

/// How a kind of line is drawn; a pinked edge is a full line, and the line from tip to tip a fine one.
pub(super) fn pen(kind: LineKind, pinked: bool) -> Pen {
    let (width, dash, ink): (f64, &'static [f64], _) = match kind {
        LineKind::Cut if pinked => (0.13, &[0.5, 0.8], BLACK),
        LineKind::Cut | LineKind::Teeth => (0.3, &[], BLACK),
        LineKind::CutAfterShrinking => (0.3, &[4.0, 2.0], BLACK),
        LineKind::Finished => (0.18, &[], GREY),
        LineKind::Wrap => (0.25, &[1.5, 1.5], BLACK),
        LineKind::Lap => (0.25, &[6.0, 2.0], BLACK),
        LineKind::Centre => (0.15, &[8.0, 1.5, 1.5, 1.5], GREY),
        LineKind::Member => (0.5, &[], GREY),
        LineKind::Seam => (0.4, &[8.0, 2.0, 2.0, 2.0], BLACK),
        LineKind::Hinge => (0.25, &[12.0, 2.0, 2.0, 2.0], BLACK),
    };
    Pen { width, dash, ink }
}

/// The layer of a kind of line.
pub(super) fn layer_of(kind: LineKind) -> usize {
    match kind {
        LineKind::Cut | LineKind::Teeth | LineKind::CutAfterShrinking => layer::CUT,
        LineKind::Finished | LineKind::Wrap | LineKind::Lap => layer::LAPS,
        LineKind::Centre | LineKind::Member | LineKind::Seam | LineKind::Hinge => layer::MEMBERS,
    }
}

/// Draws every line of a template that is in page coordinates already, as far as it touches a part of the page.
pub(super) fn draw_lines(page: &mut Page, template: &Template, room: Rect<f64>) {
    let pinked = matches!(template.edge, Edge::Pinked(_));
    for wanted in [layer::LAPS, layer::MEMBERS, layer::CUT] {
        let lines: Vec<(LineKind, Path)> = template
            .lines
            .iter()
            .filter(|line| layer_of(line.kind) == wanted)
            .flat_map(|line| touching(&line.path, room).into_iter().map(|part| (line.kind, part)))
            .collect();
        if !lines.is_empty() {
            page.on(wanted, |page| lines.iter().for_each(|(kind, path)| page.stroke(path, &pen(*kind, pinked))));
        }
    }
}

/// The path, or what of it touches a part of the page, so that no sheet carries the lines of all.
fn touching(path: &Path, room: Rect<f64>) -> Vec<Path> {
    let mut parts: Vec<Path> = Vec::new();
    let (mut from, mut open, mut left_out) = (path.start, false, false);
    for stretch in &path.stretches {
        let there = touches(from, stretch, room);
        match parts.last_mut() {
            Some(part) if there && open => part.stretches.push(*stretch),
            _ if there => parts.push(Path { start: from, stretches: vec![*stretch], closed: false }),
            _ => {}
        }
        (open, left_out, from) = (there, left_out || !there, stretch.end());
    }
    if !left_out { vec![path.clone()] } else { parts }
}

fn touches(from: Coord<f64>, stretch: &Stretch, room: Rect<f64>) -> bool {
    let path = Path { start: from, stretches: vec![*stretch], closed: false };
    let (mut low, mut high) = (from, from);
    for point in path.points(LOOK) {
        low = Coord { x: low.x.min(point.x), y: low.y.min(point.y) };
        high = Coord { x: high.x.max(point.x), y: high.y.max(point.y) };
    }
    let reach = 2.0 * LOOK;
    low.x <= room.max().x + reach
        && high.x >= room.min().x - reach
        && low.y <= room.max().y + reach
        && high.y >= room.min().y - reach
}
