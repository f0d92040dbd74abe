//! What kinds of values the keys of the job file take, as JSON Schema, and the words among which the person chooses.

use serde_json::{Value, json};

use super::limits;
use crate::units::Units;

/// Words for how an allowance turns a corner.
pub(super) const JOINS: [&str; 2] = ["mitred", "round"];
/// Words for the edge.
pub(super) const EDGES: [&str; 2] = ["plain", "pinked"];
/// Words for the grain.
pub(super) const GRAINS: [&str; 5] = ["along", "across", "either", "bias", "free"];

pub(super) fn defined(name: &str) -> Value {
    json!({ "$ref": format!("#/$defs/{name}") })
}

pub(super) fn list_of(items: Value, least: usize, most: usize) -> Value {
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

pub(super) fn layers() -> Value {
    json!({ "anyOf": [text(), list_of(text(), 1, limits::DRAWING_LAYERS)] })
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

/// Per cent.
pub(super) fn share() -> Value {
    json!({ "type": "number", "minimum": 0, "maximum": limits::SPARES })
}

pub(super) fn spares() -> Value {
    defined("spares")
}

pub(super) fn prices() -> Value {
    defined("prices")
}

pub(super) fn rates() -> Value {
    defined("rates")
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
    defined("outline")
}

pub(super) fn join() -> Value {
    json!({ "enum": JOINS })
}

pub(super) fn edge() -> Value {
    json!({ "anyOf": [{ "enum": EDGES }, defined("pinked")] })
}

pub(super) fn pinking() -> Value {
    defined("pinking")
}

pub(super) fn grain() -> Value {
    json!({ "anyOf": [grain_direction(), defined("grain")] })
}

pub(super) fn grain_direction() -> Value {
    json!({ "enum": GRAINS })
}

pub(super) fn tolerance() -> Value {
    json!({ "type": "number", "minimum": 0, "maximum": limits::GRAIN_TOLERANCE })
}
