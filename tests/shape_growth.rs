//! The promise: a cut outline has its allowance everywhere, and a grown outline never loses what it grew from.

use clothwright::shape::{Allowance, Curve, FLATTENING, Join, MITRE_LIMIT, Outline, OutlineFault, grown};
use geo::line_intersection::{LineIntersection, line_intersection};
use geo::{Area, BooleanOps, ConvexHull, Distance, Euclidean};
use geo_types::{Coord, Line, LineString, MultiPoint, Point, Polygon};
use kurbo::{BezPath, ParamCurve};
use proptest::prelude::*;
use std::f64::consts::{PI, TAU};

/// What the grid of the boolean operations may take away, in millimetres.
const GRID: f64 = 2e-4;

fn all_round(distance: f64, join: Join) -> Allowance {
    Allowance { by_edge: vec![distance], join }
}

fn by_edge(distances: &[f64], join: Join) -> Allowance {
    Allowance { by_edge: distances.to_vec(), join }
}

fn corners(outline: &Outline) -> Vec<(f64, f64)> {
    outline.rings().next().unwrap().1.iter().map(|p| (p.x, p.y)).collect()
}

#[test]
fn mitred_rectangles_are_exact() {
    let cut = Curve::rect(300.0, 200.0).cut_outline(&all_round(25.4, Join::Mitred)).unwrap();
    assert_eq!(corners(&cut), [(-25.4, -25.4), (325.4, -25.4), (325.4, 225.4), (-25.4, 225.4)]);
}

#[test]
fn each_edge_takes_its_own_allowance() {
    let cut = Curve::rect(300.0, 200.0).cut_outline(&by_edge(&[10.0, 0.0, 50.0, 25.0], Join::Mitred)).unwrap();
    assert_eq!(corners(&cut), [(-25.0, -10.0), (300.0, -10.0), (300.0, 250.0), (-25.0, 250.0)]);
    // Clockwise, the same edges in the order in which they were given.
    let clockwise = Curve::polygon(&[[0.0, 0.0], [0.0, 200.0], [300.0, 200.0], [300.0, 0.0]], &[]);
    let cut = clockwise.cut_outline(&by_edge(&[25.0, 50.0, 0.0, 10.0], Join::Mitred)).unwrap();
    assert_eq!(cut.bounds().min(), geo_types::coord! { x: -25.0, y: -10.0 });
    assert_eq!(cut.bounds().max(), geo_types::coord! { x: 300.0, y: 250.0 });
    assert_eq!(cut.area(), 325.0 * 260.0);
}

#[test]
fn neighbours_on_one_line_meet_in_a_step() {
    let bent = Curve::polygon(&[[0.0, 0.0], [100.0, 0.0], [200.0, 0.0], [200.0, 80.0], [0.0, 80.0]], &[]);
    for join in [Join::Mitred, Join::Round] {
        let cut = bent.cut_outline(&by_edge(&[10.0, 30.0, 0.0, 0.0, 0.0], join)).unwrap();
        let expected = [(0.0, -10.0), (100.0, -10.0), (100.0, -30.0), (200.0, -30.0), (200.0, 80.0), (0.0, 80.0)];
        assert_eq!(corners(&cut), expected, "{join:?}");
    }
}

#[test]
fn a_wide_allowance_beside_a_narrow_one_is_never_cut_into() {
    // A bend of 2° either way: drawn out to meet, the lines would run for metres.
    for rise in [-7.0, 7.0] {
        let bent = Curve::polygon(&[[0.0, 0.0], [200.0, rise], [400.0, 0.0], [400.0, 300.0], [0.0, 300.0]], &[]);
        for (first, second) in [(5.0, 60.0), (60.0, 5.0), (0.0, 60.0)] {
            let cut = bent.cut_outline(&by_edge(&[first, second, 0.0, 0.0, 0.0], Join::Mitred)).unwrap();
            let bands = 200.0 * (first + second);
            let extra = cut.area() - bent.flatten().unwrap().area();
            assert!((extra - bands).abs() < 0.06 * bands, "{rise} {first} {second}: {extra} instead of about {bands}");
        }
    }
}

#[test]
fn sharp_mitres_are_cut_off() {
    let needle = Curve::polygon(&[[0.0, -10.0], [400.0, 0.0], [0.0, 10.0]], &[]);
    let cut = needle.cut_outline(&all_round(15.0, Join::Mitred)).unwrap();
    assert!((cut.bounds().max().x - (400.0 + MITRE_LIMIT * 15.0)).abs() < 1e-9);
    // 60° is drawn out in full: the tip of an equilateral triangle moves by twice the allowance.
    let height = 100.0 * 0.75f64.sqrt();
    let even = Curve::polygon(&[[-50.0, 0.0], [50.0, 0.0], [0.0, height]], &[]);
    let cut = even.cut_outline(&all_round(15.0, Join::Mitred)).unwrap();
    assert!((cut.bounds().max().y - (height + 30.0)).abs() < 1e-9);
    assert_eq!(corners(&cut).len(), 3);
}

