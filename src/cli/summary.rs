//! What `lay` says when it is done.

use std::io::{self, Write};

use crate::job::Job;
use crate::nest::Ending;
use crate::plan::{Purchase, WorkedLay, mass, percent, totals};
use crate::wording::counted;

use super::table::{Align, Table};
use super::tapes;

/// Prints a line for each cloth and the sums.
pub(super) fn print(out: &mut impl Write, job: &Job, worked: &WorkedLay) -> io::Result<()> {
    let units = job.units;
    let mut table = Table::new(&[
        ("cloth", Align::Left),
        ("pieces", Align::Right),
        ("length used", Align::Right),
        ("waste", Align::Right),
        ("density", Align::Right),
        ("buy", Align::Right),
        ("cost", Align::Right),
        ("mass bought", Align::Right),
        ("left over", Align::Right),
    ]);
    for (account, laid) in worked.accounts.iter().zip(&worked.file.cloths) {
        let several = job.cloth.iter().any(|cloth| cloth.name == account.cloth && cloth.count > 1);
        let number = if several { format!(" {}", account.number) } else { String::new() };
        let (buy, cost, weight) = match account.purchase {
            Purchase::OnShelf => ("on the shelf".to_owned(), String::new(), String::new()),
            Purchase::Buy { length, cost, mass: grams } => (
                units.show(length),
                cost.map_or(String::new(), |cost| format!("{cost:.2}")),
                grams.map_or(String::new(), |grams| mass(grams, units)),
            ),
        };
        table.line([
            format!("{}{number}", account.cloth),
            account.pieces.to_string(),
            units.show(account.length_used),
            percent(laid.waste),
            percent(laid.density),
            buy,
            cost,
            weight,
            units.show(account.left),
        ]);
    }
    if !worked.accounts.is_empty() {
        table.print(out)?;
        writeln!(out)?;
    }
    sums(out, job, worked)?;
    if let Some(plan) = &worked.file.tape {
        tapes::sum(out, plan)?;
    }
    Ok(())
}

fn sums(out: &mut impl Write, job: &Job, worked: &WorkedLay) -> io::Result<()> {
    let totals = totals(job, &worked.accounts);
    let asked = totals.pieces + worked.file.unplaced.len();
    write!(out, "{} of {} laid", totals.pieces, counted(asked, "piece", "pieces"))?;
    if totals.pieces > 0 {
        write!(out, "; waste of all cloth used {}", percent(totals.waste))?;
    }
    if let Some(grams) = totals.mass.filter(|grams| *grams > 0.0) {
        write!(out, "; the pieces weigh {}", mass(grams, job.units))?;
    }
    if totals.cost > 0.0 {
        let unknown = if totals.cost_complete { "" } else { " and what has no price" };
        write!(out, "; cost {:.2}{unknown}", totals.cost)?;
    }
    writeln!(out)?;
    let used = |name: &str| worked.accounts.iter().any(|account| account.cloth == name);
    let untouched: Vec<&str> = job.cloth.iter().map(|cloth| cloth.name.as_str()).filter(|name| !used(name)).collect();
    if !untouched.is_empty() {
        writeln!(out, "not cut: {}", untouched.join(", "))?;
    }
    match worked.ending {
        Ending::EffortSpent => Ok(()),
        Ending::TimeUp => writeln!(out, "the search ended when its time was up"),
        Ending::Interrupted => writeln!(out, "the search was interrupted; this is the best lay so far"),
    }
}
