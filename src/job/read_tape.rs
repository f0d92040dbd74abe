//! Reads rolls of finishing tape, and how tape is cut.

use jsonc_parser::ast::Value;
use jsonc_parser::common::{Range, Ranged};

use super::keys_tape::{CUT_FROM_CLOTH, TAPE, TAPE_CUTTING};
use super::kinds::EDGES;
use super::limits;
use super::read_cloth::{mass, price};
use super::read_piece::{ClothNames, cloth_names};
use super::reader::{Reader, Sort};
use super::tape::{TapeCutting, TapeFromCloth, TapeJoins, TapeStock, TapeWeave};

const WIDTH: Sort = Sort { what: "the width of a tape", hint: "write the width as it is sold, for example \"2 in\"" };
const LENGTH: Sort = Sort { what: "the length of a roll of tape", hint: "write for example \"50 yd\" or \"25 m\"" };
const MASS_HINT: &str = "write the grams that a roll weighs, for example 210";
const PRICE_HINT: &str = "write the price of a roll, a plain number, for example 42.50";
const OVERLAP: Sort = Sort {
    what: "the overlap of a joint",
    hint: "write how far two pieces of a tape lie over each other, for example \"2 in\"",
};
const SHORTEST: Sort = Sort {
    what: "the shortest piece of a joined tape",
    hint: "write the length below which a piece is not worth a joint, for example \"500 mm\"",
};
const EDGE_AN_HOUR: Sort =
    Sort { what: "the edge cut in an hour", hint: "time yourself over a few metres, and write for example \"25 m\"" };
const SEAM_LAP: Sort = Sort { what: "the lap of a seam in bias tape", hint: "write for example \"1/2 in\"" };

/// A tape whose rolls can be had.
pub(super) fn tape(reader: &mut Reader, value: &Value, index: usize) -> Option<TapeStock> {
    let fields = reader.object(value, &TAPE)?;
    let name = fields.get("name").and_then(|value| reader.name(value));
    let width = fields.get("width").and_then(|value| reader.size(value, WIDTH));
    let length = fields.get("length").and_then(|value| reader.size(value, LENGTH));
    let weave = fields.get("weave").map_or(Some(TapeWeave::Straight), |value| reader.choice(value, "a weave of tape"));
    let pinked = fields.get("pinked").map_or(Some(true), |value| reader.yes_or_no(value));
    let price = fields.get("price").map_or(Some(None), |value| price(reader, value, PRICE_HINT).map(Some));
    let mass = fields.get("mass").map_or(Some(None), |value| mass(reader, value, MASS_HINT).map(Some));
    let count = fields
        .get("count")
        .map_or(Some(None), |value| reader.quantity(value, "a count of rolls", limits::ROLLS_OF_TAPE).map(Some));
    let note = fields.get("note").map_or(Some(None), |value| reader.text(value, "a note").map(Some));
    let tape = TapeStock {
        name: name?,
        width: width?,
        weave: weave?,
        pinked: pinked?,
        length: length?,
        price: price?.filter(|price| *price > 0.0),
        mass: mass?,
        count: count?,
        note: note?.map(str::to_owned),
        at: reader.spot(value, format!("tape[{index}]")),
    };
    if tape.price.is_none() && tape.count.is_none() {
        let at = fields.get("price").map_or(Range { start: value.start(), end: value.start() + 1 }, Ranged::range);
        let message = format!("tape {:?} has neither a price nor a count", tape.name);
        let hint = "give the \"price\" of a roll that is bought, or the \"count\" of rolls that are there already";
        reader.fault(&at, message, hint);
        return None;
    }
    Some(tape)
}

/// How tape is cut.
pub(super) fn tape_cutting(reader: &mut Reader, value: &Value, cloths: &ClothNames) -> Option<TapeCutting> {
    let usual = TapeCutting::default();
    let fields = reader.object(value, &TAPE_CUTTING)?;
    let joins: Option<TapeJoins> =
        fields.get("joins").map_or(Some(usual.joins), |value| reader.choice(value, "a rule for joints of tape"));
    let overlap = fields.get("overlap").map_or(Some(usual.overlap), |value| reader.length_or_zero(value, OVERLAP));
    let shortest = fields.get("shortest").map_or(Some(usual.shortest), |value| reader.size(value, SHORTEST));
    let edge = fields.get("edge").map_or(Some(None), |value| reader.word(value, "an edge of tape", &EDGES).map(Some));
    let from_cloth =
        fields.get("cut_from_cloth").map_or(Some(None), |value| from_cloth(reader, value, cloths).map(Some));
    let (overlap, shortest) = (overlap?, shortest?);
    if shortest <= overlap {
        let at = fields.get("shortest").or(fields.get("overlap")).map_or(value.range(), Ranged::range);
        let [shortest, overlap] = [shortest, overlap].map(|length| reader.units.show(length));
        let message =
            format!("the shortest piece of a joined tape is {shortest}, all of it under an overlap of {overlap}");
        reader.fault(&at, message, "make \"shortest\" longer than \"overlap\"");
        return None;
    }
    Some(TapeCutting {
        joins: joins?,
        overlap,
        shortest,
        pinked: edge?.map(|word| word == EDGES[1]),
        from_cloth: from_cloth?,
    })
}

fn from_cloth(reader: &mut Reader, value: &Value, cloths: &ClothNames) -> Option<TapeFromCloth> {
    let fields = reader.object(value, &CUT_FROM_CLOTH)?;
    let cloth = fields.get("cloth").and_then(|value| {
        reader.text(value, "the name of a cloth")?;
        cloth_names(reader, value, cloths)
    });
    let edge =
        fields.get("edge_an_hour").map_or(Some(TapeFromCloth::EDGE_AN_HOUR), |value| reader.size(value, EDGE_AN_HOUR));
    let lap =
        fields.get("seam_lap").map_or(Some(TapeFromCloth::SEAM_LAP), |value| reader.length_or_zero(value, SEAM_LAP));
    let in_lay = fields.get("in_lay").map_or(Some(false), |value| reader.yes_or_no(value));
    Some(TapeFromCloth { cloth: cloth?.into_iter().next()?, edge_an_hour: edge?, seam_lap: lap?, in_lay: in_lay? })
}
