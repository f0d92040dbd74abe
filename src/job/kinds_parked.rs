//! The schemas of the values that the parked attitude takes: see [`super::kinds`].

use serde_json::{Value, json};

use super::kinds::{defined, list_of};
use super::parked::Direction;
use super::words::Words;

pub(super) fn parked() -> Value {
    defined("parked")
}

/// Degrees, far less than upside down.
pub(super) fn tilt() -> Value {
    json!({ "type": "number", "minimum": -STEEPEST, "maximum": STEEPEST })
}

/// More than any aircraft stands, or any wing is set, in degrees.
pub(super) const STEEPEST: f64 = 45.0;

pub(super) fn axes() -> Value {
    list_of(json!({ "enum": Direction::words() }), 2, 2)
}
