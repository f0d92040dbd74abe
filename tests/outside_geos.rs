//! The independent check against GEOS, the geometry engine of the open geographic world (OSGeo GEOS, libgeos.org).
//!
//! GEOS decides with distances, intersections and inward buffers, by ways of its own.

mod support;

use clothwright::nest::{Cloth, Turns};
use clothwright::shape::{Outline, Pose};
use clothwright::verify::{Fault, Laid, Named, TOLERANCE, check_cloth};
use geos::{Geom, Geometry};
use rand::{RngExt, SeedableRng};
use rand_xoshiro::Xoshiro256PlusPlus;
use support::{polygon, roll, turned};

/// Segments to a quarter circle in buffers.
const FINENESS: i32 = 64;

type Rng = Xoshiro256PlusPlus;
type Place<'a> = (&'a Outline, Pose);

/// A random star, sometimes with the same star, smaller, as its hole.
fn star(rng: &mut Rng) -> Outline {
    let corners = rng.random_range(3..24);
    let spread = rng.random_range(0.1..0.9);
    let points: Vec<[f64; 2]> = (0..corners)
        .map(|corner| {
            let (sin, cos) = clothwright::shape::sin_cos_degrees(360.0 * f64::from(corner) / f64::from(corners));
            let radius = 60.0 * (1.0 - spread * rng.random_range(0.0..1.0));
            [radius * cos, radius * sin]
        })
        .collect();
    if rng.random_bool(0.3) {
        let hole = points.iter().rev().map(|[x, y]| [0.6 * x, 0.6 * y]).collect();
        return polygon(&points, &[hole]);
    }
    polygon(&points, &[])
}

fn known((outline, pose): Place) -> Geometry {
    Geometry::try_from(pose.apply_to(outline).polygon()).expect("GEOS takes a polygon")
}

fn found(gap: f64, one: Place, other: Place) -> Option<Fault> {
    let wide = Cloth { usable: [-1e4, 1e4], ..roll(1.0) };
    let shift = |pose: Pose| Pose { at: pose.at + [1000.0, 0.0].into(), ..pose };
    let laid = [one, other].map(|(cut, pose)| Laid {
        name: Named::new("star", 1),
        cut,
        pose: shift(pose),
        turns: &Turns::Any,
        flip: false,
    });
    check_cloth(&Named::new("roll", 1), &wide, gap, &laid).into_iter().map(|finding| finding.fault).next()
}

/// Whether one of two reaches deeper into the other than `depth`.
fn reaches(one: &Geometry, other: &Geometry, depth: f64) -> bool {
    let into = |a: &Geometry, b: &Geometry| {
        let core = b.buffer(-depth, FINENESS).expect("GEOS shrinks a polygon");
        a.intersects(&core).expect("GEOS compares polygons")
    };
    into(one, other) || into(other, one)
}

fn random_place(rng: &mut Rng) -> Pose {
    turned(rng.random_range(0.0..360.0), rng.random_range(-110.0..110.0), rng.random_range(-110.0..110.0))
}

/// Slides the second piece along x from the right until the two only just touch, as GEOS sees it.
fn touching(one: Place, other: Place) -> Pose {
    let fixed = known(one);
    let at = |x: f64| Pose { at: [x, other.1.at.y].into(), ..other.1 };
    let meets = |x: f64| fixed.intersects(&known((other.0, at(x)))).expect("GEOS compares polygons");
    let (mut apart, mut meeting) = (130.0, None);
    while apart > -130.0 && meeting.is_none() {
        if meets(apart - 1.0) {
            meeting = Some(apart - 1.0);
        } else {
            apart -= 1.0;
        }
    }
    let Some(mut meeting) = meeting else { return at(apart) };
    for _ in 0..45 {
        let middle = (apart + meeting) / 2.0;
        if meets(middle) {
            meeting = middle;
        } else {
            apart = middle;
        }
    }
    at(apart)
}

