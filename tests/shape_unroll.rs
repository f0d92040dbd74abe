//! The promise: a face that flat cloth can cover is unrolled true to size; of any other it is said what the cloth must give.

use clothwright::shape::{Distances, SpacePoint, UnrollFault, Unrolled, sin_cos_degrees, unroll, unroll_strip};
use geo_types::Coord;
use proptest::prelude::*;
use std::f64::consts::PI;

/// What no length of a developable face may be off by, in millimetres.
const TRUE_LENGTH: f64 = 0.01;

fn apart(flat: &Unrolled, one: usize, other: usize) -> f64 {
    let along = flat.points[other] - flat.points[one];
    along.x.hypot(along.y)
}

fn area(points: &[Coord<f64>]) -> f64 {
    let next = points.iter().cycle().skip(1);
    points.iter().zip(next).map(|(a, b)| a.x * b.y - a.y * b.x).sum::<f64>() / 2.0
}

fn close(a: f64, b: f64, by: f64) {
    assert!((a - b).abs() <= by, "{a} against {b}");
}

/// Nodes on a circle round the z axis, `bays` steps over `degrees`.
fn arc(radius: f64, z: f64, degrees: f64, bays: usize) -> Vec<SpacePoint> {
    let at = |i: usize| {
        let (sin, cos) = sin_cos_degrees(degrees * i as f64 / bays as f64);
        [radius * cos, radius * sin, z]
    };
    (0..=bays).map(at).collect()
}

/// Euclid: the distance of points along a circle is twice the sine of half the angle; a prism unrolls to a rectangle.
#[test]
fn a_cylinder_becomes_a_rectangle() {
    let (radius, height, degrees) = (300.0_f64, 1200.0, 150.0_f64);
    let sheet = radius * degrees.to_radians();
    let mut before = f64::INFINITY;
    for bays in [4, 16, 64] {
        let (bottom, top) = (arc(radius, 0.0, degrees, bays), arc(radius, height, degrees, bays));
        let flat = unroll_strip(&bottom, &top).unwrap();
        let chord = 2.0 * radius * (degrees.to_radians() / 2.0 / bays as f64).sin();
        for i in 0..=bays {
            close(flat.points[i].x, chord * i as f64, 1e-5);
            close(flat.points[i].y, 0.0, 1e-5);
            close(flat.points[2 * bays + 1 - i].x, chord * i as f64, 1e-5);
            close(flat.points[2 * bays + 1 - i].y, height, 1e-5);
        }
        // The true cylinder's sheet is r·φ long; nodes on it come nearer with the square of their number.
        let short = sheet - flat.points[bays].x;
        assert!(short > 0.0 && short < before / 15.0, "{bays} bays: {short}");
        before = short;
    }
    close(before, sheet * (degrees.to_radians() / 64.0).powi(2) / 24.0, 1e-4);
}

/// A cone frustum with radii r and R and slant s unrolls to a sector of a ring: radii s·r/(R − r) and s·R/(R − r), angle
/// φ·(R − r)/s (elementary solid geometry).
#[test]
fn a_cone_frustum_becomes_a_sector() {
    let (small, large, height, degrees) = (150.0_f64, 400.0_f64, 900.0_f64, 120.0_f64);
    let slant = (large - small).hypot(height);
    let [inner, outer] = [small, large].map(|radius| slant * radius / (large - small));
    let bays = 96;
    let flat = unroll_strip(&arc(large, 0.0, degrees, bays), &arc(small, height, degrees, bays)).unwrap();
    // All nodes of a frustum of a pyramid lie on the two circles round its apex.
    let step = flat.points[1].x;
    let apex = Coord { x: step / 2.0, y: (outer * outer - step * step / 4.0).sqrt() };
    for (i, point) in flat.points.iter().enumerate() {
        let radius = (*point - apex).x.hypot((*point - apex).y);
        close(radius, if i <= bays { outer } else { inner }, 1e-4);
    }
    let angle = degrees.to_radians() * (large - small) / slant;
    let straight = |radius: f64| 2.0 * radius * (angle / 2.0).sin();
    close(apart(&flat, 0, bays), straight(outer), 0.05);
    close(apart(&flat, bays + 1, 2 * bays + 1), straight(inner), 0.05);
    let sector = angle / 2.0 * (outer * outer - inner * inner);
    close(area(&flat.points) / sector, 1.0, 1e-4);
}

