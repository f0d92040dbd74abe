//! Reads an ASCII DXF (R12 to 2018): the lines of its model space, blocks put in where they are inserted.

use std::collections::BTreeMap;

use dxf::entities::{Entity, EntityType, Insert};
use dxf::enums::Units;
use geo_types::Coord;
use kurbo::{Affine, Point, Vec2};

use super::dxf_spline::Spline;
use super::{Drawing, DrawingFault, DrawnLine, limits};
use crate::shape::path::circle;
use crate::shape::segment::{Arc, Segment};

/// Bits of the flags of polylines and of their vertices: three-dimensional ones and meshes, frames of splines.
const SPATIAL: i32 = 8 | 16 | 64;
const FRAME: i32 = 16;

/// Reads the text of a DXF.
pub(super) fn read(bytes: &[u8]) -> Result<Drawing, DrawingFault> {
    const AGAIN: &str = "save it as ASCII DXF, release 12 to 2018";
    if bytes.contains(&0) {
        return Err(DrawingFault::new("the drawing is a binary DXF", AGAIN));
    }
    let text =
        std::str::from_utf8(bytes).map_or_else(|_| bytes.to_vec(), |text| text.trim_start_matches('\u{feff}').into());
    let wrong = |what: String| DrawingFault::new(format!("the drawing is no sound DXF: {what}"), AGAIN);
    // The crate is kept from ending the program by whatever a file may do to it.
    let loaded = std::panic::catch_unwind(|| dxf::Drawing::load(&mut std::io::Cursor::new(text)));
    let drawing = loaded.map_err(|_| wrong("it cannot be understood".to_owned()))?.map_err(|error| {
        let what: String = error.to_string().chars().filter(|c| !c.is_control()).take(200).collect();
        wrong(what)
    })?;
    let blocks = drawing.blocks().map(|block| (block.name.to_ascii_lowercase(), block)).collect();
    let off = drawing.layers().filter(|layer| !layer.is_layer_on).map(|layer| layer.name.clone()).collect();
    let unit = millimetres(drawing.header.default_drawing_units);
    let mut walk = Walk { drawing: Drawing { unit, ..Drawing::default() }, blocks, off, entities: 0, stretches: 0 };
    let place = Place { map: Affine::IDENTITY, ids: Vec::new(), layer: None, depth: 0 };
    for entity in drawing.entities() {
        if entity.common.is_in_paper_space {
            walk.drawing.left_out.add("paper space", None);
        } else {
            walk.entity(entity, &place)?;
        }
    }
    Ok(walk.drawing)
}

/// Millimetres in the unit of the header ($INSUNITS).
fn millimetres(units: Units) -> Option<f64> {
    Some(match units {
        Units::Inches => 25.4,
        Units::Feet => 304.8,
        Units::Millimeters => 1.0,
        Units::Centimeters => 10.0,
        Units::Meters => 1000.0,
        Units::Decimeters => 100.0,
        Units::Yards => 914.4,
        Units::Mils => 0.0254,
        Units::Microns => 0.001,
        _ => return None,
    })
}

#[derive(Clone)]
struct Place {
    map: Affine,
    ids: Vec<String>,
    /// The layer of the insertion, which takes the place of layer 0 in a block.
    layer: Option<String>,
    depth: usize,
}

struct Walk<'d> {
    drawing: Drawing,
    blocks: BTreeMap<String, &'d dxf::Block>,
    off: Vec<String>,
    entities: usize,
    stretches: usize,
}

