//! Mass and money of each part, and in all.

use std::collections::BTreeMap;

use super::cloth::one_mass;
use super::owners::{Owners, TAPE, owners};
use super::{Laid, TakeOffLine, TakeOffSection, TakeOffUnit};
use crate::covering::Covering;
use crate::job::{Job, Piece};

/// Area, mass and money of a share.
#[derive(Clone, Copy, Debug, Default)]
struct Share {
    area: f64,
    mass: Option<f64>,
    cost: Option<f64>,
}

/// Cloth on each part, in the order of the job, then its coats.
pub(super) fn parts(job: &Job, covering: &Covering, pieces: &[Piece], laid: Option<Laid<'_>>) -> Vec<TakeOffLine> {
    let owners = owners(job, covering, pieces);
    let by_piece = match laid {
        Some(laid) => shares_laid(job, pieces, laid),
        None => shares_by_area(job, pieces),
    };
    let mut names: Vec<&str> = covering.parts.iter().map(|part| part.name.as_str()).collect();
    for (owner, _) in owners.values().flatten() {
        if !names.contains(&owner.as_str()) {
            names.push(owner);
        }
    }
    let mut lines: Vec<TakeOffLine> = names.iter().filter_map(|name| cloth_on(name, &owners, &by_piece)).collect();
    lines.extend(coats(job, covering));
    lines
}

fn cloth_on(name: &str, owners: &Owners, by_piece: &BTreeMap<&str, Share>) -> Option<TakeOffLine> {
    let mut sum = Share { area: 0.0, mass: Some(0.0), cost: None };
    for (piece, shares) in owners {
        let all: u32 = shares.iter().map(|(_, copies)| copies).sum();
        let Some((_, copies)) = shares.iter().find(|(owner, _)| owner == name) else { continue };
        let Some(share) = by_piece.get(piece.as_str()) else { continue };
        let part = f64::from(*copies) / f64::from(all.max(1));
        sum.area += share.area * part;
        sum.mass = sum.mass.zip(share.mass).map(|(sum, mass)| sum + mass * part);
        sum.cost = share.cost.map(|cost| sum.cost.unwrap_or(0.0) + cost * part).or(sum.cost);
    }
    (sum.area > 0.0).then(|| {
        let line = TakeOffLine::new(TakeOffSection::EachPart, format!("cloth: {name}"), TakeOffUnit::Area, sum.area);
        let rule = match sum.cost {
            Some(_) => "areas as cut; money of each cloth shared by area",
            None => "areas as cut",
        };
        TakeOffLine { mass: sum.mass, cost: sum.cost, ..line }.by(rule, "the pieces of the job")
    })
}

/// What the copies of each piece take of the cloths that they lie on, waste and rests shared by area.
fn shares_laid<'p>(job: &Job, pieces: &'p [Piece], laid: Laid<'_>) -> BTreeMap<&'p str, Share> {
    let mut shares: BTreeMap<&str, Share> = BTreeMap::new();
    for (cloth, account) in laid.file.cloths.iter().zip(laid.accounts) {
        let per_area = job.cloth.iter().find(|known| known.name == cloth.cloth).and_then(|cloth| cloth.mass);
        for placed in &cloth.pieces {
            let Some(piece) = pieces.iter().find(|piece| piece.name == placed.piece) else { continue };
            let area = piece.cut.area();
            let share = shares.entry(&piece.name).or_insert(Share { mass: Some(0.0), ..Share::default() });
            share.area += area;
            share.mass = share.mass.zip(per_area).map(|(sum, grams)| sum + grams * area * 1e-6);
            if let Some(cost) = account.purchase.cost() {
                share.cost = Some(share.cost.unwrap_or(0.0) + cost * area / account.cut_area);
            }
        }
    }
    shares
}

fn shares_by_area<'p>(job: &Job, pieces: &'p [Piece]) -> BTreeMap<&'p str, Share> {
    let grams = one_mass(job);
    let share = |piece: &'p Piece| {
        let area = piece.cut.area() * f64::from(piece.quantity);
        (piece.name.as_str(), Share { area, mass: grams.map(|grams| grams * area * 1e-6), cost: None })
    };
    pieces.iter().map(share).collect()
}

/// Mass of the coats, where the job says what they weigh.
fn coats(job: &Job, covering: &Covering) -> Vec<TakeOffLine> {
    let Some(grams) = job.rules.as_ref().and_then(|rules| rules.coats) else { return Vec::new() };
    let line = |part: &crate::covering::CoveredPart| {
        let panels = part.panels.iter().map(|panel| panel.trimmed.area() * f64::from(panel.plan.quantity));
        let area: f64 = panels.sum();
        let line = TakeOffLine::new(TakeOffSection::EachPart, format!("coats: {}", part.name), TakeOffUnit::Area, area);
        TakeOffLine { mass: Some(grams * area * 1e-6), ..line }
            .by(format!("{grams} g/m² on panels as trimmed; tapes and patches not counted"), "your job, \"coats\"")
    };
    covering.parts.iter().map(line).collect()
}

/// Mass on the aircraft and money in all.
pub(super) fn totals(lines: &[TakeOffLine]) -> Vec<TakeOffLine> {
    let of = |section: TakeOffSection| lines.iter().filter(move |line| line.section == section);
    let strips = format!("cloth: {TAPE}");
    let on_parts = || of(TakeOffSection::EachPart).filter(|line| line.what != strips);
    let area: f64 = on_parts().filter(|line| line.what.starts_with("cloth: ")).map(|line| line.needed).sum();
    let mass: Option<f64> = on_parts().map(|line| line.mass).sum();
    let mass_line = TakeOffLine::new(TakeOffSection::Total, "on the aircraft", TakeOffUnit::Area, area);
    let mass_line = TakeOffLine { mass, ..mass_line }
        .by("all parts, handling included; without tapes, cord and cement", "the lines above");
    let cost = |section| -> Option<f64> {
        let costs: Vec<f64> = of(section).filter_map(|line| line.cost).collect();
        (!costs.is_empty()).then(|| costs.iter().sum())
    };
    let sections = [
        (TakeOffSection::Cloth, "cloth"),
        (TakeOffSection::Tape, "tape"),
        (TakeOffSection::SmallParts, "small parts"),
        (TakeOffSection::Liquids, "cement and one coat of dope"),
        (TakeOffSection::Spares, "spares"),
    ];
    let costs: Vec<(&str, f64)> =
        sections.iter().filter_map(|(section, words)| Some((*words, cost(*section)?))).collect();
    let bought: f64 = of(TakeOffSection::Cloth).filter_map(|line| line.buy).sum();
    let mut all = vec![mass_line];
    if !costs.is_empty() {
        let shares: Vec<String> = costs.iter().map(|(words, cost)| format!("{cost:.2} for {words}")).collect();
        let unpriced = lines.iter().filter(|line| line.is_bought() && line.cost.is_none()).count();
        let without = match unpriced {
            0 => String::new(),
            1 => "; one line has no price".to_owned(),
            many => format!("; {many} lines have no price"),
        };
        let money = TakeOffLine::new(TakeOffSection::Total, "money, and length of cloth", TakeOffUnit::Length, bought);
        let money = TakeOffLine { cost: Some(costs.iter().map(|(_, cost)| cost).sum()), ..money };
        all.push(money.by(format!("{}{without}", shares.join(", ")), "your job, \"price\" and \"prices\""));
    }
    all
}
