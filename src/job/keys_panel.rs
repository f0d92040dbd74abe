//! The keys of a finished panel: see [`super::keys`].

use super::keys::{Table, may, must};
use super::kinds::{length_or_zero, name, names, outline, size, text, yes_or_no};
use super::kinds_airframe::{location_of_edge, members, part_grain, two_points};
use super::kinds_panel as kind;

pub(super) static PANEL_PART: Table = Table {
    what: "a panel",
    name: "panel_part",
    about: "A panel whose finished outline you already have, from a drawing or from an old cover. Laps and handling are added by the rules, edge by edge.",
    keys: &[
        must("name", name, "What you call it; no two parts have the same name.", "\"name\": \"baggage door\""),
        must("kind", kind::panel, "Always \"panel\".", "\"kind\": \"panel\""),
        may("cloth", names, "Name or names of the cloths that it may be cut from. Without it, any."),
        may(
            "mirrored",
            yes_or_no,
            "Whether it is built twice, left and right, so that it counts twice. Without it, false.",
        ),
        may("source", text, "Where its figures come from, for example the drawing."),
        must(
            "surface",
            kind::surface,
            "What it belongs to: \"empennage\", \"control surface\" (of the wing), \"wing\" or \"fuselage\".",
            "\"surface\": \"fuselage\"",
        ),
        must(
            "outline",
            outline,
            "Its finished outline, seen from outside, without wraps and laps.",
            "\"outline\": { \"rect\": [600, 400] }",
        ),
        must(
            "edges",
            kind::edges,
            "What its edges meet: one for all round, or one for each edge of the outline in order. An edge is the place whose figures hold, such as \"fuselage\"; an object with \"at\" where the cloth goes round something; or \"nothing added\", where it is cut on the outline.",
            "\"edges\": \"fuselage\"",
        ),
        may(
            "grain",
            part_grain,
            "Which way the x axis of its outline lies on the roll: \"along\", \"across\" or \"either\". Without it, either.",
        ),
        may("members", members, "Longerons, cross tubes, ribs and other members under it, as lines."),
        may("hinge", two_points, "Two points of the hinge line, for the moment of the covering about it."),
    ],
};

pub(super) static PANEL_EDGE: Table = Table {
    what: "an edge of a panel",
    name: "panel_edge",
    about: "An edge at which the cloth goes round something before its lap begins: a \"tube\", or a \"wrap\" that you measured.",
    keys: &[
        must("at", location_of_edge, "The place whose figures hold.", "\"at\": \"fuselage\""),
        may(
            "tube",
            size,
            "Diameter of the tube whose centre line the edge follows. The cloth goes a quarter of its circumference round it, to the middle, and the lap begins there.",
        ),
        may(
            "wrap",
            length_or_zero,
            "What the cloth follows from the outline to where its lap begins, as you measured it.",
        ),
    ],
};