#[test]
fn no_allowance_changes_nothing() {
    let curve = Curve::from_svg_path("M 0 0 H 300 A 20 20 0 0 1 300 40 H 0 A 20 20 0 0 1 0 0 Z", 1.0).unwrap();
    let finished = curve.flatten().unwrap();
    for none in [vec![], vec![0.0], vec![0.0; 4]] {
        assert_eq!(curve.cut_outline(&Allowance { by_edge: none, join: Join::Round }).unwrap(), finished);
    }
    assert_eq!(grown(&finished, 0.0, Join::Round).unwrap(), finished);
}

#[test]
fn allowances_that_make_no_sense_are_named() {
    let rect = Curve::rect(10.0, 10.0);
    let fault = rect.cut_outline(&by_edge(&[1.0, 2.0, 3.0], Join::Round)).unwrap_err();
    assert_eq!(fault, OutlineFault::AllowanceCount { given: 3, edges: 4 });
    assert_eq!(fault.to_string(), "3 allowances are given for 4 edges; give one for each edge, or one for all round");
    assert_eq!(rect.cut_outline(&all_round(-1.0, Join::Round)), Err(OutlineFault::Allowance { given: -1.0 }));
    assert!(matches!(rect.cut_outline(&all_round(f64::NAN, Join::Round)), Err(OutlineFault::Allowance { .. })));
    assert!(matches!(grown(&rect.flatten().unwrap(), -0.1, Join::Round), Err(OutlineFault::Allowance { .. })));
}

#[test]
fn holes_keep_their_size_under_an_allowance() {
    let ring = Curve::ring(120.0, 90.0);
    let cut = ring.cut_outline(&all_round(12.0, Join::Round)).unwrap();
    assert_eq!(cut.polygon().interiors(), ring.flatten().unwrap().polygon().interiors());
}

#[test]
fn a_circle_grows_into_a_circle_whatever_the_join() {
    for (diameter, allowance) in [(165.0, 12.7), (50.0, 50.0), (10.0, 200.0)] {
        let radius = diameter / 2.0 + allowance;
        for join in [Join::Mitred, Join::Round] {
            let cut = Curve::circle(diameter).cut_outline(&all_round(allowance, join)).unwrap();
            for edge in cut.polygon().exterior().lines() {
                let nearest = Euclidean.distance(&edge, &Point::new(0.0, 0.0));
                assert!(nearest >= radius - 1e-9, "{diameter} {allowance}: the allowance is cut into");
            }
            let reach = corners(&cut).iter().map(|(x, y)| x.hypot(*y)).fold(0.0, f64::max);
            assert!(reach <= radius + 2.0 * FLATTENING, "{diameter} {allowance}: {reach}");
        }
    }
}

#[test]
fn a_part_of_a_circle_can_have_its_own_allowance() {
    // A half disc: the arc is one edge, the diameter the other.
    let half = Curve::from_svg_path("M 0 0 H 200 A 100 100 0 0 1 0 0 Z", 1.0).unwrap();
    let cut = half.cut_outline(&by_edge(&[0.0, 20.0], Join::Mitred)).unwrap();
    assert_eq!(cut.bounds().min().y, 0.0);
    let expected = PI * 120.0 * 120.0 / 2.0;
    assert!(cut.area() >= expected && cut.area() < expected + 400.0 * 2.0 * FLATTENING, "{}", cut.area());
}

#[test]
fn a_notch_narrower_than_two_allowances_closes() {
    let notched = Curve::polygon(
        &[
            [0.0, 0.0],
            [200.0, 0.0],
            [200.0, 100.0],
            [110.0, 100.0],
            [110.0, 50.0],
            [90.0, 50.0],
            [90.0, 100.0],
            [0.0, 100.0],
        ],
        &[],
    );
    let cut = notched.cut_outline(&all_round(15.0, Join::Mitred)).unwrap();
    assert!((cut.area() - 230.0 * 130.0).abs() < 0.1, "{}", cut.area());
    let open = notched.cut_outline(&all_round(8.0, Join::Mitred)).unwrap();
    assert!((open.area() - (216.0 * 116.0 - 4.0 * 50.0)).abs() < 1e-9, "{}", open.area());
}

