//! The promise: a section has the ordinates that its publisher printed, and the cloth along it is as long as it is.

use std::f64::consts::PI;

use clothwright::shape::{Section, SectionFault, Side};
use proptest::prelude::*;

/// NACA Report 460 (1933), and the tables of NACA Report 824 (1945), which repeat it: station, ordinate, per cent of the
/// chord. From memory.
const NACA_0012: [[f64; 2]; 16] = [
    [1.25, 1.894],
    [2.5, 2.615],
    [5.0, 3.555],
    [7.5, 4.200],
    [10.0, 4.683],
    [15.0, 5.345],
    [20.0, 5.737],
    [25.0, 5.941],
    [30.0, 6.002],
    [40.0, 5.803],
    [50.0, 5.294],
    [60.0, 4.563],
    [70.0, 3.664],
    [80.0, 2.623],
    [90.0, 1.448],
    [95.0, 0.807],
];

/// The same sources, from memory: station, upper ordinate, lower ordinate.
const NACA_2412: [[f64; 3]; 18] = [
    [0.0, 0.0, 0.0],
    [1.25, 2.15, -1.65],
    [2.5, 2.99, -2.27],
    [5.0, 4.13, -3.01],
    [7.5, 4.96, -3.46],
    [10.0, 5.63, -3.75],
    [15.0, 6.61, -4.10],
    [20.0, 7.26, -4.23],
    [25.0, 7.67, -4.22],
    [30.0, 7.88, -4.12],
    [40.0, 7.80, -3.80],
    [50.0, 7.24, -3.34],
    [60.0, 6.36, -2.76],
    [70.0, 5.18, -2.14],
    [80.0, 3.75, -1.50],
    [90.0, 2.08, -0.82],
    [95.0, 1.14, -0.48],
    [100.0, 0.13, -0.13],
];

/// The same sources, from memory.
const NACA_4412: [[f64; 3]; 18] = [
    [0.0, 0.0, 0.0],
    [1.25, 2.44, -1.43],
    [2.5, 3.39, -1.95],
    [5.0, 4.73, -2.49],
    [7.5, 5.76, -2.74],
    [10.0, 6.59, -2.86],
    [15.0, 7.89, -2.88],
    [20.0, 8.80, -2.74],
    [25.0, 9.41, -2.50],
    [30.0, 9.76, -2.26],
    [40.0, 9.80, -1.80],
    [50.0, 9.19, -1.40],
    [60.0, 8.14, -1.00],
    [70.0, 6.69, -0.65],
    [80.0, 4.89, -0.39],
    [90.0, 2.71, -0.22],
    [95.0, 1.47, -0.16],
    [100.0, 0.13, -0.13],
];

const SIDES: [Side; 2] = [Side::Top, Side::Bottom];

fn naca(digits: &str) -> Section {
    Section::four_digit(digits).unwrap()
}

/// The length of a polyline through many points of the surface, for comparison: no integral, no slope.
fn stepped(section: &Section, side: Side, from: f64, to: f64, steps: usize) -> f64 {
    // Steps that are finer towards the nose, where the surface is steep.
    let [first, last] = [from, to].map(f64::sqrt);
    let point = |step: usize| {
        let root = first + (last - first) * step as f64 / steps as f64;
        let x = (root * root).clamp(from, to);
        [x, section.ordinate(side, x)]
    };
    let points: Vec<[f64; 2]> = (0..=steps).map(point).collect();
    points.windows(2).map(|pair| (pair[1][0] - pair[0][0]).hypot(pair[1][1] - pair[0][1])).sum()
}

/// The whole perimeter of an ellipse with half axes 1/2 and `half`, by its series in the eccentricity (any handbook of
/// mathematics).
fn ellipse_perimeter(half: f64) -> f64 {
    let squared = 1.0 - 4.0 * half * half;
    let mut sum = 1.0;
    let mut factor = 1.0;
    for n in 1..2000 {
        let n = f64::from(n);
        factor *= (2.0 * n - 1.0) / (2.0 * n);
        sum -= factor * factor * squared.powf(n) / (2.0 * n - 1.0);
    }
    PI * sum
}

/// Rows of an ellipse, as many as asked, denser at both ends.
fn ellipse(half: f64, rows: usize) -> Section {
    let row = |index: usize| {
        let (sin, cos) = (PI * index as f64 / (rows - 1) as f64).sin_cos();
        let station = if index == rows - 1 { 100.0 } else { 50.0 * (1.0 - cos) };
        let height = if index == 0 { 0.0 } else { 100.0 * half * sin };
        [station, height, -height]
    };
    Section::from_ordinates(&(0..rows).map(row).collect::<Vec<_>>()).unwrap()
}

