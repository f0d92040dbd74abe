//! The lines of a panel, or of a strip of it: what lies between cut line and frame, what lies under the cloth.

use geo::BooleanOps;
use geo_types::{Coord, LineString, MultiLineString};

use super::piece_lines::cut_lines;
use super::template::{Bearing, LineKind, Template, TemplateLine, Use};
use crate::covering::{CoveredPart, Panel, Way};
use crate::job::Piece;
use crate::shape::{FLATTENING, Outline, Path};
use crate::units::Units;

/// The templates of a panel: one, or one for each strip.
pub(super) fn of_panel(part: &CoveredPart, panel: &Panel, units: Units) -> Vec<Template> {
    let figures = panel.figure_lines(units);
    let inner = inner_lines(part, panel);
    panel.pieces(units).into_iter().map(|piece| of_strip(panel, &piece, &inner, &figures)).collect()
}

fn of_strip(panel: &Panel, piece: &Piece, inner: &[TemplateLine], figures: &[String]) -> Template {
    let mut lines = cut_lines(piece);
    lines.extend(inner.iter().flat_map(|line| within(line, &piece.cut)));
    Template {
        number: 0,
        uses: vec![Use {
            piece: piece.name.clone(),
            part: Some(panel.plan.part.clone()),
            goes: piece.goes.clone(),
            copies: piece.quantity,
            turned_over: false,
            figures: figures.to_vec(),
        }],
        cut: piece.cut.clone(),
        lines,
        size: piece.size,
        edge: piece.edge,
        grain: piece.grain,
        grain_line: 0.0,
        bearings: panel.plan.marks.ways.iter().map(bearing).collect(),
        mirrored: false,
    }
}

/// The lines of the whole panel but its cut line.
fn inner_lines(part: &CoveredPart, panel: &Panel) -> Vec<TemplateLine> {
    let mut lines = Vec::new();
    let mut add =
        |kind: LineKind, path: Path, word: Option<&'static str>| lines.push(TemplateLine { kind, path, word });
    if panel.trimmed != panel.cut {
        Path::rings(&panel.trimmed).into_iter().for_each(|ring| add(LineKind::Lap, ring, None));
    }
    if panel.wrapped != panel.trimmed {
        Path::rings(&panel.wrapped).into_iter().for_each(|ring| add(LineKind::Wrap, ring, None));
    }
    panel.plan.finished.paths().into_iter().for_each(|ring| add(LineKind::Finished, ring, None));
    for member in &panel.plan.members {
        add(LineKind::Member, Path::line(member.ends[0], member.ends[1]), Some(member.class_word()));
    }
    for seam in &panel.seams {
        add(LineKind::Seam, Path::line(seam.ends[0], seam.ends[1]), Some(LineKind::Seam.words()));
    }
    if let Some(ends) = part.hinge_on(panel) {
        add(LineKind::Hinge, Path::line(ends[0], ends[1]), Some(LineKind::Hinge.words()));
    }
    lines
}

/// What of a line lies on a strip; the line itself where all of it does.
fn within(line: &TemplateLine, strip: &Outline) -> Vec<TemplateLine> {
    let points: LineString<f64> = line.path.points(FLATTENING / 10.0).into();
    let outside = |point: &Coord<f64>| {
        let bounds = strip.bounds();
        point.x < bounds.min().x || point.x > bounds.max().x || point.y < bounds.min().y || point.y > bounds.max().y
    };
    let whole = MultiLineString::new(vec![points]);
    let left_over = strip.polygon().clip(&whole, true);
    let nothing = left_over.0.iter().all(|part| part.0.len() < 2);
    if nothing && !whole.0[0].0.iter().any(outside) {
        return vec![line.clone()];
    }
    let inside = strip.polygon().clip(&whole, false);
    let paths = inside.0.iter().filter_map(|part| Path::through(&part.0));
    paths.map(|path| TemplateLine { path, ..line.clone() }).collect()
}

/// A direction that the panel names, as the edge that faces it.
fn bearing(way: &Way) -> Bearing {
    let towards = match way.word {
        "front" => "forward",
        "top" => "up",
        "tip" => "to the tip",
        "nose" => "to the nose",
        word => word,
    };
    Bearing { degrees: libm::atan2(way.towards.y, way.towards.x).to_degrees(), towards }
}
