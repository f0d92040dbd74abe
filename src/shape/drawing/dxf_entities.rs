//! The entities of a DXF as lines in the plane of the drawing.

use dxf::entities::{Entity, EntityType};
use geo_types::Coord;
use kurbo::{Affine, Point, Vec2};

use super::dxf_spline::Spline;
use crate::shape::path::circle;
use crate::shape::segment::{Arc, Segment};

/// Bits of the flags of polylines and of their vertices: three-dimensional ones and meshes, frames of splines.
const SPATIAL: i32 = 8 | 16 | 64;
const FRAME: i32 = 16;

/// From an entity's own plane to the drawing's: the same, or seen from behind; nothing for a tilted one (DXF reference,
/// object coordinate systems: the arbitrary axis algorithm).
pub(super) fn facing(normal: &dxf::Vector) -> Option<Affine> {
    const LEVEL: f64 = 1e-9;
    if normal.x.abs() > LEVEL || normal.y.abs() > LEVEL || normal.z == 0.0 {
        return None;
    }
    Some(if normal.z > 0.0 { Affine::IDENTITY } else { Affine::FLIP_X })
}

/// The stretches of an entity, or the word for what it is where it is no line.
pub(super) fn drawn(entity: &EntityType) -> Result<Vec<Segment>, String> {
    let point = |p: &dxf::Point| Point::new(p.x, p.y);
    let seen = |normal: &dxf::Vector, kind: &str| facing(normal).ok_or_else(|| format!("tilted {kind}"));
    let carried = |segments: Vec<Segment>, map: Affine| segments.iter().map(|segment| segment.carried(map)).collect();
    match entity {
        EntityType::Line(line) => {
            let (from, to) = (point(&line.p1), point(&line.p2));
            Ok(if from == to { Vec::new() } else { vec![Segment::line(from, to)] })
        }
        EntityType::Circle(round) if round.radius > 0.0 => {
            let map = seen(&round.normal, "CIRCLE")?;
            Ok(carried(vec![Segment::Arc(Arc::circle(point(&round.center), round.radius))], map))
        }
        EntityType::Arc(arc) if arc.radius > 0.0 => {
            let map = seen(&arc.normal, "ARC")?;
            let axes = (Vec2::new(arc.radius, 0.0), Vec2::new(0.0, arc.radius));
            let [from, to] = [arc.start_angle, arc.end_angle].map(f64::to_radians);
            Ok(carried(vec![turned_arc(point(&arc.center), axes, from, to)], map))
        }
        EntityType::Ellipse(ellipse) => {
            // An ellipse is in the drawing's own plane; seen from behind, it runs the other way round.
            let hand = if seen(&ellipse.normal, "ELLIPSE")? == Affine::IDENTITY { 1.0 } else { -1.0 };
            let across = Vec2::new(ellipse.major_axis.x, ellipse.major_axis.y);
            let along = Vec2::new(-across.y, across.x) * ellipse.minor_axis_ratio * hand;
            if across.hypot() == 0.0 || along.hypot() == 0.0 {
                return Ok(Vec::new());
            }
            let centre = point(&ellipse.center);
            Ok(vec![turned_arc(centre, (across, along), ellipse.start_parameter, ellipse.end_parameter)])
        }
        EntityType::LwPolyline(line) => {
            let map = seen(&line.extrusion_direction, "LWPOLYLINE")?;
            let corners: Vec<_> = line.vertices.iter().map(|v| (Point::new(v.x, v.y), v.bulge)).collect();
            Ok(carried(with_bulges(&corners, line.flags & 1 != 0), map))
        }
        EntityType::Polyline(line) => {
            if line.flags & SPATIAL != 0 {
                return Err("POLYLINE in space or mesh".to_owned());
            }
            let map = seen(&line.normal, "POLYLINE")?;
            let drawn = line.vertices().filter(|vertex| vertex.flags & FRAME == 0);
            let corners: Vec<_> = drawn.map(|vertex| (point(&vertex.location), vertex.bulge)).collect();
            Ok(carried(with_bulges(&corners, line.flags & 1 != 0), map))
        }
        EntityType::Spline(spline) => {
            let weight = |index: usize| spline.weight_values.get(index).copied().unwrap_or(1.0);
            let weighted = |(index, p): (usize, &dxf::Point)| [p.x * weight(index), p.y * weight(index), weight(index)];
            let points = spline.control_points.iter().enumerate().map(weighted).collect();
            let degree = usize::try_from(spline.degree_of_curve).unwrap_or(0);
            let curve = Spline { degree, knots: spline.knot_values.clone(), points };
            curve.segments().ok_or_else(|| "SPLINE without sound knots and control points".to_owned())
        }
        EntityType::Circle(_) | EntityType::Arc(_) => Err("circle without a radius".to_owned()),
        // What is not read comes as a text that says what it is.
        EntityType::Text(text) => Err(text.value.clone()),
        _ => Ok(Vec::new()),
    }
}

/// How many points an entity is made of: what looking at it costs.
pub(super) fn weight(entity: &Entity) -> usize {
    1 + match &entity.specific {
        EntityType::LwPolyline(line) => line.vertices.len(),
        EntityType::Polyline(line) => line.vertices().count(),
        EntityType::Spline(spline) => spline.control_points.len() + spline.knot_values.len(),
        _ => 0,
    }
}

/// An arc counter-clockwise from one angle to another; a whole turn where they are the same.
fn turned_arc(centre: Point, (across, along): (Vec2, Vec2), from: f64, to: f64) -> Segment {
    use std::f64::consts::TAU;
    let turn = (to - from).rem_euclid(TAU);
    let whole = turn < 1e-9 || TAU - turn < 1e-9;
    let at = |angle: f64| {
        let (sin, cos) = libm::sincos(angle);
        centre + across * cos + along * sin
    };
    let (sweep, end) = if whole { (TAU, from) } else { (turn, to) };
    Segment::Arc(Arc { centre, across, along, from, sweep, ends: [at(from), at(end)] })
}

/// The stretches between corners; a bulge bends the one that follows its corner.
fn with_bulges(corners: &[(Point, f64)], closed: bool) -> Vec<Segment> {
    let count = if closed { corners.len() } else { corners.len().saturating_sub(1) };
    (0..count)
        .map(|index| (corners[index], corners[(index + 1) % corners.len()].0))
        .filter(|((from, _), to)| from != to)
        .map(|((from, bulge), to)| bulged(from, to, bulge))
        .collect()
}

fn bulged(from: Point, to: Point, bulge: f64) -> Segment {
    let coord = |point: Point| Coord { x: point.x, y: point.y };
    let Some(circle) = circle(coord(from), coord(to), bulge) else { return Segment::line(from, to) };
    Segment::Arc(Arc {
        centre: Point::new(circle.centre.x, circle.centre.y),
        across: Vec2::new(circle.radius, 0.0),
        along: Vec2::new(0.0, circle.radius),
        from: circle.from,
        sweep: circle.sweep,
        ends: [from, to],
    })
}