#[test]
fn a_symmetrical_section_has_its_published_ordinates() {
    let section = naca("0012");
    for [station, published] in NACA_0012 {
        let [top, bottom] = SIDES.map(|side| 100.0 * section.ordinate(side, station / 100.0));
        // A unit of the last printed digit.
        assert!((top - published).abs() <= 0.001, "{station} %: {top}");
        assert!((top + bottom).abs() < 1e-12, "{station} %: {top} {bottom}");
    }
}

#[test]
fn cambered_sections_have_their_published_ordinates() {
    for (digits, table) in [("2412", NACA_2412), ("4412", NACA_4412)] {
        let section = naca(digits);
        for [station, upper, lower] in table {
            let [top, bottom] = SIDES.map(|side| 100.0 * section.ordinate(side, station / 100.0));
            // Two units of the last printed digit: the tables of 1933 were worked out by hand.
            assert!((top - upper).abs() <= 0.02, "{digits}, {station} %: {top}");
            assert!((bottom - lower).abs() <= 0.02, "{digits}, {station} %: {bottom}");
        }
    }
}

#[test]
fn the_nose_has_its_published_radius() {
    // Report 460: the radius of the nose is 1.1019 t². A circle of it: x = y²/2r close to the nose.
    let section = naca("0018");
    let place = 1e-7;
    let height = section.ordinate(Side::Top, place);
    let radius = height * height / (2.0 * place);
    assert!((radius / (1.1019 * 0.18 * 0.18) - 1.0).abs() < 1e-3, "{radius}");
}

#[test]
fn two_integrations_of_a_published_section_agree() {
    for digits in ["0012", "2412", "4412", "4415", "6321", "0006"] {
        let section = naca(digits);
        for side in SIDES {
            for [from, to] in [[0.05, 0.99], [0.05, 0.15], [0.3, 0.65]] {
                let girth = section.girth(side, from, to);
                let stepped = stepped(&section, side, from, to, 4000);
                assert!((girth - stepped).abs() < 1e-7, "{digits} {side:?} {from} to {to}: {girth} against {stepped}");
            }
        }
    }
    // Round the nose, where only a symmetrical section has a height at every place of the chord.
    let section = naca("0012");
    let (girth, stepped) = (section.girth(Side::Top, 0.0, 1.0), stepped(&section, Side::Top, 0.0, 1.0, 4000));
    assert!((girth - stepped).abs() < 1e-7, "{girth} against {stepped}");
}

#[test]
fn a_table_gives_the_girth_of_its_formula() {
    for (digits, table) in [("2412", NACA_2412), ("4412", NACA_4412)] {
        let by_table = Section::from_ordinates(&table).unwrap();
        let by_formula = naca(digits);
        for side in SIDES {
            let [table, formula] = [&by_table, &by_formula].map(|section| section.girth(side, 0.0, 1.0));
            // Stations are far apart, and what bulges before the nose stands in no row.
            assert!((table - formula).abs() < 1e-3, "{digits} {side:?}: {table} against {formula}");
        }
        let [table, formula] = [&by_table, &by_formula].map(Section::whole_girth);
        assert!((table - formula).abs() < 1e-3, "{digits}: {table} against {formula}");
    }
}

#[test]
fn a_table_is_met_at_its_stations() {
    let section = Section::from_ordinates(&NACA_4412).unwrap();
    for [station, upper, lower] in NACA_4412 {
        let [top, bottom] = SIDES.map(|side| 100.0 * section.ordinate(side, station / 100.0));
        assert!((top - upper).abs() < 1e-9 && (bottom - lower).abs() < 1e-9, "{station} %: {top} {bottom}");
    }
}

#[test]
fn a_circle_and_ellipses_by_ordinates_have_their_perimeter() {
    let circle = ellipse(0.5, 49).whole_girth();
    assert!((circle - PI).abs() < 2e-4, "{circle}");
    for half in [0.06, 0.12, 0.25] {
        let (girth, closed) = (ellipse(half, 49).whole_girth(), ellipse_perimeter(half));
        assert!((girth - closed).abs() < 1e-4, "{half}: {girth} against {closed}");
    }
    // Twice the rows, an eighth of the difference or less.
    let errors = [25, 49].map(|rows| (ellipse(0.12, rows).whole_girth() - ellipse_perimeter(0.12)).abs());
    assert!(errors[1] < errors[0] / 7.0, "{errors:?}");
}

#[test]
fn a_parabola_has_its_closed_length() {
    // Height a·√x, from the nose to the end; its arc in closed form, with q = a/2:
    // √(1 + q²)·1 + q²·ln((1 + √(1 + q²))/q) for x from 0 to 1.
    let a: f64 = 0.2;
    let row = |index: u32| {
        let station = 100.0 * f64::from(index * index) / 1600.0;
        [station, 100.0 * a * (station / 100.0).sqrt(), 0.0]
    };
    let section = Section::from_ordinates(&(0..=40).map(row).collect::<Vec<_>>()).unwrap();
    let q = a / 2.0;
    let closed = 1f64.hypot(q) + q * q * ((1.0 + 1f64.hypot(q)) / q).ln();
    let girth = section.girth(Side::Top, 0.0, 1.0);
    assert!((girth - closed).abs() < 1e-5, "{girth} against {closed}");
    // The flat underside is as long as the chord.
    assert!((section.girth(Side::Bottom, 0.0, 1.0) - 1.0).abs() < 1e-9);
}

