//! Sections by their ordinates: a smooth curve through the rows of a table.

use std::f64::consts::PI;

use super::{Moving, SectionFault, angle_of};

/// Rows that a curve needs.
const FEWEST: usize = 4;
/// The station of the trailing edge, in per cent.
const TRAILING_EDGE: f64 = 100.0;
/// The largest number of a table: beyond it something else than per cent was written.
const LARGEST: f64 = 100.0;

/// One surface: knots by angle, with height and slope over the angle, and cubic curves between them.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Ordinates {
    knots: Vec<Knot>,
}

#[derive(Clone, Copy, Debug, PartialEq)]
struct Knot {
    angle: f64,
    height: f64,
    slope: f64,
}

/// The upper and the lower surface of a table with rows of station, upper and lower ordinate, in per cent.
pub(super) fn both_sides(rows: &[[f64; 3]]) -> Result<[Ordinates; 2], SectionFault> {
    check(rows)?;
    Ok([1, 2].map(|column| {
        let points: Vec<[f64; 2]> = rows.iter().map(|row| [angle_at(row[0]), row[column] / 100.0]).collect();
        Ordinates { knots: knots(&points) }
    }))
}

fn check(rows: &[[f64; 3]]) -> Result<(), SectionFault> {
    if rows.len() < FEWEST {
        return Err(SectionFault::TooFewRows(rows.len()));
    }
    for (index, row) in rows.iter().enumerate() {
        if let Some(value) = row.iter().find(|value| !value.is_finite() || value.abs() > LARGEST) {
            return Err(SectionFault::OutOfRange { row: index + 1, value: *value });
        }
    }
    let [station, upper, lower] = rows[0];
    if station != 0.0 {
        return Err(SectionFault::NotFromNose(station));
    }
    if upper != lower {
        return Err(SectionFault::OpenNose { upper, lower });
    }
    for (index, pair) in rows.windows(2).enumerate() {
        let [station, upper, lower] = pair[1];
        let row = index + 2;
        if station <= pair[0][0] {
            return Err(SectionFault::StationsNotInOrder { row, station });
        }
        if upper < lower {
            return Err(SectionFault::InsideOut { row, station });
        }
    }
    let last = rows[rows.len() - 1][0];
    if last != TRAILING_EDGE { Err(SectionFault::NotToTrailingEdge(last)) } else { Ok(()) }
}

fn angle_at(station: f64) -> f64 {
    if station == TRAILING_EDGE { PI } else { angle_of(station / 100.0) }
}

/// Knots whose slopes are those of the parabola through each point and its neighbours; the ends use the next two.
fn knots(points: &[[f64; 2]]) -> Vec<Knot> {
    let last = points.len() - 1;
    (0..=last)
        .map(|index| {
            let first = index.saturating_sub(1).min(last - 2);
            let [angle, height] = points[index];
            Knot { angle, height, slope: parabola_slope(&points[first..first + 3], angle) }
        })
        .collect()
}

/// The slope, at an angle, of the parabola through three points (Newton's divided differences).
fn parabola_slope(points: &[[f64; 2]], at: f64) -> f64 {
    let [[a, height_a], [b, height_b], [c, height_c]] = [points[0], points[1], points[2]];
    let first = (height_b - height_a) / (b - a);
    let second = ((height_c - height_b) / (c - b) - first) / (c - a);
    first + second * (2.0 * at - a - b)
}

impl Ordinates {
    pub fn moving(&self, angle: f64) -> Moving {
        let (sin, cos) = libm::sincos(angle / 2.0);
        let after = self.knots.partition_point(|knot| knot.angle <= angle).clamp(1, self.knots.len() - 1);
        let [from, to] = [self.knots[after - 1], self.knots[after]];
        let (height, slope) = between(from, to, angle);
        Moving { at: [sin * sin, height], speed: [sin * cos, slope] }
    }
}

/// Height and slope of the cubic curve that has the height and the slope of two knots at both (Hermite).
fn between(from: Knot, to: Knot, angle: f64) -> (f64, f64) {
    let span = to.angle - from.angle;
    let part = (angle - from.angle) / span;
    let chord = (to.height - from.height) / span;
    let excess = [from.slope - chord, to.slope - chord];
    let [near, far] = [part * (1.0 - part) * (1.0 - part), part * part * (1.0 - part)];
    let height = from.height + (to.height - from.height) * part + span * (excess[0] * near - excess[1] * far);
    let near_slope = (1.0 - part) * (1.0 - 3.0 * part);
    let far_slope = part * (2.0 - 3.0 * part);
    (height, chord + excess[0] * near_slope - excess[1] * far_slope)
}
