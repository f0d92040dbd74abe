//! What `check` says of the repairs: the patch, its lap and tape, each with its default and source, and what to do.

use std::io::{self, Write};

use crate::covering::{RepairWork, RuleUsed};
use crate::job::{Job, Opening, Words};
use crate::units::Units;

use super::table::{Align, Table};

/// Prints the repairs of a job; nothing where there are none.
pub(super) fn print(out: &mut impl Write, job: &Job, repairs: &[RepairWork]) -> io::Result<()> {
    if repairs.is_empty() {
        return Ok(());
    }
    writeln!(out)?;
    sizes(job, repairs).print(out)?;
    writeln!(out)?;
    figures(job, repairs).print(out)?;
    for repair in repairs {
        for step in &repair.steps {
            writeln!(out, "{}: {step}", repair.name)?;
        }
    }
    Ok(())
}

fn sizes(job: &Job, repairs: &[RepairWork]) -> Table {
    let mut table = Table::new(&[
        ("repair", Align::Left),
        ("method", Align::Left),
        ("opening", Align::Left),
        ("patch", Align::Left),
        ("tape", Align::Right),
        ("length of tape", Align::Right),
    ]);
    let units = job.units;
    for repair in repairs {
        table.line([
            repair.name.clone(),
            repair.kind.word().to_owned(),
            opening_words(repair.opening, units),
            repair.patch.as_ref().map_or("none".to_owned(), |piece| pair(piece.size, units)),
            repair.tape.as_ref().map_or("none".to_owned(), |tape| units.show(tape.used)),
            repair.tape.as_ref().map_or(String::new(), |_| units.show(repair.tape_length)),
        ]);
    }
    table
}

fn figures(job: &Job, repairs: &[RepairWork]) -> Table {
    let mut table = Table::new(&[
        ("repair", Align::Left),
        ("figure", Align::Left),
        ("used", Align::Right),
        ("default", Align::Right),
        ("source", Align::Left),
        ("why", Align::Left),
    ]);
    for repair in repairs {
        for rule in [&repair.lap, &repair.tape].into_iter().flatten() {
            table.line(figure_line(repair, rule, job.units));
        }
    }
    table
}

fn figure_line(repair: &RepairWork, rule: &RuleUsed, units: Units) -> [String; 6] {
    [
        repair.name.clone(),
        rule.figure.word().to_owned(),
        units.show(rule.used),
        rule.default.map_or("none".to_owned(), |default| units.show(default)),
        rule.source.clone(),
        rule.why.clone().unwrap_or_default(),
    ]
}

fn pair([length, width]: [f64; 2], units: Units) -> String {
    format!("{} × {}", units.show(length), units.show(width))
}

fn opening_words(opening: Opening, units: Units) -> String {
    match opening {
        Opening::Rect(sides) => pair(sides, units),
        Opening::Circle(diameter) => format!("{} round", units.show(diameter)),
        Opening::Tear(length) => format!("{} tear", units.show(length)),
    }
}
