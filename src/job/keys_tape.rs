//! The keys of finishing tape: see [`super::keys`].

use super::keys::{Table, may, must};
use super::kinds::{length_or_zero, name, positive, size, text, yes_or_no, zero_or_more};
use super::kinds_tape as kind;

pub(super) static TAPE: Table = Table {
    what: "a tape",
    name: "tape",
    about: "A kind of roll of finishing tape. Rolls of one tape in two lengths are two entries.",
    keys: &[
        must("name", name, "What you call it; no two tapes have the same name.", "\"name\": \"2 in, 50 yd\""),
        must(
            "width",
            size,
            "Width as it is sold, tooth tip to tooth tip where it is pinked; bias tape before it is pulled.",
            "\"width\": \"2 in\"",
        ),
        must("length", size, "Length of a roll.", "\"length\": \"50 yd\""),
        may(
            "weave",
            kind::weave,
            "Which way its threads run: \"straight\" along the tape, or on the \"bias\". Without it, straight.",
        ),
        may("pinked", yes_or_no, "Whether its edges are pinked. Without it, true."),
        may(
            "price",
            zero_or_more,
            "Price of a roll, in your own money. Without it, or where it is 0, the rolls are there already, and \"count\" says how many.",
        ),
        may("mass", positive, "Grams that a roll weighs."),
        may("count", kind::rolls, "How many rolls there are at most. Without it, as many as are needed."),
        may("note", text, "Anything worth remembering."),
    ],
};

pub(super) static TAPE_CUTTING: Table = Table {
    what: "the cutting of tape",
    name: "tape_cutting",
    about: "How finishing tape is cut.",
    keys: &[
        may(
            "joins",
            kind::joins,
            "Which straight runs may be joined from pieces: \"along the span\" (or the fuselage), \"never\" or \"everywhere\". Without it, along the span. Bias tape from a roll is laid in one pull and never joined.",
        ),
        may("overlap", length_or_zero, "How far two pieces of a joined run lie over each other. Without it, 2 in."),
        may(
            "shortest",
            size,
            "Length of the shortest piece of a joined run, its overlaps included. Without it, 500 mm.",
        ),
        may(
            "edge",
            kind::tape_edge,
            "Whether tapes are \"pinked\" or \"plain\". Without it, whichever the rolls are, and pinked where there are both.",
        ),
        may(
            "cut_from_cloth",
            kind::cut_from_cloth,
            "Allows tape to be cut from the roll of cloth, and asks what that saves and costs.",
        ),
    ],
};

pub(super) static CUT_FROM_CLOTH: Table = Table {
    what: "the permission to cut tape from cloth",
    name: "cut_from_cloth",
    about: "Finishing tape cut from the cloth of the panels: straight tape along the warp, bias tape at 45° to it.",
    keys: &[
        must("cloth", name, "Name of the cloth.", "\"cloth\": \"roll\""),
        may(
            "edge_an_hour",
            size,
            "How much edge you mark and cut in an hour. Without it, 25 m: common practice, no source.",
        ),
        may(
            "seam_lap",
            length_or_zero,
            "Lap of the seam between two pieces of bias tape, square to the seam. Without it, 1/2 in: common practice, no source.",
        ),
        may(
            "in_lay",
            yes_or_no,
            "Whether the tape is cut so: then its strips are pieces of the lay, and runs are cut from them. Without it, false: what it would take is worked out beside the lay.",
        ),
    ],
};
