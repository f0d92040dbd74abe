//! The rules that gave the figures, each with its source.

use super::Report;
use super::shopping::capital;
use super::table::{Table, figures, words};
use crate::covering::{Covering, RepairWork};
use crate::job::{Job, Words};

/// The chapter.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct RulesChapter {
    /// Which rules hold, and which cloth they ask for.
    pub words: Vec<String>,
    /// The figures.
    pub table: Table,
    /// The repairs.
    pub repairs: Option<Table>,
}

/// Works out the chapter; none for a job without rules.
pub(super) fn rules(report: &Report) -> Option<RulesChapter> {
    let Report { job, covering, .. } = report;
    job.rules.as_ref()?;
    Some(RulesChapter {
        words: in_words(job, covering),
        table: figures_used(job, covering),
        repairs: (!covering.repairs.is_empty()).then(|| repairs(job, &covering.repairs)),
    })
}

fn in_words(job: &Job, covering: &Covering) -> Vec<String> {
    let Some(rules) = &job.rules else { return Vec::new() };
    let mut words = vec![format!(
        "{} covering, Vne {}, wing loading {}.",
        capital(rules.method.word()),
        rules.vne,
        rules.wing_loading
    )];
    words.extend(covering.class_needed.map(|needed| {
        format!(
            "Cloth class needed: {}, {} lb/in when new, not airworthy below {} lb/in ({}).",
            needed.class.word(),
            needed.new,
            needed.in_service,
            needed.source
        )
    }));
    words
}

fn figures_used(job: &Job, covering: &Covering) -> Table {
    let unit = job.units.symbol();
    let columns = [
        words("Figure"),
        words("Where"),
        figures(format!("Used ({unit})")),
        figures(format!("Rule ({unit})")),
        words("Source"),
        words("Why it is not the rule's"),
    ];
    let mut table = Table::new("Figures used", columns);
    for used in &covering.rules_used {
        table.row([
            capital(used.figure.word()),
            used.location.word().to_owned(),
            job.units.show_number(used.used),
            used.default.map_or("none".to_owned(), |default| job.units.show_number(default)),
            used.source.clone(),
            used.why.clone().unwrap_or_default(),
        ]);
    }
    table.done()
}

fn repairs(job: &Job, repairs: &[RepairWork]) -> Table {
    let unit = job.units.symbol();
    let columns = [
        words("Repair"),
        words("Kind"),
        figures(format!("Lap ({unit})")),
        figures(format!("Tape ({unit})")),
        words("Source"),
        words("What to do"),
    ];
    let mut table = Table::new("Repairs", columns);
    for repair in repairs {
        let used = [&repair.lap, &repair.tape];
        let [lap, tape] = used.map(|used| used.as_ref().map_or(String::new(), |used| job.units.show_number(used.used)));
        let mut sources: Vec<String> = used.into_iter().flatten().map(|used| used.source_in_words()).collect();
        sources.dedup();
        let steps = repair.steps.join("; ");
        table.row([repair.name.clone(), repair.kind.word().to_owned(), lap, tape, sources.join("; "), steps]);
    }
    table.done()
}
