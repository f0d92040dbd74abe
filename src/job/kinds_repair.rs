//! The schemas of the values that the keys of repairs take: see [`super::kinds`].

use serde_json::{Value, json};

use super::kinds::{defined, list_of};
use super::kinds_airframe::Kind;
use super::repair::{RepairKind, RepairPlace, Side};
use super::words::Words;

pub(super) fn repair() -> Value {
    json!({ "const": Kind::Repair.word() })
}

pub(super) fn repair_method() -> Value {
    json!({ "enum": RepairKind::words() })
}

pub(super) fn opening() -> Value {
    defined("opening")
}

pub(super) fn repair_place() -> Value {
    json!({ "enum": RepairPlace::words() })
}

pub(super) fn near_members() -> Value {
    list_of(defined("near_member"), 0, Side::ALL.len())
}

pub(super) fn side() -> Value {
    json!({ "enum": Side::words() })
}
