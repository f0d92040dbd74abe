//! The schemas of the values that the parked attitude and drains take: see [`super::kinds`].

use serde_json::{Value, json};

use super::kinds::{defined, list_of};
use super::parked::{Direction, Grommet};
use super::words::Words;

pub(super) fn parked() -> Value {
    defined("parked")
}

pub(super) fn drains() -> Value {
    defined("drains")
}

/// Degrees, far less than upside down.
pub(super) fn tilt() -> Value {
    json!({ "type": "number", "minimum": -STEEPEST, "maximum": STEEPEST })
}

/// More than any aircraft stands, or any wing is set, in degrees.
pub(super) const STEEPEST: f64 = 45.0;

pub(super) fn grommet() -> Value {
    json!({ "enum": Grommet::words() })
}

pub(super) fn axes() -> Value {
    list_of(json!({ "enum": Direction::words() }), 2, 2)
}