#[test]
fn a_keyhole_is_filled_for_the_cut_and_kept_for_the_gap() {
    // A round-ish room behind a narrow neck.
    let keyhole = Curve::polygon(
        &[
            [0.0, 0.0],
            [200.0, 0.0],
            [200.0, 100.0],
            [105.0, 100.0],
            [105.0, 80.0],
            [150.0, 80.0],
            [150.0, 20.0],
            [50.0, 20.0],
            [50.0, 80.0],
            [95.0, 80.0],
            [95.0, 100.0],
            [0.0, 100.0],
        ],
        &[],
    );
    let cut = keyhole.cut_outline(&all_round(6.0, Join::Mitred)).unwrap();
    assert!((cut.area() - 212.0 * 112.0).abs() < 0.1, "{}", cut.area());
    let kept = grown(&keyhole.flatten().unwrap(), 6.0, Join::Mitred).unwrap();
    assert_eq!(kept.polygon().interiors().len(), 1);
    assert!((kept.area() - (212.0 * 112.0 - 88.0 * 48.0)).abs() < 0.1, "{}", kept.area());
}

#[test]
fn holes_shrink_split_and_vanish() {
    // Two rooms with a passage 8 wide.
    let hole = vec![
        [20.0, 20.0],
        [60.0, 20.0],
        [60.0, 46.0],
        [100.0, 46.0],
        [100.0, 20.0],
        [140.0, 20.0],
        [140.0, 80.0],
        [100.0, 80.0],
        [100.0, 54.0],
        [60.0, 54.0],
        [60.0, 80.0],
        [20.0, 80.0],
    ];
    let plate = Curve::polygon(&[[0.0, 0.0], [160.0, 0.0], [160.0, 100.0], [0.0, 100.0]], &[hole]).flatten().unwrap();
    let holes = |distance| grown(&plate, distance, Join::Mitred).unwrap().polygon().interiors().to_vec();
    let area = |ring: &LineString| Polygon::new(ring.clone(), Vec::new()).unsigned_area();
    let one = holes(3.0);
    assert_eq!(one.len(), 1);
    assert!((area(&one[0]) - (2.0 * 34.0 * 54.0 + 46.0 * 2.0)).abs() < 1e-9);
    let two = holes(5.0);
    assert_eq!(two.len(), 2);
    assert!((two.iter().map(area).sum::<f64>() - 2.0 * 30.0 * 50.0).abs() < 0.1);
    assert!(holes(21.0).is_empty());
}

/// Convex polygons with their perimeter.
fn convex() -> impl Strategy<Value = (Outline, f64)> {
    proptest::collection::vec((-500.0..500.0f64, -500.0..500.0f64), 3..30).prop_filter_map("too flat", |points| {
        let hull = MultiPoint::from(points).convex_hull();
        let outline = Outline::new(hull).ok().filter(|outline| outline.area() > 1.0)?;
        let perimeter = outline.perimeter();
        Some((outline, perimeter))
    })
}

