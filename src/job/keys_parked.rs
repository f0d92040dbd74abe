//! The keys of the parked attitude: see [`super::keys`].

use super::keys::{Table, may, must};
use super::kinds_parked as kind;

pub(super) static PARKED: Table = Table {
    what: "the parked attitude",
    name: "parked",
    about: "How the aircraft stands when it is parked: it decides which point of a bay is the lowest, where its drain goes.",
    keys: &[
        must(
            "nose_up",
            kind::tilt,
            "Degrees by which the nose is up, against level flight; below 0 where it is down.",
            "\"nose_up\": 11",
        ),
        may(
            "wing_down",
            kind::tilt,
            "Degrees by which a wing is down, where the aircraft rests on a wing, be it the left or the right. Without it, 0.",
        ),
    ],
};
