//! Reads an ASCII DXF (R12 to 2018): the lines of its model space, blocks put in where they are inserted.

use std::borrow::Cow;
use std::collections::BTreeMap;
use std::io::Cursor;
use std::sync::Arc;

use dxf::entities::{Entity, EntityType, Insert};
use dxf::enums::Units;
use encoding_rs::{UTF_8, WINDOWS_1252};
use kurbo::Affine;

use super::dxf_entities::{drawn, facing, weight};
use super::dxf_layers::unseen;
use super::dxf_sections::essential;
use super::names::{Names, shown, shown_short};
use super::silence::caught;
use super::{Drawing, DrawingFault, DrawnLine, limits};
use crate::shape::segment::Segment;

/// Reads the text of a DXF.
pub(super) fn read(bytes: &[u8]) -> Result<Drawing, DrawingFault> {
    const AGAIN: &str = "save it as ASCII DXF, release 12 to 2018";
    if bytes.contains(&0) {
        return Err(DrawingFault::new("the drawing is a binary DXF", AGAIN));
    }
    // Older programs write in the code page of their country; this is the most common one (from memory).
    let text = std::str::from_utf8(bytes).map_or_else(|_| WINDOWS_1252.decode(bytes).0, Cow::Borrowed);
    let text = text.trim_start_matches('\u{feff}');
    let wrong = |what: String| DrawingFault::new(format!("the drawing is no sound DXF: {what}"), AGAIN);
    let unseen = unseen(text);
    let mut essential = Cursor::new(essential(text)?);
    let loaded = caught(move || dxf::Drawing::load_with_encoding(&mut essential, UTF_8));
    let drawing = loaded.ok_or_else(|| wrong("it cannot be understood".to_owned()))?.map_err(|error| {
        // It counts lines in what it was given, which is not all of the file.
        let what = error.to_string();
        let what = what.split(" at line/offset").next().unwrap_or_default();
        wrong(shown(what).chars().take(200).collect())
    })?;
    let blocks = drawing.blocks().map(|block| (block.name.to_ascii_lowercase(), block)).collect();
    let unit = millimetres(drawing.header.default_drawing_units);
    let told = Drawing { unit, ..Drawing::default() };
    let mut walk = Walk { drawing: told, blocks, unseen, entities: 0, looked_at: 0, stretches: 0 };
    let place = Place::default();
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

#[derive(Clone, Default)]
struct Place {
    map: Affine,
    ids: Names,
    /// The layer of the insertion, which takes the place of layer 0 in a block.
    layer: Option<Arc<str>>,
    /// What hides the insertion, if anything does.
    hidden: Option<Arc<str>>,
    depth: usize,
}

struct Walk<'d> {
    drawing: Drawing,
    blocks: BTreeMap<String, &'d dxf::Block>,
    /// Layers that are not seen, and why.
    unseen: BTreeMap<String, &'static str>,
    entities: usize,
    /// Points of entities that were gone through, each time they were.
    looked_at: usize,
    stretches: usize,
}

impl Walk<'_> {
    fn entity(&mut self, entity: &Entity, place: &Place) -> Result<(), DrawingFault> {
        self.entities += 1;
        self.looked_at += weight(entity);
        self.not_too_much()?;
        let layer: Arc<str> = match (&entity.common.layer, &place.layer) {
            (own, Some(outer)) if own == "0" => outer.clone(),
            (own, _) if own.len() > limits::NAME_BYTES => "a layer with a very long name".into(),
            (own, _) => shown(own).into(),
        };
        if let EntityType::Insert(insert) = &entity.specific {
            return self.insert(insert, &layer, self.hidden(entity, &layer, place), place);
        }
        let drawn = match drawn(&entity.specific) {
            Ok(drawn) => drawn,
            Err(kind) => {
                self.drawing.left_out.add(shown_short(&kind), Some(&layer));
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
        let handle = (entity.common.handle.0 != 0).then(|| entity.common.handle.as_string());
        let hidden = self.hidden(entity, &layer, place);
        self.drawing.lines.push(DrawnLine {
            segments,
            name: place.ids.iter().next().map(Arc::from),
            ids: place.ids.with(handle.as_deref()),
            layers: Names::default().with([&*layer]),
            hidden,
        });
        Ok(())
    }

    /// What hides an entity on a layer.
    fn hidden(&self, entity: &Entity, layer: &str, place: &Place) -> Option<Arc<str>> {
        let by_layer = || {
            let why = self.unseen.get(&layer.to_lowercase())?;
            Some(format!("the layer “{layer}”, which is {why}").into())
        };
        let itself = || (!entity.common.is_visible).then(|| "an entity that is hidden itself".into());
        place.hidden.clone().or_else(by_layer).or_else(itself)
    }

    /// What is small and repeated by insertions a hundred thousand times is large.
    fn not_too_much(&self) -> Result<(), DrawingFault> {
        if self.entities > limits::ELEMENTS || self.looked_at > limits::LOOKED_AT {
            let (most, points) = (limits::ELEMENTS, limits::LOOKED_AT);
            return Err(too_much(format!("more than {most} entities or {points} points, repetitions counted")));
        }
        Ok(())
    }

    fn insert(
        &mut self,
        insert: &Insert,
        layer: &Arc<str>,
        hidden: Option<Arc<str>>,
        place: &Place,
    ) -> Result<(), DrawingFault> {
        if place.depth >= limits::NESTING {
            return Err(too_much(format!("blocks nested more than {} deep", limits::NESTING)));
        }
        let Some(block) = self.blocks.get(&insert.name.to_ascii_lowercase()).copied() else {
            let name = shown_short(&insert.name);
            self.drawing.left_out.add(format!("insertion of “{name}”, which is not there"), Some(layer));
            return Ok(());
        };
        if !block.xref_path_name.is_empty() {
            self.drawing.left_out.add("reference to another file", Some(layer));
            return Ok(());
        }
        let Some(facing) = facing(&insert.extrusion_direction) else {
            self.drawing.left_out.add("tilted INSERT", Some(layer));
            return Ok(());
        };
        let turned = facing * Affine::translate((insert.location.x, insert.location.y)) * rotation(insert.rotation);
        let scale = Affine::scale_non_uniform(insert.x_scale_factor, insert.y_scale_factor)
            * Affine::translate((-block.base_point.x, -block.base_point.y));
        let outside = Place {
            ids: place.ids.with([shown(&block.name).as_str()]),
            layer: Some(layer.clone()),
            hidden,
            depth: place.depth + 1,
            ..*place
        };
        for row in 0..insert.row_count.max(1) {
            for column in 0..insert.column_count.max(1) {
                let step = (f64::from(column) * insert.column_spacing, f64::from(row) * insert.row_spacing);
                let map = place.map * turned * Affine::translate(step) * scale;
                let inner = Place { map, ..outside.clone() };
                self.entities += 1;
                self.not_too_much()?;
                for entity in &block.entities {
                    self.entity(entity, &inner)?;
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
