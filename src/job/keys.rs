//! Every key of the job file, with what it means: the one home from which the reader knows what may be written and
//! from which the JSON Schema is made.

use serde_json::Value;

use super::keys_airframe::{FLAT_PART, MEMBER, OWN_FIGURE, RULES};
use super::keys_panel::{PANEL_EDGE, PANEL_PART};
use super::keys_parked::PARKED;
use super::keys_places::{CONTROL, DRAINS, FITTING, FITTING_CIRCLE, INSPECTION_OPENING};
use super::keys_repair::{NEAR_MEMBER, OPENING, REPAIR};
use super::keys_ribbed::{CHORD, RECESS, RIBBED_PART, SECTION};
use super::keys_spares::{PRICES, RATES, SPARES};
use super::keys_tape::{CUT_FROM_CLOTH, TAPE, TAPE_CUTTING};
use super::keys_truss::{FACE, TRUSS_PART, TUBE};
use super::kinds as kind;
use super::kinds_airframe as airframe_kind;
use super::kinds_parked as parked_kind;
use super::kinds_tape as tape_kind;

/// A key of an object in the job file.
pub(super) struct Key {
    pub name: &'static str,
    pub required: bool,
    /// What it means, in plain words; the schema's description.
    pub about: &'static str,
    /// What to write, for somebody who left a required key out; empty for other keys.
    pub example: &'static str,
    /// The schema of its value.
    pub schema: fn() -> Value,
}

pub(super) const fn must(name: &'static str, schema: fn() -> Value, about: &'static str, example: &'static str) -> Key {
    Key { name, required: true, about, example, schema }
}

pub(super) const fn may(name: &'static str, schema: fn() -> Value, about: &'static str) -> Key {
    Key { name, required: false, about, example: "", schema }
}

/// An object of the job file.
pub(super) struct Table {
    /// What the object is, with its article, for messages.
    pub what: &'static str,
    /// Its name among the schema's definitions.
    pub name: &'static str,
    pub about: &'static str,
    pub keys: &'static [Key],
}

pub(super) static JOB: Table = Table {
    what: "a job",
    name: "job",
    about: "A covering job: the cloth that there is, and the airframe to cover with it or the pieces to cut from it.",
    keys: &[
        must("format", kind::format, "Version of this file format. Always 1.", "\"format\": 1"),
        must(
            "units",
            kind::units,
            "The unit of every plain number that is a length: mm, cm, m, in or ft.",
            "\"units\": \"mm\"",
        ),
        may("name", kind::text, "What you call the job. Without it, the name of the file."),
        may("note", kind::text, "Anything worth remembering."),
        may(
            "gap",
            kind::length_or_zero,
            "Free distance between the cut lines of two pieces. Without it, 0: cut lines may touch.",
        ),
        must(
            "cloth",
            kind::cloths,
            "The rolls, bolts and offcuts that pieces may be cut from.",
            "\"cloth\": [ { \"name\": \"roll\", \"width\": \"1.78 m\" } ]",
        ),
        may("rules", airframe_kind::rules, "Which covering rules hold; an airframe needs them."),
        may("airframe", airframe_kind::airframe, "The parts to be covered; their panels are worked out by the rules."),
        may("parked", parked_kind::parked, "How the aircraft stands when it is parked, for the places of drains."),
        may("spares", kind::spares, "What to buy beyond what is worked out. Without it, nothing."),
        may("prices", kind::prices, "What goods other than cloth and tape cost. Without it, they have no price."),
        may("rates", kind::rates, "How long work takes you. Without it, common practice."),
        may("tape", tape_kind::tapes, "The rolls of finishing tape that there are or that can be bought."),
        may(
            "tape_cutting",
            tape_kind::tape_cutting,
            "How finishing tape is cut: joints, edges, and whether from cloth.",
        ),
        may("pieces", kind::pieces, "Pieces to cut that you give yourself, beside the panels of the airframe."),
    ],
};

