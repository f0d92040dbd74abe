//! Speeds and wing loadings: what decides laps, tapes and the class of the cloth.
//!
//! Factors: NIST Special Publication 811 (2008), appendix B.8 (mile 1.609344 km and nautical mile 1.852 km, both exact;
//! pound 0.45359237 kg and foot 0.3048 m, both exact).

use super::{LengthFault, trimmed};

/// Kilometres in a statute mile.
const MILE: f64 = 1.609_344;
/// Kilometres in a nautical mile.
const NAUTICAL_MILE: f64 = 1.852;
/// Kilograms a square metre in a pound a square foot.
const POUND_A_SQUARE_FOOT: f64 = 0.453_592_37 / (0.3048 * 0.3048);
/// Quantities that differ by less than this share are the same: they were written in different units.
const SAME: f64 = 1e-9;

/// A speed.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct Speed {
    kmh: f64,
}

/// A mass over the area of the wing.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct WingLoading {
    kg_m2: f64,
}

impl Speed {
    /// A speed in statute miles an hour, the unit of AC 43.13-1B.
    pub const fn mph(number: f64) -> Self {
        Self { kmh: number * MILE }
    }

    /// In statute miles an hour.
    pub fn as_mph(self) -> f64 {
        self.kmh / MILE
    }

    /// Whether the two are the same but for rounding.
    pub fn equals(self, other: Self) -> bool {
        (self.kmh - other.kmh).abs() <= SAME * other.kmh
    }

    /// Whether this is less, and not merely by rounding.
    pub fn below(self, other: Self) -> bool {
        self.kmh < other.kmh && !self.equals(other)
    }

    /// Reads a speed with its unit: `120 mph`, `104 kn`, `193 km/h`.
    ///
    /// ```
    /// use clothwright::units::Speed;
    /// assert_eq!(Speed::parse("120 mph")?.as_mph(), 120.0);
    /// assert!(Speed::parse("104 kn")?.below(Speed::mph(120.0)));
    /// assert!(Speed::parse("120").is_err());
    /// # Ok::<(), clothwright::units::LengthFault>(())
    /// ```
    ///
    /// # Errors
    /// A fault with what was seen and a speed that is right.
    pub fn parse(text: &str) -> Result<Self, LengthFault> {
        let units: [(&[&str], f64); 3] =
            [(&["mph"], MILE), (&["kn", "kt", "kts", "knots"], NAUTICAL_MILE), (&["km/h", "kmh", "kph"], 1.0)];
        quantity(text, "a speed", "mph, kn or km/h, for example \"120 mph\"", &units).map(|kmh| Self { kmh })
    }
}

impl std::fmt::Display for Speed {
    fn fmt(&self, out: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(out, "{} mph ({} km/h)", trimmed(self.as_mph(), 1), trimmed(self.kmh, 0))
    }
}

impl WingLoading {
    /// A wing loading in pounds a square foot, the unit of AC 43.13-1B.
    pub const fn lb_ft2(number: f64) -> Self {
        Self { kg_m2: number * POUND_A_SQUARE_FOOT }
    }

    /// Whether this is less, and not merely by rounding.
    pub fn below(self, other: Self) -> bool {
        self.kg_m2 < other.kg_m2 * (1.0 - SAME)
    }

    /// Reads a wing loading with its unit: `8 lb/ft2`, `39 kg/m2`.
    ///
    /// # Errors
    /// A fault with what was seen and a wing loading that is right.
    pub fn parse(text: &str) -> Result<Self, LengthFault> {
        let units: [(&[&str], f64); 2] =
            [(&["lb/ft2", "lb/ft²", "lb/sq ft", "psf"], POUND_A_SQUARE_FOOT), (&["kg/m2", "kg/m²"], 1.0)];
        quantity(text, "a wing loading", "lb/ft2 or kg/m2, for example \"8 lb/ft2\"", &units)
            .map(|kg_m2| Self { kg_m2 })
    }
}

impl std::fmt::Display for WingLoading {
    fn fmt(&self, out: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let pounds = trimmed(self.kg_m2 / POUND_A_SQUARE_FOOT, 2);
        write!(out, "{pounds} lb/ft² ({} kg/m²)", trimmed(self.kg_m2, 1))
    }
}

/// A number greater than zero and one of some units.
fn quantity(text: &str, what: &str, units_hint: &str, units: &[(&[&str], f64)]) -> Result<f64, LengthFault> {
    let fault = |message: String| LengthFault { message, hint: format!("write a number and a unit: {units_hint}") };
    let whole = text.trim();
    let split = whole.find(|letter: char| !letter.is_ascii_digit() && letter != '.').unwrap_or(whole.len());
    let (digits, unit) = whole.split_at(split);
    let unit = unit.trim();
    if unit.starts_with(',') {
        return Err(fault(format!("{text:?} has a comma; decimals are written with a point")));
    }
    let number: f64 = match digits.parse() {
        Ok(number) if number > 0.0 && f64::is_finite(number) => number,
        _ => return Err(fault(format!("{text:?} is not {what} greater than 0"))),
    };
    if unit.is_empty() {
        return Err(fault(format!("{text:?} has no unit")));
    }
    let known = units.iter().find(|(words, _)| words.iter().any(|word| word.eq_ignore_ascii_case(unit)));
    match known {
        Some((_, factor)) => Ok(number * factor),
        None => Err(fault(format!("{unit:?} in {text:?} is not a unit of {what}"))),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn units_agree_to_published_factors() -> Result<(), LengthFault> {
        // NIST SP 811 (2008), appendix B.8: 1 mi/h = 1.609344 km/h, 1 kn = 1.852 km/h, so 104 kn = 119.68106 mi/h; 1 lb/ft2 = 4.882428 kg/m2.
        assert!(Speed::parse("241.4016 km/h")?.equals(Speed::mph(150.0)));
        assert!((Speed::parse("104 kn")?.as_mph() - 119.681_06).abs() < 1e-4);
        let loading = WingLoading::parse("1 lb/ft2")?.kg_m2;
        assert!((loading - 4.882_428).abs() < 1e-6);
        assert!(!WingLoading::parse("9 lb/ft²")?.below(WingLoading::lb_ft2(9.0)));
        Ok(())
    }

    #[test]
    fn what_is_no_quantity_is_refused_in_words() {
        for (text, words) in [
            ("120", "no unit"),
            ("12,5 mph", "comma"),
            ("0 mph", "greater than 0"),
            ("", "greater"),
            ("5 m/s", "not a unit"),
            ("1.2.3 mph", "not a speed"),
        ] {
            let fault = Speed::parse(text).unwrap_err();
            assert!(fault.message.contains(words), "{text}: {fault}");
        }
    }
}
