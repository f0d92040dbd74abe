//! The lines of a piece whose outline the job gives.

use geo::{Distance, Euclidean};
use geo_types::{Coord, LineString, Point};

use super::template::{LineKind, Template, TemplateLine, Use};
use crate::job::{Edge, Piece};
use crate::plan::grain_words;
use crate::shape::{Curve, FLATTENING, Outline, Path, Pose, pinked};
use crate::units::Units;

/// The template of a piece.
pub(super) fn of_piece(piece: &Piece, units: Units) -> Template {
    let mut lines = cut_lines(piece);
    lines.extend(finished(piece));
    lines.extend(centre_lines(&piece.cut));
    Template {
        number: 0,
        uses: vec![Use {
            piece: piece.name.clone(),
            part: None,
            goes: piece.goes.clone(),
            copies: piece.quantity,
            turned_over: false,
            figures: figures(piece, units),
        }],
        cut: piece.cut.clone(),
        lines,
        size: piece.size,
        edge: piece.edge,
        grain: piece.grain,
        grain_line: 0.0,
        bearings: Vec::new(),
        mirrored: false,
    }
}

/// Cut line, holes and teeth of a piece.
pub(super) fn cut_lines(piece: &Piece) -> Vec<TemplateLine> {
    let line = |kind| move |path| TemplateLine { kind, path, word: None };
    let mut rings = cut_paths(piece).into_iter();
    let mut lines: Vec<TemplateLine> = rings.next().map(line(LineKind::Cut)).into_iter().collect();
    if let Edge::Pinked(teeth) = piece.edge {
        let toothed = pinked(&piece.cut, teeth.pitch, teeth.depth);
        lines.extend(Path::ring(toothed.exterior()).map(line(LineKind::Teeth)));
    }
    lines.extend(rings.map(line(LineKind::CutAfterShrinking)));
    lines
}

/// The rings of the cut outline: where nothing is added to the finished outline, or all round to a circle, with its
/// curves, else the polygon that is laid.
fn cut_paths(piece: &Piece) -> Vec<Path> {
    if is_as_finished(piece) {
        return piece.outline.paths();
    }
    let mut rings = Path::rings(&piece.cut);
    let [length, width] = piece.size;
    if piece.outline.is_round() && length == width {
        let centre = piece.cut.bounds().center();
        if let Some(round) = Curve::circle(length).shifted(centre).paths().into_iter().next() {
            rings[0] = round;
        }
        let holes = piece.outline.paths().into_iter().skip(1);
        rings.truncate(1);
        rings.extend(holes);
    }
    rings
}

fn is_as_finished(piece: &Piece) -> bool {
    piece.outline.flatten().is_ok_and(|finished| finished == piece.cut)
}

/// The finished edge, where it is not the cut line.
fn finished(piece: &Piece) -> Vec<TemplateLine> {
    if is_as_finished(piece) {
        return Vec::new();
    }
    let outer = piece.outline.paths().into_iter().next();
    outer.map(|path| TemplateLine { kind: LineKind::Finished, path, word: None }).into_iter().collect()
}

/// The lines along and across the grain about which the cut outline is the same on both sides.
fn centre_lines(cut: &Outline) -> Vec<TemplateLine> {
    let (low, high) = (cut.bounds().min(), cut.bounds().max());
    let middle = cut.bounds().center();
    let over = |turn: f64, at: Coord<f64>| Pose { turn, flipped: true, at };
    let about = [
        (over(0.0, Coord { x: 0.0, y: 2.0 * middle.y }), [Coord { x: low.x, ..middle }, Coord { x: high.x, ..middle }]),
        (
            over(180.0, Coord { x: 2.0 * middle.x, y: 0.0 }),
            [Coord { y: low.y, ..middle }, Coord { y: high.y, ..middle }],
        ),
    ];
    let same = about.into_iter().filter(|(pose, _)| lies_on(&pose.apply_to(cut), cut));
    same.map(|(_, [from, to])| TemplateLine { kind: LineKind::Centre, path: Path::line(from, to), word: None })
        .collect()
}

/// Whether every corner of an outline is as near to another as two polygons for one curve are.
fn lies_on(one: &Outline, other: &Outline) -> bool {
    let near =
        |corner: &Coord<f64>, ring: &LineString<f64>| Euclidean.distance(&Point(*corner), ring) <= 2.0 * FLATTENING;
    let rings = |outline: &Outline| {
        let polygon = outline.polygon();
        std::iter::once(polygon.exterior()).chain(polygon.interiors()).cloned().collect::<Vec<LineString<f64>>>()
    };
    let there = rings(other);
    rings(one).iter().all(|ring| there.iter().any(|other| ring.0.iter().all(|corner| near(corner, other))))
}

/// Where the figures come from, and what was added to the finished outline.
fn figures(piece: &Piece, units: Units) -> Vec<String> {
    let mut figures: Vec<String> = piece.source.iter().cloned().collect();
    if !is_as_finished(piece) {
        let finished = piece.outline.bounds();
        let [length, width] = [finished.width(), finished.height()];
        figures.push(format!("finished {}", crate::plan::size([length, width], units)));
    }
    if piece.source.is_none() {
        figures.push(format!("as given in the job, grain {}", grain_words(piece.grain)));
    }
    figures
}
