//! The take-off for a spreadsheet: one line a thing, each with its rule and its source.
//!
//! Comma-separated values as RFC 4180 has them.

use csv::{Terminator, WriterBuilder};

use super::cut_list::defused;
use crate::job::{Job, Words};
use crate::plan::TakeOffLine;

/// Writes what to buy. Amounts are plain numbers in the unit that stands beside them: metres or yards for lengths.
///
/// # Errors
/// Only what the writer of comma-separated values reports, which memory alone can cause.
pub fn take_off_table(job: &Job, lines: &[TakeOffLine]) -> Result<Vec<u8>, csv::Error> {
    let mut writer = WriterBuilder::new().terminator(Terminator::CRLF).from_writer(Vec::new());
    writer.write_record([
        "section",
        "what",
        "unit",
        "needed",
        "buy",
        "left over",
        "rolls",
        "cost",
        "mass (g)",
        "rule",
        "source",
    ])?;
    for line in lines {
        let (unit, scale, decimals) = line.unit.shown(job.units);
        let amount = |value: f64| format!("{:.decimals$}", value / scale + 0.0);
        let figure = |value: Option<f64>, decimals: usize| value.map_or(String::new(), |v| format!("{v:.decimals$}"));
        writer.write_record([
            line.section.word().to_owned(),
            defused(&line.what),
            unit.to_owned(),
            amount(line.needed),
            line.buy.map_or(String::new(), amount),
            line.left.map_or(String::new(), amount),
            line.rolls.map_or(String::new(), |rolls| rolls.to_string()),
            figure(line.cost, 2),
            figure(line.mass, 1),
            defused(&line.rule),
            defused(&line.source),
        ])?;
    }
    writer.into_inner().map_err(|fault| csv::Error::from(fault.into_error()))
}
