//! The promise: an outline that cannot be cut is found at the door, and its fault is named with its place.

use clothwright::shape::{Curve, Outline, OutlineFault, Place, RingRole};
use geo::{Area, Validation};
use geo_types::{Coord, LineString, Polygon};
use proptest::prelude::*;

fn polygon(outer: &[(f64, f64)], holes: &[&[(f64, f64)]]) -> Polygon<f64> {
    let ring = |points: &[(f64, f64)]| LineString::from(points.to_vec());
    Polygon::new(ring(outer), holes.iter().map(|hole| ring(hole)).collect())
}

fn fault(outer: &[(f64, f64)], holes: &[&[(f64, f64)]]) -> OutlineFault {
    Outline::new(polygon(outer, holes)).expect_err("a fault")
}

fn place(x: f64, y: f64) -> Place {
    Place(Coord { x, y })
}

const SQUARE: &[(f64, f64)] = &[(0.0, 0.0), (100.0, 0.0), (100.0, 100.0), (0.0, 100.0)];

#[test]
fn rings_are_turned_the_right_way_round() {
    let clockwise = &[(0.0, 0.0), (0.0, 100.0), (100.0, 100.0), (100.0, 0.0)];
    let hole = &[(20.0, 20.0), (40.0, 20.0), (40.0, 40.0)];
    let outline = Outline::new(polygon(clockwise, &[hole])).unwrap();
    let area = |ring: &LineString| Polygon::new(ring.clone(), Vec::new()).signed_area();
    assert_eq!(area(outline.polygon().exterior()), 10_000.0);
    assert_eq!(area(&outline.polygon().interiors()[0]), -200.0);
    assert_eq!(outline.area(), 9_800.0);
    assert_eq!(outline.perimeter(), 400.0 + 40.0 + 800.0f64.sqrt());
}

#[test]
fn points_in_the_middle_of_an_edge_are_welcome() {
    let points = &[(0.0, 0.0), (50.0, 0.0), (70.0, 0.0), (100.0, 0.0), (100.0, 100.0), (0.0, 100.0), (0.0, 30.0)];
    assert_eq!(Outline::new(polygon(points, &[])).unwrap().area(), 10_000.0);
}

#[test]
fn too_few_points() {
    let found = fault(&[(0.0, 0.0), (5.0, 5.0)], &[]);
    assert_eq!(found, OutlineFault::TooFewPoints { ring: RingRole::Outer, points: 2 });
    assert_eq!(found.to_string(), "the outer ring has 2 points; a ring needs three or more");
    assert!(matches!(fault(&[], &[]), OutlineFault::TooFewPoints { points: 0, .. }));
    let hole: &[(f64, f64)] = &[(1.0, 1.0), (2.0, 2.0)];
    assert_eq!(fault(SQUARE, &[hole]), OutlineFault::TooFewPoints { ring: RingRole::Hole(1), points: 2 });
}

#[test]
fn numbers_that_are_none() {
    let found = fault(&[(0.0, 0.0), (5.0, f64::NAN), (5.0, 5.0)], &[]);
    assert_eq!(found, OutlineFault::NotFinite { ring: RingRole::Outer, point: 2 });
    assert_eq!(found.to_string(), "point 2 of the outer ring is not a finite number");
    let hole: &[(f64, f64)] = &[(1.0, 1.0), (2.0, 2.0), (f64::NEG_INFINITY, 3.0)];
    let inner: &[(f64, f64)] = &[(11.0, 11.0), (12.0, 12.0), (11.0, 13.0)];
    assert_eq!(fault(SQUARE, &[inner, hole]), OutlineFault::NotFinite { ring: RingRole::Hole(2), point: 3 });
}

#[test]
fn a_kilometre_is_too_far() {
    let found = fault(&[(0.0, 0.0), (2e6, 0.0), (5.0, 5.0)], &[]);
    assert_eq!(found, OutlineFault::TooFar { ring: RingRole::Outer, point: 2 });
    assert!(found.to_string().contains("is the unit right?"));
}

