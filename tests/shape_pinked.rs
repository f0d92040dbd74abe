//! The promise: the teeth of a pinked edge have their tips on the outline and their nips inside it.

use clothwright::shape::{Curve, Outline, pinked};
use geo::{Area, Distance, Euclidean, Validation};
use geo_types::{LineString, Point, Polygon};
use proptest::prelude::*;
use std::f64::consts::TAU;

fn length(ring: &LineString<f64>) -> f64 {
    ring.lines().map(|edge| (edge.end.x - edge.start.x).hypot(edge.end.y - edge.start.y)).sum()
}

fn tips_and_nips(ring: &LineString<f64>) -> (Vec<Point>, Vec<Point>) {
    let points: Vec<Point> = ring.points().collect();
    let open = &points[..points.len() - 1];
    (open.iter().copied().step_by(2).collect(), open.iter().copied().skip(1).step_by(2).collect())
}

/// FAA-H-8083-31, chapter 3: pinking gives about 41 % more edge. Teeth of 45° make √2 of a straight edge, and
/// √2 − 1 = 0.414.
#[test]
fn teeth_of_45_degrees_make_the_edge_41_percent_longer() {
    let strip = Curve::strip(3000.0, 100.0).flatten().unwrap();
    for pitch in [3.0, 5.0] {
        let teeth = pinked(&strip, pitch, pitch / 2.0);
        let longer = length(teeth.exterior()) / strip.perimeter() - 1.0;
        assert!((longer - 0.414).abs() < 0.002, "{longer}");
    }
    let doily = Curve::circle(165.0).flatten().unwrap();
    let teeth = pinked(&doily, 6.0, 3.0);
    assert!((length(teeth.exterior()) / doily.perimeter() - 1.0 - 0.414).abs() < 0.03);
}

#[test]
fn a_straight_edge_has_evenly_spaced_teeth_of_full_depth() {
    let rect = Curve::rect(60.0, 40.0).flatten().unwrap();
    let (tips, nips) = tips_and_nips(pinked(&rect, 6.0, 2.5).exterior());
    // 60 / 6 = 10 teeth; 40 / 6 = 6.67, so 7 teeth of 5.71.
    assert_eq!(tips.len(), 2 * (10 + 7));
    for corner in [(0.0, 0.0), (60.0, 0.0), (60.0, 40.0), (0.0, 40.0)] {
        assert!(tips.iter().any(|tip| Euclidean.distance(tip, &Point::from(corner)) < 1e-9), "{corner:?} has no tip");
    }
    for (i, tip) in tips.iter().take(11).enumerate() {
        assert!(Euclidean.distance(tip, &Point::new(6.0 * i as f64, 0.0)) < 1e-9);
    }
    for nip in &nips {
        assert!((Euclidean.distance(nip, rect.polygon().exterior()) - 2.5).abs() < 1e-9);
    }
}

#[test]
fn teeth_never_cross_in_corners_and_narrow_strips() {
    let shapes = [
        Curve::rect(60.0, 40.0),
        Curve::rect(300.0, 4.0),
        Curve::rect(5.0, 5.0),
        Curve::polygon(&[[0.0, 0.0], [120.0, 0.0], [0.0, 30.0]], &[]),
        Curve::polygon(&[[0.0, 0.0], [90.0, 0.0], [90.0, 90.0], [60.0, 90.0], [60.0, 30.0], [0.0, 30.0]], &[]),
        Curve::circle(3.0),
        Curve::circle(38.0),
        Curve::ring(60.0, 45.0),
    ];
    for (i, shape) in shapes.iter().enumerate() {
        let outline = shape.flatten().unwrap();
        let teeth = pinked(&outline, 6.0, 3.0);
        assert!(teeth.is_valid(), "shape {i} has crossing teeth: {:?}", teeth.validation_errors());
        assert!(Outline::new(teeth).is_ok(), "shape {i}");
    }
}

#[test]
fn every_ring_has_teeth() {
    let ring = Curve::ring(120.0, 90.0).flatten().unwrap();
    let teeth = pinked(&ring, 6.0, 3.0);
    let expected = |diameter: f64| 2 * (diameter * TAU / 2.0 / 6.0).round() as usize;
    assert_eq!(teeth.exterior().0.len() - 1, expected(120.0));
    assert_eq!(teeth.interiors()[0].0.len() - 1, expected(90.0));
    // Nips of the hole lie in the material, which is outside the hole.
    let (tips, nips) = tips_and_nips(&teeth.interiors()[0]);
    let radius = |p: &Point| p.x().hypot(p.y());
    assert!(tips.iter().all(|tip| radius(tip) <= 45.0 + 1e-9));
    assert!(nips.iter().all(|nip| (47.8..48.1).contains(&radius(nip))));
}

#[test]
fn teeth_that_make_no_sense_leave_the_outline_as_it_is() {
    let outline = Curve::rect(60.0, 40.0).flatten().unwrap();
    for (pitch, depth) in [(0.0, 3.0), (-1.0, 3.0), (f64::NAN, 3.0), (6.0, 0.0)] {
        assert_eq!(&pinked(&outline, pitch, depth), outline.polygon());
    }
    assert_eq!(pinked(&outline, 1e-9, 1e-9).exterior().0.len() - 1, 2 * 2000);
}

fn star() -> impl Strategy<Value = Vec<[f64; 2]>> {
    proptest::collection::vec(60.0..300.0f64, 3..14).prop_map(|radii| {
        let count = radii.len() as f64;
        let bearing = |i: usize| (TAU * i as f64 / count).sin_cos();
        radii.iter().enumerate().map(|(i, r)| [r * bearing(i).1, r * bearing(i).0]).collect()
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(200))]

    #[test]
    fn teeth_stay_inside(points in star(), pitch in 2.0..12.0f64, steepness in 0.2..0.6f64) {
        let flattened = Curve::polygon(&points, &[]).flatten();
        prop_assume!(flattened.is_ok());
        let outline = flattened.unwrap();
        let depth = pitch * steepness;
        let teeth = pinked(&outline, pitch, depth);
        let (tips, nips) = tips_and_nips(teeth.exterior());
        for tip in &tips {
            prop_assert!(Euclidean.distance(tip, outline.polygon().exterior()) < 1e-9, "a tip off the outline");
        }
        let mut full = 0;
        for nip in &nips {
            prop_assert!(Euclidean.distance(nip, outline.polygon()) < 1e-9, "a nip outside");
            let inside = Euclidean.distance(nip, outline.polygon().exterior());
            prop_assert!(inside <= depth + 1e-9);
            full += usize::from(inside >= depth - 1e-9);
        }
        // Only beside corners and in narrow places is a tooth shallower.
        prop_assert!(full * 2 > nips.len(), "{full} of {} teeth have their depth", nips.len());
        let outside = outside_area(&teeth, &outline);
        prop_assert!(outside < 1e-3, "{outside} mm² of the teeth lie outside");
        prop_assert!(teeth.unsigned_area() < outline.area());
    }
}

fn outside_area(teeth: &Polygon<f64>, outline: &Outline) -> f64 {
    use geo::BooleanOps;
    teeth.difference(outline.polygon()).unsigned_area()
}
