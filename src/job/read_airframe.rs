//! Reads the parts of the airframe: what all kinds have in common, and which kind each is.

use jsonc_parser::ast::Value;
use jsonc_parser::common::{Range, Ranged};

use super::airframe::{Part, PartKind};
use super::keys_airframe::keys_of_part;
use super::kinds_airframe::Kind;
use super::nearest::one_of;
use super::read_flat::flat;
use super::read_panel::panel;
use super::read_piece::{ClothNames, cloth_names};
use super::read_places::places;
use super::read_repair::repair;
use super::read_ribbed::ribbed;
use super::read_truss::truss;
use super::reader::{Fields, Reader};
use super::repair::Repair;
use super::words::Words;

/// An entry of the airframe.
pub(super) enum Entry {
    /// A part to be covered.
    Part(Box<Part>),
    /// A damaged place to be repaired.
    Repair(Repair),
}

/// A part or a repair, which has a kind and a name.
pub(super) fn entry(reader: &mut Reader, value: &Value, index: usize, cloths: &ClothNames) -> Option<Entry> {
    let path = format!("airframe[{index}]");
    let (kind, fields) = kind_and_fields(reader, value)?;
    if kind == Kind::Repair {
        return repair(reader, value, &fields, path, cloths).map(Entry::Repair);
    }
    part(reader, value, kind, &fields, path, cloths).map(Box::new).map(Entry::Part)
}

fn part(
    reader: &mut Reader,
    value: &Value,
    kind: Kind,
    fields: &Fields,
    path: String,
    cloths: &ClothNames,
) -> Option<Part> {
    let name = fields.get("name").and_then(|value| reader.name(value));
    let cloth = fields.get("cloth").map_or(Some(Vec::new()), |value| cloth_names(reader, value, cloths));
    let mirrored = fields.get("mirrored").map_or(Some(false), |value| reader.yes_or_no(value));
    let source = fields.get("source").map_or(Some(None), |value| reader.text(value, "a source").map(Some));
    let read = match kind {
        Kind::Flat => flat(reader, fields, &path).map(PartKind::Flat),
        Kind::Ribbed => ribbed(reader, fields).map(PartKind::Ribbed),
        Kind::Truss => truss(reader, fields, &path).map(PartKind::Truss),
        Kind::Panel => panel(reader, fields, &path).map(PartKind::Panel),
        // It has keys of its own, and is no part.
        Kind::Repair => None,
    };
    let places = places(reader, fields, &path, kind, read.as_ref());
    Some(Part {
        name: name?,
        cloth: cloth?,
        mirrored: mirrored?,
        source: source?.map(str::to_owned),
        kind: read?,
        places: places?,
        at: reader.spot(value, path),
    })
}

/// Which kind of part stands there, and its entries, whose keys are those of the kind.
fn kind_and_fields<'t>(reader: &mut Reader, value: &'t Value<'t>) -> Option<(Kind, Fields<'t>)> {
    let Value::Object(object) = value else {
        // What is no object is refused in the words of any kind.
        reader.object(value, keys_of_part(Kind::Flat))?;
        return None;
    };
    let Some(written) = object.get("kind") else {
        let brace = Range { start: value.start(), end: value.start() + 1 };
        reader.fault(&brace, "a part needs the key \"kind\"", format!("add \"kind\": {}", one_of(Kind::words())));
        return None;
    };
    let kind: Kind = reader.choice(&written.value, "a kind of part")?;
    Some((kind, reader.object(value, keys_of_part(kind))?))
}
