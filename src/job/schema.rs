//! The JSON Schema (draft 2020-12) of the job file, so that editors can help while a job is written.
//!
//! It is made from the tables of keys, and says what a schema can say: kinds, ranges and words. That an outline does
//! not cross itself, or that a piece fits its cloth, only the reader knows.

use serde_json::{Map, Value, json};

use super::keys::{
    EDGES, GRAIN, GRAINS, JOB, JOINS, Key, OUTLINE, PART_GRAINS, PINKED, PINKING, SHAPES, TABLES, Table,
};
use super::keys_airframe::{Kind, MEMBER, OWN_FIGURE, RULES};
use super::keys_truss::{FACE, TUBE};
use super::limits;
use super::truss::TUBE_CLASSES;
use super::words::Words;
use super::{ClothClass, Location, MeasuredTo, MemberClass, Method, RuleFigure, Sides, Surface, Wrap};
use crate::units::Units;

/// The JSON Schema of the job file.
///
/// ```
/// let schema = clothwright::job::schema();
/// assert_eq!(schema["$schema"], "https://json-schema.org/draft/2020-12/schema");
/// ```
pub fn schema() -> Value {
    let mut schema = object(&JOB);
    schema["$schema"] = json!("https://json-schema.org/draft/2020-12/schema");
    schema["title"] = json!("Covering job");
    let mut definitions: Map<String, Value> = TABLES
        .iter()
        .filter(|table| table.name != JOB.name)
        .map(|table| (table.name.to_owned(), object(table)))
        .collect();
    let mut outline = object(&OUTLINE);
    outline["oneOf"] = SHAPES.iter().map(|shape| json!({ "required": [shape] })).collect();
    outline["dependentRequired"] = json!({ "holes": ["polygon"] });
    definitions.insert(OUTLINE.name.to_owned(), outline);
    for (name, definition) in lengths() {
        definitions.insert(name.to_owned(), definition);
    }
    schema["$defs"] = Value::Object(definitions);
    schema["anyOf"] = json!([{ "required": ["pieces"] }, { "required": ["airframe"] }]);
    schema["dependentRequired"] = json!({ "airframe": ["rules"] });
    schema
}

fn object(table: &Table) -> Value {
    let properties: Map<String, Value> = table.keys.iter().map(property).collect();
    let required: Vec<&str> = table.keys.iter().filter(|key| key.required).map(|key| key.name).collect();
    let mut schema = json!({
        "description": table.about,
        "type": "object",
        "properties": properties,
        "additionalProperties": false,
    });
    if !required.is_empty() {
        schema["required"] = json!(required);
    }
    schema
}

fn property(key: &Key) -> (String, Value) {
    let mut schema = (key.schema)();
    schema["description"] = json!(key.about);
    (key.name.to_owned(), schema)
}

