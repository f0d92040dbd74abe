//! The first pages: how to go about it, and the order of cutting.

use super::flow::TEXT;
use super::rows::Table;
use super::{MarkOutSheets, Places};
use crate::draw::pdf::Page;
use crate::plan::Rounding;
use crate::wording::counted;

const HOW: &str = "Square the cloth's end first: every length is measured from it along the lower edge, and from the lower \
                   edge across. Mark the points of a piece in their order, join them as the table says, and prove the \
                   diagonals before anything is cut. Mark everything on the table before the first cut.";
const ORDER: &str = "Cut in this order: large pieces first, the two of a pair one after the other, and no piece before one \
                     that would be left hanging on nothing. A piece without a page is traced from its template: its lowest \
                     left corner lies at the measures given.";

/// Draws the order of cutting.
pub(super) fn pages(sheets: &MarkOutSheets, places: &Places) -> Vec<Page> {
    let mut flow = sheets.flow(&format!("Mark-out of {}", sheets.cloth_words()));
    flow.words(&summary(sheets), TEXT);
    flow.words(HOW, TEXT);
    if let Some(table) = sheets.wish.table {
        flow.words(&table_words(sheets, table, places), TEXT);
    }
    flow.gap(2.0);
    flow.words("Cutting order", 1.4 * TEXT);
    flow.words(ORDER, TEXT);
    let unit = sheets.units().symbol();
    let from = [format!(">from end ({unit})"), format!(">from lower edge ({unit})")];
    let mut table = Table::new(&[">cut", ">no.", "piece", "page", &from[0], &from[1]], 2);
    for (step, marked) in sheets.marked.steps.iter().enumerate() {
        let laid = &sheets.laid.pieces[marked.piece];
        let page = places.pieces.get(&step).map_or("template".to_owned(), |page| page.to_string());
        let down = if laid.flipped { ", face down" } else { "" };
        table.rows.push(vec![
            (step + 1).to_string(),
            sheets.key(step),
            format!("{}{down}", sheets.name(step)),
            page,
            sheets.number(laid.span(0)[0]),
            sheets.number(laid.span(1)[0]),
        ]);
    }
    flow.table(&table);
    flow.finish()
}

fn summary(sheets: &MarkOutSheets) -> String {
    let steps = &sheets.marked.steps;
    let large = steps.iter().filter(|step| step.marks.is_some()).count();
    let others = match steps.len() - large {
        0 => "All of them are marked out by dimensions".to_owned(),
        others => {
            format!("{large} of them are marked out by dimensions; {others} are small enough for paper templates")
        }
    };
    let rounding = match sheets.wish.rounding {
        Rounding::Millimetre => "the nearest millimetre",
        Rounding::SixteenthInch => "the nearest sixteenth of an inch",
    };
    format!(
        "{}: {} on {} of it, {} wide. {others}. Lengths are in {}, to {rounding}.",
        sheets.job.name,
        counted(steps.len(), "piece lies", "pieces lie"),
        sheets.show(sheets.laid.length_used),
        sheets.show(sheets.laid.width),
        sheets.units().symbol(),
    )
}

/// How cloth that is longer than the table is drawn over it.
fn table_words(sheets: &MarkOutSheets, table: f64, places: &Places) -> String {
    let pages: Vec<String> = places.windows.iter().map(usize::to_string).collect();
    match sheets.marked.windows.len() {
        1 => format!("A table of {} holds all of it: page {}.", sheets.show(table), pages[0]),
        count => format!(
            "The table is {} long: the cloth is drawn over it {} times. What lies on it each time is on pages {}.",
            sheets.show(table),
            count,
            pages.join(", ")
        ),
    }
}
