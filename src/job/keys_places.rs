//! The keys of places on a part and of its drains: see [`super::keys`].

use super::keys::{Key, Table, may, must};
use super::kinds::{name, size, yes_or_no};
use super::kinds_places as kind;

pub(super) const DRAINS_KEY: Key = may(
    "drains",
    kind::drains,
    "How its drains are made. Their places are worked out: the lowest points of each bay of the underside as the aircraft is \"parked\". Without it, no drains.",
);
pub(super) const FITTINGS_KEY: Key = may(
    "fittings",
    kind::fittings,
    "What comes through the cloth or presses on it: fittings, cables, struts, hard edges.",
);
pub(super) const OPENINGS_KEY: Key = may("openings", kind::openings, "Openings for inspection, each with a ring.");
pub(super) const CONTROLS_KEY: Key =
    may("controls", kind::controls, "What must be within reach of an opening for inspection (AC 43.13-1B 2-14a).");

pub(super) static DRAINS: Table = Table {
    what: "the drains of a part",
    name: "drains",
    about: "How the drains of a part are made.",
    keys: &[
        may(
            "grommet",
            kind::grommet,
            "\"flat\", \"hooded\" (it opens aft, where spray would come in) or \"none\" (the hole is melted through cloth and tape). Without it, flat.",
        ),
        may("patch", yes_or_no, "Whether a small round patch lies over each. Without it, true."),
    ],
};

const NAME_ABOUT: &str = "What you call it; no two of the list have the same name.";
const NAME: Key = must("name", name, NAME_ABOUT, "\"name\": \"aileron bellcrank\"");
const FACE: Key = must(
    "face",
    kind::face_names,
    "The face that it is on, or a list of faces: \"first side\" and \"second side\" of a flat part, \"top\" and \"bottom\" of a ribbed part, the faces of a truss by their names.",
    "\"face\": \"bottom\"",
);
const AT: Key = must(
    "at",
    kind::place,
    "Where its middle is: [x, y] of the outline of a flat part; [place along the span, per cent of the chord from the nose] of a ribbed part; [x, y, z] in a truss, on the face or near it.",
    "\"at\": [1200, 65]",
);

const HAND: Key = may(
    "hand",
    kind::hand,
    "\"left\" or \"right\", where it is on one hand only of what is built left and right. Without it, on both.",
);

pub(super) static FITTING: Table = Table {
    what: "a fitting",
    name: "fitting",
    about: "Something that comes through the cloth or presses on it, and wants a patch (AC 43.13-1B 2-6e).",
    keys: &[
        must("name", name, NAME_ABOUT, "\"name\": \"front strut fitting\""),
        FACE,
        AT,
        HAND,
        must(
            "kind",
            kind::fitting_kind,
            "What it is: \"fitting\", \"cable exit\", \"strut exit\" or \"hard edge\".",
            "\"kind\": \"fitting\"",
        ),
        must(
            "size",
            kind::fitting_size,
            "Its size in the face: [along x, along y], or { \"circle\": diameter }.",
            "\"size\": [60, 25]",
        ),
        may(
            "height",
            size,
            "How far it stands out of the cloth; from 2 in the cloth is opened before it is shrunk. Without it, it does not.",
        ),
        may("layers", kind::layers, "How many layers its patch has, 1 or 2. Without it, 1."),
        may("ring", yes_or_no, "Whether a ring stiffens the cloth round it. Without it, false."),
    ],
};

pub(super) static FITTING_CIRCLE: Table = Table {
    what: "the size of a round fitting",
    name: "fitting_circle",
    about: "The size of a round fitting.",
    keys: &[must("circle", size, "Its diameter.", "\"circle\": 30")],
};

pub(super) static INSPECTION_OPENING: Table = Table {
    what: "an opening",
    name: "inspection_opening",
    about: "An opening for inspection; the cloth is cut only when it is first needed (AC 43.13-1B 2-14a(1)).",
    keys: &[
        NAME,
        FACE,
        AT,
        HAND,
        may("ring", kind::ring_kind, "What its ring is made of: \"plastic\" or \"metal\". Without it, plastic."),
        may("inside", size, "Inside diameter of the ring. Without it, that of the usual one."),
        may("outside", size, "Outside diameter of the ring: measure yours."),
    ],
};

pub(super) static CONTROL: Table = Table {
    what: "a control",
    name: "control",
    about: "Something under the cloth that is looked at every year, and must be within reach of an opening.",
    keys: &[
        NAME,
        FACE,
        AT,
        HAND,
        must(
            "kind",
            kind::control_kind,
            "What it is: \"bellcrank\", \"pulley\", \"cable guide\", \"wing fitting\" or \"drag-wire junction\".",
            "\"kind\": \"pulley\"",
        ),
    ],
};