#[test]
fn a_flat_quadrilateral_keeps_everything_wherever_it_lies() {
    let flat_points = [[0.0, 0.0], [900.0, 0.0], [700.0, 400.0], [100.0, 350.0]];
    let (sin, cos) = sin_cos_degrees(37.0);
    // Turned about x, then about z, then moved.
    let ring = flat_points.map(|[x, y]| {
        let [y, z] = [cos * y, sin * y];
        [cos * x - sin * y + 5000.0, sin * x + cos * y - 300.0, z + 40.0]
    });
    let flat = unroll(&ring, &[]).unwrap();
    for (point, [x, y]) in flat.points.iter().zip(flat_points) {
        close(point.x, x, 1e-6);
        close(point.y, y, 1e-6);
    }
    assert!(flat.worst().unwrap().give().abs() < 1e-6);
    // A notch is no hindrance.
    let notched = [[0.0, 0.0, 0.0], [0.0, 600.0, 0.0], [0.0, 600.0, 500.0], [0.0, 300.0, 200.0], [0.0, 0.0, 500.0]];
    let flat = unroll(&notched, &[]).unwrap();
    close(area(&flat.points), 600.0 * 200.0 + 600.0 * 300.0 / 2.0, 1e-3);
}

/// A square of side a with two opposite corners raised by h: each side is √(a² + h²), so that the flat cloth, a square by
/// symmetry, has diagonals √2·√(a² + h²), where those in space measure √2·a.
#[test]
fn a_twisted_square_shares_its_give_between_both_diagonals() {
    let (side, raised) = (1000.0_f64, 100.0_f64);
    let ring = [[0.0, 0.0, 0.0], [side, 0.0, raised], [side, side, 0.0], [0.0, side, raised]];
    let flat = unroll(&ring, &[]).unwrap();
    let ways: Vec<&Distances> = flat.distances.iter().filter(|pair| !pair.side).collect();
    assert_eq!(ways.len(), 2);
    for way in ways {
        close(way.give(), 2.0_f64.sqrt() * (side.hypot(raised) - side), 1e-4);
        close(way.share(), 1.0 - side / side.hypot(raised), 1e-7);
    }
    for pair in flat.distances.iter().filter(|pair| pair.side) {
        close(pair.give(), 0.0, 1e-4);
        close(pair.in_space, side.hypot(raised), 1e-9);
    }
}

/// Folded along either diagonal, a twisted quadrilateral is two triangles, which unfold exactly.
#[test]
fn a_member_along_the_diagonal_takes_the_twist_out() {
    let ring = [[0.0, 0.0, 0.0], [1000.0, 0.0, 100.0], [1000.0, 800.0, 0.0], [0.0, 700.0, 90.0]];
    for across in [[0, 2], [1, 3]] {
        let flat = unroll(&ring, &[across]).unwrap();
        assert_eq!(flat.bays.len(), 2);
        assert!(flat.distances.iter().all(|pair| pair.side && pair.give().abs() < 1e-6));
    }
}

/// A hexagon bent into a saddle fits no plane and has no closed form: its sides still keep their lengths.
#[test]
fn a_saddle_of_six_nodes_keeps_its_sides() {
    let mut ring = arc(800.0, 0.0, 300.0, 5);
    ring.iter_mut().enumerate().for_each(|(i, node)| node[2] = if i % 2 == 0 { 60.0 } else { -60.0 });
    let flat = unroll(&ring, &[]).unwrap();
    for pair in flat.distances.iter().filter(|pair| pair.side) {
        close(pair.give(), 0.0, 1e-3);
    }
    let worst = flat.worst().unwrap();
    assert!(!worst.side && worst.share() > 0.001 && worst.share() < 0.05, "{worst:?}");
}

#[test]
fn what_is_no_face_is_said_plainly() {
    let node = |x: f64, y: f64| [x, y, 0.0];
    let square = [node(0.0, 0.0), node(9.0, 0.0), node(9.0, 9.0), node(0.0, 9.0)];
    let says = |ring: &[SpacePoint], across: &[[usize; 2]]| unroll(ring, across).unwrap_err().to_string();
    assert_eq!(says(&square[..2], &[]), "a face needs three nodes or more, here are 2");
    let nowhere = [square[0], square[1], [f64::NAN, 0.0, 0.0]];
    assert!(says(&nowhere, &[]).starts_with("node 3 of the ring is no place"));
    let twice = [square[0], square[1], square[2], square[0]];
    assert!(says(&twice, &[]).starts_with("nodes 1 and 4 of the ring lie in the same place"));
    assert!(says(&square, &[[0, 4]]).contains("ends at node 5, the ring has 4"));
    assert!(says(&square, &[[0, 2], [1, 3]]).starts_with("the member from node 2 to node 4 crosses"));
    let line = [square[0], square[1], node(20.0, 0.0)];
    assert!(says(&line, &[]).contains("bay between nodes 1, 2, 3 has no area"));
    let unlike = unroll_strip(&square[..2], &square).unwrap_err();
    assert_eq!(unlike, UnrollFault::UnlikeChains { lower: 2, upper: 4 });
}