#[test]
fn a_plate_is_as_long_as_its_chord() {
    let plate = Section::from_ordinates(&[[0.0, 0.0, 0.0], [30.0, 0.0, 0.0], [60.0, 0.0, 0.0], [100.0, 0.0, 0.0]]);
    assert!((plate.unwrap().whole_girth() - 2.0).abs() < 1e-9);
}

#[test]
fn what_is_no_four_digit_section() {
    let fault = |digits| Section::four_digit(digits).unwrap_err();
    for digits in ["", "241", "24120", "24-2", "24 2", "NACA", "２４１２"] {
        assert_eq!(fault(digits), SectionFault::NotFourDigits(digits.to_owned()));
    }
    assert_eq!(fault("2400"), SectionFault::NoThickness("2400".to_owned()));
    assert_eq!(fault("2012"), SectionFault::CamberWithoutPlace("2012".to_owned()));
    assert_eq!(fault("0412"), SectionFault::CamberWithoutPlace("0412".to_owned()));
    assert!(fault("241").to_string().contains("four digits such as 2412"));
}

#[test]
fn what_is_no_table_of_ordinates() {
    let good = [[0.0, 0.0, 0.0], [10.0, 5.0, -3.0], [50.0, 7.0, -3.0], [100.0, 0.1, -0.1]];
    assert!(Section::from_ordinates(&good).is_ok());
    let spoilt = |row: usize, column: usize, value: f64| {
        let mut rows = good;
        rows[row][column] = value;
        Section::from_ordinates(&rows).unwrap_err()
    };
    assert_eq!(Section::from_ordinates(&good[..3]).unwrap_err(), SectionFault::TooFewRows(3));
    assert_eq!(spoilt(0, 0, 1.0), SectionFault::NotFromNose(1.0));
    assert_eq!(spoilt(3, 0, 95.0), SectionFault::NotToTrailingEdge(95.0));
    assert_eq!(spoilt(0, 1, 2.0), SectionFault::OpenNose { upper: 2.0, lower: 0.0 });
    assert_eq!(spoilt(2, 0, 10.0), SectionFault::StationsNotInOrder { row: 3, station: 10.0 });
    assert_eq!(spoilt(1, 1, -4.0), SectionFault::InsideOut { row: 2, station: 10.0 });
    assert_eq!(spoilt(2, 2, -150.0), SectionFault::OutOfRange { row: 3, value: -150.0 });
    let found = spoilt(1, 2, f64::NAN);
    assert!(matches!(found, SectionFault::OutOfRange { row: 2, .. }), "{found:?}");
    assert_eq!(found.row(), Some(2));
    assert_eq!(spoilt(3, 0, 95.0).row(), None);
}

fn four_digits() -> impl Strategy<Value = String> {
    let camber = prop_oneof![Just((0, 0)), (1u32..=6, 2u32..=6)];
    (camber, 6u32..=24).prop_map(|((camber, place), thickness)| format!("{camber}{place}{thickness:02}"))
}

proptest! {
    /// Girths add up, turn their sign with their direction, and are no shorter than the straight line.
    #[test]
    fn girths_add_up(digits in four_digits(), a in 0.0..=1.0, b in 0.0..=1.0, c in 0.0..=1.0) {
        let section = naca(&digits);
        for side in SIDES {
            let [ab, bc, ac] = [(a, b), (b, c), (a, c)].map(|(from, to)| section.girth(side, from, to));
            prop_assert!((ab + bc - ac).abs() < 1e-7);
            prop_assert!((section.girth(side, b, a) + ab).abs() < 1e-7);
            let straight = (b - a).hypot(section.ordinate(side, b) - section.ordinate(side, a));
            // Close to the nose of a cambered section the ordinate is that of the part that runs aft.
            prop_assert!(ab.abs() > straight - 2e-3, "{digits} {side:?} {a} {b}: {ab} {straight}");
        }
    }

    /// A place found by its girth has that girth.
    #[test]
    fn places_are_found_by_their_girth(digits in four_digits(), x in 0.02..0.999f64) {
        let section = naca(&digits);
        for side in SIDES {
            let girth = section.girth(side, 0.0, x);
            prop_assert!((section.place_at(side, girth) - x).abs() < 1e-7);
        }
        prop_assert!(section.place_at(Side::Top, 0.0) < 1e-12);
        prop_assert_eq!(section.place_at(Side::Top, 9.0), 1.0);
    }
}
