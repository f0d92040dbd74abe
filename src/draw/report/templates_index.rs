//! The index of templates: which there are, for how many pieces, and whether they are worth printing.

use super::Report;
use super::table::{Table, figures, words};
use crate::draw::templates::large_pieces;
use crate::plan::{Template, TemplateChoice, edge_words, grain_words, size, templates};

/// The chapter.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct TemplatesChapter {
    /// The index.
    pub table: Table,
    /// The paper that it was made for.
    pub paper: String,
}

/// Works out the index.
pub(super) fn templates_index(report: &Report) -> TemplatesChapter {
    let all = templates(report.job, report.covering, &TemplateChoice::default(), false).unwrap_or_default();
    let large = large_pieces(&all, report.paper);
    let units = report.job.units;
    let columns = [
        words("No."),
        words("Template"),
        figures("Cut"),
        words("Size"),
        words("Edge"),
        words("Grain"),
        words("How"),
        words("Goes"),
    ];
    let mut table = Table::new("Every template", columns);
    for template in &all {
        let how = if large.contains(template.name()) { "mark out by its measures" } else { "print" };
        table.row([
            template.number.to_string(),
            names(template),
            template.copies().to_string(),
            size(template.size, units),
            edge_words(template.edge, units),
            grain_words(template.grain),
            how.to_owned(),
            goes(template),
        ]);
    }
    TemplatesChapter { table: table.done(), paper: report.paper.name.clone() }
}

/// Where its pieces go, none said twice.
fn goes(template: &Template) -> String {
    let mut all: Vec<&str> = template.uses.iter().filter_map(|one| one.goes.as_deref()).collect();
    all.dedup();
    all.join("; ")
}

/// The pieces that share a template.
fn names(template: &Template) -> String {
    let turned = |over: bool| if over { " (turned over)" } else { "" };
    let names = template.uses.iter().map(|one| format!("{}{}", one.piece, turned(one.turned_over)));
    names.collect::<Vec<_>>().join("; ")
}
