//! How much dope, primer, varnish or finish some coats take, and what has no figure by area.

use thiserror::Error;

use crate::job::Words;
use crate::units::inches;

/// Square millimetres in a square foot.
const SQUARE_FOOT: f64 = inches(12.0) * inches(12.0);
/// Litres in a US gallon of 231 cubic inches.
const GALLON: f64 = 231.0 * inches(1.0) * inches(1.0) * inches(1.0) / 1e6;
/// Cloth of a two-seater that takes a gallon of cement: 45 yd of 70 in, approved covering manual p. 127.
const CLOTH_OF_A_GALLON: f64 = inches(45.0 * 36.0) * inches(70.0);

/// What is brushed or sprayed on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Liquid {
    /// Nitrate or butyrate dope, clear, silver or coloured, thinned.
    Dope,
    /// Epoxy primer, catalysed and thinned.
    EpoxyPrimer,
    /// Epoxy varnish, thinned by a quarter.
    EpoxyVarnish,
    /// Two-part finish, mixed.
    TwoPartFinish,
    /// Cement, which no source gives by area.
    Cement,
}

/// An amount with its source.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Litres {
    /// Litres, ready to use.
    pub litres: f64,
    /// Where it comes from.
    pub source: &'static str,
}

/// A liquid has no figure by area.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Error)]
#[error("no source says how far {} goes; reckon it by the cloth bought", .0.word())]
pub struct NoAreaFigure(pub Liquid);

impl Words for Liquid {
    const ALL: &'static [(Self, &'static str)] = &[
        (Self::Dope, "dope"),
        (Self::EpoxyPrimer, "epoxy primer"),
        (Self::EpoxyVarnish, "epoxy varnish"),
        (Self::TwoPartFinish, "two-part finish"),
        (Self::Cement, "cement"),
    ];
}

/// Litres for some coats on an area in square millimetres.
///
/// # Errors
/// [`NoAreaFigure`] for cement.
pub fn litres(liquid: Liquid, area: f64, coats: u32) -> Result<Litres, NoAreaFigure> {
    let (square_feet, source) = match liquid {
        Liquid::Dope => (200.0, "manual pp. 98-115: 200 ft² a US gallon, a coat"),
        Liquid::EpoxyPrimer => (1000.0, "manual pp. 98-115: 1000 ft² a US gallon, a coat"),
        Liquid::EpoxyVarnish => (600.0, "manual pp. 98-115: 600 ft² a US gallon, a coat"),
        Liquid::TwoPartFinish => (300.0, "manual pp. 98-115: 300 ft² a US gallon, a coat"),
        Liquid::Cement => return Err(NoAreaFigure(liquid)),
    };
    Ok(Litres { litres: area / SQUARE_FOOT / square_feet * GALLON * f64::from(coats), source })
}

/// Litres of cement for an airframe that takes an area of cloth off the roll, in square millimetres, waste included.
pub fn cement_for_cloth(cloth_bought: f64) -> Litres {
    let source = "derived from manual p. 127: 1 US gallon for an aircraft that takes 45 yd of 70 in cloth";
    Litres { litres: cloth_bought / CLOTH_OF_A_GALLON * GALLON, source }
}
