//! The promise: a flattened curve never cuts into the piece and is no more than 0.1 mm away from it.

use clothwright::shape::{Allowance, Curve, FLATTENING, Join, Outline, OutlineFault, RingRole};
use geo::{Area, Distance, Euclidean};
use geo_types::{Coord, LineString, Point, Polygon};
use kurbo::{BezPath, ParamCurve, Shape};
use proptest::prelude::*;
use std::f64::consts::{PI, TAU};

/// What two floating-point roads to the same place may differ by on a piece of some metres.
const ROUNDING: f64 = 1e-7;

fn outer_points(outline: &Outline) -> usize {
    outline.polygon().exterior().0.len() - 1
}

/// Checks that the polygon holds all samples and stays near them; samples lie `spacing` apart at most.
fn assert_holds(outline: &Outline, samples: &[Point], spacing: f64) {
    let polygon = outline.polygon();
    for sample in samples {
        let outside = Euclidean.distance(polygon, sample);
        assert!(outside <= ROUNDING, "{sample:?} of the curve lies {outside} mm outside the polygon");
        let off = Euclidean.distance(polygon.exterior(), sample);
        assert!(off <= FLATTENING + ROUNDING, "{sample:?} of the curve lies {off} mm from the polygon's edge");
    }
    let mut curve = LineString::from(samples.to_vec());
    curve.close();
    for vertex in polygon.exterior().points() {
        let off = Euclidean.distance(&vertex, &curve);
        // Between two samples the curve bulges beyond their chord by much less than their distance.
        assert!(off <= FLATTENING + spacing, "vertex {vertex:?} lies {off} mm from the curve");
    }
}

#[test]
fn straight_edges_stay_exact() {
    let rect = Curve::rect(1000.0, 500.0).flatten().unwrap();
    let expected: Vec<_> = [(0.0, 0.0), (1000.0, 0.0), (1000.0, 500.0), (0.0, 500.0), (0.0, 0.0)].into();
    assert_eq!(rect.polygon().exterior(), &LineString::from(expected));
    assert_eq!(Curve::strip(1234.5, 76.2).flatten().unwrap().area(), 1234.5 * 76.2);
}

#[test]
fn a_polygon_may_repeat_its_first_point_at_the_end_and_run_clockwise() {
    let open = Curve::polygon(&[[0.0, 0.0], [0.0, 90.0], [120.0, 0.0]], &[]);
    let closed = Curve::polygon(&[[0.0, 0.0], [0.0, 90.0], [120.0, 0.0], [0.0, 0.0]], &[]);
    assert_eq!(open, closed);
    let outline = open.flatten().unwrap();
    assert!(outline.polygon().signed_area() > 0.0, "the outer ring is turned counter-clockwise");
    assert_eq!(outline.area(), 5400.0);
}

#[test]
fn a_circle_becomes_the_smallest_regular_polygon_round_it() {
    for diameter in [0.5, 8.0, 38.0, 165.0, 1200.0, 40_000.0] {
        let radius = diameter / 2.0;
        let outline = Curve::circle(diameter).flatten().unwrap();
        let count = outer_points(&outline) as f64;
        // A regular n-gon round a circle: apothem r, circumradius r / cos(π / n), area n r² tan(π / n) (Euclid's figure;
        // formulas from memory).
        let closed_form = count * radius * radius * (PI / count).tan();
        assert!((outline.area() / closed_form - 1.0).abs() < 1e-9, "not regular at diameter {diameter}");
        assert!(radius / (PI / count).cos() <= radius + FLATTENING + ROUNDING);
        let fewer = count - 1.0;
        assert!(count == 4.0 || radius / (PI / fewer).cos() > radius + FLATTENING, "{count} vertices are too many");
    }
}

#[test]
fn the_hole_of_a_ring_never_grows() {
    let ring = Curve::ring(120.0, 90.0);
    assert!((ring.area() - PI * (60.0 * 60.0 - 45.0 * 45.0)).abs() < 1e-9);
    let outline = ring.flatten().unwrap();
    let hole = &outline.polygon().interiors()[0];
    for vertex in hole.points() {
        assert!((vertex.x().hypot(vertex.y()) - 45.0).abs() < 1e-9, "a chord's ends lie on the circle");
    }
    for edge in hole.lines() {
        let middle = (edge.start + edge.end) / 2.0;
        assert!(middle.x.hypot(middle.y) >= 45.0 - FLATTENING);
    }
    assert!(outline.area() >= ring.area());
}

