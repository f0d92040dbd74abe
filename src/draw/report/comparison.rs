//! A comparison that was made before, shown for what it is: it may be older than the job.

use super::table::{Table, figures, words};
use super::{KnownComparison, Report};
use crate::plan::{self, Comparison, LayerChoice, Range, area, mass, percent};
use crate::units::Units;
use crate::wording::counted;

/// The chapter.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct ComparisonChapter {
    /// Where it comes from and how far it can be trusted, or why none is shown.
    pub words: Vec<String>,
    /// The ways and the layers.
    pub tables: Vec<Table>,
    /// Least money, least waste, fewest seams.
    pub best: Vec<(&'static str, String)>,
}

/// Works out the chapter; none where no comparison lies beside the lay.
pub(super) fn comparison(report: &Report) -> Option<ComparisonChapter> {
    match report.compared {
        KnownComparison::Not => None,
        KnownComparison::NotShown(why) => {
            Some(ComparisonChapter { words: vec![why.clone()], tables: Vec::new(), best: Vec::new() })
        }
        KnownComparison::Found(found) => Some(shown(report, found)),
    }
}

fn shown(report: &Report, found: &Comparison) -> ComparisonChapter {
    let units = report.job.units;
    let words = vec![format!(
        "From compare.json, which lay in the folder of this report when it was written. Each way was laid at effort {} with {}, \
         each cloth alone. The file does not say how the job stood then: if the job has changed since, compare anew.",
        found.effort,
        counted(found.seeds, "seed", "seeds")
    )];
    let mut tables = vec![ways(found, units)];
    tables.extend((!found.layers.is_empty()).then(|| layers(&found.layers, units)));
    let names = ["Least money", "Least waste", "Fewest seams"];
    ComparisonChapter { words, tables, best: names.into_iter().zip(found.winners.in_words()).collect() }
}

fn ways(found: &Comparison, units: Units) -> Table {
    let columns = [
        words("Cloth"),
        figures("Seams"),
        figures("Sewn"),
        figures("Hours of seams"),
        figures("Length used"),
        figures("Waste"),
        figures("Buy"),
        figures("Cost"),
        words("Remark"),
    ];
    let mut table = Table::new("Ways to do the job", columns);
    let metres = |mm: f64| plan::TakeOffUnit::Length.amount(mm, units);
    for way in &found.ways {
        let laid = |text: String| if way.runs.is_empty() { String::new() } else { text };
        let bought = Range::of(&way.runs.iter().map(|run| run.bought).collect::<Vec<_>>());
        table.row([
            way.name.clone(),
            laid(way.seams.count.to_string()),
            laid(way.seams.sewn.to_string()),
            laid(format!("{:.1}", way.seams.hours)),
            in_words(way.length(), metres),
            in_words(way.waste(), percent),
            in_words(bought, metres),
            in_words(way.cost(), |cost| format!("{cost:.2}")),
            way.impossible.clone().unwrap_or_default(),
        ]);
    }
    table.done()
}

/// A range as its ends; one value where they read alike.
fn in_words(range: Option<Range>, words: impl Fn(f64) -> String) -> String {
    let Some(range) = range else { return String::new() };
    let [least, most] = [range.least, range.most].map(words);
    if least == most { least } else { format!("{least} to {most}") }
}

fn layers(choices: &[LayerChoice], units: Units) -> Table {
    let columns = [
        words("Layers"),
        figures("Cloth"),
        figures("Mass"),
        figures("Edge to glue"),
        figures("Edge to pink"),
        figures("Pieces"),
        figures("Hours"),
    ];
    let mut table = Table::new("Patches or a second layer", columns);
    let metres = |mm: f64| plan::TakeOffUnit::Length.amount(mm, units);
    for choice in choices {
        table.row([
            choice.name.clone(),
            area(choice.cloth, units),
            choice.mass.map_or(String::new(), |grams| mass(grams, units)),
            metres(choice.glued),
            metres(choice.pinked),
            choice.pieces.to_string(),
            format!("{:.1}", choice.hours),
        ]);
    }
    table.done()
}
