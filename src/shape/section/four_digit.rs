//! The four-digit family of NACA Report 460: a thickness laid off on both sides of a mean line of two parabolas.

use super::{Moving, SectionFault, Side};

/// The thickness form of 20 % (Report 460, page 4): half thickness over the chord, by powers 1, 2, 4, 6 and 8 of the
/// square root of the station.
const HALF_THICKNESS: [(i32, f64); 5] = [(1, 0.29690), (2, -0.12600), (4, -0.35160), (6, 0.28430), (8, -0.10150)];
/// The thickness that these figures are for.
const OF_THICKNESS: f64 = 0.20;

/// Camber, its place and the thickness, in fractions of the chord.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct FourDigit {
    camber: f64,
    place: f64,
    thickness: f64,
}

/// The mean line at a station: its height, slope and change of slope.
struct MeanLine {
    height: f64,
    slope: f64,
    bend: f64,
}

impl FourDigit {
    pub fn new(digits: &str) -> Result<Self, SectionFault> {
        let [camber, place, tens, ones] = digits
            .chars()
            .map(|digit| digit.to_digit(10).map(f64::from))
            .collect::<Option<Vec<f64>>>()
            .and_then(|all| <[f64; 4]>::try_from(all).ok())
            .ok_or_else(|| SectionFault::NotFourDigits(digits.to_owned()))?;
        if tens + ones == 0.0 {
            return Err(SectionFault::NoThickness(digits.to_owned()));
        }
        if (camber == 0.0) != (place == 0.0) {
            return Err(SectionFault::CamberWithoutPlace(digits.to_owned()));
        }
        Ok(Self { camber: camber / 100.0, place: place / 10.0, thickness: (10.0 * tens + ones) / 100.0 })
    }

    pub fn moving(&self, side: Side, angle: f64) -> Moving {
        let (sin, cos) = libm::sincos(angle / 2.0);
        let [station, half] = [sin * sin, self.half_thickness(sin)];
        let [station_speed, half_speed] = [sin * cos, self.half_thickness_slope(sin) * cos / 2.0];
        let MeanLine { height, slope, bend } = self.mean_line(station);
        // The ordinate stands square to the mean line, whose direction is (along, across).
        let along = 1.0 / 1f64.hypot(slope);
        let across = slope * along;
        let turning = bend * along * along * station_speed;
        let sign = match side {
            Side::Top => 1.0,
            Side::Bottom => -1.0,
        };
        Moving {
            at: [station - sign * half * across, height + sign * half * along],
            speed: [
                station_speed - sign * (half_speed * across + half * along * turning),
                slope * station_speed + sign * (half_speed * along - half * across * turning),
            ],
        }
    }

    fn half_thickness(&self, root: f64) -> f64 {
        let form: f64 = HALF_THICKNESS.iter().map(|(power, factor)| factor * root.powi(*power)).sum();
        form * self.thickness / OF_THICKNESS
    }

    /// The change of the half thickness with the square root of the station.
    fn half_thickness_slope(&self, root: f64) -> f64 {
        let form: f64 =
            HALF_THICKNESS.iter().map(|(power, factor)| factor * f64::from(*power) * root.powi(*power - 1)).sum();
        form * self.thickness / OF_THICKNESS
    }

    fn mean_line(&self, station: f64) -> MeanLine {
        if self.camber == 0.0 {
            return MeanLine { height: 0.0, slope: 0.0, bend: 0.0 };
        }
        let place = self.place;
        // Both parabolas have their top at the place of the camber.
        let length = if station < place { place } else { 1.0 - place };
        let factor = self.camber / (length * length);
        let beyond = station - place;
        MeanLine { height: self.camber - factor * beyond * beyond, slope: -2.0 * factor * beyond, bend: -2.0 * factor }
    }
}
