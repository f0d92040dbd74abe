//! The cut list: every copy of every piece, in the order of the job, for a spreadsheet. Its column “cut” has the
//! order of cutting each cloth.
//!
//! Comma-separated values as RFC 4180 has them: a head line, CRLF, quotes where needed.

use std::collections::BTreeMap;

use csv::{Terminator, WriterBuilder};

use crate::covering::Covering;
use crate::job::{Job, Piece};
use crate::plan::{LaidCloth, LaidPiece, LayFile, area_unit, cutting_order, edge_words, grain_words, lies_over};
use crate::units::Units;

use super::piece_marks::key_number;

/// What stands in the column `cloth` for a copy that found no place.
pub const NOT_PLACED: &str = "NOT PLACED";

/// Where a copy ended up.
enum Place<'a> {
    /// On a cloth, with its place in the order of cutting it, from 1.
    Laid(&'a LaidCloth, &'a LaidPiece, usize),
    Nowhere(&'a str),
}

/// Writes the cut list of a lay; what patches, doilies and drain patches lie over comes from the covering. Lengths are plain numbers in the job's unit, which the head line names.
///
/// # Errors
/// Only what the writer of comma-separated values reports, which memory alone can cause.
pub fn cut_list(job: &Job, covering: &Covering, pieces: &[Piece], lay: &LayFile) -> Result<Vec<u8>, csv::Error> {
    let mut writer = WriterBuilder::new().terminator(Terminator::CRLF).from_writer(Vec::new());
    let unit = job.units.symbol();
    let (unit_of_area, square) = area_unit(job.units);
    writer.write_record([
        "number".to_owned(),
        "piece".to_owned(),
        "copy".to_owned(),
        "copies".to_owned(),
        format!("length ({unit})"),
        format!("width ({unit})"),
        format!("area ({unit_of_area})"),
        "grain".to_owned(),
        "edge".to_owned(),
        "cloth".to_owned(),
        "cloth number".to_owned(),
        "cut".to_owned(),
        format!("from roll end ({unit})"),
        format!("from lower edge ({unit})"),
        "turn (degrees)".to_owned(),
        "face down".to_owned(),
        "lies over".to_owned(),
        "goes".to_owned(),
        "remark".to_owned(),
    ])?;
    let mut places = places(lay);
    let over = lies_over(covering);
    for (index, piece) in pieces.iter().enumerate() {
        for (copy, place) in places.remove(piece.name.as_str()).unwrap_or_default() {
            let mut record = vec![
                key_number(index + 1, piece, copy),
                defused(&piece.name),
                copy.to_string(),
                piece.quantity.to_string(),
                length(piece.size[0], job.units),
                length(piece.size[1], job.units),
                format!("{:.5}", piece.cut.area() / square),
                defused(&grain_words(piece.grain)),
                defused(&edge_words(piece.edge, job.units)),
            ];
            record.extend(placed(&place, job.units));
            record.push(over.get(&(piece.name.as_str(), copy)).map_or(String::new(), |words| defused(words)));
            record.push(defused(piece.goes.as_deref().unwrap_or_default()));
            record.push(match place {
                Place::Laid(..) => String::new(),
                Place::Nowhere(why) => defused(why),
            });
            writer.write_record(record)?;
        }
    }
    writer.into_inner().map_err(|fault| csv::Error::from(fault.into_error()))
}

/// Every copy that the lay knows of, by the name of its piece and by copy number.
fn places(lay: &LayFile) -> BTreeMap<&str, Vec<(u32, Place<'_>)>> {
    let mut places: BTreeMap<&str, Vec<_>> = BTreeMap::new();
    for cloth in &lay.cloths {
        for (step, piece) in cutting_order(cloth).into_iter().enumerate() {
            let laid = &cloth.pieces[piece];
            places.entry(laid.piece.as_str()).or_default().push((laid.copy, Place::Laid(cloth, laid, step + 1)));
        }
    }
    for left in &lay.unplaced {
        places.entry(left.piece.as_str()).or_default().push((left.copy, Place::Nowhere(left.why.as_str())));
    }
    places.values_mut().for_each(|copies| copies.sort_by_key(|(copy, _)| *copy));
    places
}

fn placed(place: &Place, units: Units) -> [String; 7] {
    match place {
        Place::Nowhere(_) => [NOT_PLACED, "", "", "", "", "", ""].map(str::to_owned),
        Place::Laid(cloth, laid, cut) => [
            defused(&cloth.cloth),
            cloth.number.to_string(),
            cut.to_string(),
            length(laid.span(0)[0], units),
            length(laid.span(1)[0], units),
            laid.turn.to_string(),
            if laid.flipped { "yes" } else { "no" }.to_owned(),
        ],
    }
}

/// A length as a plain decimal number of the unit, to a hundredth of a millimetre or better.
pub(super) fn length(mm: f64, units: Units) -> String {
    let decimals = match units {
        Units::Mm => 2,
        Units::Cm => 3,
        Units::M | Units::Ft => 5,
        Units::In => 4,
    };
    let text = format!("{:.decimals$}", units.from_mm(mm) + 0.0);
    let short = text.trim_end_matches('0').trim_end_matches('.');
    if short == "-0" { "0".to_owned() } else { short.to_owned() }
}

/// A text that no spreadsheet takes for a formula (OWASP, “CSV Injection”).
pub(super) fn defused(text: &str) -> String {
    match text.chars().next() {
        Some('=' | '+' | '-' | '@' | '\t' | '\r' | '\n') => format!("'{text}"),
        _ => text.to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_cell_begins_like_a_formula() {
        assert_eq!(defused("=1+1"), "'=1+1");
        assert_eq!(defused("@here"), "'@here");
        assert_eq!(defused("rib 3 = 4"), "rib 3 = 4");
    }

    #[test]
    fn lengths_are_plain_numbers() {
        assert_eq!(length(88.9, Units::In), "3.5");
        assert_eq!(length(1200.0, Units::M), "1.2");
        assert_eq!(length(-0.000_1, Units::Mm), "0");
        assert_eq!(length(100.0, Units::Mm), "100");
    }
}
