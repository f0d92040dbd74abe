//! The independent check finds every fault of a lay on one cloth, and nothing in a sound one.

mod support;

use clothwright::nest::{Cloth, Turns};
use clothwright::shape::{Outline, Pose};
use clothwright::verify::{Fault, Laid, Named, check_cloth};
use proptest::prelude::*;
use support::{at, circle, disc, polygon, rect, ring, roll, turned};

fn check(cloth: &Cloth, gap: f64, lying: &[(&Outline, Pose)]) -> Vec<Fault> {
    let laid: Vec<_> = lying
        .iter()
        .zip(1..)
        .map(|((cut, pose), copy)| Laid {
            name: Named::new("piece", copy),
            cut,
            pose: *pose,
            turns: &Turns::Any,
            flip: true,
        })
        .collect();
    check_cloth(&Named::new("roll", 1), cloth, gap, &laid).into_iter().map(|finding| finding.fault).collect()
}

/// How far two outlines overlap, when nothing else is wrong.
fn overlap(one: (&Outline, Pose), other: (&Outline, Pose)) -> Option<f64> {
    let wide = Cloth { usable: [-1e6, 1e6], ..roll(1.0) };
    let shift = |(outline, pose): (_, Pose)| (outline, Pose { at: pose.at + [1e4, 0.0].into(), ..pose });
    match check(&wide, 0.0, &[shift(one), shift(other)]).as_slice() {
        [] => None,
        [Fault::Overlap { depth, .. }] => Some(*depth),
        others => panic!("only an overlap was expected: {others:?}"),
    }
}

fn assert_near(found: Option<f64>, expected: f64) {
    let found = found.expect("an overlap should have been found");
    assert!((found - expected).abs() < 0.002, "{found} should be {expected}");
}

#[test]
fn pieces_may_touch_and_may_miss_by_less_than_a_hundredth() {
    let square = rect(50.0, 50.0);
    assert_eq!(overlap((&square, at(0.0, 0.0)), (&square, at(50.0, 7.0))), None);
    assert_eq!(overlap((&square, at(0.0, 0.0)), (&square, at(49.995, 7.0))), None);
    assert_near(overlap((&square, at(0.0, 0.0)), (&square, at(49.98, 7.0))), 0.02);
    assert_near(overlap((&square, at(0.0, 0.0)), (&square, at(30.0, 40.0))), 10.0);
}

#[test]
fn a_slender_tip_is_caught_though_the_shared_area_is_tiny() {
    let slope = polygon(&[[0.0, 0.0], [300.0, 0.0], [300.0, 90.0]], &[]);
    let (length, inwards) = (300f64.hypot(90.0), [90.0, -300.0]);
    for half_width in [1.0, 16.7, 200.0] {
        // A tip along the normal of the slope, with its point a given depth below the middle of it.
        let tip = polygon(&[[0.0, 0.0], [100.0, half_width], [100.0, -half_width]], &[]);
        let direction = 300f64.atan2(-90.0).to_degrees();
        let poke = |depth: f64| {
            let x = 150.0 + depth * inwards[0] / length;
            let y = 45.0 + depth * inwards[1] / length;
            overlap((&slope, at(0.0, 0.0)), (&tip, turned(direction, x, y)))
        };
        assert_eq!(poke(0.0), None);
        assert_eq!(poke(0.0099), None);
        assert_near(poke(0.0101), 0.0101);
        assert_near(poke(0.5), 0.5);
        assert_near(poke(20.0), 20.0);
    }
}

#[test]
fn a_piece_exactly_on_its_twin_is_caught() {
    for outline in [rect(80.0, 50.0), disc(60.0, 64), ring(80.0, 40.0, 48), support::ell(90.0)] {
        assert!(overlap((&outline, at(3.0, 4.0)), (&outline, at(3.0, 4.0))) > Some(1.0));
        assert!(overlap((&outline, at(3.0, 4.0)), (&outline, at(3.003, 4.0))) > Some(1.0));
    }
    let square = polygon(&[[-5.0, -5.0], [5.0, -5.0], [5.0, 5.0], [-5.0, 5.0]], &[]);
    assert!(overlap((&square, at(3.0, 4.0)), (&square, turned(90.0, 3.0, 4.0))) > Some(1.0));
}