#[test]
fn random_overlaps_are_as_deep_as_in_geos() {
    let mut rng = Rng::seed_from_u64(1);
    let (mut overlaps, mut clear) = (0, 0);
    for case in 0..1500 {
        let (a, b) = (star(&mut rng), star(&mut rng));
        let (one, other) = ((&a, turned(0.0, 0.0, 0.0)), (&b, random_place(&mut rng)));
        let (first, second) = (known(one), known(other));
        match found(0.0, one, other) {
            Some(Fault::Overlap { depth, .. }) => {
                overlaps += 1;
                let slack = 0.002 + 5e-4 * depth;
                assert!(reaches(&first, &second, (depth - slack).max(0.0)), "case {case}: {depth} is too deep");
                let shared = first.intersection(&second).and_then(|shared| shared.area()).expect("GEOS intersects");
                assert!(shared > 0.0, "case {case}");
                // Deep overlaps are measured along the cut lines only, where they are at least so deep.
                if depth < 1.0 {
                    assert!(!reaches(&first, &second, depth + slack), "case {case}: {depth} is not deep enough");
                }
            }
            None => {
                clear += 1;
                assert!(!reaches(&first, &second, TOLERANCE * 1.01), "case {case}: an overlap was missed");
            }
            other => panic!("case {case}: {other:?}"),
        }
    }
    assert!(overlaps > 300 && clear > 300, "{overlaps} overlaps, {clear} clear");
}

#[test]
fn pieces_that_only_just_touch_get_the_verdict_of_geos() {
    let mut rng = Rng::seed_from_u64(2);
    let (mut overlaps, mut clear) = (0, 0);
    for case in 0..400 {
        let (a, b) = (star(&mut rng), star(&mut rng));
        let one = (&a, turned(0.0, 0.0, 0.0));
        let contact = touching(one, (&b, random_place(&mut rng)));
        for push in [0.0, 0.005, 0.0095, 0.0105, 0.013, 0.02, 0.05, 0.3] {
            let pushed = (&b, Pose { at: contact.at - [push, 0.0].into(), ..contact });
            let (first, second) = (known(one), known(pushed));
            let verdicts = [0.99, 1.01].map(|share| reaches(&first, &second, share * TOLERANCE));
            if verdicts[0] == verdicts[1] {
                let ours = found(0.0, one, pushed).is_some();
                assert_eq!(ours, verdicts[0], "case {case}, pushed by {push}");
                if ours { overlaps += 1 } else { clear += 1 }
            }
        }
    }
    assert!(overlaps > 300 && clear > 300, "{overlaps} overlaps, {clear} clear");
}

#[test]
fn distances_are_those_of_geos() {
    let mut rng = Rng::seed_from_u64(3);
    let mut apart = 0;
    for case in 0..1500 {
        let (a, b) = (star(&mut rng), star(&mut rng));
        let (one, other) = ((&a, turned(0.0, 0.0, 0.0)), (&b, random_place(&mut rng)));
        let theirs = known(one).distance(&known(other)).expect("GEOS measures");
        match found(200.0, one, other) {
            Some(Fault::GapNotKept { distance, .. }) => {
                apart += 1;
                assert!((distance - theirs).abs() < 1e-9, "case {case}: {distance} and {theirs}");
            }
            Some(Fault::Overlap { .. }) => assert_eq!(theirs, 0.0, "case {case}"),
            other => panic!("case {case}: {other:?}"),
        }
    }
    assert!(apart > 300, "{apart}");
}

/// A lay of many sorts of pieces, as the engine gives it, is sound in the eyes of GEOS too.
#[test]
fn lays_of_the_engine_are_sound_in_geos() {
    let mut rng = Rng::seed_from_u64(4);
    for gap in [0.0, 3.0] {
        let mut pieces: Vec<_> = (0..10).map(|_| support::piece(star(&mut rng), 2, Turns::Any)).collect();
        pieces.push(support::piece(support::ell(90.0), 6, support::quarter_turns()));
        pieces.push(support::piece(support::ring(150.0, 90.0, 36), 2, support::along()));
        pieces.push(support::piece(support::disc(40.0, 24), 8, support::along()));
        let task = clothwright::nest::Task { gap, ..support::task(vec![roll(400.0)], pieces) };
        let lay = support::sound_lay(&task, &support::effort(1, 1));
        let laid: Vec<Geometry> = lay.cloths[0]
            .placed
            .iter()
            .map(|placed| known((&task.pieces[placed.piece].outline, placed.pose)))
            .collect();
        assert_eq!(laid.len(), 36);
        let sheet = [[0.0, 0.0], [lay.cloths[0].length_used, 0.0], [lay.cloths[0].length_used, 400.0], [0.0, 400.0]];
        let sheet = known((&polygon(&sheet, &[]), support::at(0.0, 0.0))).buffer(TOLERANCE, 1).expect("GEOS grows");
        for (index, one) in laid.iter().enumerate() {
            assert!(sheet.covers(one).expect("GEOS compares"), "a piece lies outside the strip that is used");
            for other in &laid[..index] {
                assert!(!reaches(one, other, TOLERANCE * 1.01));
                assert!(one.distance(other).expect("GEOS measures") >= gap - TOLERANCE * 1.01);
            }
        }
    }
}