#[test]
fn a_ring_without_material_is_a_fault() {
    for inner in [100.0, 100.1] {
        let fault = Curve::ring(100.0, inner).flatten();
        assert!(matches!(fault, Err(OutlineFault::RingsCross { .. } | OutlineFault::RingsTouch { .. })), "{fault:?}");
    }
    assert!(matches!(Curve::ring(100.0, 130.0).flatten(), Err(OutlineFault::HoleOutside { hole: 1, .. })));
}

#[test]
fn numbers_that_make_no_sense_are_named() {
    let bad = Curve::polygon(&[[0.0, 0.0], [1.0, 0.0], [f64::NAN, 1.0]], &[]).flatten();
    assert!(matches!(bad, Err(OutlineFault::NotFinite { ring: RingRole::Outer, .. })), "{bad:?}");
    assert!(matches!(Curve::circle(f64::INFINITY).flatten(), Err(OutlineFault::NotFinite { .. })));
    assert!(matches!(Curve::circle(1e12).flatten(), Err(OutlineFault::TooFar { .. })));
    assert!(Curve::circle(0.0).flatten().is_err());
    assert!(Curve::rect(0.0, 40.0).flatten().is_err());
}

#[test]
fn faults_of_a_curve_count_its_own_edges() {
    // An arc, a line, and a bend that runs down through the arc.
    let curve = Curve::from_svg_path("M 0 0 A 50 50 0 0 1 100 0 L 100 60 Q 50 -300 0 60 Z", 1.0).unwrap();
    let fault = curve.flatten().unwrap_err();
    assert!(matches!(fault, OutlineFault::SelfCrossing { ring: RingRole::Outer, first: 1, second: 3, .. }), "{fault}");
}

fn ellipse(a: f64, b: f64, turn: f64) -> Curve {
    let (sin, cos) = turn.to_radians().sin_cos();
    let (x, y) = (a * cos, a * sin);
    let data = format!("M {x} {y} A {a} {b} {turn} 0 1 {} {} A {a} {b} {turn} 0 1 {x} {y} Z", -x, -y);
    Curve::from_svg_path(&data, 1.0).unwrap()
}

#[test]
fn an_ellipse_has_the_area_and_perimeter_of_the_textbook() {
    for (a, b, turn) in [(300.0, 100.0, 0.0), (2500.0, 400.0, 33.0), (60.0, 55.0, -70.0)] {
        let curve = ellipse(a, b, turn);
        assert!((curve.area() / (PI * a * b) - 1.0).abs() < 1e-12);
        // S. Ramanujan, Modular equations and approximations to π (1914), second approximation (from memory).
        let h = ((a - b) / (a + b)) * ((a - b) / (a + b));
        let perimeter = PI * (a + b) * (1.0 + 3.0 * h / (10.0 + (4.0 - 3.0 * h).sqrt()));
        let outline = curve.flatten().unwrap();
        let excess = outline.perimeter() - perimeter;
        // Convex polygons that hold one another: the outer one is longer, by 2π times their distance at most.
        assert!((0.0..=TAU * FLATTENING).contains(&excess), "{excess} mm too long");
        let outside = outline.area() - curve.area();
        assert!(outside > 0.0 && outside <= outline.perimeter() * FLATTENING);
    }
}

#[test]
fn an_ellipse_is_flattened_with_few_vertices() {
    // For a smooth convex curve the fewest vertices are near ∮ √(κ / 8 ε) ds; for an ellipse sampled here numerically.
    let (a, b) = (2500.0, 400.0);
    let steps = 100_000;
    let sum: f64 = (0..steps)
        .map(|i| {
            let angle = TAU * (i as f64 + 0.5) / steps as f64;
            let speed = (a * angle.sin()).hypot(b * angle.cos());
            (a * b / speed.powi(3)).sqrt() * speed * TAU / steps as f64
        })
        .sum();
    let fewest = sum / (8.0 * FLATTENING).sqrt();
    let count = outer_points(&ellipse(a, b, 0.0).flatten().unwrap()) as f64;
    assert!(count < 1.05 * fewest + 3.0, "{count} vertices where {fewest} would do");
}

