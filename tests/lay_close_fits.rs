//! Pieces that only just fit, cloth of which little may be used, and very many kinds: the lay is still sound and complete.

mod support;

use std::time::{Duration, Instant};

use clothwright::nest::{Cloth, Task, Turns};
use clothwright::verify::TOLERANCE;
use support::{along, effort, length, piece, polygon, rect, roll, sound_lay, task, unturned};

fn offcut(length: f64, width: f64) -> Cloth {
    Cloth { length: Some(length), price: 0.0, ..roll(width) }
}

/// The gap lies between pieces; a corner that touches the edge of the cloth needs none there.
#[test]
fn a_piece_that_touches_both_edges_with_its_corners_has_room() {
    let diamond = polygon(&[[0.0, 250.0], [250.0, 0.0], [500.0, 250.0], [250.0, 500.0]], &[]);
    for gap in [0.0, 3.0, 30.0] {
        let lay = sound_lay(
            &Task { gap, ..task(vec![roll(500.0)], vec![piece(diamond.clone(), 2, along())]) },
            &effort(0, 1),
        );
        assert!(lay.unplaced.is_empty(), "gap {gap}: {:?}", lay.unplaced);
    }
}

#[test]
fn a_piece_that_all_but_fills_an_offcut_with_an_outline_needs_no_gap_round_it() {
    let region = polygon(&[[0.0, 0.0], [300.0, 0.0], [300.0, 300.0], [0.0, 300.0]], &[]);
    let cloth = Cloth { region: Some(region), ..offcut(300.0, 300.0) };
    let lay = sound_lay(
        &Task { gap: 5.0, ..task(vec![cloth], vec![piece(rect(298.0, 298.0), 1, unturned())]) },
        &effort(1, 1),
    );
    assert!(lay.unplaced.is_empty(), "{:?}", lay.unplaced);
}

/// A key as wide as the slot that it belongs in: without the slot it would lie beside the piece.
#[test]
fn a_slot_just_as_wide_as_a_piece_is_room_for_it() {
    let slotted = [[0.0, 0.0], [700.0, 0.0], [700.0, 400.0], [300.0, 400.0], [300.0, 600.0], [700.0, 600.0]];
    let slotted = polygon(&[slotted.as_slice(), &[[700.0, 1000.0], [0.0, 1000.0]]].concat(), &[]);
    let pieces = vec![piece(slotted, 1, along()), piece(rect(400.0, 200.0), 1, along())];
    let lay = sound_lay(&task(vec![roll(1000.0)], pieces), &effort(1, 1));
    let found = length(&lay);
    assert!((found - 700.0).abs() <= TOLERANCE, "{found}");
}

#[test]
fn pieces_keep_inside_an_outline_that_is_a_small_part_of_the_cloth() {
    let corner = polygon(&[[0.0, 0.0], [300.0, 0.0], [300.0, 300.0], [0.0, 300.0]], &[]);
    let cloth = Cloth { region: Some(corner.clone()), ..offcut(20_000.0, 1780.0) };
    let endless = Cloth { region: Some(corner), ..roll(1780.0) };
    for cloth in [cloth, endless] {
        let lay = sound_lay(&task(vec![cloth], vec![piece(rect(140.0, 140.0), 9, unturned())]), &effort(0, 1));
        let placed: usize = lay.cloths.iter().map(|cloth| cloth.placed.len()).sum();
        assert_eq!((placed, lay.unplaced.len()), (4, 5));
    }
}

/// Each kind that may turn freely is several shapes, and every two shapes have a no-fit polygon.
#[test]
fn hundreds_of_kinds_are_laid_on_an_offcut_that_is_too_small_for_all() {
    let kinds = (0..420)
        .map(|k| piece(polygon(&[[0.0, 0.0], [60.0 + 0.1 * f64::from(k), 0.0], [20.0, 50.0]], &[]), 1, Turns::Any));
    let lay = sound_lay(&task(vec![offcut(500.0, 500.0), roll(1780.0)], kinds.collect()), &effort(1, 1));
    assert!(lay.unplaced.is_empty(), "{:?}", lay.unplaced);
}

/// The first lay of long pieces on narrow cloth must not depend on how often the width goes into the length.
#[test]
fn long_strips_on_narrow_cloth_are_laid_at_once() {
    let strips = (0..12).map(|k| piece(rect(1000.0 + 37.0 * f64::from(k), 50.0), 1, along())).collect();
    let (question, start) = (task(vec![roll(50.0)], strips), Instant::now());
    let lay = sound_lay(&question, &effort(0, 1));
    assert!(lay.unplaced.is_empty());
    assert!(start.elapsed() < Duration::from_secs(20), "{:?}", start.elapsed());
}
