//! Figure 2-12 of AC 43.13-1B as numbers: how far apart laces, screws, rivets and clips may be.

use thiserror::Error;

use crate::units::{Speed, inches};

/// Whether a rib lies in the slipstream: within the propeller's diameter, or the next rib on each side (AC 43.13-1B
/// 2-9c; approved covering manual p. 27).
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Airflow {
    /// In it.
    Slipstream,
    /// Outside it.
    Free,
}

/// The chart is not drawn for this speed.
#[derive(Clone, Copy, Debug, PartialEq, Error)]
#[error("figure 2-12 of AC 43.13-1B ends at {end} here and has no spacing for a Vne of {vne}")]
pub struct BeyondChart {
    /// The speed asked for.
    pub vne: Speed,
    /// The last speed of the curve.
    pub end: Speed,
}

/// Vne in mph, spacing in inches: the curve as printed in the approved covering manual p. 27, read to ±0.03 in, ±1 mph.
const SLIPSTREAM: &[(f64, f64)] = &[
    (160.0, 2.5),
    (165.0, 2.5),
    (170.0, 2.5),
    (175.0, 2.39),
    (180.0, 2.27),
    (185.0, 2.15),
    (190.0, 2.04),
    (195.0, 1.93),
    (200.0, 1.83),
    (205.0, 1.71),
    (210.0, 1.59),
    (215.0, 1.48),
    (220.0, 1.37),
    (225.0, 1.28),
    (230.0, 1.17),
    (235.0, 1.06),
    (240.0, 1.0),
];
const FREE: &[(f64, f64)] = &[
    (160.0, 3.5),
    (165.0, 3.5),
    (170.0, 3.39),
    (175.0, 3.22),
    (180.0, 3.05),
    (185.0, 2.9),
    (190.0, 2.74),
    (195.0, 2.59),
    (200.0, 2.44),
    (205.0, 2.28),
    (210.0, 2.13),
    (215.0, 1.97),
    (220.0, 1.82),
    (225.0, 1.68),
    (230.0, 1.54),
    (235.0, 1.4),
    (240.0, 1.26),
    (245.0, 1.1),
    (248.0, 1.0),
];

/// The greatest spacing of the chart in millimetres, not rounded: flat up to 160 mph, straight between its points.
///
/// # Errors
/// [`BeyondChart`] above the last speed of the curve.
pub fn figure_2_12(vne: Speed, airflow: Airflow) -> Result<f64, BeyondChart> {
    let curve = match airflow {
        Airflow::Slipstream => SLIPSTREAM,
        Airflow::Free => FREE,
    };
    let mph = vne.as_mph();
    let mut before = curve[0];
    for point in curve {
        let end = Speed::mph(point.0);
        if vne.equals(end) || vne.below(end) {
            let share =
                if point.0 > before.0 { ((mph - before.0) / (point.0 - before.0)).clamp(0.0, 1.0) } else { 0.0 };
            return Ok(inches(before.1 + (point.1 - before.1) * share));
        }
        before = *point;
    }
    Err(BeyondChart { vne, end: Speed::mph(before.0) })
}
