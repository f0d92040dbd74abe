//! The keys of repairs: see [`super::keys`].

use super::keys::{Table, may, must};
use super::kinds::{length_or_zero, name, names, pair_of_sizes, size, text, yes_or_no};
use super::kinds_repair as kind;

pub(super) static REPAIR: Table = Table {
    what: "a repair",
    name: "repair",
    about: "A damaged place in the cloth. Lap, tape and patch follow from its size, its place and Vne.",
    keys: &[
        must(
            "name",
            name,
            "What you call it; no other part or repair has the same name.",
            "\"name\": \"hole behind the wheel\"",
        ),
        must("kind", kind::repair, "Always \"repair\".", "\"kind\": \"repair\""),
        must(
            "method",
            kind::repair_method,
            "How it is repaired: \"doped patch\", \"cemented patch\", \"sewn patch\" or \"sewn tear\".",
            "\"method\": \"doped patch\"",
        ),
        must(
            "opening",
            kind::opening,
            "The damage once it is trimmed: a rectangle, a circle or a tear. For a sewn patch, the line of the stitches.",
            "\"opening\": { \"rect\": [\"6 in\", \"4 in\"] }",
        ),
        must(
            "at",
            kind::repair_place,
            "Where it lies: \"wing top\", \"wing bottom\", \"control surface\", \"empennage\" or \"fuselage\".",
            "\"at\": \"wing bottom\"",
        ),
        may(
            "members",
            kind::near_members,
            "Members along the sides of a rectangular opening that the cloth is laced or fastened to.",
        ),
        may(
            "spans_two_ribs",
            yes_or_no,
            "Whether the new cloth reaches over two adjacent wing ribs. Without it, false.",
        ),
        may("cloth", names, "Name or names of the cloths that the patch may be cut from. Without it, any."),
        may("source", text, "Where its figures come from, for example the report of an inspection."),
    ],
};

pub(super) static OPENING: Table = Table {
    what: "an opening",
    name: "opening",
    about: "What is to be closed: exactly one of rect, circle and tear.",
    keys: &[
        may("rect", pair_of_sizes, "A rectangle: [length along the grain line of the patch, width]."),
        may("circle", size, "A circle: its diameter."),
        may("tear", size, "A tear that is sewn up: its length."),
    ],
};

/// The keys of an opening that say its shape; exactly one must be there.
pub(super) const OPENINGS: [&str; 3] = ["rect", "circle", "tear"];

pub(super) static NEAR_MEMBER: Table = Table {
    what: "a member near a repair",
    name: "near_member",
    about: "A member that the cloth is attached to, along a side of the opening.",
    keys: &[
        must(
            "side",
            kind::side,
            "On which side of the opening: \"lower\" and \"upper\" are along its length, \"left\" and \"right\" across.",
            "\"side\": \"right\"",
        ),
        must(
            "distance",
            length_or_zero,
            "From that side of the opening to the centre line of the member.",
            "\"distance\": \"3 in\"",
        ),
    ],
};
