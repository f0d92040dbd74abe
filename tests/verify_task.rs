//! The engine's answer is held against its question: every way of spoiling it is found and named.

mod support;

use clothwright::nest::{Cloth, ClothLay, Ending, Lay, Piece, Placed, Task, Unplaced};
use clothwright::shape::Pose;
use clothwright::verify::{Fault, verify_task};
use support::{along, at, ell, piece, rect, roll, turned};

fn question() -> Task {
    let offcut = Cloth { length: Some(200.0), count: 2, price: 0.0, ..roll(200.0) };
    let on_roll = Piece { cloths: Some(vec![1]), ..piece(rect(500.0, 100.0), 1, along()) };
    support::task(vec![offcut, roll(300.0)], vec![piece(ell(90.0), 3, along()), on_roll])
}

fn placed(piece: usize, copy: u32, pose: Pose) -> Placed {
    Placed { piece, copy, pose }
}

fn answer() -> Lay {
    let hooked = vec![placed(0, 1, at(0.0, 0.0)), placed(0, 2, turned(180.0, 120.0, 90.0))];
    Lay {
        cloths: vec![
            ClothLay { cloth: 0, number: 1, placed: hooked, length_used: 120.0 },
            ClothLay { cloth: 1, number: 1, placed: vec![placed(1, 1, at(0.0, 200.0))], length_used: 500.0 },
        ],
        unplaced: vec![Unplaced { piece: 0, copy: 3, why: "left out to see whether it is missed".into() }],
        ending: Ending::EffortSpent,
        trials: 0,
    }
}

fn spoil(spoil: impl FnOnce(&mut Lay)) -> Vec<String> {
    let mut lay = answer();
    spoil(&mut lay);
    verify_task(&question(), &lay).iter().map(ToString::to_string).collect()
}

#[test]
fn a_sound_answer_has_no_faults() {
    assert_eq!(spoil(|_| ()), [""; 0]);
}

#[test]
fn each_fault_is_named() {
    let one = |found: Vec<String>, expected: &str| assert_eq!(found, [expected]);
    let overlap = spoil(|lay| lay.cloths[0].placed[1].pose.at.x -= 0.02);
    assert_eq!(overlap.len(), 2, "{overlap:#?}");
    let words = "cloth 0, number 1: piece 0, copy 1 overlaps piece 0, copy 2 by 0.02 mm near x ";
    assert!(overlap[0].starts_with(words), "{overlap:#?}");
    assert_eq!(overlap[1], "cloth 0, number 1: the length used is given as 120 mm, and is 119.98 mm");
    one(
        spoil(|lay| lay.cloths[0].placed[1].pose.flipped = true),
        "cloth 0, number 1: piece 0, copy 2 lies face down, but the piece may not be flipped",
    );
    one(spoil(|lay| lay.unplaced.clear()), "piece 0, copy 3 is missing: it has no place and is not listed as unplaced");
    one(spoil(|lay| lay.unplaced[0].why.clear()), "piece 0, copy 3 is unplaced and no reason is given");
    one(
        spoil(|lay| lay.cloths[1].length_used = 499.9),
        "cloth 1, number 1: the length used is given as 499.9 mm, and is 500 mm",
    );
    one(
        spoil(|lay| lay.cloths[0].number = 3),
        "cloth 0, number 3: there is no such cloth: the job has 2 of it, numbered from 1",
    );
    one(spoil(|lay| lay.cloths[0].cloth = 2), "the job has no cloth named \"cloth 2\"");
    one(
        spoil(|lay| lay.unplaced.push(Unplaced { piece: 2, copy: 1, why: "none".into() })),
        "the job has no piece named \"piece 2\"",
    );
}

#[test]
fn a_piece_keeps_to_its_cloths() {
    let moved = |lay: &mut Lay| {
        let strip = lay.cloths[1].placed.remove(0);
        lay.cloths[1] = ClothLay { cloth: 0, number: 2, placed: vec![strip], length_used: 500.0 };
    };
    let found = spoil(moved);
    assert_eq!(found.len(), 3, "{found:#?}");
    assert!(found[0].contains("over the upper edge") && found[1].contains("over the end of the cloth"));
    assert_eq!(found[2], "cloth 0, number 2: piece 1, copy 1 may not be cut from this cloth");
}

#[test]
fn a_length_that_is_no_number_is_a_fault() {
    let mut lay = answer();
    lay.cloths[0].length_used = f64::NAN;
    let found = verify_task(&question(), &lay);
    assert!(matches!(found[..], [clothwright::verify::Finding { fault: Fault::WrongFigure { .. }, .. }]));
}
