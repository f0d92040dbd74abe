//! The keys of the rules and of the airframe: see [`super::keys`].

use super::keys::{Table, may, must};
use super::keys_panel::PANEL_PART;
use super::keys_places::{CONTROLS_KEY, DRAINS_KEY, FITTINGS_KEY, OPENINGS_KEY};
use super::keys_repair::REPAIR;
use super::keys_ribbed::RIBBED_PART;
use super::keys_truss::TRUSS_PART;
use super::kinds::{length_or_zero, name, names, outline, point, positive, size, text, yes_or_no};
use super::kinds_airframe::{self as kind, Kind};
use super::kinds_parked as parked;

pub(super) static RULES: Table = Table {
    what: "the set of rules",
    name: "rules",
    about: "Which covering rules hold. Every figure has a default with its source; \"figures\" are those that the maker's manual gives otherwise.",
    keys: &[
        must(
            "method",
            kind::method,
            "How cloth is joined to cloth: \"doped\", \"cemented\" or \"sewn\".",
            "\"method\": \"doped\"",
        ),
        must(
            "vne",
            kind::speed,
            "Never-exceed speed with its unit, for example \"120 mph\", \"104 kn\" or \"193 km/h\".",
            "\"vne\": \"120 mph\"",
        ),
        must(
            "wing_loading",
            kind::wing_loading,
            "Greatest mass over wing area with its unit, for example \"8 lb/ft2\" or \"39 kg/m2\".",
            "\"wing_loading\": \"8 lb/ft2\"",
        ),
        may(
            "glider",
            yes_or_no,
            "Whether the aircraft is a glider, for which a lighter class of cloth may do. Without it, false.",
        ),
        may(
            "cloth_class",
            kind::cloth_class,
            "Strength class of the cloth that you use (AC 43.13-1B table 2-1): \"light\", \"intermediate\" or \"grade A\".",
        ),
        may(
            "attachment",
            kind::attachment,
            "What holds the cloth to ribs: \"lacing\", \"screws\", \"rivets\", \"clips\", or \"none\" where the maker's manual has none. Without it, lacing.",
        ),
        may("coats", positive, "Grams a square metre of all coats together, for the mass of each part."),
        may(
            "patch_sizes",
            kind::patch_sizes,
            "How many sizes patches over fittings are cut in at most, or the sizes themselves, as [90, 60] or { \"circle\": 80 }; each patch takes the smallest that covers it. Without it, as few as take a tenth more cloth.",
        ),
        may("figures", kind::own_figures, "Figures that are not the rule's default, each with its reason."),
    ],
};

pub(super) static OWN_FIGURE: Table = Table {
    what: "a figure of your own",
    name: "own_figure",
    about: "A figure in place of a rule's default.",
    keys: &[
        must(
            "figure",
            kind::rule_figure,
            "Which figure: \"lap\", \"tape\" (its width), \"margin\" (past a seam or an edge), \"handling\", \"spacing\" (of laces), \"length\" or \"diameter\".",
            "\"figure\": \"lap\"",
        ),
        must(
            "at",
            kind::location,
            "The place that it holds for: a seam such as \"wing leading edge\", a member such as \"rib\" or \"leading edge\", or a thing such as \"doily\".",
            "\"at\": \"wing leading edge\"",
        ),
        must("value", length_or_zero, "Its value.", "\"value\": \"4 in\""),
        must(
            "why",
            text,
            "Why it is not the default, for example the maker's manual and its page.",
            "\"why\": \"maker's manual, page 12\"",
        ),
    ],
};

pub(super) static FLAT_PART: Table = Table {
    what: "a flat part",
    name: "flat_part",
    about: "A planar frame with a tube all round: fin, rudder, tailplane, elevator, flat control surface.",
    keys: &[
        must("name", name, "What you call it; no two parts have the same name.", "\"name\": \"rudder\""),
        must("kind", kind::flat, "Always \"flat\".", "\"kind\": \"flat\""),
        may("cloth", names, "Name or names of the cloths that its panels may be cut from. Without it, any."),
        may(
            "mirrored",
            yes_or_no,
            "Whether it is built twice, left and right, so that every panel counts twice. Without it, false.",
        ),
        may("source", text, "Where its figures come from, for example the drawing."),
        must(
            "surface",
            kind::flat_surface,
            "What it belongs to: \"empennage\", \"control surface\" (of the wing) or \"wing\".",
            "\"surface\": \"empennage\"",
        ),
        must(
            "outline",
            outline,
            "Its outline in plan, seen from the first side, without wraps and laps.",
            "\"outline\": { \"rect\": [600, \"1.2 m\"] }",
        ),
        must(
            "tube",
            kind::tubes,
            "Diameter of the perimeter tube: one for all round, or one for each edge of the outline in order.",
            "\"tube\": \"3/4 in\"",
        ),
        may(
            "measured_to",
            kind::measured_to,
            "Whether the outline is the \"tube outside\" or the \"tube centre\". Without it, the outside.",
        ),
        may("sides", kind::sides, "Whether \"both\" sides are covered or \"one\". Without it, both."),
        may(
            "wrap",
            kind::wrap,
            "Who has the lap round the perimeter tube: \"shared\" (half by each side) or \"first side\" (all of it). Without it, shared.",
        ),
        may(
            "grain",
            kind::part_grain,
            "Which way the x axis of its outline lies on the roll: \"along\", \"across\" or \"either\". Without it, either.",
        ),
        may("members", kind::members, "Ribs, spars and other members inside the perimeter, as lines."),
        may("hinge", kind::two_points, "Two points of the hinge line, for the moment of the covering about it."),
        may(
            "axes",
            parked::axes,
            "Where the x and the y axis of its outline point in the aircraft, such as [\"aft\", \"up\"] for a rudder: which point is the lowest, and what is front and top in the map.",
        ),
        DRAINS_KEY,
        FITTINGS_KEY,
        OPENINGS_KEY,
        CONTROLS_KEY,
    ],
};

pub(super) static MEMBER: Table = Table {
    what: "a member",
    name: "member",
    about: "A member inside a part, as a straight line in the coordinates of the part's outline.",
    keys: &[
        must(
            "class",
            kind::member_class,
            "What it is; the class decides whether a lap may lie on it.",
            "\"class\": \"rib\"",
        ),
        must("from", point, "Where it begins, [x, y].", "\"from\": [0, 400]"),
        must("to", point, "Where it ends, [x, y].", "\"to\": [620, 400]"),
        may("width", size, "Width of its face under the cloth; a lap needs structure as wide as itself."),
    ],
};

/// The keys of a part of a kind.
pub(super) fn keys_of_part(kind: Kind) -> &'static Table {
    match kind {
        Kind::Flat => &FLAT_PART,
        Kind::Ribbed => &RIBBED_PART,
        Kind::Truss => &TRUSS_PART,
        Kind::Panel => &PANEL_PART,
        Kind::Repair => &REPAIR,
    }
}
