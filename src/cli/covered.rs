//! What `check` says of the airframe: the rules that were used, the parts, what their covering weighs.

use std::io::{self, Write};

use crate::covering::{Balance, CoveredPart, Covering, RuleUsed};
use crate::job::{Job, Rules, Words};
use crate::plan::{area, mass, moment};

use super::table::{Align, Table};
use super::{dressed, repairs};

/// Prints the covering of a job that has an airframe; nothing for one that has none.
pub(super) fn print(out: &mut impl Write, job: &Job, covering: &Covering) -> io::Result<()> {
    let Some(rules) = &job.rules else { return Ok(()) };
    rules_in_words(out, rules, covering)?;
    repairs::print(out, job, &covering.repairs)?;
    if covering.parts.is_empty() {
        return Ok(());
    }
    rules_table(job, &covering.rules_used).print(out)?;
    writeln!(out)?;
    parts_table(job, &covering.parts).print(out)?;
    for panel in covering.parts.iter().flat_map(|part| &part.panels) {
        for seam in &panel.seams {
            writeln!(out, "{}: {}", panel.plan.name, seam.in_words(job.units))?;
        }
    }
    dressed::print(out, job, covering)
}

fn rules_in_words(out: &mut impl Write, rules: &Rules, covering: &Covering) -> io::Result<()> {
    writeln!(out, "\nrules: {} covering, Vne {}, wing loading {}", rules.method.word(), rules.vne, rules.wing_loading)?;
    let Some(needed) = covering.class_needed else { return Ok(()) };
    writeln!(
        out,
        "cloth class needed: {}, {} lb/in when new, not airworthy below {} lb/in ({})",
        needed.class.word(),
        needed.new,
        needed.in_service,
        needed.source
    )
}

fn rules_table(job: &Job, used: &[RuleUsed]) -> Table {
    let mut table = Table::new(&[
        ("figure", Align::Left),
        ("at", Align::Left),
        ("used", Align::Right),
        ("default", Align::Right),
        ("source", Align::Left),
        ("why", Align::Left),
    ]);
    for rule in used {
        table.line([
            rule.figure.word().to_owned(),
            rule.location.word().to_owned(),
            job.units.show(rule.used),
            rule.default.map_or("none".to_owned(), |default| job.units.show(default)),
            rule.source.clone(),
            rule.why.clone().unwrap_or_default(),
        ]);
    }
    table
}

fn parts_table(job: &Job, parts: &[CoveredPart]) -> Table {
    let mut table = Table::new(&[
        ("part", Align::Left),
        ("panels", Align::Right),
        ("covered area of one", Align::Right),
        ("cloth", Align::Right),
        ("coats", Align::Right),
        ("off the hinge", Align::Right),
        ("moment", Align::Right),
    ]);
    for part in parts {
        let panels: u32 = part.panels.iter().map(|panel| panel.plan.quantity).sum();
        let balance = part.balance;
        let known = |figure: fn(&Balance) -> Option<f64>| balance.as_ref().and_then(figure);
        table.line([
            part.name.clone(),
            panels.to_string(),
            balance.map_or(String::new(), |balance| area(balance.area, job.units)),
            known(|balance| balance.cloth).map_or(String::new(), |grams| mass(grams, job.units)),
            known(|balance| balance.coats).map_or(String::new(), |grams| mass(grams, job.units)),
            known(|balance| balance.arm).map_or(String::new(), |arm| job.units.show(arm)),
            known(Balance::moment).map_or(String::new(), |turning| moment(turning, job.units)),
        ]);
    }
    table
}