pub(super) static CLOTH: Table = Table {
    what: "a cloth",
    name: "cloth",
    about: "A roll, a bolt or an offcut. x runs along it from its end, y across it from the lower edge of the full width.",
    keys: &[
        must("name", kind::name, "What you call it; no two cloths have the same name.", "\"name\": \"roll\""),
        must(
            "width",
            kind::size,
            "Full width, selvage included, for example 1780 or \"70 in\".",
            "\"width\": \"1.78 m\"",
        ),
        may("length", kind::size, "Length. Without it, as much as is needed, or the length of its \"outline\"."),
        may("count", kind::quantity, "How many of them there are. Without it, 1."),
        may(
            "selvage",
            kind::selvage,
            "What is trimmed from the long edges: one length for both, or [lower, upper]. Without it, 0: pieces may reach the very edge of the cloth.",
        ),
        may(
            "outline",
            kind::outline,
            "The true outline of an offcut that is no rectangle; it lies inside width and length.",
        ),
        may("flaws", kind::flaws, "Areas that no piece may touch: stains, holes, creases, seams."),
        may("mass", kind::positive, "Grams a square metre."),
        may("price", kind::zero_or_more, "Price of a metre of its length, in your own money."),
        may("sold_by", kind::size, "The step of length in which it is sold, for example \"1 yd\"."),
        may(
            "faces_alike",
            kind::yes_or_no,
            "Whether both faces are alike, so that pieces may be laid face down. Without it, false.",
        ),
        may("note", kind::text, "Anything worth remembering."),
    ],
};

pub(super) static FLAW: Table = Table {
    what: "a flaw",
    name: "flaw",
    about: "An area of a cloth that no piece may touch.",
    keys: &[
        must(
            "outline",
            kind::outline,
            "Where it is, in the cloth's coordinates; shift it with \"at\".",
            "\"outline\": { \"circle\": \"50 mm\", \"at\": [\"1.2 m\", \"300 mm\"] }",
        ),
        may("note", kind::text, "What it is, for example \"oil stain\"."),
    ],
};

pub(super) static PIECE: Table = Table {
    what: "a piece",
    name: "piece",
    about: "An outline to cut. Its own x axis is its grain line.",
    keys: &[
        must("name", kind::name, "What you call it; no two pieces have the same name.", "\"name\": \"doily\""),
        must(
            "outline",
            kind::outline,
            "The finished outline, without the allowance.",
            "\"outline\": { \"circle\": \"165 mm\" }",
        ),
        may("quantity", kind::quantity, "How many copies. Without it, 1."),
        may(
            "allowance",
            kind::allowance,
            "How far the cut line lies outside the finished outline: one length all round, or one for each edge of the outer ring in order. Without it, 0.",
        ),
        may(
            "join",
            kind::join,
            "How the allowance turns a corner: \"mitred\" (edges drawn out until they meet) or \"round\". Without it, mitred.",
        ),
        may(
            "edge",
            kind::edge,
            "How the edge is cut: \"plain\", \"pinked\", or pinked with your own shears' pitch and depth. Without it, plain.",
        ),
        may(
            "grain",
            kind::grain,
            "Which way the piece's x axis lies on the roll. Without it, \"either\": along the warp or along the fill.",
        ),
        may(
            "flip",
            kind::yes_or_no,
            "Whether it may be laid face down, on cloth whose faces are alike. Without it, true.",
        ),
        may("cloth", kind::names, "Name or names of the cloths that it may be cut from. Without it, any."),
        may("goes", kind::text, "Where it goes on the aircraft."),
        may("source", kind::text, "Where its figures come from, for example the drawing."),
    ],
};

pub(super) static PINKED: Table = Table {
    what: "an edge",
    name: "pinked",
    about: "A pinked edge with the teeth of your own shears.",
    keys: &[must(
        "pinked",
        kind::pinking,
        "The teeth.",
        "\"edge\": { \"pinked\": { \"pitch\": \"5 mm\", \"depth\": \"2.5 mm\" } }",
    )],
};

pub(super) static PINKING: Table = Table {
    what: "the teeth of a pinked edge",
    name: "pinking",
    about: "Teeth of a pinked edge. The nominal size of the piece is measured from tip to tip.",
    keys: &[
        may("pitch", kind::size, "From tip to tip along the edge. Without it, 5 mm."),
        may("depth", kind::size, "From tip to nip across the edge. Without it, half the pitch."),
    ],
};

