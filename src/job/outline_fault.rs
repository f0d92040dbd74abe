//! What is wrong with an outline, said in the job's unit and shown at the ring or the edge that is meant.

use jsonc_parser::ast::Value;
use jsonc_parser::common::{Range, Ranged};

use super::reader::{Fields, Reader};
use crate::shape::{OutlineFault, Place, RingRole};

const CLOSED_LINE: &str = "draw each ring as one closed line that never meets itself";
const HOLE_INSIDE: &str = "a hole must lie wholly inside the piece and clear of other holes";

/// Notes a fault of an outline whose shape is written at `written`.
pub(super) fn outline_fault(reader: &mut Reader, fields: &Fields, written: Range, fault: &OutlineFault) {
    let place = |Place(at): Place| {
        let [x, y] = [at.x, at.y].map(|length| reader.units.show(length));
        format!("x = {x}, y = {y}")
    };
    let ring_at = |ring: &RingRole| ring_value(fields, *ring).map_or(written, Ranged::range);
    let (at, message, hint) = match fault {
        OutlineFault::SelfCrossing { ring, first, second, at } => {
            let message = format!("{ring} crosses itself at {}, where edge {first} meets edge {second}", place(*at));
            (edge(fields, *ring, *first, *second).unwrap_or(written), message, CLOSED_LINE)
        }
        OutlineFault::TouchesItself { ring, first, second, at } => {
            let message = format!("{ring} touches itself at {}, where edge {first} meets edge {second}", place(*at));
            (edge(fields, *ring, *first, *second).unwrap_or(written), message, CLOSED_LINE)
        }
        OutlineFault::RingsCross { first, second, at } => {
            (ring_at(second), format!("{second} crosses {first} at {}", place(*at)), HOLE_INSIDE)
        }
        OutlineFault::RingsTouch { first, second, at } => {
            (ring_at(second), format!("{second} touches {first} at {}", place(*at)), HOLE_INSIDE)
        }
        OutlineFault::HoleOutside { hole, at } => {
            let message = format!("hole {hole}, at {}, lies outside the piece", place(*at));
            (ring_at(&RingRole::Hole(*hole)), message, HOLE_INSIDE)
        }
        OutlineFault::HoleInHole { inner, outer, at } => {
            let message = format!("hole {inner}, at {}, lies inside hole {outer}", place(*at));
            (ring_at(&RingRole::Hole(*inner)), message, HOLE_INSIDE)
        }
        OutlineFault::RepeatedPoint { ring, at, .. } => {
            let message = format!("{ring} has two points in a row at {}", place(*at));
            (ring_at(ring), message, "take one of the two away")
        }
        OutlineFault::ZeroArea { ring } => {
            (ring_at(ring), format!("{ring} has no area: its points lie on one line"), "look at the coordinates")
        }
        OutlineFault::TooFar { ring, .. } => {
            let message = format!("{ring} goes farther than a kilometre from the origin");
            (ring_at(ring), message, "look at \"units\" and at the decimal point")
        }
        OutlineFault::TooManyCorners => {
            (written, fault.to_string(), "use fewer and simpler curves, and look at \"units\"")
        }
        other => (written, other.to_string(), CLOSED_LINE),
    };
    reader.fault(&at, message, hint);
}

/// The list of points that a ring of a polygon is written as.
fn ring_value<'t>(fields: &Fields<'t>, ring: RingRole) -> Option<&'t Value<'t>> {
    match ring {
        RingRole::Outer => fields.get("polygon"),
        RingRole::Hole(number) => fields.get("holes")?.as_array()?.elements.get(number.checked_sub(1)?),
    }
}

/// From the first point of the later edge to its last, where the ring is a polygon.
fn edge(fields: &Fields, ring: RingRole, first: usize, second: usize) -> Option<Range> {
    let points = &ring_value(fields, ring)?.as_array()?.elements;
    let number = first.max(second);
    let from = points.get(number.checked_sub(1)?)?.range();
    // The edge that closes the ring ends at its first point, which stands at the other end of the list.
    let to = points.get(number).map_or(from, Ranged::range);
    Some(Range { start: from.start, end: to.end })
}
