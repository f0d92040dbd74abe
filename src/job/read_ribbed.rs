//! Reads what is particular to a ribbed part: planform, section, ribs, spars, nose sheet, tip bow. Recesses: [`super::read_recess`].

use jsonc_parser::ast::Value;
use jsonc_parser::common::{Range, Ranged};

use super::Surface;
use super::keys_ribbed::{CHORD, SECTION};
use super::limits;
use super::read_flat::surface;
use super::read_parked::{slipstream, tilt};
use super::read_recess::{Surroundings, recesses};
use super::reader::{Fields, Reader, Sort};
use super::ribbed::{RibbedCover, RibbedPart, Roll};
use crate::shape::{Chord, Section};

pub(super) const SPAN: Sort = Sort {
    what: "a place along the span",
    hint: "write how far out it is, a number in the job's unit or a text such as \"2.4 m\"",
};
const CHORD_LENGTH: Sort =
    Sort { what: "a chord", hint: "write the length from nose to trailing edge, for example \"1.4 m\"" };
const NOSE: Sort =
    Sort { what: "the place of a leading edge", hint: "write how far aft the nose lies, for example \"120 mm\"" };
const TIP_BOW: Sort =
    Sort { what: "a tip bow", hint: "write how far it reaches beyond the last chord, for example \"200 mm\"" };
const PLANFORM_HINT: &str = "write the chords from butt to tip, for example [{ \"at\": 0, \"chord\": 1400 }, { \"at\": 4000, \"chord\": 1400 }]";
const SECTION_HINT: &str = "write { \"digits\": \"2412\" } or { \"ordinates\": [[0, 0, 0], …, [100, 0.1, -0.1]] }";
const ROW_HINT: &str = "write [station, upper, lower] in per cent of the chord, for example [30, 7.88, -4.12]";
const RIBS_HINT: &str = "write their places along the span, from butt to tip, for example [0, 300, 600]";
const SPARS_HINT: &str =
    "write their places in per cent of the chord, from nose to trailing edge, for example [15, 65]";
const PER_CENT_HINT: &str = "write per cent of the chord, 0 at the nose and 100 at the trailing edge, for example 15";

/// What a ribbed part has beyond the keys of every part.
pub(super) fn ribbed(reader: &mut Reader, fields: &Fields) -> Option<RibbedPart> {
    let surface = fields.get("surface").map_or(Some(Surface::Wing), |value| surface(reader, value, "a ribbed part"));
    let planform = fields.get("planform").and_then(|value| planform(reader, value));
    let section = fields.get("section").and_then(|value| section(reader, value));
    let cover = fields
        .get("cover")
        .map_or(Some(RibbedCover::TopAndBottom), |value| reader.choice(value, "a way to cover a section"));
    let roll = fields.get("roll").map_or(Some(Roll::Better), |value| reader.choice(value, "a way for the roll to run"));
    let ribs = fields.get("ribs").map_or(Some(Vec::new()), |value| ribs(reader, value, planform.as_deref()));
    let spars = fields.get("spars").map_or(Some(Vec::new()), |value| spars(reader, value));
    let nose_sheet = fields.get("nose_sheet").map_or(Some(None), |value| nose_sheet(reader, value).map(Some));
    let tip_bow =
        fields.get("tip_bow").map_or(Some(None), |value| tip_bow(reader, value, planform.as_deref()).map(Some));
    let hinge = fields.get("hinge").map_or(Some(None), |value| part_of_chord(reader, value, "a hinge line").map(Some));
    let around =
        Surroundings { planform: planform.as_deref(), spars: spars.as_deref(), nose_sheet: nose_sheet.flatten() };
    let recesses = fields.get("recesses").map_or(Some(Vec::new()), |value| recesses(reader, value, &around));
    let dihedral = fields.get("dihedral").map_or(Some(0.0), |value| tilt(reader, value, "a dihedral"));
    let slipstream =
        fields.get("slipstream").map_or(Some(None), |value| slipstream(reader, value, planform.as_deref()).map(Some));
    let incidence = fields.get("incidence").map_or(Some(0.0), |value| tilt(reader, value, "an incidence"));
    Some(RibbedPart {
        surface: surface?,
        planform: planform?,
        section: section?,
        cover: cover?,
        roll: roll?,
        ribs: ribs?,
        spars: spars?,
        nose_sheet: nose_sheet?,
        tip_bow: tip_bow?,
        hinge: hinge?,
        recesses: recesses?,
        dihedral: dihedral?,
        incidence: incidence?,
        slipstream: slipstream?,
    })
}

