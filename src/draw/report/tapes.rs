//! Tapes: what each kind comes to, and what is cut from each roll.

use super::Report;
use super::table::{Table, figures, words};
use crate::plan::{TapePlan, TapeRoll, metres_and_yards};
use crate::units::Units;

/// The chapter.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct TapesChapter {
    /// The kinds.
    pub kinds: Table,
    /// The rolls.
    pub rolls: Vec<Table>,
    /// What is on no roll, and why.
    pub unplaced: Vec<String>,
}

/// Works out the chapter; none for a job without tape.
pub(super) fn tapes(report: &Report) -> Option<TapesChapter> {
    let plan = report.lay.tape.as_ref().filter(|plan| !plan.kinds.is_empty())?;
    let units = report.job.units;
    Some(TapesChapter {
        kinds: kinds(plan, units),
        rolls: plan.rolls.iter().map(|of| roll(of, units)).collect(),
        unplaced: plan.cautions(),
    })
}

fn kinds(plan: &TapePlan, units: Units) -> Table {
    let columns = [
        words("Tape"),
        figures("Runs"),
        figures("Metres"),
        figures("Yards"),
        figures("Rolls"),
        figures("Joints"),
        figures("Cost"),
        figures(format!("Left over ({})", units.symbol())),
        figures(format!("Longest of it ({})", units.symbol())),
        words("The cost is"),
    ];
    let mut table = Table::new("Every kind of tape", columns);
    for kind in &plan.kinds {
        let [metres, yards] = metres_and_yards(kind.length);
        let when_cut = |words: String| if kind.rolls > 0 { words } else { String::new() };
        table.row([
            kind.kind.clone(),
            kind.runs.to_string(),
            metres,
            yards,
            kind.rolls.to_string(),
            if kind.joints > 0 { kind.joints.to_string() } else { String::new() },
            when_cut(format!("{:.2}", kind.cost)),
            when_cut(units.show_number(kind.left)),
            when_cut(units.show_number(kind.longest_left)),
            kind.proof_words(),
        ]);
    }
    table.done()
}

fn roll(roll: &TapeRoll, units: Units) -> Table {
    let (length, left) = (units.show(roll.length), units.show(roll.left));
    let unit = units.symbol();
    let columns = [
        words("Run"),
        figures(format!("From ({unit})")),
        figures(format!("To ({unit})")),
        figures(format!("Length ({unit})")),
        words("Goes"),
    ];
    let caption = format!("{}: {}, {length} long, {left} left", roll.words(), roll.kind);
    let mut table = Table::new(caption, columns);
    for piece in &roll.pieces {
        table.row([
            piece.words(),
            units.show_number(piece.from),
            units.show_number(piece.from + piece.length),
            units.show_number(piece.length),
            piece.over.clone(),
        ]);
    }
    table.done()
}
