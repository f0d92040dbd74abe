//! `log JOB status`: what is done, what is left.

use std::io::{self, Write};

use serde::Serialize;

use super::Desk;
use crate::cli::messages;
use crate::cli::table::{Align, Table};
use crate::plan::ledger::{ClothRow, HourRow, PartRow, Status, TapeKind, TapeRow, misfits, status};
use crate::units::{Units, trimmed};

/// The status as JSON.
#[derive(Serialize)]
struct Shown<'a> {
    format: u32,
    job: &'a str,
    /// Lines of the log that could be read.
    entries: usize,
    /// Lines that could not.
    set_aside: usize,
    misfits: &'a [String],
    #[serde(flatten)]
    status: &'a Status,
}

/// Prints how things stand; what is odd or does not fit the job goes to the messages.
pub(super) fn print(out: &mut impl Write, desk: &Desk, json: bool) -> io::Result<()> {
    let status = status(desk.job, desk.covering, desk.pieces, &desk.standing);
    let misfits = misfits(desk.job, desk.covering, desk.pieces, &desk.standing);
    for (line, oddity) in &desk.standing.oddities {
        messages::caution(&format!("line {line} of the log makes no sense there and does not count: {oddity}"));
    }
    for misfit in &misfits {
        messages::caution(misfit);
    }
    if json {
        let (entries, set_aside) = (desk.log.entries.len(), desk.log.set_aside.len());
        let shown = Shown { format: 1, job: &desk.job.name, entries, set_aside, misfits: &misfits, status: &status };
        serde_json::to_writer_pretty(&mut *out, &shown).map_err(io::Error::from)?;
        return writeln!(out);
    }
    if desk.log.entries.is_empty() {
        writeln!(out, "nothing has been logged yet\n")?;
    }
    parts(out, &status.parts)?;
    hours(out, &status.hours, desk.job.units)?;
    cloths(out, &status.cloths, desk.job.units)?;
    tape(out, &status.tape, desk.job.units)?;
    notes(out, desk)
}

fn parts(out: &mut impl Write, rows: &[PartRow]) -> io::Result<()> {
    let mut table = Table::new(&[
        ("part", Align::Left),
        ("pieces", Align::Right),
        ("cut", Align::Right),
        ("glued", Align::Right),
        ("finished", Align::Right),
        ("left to cut", Align::Right),
        ("spoiled", Align::Right),
        ("hours", Align::Right),
        ("hours to go", Align::Right),
    ]);
    let line = |row: &PartRow| {
        let counts = [row.pieces, row.cut, row.glued, row.finished, row.left].map(|count| count.to_string());
        // Hours on the whole job have no pieces of their own.
        let some = |count: String| if row.pieces + row.cut > 0 { count } else { String::new() };
        let [pieces, cut, glued, finished, left] = counts.map(some);
        let spoiled = if row.spoiled > 0 { row.spoiled.to_string() } else { String::new() };
        let to_go = row.hours_to_go.map_or_else(String::new, |hours| trimmed(hours, 1));
        [row.part.clone(), pieces, cut, glued, finished, left, spoiled, some_hours(row.hours), to_go]
    };
    let mut all = PartRow { part: "all".to_owned(), ..PartRow::default() };
    for row in rows {
        table.line(line(row));
        all.pieces += row.pieces;
        all.cut += row.cut;
        all.glued += row.glued;
        all.finished += row.finished;
        all.left += row.left;
        all.spoiled += row.spoiled;
        all.hours += row.hours;
        if let Some(hours) = row.hours_to_go {
            *all.hours_to_go.get_or_insert(0.0) += hours;
        }
    }
    if rows.len() > 1 {
        table.line(line(&all));
    }
    table.print(out)
}

fn some_hours(hours: f64) -> String {
    if hours > 0.0 { trimmed(hours, 2) } else { String::new() }
}

