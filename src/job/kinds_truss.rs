//! The schemas of the values that the keys of a truss take: see [`super::kinds`].

use serde_json::{Value, json};

use super::kinds::{defined, list_of, name};
use super::kinds_airframe::Kind;
use super::limits;
use super::truss::TUBE_CLASSES;
use super::words::Words;

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

pub(super) fn tubes() -> Value {
    list_of(defined("tube"), 3, limits::MEMBERS)
}

pub(super) fn tube_class() -> Value {
    json!({ "enum": TUBE_CLASSES.map(Words::word) })
}

pub(super) fn faces() -> Value {
    list_of(defined("face"), 1, limits::FACES as usize)
}

pub(super) fn ring() -> Value {
    list_of(name(), 3, limits::RING + 1)
}

pub(super) fn order() -> Value {
    json!({ "type": "integer", "minimum": 1, "maximum": limits::FACES })
}