impl Walk<'_> {
    fn entity(&mut self, entity: &Entity, place: &Place) -> Result<(), DrawingFault> {
        self.entities += 1;
        if self.entities > limits::ELEMENTS {
            return Err(too_much(format!("more than {} entities, repetitions counted", limits::ELEMENTS)));
        }
        let layer = match (&entity.common.layer, &place.layer) {
            (own, Some(outer)) if own == "0" => outer.clone(),
            (own, _) => own.clone(),
        };
        if let EntityType::Insert(insert) = &entity.specific {
            return self.insert(insert, layer, place);
        }
        let drawn = match drawn(&entity.specific) {
            Ok(drawn) => drawn,
            Err(kind) => {
                self.drawing.left_out.add(kind, Some(&layer));
                return Ok(());
            }
        };
        let segments: Vec<Segment> = drawn.iter().map(|segment| segment.carried(place.map)).collect();
        if segments.iter().flat_map(Segment::defining_points).any(|point| !point.is_finite()) {
            return Err(DrawingFault::new("a number of the drawing is not finite", "save the drawing again"));
        }
        if segments.is_empty() {
            return Ok(());
        }
        self.stretches += segments.len();
        if self.stretches > limits::STRETCHES || self.drawing.lines.len() >= limits::LINES {
            return Err(too_much(format!("more than {} lines or {} stretches", limits::LINES, limits::STRETCHES)));
        }
        let mut ids = place.ids.clone();
        if entity.common.handle.0 != 0 {
            ids.push(entity.common.handle.as_string());
        }
        let hidden = !entity.common.is_visible || self.off.contains(&layer);
        let name = place.ids.last().cloned();
        self.drawing.lines.push(DrawnLine { segments, name, ids, layers: vec![layer], hidden });
        Ok(())
    }

    fn insert(&mut self, insert: &Insert, layer: String, place: &Place) -> Result<(), DrawingFault> {
        if place.depth >= limits::NESTING {
            return Err(too_much(format!("blocks nested more than {} deep", limits::NESTING)));
        }
        let Some(block) = self.blocks.get(&insert.name.to_ascii_lowercase()).copied() else {
            self.drawing.left_out.add(format!("insertion of “{}”, which is not there", insert.name), Some(&layer));
            return Ok(());
        };
        if !block.xref_path_name.is_empty() {
            self.drawing.left_out.add("reference to another file", Some(&layer));
            return Ok(());
        }
        let Some(facing) = facing(&insert.extrusion_direction) else {
            self.drawing.left_out.add("tilted INSERT", Some(&layer));
            return Ok(());
        };
        let turned = facing * Affine::translate((insert.location.x, insert.location.y)) * rotation(insert.rotation);
        let scale = Affine::scale_non_uniform(insert.x_scale_factor, insert.y_scale_factor)
            * Affine::translate((-block.base_point.x, -block.base_point.y));
        let mut ids = place.ids.clone();
        ids.push(block.name.clone());
        for row in 0..insert.row_count.max(1) {
            for column in 0..insert.column_count.max(1) {
                let step = (f64::from(column) * insert.column_spacing, f64::from(row) * insert.row_spacing);
                let map = place.map * turned * Affine::translate(step) * scale;
                let inner = Place { map, ids: ids.clone(), layer: Some(layer.clone()), depth: place.depth + 1 };
                self.entities += 1;
                for entity in &block.entities {
                    self.entity(entity, &inner)?;
                }
                if self.entities > limits::ELEMENTS {
                    return Err(too_much(format!("more than {} entities, repetitions counted", limits::ELEMENTS)));
                }
            }
        }
        Ok(())
    }
}

fn too_much(what: String) -> DrawingFault {
    DrawingFault::new(format!("the drawing has {what}"), "save only the pieces that you need")
}

fn rotation(degrees: f64) -> Affine {
    let (sin, cos) = crate::shape::sin_cos_degrees(degrees);
    Affine::new([cos, sin, -sin, cos, 0.0, 0.0])
}

/// From an entity's own plane to the drawing's: the same, or seen from behind; nothing for a tilted one (DXF reference,
/// object coordinate systems: the arbitrary axis algorithm).
fn facing(normal: &dxf::Vector) -> Option<Affine> {
    const LEVEL: f64 = 1e-9;
    if normal.x.abs() > LEVEL || normal.y.abs() > LEVEL || normal.z == 0.0 {
        return None;
    }
    Some(if normal.z > 0.0 { Affine::IDENTITY } else { Affine::FLIP_X })
}

/// The stretches of an entity, or the word for what it is where it is no line.
fn drawn(entity: &EntityType) -> Result<Vec<Segment>, String> {
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
        other => Err(word(other)),
    }
}

/// The word for an entity: the name of its kind as the reading crate has it.
fn word(entity: &EntityType) -> String {
    let told = format!("{entity:?}");
    told.chars().take_while(|c| c.is_ascii_alphanumeric()).collect::<String>().to_ascii_uppercase()
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
