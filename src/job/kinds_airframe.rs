//! The schemas of the values that the keys of rules and airframe take: see [`super::kinds`].

use serde_json::{Value, json};

use super::airframe::{ClothClass, MeasuredTo, MemberClass, Method, Sides, Surface, Wrap};
use super::attachment::Attachment;
use super::kinds::{defined, list_of, point, size};
use super::kinds_places::fitting_size;
use super::limits;
use super::rule_figure::{Location, RuleFigure};
use super::words::Words;

/// Words for the grain of a part: warp or fill parallel to the line of flight.
pub(super) const PART_GRAINS: [&str; 3] = ["along", "across", "either"];

/// The kinds of parts; each has its own keys.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Kind {
    Flat,
    Ribbed,
    Truss,
    Panel,
    Repair,
}

impl Words for Kind {
    const ALL: &'static [(Self, &'static str)] = &[
        (Self::Flat, "flat"),
        (Self::Ribbed, "ribbed"),
        (Self::Truss, "truss"),
        (Self::Panel, "panel"),
        (Self::Repair, "repair"),
    ];
}

impl Kind {
    /// The name of its object among the schema's definitions.
    pub fn definition(self) -> &'static str {
        match self {
            Self::Flat => "flat_part",
            Self::Ribbed => "ribbed_part",
            Self::Truss => "truss_part",
            Self::Panel => "panel_part",
            Self::Repair => "repair",
        }
    }
}

pub(super) fn rules() -> Value {
    defined("rules")
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

pub(super) fn attachment() -> Value {
    json!({ "enum": Attachment::words() })
}

pub(super) fn patch_sizes() -> Value {
    let count = json!({ "type": "integer", "minimum": 1, "maximum": limits::PATCH_SIZES });
    json!({ "anyOf": [count, list_of(fitting_size(), 1, limits::PATCH_SIZES)] })
}

pub(super) fn own_figures() -> Value {
    list_of(defined("own_figure"), 0, limits::OWN_FIGURES)
}

pub(super) fn rule_figure() -> Value {
    json!({ "enum": RuleFigure::words() })
}

pub(super) fn location() -> Value {
    json!({ "enum": Location::words() })
}

/// The places that an edge of a panel may meet: the seams that lie at an edge.
pub(super) fn edge_locations() -> Vec<&'static str> {
    use Location::{ControlSurface, Empennage, Fuselage, Recess, WingButt, WingLeadingEdge, WingTip, WingTrailingEdge};
    let seams = [WingLeadingEdge, WingTrailingEdge, WingTip, WingButt, ControlSurface, Empennage, Fuselage, Recess];
    seams.iter().map(|seam| seam.word()).collect()
}

pub(super) fn location_of_edge() -> Value {
    json!({ "enum": edge_locations() })
}

/// One schema for each kind of part.
pub(super) fn airframe() -> Value {
    let kinds: Vec<Value> = Kind::ALL.iter().map(|(kind, _)| defined(kind.definition())).collect();
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
    list_of(defined("member"), 0, limits::MEMBERS)
}

pub(super) fn member_class() -> Value {
    json!({ "enum": MemberClass::words() })
}

pub(super) fn two_points() -> Value {
    list_of(point(), 2, 2)
}
