//! The table of the covering map for a spreadsheet: one line a thing.
//!
//! Comma-separated values as RFC 4180 has them.

use csv::{Terminator, WriterBuilder};

use super::cut_list::{defused, length};
use crate::covering::Covering;
use crate::job::Job;
use crate::plan::map_rows;

/// Writes what goes onto the faces, with its place on each. Lengths are plain numbers in the job's unit, which the head line
/// names.
///
/// # Errors
/// Only what the writer of comma-separated values reports, which memory alone can cause.
pub fn map_table(job: &Job, covering: &Covering) -> Result<Vec<u8>, csv::Error> {
    let mut writer = WriterBuilder::new().terminator(Terminator::CRLF).from_writer(Vec::new());
    let unit = job.units.symbol();
    writer.write_record([
        "part".to_owned(),
        "face".to_owned(),
        "number".to_owned(),
        "kind".to_owned(),
        "what".to_owned(),
        "quantity".to_owned(),
        format!("length ({unit})"),
        format!("width ({unit})"),
        format!("diameter ({unit})"),
        "flag".to_owned(),
        "from corner".to_owned(),
        "along edge".to_owned(),
        format!("along ({unit})"),
        format!("square ({unit})"),
        "cut after shrinking".to_owned(),
        "notes".to_owned(),
    ])?;
    for row in map_rows(job, covering) {
        let figure = |mm: Option<f64>| mm.map_or(String::new(), |mm| length(mm, job.units));
        writer.write_record([
            defused(&row.part),
            defused(&row.face),
            defused(&row.number),
            row.kind.word().to_owned(),
            defused(&row.what),
            row.quantity.to_string(),
            figure(row.length),
            figure(row.width),
            figure(row.diameter),
            row.flag.clone().unwrap_or_default(),
            defused(row.corner.as_deref().unwrap_or_default()),
            defused(row.edge.as_deref().unwrap_or_default()),
            figure(row.along),
            figure(row.square),
            if row.cut_after_shrinking { "yes" } else { "" }.to_owned(),
            defused(&row.notes.join("; ")),
        ])?;
    }
    writer.into_inner().map_err(|fault| csv::Error::from(fault.into_error()))
}