#[test]
fn repeated_points() {
    let found = fault(&[(0.0, 0.0), (100.0, 0.0), (100.0, 0.0), (0.0, 100.0)], &[]);
    assert_eq!(found, OutlineFault::RepeatedPoint { ring: RingRole::Outer, point: 3, at: place(100.0, 0.0) });
    assert_eq!(found.to_string(), "point 3 of the outer ring repeats its neighbour at (100, 0); leave one of them out");
    // Sums of the same drawing that differ in the last digit are the same point to a person.
    let sums = fault(&[(0.0, 0.0), (0.3, 0.0), (0.1 + 0.2, 0.0), (0.0, 100.0)], &[]);
    assert!(matches!(sums, OutlineFault::RepeatedPoint { point: 3, .. }));
    // The closing repeat is left out of a polygon once, not twice.
    let twice = Curve::polygon(&[[0.0, 0.0], [9.0, 0.0], [0.0, 9.0], [0.0, 0.0], [0.0, 0.0]], &[]).flatten();
    assert!(matches!(twice, Err(OutlineFault::RepeatedPoint { point: 4, .. })), "{twice:?}");
}

#[test]
fn zero_area() {
    let found = fault(&[(0.0, 0.0), (10.0, 10.0), (30.0, 30.0)], &[]);
    assert_eq!(found, OutlineFault::ZeroArea { ring: RingRole::Outer });
    assert_eq!(found.to_string(), "the outer ring has no area: its points lie on one line");
    // On one line to the person, though not to the last digit.
    assert!(matches!(fault(&[(0.0, 0.0), (0.1, 0.3), (0.2, 0.6), (0.7, 2.1)], &[]), OutlineFault::ZeroArea { .. }));
}

#[test]
fn crossings_of_one_ring() {
    let found = fault(&[(0.0, 0.0), (100.0, 100.0), (100.0, 0.0), (0.0, 60.0)], &[]);
    let at = place(37.5, 37.5);
    assert_eq!(found, OutlineFault::SelfCrossing { ring: RingRole::Outer, first: 1, second: 3, at });
    // A figure of eight with equal loops has no area either, but crossing is what is wrong with it.
    let eight = fault(&[(0.0, 0.0), (100.0, 100.0), (100.0, 0.0), (0.0, 100.0)], &[]);
    assert!(matches!(eight, OutlineFault::SelfCrossing { first: 1, second: 3, .. }));
}

#[test]
fn touches_of_one_ring() {
    let at_corner = fault(&[(0.0, 0.0), (100.0, 0.0), (100.0, 80.0), (50.0, 0.0), (0.0, 80.0)], &[]);
    assert!(matches!(at_corner, OutlineFault::TouchesItself { first: 1, at, .. } if at == place(50.0, 0.0)));
    let back = fault(&[(0.0, 0.0), (100.0, 0.0), (60.0, 0.0), (60.0, 80.0)], &[]);
    assert!(matches!(back, OutlineFault::TouchesItself { first: 1, second: 2, .. }), "{back:?}");
    let spike = fault(&[(0.0, 0.0), (100.0, 0.0), (100.0, 50.0), (140.0, 50.0), (100.0, 50.0), (100.0, 90.0)], &[]);
    assert!(matches!(spike, OutlineFault::TouchesItself { .. }), "{spike:?}");
}

#[test]
fn a_hair_between_touching_and_not() {
    let with_tip =
        |y: f64| Outline::new(polygon(&[(0.0, 0.0), (90.0, 30.0), (90.0, 80.0), (30.0, y), (0.0, 80.0)], &[]));
    assert!(with_tip(10.001).is_ok());
    assert!(matches!(with_tip(10.0), Err(OutlineFault::TouchesItself { .. })));
    assert!(matches!(with_tip(9.999), Err(OutlineFault::SelfCrossing { .. })));
}