/// A strip drawn on the flat and then folded along each rung: the same strip must come back.
fn folded_strip() -> impl Strategy<Value = (Vec<Coord<f64>>, Vec<SpacePoint>)> {
    let rung = (200.0..900.0_f64, -80.0..80.0_f64, 300.0..1100.0_f64, -60.0..60.0_f64);
    prop::collection::vec(rung, 2..9).prop_map(|rungs| {
        let mut x = 0.0;
        let (mut lower, mut upper, mut folds) = (Vec::new(), Vec::new(), Vec::new());
        for (step, lean, height, fold) in rungs {
            x += step;
            lower.push(Coord { x, y: -height / 3.0 });
            upper.push(Coord { x: x + lean, y: height });
            folds.push(fold);
        }
        let count = lower.len();
        let flat: Vec<Coord<f64>> = lower.iter().chain(upper.iter().rev()).copied().collect();
        let mut space: Vec<SpacePoint> = flat.iter().map(|point| [point.x, point.y, 0.0]).collect();
        for i in 1..count - 1 {
            let (foot, head) = (space[i], space[2 * count - 1 - i]);
            for node in &mut space[i + 1..2 * count - 1 - i] {
                *node = turned(*node, foot, head, folds[i]);
            }
        }
        (flat, space)
    })
}

/// A point turned about the line through two others (Rodrigues' formula).
fn turned(point: SpacePoint, foot: SpacePoint, head: SpacePoint, degrees: f64) -> SpacePoint {
    let (sin, cos) = (degrees * PI / 180.0).sin_cos();
    let size = (0..3).map(|k| (head[k] - foot[k]).powi(2)).sum::<f64>().sqrt();
    let axis: SpacePoint = std::array::from_fn(|k| (head[k] - foot[k]) / size);
    let arm: SpacePoint = std::array::from_fn(|k| point[k] - foot[k]);
    let along: f64 = (0..3).map(|k| axis[k] * arm[k]).sum();
    std::array::from_fn(|k| {
        let (a, b) = ((k + 1) % 3, (k + 2) % 3);
        let square = axis[a] * arm[b] - axis[b] * arm[a];
        foot[k] + cos * arm[k] + sin * square + (1.0 - cos) * along * axis[k]
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(200))]

    #[test]
    fn a_developable_face_keeps_every_length((flat, space) in folded_strip()) {
        let count = flat.len() / 2;
        let across: Vec<[usize; 2]> = (1..count - 1).map(|i| [i, 2 * count - 1 - i]).collect();
        let unrolled = unroll(&space, &across).unwrap();
        for pair in &unrolled.distances {
            prop_assert!(pair.give().abs() < TRUE_LENGTH, "{:?}", pair);
        }
        for one in 0..flat.len() {
            for other in 0..one {
                let along = flat[one] - flat[other];
                let off = apart(&unrolled, one, other) - along.x.hypot(along.y);
                prop_assert!(off.abs() < TRUE_LENGTH, "nodes {} and {} are off by {}", one, other, off);
            }
        }
    }

    #[test]
    fn a_twisted_bay_keeps_its_sides_and_is_nowhere_short(
        heights in prop::array::uniform4(-120.0..120.0_f64),
        width in 400.0..1200.0_f64,
        height in 400.0..1200.0_f64,
    ) {
        let corners = [[0.0, 0.0], [width, 0.0], [width * 0.9, height], [0.0, height * 0.8]];
        let ring: Vec<SpacePoint> = corners.iter().zip(heights).map(|([x, y], z)| [*x, *y, z]).collect();
        let flat = unroll(&ring, &[]).unwrap();
        for pair in &flat.distances {
            if pair.side {
                prop_assert!(pair.give().abs() < TRUE_LENGTH, "{:?}", pair);
            } else {
                prop_assert!(pair.give() > -TRUE_LENGTH, "{:?}", pair);
            }
        }
    }
}
