//! Pieces of one shape share a template.

use geo_types::Coord;

use super::template::{Bearing, Template, TemplateLine};
use crate::job::{Edge, GrainDirection};
use crate::shape::{Outline, Path, Pose, TOLERANCE};

/// Degrees that directions of one name may differ by.
const SAME_WAY: f64 = 0.5;

/// Templates that look alike become one, the first of them, with what is cut by the others.
pub(super) fn shared(templates: Vec<Template>) -> Vec<Template> {
    let mut kept: Vec<Template> = Vec::new();
    for template in templates {
        let alike = kept.iter_mut().find_map(|first| Some((same(first, &template)?, first)));
        match alike {
            Some((over, first)) => {
                let uses = template.uses.into_iter();
                first.uses.extend(uses.map(|one| super::Use { turned_over: one.turned_over != over, ..one }));
            }
            None => kept.push(template),
        }
    }
    kept
}

/// Whether one template does for another, and if so, whether it must be turned over.
fn same(one: &Template, other: &Template) -> Option<bool> {
    let alike = one.lines.len() == other.lines.len()
        && same_edge(one.edge, other.edge)
        && one.grain == other.grain
        && (one.cut.area() - other.cut.area()).abs() <= TOLERANCE * one.cut.perimeter();
    if !alike {
        return None;
    }
    poses(one, other).find(|pose| fits(one, other, pose)).map(|pose| pose.flipped)
}

fn same_edge(one: Edge, other: Edge) -> bool {
    match (one, other) {
        (Edge::Plain, Edge::Plain) => true,
        (Edge::Pinked(one), Edge::Pinked(other)) => {
            (one.pitch - other.pitch).abs() <= TOLERANCE && (one.depth - other.depth).abs() <= TOLERANCE
        }
        _ => false,
    }
}

/// The ways of laying one template on the other with the grain lines of both along each other, or across where that is
/// the same to the grain: as it is before turned, turned before turned over.
fn poses<'t>(one: &'t Template, other: &'t Template) -> impl Iterator<Item = Pose> + 't {
    let across = !matches!(one.grain.direction, GrainDirection::Along | GrainDirection::Across);
    let turns: &[f64] = match (across, one.grain.one_way) {
        (false, true) => &[0.0],
        (false, false) => &[0.0, 180.0],
        (true, true) => &[0.0, 90.0],
        (true, false) => &[0.0, 180.0, 90.0, 270.0],
    };
    let ways = [false, true].into_iter().flat_map(|flipped| turns.iter().map(move |turn| (flipped, *turn)));
    ways.map(|(flipped, turn)| {
        let turned = Pose { turn, flipped, ..Pose::unmoved() };
        let middle = turned.apply(one.cut.bounds().center());
        Pose { at: other.cut.bounds().center() - middle, ..turned }
    })
}

fn fits(one: &Template, other: &Template, pose: &Pose) -> bool {
    same_rings(&pose.apply_to(&one.cut), &other.cut)
        && one.bearings.len() == other.bearings.len()
        && one
            .bearings
            .iter()
            .all(|bearing| other.bearings.iter().any(|there| same_bearing(&bearing.carried(pose), there)))
        && one.lines.iter().all(|line| other.lines.iter().any(|candidate| same_line(line, candidate, pose)))
}

/// Whether the same lies the same way: a template on which the wrong edge is called the forward one does not do.
fn same_bearing(one: &Bearing, other: &Bearing) -> bool {
    let apart = (one.degrees - other.degrees).rem_euclid(360.0);
    one.towards == other.towards && apart.min(360.0 - apart) <= SAME_WAY
}

/// Whether two outlines have the same points, wherever their rings start.
fn same_rings(one: &Outline, other: &Outline) -> bool {
    let count = one.rings().count();
    count == other.rings().count()
        && one.rings().all(|(_, ring)| other.rings().any(|(_, candidate)| same_ring(ring, candidate)))
}

fn same_ring(one: &[Coord<f64>], other: &[Coord<f64>]) -> bool {
    let count = one.len();
    let from = |start: usize| (0..count).all(|k| same_point(one[k], other[(start + k) % count]));
    count == other.len() && (0..count).filter(|start| same_point(one[0], other[*start])).any(from)
}

/// Whether a line of one template, carried to the other, lies on a line of that: the same way round or the other.
fn same_line(one: &TemplateLine, other: &TemplateLine, pose: &Pose) -> bool {
    if one.kind != other.kind || one.word != other.word || one.path.closed != other.path.closed {
        return false;
    }
    let (carried, there) = (corners(&one.path.carried(pose)), corners(&other.path));
    if one.path.closed {
        let backwards: Vec<Coord<f64>> = carried.iter().rev().copied().collect();
        return !carried.is_empty() && (same_ring(&carried, &there) || same_ring(&backwards, &there));
    }
    let same =
        |one: &mut dyn Iterator<Item = &Coord<f64>>| one.zip(&there).all(|(one, other)| same_point(*one, *other));
    carried.len() == there.len() && (same(&mut carried.iter()) || same(&mut carried.iter().rev()))
}

/// The ends of the stretches; those of a ring without its start again.
fn corners(path: &Path) -> Vec<Coord<f64>> {
    let ends: Vec<Coord<f64>> = path.stretches.iter().map(crate::shape::Stretch::end).collect();
    if path.closed { ends } else { std::iter::once(path.start).chain(ends).collect() }
}

fn same_point(one: Coord<f64>, other: Coord<f64>) -> bool {
    (one.x - other.x).abs() <= TOLERANCE && (one.y - other.y).abs() <= TOLERANCE
}