#[test]
fn crossing_strips_are_caught_though_no_corner_lies_in_the_other() {
    let strip = rect(400.0, 20.0);
    let crossed = overlap((&strip, at(0.0, 100.0)), (&strip, turned(90.0, 200.0, 0.0)));
    assert_near(crossed, 10.0);
}

#[test]
fn a_piece_inside_another_is_caught_and_one_in_a_hole_is_not() {
    let (plate, washer, small) = (rect(200.0, 200.0), ring(200.0, 100.0, 90), rect(60.0, 60.0));
    assert!(overlap((&plate, at(0.0, 0.0)), (&small, at(70.0, 70.0))) > Some(69.0));
    assert_eq!(overlap((&washer, at(0.0, 0.0)), (&small, at(-30.0, -30.0))), None);
    assert!(overlap((&washer, at(0.0, 0.0)), (&small, at(-10.0, -30.0))) > Some(0.5));
    // A plug that fills the hole exactly touches it everywhere.
    let plug = polygon(&circle(100.0, 90), &[]);
    assert_eq!(overlap((&washer, at(0.0, 0.0)), (&plug, at(0.0, 0.0))), None);
    let fat_plug = polygon(&circle(100.1, 90), &[]);
    assert_near(overlap((&washer, at(0.0, 0.0)), (&fat_plug, at(0.0, 0.0))), 0.05);
}

#[test]
fn the_gap_is_measured_between_cut_lines() {
    let square = rect(50.0, 50.0);
    let lay = |x: f64, gap: f64| check(&roll(100.0), gap, &[(&square, at(0.0, 0.0)), (&square, at(x, 20.0))]);
    assert_eq!(lay(55.0, 5.0), []);
    assert_eq!(lay(54.995, 5.0), []);
    let Fault::GapNotKept { distance, gap, .. } = &lay(54.98, 5.0)[0] else { panic!("the gap is too small") };
    assert!((distance - 4.98).abs() < 1e-9 && *gap == 5.0);
    assert!(matches!(lay(50.0, 5.0)[..], [Fault::GapNotKept { distance: 0.0, .. }]));
    assert!(matches!(lay(48.0, 5.0)[..], [Fault::Overlap { .. }]));
    // Corner to corner, the distance runs diagonally: 3 and 4 make 5.
    let corner = |dx: f64| check(&roll(200.0), 5.0, &[(&square, at(0.0, 0.0)), (&square, at(50.0 + dx, 54.0))]);
    assert_eq!(corner(3.0), []);
    assert!(matches!(corner(2.9)[..], [Fault::GapNotKept { .. }]));
}

#[test]
fn a_tip_that_reaches_over_a_cut_line_is_at_no_distance_from_it() {
    let tip = polygon(&[[0.0, 0.0], [30.0, -20.0], [30.0, 20.0]], &[]);
    let lay = |x: f64| check(&roll(100.0), 0.015, &[(&rect(50.0, 50.0), at(0.0, 0.0)), (&tip, at(x, 25.0))]);
    assert_eq!(lay(50.006), []);
    assert!(matches!(lay(50.004)[..], [Fault::GapNotKept { .. }]));
    // Too shallow for an overlap, and yet no gap at all.
    assert!(matches!(lay(49.992)[..], [Fault::GapNotKept { distance: 0.0, .. }]));
}

#[test]
fn the_gap_holds_in_the_hole_of_a_ring_too() {
    let (washer, small) = (ring(200.0, 100.0, 360), disc(89.0, 360));
    let lay = |gap: f64| check(&roll(300.0), gap, &[(&washer, at(150.0, 150.0)), (&small, at(150.0, 150.0))]);
    assert_eq!(lay(5.0), []);
    assert!(matches!(lay(5.6)[..], [Fault::GapNotKept { .. }]));
}