fn planform(reader: &mut Reader, value: &Value) -> Option<Vec<Chord>> {
    let list = reader.list(value, "a planform", (2, limits::CHORDS), PLANFORM_HINT)?;
    let read: Vec<_> = list.iter().map(|value| chord(reader, value)).collect();
    let chords = read.into_iter().collect::<Option<Vec<_>>>()?;
    let places: Vec<f64> = chords.iter().map(|chord| chord.span).collect();
    in_order(reader, list, &places, "this chord", PLANFORM_HINT)?;
    Some(chords)
}

fn chord(reader: &mut Reader, value: &Value) -> Option<Chord> {
    let fields = reader.object(value, &CHORD)?;
    let span = fields.get("at").and_then(|value| reader.length(value, SPAN));
    let length = fields.get("chord").and_then(|value| reader.size(value, CHORD_LENGTH));
    let nose = fields.get("leading_edge").map_or(Some(0.0), |value| reader.length(value, NOSE));
    Some(Chord { span: span?, length: length?, nose: nose? })
}

/// Notes a fault where something does not lie farther out, or farther aft, than the one before it.
fn in_order(reader: &mut Reader, list: &[Value], places: &[f64], what: &str, hint: &str) -> Option<()> {
    let wrong = places.windows(2).position(|pair| pair[1] - pair[0] < limits::SMALLEST);
    let Some(index) = wrong else { return Some(()) };
    let message = format!("{what} does not lie beyond the one before it");
    reader.fault_with(list[index + 1].range(), message, hint, (list[index].range(), "the one before it"));
    None
}

fn section(reader: &mut Reader, value: &Value) -> Option<Section> {
    let fields = reader.object(value, &SECTION)?;
    let brace = Range { start: value.start(), end: value.start() + 1 };
    match (fields.get("digits"), fields.get("ordinates")) {
        (Some(digits), None) => by_digits(reader, digits),
        (None, Some(ordinates)) => by_ordinates(reader, ordinates),
        (None, None) if fields.strangers => None,
        (None, None) => {
            reader.fault(&brace, "this section has no shape", SECTION_HINT);
            None
        }
        (Some(_), Some(ordinates)) => {
            reader.fault(&ordinates.range(), "this section has two shapes, \"digits\" and \"ordinates\"", SECTION_HINT);
            None
        }
    }
}

fn by_digits(reader: &mut Reader, value: &Value) -> Option<Section> {
    let digits = reader.text(value, "a four-digit section")?;
    match Section::four_digit(digits) {
        Ok(section) => Some(section),
        Err(fault) => {
            reader.fault(&value.range(), fault.to_string(), SECTION_HINT);
            None
        }
    }
}

fn by_ordinates(reader: &mut Reader, value: &Value) -> Option<Section> {
    let list = reader.list(value, "a table of ordinates", (4, limits::POINTS), SECTION_HINT)?;
    let rows: Vec<_> = list.iter().map(|value| row(reader, value)).collect();
    let rows = rows.into_iter().collect::<Option<Vec<_>>>()?;
    match Section::from_ordinates(&rows) {
        Ok(section) => Some(section),
        Err(fault) => {
            let at = fault.row().map_or(list.len() - 1, |row| row - 1);
            reader.fault(&list[at].range(), fault.to_string(), ROW_HINT);
            None
        }
    }
}

