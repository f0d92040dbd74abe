//! What to buy: in short for the first page, in full for the take-off.

use super::Report;
use super::table::{Table, figures, words};
use crate::job::Words;
use crate::plan::{Purchase, TakeOffLine, TakeOffSection, TakeOffUnit, mass};
use crate::units::Units;

/// The list for the shop, and what it leaves open.
pub(super) fn shopping_table(report: &Report) -> (Table, Vec<String>) {
    let units = report.job.units;
    let mut table =
        Table::new("What to buy", [words("What"), figures("Buy"), words("Unit"), figures("Rolls"), figures("Cost")]);
    let bought: Vec<&TakeOffLine> =
        report.lay.take_off.iter().filter(|line| line.is_bought() && line.needed > 0.0).collect();
    for line in &bought {
        let (unit, amount) = amount(line.unit, line.buy.unwrap_or(line.needed), units);
        let rolls = line.rolls.map_or(String::new(), |rolls| rolls.to_string());
        table.row([line.what.clone(), amount, unit, rolls, money(line.cost)]);
    }
    if report.lay.take_off.is_empty() {
        cloth_to_buy(report, &mut table);
    }
    let mut beside = Vec::new();
    let costs: Vec<f64> = bought.iter().filter_map(|line| line.cost).collect();
    if costs.len() > 1 {
        table.row([
            "What has a price, in all".to_owned(),
            String::new(),
            String::new(),
            String::new(),
            money(Some(costs.iter().sum())),
        ]);
    }
    if !costs.is_empty() && costs.len() < bought.len() {
        beside.push("Lines without a cost have no price in the job.".to_owned());
    }
    if report.lay.rest.is_some() {
        beside.push(
            "This is a lay of the rest: tape and small parts are not counted anew. The log says what is used and left."
                .to_owned(),
        );
    }
    (table.done(), beside)
}

/// Cloth to be bought, where the lay has no take-off.
fn cloth_to_buy(report: &Report, table: &mut Table) {
    for account in report.accounts {
        if let Purchase::Buy { length, cost, .. } = account.purchase {
            let (unit, amount) = amount(TakeOffUnit::Length, length, report.job.units);
            table.row([account.cloth.clone(), amount, unit, String::new(), money(cost)]);
        }
    }
}

/// A table for each section of the take-off.
pub(super) fn take_off_tables(report: &Report) -> Vec<Table> {
    let of = |(section, title): &(TakeOffSection, &str)| {
        let lines: Vec<&TakeOffLine> = report.lay.take_off.iter().filter(|line| line.section == *section).collect();
        (!lines.is_empty()).then(|| section_table(title, &lines, report.job.units))
    };
    TakeOffSection::ALL.iter().filter_map(of).collect()
}

fn section_table(title: &str, lines: &[&TakeOffLine], units: Units) -> Table {
    let columns = [
        words("What"),
        figures("Needed"),
        figures("Buy"),
        figures("Left over"),
        words("Unit"),
        figures("Rolls"),
        figures("Cost"),
        figures("Mass"),
        words("How it comes about"),
        words("Source"),
    ];
    let mut table = Table::new(capital(title), columns);
    for line in lines {
        let shown = |value: f64| amount(line.unit, value, units).1;
        table.row([
            line.what.clone(),
            shown(line.needed),
            line.buy.map_or(String::new(), shown),
            line.left.map_or(String::new(), shown),
            amount(line.unit, 0.0, units).0,
            line.rolls.map_or(String::new(), |rolls| rolls.to_string()),
            money(line.cost),
            line.mass.map_or(String::new(), |grams| mass(grams, units)),
            line.rule.clone(),
            line.source.clone(),
        ]);
    }
    table.done()
}

/// The unit of an amount and its number.
fn amount(unit: TakeOffUnit, amount: f64, units: Units) -> (String, String) {
    let (name, scale, decimals) = unit.shown(units);
    let decimals = decimals.min(2);
    (name.to_owned(), format!("{:.decimals$}", amount / scale + 0.0))
}

fn money(cost: Option<f64>) -> String {
    cost.map_or(String::new(), |cost| format!("{cost:.2}"))
}

/// The same words with a capital letter at their head.
pub(super) fn capital(words: &str) -> String {
    let mut letters = words.chars();
    letters.next().map_or(String::new(), |first| first.to_uppercase().chain(letters).collect())
}
