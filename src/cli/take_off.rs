//! The take-off as a table: what to buy, with its rule and source.

use std::io::{self, Write};

use crate::job::{Job, Words};
use crate::plan::{TakeOffLine, TakeOffSection, mass};

use super::table::{Align, Table};

/// Prints the take-off, a table for each section.
pub(super) fn print(out: &mut impl Write, job: &Job, lines: &[TakeOffLine]) -> io::Result<()> {
    for (section, title) in TakeOffSection::ALL {
        let own: Vec<&TakeOffLine> = lines.iter().filter(|line| line.section == *section).collect();
        if own.is_empty() {
            continue;
        }
        writeln!(out)?;
        table(job, title, &own).print(out)?;
    }
    Ok(())
}

fn table(job: &Job, title: &'static str, lines: &[&TakeOffLine]) -> Table {
    let mut table = Table::new(&[
        (title, Align::Left),
        ("needed", Align::Right),
        ("buy", Align::Right),
        ("left over", Align::Right),
        ("rolls", Align::Right),
        ("cost", Align::Right),
        ("mass", Align::Right),
        ("rule", Align::Left),
        ("source", Align::Left),
    ]);
    for line in lines {
        let amount = |value: f64| line.unit.amount(value, job.units);
        table.line([
            line.what.clone(),
            amount(line.needed),
            line.buy.map_or(String::new(), amount),
            line.left.map_or(String::new(), amount),
            line.rolls.map_or(String::new(), |rolls| rolls.to_string()),
            line.cost.map_or(String::new(), |cost| format!("{cost:.2}")),
            line.mass.map_or(String::new(), |grams| mass(grams, job.units)),
            line.rule.clone(),
            line.source.clone(),
        ]);
    }
    table
}
