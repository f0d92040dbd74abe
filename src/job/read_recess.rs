//! Reads the recesses of a ribbed part, and what they may not run into.

use jsonc_parser::ast::Value;
use jsonc_parser::common::Ranged;

use super::keys_ribbed::RECESS;
use super::limits;
use super::read_ribbed::{SPAN, part_of_chord};
use super::reader::Reader;
use super::ribbed::Recess;
use crate::shape::Chord;

const RECESSES_HINT: &str =
    "write them from butt to tip, for example [{ \"from\": \"2.4 m\", \"to\": \"3.9 m\", \"front\": 75 }]";
const FRONT_HINT: &str = "write where the front wall stands in per cent of the chord: on the last spar or aft of it, clear of the nose sheet";

/// What stands round a recess, as far as it could be read.
pub(super) struct Surroundings<'p> {
    pub planform: Option<&'p [Chord]>,
    pub spars: Option<&'p [f64]>,
    pub nose_sheet: Option<[f64; 2]>,
}

/// The recesses of a ribbed part, from butt to tip.
pub(super) fn recesses(reader: &mut Reader, value: &Value, around: &Surroundings) -> Option<Vec<Recess>> {
    let list = reader.list(value, "the list of recesses", (0, limits::RECESSES), RECESSES_HINT)?;
    let read: Vec<_> = list.iter().map(|value| recess(reader, value, around)).collect();
    let recesses = read.into_iter().collect::<Option<Vec<_>>>()?;
    let met = recesses.windows(2).position(|pair| pair[1].from - pair[0].to < limits::SMALLEST);
    let Some(index) = met else { return Some(recesses) };
    let message = "this recess does not begin beyond the end of the one before it".to_owned();
    reader.fault_with(list[index + 1].range(), message, RECESSES_HINT, (list[index].range(), "the one before it"));
    None
}

fn recess(reader: &mut Reader, value: &Value, around: &Surroundings) -> Option<Recess> {
    let fields = reader.object(value, &RECESS)?;
    let from = fields.get("from").and_then(|value| place(reader, value, around));
    let to = fields.get("to").and_then(|value| place(reader, value, around));
    let front = fields.get("front").and_then(|value| front(reader, value, around));
    let recess = Recess { from: from?, to: to?, front: front? };
    if recess.to - recess.from >= limits::SMALLEST {
        return Some(recess);
    }
    reader.fault(&value.range(), "this recess does not end beyond where it begins", RECESSES_HINT);
    None
}

/// A place along the span that lies on the planform.
fn place(reader: &mut Reader, value: &Value, around: &Surroundings) -> Option<f64> {
    let place = reader.length(value, SPAN)?;
    let (butt, tip) = (around.planform?.first()?.span, around.planform?.last()?.span);
    if place >= butt - limits::SMALLEST && place <= tip + limits::SMALLEST {
        return Some(place.clamp(butt, tip));
    }
    let [butt, tip] = [butt, tip].map(|place| reader.units.show(place));
    let message = format!("this end of the recess lies beyond the planform, which goes from {butt} to {tip}");
    reader.fault(&value.range(), message, "write a place between the first chord and the last");
    None
}

/// The front wall, which leaves spars and nose sheet whole.
fn front(reader: &mut Reader, value: &Value, around: &Surroundings) -> Option<f64> {
    let front = part_of_chord(reader, value, "the front of a recess")?;
    let spar = around.spars.and_then(|spars| spars.last().copied()).map(|place| ("the last spar", place));
    let sheet = around.nose_sheet.map(|[top, bottom]| ("the edge of the nose sheet", top.max(bottom)));
    let Some((what, place)) = [spar, sheet].into_iter().flatten().find(|(_, place)| front < *place) else {
        return Some(front);
    };
    let [front, place] = [front, place].map(|part| (part * 1e4).round() / 100.0);
    let message = format!("the front of this recess, at {front} per cent, stands before {what}, at {place}");
    reader.fault(&value.range(), message, FRONT_HINT);
    None
}