#[test]
fn a_strip_with_round_ends_has_no_vertex_where_arc_and_line_meet() {
    let curve = Curve::from_svg_path("M 0 0 H 300 A 20 20 0 0 1 300 40 H 0 A 20 20 0 0 1 0 0 Z", 1.0).unwrap();
    let outline = curve.flatten().unwrap();
    assert!(outline.polygon().exterior().coords().all(|p| *p != Coord { x: 300.0, y: 0.0 }));
    assert!((curve.area() - (300.0 * 40.0 + PI * 400.0)).abs() < 1e-9);
    assert!(outline.area() > curve.area());
}

/// Cubics whose control points lie where a tangent, a bend or a direction is hard to tell.
#[test]
fn awkward_cubics_are_held_too() {
    let cubics = [
        ("control points on the ends", "C 0 0 100 0 100 0"),
        ("first control point on the start", "C 0 0 60 90 100 0"),
        ("last control point on the end", "C 40 90 100 0 100 0"),
        ("control points on the chord", "C 30 0 70 0 100 0"),
        ("an inflection", "C 40 60 60 -60 100 0"),
        ("a cusp", "C 100 90 0 90 100 0"),
        ("a bend of nearly half a turn in a hair's breadth", "C 99.9 90 0.1 90 100 0"),
        ("nearly straight", "C 30 0.00001 70 0.00001 100 0"),
        ("a hairpin", "C 2000 300 2000 301 100 0"),
    ];
    for (what, cubic) in cubics {
        let data = format!("M 0 0 {cubic} L 100 -500 L 0 -500 Z");
        let flattened = Curve::from_svg_path(&data, 1.0).unwrap().flatten();
        let outline = flattened.unwrap_or_else(|fault| panic!("{what}: {fault}"));
        let path = BezPath::from_svg(&data).unwrap();
        let samples: Vec<Point> = path
            .segments()
            .flat_map(|segment| (0..2000).map(move |i| segment.eval(f64::from(i) / 2000.0)))
            .map(|p| Point::new(p.x, p.y))
            .collect();
        assert_holds(&outline, &samples, 0.05);
    }
    let looped = Curve::from_svg_path("M 0 0 C 200 120 -100 120 100 0 L 100 -500 L 0 -500 Z", 1.0).unwrap().flatten();
    assert!(matches!(looped, Err(OutlineFault::SelfCrossing { first: 1, second: 1, .. })), "{looped:?}");
}

