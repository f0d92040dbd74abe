//! The mark-out of a cloth as a table for a spreadsheet or a clipboard: one line a point.
//!
//! Comma-separated values as RFC 4180 has them.

use csv::{Terminator, WriterBuilder};

use super::cut_list::{defused, length};
use super::piece_marks::key_number;
use crate::job::Piece;
use crate::plan::{LaidCloth, MarkOut, MarkRun, MarkedCloth};
use crate::units::Units;

/// Writes the large pieces of some cloths, point by point in the order in which one walks round each. Lengths are plain
/// numbers in the unit that is given, which the head line names.
///
/// # Errors
/// Only what the writer of comma-separated values reports, which memory alone can cause.
pub fn mark_out_table(
    cloths: &[(&LaidCloth, &MarkedCloth)],
    pieces: &[Piece],
    units: Units,
) -> Result<Vec<u8>, csv::Error> {
    let mut writer = WriterBuilder::new().terminator(Terminator::CRLF).from_writer(Vec::new());
    let unit = units.symbol();
    writer.write_record([
        "cloth".to_owned(),
        "cloth number".to_owned(),
        "cut".to_owned(),
        "number".to_owned(),
        "piece".to_owned(),
        "copy".to_owned(),
        "point".to_owned(),
        format!("from cloth end ({unit})"),
        format!("from lower edge ({unit})"),
        "to the next point".to_owned(),
        format!("straight distance ({unit})"),
        format!("offsets outwards along it ({unit})"),
        format!("diagonals ({unit})"),
    ])?;
    for (laid, marked) in cloths {
        for (step, marked) in marked.steps.iter().enumerate() {
            let Some(marks) = &marked.marks else { continue };
            let piece = &laid.pieces[marked.piece];
            let number = pieces.iter().position(|given| given.name == piece.piece);
            let number = number.map_or(String::new(), |index| key_number(index + 1, &pieces[index], piece.copy));
            for (point, run) in marks.runs.iter().enumerate() {
                let [kind, distance, offsets] = run_in_words(run, units);
                writer.write_record([
                    defused(&laid.cloth),
                    laid.number.to_string(),
                    (step + 1).to_string(),
                    number.clone(),
                    defused(&piece.piece),
                    piece.copy.to_string(),
                    (point + 1).to_string(),
                    length(marks.points[point].from_end, units),
                    length(marks.points[point].from_edge, units),
                    kind,
                    distance,
                    offsets,
                    diagonals_from(marks, point, units),
                ])?;
            }
        }
    }
    writer.into_inner().map_err(|fault| csv::Error::from(fault.into_error()))
}

fn run_in_words(run: &MarkRun, units: Units) -> [String; 3] {
    match run {
        MarkRun::Straight { length: straight } => ["straight".to_owned(), length(*straight, units), String::new()],
        MarkRun::Curved { chord, offsets } => {
            let offsets: Vec<String> = offsets
                .iter()
                .map(|offset| format!("{} at {}", length(offset.out, units), length(offset.along, units)))
                .collect();
            ["curve".to_owned(), length(*chord, units), offsets.join("; ")]
        }
    }
}

fn diagonals_from(marks: &MarkOut, point: usize, units: Units) -> String {
    let from = marks.diagonals.iter().filter(|diagonal| diagonal.between[0] == point);
    let words: Vec<String> =
        from.map(|diagonal| format!("to {}: {}", diagonal.between[1] + 1, length(diagonal.length, units))).collect();
    words.join("; ")
}
