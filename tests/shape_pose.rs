//! The promise: a pose flips, then turns, then shifts, and loses nothing on the way.

use clothwright::shape::{Curve, Pose, sin_cos_degrees};
use geo::Area;
use geo_types::{Coord, coord};
use proptest::prelude::*;

fn near(a: Coord<f64>, b: Coord<f64>) -> bool {
    (a.x - b.x).hypot(a.y - b.y) < 1e-9
}

#[test]
fn the_flip_comes_before_the_turn() {
    let point = coord! { x: 3.0, y: 1.0 };
    let pose = |turn, flipped| Pose { turn, flipped, at: coord! { x: 10.0, y: 20.0 } };
    assert_eq!(pose(0.0, false).apply(point), coord! { x: 13.0, y: 21.0 });
    assert_eq!(pose(0.0, true).apply(point), coord! { x: 13.0, y: 19.0 });
    assert_eq!(pose(90.0, false).apply(point), coord! { x: 9.0, y: 23.0 });
    assert_eq!(pose(90.0, true).apply(point), coord! { x: 11.0, y: 23.0 });
    assert_eq!(pose(180.0, true).apply(point), coord! { x: 7.0, y: 21.0 });
    assert_eq!(pose(-90.0, false).apply(point), pose(270.0, false).apply(point));
    assert_eq!(pose(720.0, false).apply(point), pose(0.0, false).apply(point));
}

#[test]
fn the_grain_line_keeps_its_turn_when_a_piece_is_flipped() {
    let along = |flipped| Pose { turn: 30.0, flipped, at: coord! { x: 0.0, y: 0.0 } }.apply(coord! { x: 1.0, y: 0.0 });
    assert_eq!(along(true), along(false));
}

#[test]
fn rings_keep_their_sense_when_flipped() {
    let hole = vec![[20.0, 20.0], [40.0, 20.0], [40.0, 50.0]];
    let outline = Curve::polygon(&[[0.0, 0.0], [100.0, 0.0], [100.0, 70.0], [0.0, 90.0]], &[hole]).flatten().unwrap();
    let moved = Pose { turn: 90.0, flipped: true, at: coord! { x: 5.0, y: 5.0 } }.apply_to(&outline);
    assert_eq!(moved.polygon().signed_area(), outline.area());
    assert_eq!(clothwright::shape::Outline::new(moved.polygon().clone()), Ok(moved));
}

proptest! {
    #[test]
    fn a_pose_can_be_undone_and_keeps_distances(
        turn in -720.0..720.0f64, flipped: bool, at in (-1e4..1e4f64, -1e3..1e3f64),
        a in (-1e3..1e3f64, -1e3..1e3f64), b in (-1e3..1e3f64, -1e3..1e3f64),
    ) {
        let pose = Pose { turn, flipped, at: Coord::from(at) };
        let (a, b) = (Coord::from(a), Coord::from(b));
        prop_assert!(near(pose.inverse_point(pose.apply(a)), a));
        let (before, after) = (a - b, pose.apply(a) - pose.apply(b));
        prop_assert!((before.x.hypot(before.y) - after.x.hypot(after.y)).abs() < 1e-9);
    }

    #[test]
    fn sine_and_cosine_lie_on_the_unit_circle(degrees in -1e4..1e4f64) {
        let (sin, cos) = sin_cos_degrees(degrees);
        prop_assert!((sin.hypot(cos) - 1.0).abs() < 1e-15);
    }
}