#[test]
fn edges_and_ends_of_the_cloth_hold() {
    let square = rect(50.0, 50.0);
    let bolt = Cloth { usable: [10.0, 110.0], length: Some(300.0), ..roll(120.0) };
    let lay = |x: f64, y: f64| check(&bolt, 0.0, &[(&square, at(x, y))]);
    assert_eq!(lay(0.0, 10.0), []);
    assert_eq!(lay(250.0, 60.0), []);
    assert_eq!(lay(-0.009, 9.995), []);
    assert!(matches!(lay(0.0, 9.98)[..], [Fault::OverEdge { edge: "lower", .. }]));
    assert!(matches!(lay(0.0, 60.02)[..], [Fault::OverEdge { edge: "upper", .. }]));
    assert!(matches!(lay(-0.02, 20.0)[..], [Fault::OverEnd { end: "start", .. }]));
    assert!(matches!(lay(250.02, 20.0)[..], [Fault::OverEnd { end: "end", .. }]));
    assert_eq!(check(&roll(120.0), 0.0, &[(&square, at(1e5, 0.0))]), []);
}

#[test]
fn an_offcut_with_a_notch_holds_only_what_misses_the_notch() {
    let offcut =
        [[0.0, 0.0], [300.0, 0.0], [300.0, 200.0], [160.0, 200.0], [150.0, 80.0], [140.0, 200.0], [0.0, 200.0]];
    let window = vec![[20.0, 20.0], [60.0, 20.0], [60.0, 60.0], [20.0, 60.0]];
    let cloth = Cloth { region: Some(polygon(&offcut, &[window])), length: Some(300.0), ..roll(200.0) };
    let lay = |outline: &Outline, x, y| check(&cloth, 0.0, &[(outline, at(x, y))]);
    let off = |faults: Vec<Fault>| match faults[..] {
        [Fault::OffCloth { by, .. }] => by,
        _ => panic!("it should lie off the cloth: {faults:?}"),
    };
    assert_eq!(lay(&rect(80.0, 80.0), 61.0, 0.0), []);
    assert_eq!(lay(&rect(240.0, 80.0), 60.0, 0.0), []);
    assert!(off(lay(&rect(240.0, 80.02), 60.0, 0.0)) < 0.03);
    assert!(off(lay(&rect(200.0, 50.0), 100.0, 100.0)) > 3.0);
    assert!(off(lay(&rect(10.0, 10.0), 145.0, 150.0)) > 0.5);
    // Over the window, in it, and exactly on it.
    assert!(off(lay(&rect(100.0, 100.0), 0.0, 0.0)) > 10.0);
    assert!(off(lay(&rect(10.0, 10.0), 30.0, 30.0)) > 10.0);
    assert!(off(lay(&rect(40.0, 40.0), 20.0, 20.0)) > 1.0);
    // A ring may be cut round the window.
    let frame = [[0.0, 0.0], [80.0, 0.0], [80.0, 80.0], [0.0, 80.0]];
    let hole = vec![[20.0, 20.0], [20.0, 60.0], [60.0, 60.0], [60.0, 20.0]];
    assert_eq!(lay(&polygon(&frame, &[hole]), 0.0, 0.0), []);
}

