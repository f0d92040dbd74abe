//! The first page: what the job is, what to buy, how it lies.

use super::Report;
use super::shopping::shopping_table;
use super::table::Table;
use crate::job::Words;
use crate::plan::{area, percent, totals};
use crate::wording::counted;

/// The first page.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Front {
    /// What the person noted about the job.
    pub note: Option<String>,
    /// What the job is: name and value.
    pub facts: Vec<(&'static str, String)>,
    /// Pieces that found no place.
    pub unplaced: Vec<String>,
    /// What to buy.
    pub shopping: Table,
    /// What the list does not hold.
    pub beside: Vec<String>,
}

/// Works out the first page.
pub(super) fn front(report: &Report) -> Front {
    let (shopping, beside) = shopping_table(report);
    let unplaced = report.lay.unplaced.iter();
    Front {
        note: report.job.note.clone(),
        facts: facts(report),
        unplaced: unplaced.map(|left| format!("{} {}: {}", left.piece, left.copy, left.why)).collect(),
        shopping,
        beside,
    }
}

fn facts(report: &Report) -> Vec<(&'static str, String)> {
    let Report { job, covering, pieces, lay, accounts, .. } = report;
    let totals = totals(job, accounts);
    let mut facts = vec![("Job file", lay.job.clone())];
    if let Some(rules) = &job.rules {
        let words = format!("{} covering, Vne {}, wing loading {}", rules.method.word(), rules.vne, rules.wing_loading);
        facts.push(("Rules", words));
    }
    if !covering.parts.is_empty() {
        let names: Vec<&str> = covering.parts.iter().map(|part| part.name.as_str()).collect();
        facts.push(("Parts", names.join(", ")));
    }
    let cut: f64 = accounts.iter().map(|account| account.cut_area).sum();
    let kinds = counted(pieces.len(), "kind", "kinds");
    let laid = counted(totals.pieces, "piece", "pieces");
    facts.push(("Pieces laid", format!("{laid}, of {kinds} in the job, {}", area(cut, job.units))));
    if totals.pieces > 0 {
        facts.push(("Waste", format!("{} of all cloth used", percent(totals.waste))));
    }
    facts.push(("Laid with", format!("seed {}, effort {}", lay.seed, lay.effort)));
    if let Some(rest) = lay.rest {
        let lines = counted(rest.lines, "line", "lines");
        facts.push(("What is left", format!("a lay of the rest, as the log stood after {lines}")));
    }
    facts
}