/// Texts with a unit are checked by their form only: a sign, digits, and something that may be a unit.
fn lengths() -> [(&'static str, Value); 3] {
    let with_unit = |sign: &str| {
        json!({
            "type": "string",
            "pattern": format!("^\\s*{sign}\\s*[0-9.¼½¾⅛⅜⅝⅞][0-9./¼½¾⅛⅜⅝⅞ -]*\\s*([a-zA-Z]+\\.?|[\"'″′”’]).*$"),
        })
    };
    let most = json!(limits::LENGTH);
    [
        (
            "size",
            json!({
                "description": "A length greater than 0: a number in the job's unit, or a text with a unit.",
                "anyOf": [{ "type": "number", "exclusiveMinimum": 0, "maximum": most }, with_unit("")],
                "examples": [1780, "90 cm", "3-1/2 in", "12'6\""],
            }),
        ),
        (
            "length_or_zero",
            json!({
                "description": "A length, 0 or greater: a number in the job's unit, or a text with a unit.",
                "anyOf": [{ "type": "number", "minimum": 0, "maximum": most }, with_unit("")],
                "examples": [0, 10, "1 in"],
            }),
        ),
        (
            "coordinate",
            json!({
                "description": "A place along x or y: a number in the job's unit, or a text with a unit; may be negative.",
                "anyOf": [{ "type": "number" }, with_unit("[-−]?")],
                "examples": [0, -12.5, "3/8 in"],
            }),
        ),
    ]
}

fn defined(name: &str) -> Value {
    json!({ "$ref": format!("#/$defs/{name}") })
}

fn list_of(items: Value, least: usize, most: usize) -> Value {
    json!({ "type": "array", "items": items, "minItems": least, "maxItems": most })
}

pub(super) fn format() -> Value {
    json!({ "const": 1 })
}

pub(super) fn units() -> Value {
    json!({ "enum": Units::ALL.map(Units::symbol) })
}

pub(super) fn text() -> Value {
    json!({ "type": "string" })
}

pub(super) fn name() -> Value {
    json!({ "type": "string", "maxLength": limits::NAME_CHARACTERS, "pattern": "\\S" })
}

pub(super) fn names() -> Value {
    json!({ "anyOf": [name(), list_of(name(), 1, limits::CLOTHS)] })
}

pub(super) fn size() -> Value {
    defined("size")
}

pub(super) fn length_or_zero() -> Value {
    defined("length_or_zero")
}

pub(super) fn pair_of_sizes() -> Value {
    list_of(size(), 2, 2)
}

pub(super) fn point() -> Value {
    list_of(defined("coordinate"), 2, 2)
}

pub(super) fn points() -> Value {
    list_of(point(), 3, limits::POINTS)
}

pub(super) fn rings() -> Value {
    list_of(points(), 0, limits::POINTS)
}

pub(super) fn path() -> Value {
    json!({ "type": "string", "pattern": "^\\s*[Mm]", "examples": ["M 0 0 H 300 A 100 100 0 0 1 300 200 H 0 Z"] })
}

pub(super) fn selvage() -> Value {
    json!({ "anyOf": [length_or_zero(), list_of(length_or_zero(), 2, 2)] })
}

pub(super) fn allowance() -> Value {
    json!({ "anyOf": [length_or_zero(), list_of(length_or_zero(), 1, limits::POINTS)] })
}

pub(super) fn quantity() -> Value {
    json!({ "type": "integer", "minimum": 1, "maximum": limits::COPIES })
}

pub(super) fn positive() -> Value {
    json!({ "type": "number", "exclusiveMinimum": 0 })
}

pub(super) fn zero_or_more() -> Value {
    json!({ "type": "number", "minimum": 0 })
}

pub(super) fn yes_or_no() -> Value {
    json!({ "type": "boolean" })
}

pub(super) fn cloths() -> Value {
    list_of(defined("cloth"), 1, limits::CLOTHS)
}

pub(super) fn pieces() -> Value {
    list_of(defined("piece"), 1, limits::PIECES)
}

pub(super) fn flaws() -> Value {
    list_of(defined("flaw"), 0, limits::FLAWS)
}

pub(super) fn outline() -> Value {
    defined(OUTLINE.name)
}

pub(super) fn join() -> Value {
    json!({ "enum": JOINS })
}

pub(super) fn edge() -> Value {
    json!({ "anyOf": [{ "enum": EDGES }, defined(PINKED.name)] })
}

pub(super) fn pinking() -> Value {
    defined(PINKING.name)
}

pub(super) fn grain() -> Value {
    json!({ "anyOf": [grain_direction(), defined(GRAIN.name)] })
}

pub(super) fn grain_direction() -> Value {
    json!({ "enum": GRAINS })
}

pub(super) fn tolerance() -> Value {
    json!({ "type": "number", "minimum": 0, "maximum": 45 })
}

pub(super) fn rules() -> Value {
    defined(RULES.name)
}

pub(super) fn method() -> Value {
    json!({ "enum": Method::words() })
}

pub(super) fn speed() -> Value {
    json!({ "type": "string", "pattern": "^\\s*[0-9.]+\\s*[a-zA-Z]", "examples": ["120 mph", "104 kn", "193 km/h"] })
}

pub(super) fn wing_loading() -> Value {
    json!({ "type": "string", "pattern": "^\\s*[0-9.]+\\s*[a-zA-Z]", "examples": ["8 lb/ft2", "39 kg/m2"] })
}

pub(super) fn cloth_class() -> Value {
    json!({ "enum": ClothClass::words() })
}

pub(super) fn own_figures() -> Value {
    list_of(defined(OWN_FIGURE.name), 0, limits::OWN_FIGURES)
}

pub(super) fn rule_figure() -> Value {
    json!({ "enum": RuleFigure::words() })
}

pub(super) fn location() -> Value {
    json!({ "enum": Location::words() })
}

/// One schema for each kind of part.
pub(super) fn airframe() -> Value {
    let kinds: Vec<Value> = Kind::ALL.iter().map(|(kind, _)| defined(kind.table().name)).collect();
    list_of(json!({ "anyOf": kinds }), 1, limits::PARTS)
}

pub(super) fn flat() -> Value {
    json!({ "const": Kind::Flat.word() })
}

/// A flat part may belong to anything but the fuselage.
pub(super) fn flat_surface() -> Value {
    let words: Vec<&str> = Surface::words().into_iter().filter(|word| *word != Surface::Fuselage.word()).collect();
    json!({ "enum": words })
}

pub(super) fn tubes() -> Value {
    json!({ "anyOf": [size(), list_of(size(), 1, limits::POINTS)] })
}

pub(super) fn measured_to() -> Value {
    json!({ "enum": MeasuredTo::words() })
}

pub(super) fn sides() -> Value {
    json!({ "enum": Sides::words() })
}

pub(super) fn wrap() -> Value {
    json!({ "enum": Wrap::words() })
}

pub(super) fn part_grain() -> Value {
    json!({ "enum": PART_GRAINS })
}

pub(super) fn members() -> Value {
    list_of(defined(MEMBER.name), 0, limits::MEMBERS)
}

pub(super) fn member_class() -> Value {
    json!({ "enum": MemberClass::words() })
}

pub(super) fn two_points() -> Value {
    list_of(point(), 2, 2)
}

pub(super) fn truss() -> Value {
    json!({ "const": Kind::Truss.word() })
}

pub(super) fn nodes() -> Value {
    json!({
        "type": "object",
        "additionalProperties": list_of(defined("coordinate"), 3, 3),
        "minProperties": 3,
        "maxProperties": limits::NODES,
    })
}

pub(super) fn truss_tubes() -> Value {
    list_of(defined(TUBE.name), 3, limits::MEMBERS)
}

pub(super) fn tube_class() -> Value {
    json!({ "enum": TUBE_CLASSES.map(Words::word) })
}

pub(super) fn faces() -> Value {
    list_of(defined(FACE.name), 1, limits::FACES as usize)
}

pub(super) fn ring_of_nodes() -> Value {
    list_of(name(), 3, limits::RING + 1)
}

pub(super) fn order() -> Value {
    json!({ "type": "integer", "minimum": 1, "maximum": limits::FACES })
}