fn row(reader: &mut Reader, value: &Value) -> Option<[f64; 3]> {
    let list = reader.list(value, "a row of ordinates", (3, 3), ROW_HINT)?;
    let numbers: Vec<_> = list.iter().map(|value| reader.number(value, "an ordinate", ROW_HINT)).collect();
    let [station, upper, lower] = numbers[..] else { return None };
    Some([station?, upper?, lower?])
}

fn ribs(reader: &mut Reader, value: &Value, planform: Option<&[Chord]>) -> Option<Vec<f64>> {
    let list = reader.list(value, "the list of ribs", (0, limits::RIBS), RIBS_HINT)?;
    let read: Vec<_> = list.iter().map(|value| reader.length(value, SPAN)).collect();
    let places = read.into_iter().collect::<Option<Vec<_>>>()?;
    in_order(reader, list, &places, "this rib", RIBS_HINT)?;
    let (butt, tip) = (planform?.first()?.span, planform?.last()?.span);
    let outside = places.iter().position(|place| *place < butt - limits::SMALLEST || *place > tip + limits::SMALLEST);
    let Some(index) = outside else { return Some(places.iter().map(|place| place.clamp(butt, tip)).collect()) };
    let [butt, tip] = [butt, tip].map(|place| reader.units.show(place));
    let message = format!("this rib lies beyond the planform, which goes from {butt} to {tip}");
    reader.fault(&list[index].range(), message, RIBS_HINT);
    None
}

fn spars(reader: &mut Reader, value: &Value) -> Option<Vec<f64>> {
    let list = reader.list(value, "the list of spars", (0, limits::RIBS), SPARS_HINT)?;
    let read: Vec<_> = list.iter().map(|value| part_of_chord(reader, value, "a spar")).collect();
    let places = read.into_iter().collect::<Option<Vec<_>>>()?;
    let Some(index) = places.windows(2).position(|pair| pair[1] <= pair[0]) else { return Some(places) };
    let before = (list[index].range(), "the one before it");
    let message = "this spar does not lie aft of the one before it".to_owned();
    reader.fault_with(list[index + 1].range(), message, SPARS_HINT, before);
    None
}

fn nose_sheet(reader: &mut Reader, value: &Value) -> Option<[f64; 2]> {
    let Value::Array(_) = value else {
        let both = part_of_chord(reader, value, "the edge of a nose sheet")?;
        return Some([both; 2]);
    };
    let list = reader.list(value, "a nose sheet", (2, 2), "write one number, or [top, bottom], for example [15, 8]")?;
    let [top, bottom] = [0, 1].map(|index| part_of_chord(reader, &list[index], "the edge of a nose sheet"));
    Some([top?, bottom?])
}

/// A place between nose and trailing edge, written in per cent.
pub(super) fn part_of_chord(reader: &mut Reader, value: &Value, what: &str) -> Option<f64> {
    let per_cent = reader.number(value, &format!("the place of {what}"), PER_CENT_HINT)?;
    if per_cent > 0.0 && per_cent < 100.0 {
        return Some(per_cent / 100.0);
    }
    let message =
        format!("the place of {what} is more than 0 and less than 100 per cent of the chord, this is {per_cent}");
    reader.fault(&value.range(), message, PER_CENT_HINT);
    None
}

/// The panel goes on over the tip bow as the last bay comes; a wing that would end before it is written wrongly.
fn tip_bow(reader: &mut Reader, value: &Value, planform: Option<&[Chord]>) -> Option<f64> {
    let reach = reader.size(value, TIP_BOW)?;
    let [.., before, last] = planform? else { return None };
    if before.between(*last, last.span + reach).length >= limits::SMALLEST {
        return Some(reach);
    }
    let message = format!("{} beyond its last chord the taper has come to nothing", reader.units.show(reach));
    reader.fault(
        &value.range(),
        message,
        "add chords to the planform where the taper changes, or make the bow shorter",
    );
    None
}