pub(super) static GRAIN: Table = Table {
    what: "a grain",
    name: "grain",
    about: "Which way the piece's x axis lies on the roll.",
    keys: &[
        may("direction", kind::grain_direction, "Without it, \"either\"."),
        may("tolerance", kind::tolerance, "Degrees that it may be off, either way, 0 to 45. Without it, 0."),
        may(
            "one_way",
            kind::yes_or_no,
            "Whether the cloth has an up and a down, so that no copy may be turned by half a turn. Without it, false.",
        ),
    ],
};

pub(super) static OUTLINE: Table = Table {
    what: "an outline",
    name: "outline",
    about: "A closed outline: exactly one of rect, circle, ring, strip, polygon, path and file.",
    keys: &[
        may(
            "rect",
            kind::pair_of_sizes,
            "A rectangle: [length along x, width along y], its lower left corner at the origin.",
        ),
        may("circle", kind::size, "A circle round the origin: its diameter."),
        may("ring", kind::pair_of_sizes, "A ring round the origin: [outer diameter, inner diameter]."),
        may(
            "strip",
            kind::pair_of_sizes,
            "A straight strip: [length along x, width], its lower left corner at the origin.",
        ),
        may("polygon", kind::points, "The corners in order, each [x, y]; it closes itself."),
        may("holes", kind::rings, "Holes of the polygon, each a list of corners."),
        may(
            "path",
            kind::path,
            "SVG path data (lines, curves, arcs), its numbers in the job's unit. The largest ring is the outer one, the others are holes.",
        ),
        may(
            "file",
            kind::text,
            "A drawing, SVG or ASCII DXF, in the job's folder, with one closed shape or one picked by id or layer. Inner lines are holes; the lower left corner of the shape comes to the origin.",
        ),
        may(
            "id",
            kind::text,
            "The shape or group of the SVG with this id, or the entity or block of the DXF with this handle or name.",
        ),
        may(
            "layer",
            kind::layers,
            "The layer of the DXF, or the group or class of the SVG, with this name; or a list of such names.",
        ),
        may("unit", kind::size, "How long one unit of the drawing is. Without it, what the drawing says."),
        may("width", kind::size, "How wide the shape is from left to right, in place of a unit."),
        may("join", kind::length_or_zero, "The widest gap between ends of lines that is closed. Without it, 0.1 mm."),
        may("at", kind::point, "Shifts the outline by [x, y]; useful for flaws and offcuts."),
    ],
};

/// The keys of an outline that say its shape; exactly one must be there.
pub(super) const SHAPES: [&str; 7] = ["rect", "circle", "ring", "strip", "polygon", "path", "file"];

/// Every object of the job file.
pub(super) static TABLES: [&Table; 36] = [
    &JOB,
    &CLOTH,
    &FLAW,
    &PIECE,
    &PINKED,
    &PINKING,
    &GRAIN,
    &OUTLINE,
    &PARKED,
    &DRAINS,
    &FITTING,
    &FITTING_CIRCLE,
    &INSPECTION_OPENING,
    &CONTROL,
    &RULES,
    &OWN_FIGURE,
    &FLAT_PART,
    &MEMBER,
    &RIBBED_PART,
    &CHORD,
    &RECESS,
    &SECTION,
    &TRUSS_PART,
    &TUBE,
    &FACE,
    &PANEL_PART,
    &PANEL_EDGE,
    &REPAIR,
    &OPENING,
    &NEAR_MEMBER,
    &SPARES,
    &PRICES,
    &RATES,
    &TAPE,
    &TAPE_CUTTING,
    &CUT_FROM_CLOTH,
];

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn whoever_leaves_a_required_key_out_is_shown_json() {
        for key in TABLES.iter().flat_map(|table| table.keys).filter(|key| key.required) {
            let object = serde_json::from_str::<Value>(&format!("{{ {} }}", key.example));
            assert!(
                object.is_ok_and(|object| object.to_string().contains(&format!("\"{}\"", key.name))),
                "{}",
                key.name
            );
        }
    }
}
