//! Outlines, pieces and cloths that several tests need.

#![allow(dead_code)]

use clothwright::nest::{Budget, Cloth, Lay, Piece, Task, Turns};
use clothwright::shape::{Outline, Pose, sin_cos_degrees};
use clothwright::verify::verify_task;
use geo_types::{Coord, LineString, Polygon};

/// A sound outline from points.
pub fn polygon(points: &[[f64; 2]], holes: &[Vec<[f64; 2]>]) -> Outline {
    let ring = |points: &[[f64; 2]]| LineString::from(points.to_vec());
    let holes = holes.iter().map(|hole| ring(hole)).collect();
    Outline::new(Polygon::new(ring(points), holes)).expect("the test's own polygon is sound")
}

pub fn rect(width: f64, height: f64) -> Outline {
    polygon(&[[0.0, 0.0], [width, 0.0], [width, height], [0.0, height]], &[])
}

/// A regular polygon round the origin, with its corners on a circle.
pub fn disc(diameter: f64, corners: usize) -> Outline {
    polygon(&circle(diameter, corners), &[])
}

/// A ring round the origin; the hole's corners lie on the inner circle.
pub fn ring(outer: f64, inner: f64, corners: usize) -> Outline {
    polygon(&circle(outer, corners), &[circle(inner, corners)])
}

pub fn circle(diameter: f64, corners: usize) -> Vec<[f64; 2]> {
    (0..corners)
        .map(|corner| {
            let (sin, cos) = sin_cos_degrees(360.0 * corner as f64 / corners as f64);
            [cos * diameter / 2.0, sin * diameter / 2.0]
        })
        .collect()
}

/// An L whose arms are a third as wide as it is long.
pub fn ell(size: f64) -> Outline {
    let arm = size / 3.0;
    polygon(&[[0.0, 0.0], [size, 0.0], [size, arm], [arm, arm], [arm, size], [0.0, size]], &[])
}

/// A roll of endless length whose whole width may be used.
pub fn roll(width: f64) -> Cloth {
    Cloth {
        usable: [0.0, width],
        length: None,
        region: None,
        flaws: Vec::new(),
        count: 1,
        price: 1.0,
        faces_alike: false,
    }
}

/// The turns that keep warp along the roll.
pub fn along() -> Turns {
    Turns::These { angles: vec![0.0, 180.0], tilt: 0.0 }
}

/// No turn at all.
pub fn unturned() -> Turns {
    Turns::These { angles: vec![0.0], tilt: 0.0 }
}

pub fn quarter_turns() -> Turns {
    Turns::These { angles: vec![0.0, 90.0, 180.0, 270.0], tilt: 0.0 }
}

pub fn piece(outline: Outline, quantity: u32, turns: Turns) -> Piece {
    Piece { outline, quantity, turns, flip: false, cloths: None }
}

pub fn task(cloths: Vec<Cloth>, pieces: Vec<Piece>) -> Task {
    Task { cloths, pieces, gap: 0.0 }
}

pub fn at(x: f64, y: f64) -> Pose {
    turned(0.0, x, y)
}

pub fn turned(turn: f64, x: f64, y: f64) -> Pose {
    Pose { turn, flipped: false, at: Coord { x, y } }
}

/// A budget without a time limit.
pub fn effort(effort: u64, seed: u64) -> Budget {
    Budget { seed, effort, time: None }
}

/// Lays a task, and fails the test where the independent check finds a fault.
pub fn sound_lay(task: &Task, budget: &Budget) -> Lay {
    let lay = clothwright::nest::lay(task, budget, &()).expect("the task makes sense");
    assert_sound(task, &lay);
    lay
}

pub fn assert_sound(task: &Task, lay: &Lay) {
    let findings: Vec<_> = verify_task(task, lay).iter().map(ToString::to_string).collect();
    assert!(findings.is_empty(), "the independent check refuses the lay: {findings:#?}");
}

/// Length used, summed over all cloths.
pub fn length(lay: &Lay) -> f64 {
    lay.cloths.iter().map(|cloth| cloth.length_used).sum()
}
