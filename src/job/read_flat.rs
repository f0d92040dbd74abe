//! Reads what is particular to a flat part: outline, tube, sides, members, hinge.

use jsonc_parser::ast::Value;
use jsonc_parser::common::Ranged;

use super::airframe::{FlatPart, MeasuredTo, Member, Sides, Surface, Wrap};
use super::keys_airframe::MEMBER;
use super::kinds_airframe::PART_GRAINS;
use super::limits;
use super::model::GrainDirection;
use super::nearest::one_of;
use super::read_outline::{outline, point};
use super::read_parked::axes;
use super::reader::{Fields, Reader, Sort};
use super::words::Words;
use crate::shape::Curve;

const TUBE: Sort = Sort {
    what: "the diameter of a tube",
    hint: "write the outside diameter of the perimeter tube, for example \"3/4 in\"",
};
const WIDTH: Sort =
    Sort { what: "the width of a member", hint: "write the width of its face under the cloth, for example \"25 mm\"" };
const MEMBERS_HINT: &str = "write for example [{ \"class\": \"rib\", \"from\": [0, 200], \"to\": [600, 200] }]";
const HINGE_HINT: &str = "write two points of the hinge line, for example [[0, 0], [0, 900]]";

/// What a flat part has beyond the keys of every part.
pub(super) fn flat(reader: &mut Reader, fields: &Fields, path: &str) -> Option<FlatPart> {
    let surface = fields.get("surface").and_then(|value| surface(reader, value, "a flat part"));
    let outline = fields.get("outline").and_then(|value| without_holes(reader, value, "a flat part"));
    let tube = fields.get("tube").and_then(|value| tubes(reader, value, outline.as_ref()));
    let measured_to = fields
        .get("measured_to")
        .map_or(Some(MeasuredTo::TubeOutside), |value| reader.choice(value, "a line that an outline is measured to"));
    let sides = fields.get("sides").map_or(Some(Sides::Both), |value| reader.choice(value, "a choice of sides"));
    let wrap = fields.get("wrap").map_or(Some(Wrap::Shared), |value| reader.choice(value, "a way to share the lap"));
    let grain = fields.get("grain").map_or(Some(GrainDirection::Either), |value| grain(reader, value));
    let members = fields.get("members").map_or(Some(Vec::new()), |value| members(reader, value, path));
    let hinge = fields.get("hinge").map_or(Some(None), |value| hinge(reader, value).map(Some));
    let axes = fields.get("axes").map_or(Some(None), |value| axes(reader, value).map(Some));
    Some(FlatPart {
        surface: surface?,
        outline: outline?,
        tube: tube?,
        measured_to: measured_to?,
        sides: sides?,
        wrap: wrap?,
        grain: grain?,
        members: members?,
        hinge: hinge?,
        axes: axes?,
    })
}

/// What a part belongs to; `part` is its kind with its article.
pub(super) fn surface(reader: &mut Reader, value: &Value, part: &str) -> Option<Surface> {
    let surface: Surface = reader.choice(value, &format!("a surface of {part}"))?;
    if surface == Surface::Fuselage {
        let words = Surface::words().into_iter().filter(|word| *word != surface.word());
        reader.fault(
            &value.range(),
            format!("{part} does not belong to the fuselage"),
            format!("write {}", one_of(words)),
        );
        return None;
    }
    Some(surface)
}

pub(super) fn grain(reader: &mut Reader, value: &Value) -> Option<GrainDirection> {
    Some(match reader.word(value, "a direction of the grain of a part", &PART_GRAINS)? {
        "along" => GrainDirection::Along,
        "across" => GrainDirection::Across,
        _ => GrainDirection::Either,
    })
}

/// An outline that has no holes; `part` is the kind of its part with its article.
pub(super) fn without_holes(reader: &mut Reader, value: &Value, part: &str) -> Option<Curve> {
    let curve = outline(reader, value)?;
    if curve.flatten().is_ok_and(|flat| flat.rings().count() > 1) {
        let hint = "give the outer outline alone; openings are cut after the cloth is tight";
        reader.fault(&value.range(), format!("the outline of {part} has a hole"), hint);
        return None;
    }
    Some(curve)
}

fn tubes(reader: &mut Reader, value: &Value, outline: Option<&Curve>) -> Option<Vec<f64>> {
    let Value::Array(list) = value else {
        let all_round = reader.size(value, TUBE)?;
        return Some(vec![all_round; outline?.edge_count()]);
    };
    let by_edge: Vec<_> = list.elements.iter().map(|value| reader.size(value, TUBE)).collect();
    let edges = outline?.edge_count();
    if by_edge.len() != edges {
        let message = format!("the outline has {edges} edges, this list has {} tubes", by_edge.len());
        reader.fault(&value.range(), message, "write one diameter for each edge in order, or one for all round");
        return None;
    }
    by_edge.into_iter().collect()
}

pub(super) fn members(reader: &mut Reader, value: &Value, path: &str) -> Option<Vec<Member>> {
    let list = reader.list(value, "the list of members", (0, limits::MEMBERS), MEMBERS_HINT)?;
    let read: Vec<_> = list
        .iter()
        .enumerate()
        .map(|(index, value)| member(reader, value, format!("{path}.members[{index}]")))
        .collect();
    read.into_iter().collect()
}

fn member(reader: &mut Reader, value: &Value, path: String) -> Option<Member> {
    let fields = reader.object(value, &MEMBER)?;
    let class = fields.get("class").and_then(|value| reader.choice(value, "a class of member"));
    let from = fields.get("from").and_then(|value| point(reader, value));
    let to = fields.get("to").and_then(|value| point(reader, value));
    let width = fields.get("width").map_or(Some(None), |value| reader.size(value, WIDTH).map(Some));
    let (from, to) = (from?, to?);
    apart(reader, value, from, to, "this member has no length")?;
    Some(Member { class: class?, from, to, width: width?, at: reader.spot(value, path) })
}

pub(super) fn hinge(reader: &mut Reader, value: &Value) -> Option<[[f64; 2]; 2]> {
    let list = reader.list(value, "a hinge line", (2, 2), HINGE_HINT)?;
    let (from, to) = (point(reader, &list[0]), point(reader, &list[1]));
    let (from, to) = (from?, to?);
    apart(reader, value, from, to, "this hinge line has no length")?;
    Some([from, to])
}

/// Notes a fault where a line ends where it begins.
fn apart(reader: &mut Reader, value: &Value, from: [f64; 2], to: [f64; 2], message: &str) -> Option<()> {
    let near = |axis: usize| (from[axis] - to[axis]).abs() < limits::SMALLEST;
    if near(0) && near(1) {
        reader.fault(&value.range(), message, "write two points that lie apart");
        return None;
    }
    Some(())
}