#[test]
fn holes_must_lie_inside_and_clear() {
    let hole = |x: f64, y: f64, size: f64| vec![(x, y), (x + size, y), (x + size, y + size), (x, y + size)];
    let outside = fault(SQUARE, &[&hole(20.0, 20.0, 10.0), &hole(150.0, 20.0, 10.0)]);
    assert_eq!(outside, OutlineFault::HoleOutside { hole: 2, at: place(150.0, 20.0) });
    let across = fault(SQUARE, &[&hole(95.0, 20.0, 10.0)]);
    assert!(matches!(across, OutlineFault::RingsCross { first: RingRole::Outer, second: RingRole::Hole(1), .. }));
    let touching = fault(SQUARE, &[&hole(90.0, 20.0, 10.0)]);
    assert!(matches!(touching, OutlineFault::RingsTouch { first: RingRole::Outer, second: RingRole::Hole(1), .. }));
    let overlap = fault(SQUARE, &[&hole(10.0, 10.0, 30.0), &hole(30.0, 30.0, 30.0)]);
    assert!(matches!(overlap, OutlineFault::RingsCross { first: RingRole::Hole(1), second: RingRole::Hole(2), .. }));
    let nested = fault(SQUARE, &[&hole(20.0, 20.0, 10.0), &hole(10.0, 10.0, 50.0)]);
    assert_eq!(nested, OutlineFault::HoleInHole { inner: 1, outer: 2, at: place(20.0, 20.0) });
    let around = fault(SQUARE, &[&hole(-10.0, -10.0, 200.0)]);
    assert!(matches!(around, OutlineFault::HoleOutside { hole: 1, .. }));
    let clear = Outline::new(polygon(SQUARE, &[&hole(10.0, 10.0, 30.0), &hole(45.0, 45.0, 30.0)]));
    assert_eq!(clear.unwrap().area(), 10_000.0 - 1_800.0);
}

#[test]
fn thousands_of_points_are_checked_quickly() {
    let count = 20_000;
    let points: Vec<(f64, f64)> = (0..count)
        .map(|i| {
            let (sin, cos) = (std::f64::consts::TAU * f64::from(i) / f64::from(count)).sin_cos();
            let radius = if i % 2 == 0 { 2000.0 } else { 1999.0 };
            (radius * cos, radius * sin)
        })
        .collect();
    let begun = std::time::Instant::now();
    assert!(Outline::new(polygon(&points, &[])).is_ok());
    assert!(begun.elapsed().as_secs() < 5, "{:?}", begun.elapsed());
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(2000))]

    /// Held against the validity check of geo, a general geometry library, on a small grid where everything touches
    /// everything. That check lets repeated points, rings that touch in one point and three points on a line pass; nothing else may
    /// differ.
    #[test]
    fn a_general_library_agrees(points in proptest::collection::vec((0..7i32, 0..7i32), 3..9)) {
        let points: Vec<(f64, f64)> = points.into_iter().map(|(x, y)| (f64::from(x), f64::from(y))).collect();
        let valid = polygon(&points, &[]).is_valid();
        match Outline::new(polygon(&points, &[])) {
            Ok(_) => prop_assert!(valid, "taken for sound"),
            Err(
                OutlineFault::RepeatedPoint { .. } | OutlineFault::TouchesItself { .. } | OutlineFault::ZeroArea { .. },
            ) => {}
            Err(found) => prop_assert!(!valid, "{found}"),
        }
    }

    #[test]
    fn a_general_library_agrees_on_holes(at in (0..12i32, 0..12i32), size in 1..5i32, hole_at in (3..9i32, 3..9i32)) {
        let square = |(x, y): (i32, i32), size: i32| {
            let (x, y, size) = (f64::from(x), f64::from(y), f64::from(size));
            vec![(x, y), (x + size, y), (x + size, y + size), (x, y + size)]
        };
        let outer: &[(f64, f64)] = &[(2.0, 2.0), (13.0, 2.0), (13.0, 13.0), (2.0, 13.0)];
        let holes = polygon(outer, &[&square(hole_at, 3), &square(at, size)]);
        let valid = holes.is_valid();
        match Outline::new(holes) {
            Ok(_) => prop_assert!(valid),
            Err(OutlineFault::RingsTouch { .. }) => {}
            Err(found) => prop_assert!(!valid, "{found}"),
        }
    }
}