#[test]
fn flaws_may_be_touched_and_ringed_and_never_covered() {
    let flaw = polygon(&[[100.0, 65.0], [140.0, 65.0], [140.0, 105.0], [100.0, 105.0]], &[]);
    let cloth = Cloth { flaws: vec![rect(1.0, 1.0), flaw], ..roll(300.0) };
    let lay = |outline: &Outline, x, y| check(&cloth, 5.0, &[(outline, at(x, y))]);
    let square = rect(40.0, 40.0);
    assert_eq!(lay(&square, 60.0, 40.0), []);
    assert_eq!(lay(&square, 60.005, 40.0), []);
    assert!(matches!(lay(&square, 60.02, 40.0)[..], [Fault::OnFlaw { flaw: 2, .. }]));
    assert!(matches!(lay(&square, 100.0, 65.0)[..], [Fault::OnFlaw { flaw: 2, .. }]));
    assert!(matches!(lay(&rect(200.0, 200.0), 50.0, 10.0)[..], [Fault::OnFlaw { flaw: 2, depth, .. }] if depth > 10.0));
    assert_eq!(lay(&ring(160.0, 80.0, 60), 120.0, 85.0), []);
}

#[test]
fn turns_and_flips_follow_the_grain() {
    let strip = rect(1000.0, 20.0);
    let cloth = Cloth { usable: [-2000.0, 2000.0], faces_alike: true, ..roll(1.0) };
    let lay = |turns: &Turns, turn: f64, flipped: bool, flip: bool, cloth: &Cloth| {
        let pose = Pose { turn, flipped, at: [1500.0, 0.0].into() };
        let laid = Laid { name: Named::new("strip", 1), cut: &strip, pose, turns, flip };
        let found = check_cloth(&Named::new("roll", 1), cloth, 0.0, &[laid]);
        found.into_iter().map(|finding| finding.fault).collect::<Vec<_>>()
    };
    let exact = Turns::These { angles: vec![0.0, 180.0], tilt: 0.0 };
    let loose = Turns::These { angles: vec![0.0, 180.0], tilt: 2.0 };
    for turn in [0.0, 180.0, 360.0, -180.0, 540.0, 1e-5, 359.9999999] {
        assert_eq!(lay(&exact, turn, false, false, &cloth), [], "{turn}");
    }
    for turn in [0.001, 179.9, 90.0, 2.0] {
        assert!(matches!(lay(&exact, turn, false, false, &cloth)[..], [Fault::WrongTurn { .. }]), "{turn}");
    }
    for turn in [2.0, -2.0, 178.0, 182.0] {
        assert_eq!(lay(&loose, turn, false, false, &cloth), [], "{turn}");
    }
    for turn in [2.01, -2.01, 45.0, 177.9] {
        assert!(matches!(lay(&loose, turn, false, false, &cloth)[..], [Fault::WrongTurn { .. }]), "{turn}");
    }
    assert_eq!(lay(&Turns::Any, 33.3, false, false, &cloth), []);
    assert_eq!(lay(&exact, 0.0, true, true, &cloth), []);
    assert!(matches!(lay(&exact, 0.0, true, false, &cloth)[..], [Fault::WrongFlip { .. }]));
    let one_face = Cloth { faces_alike: false, ..cloth };
    assert!(matches!(lay(&exact, 0.0, true, true, &one_face)[..], [Fault::WrongFlip { .. }]));
}

#[test]
fn a_place_that_is_no_number_is_named() {
    let square = rect(50.0, 50.0);
    for pose in [at(f64::NAN, 0.0), at(0.0, f64::INFINITY), turned(f64::NAN, 0.0, 0.0)] {
        let faults = check(&roll(100.0), 0.0, &[(&square, at(0.0, 0.0)), (&square, pose)]);
        assert!(matches!(&faults[..], [Fault::NotFinite { what }] if what == "the place of piece 2"), "{faults:?}");
    }
}

#[test]
fn a_heap_of_pieces_does_not_drown_the_reader() {
    let square = rect(50.0, 50.0);
    let heap: Vec<_> = (0..2000).map(|_| (&square, at(0.0, 0.0))).collect();
    let faults = check(&roll(100.0), 0.0, &heap);
    assert_eq!(faults.len(), 201);
    assert_eq!(faults[200], Fault::More { shown: 200 });
}

