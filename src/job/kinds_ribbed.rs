//! The schemas of the values that only the keys of ribbed parts take: see [`super::kinds`].

use serde_json::{Value, json};

use super::kinds::{defined, list_of};
use super::kinds_airframe::Kind;
use super::words::Words;
use super::{RibbedCover, Roll, limits};

pub(super) fn ribbed() -> Value {
    json!({ "const": Kind::Ribbed.word() })
}

pub(super) fn planform() -> Value {
    list_of(defined("chord"), 2, limits::CHORDS)
}

pub(super) fn section() -> Value {
    defined("section")
}

pub(super) fn digits() -> Value {
    json!({ "type": "string", "pattern": "^[0-9]{4}$", "examples": ["0012", "2412"] })
}

pub(super) fn ordinates() -> Value {
    let number = json!({ "type": "number", "minimum": -100, "maximum": 100 });
    list_of(list_of(number, 3, 3), 4, limits::POINTS)
}

pub(super) fn cover() -> Value {
    json!({ "enum": RibbedCover::words() })
}

pub(super) fn roll() -> Value {
    json!({ "enum": Roll::words() })
}

pub(super) fn coordinate() -> Value {
    defined("coordinate")
}

pub(super) fn ribs() -> Value {
    list_of(coordinate(), 0, limits::RIBS)
}

pub(super) fn per_cent() -> Value {
    json!({ "type": "number", "exclusiveMinimum": 0, "exclusiveMaximum": 100 })
}

pub(super) fn recesses() -> Value {
    list_of(defined("recess"), 0, limits::RECESSES)
}

pub(super) fn spars() -> Value {
    list_of(per_cent(), 0, limits::RIBS)
}

pub(super) fn nose_sheet() -> Value {
    json!({ "anyOf": [per_cent(), list_of(per_cent(), 2, 2)] })
}
