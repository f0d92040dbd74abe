//! The cloths that can be put on the table: those of the job, lengths that were bought, offcuts that turned up.

use super::{CutCopy, FoundCloth, Standing};
use crate::job::{Cloth, Job};
use crate::shape::Curve;

/// One cloth as it can be put on the table.
#[derive(Clone, Debug, PartialEq)]
pub struct Stock<'a> {
    /// Its name: that of the job's cloth, from the second one on with a number.
    pub name: String,
    /// The job's cloth that it is of.
    pub of: &'a Cloth,
    /// Length; `None` for as much as is needed.
    pub length: Option<f64>,
    /// Full width.
    pub width: f64,
    /// Its corners, where the log has them.
    pub outline: Option<&'a [[f64; 2]]>,
    /// Whether it has not been bought yet.
    pub to_buy: bool,
    /// Whether all of it is gone.
    pub gone: bool,
    /// From its end to here nothing is left.
    pub gone_up_to: f64,
    /// What was cut from it.
    pub cuts: Vec<&'a CutCopy>,
}

/// What a lay's cloth is called in the log.
pub fn stock_name(cloth: &str, number: u32) -> String {
    if number <= 1 { cloth.to_owned() } else { format!("{cloth} no. {number}") }
}

/// All cloths, gone or not: those of the job in its order, each with the lengths bought of it, then the offcuts found.
/// An offcut of a cloth that the job no longer has is left out.
pub fn stock<'a>(job: &'a Job, standing: &'a Standing) -> Vec<Stock<'a>> {
    let mut stock: Vec<Stock> = Vec::new();
    for cloth in &job.cloth {
        let bought = standing.bought.get(&cloth.name).map_or(&[][..], Vec::as_slice);
        stock.extend(bought.iter().map(|(name, length)| {
            let length = Some(*length);
            Stock { length, to_buy: false, ..Stock::of_job(name.clone(), cloth) }
        }));
        if bought.is_empty() || !cloth.is_bought() {
            let all = (1..=cloth.count).map(|number| stock_name(&cloth.name, number));
            let new: Vec<_> = all.filter(|name| !stock.iter().any(|there| there.name == *name)).collect();
            stock.extend(new.into_iter().map(|name| Stock::of_job(name, cloth)));
        }
    }
    let known = |found: &'a FoundCloth| {
        let cloth = job.cloth.iter().find(|cloth| cloth.name == found.of)?;
        Some(Stock::found(found, cloth))
    };
    stock.extend(standing.found.iter().filter_map(known));
    for cloth in &mut stock {
        cloth.gone = standing.gone.contains(&cloth.name);
        cloth.gone_up_to = standing.gone_up_to.get(&cloth.name).copied().unwrap_or(0.0);
        cloth.cuts = standing.cuts.iter().filter(|cut| cut.cloth.as_ref() == Some(&cloth.name)).collect();
    }
    stock
}

impl<'a> Stock<'a> {
    pub(super) fn of_job(name: String, cloth: &'a Cloth) -> Self {
        Self {
            name,
            of: cloth,
            length: cloth.length,
            width: cloth.width,
            outline: None,
            to_buy: cloth.is_bought(),
            gone: false,
            gone_up_to: 0.0,
            cuts: Vec::new(),
        }
    }

    fn found(found: &'a FoundCloth, cloth: &'a Cloth) -> Self {
        let reach = |axis: usize| found.outline.iter().map(|corner| corner[axis]).fold(0.0, f64::max);
        Self {
            length: Some(reach(0)),
            width: reach(1),
            outline: Some(&found.outline),
            to_buy: false,
            ..Self::of_job(found.name.clone(), cloth)
        }
    }

    /// The outline that the log has, as a curve.
    pub fn curve(&self) -> Option<Curve> {
        self.outline.map(|corners| Curve::polygon(corners, &[]))
    }

    /// The farthest that anything was cut from it, or thrown away.
    pub fn used_up_to(&self) -> f64 {
        let cuts = self.cuts.iter().filter_map(|cut| cut.laid.as_ref()).map(|laid| laid.span(0)[1]);
        cuts.fold(self.gone_up_to, f64::max)
    }

    /// Pieces that were cut from it nobody knows where.
    pub fn cut_anywhere(&self) -> usize {
        self.cuts.iter().filter(|cut| cut.laid.is_none()).count()
    }
}