fn hours(out: &mut impl Write, rows: &[HourRow], units: Units) -> io::Result<()> {
    if rows.is_empty() {
        return Ok(());
    }
    // Minutes for a length of edge that one can picture.
    let (length, name) = match units {
        Units::In | Units::Ft => (0.3048, "minutes a foot"),
        Units::Mm | Units::Cm | Units::M => (1.0, "minutes a metre"),
    };
    let mut table = Table::new(&[
        ("step", Align::Left),
        ("hours", Align::Right),
        (name, Align::Right),
        ("hours to go", Align::Right),
    ]);
    for row in rows {
        let pace = row.hours_per_metre.map_or_else(String::new, |pace| trimmed(pace * 60.0 * length, 1));
        let to_go = row.hours_to_go.map_or_else(|| "not known yet".to_owned(), |hours| trimmed(hours, 1));
        table.line([row.step.word().to_owned(), trimmed(row.hours, 2), pace, to_go]);
    }
    writeln!(out)?;
    table.print(out)?;
    writeln!(out, "Hours to go: your own pace so far, for each length of edge of the pieces that are left.")
}

fn cloths(out: &mut impl Write, rows: &[ClothRow], units: Units) -> io::Result<()> {
    let mut table = Table::new(&[
        ("cloth", Align::Left),
        ("length", Align::Right),
        ("pieces cut", Align::Right),
        ("cut up to", Align::Right),
        ("left beyond", Align::Right),
        ("", Align::Left),
    ]);
    for row in rows {
        let length = row.length.map_or_else(|| "not bought".to_owned(), |length| units.show(length));
        let left = row.left.map_or_else(String::new, |left| units.show(left));
        let remark = match (row.gone, row.cut_anywhere) {
            (true, _) => "gone".to_owned(),
            (false, 0) => String::new(),
            (false, cuts) => format!("of {cuts} nobody knows where"),
        };
        let used = if row.used_up_to > 0.0 { units.show(row.used_up_to) } else { String::new() };
        table.line([row.cloth.clone(), length, row.cut.to_string(), used, left, remark]);
    }
    writeln!(out)?;
    table.print(out)
}

fn tape(out: &mut impl Write, rows: &[TapeRow], units: Units) -> io::Result<()> {
    if rows.is_empty() {
        return Ok(());
    }
    let mut table = Table::new(&[
        ("tape", Align::Left),
        ("asked for", Align::Right),
        ("used", Align::Right),
        ("bought", Align::Right),
        ("left", Align::Right),
        ("still to buy", Align::Right),
    ]);
    for row in rows {
        let lengths = [row.asked, row.used, row.bought, row.left, row.to_buy];
        let [asked, used, bought, left, to_buy] =
            lengths.map(|mm| if mm > 0.0 { long(mm, units) } else { String::new() });
        table.line([tape_words(row.tape, units), asked, used, bought, left, to_buy]);
    }
    writeln!(out)?;
    table.print(out)
}

/// A length of tape: metres or feet, to a tenth.
pub(super) fn long(mm: f64, units: Units) -> String {
    let long = match units {
        Units::In | Units::Ft => Units::Ft,
        Units::Mm | Units::Cm | Units::M => Units::M,
    };
    format!("{} {}", trimmed(long.from_mm(mm), 1), long.symbol())
}

/// `2 in tape`, `3 in bias tape`.
pub(super) fn tape_words(tape: TapeKind, units: Units) -> String {
    let cut = if tape.bias { "bias tape" } else { "tape" };
    format!("{} {cut}", units.show(tape.width))
}

fn notes(out: &mut impl Write, desk: &Desk) -> io::Result<()> {
    if !desk.standing.notes.is_empty() {
        writeln!(out)?;
    }
    for note in &desk.standing.notes {
        let part = note.part.as_ref().map_or(String::new(), |part| format!("{part}: "));
        writeln!(out, "{}  {part}{}", note.date, note.text)?;
    }
    Ok(())
}