#[test]
fn ten_thousand_pieces_take_seconds_at_most() {
    let doily = disc(36.0, 40);
    let panel = rect(36_000.0, 400.0);
    let mut lying: Vec<_> =
        (0..10_000).map(|i| (&doily, at(18.0 + 36.0 * (i % 1000) as f64, 18.0 + 36.0 * (i / 1000) as f64))).collect();
    lying.push((&panel, at(0.0, 360.0)));
    let start = std::time::Instant::now();
    assert_eq!(check(&roll(1000.0), 0.0, &lying), []);
    assert!(start.elapsed().as_secs() < 20, "{:?}", start.elapsed());
    lying[5000].1.at.x += 0.05;
    assert!(!check(&roll(1000.0), 0.0, &lying).is_empty());
}

prop_compose! {
    /// A rectangle cut in two along a zigzag that has one upright stretch, both parts turned together.
    fn two_parts_of_one()(
        steps in proptest::collection::vec((-40.0..40.0f64, 1.0..30.0f64), 0..12),
        more in proptest::collection::vec((-40.0..40.0f64, 1.0..30.0f64), 0..12),
        upright in 2.0..20.0f64,
        turn in 0.0..360.0f64,
    ) -> ([Outline; 2], f64) {
        let mut cut = vec![[100.0, 0.0]];
        let mut y = 0.0;
        for (index, (dx, dy)) in steps.iter().chain(&more).enumerate() {
            if index == steps.len() {
                let x = cut[cut.len() - 1][0];
                y += upright;
                cut.push([x, y]);
            }
            y += dy;
            cut.push([100.0 + dx, y]);
        }
        if more.is_empty() {
            let x = cut[cut.len() - 1][0];
            y += upright;
            cut.push([x, y]);
        }
        let mut left = vec![[0.0, y], [0.0, 0.0]];
        left.extend(&cut);
        let mut right = vec![[200.0, 0.0], [200.0, y]];
        right.extend(cut.iter().rev());
        ([polygon(&left, &[]), polygon(&right, &[])], turn)
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(300))]

    /// The parts of one piece touch all along the cut and overlap nowhere; shifted into each other they do.
    #[test]
    fn parts_of_one_piece_touch_and_shifted_parts_overlap((parts, turn) in two_parts_of_one(), shift in 0.011..30.0f64) {
        let (sin, cos) = clothwright::shape::sin_cos_degrees(turn);
        let place = |shift: f64| turned(turn, 1000.0 - shift * cos, 1000.0 - shift * sin);
        let pair = |shift| overlap((&parts[0], place(0.0)), (&parts[1], place(shift)));
        prop_assert_eq!(pair(0.0), None);
        prop_assert_eq!(pair(0.009), None);
        prop_assert!(pair(shift) >= Some(0.01));
        if shift < 0.9 {
            prop_assert!((pair(shift).unwrap_or(0.0) - shift).abs() < 0.002, "{:?} {}", pair(shift), shift);
        }
        prop_assert_eq!(pair(-shift), None);
    }

    /// Which of two pieces comes first, how they are turned together and how they are numbered does not matter.
    #[test]
    fn overlap_does_not_depend_on_the_point_of_view(
        x in -60.0..60.0f64, y in -60.0..60.0f64, own in 0.0..360.0f64, turn in 0.0..360.0f64,
    ) {
        let (one, other) = (support::ell(60.0), ring(50.0, 30.0, 24));
        let straight = overlap((&one, at(0.0, 0.0)), (&other, turned(own, x, y)));
        let swapped = overlap((&other, turned(own, x, y)), (&one, at(0.0, 0.0)));
        let moved = turned(turn, 0.0, 0.0).apply([x, y].into());
        let together = overlap((&one, turned(turn, 0.0, 0.0)), (&other, turned(turn + own, moved.x, moved.y)));
        let near = |a: Option<f64>, b: Option<f64>| (a.unwrap_or(0.01) - b.unwrap_or(0.01)).abs() < 0.0025;
        prop_assert!(near(straight, swapped), "{straight:?} {swapped:?}");
        prop_assert!(near(straight, together), "{straight:?} {together:?}");
    }
}