/// A closed curve of cubics through points at all bearings, with control points along random directions.
fn wavy_path() -> impl Strategy<Value = String> {
    let knot = (60.0..600.0f64, -1.2..1.2f64, 5.0..90.0f64);
    proptest::collection::vec(knot, 3..9).prop_map(|knots| {
        let count = knots.len();
        let at = |i: usize| {
            let (radius, lean, reach) = knots[i % count];
            let bearing = TAU * (i % count) as f64 / count as f64;
            let (sin, cos) = bearing.sin_cos();
            let (lean_sin, lean_cos) = (bearing + PI / 2.0 + lean).sin_cos();
            ([radius * cos, radius * sin], [reach * lean_cos, reach * lean_sin])
        };
        let mut data = format!("M {} {}", at(0).0[0], at(0).0[1]);
        for i in 0..count {
            let ((from, out), (to, into)) = (at(i), at(i + 1));
            data += &format!(
                " C {} {} {} {} {} {}",
                from[0] + out[0],
                from[1] + out[1],
                to[0] - into[0],
                to[1] - into[1],
                to[0],
                to[1]
            );
        }
        data + " Z"
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    /// Held against kurbo, a general curve library: its reading of the path, its points, its area.
    #[test]
    fn a_flattened_path_holds_its_curve(data in wavy_path()) {
        let curve = Curve::from_svg_path(&data, 1.0).unwrap();
        let flattened = curve.flatten();
        prop_assume!(flattened.is_ok());
        let outline = flattened.unwrap();
        let path = BezPath::from_svg(&data).unwrap();
        let per_segment = 200;
        let samples: Vec<Point> = path
            .segments()
            .flat_map(|segment| (0..per_segment).map(move |i| segment.eval(i as f64 / per_segment as f64)))
            .map(|p| Point::new(p.x, p.y))
            .collect();
        // A curve may cross itself by less than the flattening without its polygon doing so.
        prop_assume!(Outline::new(Polygon::new(LineString::from(samples.clone()), Vec::new())).is_ok());
        assert_holds(&outline, &samples, 0.02);
        prop_assert!((curve.area() - path.area().abs()).abs() < 1e-6 * path.area().abs());
        prop_assert!(outline.polygon().unsigned_area() >= curve.area() - ROUNDING);
    }

    #[test]
    fn a_flattened_ellipse_holds_its_curve(a in 1.0..3000.0f64, flatness in 0.02..1.0f64, turn in 0.0..180.0f64) {
        let b = a * flatness;
        let (sin, cos) = turn.to_radians().sin_cos();
        let samples: Vec<Point> = (0..2000)
            .map(|i| (TAU * f64::from(i) / 2000.0).sin_cos())
            .map(|(s, c)| Point::new(a * c * cos - b * s * sin, a * c * sin + b * s * cos))
            .collect();
        assert_holds(&ellipse(a, b, turn).flatten().unwrap(), &samples, 0.01);
    }

    #[test]
    fn path_data_reads_back_as_the_same_curve(data in wavy_path(), unit in prop_oneof![Just(1.0), Just(25.4)]) {
        let curve = Curve::from_svg_path(&data, unit).unwrap();
        prop_assert_eq!(Curve::from_svg_path(&curve.to_svg_path_data(), 1.0).unwrap(), curve);
    }
}

#[test]
fn the_box_of_a_curve_is_exact() {
    // A half circle of radius 100 on a straight edge; the same with its bulge to the left.
    let half = Curve::from_svg_path("M 0 0 H 50 A 100 100 0 0 1 50 200 H 0 Z", 1.0).expect("a path").bounds();
    assert!((half.max().x - 150.0).abs() < 1e-9 && (half.width() - 150.0).abs() < 1e-9, "{half:?}");
    assert!((half.height() - 200.0).abs() < 1e-9, "{half:?}");
    let left = Curve::from_svg_path("M 0 0 H 50 V 200 H 0 A 100 100 0 0 1 0 0 Z", 1.0).expect("a path").bounds();
    assert!((left.min().x + 100.0).abs() < 1e-9 && (left.max().x - 50.0).abs() < 1e-9, "{left:?}");
    // B(1/2) of a cubic with control points 0, 100, 100, 0 is 75 (Bernstein form).
    let bow = Curve::from_svg_path("M 0 0 C 0 100 100 100 100 0 Z", 1.0).expect("a path").bounds();
    assert!((bow.max().y - 75.0).abs() < 1e-9, "{bow:?}");
}

#[test]
fn a_size_is_told_as_it_was_drawn_and_not_as_it_was_flattened() {
    let size = |curve: Curve, by_edge: Vec<f64>, join| {
        let allowance = Allowance { by_edge, join };
        let cut = curve.cut_outline(&allowance).expect("an outline");
        curve.cut_size(&allowance, &cut)
    };
    assert_eq!(size(Curve::circle(150.0), vec![], Join::Mitred), [150.0, 150.0]);
    assert_eq!(size(Curve::ring(130.0, 95.0), vec![20.0], Join::Round), [170.0, 170.0]);
    assert_eq!(size(Curve::rect(300.0, 200.0), vec![25.0], Join::Mitred), [350.0, 250.0]);
    assert_eq!(size(Curve::rect(300.0, 200.0), vec![25.0], Join::Round), [350.0, 250.0]);
    assert_eq!(size(Curve::rect(300.0, 200.0), vec![10.0, 20.0, 10.0, 0.0], Join::Mitred), [320.0, 220.0]);
    // The mitred tips of a square that stands on its corner reach √2 times the allowance.
    let diamond = Curve::polygon(&[[100.0, 0.0], [200.0, 100.0], [100.0, 200.0], [0.0, 100.0]], &[]);
    let told = size(diamond, vec![10.0], Join::Mitred);
    assert!(told.iter().all(|size| (size - 200.0 - 20.0 * 2.0_f64.sqrt()).abs() < 1e-6), "{told:?}");
}
