//! The schemas of the values that the keys of places and drains take: see [`super::kinds`].

use serde_json::{Value, json};

use super::kinds::{defined, list_of, name, pair_of_sizes};
use super::limits;
use super::places::{ControlKind, FittingKind, Grommet, Hand, RingKind};
use super::words::Words;

pub(super) fn span_range() -> Value {
    list_of(defined("coordinate"), 2, 2)
}

pub(super) fn drains() -> Value {
    defined("drains")
}

pub(super) fn grommet() -> Value {
    json!({ "enum": Grommet::words() })
}

pub(super) fn fittings() -> Value {
    list_of(defined("fitting"), 0, limits::PLACES)
}

pub(super) fn openings() -> Value {
    list_of(defined("inspection_opening"), 0, limits::PLACES)
}

pub(super) fn controls() -> Value {
    list_of(defined("control"), 0, limits::PLACES)
}

pub(super) fn face_names() -> Value {
    json!({ "anyOf": [name(), list_of(name(), 1, limits::FACES as usize)] })
}

pub(super) fn place() -> Value {
    list_of(defined("coordinate"), 2, 3)
}

pub(super) fn hand() -> Value {
    json!({ "enum": Hand::words() })
}

pub(super) fn fitting_kind() -> Value {
    json!({ "enum": FittingKind::words() })
}

pub(super) fn fitting_size() -> Value {
    json!({ "anyOf": [pair_of_sizes(), defined("fitting_circle")] })
}

pub(super) fn layers() -> Value {
    json!({ "type": "integer", "minimum": 1, "maximum": limits::LAYERS })
}

pub(super) fn ring_kind() -> Value {
    json!({ "enum": RingKind::words() })
}

pub(super) fn control_kind() -> Value {
    json!({ "enum": ControlKind::words() })
}
