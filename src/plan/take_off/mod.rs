//! The take-off: what to buy for a job, every figure with its rule and its source.
//!
//! A figure is never made larger in silence. Spares stand on lines of their own, as the job sets them, and beside what
//! planning takes stands what somebody without a plan would buy.

mod cloth;
mod comparison;
mod goods;
mod owners;
mod parts;
mod spares;

use serde::{Deserialize, Serialize};

use super::{ClothAccount, LayFile, area_unit, cut_tapes};
use crate::covering::Covering;
use crate::job::{Job, Piece, Words};
use crate::units::{Units, inches};

/// What a line of the take-off belongs to.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum TakeOffSection {
    /// Cloth off rolls and shelves.
    Cloth,
    /// Finishing tape, by kind.
    Tape,
    /// Rings, covers, grommets, cord, tapes under the cloth.
    SmallParts,
    /// Cement and coats.
    Liquids,
    /// What the job asks for beyond all that.
    Spares,
    /// Cloth and coats on each part.
    EachPart,
    /// All together.
    Total,
    /// What would be bought without a plan.
    WithoutPlan,
}

impl Words for TakeOffSection {
    const ALL: &'static [(Self, &'static str)] = &[
        (Self::Cloth, "cloth"),
        (Self::Tape, "finishing tape"),
        (Self::SmallParts, "small parts"),
        (Self::Liquids, "cement and coats"),
        (Self::Spares, "spares"),
        (Self::EachPart, "on each part"),
        (Self::Total, "in all"),
        (Self::WithoutPlan, "without a plan"),
    ];
}

/// How amounts of a line are counted.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum TakeOffUnit {
    /// Millimetres of length.
    #[serde(rename = "mm")]
    Length,
    /// Square millimetres.
    #[serde(rename = "mm2")]
    Area,
    /// One by one.
    #[serde(rename = "pieces")]
    Pieces,
    /// Litres.
    #[serde(rename = "litres")]
    Litres,
}

/// Litres in a US gallon (NIST Special Publication 811 (2008), appendix B.8).
const US_GALLON: f64 = 3.785_412;

impl TakeOffUnit {
    /// The unit that goes with the job's unit, what divides an amount for it, and how many decimals say enough.
    pub fn shown(self, units: Units) -> (&'static str, f64, usize) {
        match self {
            Self::Pieces => ("pieces", 1.0, 0),
            Self::Litres => match units {
                Units::Mm | Units::Cm | Units::M => ("litres", 1.0, 2),
                Units::In | Units::Ft => ("US gal", US_GALLON, 2),
            },
            Self::Area => {
                let (unit, scale) = area_unit(units);
                (unit, scale, 3)
            }
            // Cloth and tape are bought by the metre or by the yard; in feet a person sees both.
            Self::Length => match units {
                Units::Mm | Units::Cm | Units::M => ("m", 1000.0, 3),
                Units::In | Units::Ft => ("yd", inches(36.0), 3),
            },
        }
    }

    /// An amount with its unit, as one says it in a shop.
    pub fn amount(self, amount: f64, units: Units) -> String {
        let (unit, scale, decimals) = self.shown(units);
        let decimals = decimals.min(2);
        format!("{:.decimals$} {unit}", amount / scale + 0.0)
    }
}

/// A line of the take-off. Lengths in millimetres, areas in square millimetres, grams, the job's money.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct TakeOffLine {
    /// What it belongs to.
    pub section: TakeOffSection,
    /// What it is.
    pub what: String,
    /// How amounts are counted.
    pub unit: TakeOffUnit,
    /// What the work takes.
    pub needed: f64,
    /// What is bought, in the steps in which it is sold; `None` where no step is known or nothing is bought.
    pub buy: Option<f64>,
    /// What is left of that, or of what is on the shelf.
    pub left: Option<f64>,
    /// Rolls to buy, for tape that is cut from rolls of the job.
    pub rolls: Option<u32>,
    /// What it costs, in the job's money, where the job has a price.
    pub cost: Option<f64>,
    /// Grams, where the job has a mass.
    pub mass: Option<f64>,
    /// How the figure comes about.
    pub rule: String,
    /// Where the rule comes from.
    pub source: String,
}

/// A lay with its accounts, of which a take-off tells what to buy.
#[derive(Clone, Copy, Debug)]
pub struct Laid<'a> {
    /// The lay.
    pub file: &'a LayFile,
    /// One account for each cloth of the lay, in the same order.
    pub accounts: &'a [ClothAccount],
}

/// What to buy for a job, section by section. Without a lay there are areas in place of lengths of cloth.
pub fn take_off(job: &Job, covering: &Covering, pieces: &[Piece], laid: Option<Laid<'_>>) -> Vec<TakeOffLine> {
    let mut lines = laid.map_or_else(|| cloth::by_area(job, pieces), |laid| cloth::laid(job, laid.accounts));
    let before = (laid.is_none() && job.has_tape()).then(|| cut_tapes(job, covering));
    let tape = laid.and_then(|laid| laid.file.tape.as_ref()).or(before.as_ref());
    lines.extend(goods::tapes(job, covering, tape));
    lines.extend(goods::used_up(covering, &job.prices, laid.map(|laid| cloth::area_taken(job, laid.accounts))));
    lines.extend(spares::spares(job, pieces, &lines));
    let parts = parts::parts(job, covering, pieces, laid);
    lines.extend(parts);
    lines.extend(parts::totals(&lines));
    lines.extend(comparison::without_plan(job, pieces, laid));
    lines
}

impl TakeOffLine {
    /// A line that says only how much is needed.
    fn new(section: TakeOffSection, what: impl Into<String>, unit: TakeOffUnit, needed: f64) -> Self {
        Self {
            section,
            what: what.into(),
            unit,
            needed,
            buy: None,
            left: None,
            rolls: None,
            cost: None,
            mass: None,
            rule: String::new(),
            source: String::new(),
        }
    }

    /// Whether it is something to buy, and no share or sum of such.
    pub fn is_bought(&self) -> bool {
        match self.section {
            TakeOffSection::Cloth => self.buy.is_some(),
            TakeOffSection::Tape => self.buy.is_none_or(|length| length > 0.0),
            TakeOffSection::SmallParts | TakeOffSection::Liquids | TakeOffSection::Spares => self.needed > 0.0,
            TakeOffSection::EachPart | TakeOffSection::Total | TakeOffSection::WithoutPlan => false,
        }
    }

    /// What is needed, in the units that prices are for: one, a metre, a litre.
    fn in_priced_units(&self) -> f64 {
        match self.unit {
            TakeOffUnit::Pieces | TakeOffUnit::Litres => self.needed,
            TakeOffUnit::Length => self.needed / 1000.0,
            TakeOffUnit::Area => self.needed * 1e-6,
        }
    }

    /// The same line with how its figure comes about, and where that comes from.
    fn by(self, rule: impl Into<String>, source: impl Into<String>) -> Self {
        Self { rule: rule.into(), source: source.into(), ..self }
    }
}
