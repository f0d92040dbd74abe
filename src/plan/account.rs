//! What a lay costs: cloth used and wasted, what to buy, what is left.

use std::collections::BTreeMap;

use crate::job::{Cloth, Job, Piece};

use super::LaidCloth;

/// Lengths that differ by less count as equal when a length is rounded up to what a shop sells.
const SAME_LENGTH: f64 = 0.01;

/// Where the length that is cut comes from.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Purchase {
    /// Cloth of a known length without a price is already there.
    OnShelf,
    /// Cloth to be bought.
    Buy {
        /// Length in millimetres, rounded up to the step in which the cloth is sold.
        length: f64,
        /// In the job's money; `None` when the cloth has no price.
        cost: Option<f64>,
        /// Grams over the full width; `None` when the cloth has no mass.
        mass: Option<f64>,
    },
}

impl Purchase {
    /// Length that is bought, in millimetres.
    pub fn length(self) -> Option<f64> {
        match self {
            Self::Buy { length, .. } => Some(length),
            Self::OnShelf => None,
        }
    }

    /// What that costs, where it has a price.
    pub fn cost(self) -> Option<f64> {
        match self {
            Self::Buy { cost, .. } => cost,
            Self::OnShelf => None,
        }
    }
}

/// The account of one cloth that is cut. Lengths in millimetres, areas in square millimetres, masses in grams.
#[derive(Clone, Debug, PartialEq)]
pub struct ClothAccount {
    /// Name of the cloth in the job.
    pub cloth: String,
    /// Which of the job's cloths of this name, from 1.
    pub number: u32,
    /// How many copies of pieces lie on it.
    pub pieces: usize,
    /// Greatest x that a piece reaches.
    pub length_used: f64,
    /// Area of the cut outlines.
    pub cut_area: f64,
    /// What is bought for it.
    pub purchase: Purchase,
    /// Mass of the pieces.
    pub mass: Option<f64>,
    /// Full-width length that remains when the used length is cut off.
    pub left: f64,
}

/// The account of one cloth of a lay.
pub fn account(cloth: &Cloth, laid: &LaidCloth, pieces: &[Piece]) -> ClothAccount {
    let areas: BTreeMap<&str, f64> = pieces.iter().map(|piece| (piece.name.as_str(), piece.cut.area())).collect();
    let cut_area = laid.pieces.iter().filter_map(|placed| areas.get(placed.piece.as_str())).sum();
    let purchase = purchase(cloth, laid.length_used);
    let whole = purchase.length().or(cloth.length).unwrap_or(laid.length_used);
    ClothAccount {
        cloth: laid.cloth.clone(),
        number: laid.number,
        pieces: laid.pieces.len(),
        length_used: laid.length_used,
        cut_area,
        purchase,
        mass: cloth.mass.map(|per_area| per_area * cut_area * 1e-6),
        left: (whole - laid.length_used).max(0.0),
    }
}

/// What to buy so that `length_used` millimetres can be cut.
pub fn purchase(cloth: &Cloth, length_used: f64) -> Purchase {
    if !cloth.is_bought() {
        return Purchase::OnShelf;
    }
    let rounded = match cloth.sold_by {
        Some(step) => libm::ceil((length_used - SAME_LENGTH) / step).max(0.0) * step,
        None => length_used,
    };
    let length = cloth.length.map_or(rounded, |all| rounded.min(all));
    Purchase::Buy {
        length,
        cost: cloth.price.map(|per_metre| per_metre * length / 1000.0),
        mass: cloth.mass.map(|per_area| per_area * length * cloth.width * 1e-6),
    }
}

/// Sums over all cloths of a lay.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Totals {
    /// Copies of pieces laid.
    pub pieces: usize,
    /// Sum of the known costs, in the job's money.
    pub cost: f64,
    /// Whether every cloth to be bought has a price.
    pub cost_complete: bool,
    /// Grams of all pieces; `None` as soon as one cloth has no mass.
    pub mass: Option<f64>,
    /// Share of all used cloth, full width, that no piece covers.
    pub waste: f64,
}

/// Sums over all cloths of a lay.
pub fn totals(job: &Job, accounts: &[ClothAccount]) -> Totals {
    let widths: BTreeMap<&str, f64> = job.cloth.iter().map(|cloth| (cloth.name.as_str(), cloth.width)).collect();
    let width = |account: &ClothAccount| widths.get(account.cloth.as_str()).copied().unwrap_or(0.0);
    let used: f64 = accounts.iter().map(|account| account.length_used * width(account)).sum();
    let cut: f64 = accounts.iter().map(|account| account.cut_area).sum();
    let costs: Vec<Option<f64>> = accounts
        .iter()
        .filter_map(|account| match account.purchase {
            Purchase::Buy { cost, .. } => Some(cost),
            Purchase::OnShelf => None,
        })
        .collect();
    Totals {
        pieces: accounts.iter().map(|account| account.pieces).sum(),
        cost: costs.iter().flatten().sum(),
        cost_complete: costs.iter().all(Option::is_some),
        mass: accounts.iter().map(|account| account.mass).sum(),
        waste: if used > 0.0 { 1.0 - cut / used } else { 0.0 },
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn roll() -> Cloth {
        Cloth {
            name: "roll".into(),
            width: 1780.0,
            selvage: [10.0, 10.0],
            length: None,
            count: 1,
            outline: None,
            flaws: Vec::new(),
            mass: Some(92.0),
            price: Some(14.0),
            sold_by: Some(500.0),
            faces_alike: false,
            note: None,
        }
    }

    #[test]
    fn the_length_bought_is_rounded_up_to_what_the_shop_sells() {
        let Purchase::Buy { length, cost, mass } = purchase(&roll(), 5230.4) else { panic!("a roll is bought") };
        assert_eq!(length, 5500.0);
        assert_eq!(cost, Some(77.0));
        // 5.5 m of 1.78 m cloth at 92 g/m2
        assert!((mass.unwrap_or_default() - 5.5 * 1.78 * 92.0).abs() < 1e-9);
    }

    #[test]
    fn a_hair_over_a_step_does_not_buy_another_step() {
        let Purchase::Buy { length, .. } = purchase(&roll(), 5000.0001) else { panic!("a roll is bought") };
        assert_eq!(length, 5000.0);
    }

    #[test]
    fn no_more_is_bought_than_the_bolt_holds() {
        let bolt = Cloth { length: Some(5300.0), ..roll() };
        let Purchase::Buy { length, .. } = purchase(&bolt, 5230.0) else { panic!("it has a price") };
        assert_eq!(length, 5300.0);
    }

    #[test]
    fn an_offcut_without_a_price_is_on_the_shelf() {
        let offcut = Cloth { length: Some(900.0), price: None, ..roll() };
        assert_eq!(purchase(&offcut, 400.0), Purchase::OnShelf);
    }
}
