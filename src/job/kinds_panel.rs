//! The schemas of the values that the keys of a finished panel take: see [`super::kinds`].

use serde_json::{Value, json};

use super::airframe::Surface;
use super::kinds::{defined, list_of};
use super::kinds_airframe::{Kind, edge_locations};
use super::limits;
use super::words::Words;

/// The word for an edge along which the cloth is cut on the outline.
pub(super) const NOTHING_ADDED: &str = "nothing added";

/// The words for an edge that needs no object.
pub(super) fn edge_words() -> Vec<&'static str> {
    edge_locations().into_iter().chain([NOTHING_ADDED]).collect()
}

pub(super) fn panel() -> Value {
    json!({ "const": Kind::Panel.word() })
}

pub(super) fn surface() -> Value {
    json!({ "enum": Surface::words() })
}

pub(super) fn edges() -> Value {
    let edge = || json!({ "anyOf": [{ "enum": edge_words() }, defined("panel_edge")] });
    json!({ "anyOf": [edge(), list_of(edge(), 1, limits::POINTS)] })
}
