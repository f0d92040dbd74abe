//! Reads how the aircraft stands, how parts lie in it, and where the propeller blows.

use jsonc_parser::ast::Value;
use jsonc_parser::common::Ranged;

use super::keys_parked::PARKED;
use super::kinds_parked::STEEPEST;
use super::limits;
use super::parked::{Direction, Parked};
use super::reader::{Reader, Sort};
use crate::shape::Chord;

const SLIPSTREAM_HINT: &str =
    "write the range of the span behind the propeller's disc, inner end first, for example [400, 900]";
const SLIPSTREAM_END: Sort = Sort { what: "an end of the slipstream", hint: SLIPSTREAM_HINT };
const AXES_HINT: &str = "write where the x and the y axis of its outline point in the aircraft, for example [\"aft\", \"up\"] for a rudder or [\"aft\", \"right\"] for a tailplane";

pub(super) fn parked(reader: &mut Reader, value: &Value) -> Option<Parked> {
    let fields = reader.object(value, &PARKED)?;
    let nose_up = fields.get("nose_up").and_then(|value| tilt(reader, value, "how far the nose is up"));
    let wing_down = fields.get("wing_down").map_or(Some(0.0), |value| tilt(reader, value, "how far a wing is down"));
    Some(Parked { nose_up: nose_up?, wing_down: wing_down?.abs() })
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

/// A range of the span, within the planform.
pub(super) fn slipstream(reader: &mut Reader, value: &Value, planform: Option<&[Chord]>) -> Option<[f64; 2]> {
    let list = reader.list(value, "the slipstream", (2, 2), SLIPSTREAM_HINT)?;
    let read: Vec<_> = list.iter().map(|value| reader.length(value, SLIPSTREAM_END)).collect();
    let [from, to] = read[..] else { return None };
    let (from, to) = (from?, to?);
    if to - from < limits::SMALLEST {
        reader.fault(&value.range(), "this slipstream has no width", SLIPSTREAM_HINT);
        return None;
    }
    let (butt, tip) = (planform?.first()?.span, planform?.last()?.span);
    if to < butt || from > tip {
        let [butt, tip] = [butt, tip].map(|place| reader.units.show(place));
        let message = format!("this slipstream misses the planform, which goes from {butt} to {tip}");
        reader.fault(&value.range(), message, SLIPSTREAM_HINT);
        return None;
    }
    Some([from, to])
}
