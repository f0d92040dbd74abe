//! Figures and rules in the words that tables, drawings and messages share.

use crate::job::{Edge, Grain, GrainDirection};
use crate::units::Units;

/// What stands on everything that this program gives out.
pub const PLANNING_AID: &str = "Planning aid, not approved data: the maker's manual, national rules and a licensed \
                                inspector decide.";

/// Square millimetres in a square metre.
const SQUARE_METRE: f64 = 1e6;
/// Square millimetres in a square foot (NIST Special Publication 811 (2008), appendix B.8: 1 ft = 304.8 mm).
const SQUARE_FOOT: f64 = 304.8 * 304.8;
/// Grams in a pound (NIST Special Publication 811 (2008), appendix B.8).
const POUND: f64 = 453.592_37;

/// The grain of a piece: `along the roll`, `on the bias ±5°`, `along the roll, one way`.
pub fn grain_words(grain: Grain) -> String {
    let mut words = match grain.direction {
        GrainDirection::Along => "along the roll",
        GrainDirection::Across => "across the roll",
        GrainDirection::Either => "along or across the roll",
        GrainDirection::Bias => "on the bias",
        GrainDirection::Free => return "any".to_owned(),
    }
    .to_owned();
    if grain.tolerance > 0.0 {
        words.push_str(&format!(" ±{}°", grain.tolerance));
    }
    if grain.one_way {
        words.push_str(", one way");
    }
    words
}

/// The edge of a piece: `plain`, `pinked 5 × 3 mm` (pitch × depth).
pub fn edge_words(edge: Edge, units: Units) -> String {
    match edge {
        Edge::Plain => "plain".to_owned(),
        Edge::Pinked(teeth) => format!("pinked {}", size([teeth.pitch, teeth.depth], units)),
    }
}

/// Two lengths with one unit: `165 × 165 mm`; inches to the sixteenth, as a tape measure has them.
pub fn size(mm: [f64; 2], units: Units) -> String {
    let mm = match units {
        Units::In | Units::Ft => mm.map(|length| on_a_mark(length, units)),
        Units::Mm | Units::Cm | Units::M => mm,
    };
    match units {
        Units::Ft => format!("{} × {}", units.show(mm[0]), units.show(mm[1])),
        _ => format!("{} × {}", units.show_number(mm[0]), units.show(mm[1])),
    }
}

/// A length as one reads it off a tape measure: to the millimetre, or to the sixteenth of an inch.
pub fn tape_measure(mm: f64, units: Units) -> String {
    units.show(on_a_mark(mm, units))
}

/// The nearest mark of a tape measure.
fn on_a_mark(mm: f64, units: Units) -> f64 {
    const SIXTEENTH: f64 = 25.4 / 16.0;
    let mark = match units {
        Units::Mm | Units::Cm | Units::M => 1.0,
        Units::In | Units::Ft => SIXTEENTH,
    };
    (mm / mark).round() * mark
}

/// A length of tape in the two units that it is sold in: metres, and yards (NIST Special Publication 811 (2008), appendix
/// B.8: 1 yd = 0.9144 m).
pub fn metres_and_yards(mm: f64) -> [String; 2] {
    [1000.0, 914.4].map(|unit| format!("{:.1}", mm / unit + 0.0))
}

/// The unit of areas that goes with a unit of lengths, and the square millimetres in it.
pub fn area_unit(units: Units) -> (&'static str, f64) {
    match units {
        Units::Mm | Units::Cm | Units::M => ("m²", SQUARE_METRE),
        Units::In | Units::Ft => ("sq ft", SQUARE_FOOT),
    }
}

/// An area in the unit that goes with the job's unit: `0.021 m²`, `12.3 sq ft`.
pub fn area(square_mm: f64, units: Units) -> String {
    let (unit, scale) = area_unit(units);
    format!("{:.4} {unit}", square_mm / scale)
}

/// A mass in the unit that goes with the job's unit: `850 g`, `1.24 kg`, `2.73 lb`.
pub fn mass(grams: f64, units: Units) -> String {
    match units {
        Units::In | Units::Ft => format!("{:.2} lb", grams / POUND),
        _ if grams < 999.5 => format!("{grams:.0} g"),
        _ => format!("{:.2} kg", grams / 1000.0),
    }
}

/// The moment of a mass about a line, from gram-millimetres: `1.24 kg·m`, `2.73 lb·in`.
pub fn moment(gram_mm: f64, units: Units) -> String {
    match units {
        Units::In | Units::Ft => format!("{:.3} lb·in", gram_mm / POUND / 25.4),
        _ => format!("{:.4} kg·m", gram_mm * 1e-6),
    }
}

/// A share as `18.7 %`.
pub fn percent(share: f64) -> String {
    format!("{:.1} %", share * 100.0 + 0.0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::job::Pinking;

    #[test]
    fn grain_is_told_in_the_words_of_the_trade() {
        let grain = |direction, tolerance, one_way| grain_words(Grain { direction, tolerance, one_way });
        assert_eq!(grain(GrainDirection::Along, 0.0, false), "along the roll");
        assert_eq!(grain(GrainDirection::Bias, 2.5, true), "on the bias ±2.5°, one way");
        assert_eq!(grain(GrainDirection::Free, 3.0, true), "any");
    }

    #[test]
    fn figures_follow_the_unit_of_the_job() {
        // NIST Special Publication 811 (2008), appendix B.8: 1 ft = 304.8 mm, 1 lb = 453.59237 g.
        assert_eq!(area(92_903.04, Units::In), "1.0000 sq ft");
        assert_eq!(area(1e6, Units::Cm), "1.0000 m²");
        assert_eq!(mass(453.592_37, Units::Ft), "1.00 lb");
        assert_eq!(mass(850.4, Units::Mm), "850 g");
        assert_eq!(mass(999.7, Units::Mm), "1.00 kg");
        // 1 lb at 1 in, by the same factors.
        assert_eq!(moment(453.592_37 * 25.4, Units::In), "1.000 lb·in");
        assert_eq!(moment(250.0 * 160.0, Units::Mm), "0.0400 kg·m");
        assert_eq!(edge_words(Edge::Pinked(Pinking { pitch: 5.0, depth: 3.0 }), Units::Mm), "pinked 5 × 3 mm");
    }
}
