//! What somebody without a plan would buy, so that a person sees what planning saved; no offcut is used for it.

use super::cloth::{area_of, area_taken};
use super::{Laid, TakeOffLine, TakeOffSection, TakeOffUnit};
use crate::job::{Cloth, Job, Part, PartKind, Piece, Surface};
use crate::plan::{Purchase, purchase};
use crate::units::inches;

/// Share of the cloth that a rule of thumb thinks is covered by pieces.
const USED_SHARE: f64 = 0.85;
/// A yard of 70 in cloth, in square millimetres.
const YARD: f64 = inches(36.0) * inches(70.0);

/// Cloth of a classic two-seat high wing, in yards of 70 in cloth: approved covering manual p. 127.
const PUBLISHED: [(&str, f64); 3] =
    [("two wings with ailerons", 25.0), ("fuselage", 11.0), ("five tail surfaces", 9.0)];

/// The counter-figures, and what the plan takes beside them.
pub(super) fn without_plan(job: &Job, pieces: &[Piece], laid: Option<Laid<'_>>) -> Vec<TakeOffLine> {
    let roll = main_cloth(job, laid);
    let thumb = bought(
        TakeOffLine::new(
            TakeOffSection::WithoutPlan,
            "area of the pieces ÷ 0.85",
            TakeOffUnit::Area,
            area_of(pieces) / USED_SHARE,
        ),
        roll,
    )
    .by(rule_of_thumb(roll), "common practice, no source");
    let mut lines = vec![thumb];
    if let Some((what, yards)) = published(job) {
        let line = TakeOffLine::new(
            TakeOffSection::WithoutPlan,
            format!("published for a classic two-seat high wing: {what}"),
            TakeOffUnit::Area,
            yards * YARD,
        );
        let rule = format!("{yards} yd of 70 in cloth; another aircraft, for orientation");
        lines.push(bought(line, roll).by(rule, "approved covering manual p. 127"));
    }
    if let Some(laid) = laid {
        let taken = area_taken(job, laid.accounts);
        let cut: f64 = laid.accounts.iter().map(|account| account.cut_area).sum();
        let mut line =
            TakeOffLine::new(TakeOffSection::WithoutPlan, "as planned, for comparison", TakeOffUnit::Area, taken);
        let costs: Vec<f64> = laid.accounts.iter().filter_map(|account| account.purchase.cost()).collect();
        line.cost = (!costs.is_empty()).then(|| costs.iter().sum());
        let share = if taken > 0.0 { cut / taken } else { 0.0 };
        lines.push(line.by(
            format!("cloth bought, and of the shelf the length used; {:.1} % of it is pieces", 100.0 * share),
            "the lay",
        ));
    }
    lines
}

fn rule_of_thumb(roll: Option<&Cloth>) -> String {
    match roll {
        Some(roll) => format!("all of it off {:?}, full width, none off the shelf", roll.name),
        None => "no cloth to be bought is known".to_owned(),
    }
}

/// The cloth that most is bought of, else the first that is to be bought.
fn main_cloth<'j>(job: &'j Job, laid: Option<Laid<'_>>) -> Option<&'j Cloth> {
    let bought = |cloth: &&Cloth| -> f64 {
        let accounts = laid.map_or(&[][..], |laid| laid.accounts);
        let own = accounts.iter().filter(|account| account.cloth == cloth.name);
        own.filter(|account| account.purchase.length().is_some()).map(|account| account.length_used).sum()
    };
    let to_buy = job.cloth.iter().filter(|cloth| cloth.is_bought());
    // The first of equals.
    to_buy.rev().max_by(|one, other| bought(one).total_cmp(&bought(other)))
}

/// The line with what such an area is as a length of a cloth, bought in its steps.
fn bought(mut line: TakeOffLine, roll: Option<&Cloth>) -> TakeOffLine {
    let Some(roll) = roll else { return line };
    let endless = Cloth { length: None, ..roll.clone() };
    if let Purchase::Buy { length, cost, .. } = purchase(&endless, line.needed / roll.width) {
        line.buy = Some(length * roll.width);
        line.cost = cost;
    }
    line
}

/// What the published table has for surfaces such as the job's: names and yards.
fn published(job: &Job) -> Option<(String, f64)> {
    let has = |wanted: &[Surface]| job.airframe.iter().any(|part| wanted.contains(&surface(part)));
    let there = [has(&[Surface::Wing, Surface::ControlSurface]), has(&[Surface::Fuselage]), has(&[Surface::Empennage])];
    let rows: Vec<_> = PUBLISHED.iter().zip(there).filter(|(_, there)| *there).map(|(row, _)| *row).collect();
    let names: Vec<&str> = rows.iter().map(|(name, _)| *name).collect();
    (!rows.is_empty()).then(|| (names.join(", "), rows.iter().map(|(_, yards)| yards).sum()))
}

fn surface(part: &Part) -> Surface {
    match &part.kind {
        PartKind::Flat(flat) => flat.surface,
        PartKind::Ribbed(ribbed) => ribbed.surface,
        PartKind::Panel(panel) => panel.surface,
        PartKind::Truss(_) => Surface::Fuselage,
    }
}
