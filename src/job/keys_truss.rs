//! The keys of a truss: see [`super::keys`].

use super::keys::{Table, may, must};
use super::keys_places::{CONTROLS_KEY, DRAINS_KEY, FITTINGS_KEY, OPENINGS_KEY};
use super::kinds::{name, names, size, text, yes_or_no};
use super::kinds_airframe::part_grain;
use super::kinds_truss as kind;

pub(super) static TRUSS_PART: Table = Table {
    what: "a truss",
    name: "truss_part",
    about: "A framework of tubes in space, such as a fuselage, and the faces between them that are covered. x runs aft along the line of flight, y to the right, z up.",
    keys: &[
        must("name", name, "What you call it; no two parts have the same name.", "\"name\": \"fuselage\""),
        must("kind", kind::truss, "Always \"truss\".", "\"kind\": \"truss\""),
        may("cloth", names, "Name or names of the cloths that its panels may be cut from. Without it, any."),
        may(
            "mirrored",
            yes_or_no,
            "Whether the whole truss is built twice, left and right, so that every panel counts twice. Without it, false. For a fuselage with like sides, say \"mirrored\" in the face.",
        ),
        may("source", text, "Where its figures come from, for example the drawing."),
        must(
            "nodes",
            kind::nodes,
            "Every node by its name, with its place [x, y, z]: where the centre lines of the tubes meet.",
            "\"nodes\": { \"lower nose\": [0, 250, 0], \"upper nose\": [0, 240, 640] }",
        ),
        may(
            "grain",
            part_grain,
            "Which way the line of flight lies on the roll: \"along\", \"across\" or \"either\". Without it, either.",
        ),
        must(
            "tubes",
            kind::tubes,
            "The tubes, each from node to node.",
            "\"tubes\": [ { \"from\": \"lower nose\", \"to\": \"upper nose\", \"diameter\": \"3/4 in\", \"class\": \"cross tube\" } ]",
        ),
        must(
            "faces",
            kind::faces,
            "The faces to be covered.",
            "\"faces\": [ { \"name\": \"side\", \"ring\": [\"lower nose\", \"lower tail\", \"upper tail\", \"upper nose\"], \"order\": 1 } ]",
        ),
        DRAINS_KEY,
        FITTINGS_KEY,
        OPENINGS_KEY,
        CONTROLS_KEY,
    ],
};

pub(super) static TUBE: Table = Table {
    what: "a tube",
    name: "tube",
    about: "A tube from node to node.",
    keys: &[
        must("from", name, "The node where it begins.", "\"from\": \"lower nose\""),
        must("to", name, "The node where it ends.", "\"to\": \"upper nose\""),
        must("diameter", size, "Its outside diameter.", "\"diameter\": \"3/4 in\""),
        must(
            "class",
            kind::tube_class,
            "What it is. A lap may lie on a \"longeron\" or a \"cross tube\", never on a \"stringer\" or a \"former\", which are no structure.",
            "\"class\": \"cross tube\"",
        ),
    ],
};

pub(super) static FACE: Table = Table {
    what: "a face",
    name: "face",
    about: "A face to be covered. A tube must run along each of its edges; tubes across it between its nodes divide it into bays.",
    keys: &[
        must("name", name, "What you call it; no two faces of a truss have the same name.", "\"name\": \"side\""),
        must(
            "ring",
            kind::ring,
            "Its nodes in order, the way round does not matter; it closes itself.",
            "\"ring\": [\"lower nose\", \"lower tail\", \"upper tail\", \"upper nose\"]",
        ),
        must(
            "order",
            kind::order,
            "When it is covered: 1 first. Bottom first, then the sides, the top last; a later face laps over an earlier one.",
            "\"order\": 1",
        ),
        may(
            "mirrored",
            yes_or_no,
            "Whether the same face is there on the other side of the plane y = 0 too. Its nodes and tubes need not be written a second time. Without it, false.",
        ),
    ],
};
