//! Reads how the aircraft stands, how parts lie in it, and which drains are wanted.

use jsonc_parser::ast::Value;
use jsonc_parser::common::Ranged;

use super::keys_parked::{DRAINS, PARKED};
use super::kinds_parked::STEEPEST;
use super::parked::{Direction, DrainWish, Grommet, Parked};
use super::reader::Reader;

const AXES_HINT: &str = "write where the x and the y axis of its outline point in the aircraft, for example [\"aft\", \"up\"] for a rudder or [\"aft\", \"right\"] for a tailplane";

pub(super) fn parked(reader: &mut Reader, value: &Value) -> Option<Parked> {
    let fields = reader.object(value, &PARKED)?;
    let nose_up = fields.get("nose_up").and_then(|value| tilt(reader, value, "how far the nose is up"));
    let wing_down = fields.get("wing_down").map_or(Some(0.0), |value| tilt(reader, value, "how far a wing is down"));
    Some(Parked { nose_up: nose_up?, wing_down: wing_down?.abs() })
}

pub(super) fn drains(reader: &mut Reader, value: &Value) -> Option<DrainWish> {
    let fields = reader.object(value, &DRAINS)?;
    let grommet = fields.get("grommet").map_or(Some(Grommet::default()), |value| reader.choice(value, "a grommet"));
    let patch = fields.get("patch").map_or(Some(false), |value| reader.yes_or_no(value));
    Some(DrainWish { grommet: grommet?, patch: patch? })
}

/// An angle in degrees; `what` is it, in words.
pub(super) fn tilt(reader: &mut Reader, value: &Value, what: &str) -> Option<f64> {
    let hint = format!("write degrees from {} to {STEEPEST}, for example 11", -STEEPEST);
    let degrees = reader.number(value, what, &hint)?;
    if degrees.abs() <= STEEPEST {
        return Some(degrees);
    }
    reader.fault(&value.range(), format!("{what} cannot be {}°", reader.seen(value)), hint);
    None
}

/// Where the axes of an outline point in the aircraft.
pub(super) fn axes(reader: &mut Reader, value: &Value) -> Option<[Direction; 2]> {
    let list = reader.list(value, "the axes of an outline", (2, 2), AXES_HINT)?;
    let read: Vec<Option<Direction>> = list.iter().map(|value| reader.choice(value, "a direction")).collect();
    let &[Some(x), Some(y)] = read.as_slice() else { return None };
    if x.square_to(y) {
        return Some([x, y]);
    }
    reader.fault(&value.range(), "the two axes of an outline lie on one line", AXES_HINT);
    None
}