/// Jagged polygons round the origin.
fn star() -> impl Strategy<Value = Vec<[f64; 2]>> {
    proptest::collection::vec(20.0..300.0f64, 3..24).prop_map(|radii| {
        let count = radii.len() as f64;
        let bearing = |i: usize| (TAU * i as f64 / count).sin_cos();
        radii.iter().enumerate().map(|(i, r)| [r * bearing(i).1, r * bearing(i).0]).collect()
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(300))]

    /// J. Steiner, Über parallele Flächen (1840): a convex figure of area A and perimeter P, grown round by d, has the
    /// area A + P d + π d² (formula from memory). Arcs lie 0.1 mm too far out at most.
    #[test]
    fn round_growth_follows_steiner((outline, perimeter) in convex(), distance in 0.5..120.0f64) {
        let round = grown(&outline, distance, Join::Round).unwrap();
        let steiner = outline.area() + perimeter * distance + PI * distance * distance;
        let excess = round.area() - steiner;
        prop_assert!(excess >= -1e-6 * steiner, "{excess} mm² are missing");
        prop_assert!(excess <= TAU * (distance + FLATTENING) * FLATTENING, "{excess} mm² too much");
    }

    #[test]
    fn growing_never_loses_the_original(points in star(), distance in 0.1..80.0f64, round: bool) {
        let flattened = Curve::polygon(&points, &[]).flatten();
        prop_assume!(flattened.is_ok());
        let outline = flattened.unwrap();
        let join = if round { Join::Round } else { Join::Mitred };
        let bigger = grown(&outline, distance, join).unwrap();
        let lost = outline.polygon().difference(bigger.polygon()).unsigned_area();
        prop_assert!(lost < outline.perimeter() * GRID, "{lost} mm² lost");
        // Every new edge keeps its distance from the old ones.
        for edge in bigger.polygon().exterior().lines() {
            let near = Euclidean.distance(&edge, outline.polygon().exterior());
            prop_assert!(near >= distance - GRID, "an edge lies only {near} mm away");
        }
        let reach = if round { distance + FLATTENING } else { MITRE_LIMIT * distance * 1.5 };
        for vertex in bigger.polygon().exterior().points() {
            let far = Euclidean.distance(&vertex, outline.polygon().exterior());
            prop_assert!(far <= reach + GRID, "a vertex lies {far} mm away");
        }
    }

    #[test]
    fn a_hole_loses_as_much_all_round(points in star(), distance in 0.1..60.0f64) {
        let frame = [[-400.0, -400.0], [400.0, -400.0], [400.0, 400.0], [-400.0, 400.0]];
        let flattened = Curve::polygon(&frame, &[points]).flatten();
        prop_assume!(flattened.is_ok());
        let outline = flattened.unwrap();
        let bigger = grown(&outline, distance, Join::Round).unwrap();
        for hole in bigger.polygon().interiors() {
            for edge in hole.lines() {
                let near = Euclidean.distance(&edge, &outline.polygon().interiors()[0]);
                prop_assert!(near >= distance - GRID, "an edge lies only {near} mm away");
            }
        }
    }

    /// Samples by kurbo, a general curve library; nowhere may the cut line come nearer to the curve than the allowance.
    #[test]
    fn curves_keep_their_allowance(points in star(), bulge in -60.0..60.0f64, distance in 1.0..60.0f64, round: bool) {
        let count = points.len();
        let mut data = format!("M {} {}", points[0][0], points[0][1]);
        for i in 0..count {
            let (a, b) = (points[i], points[(i + 1) % count]);
            let (dx, dy) = (b[0] - a[0], b[1] - a[1]);
            let out = bulge / dx.hypot(dy);
            let control = [a[0] + dx / 2.0 + out * dy, a[1] + dy / 2.0 - out * dx];
            data += &format!(" Q {} {} {} {}", control[0], control[1], b[0], b[1]);
        }
        let curve = Curve::from_svg_path(&(data.clone() + " Z"), 1.0).unwrap();
        prop_assume!(curve.flatten().is_ok());
        let join = if round { Join::Round } else { Join::Mitred };
        let cut = curve.cut_outline(&all_round(distance, join)).unwrap();
        let path = BezPath::from_svg(&data).unwrap();
        let samples: Vec<(f64, f64)> = path
            .segments()
            .flat_map(|segment| (0..40).map(move |i| segment.eval(f64::from(i) / 40.0)))
            .map(|p| (p.x, p.y))
            .collect();
        // A curve may cross itself by less than the flattening without its polygon doing so.
        prop_assume!(Outline::new(Polygon::new(LineString::from(samples.clone()), Vec::new())).is_ok());
        for sample in samples {
            let near = Euclidean.distance(&Point::from(sample), cut.polygon().exterior());
            prop_assert!(near >= distance - GRID, "the cut line comes as near as {near} mm");
        }
    }

    #[test]
    fn allowances_by_edge_are_kept(
        points in star(),
        distances in proptest::collection::vec(prop_oneof![Just(0.0), 1.0..60.0f64], 24),
        round: bool,
    ) {
        let curve = Curve::polygon(&points, &[]);
        let flattened = curve.flatten();
        prop_assume!(flattened.is_ok());
        let join = if round { Join::Round } else { Join::Mitred };
        let cut = curve.cut_outline(&by_edge(&distances[..points.len()], join)).unwrap();
        let finished = flattened.unwrap();
        let lost = finished.polygon().difference(cut.polygon()).unsigned_area();
        prop_assert!(lost < 0.1, "{lost} mm² of the piece lost");
        for (i, distance) in distances[..points.len()].iter().enumerate() {
            let (a, b) = (points[i], points[(i + 1) % points.len()]);
            let (dx, dy) = (b[0] - a[0], b[1] - a[1]);
            let length = dx.hypot(dy);
            let out = Coord { x: dy / length, y: -dx / length };
            for share in [0.01, 0.25, 0.5, 0.75, 0.99] {
                let from = Coord { x: a[0] + share * dx, y: a[1] + share * dy };
                let reach = free_way(from, out, *distance, &finished);
                let asked = Point(from + out * (reach - GRID).max(0.0));
                let short = Euclidean.distance(&asked, cut.polygon());
                prop_assert!(short <= GRID, "edge {} lacks {short} mm of its allowance", i + 1);
            }
        }
    }
}

/// How far one can go before the next edge of the outline, `most` at most.
fn free_way(from: Coord<f64>, direction: Coord<f64>, most: f64, outline: &Outline) -> f64 {
    let ray = Line::new(from + direction * 1e-6, from + direction * most.max(1e-6));
    let hits = outline.polygon().exterior().lines().filter_map(|edge| match line_intersection(edge, ray) {
        Some(LineIntersection::SinglePoint { intersection, .. }) => Some(Euclidean.distance(from, intersection)),
        _ => None,
    });
    hits.fold(most, f64::min)
}
