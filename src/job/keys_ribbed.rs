//! The keys of parts with ribs and a section: see [`super::keys`].

use super::keys::{Table, may, must};
use super::keys_places::{CONTROLS_KEY, DRAINS_KEY, FITTINGS_KEY, OPENINGS_KEY};
use super::kinds as kind;
use super::kinds_airframe::flat_surface;
use super::kinds_parked::tilt;
use super::kinds_places::span_range;
use super::kinds_ribbed as ribbed;

pub(super) static RIBBED_PART: Table = Table {
    what: "a ribbed part",
    name: "ribbed_part",
    about: "A surface whose ribs have a section: wing, aileron, flap. Seen from above, the butt on the left and the nose ahead.",
    keys: &[
        must("name", kind::name, "What you call it; no two parts have the same name.", "\"name\": \"wing\""),
        must("kind", ribbed::ribbed, "Always \"ribbed\".", "\"kind\": \"ribbed\""),
        may("cloth", kind::names, "Name or names of the cloths that its panels may be cut from. Without it, any."),
        may(
            "mirrored",
            kind::yes_or_no,
            "Whether it is built twice, left and right, so that every panel counts twice. Without it, false.",
        ),
        may("source", kind::text, "Where its figures come from, for example the drawing."),
        may(
            "surface",
            flat_surface,
            "What it belongs to: \"wing\", \"control surface\" (of the wing) or \"empennage\". Without it, wing.",
        ),
        must(
            "planform",
            ribbed::planform,
            "The chords from butt to tip, where the taper begins, changes or ends; straight lines run from each to the next.",
            "\"planform\": [ { \"at\": 0, \"chord\": \"1.4 m\" }, { \"at\": \"4 m\", \"chord\": \"1.4 m\" } ]",
        ),
        must("section", ribbed::section, "The section of the ribs.", "\"section\": { \"digits\": \"2412\" }"),
        may(
            "cover",
            ribbed::cover,
            "\"one piece\" round the nose, or \"top and bottom\" lapped at leading and trailing edge. Without it, top and bottom.",
        ),
        may(
            "roll",
            ribbed::roll,
            "Whether the roll runs \"spanwise\" or \"chordwise\", or the \"better\" of both: fewer seams, then less of the roll. Without it, better.",
        ),
        may("ribs", ribbed::ribs, "Where the ribs are along the span, from butt to tip."),
        may("spars", ribbed::spars, "Where the spars are, in per cent of the chord, from nose to trailing edge."),
        may(
            "nose_sheet",
            ribbed::nose_sheet,
            "How far aft the nose sheet reaches, in per cent of the chord: one number, or [top, bottom].",
        ),
        may(
            "tip_bow",
            kind::size,
            "How far the tip bow reaches beyond the last chord. The panel goes on that far as it comes, and is trimmed on the bow.",
        ),
        may(
            "hinge",
            ribbed::per_cent,
            "Where the hinge line is, in per cent of the chord, for the moment of the covering about it.",
        ),
        may(
            "recesses",
            ribbed::recesses,
            "What is cut out of the trailing edge for ailerons and flaps, from butt to tip.",
        ),
        may("dihedral", tilt, "Degrees by which it rises from butt to tip. Without it, 0."),
        may("incidence", tilt, "Degrees by which the nose of its chord is up in level flight. Without it, 0."),
        may(
            "slipstream",
            span_range,
            "The range of the span behind the propeller's disc, inner end first. Its ribs and one more on each side count (AC 43.13-1B 2-9c).",
        ),
        DRAINS_KEY,
        FITTINGS_KEY,
        OPENINGS_KEY,
        CONTROLS_KEY,
    ],
};

pub(super) static RECESS: Table = Table {
    what: "a recess",
    name: "recess",
    about: "A cut-out in the trailing edge, in which an aileron or a flap sits. Along it the cloth is folded down inside.",
    keys: &[
        must("from", ribbed::coordinate, "Where along the span it begins.", "\"from\": \"2.4 m\""),
        must("to", ribbed::coordinate, "Where along the span it ends.", "\"to\": \"3.9 m\""),
        must(
            "front",
            ribbed::per_cent,
            "Where its front wall stands, in per cent of the chord: on a spar or aft of the last one.",
            "\"front\": 75",
        ),
    ],
};

pub(super) static CHORD: Table = Table {
    what: "a chord of a planform",
    name: "chord",
    about: "Length and place of the chord at one place of the span.",
    keys: &[
        must("at", ribbed::coordinate, "Where along the span, measured from anywhere.", "\"at\": 0"),
        must("chord", kind::size, "From nose to trailing edge.", "\"chord\": \"1.4 m\""),
        may(
            "leading_edge",
            ribbed::coordinate,
            "How far aft the nose lies, measured from any straight line across. Without it, 0.",
        ),
    ],
};

pub(super) static SECTION: Table = Table {
    what: "a section",
    name: "section",
    about: "The section of a rib: exactly one of digits and ordinates.",
    keys: &[
        may(
            "digits",
            ribbed::digits,
            "Four digits of the NACA family of that name, for example \"2412\" (NACA Report 460).",
        ),
        may(
            "ordinates",
            ribbed::ordinates,
            "Rows of [station, upper, lower] in per cent of the chord, from the nose, station 0, to the trailing edge, station 100.",
        ),
    ],
};
