//! Cloth: what is cut from each, what is bought in the steps in which it is sold, what is left.

use super::{TakeOffLine, TakeOffSection, TakeOffUnit};
use crate::job::{Cloth, Job, Piece};
use crate::plan::{ClothAccount, Purchase};

const FROM_LAY: &str = "the lay";

/// A line for each cloth that is cut, several alike on one.
pub(super) fn laid(job: &Job, accounts: &[ClothAccount]) -> Vec<TakeOffLine> {
    let line = |cloth: &Cloth| {
        let own: Vec<&ClothAccount> = accounts.iter().filter(|account| account.cloth == cloth.name).collect();
        (!own.is_empty()).then(|| one(cloth, &own))
    };
    job.cloth.iter().filter_map(line).collect()
}

fn one(cloth: &Cloth, accounts: &[&ClothAccount]) -> TakeOffLine {
    let used: f64 = accounts.iter().map(|account| account.length_used).sum();
    let mut line = TakeOffLine::new(TakeOffSection::Cloth, &cloth.name, TakeOffUnit::Length, used);
    line.left = Some(accounts.iter().map(|account| account.left).sum());
    let bought = accounts.iter().filter_map(|account| match account.purchase {
        Purchase::Buy { length, cost, mass } => Some((length, cost, mass)),
        Purchase::OnShelf => None,
    });
    let bought: Vec<_> = bought.collect();
    if bought.is_empty() {
        return line.by("length used; it is there already and costs nothing", FROM_LAY);
    }
    line.buy = Some(bought.iter().map(|(length, ..)| length).sum());
    line.cost = bought.iter().map(|(_, cost, _)| *cost).sum();
    line.mass = bought.iter().map(|(.., mass)| *mass).sum();
    let rule = match cloth.sold_by {
        Some(step) => format!("length used, rounded up to steps of {step} mm"),
        None => "length used; the job gives no step in which it is sold".to_owned(),
    };
    line.by(rule, FROM_LAY)
}

/// Before there is a lay: the area of all that is cut.
pub(super) fn by_area(job: &Job, pieces: &[Piece]) -> Vec<TakeOffLine> {
    let line = TakeOffLine::new(TakeOffSection::Cloth, "cloth of all pieces", TakeOffUnit::Area, area_of(pieces));
    let mass = one_mass(job).map(|grams| grams * area_of(pieces) * 1e-6);
    vec![TakeOffLine { mass, ..line }.by("areas of the cut outlines; what to buy, a lay says", "the pieces of the job")]
}

/// Area of all copies of pieces.
pub(super) fn area_of(pieces: &[Piece]) -> f64 {
    pieces.iter().map(|piece| piece.cut.area() * f64::from(piece.quantity)).sum()
}

/// Grams a square metre, where all cloths agree.
pub(super) fn one_mass(job: &Job) -> Option<f64> {
    let first = job.cloth.first()?.mass?;
    job.cloth.iter().all(|cloth| cloth.mass == Some(first)).then_some(first)
}

/// Area of cloth that is bought or taken off the shelf, full width, waste and rest of the last step included.
pub(super) fn area_taken(job: &Job, accounts: &[ClothAccount]) -> f64 {
    let area = |account: &ClothAccount| {
        let width = job.cloth.iter().find(|cloth| cloth.name == account.cloth).map_or(0.0, |cloth| cloth.width);
        width * account.purchase.length().unwrap_or(account.length_used)
    };
    accounts.iter().map(area).sum()
}
