//! The schemas of the values that the keys of finishing tape take: see [`super::kinds`].

use serde_json::{Value, json};

use super::kinds::{EDGES, defined, list_of};
use super::limits;
use super::tape::{TapeJoins, TapeWeave};
use super::words::Words;

pub(super) fn tapes() -> Value {
    list_of(defined("tape"), 1, limits::TAPES)
}

pub(super) fn tape_cutting() -> Value {
    defined("tape_cutting")
}

pub(super) fn rolls() -> Value {
    json!({ "type": "integer", "minimum": 1, "maximum": limits::ROLLS_OF_TAPE })
}

pub(super) fn weave() -> Value {
    json!({ "enum": TapeWeave::words() })
}

pub(super) fn joins() -> Value {
    json!({ "enum": TapeJoins::words() })
}

pub(super) fn tape_edge() -> Value {
    json!({ "enum": EDGES })
}

pub(super) fn cut_from_cloth() -> Value {
    defined("cut_from_cloth")
}
