//! The order of cutting: every piece once, large before small, pairs together, nothing stranded that need not be.

use clothwright::plan::{LaidCloth, LaidPiece, cutting_order};
use proptest::prelude::*;

fn rect(piece: &str, x: f64, y: f64, long: f64, high: f64) -> LaidPiece {
    LaidPiece {
        piece: piece.into(),
        copy: 1,
        turn: 0.0,
        flipped: false,
        at: [x, y],
        outline: vec![[x, y], [x + long, y], [x + long, y + high], [x, y + high]],
        holes: Vec::new(),
    }
}

fn cloth(pieces: Vec<LaidPiece>) -> LaidCloth {
    let length_used = pieces.iter().flat_map(|piece| &piece.outline).map(|point| point[0]).fold(0.0, f64::max);
    LaidCloth {
        cloth: "roll".into(),
        number: 1,
        width: 1800.0,
        usable: [0.0, 1800.0],
        length_used,
        waste: 0.0,
        density: 1.0,
        pieces,
    }
}

#[test]
fn large_pieces_come_first() {
    let laid = cloth(vec![
        rect("patch", 0.0, 0.0, 100.0, 100.0),
        rect("side", 0.0, 200.0, 3000.0, 800.0),
        rect("gusset", 200.0, 0.0, 300.0, 150.0),
    ]);
    assert_eq!(cutting_order(&laid), [1, 2, 0]);
}

/// A panel over the whole width parts the cloth: what lies nearer to the end is cut before it, however small.
#[test]
fn what_a_wide_panel_would_part_from_the_roll_is_cut_before_it() {
    let laid = cloth(vec![
        rect("doily", 50.0, 300.0, 160.0, 160.0),
        rect("wing", 300.0, 0.0, 4000.0, 1800.0),
        rect("gusset", 4400.0, 100.0, 200.0, 200.0),
    ]);
    assert_eq!(cutting_order(&laid), [2, 0, 1]);
}

/// A panel that leaves a strip of 40 mm would leave all that lies nearer to the end hanging on it.
#[test]
fn no_large_piece_is_left_on_a_narrow_strip() {
    let laid = cloth(vec![
        rect("aileron", 0.0, 200.0, 2000.0, 700.0),
        rect("wing", 2100.0, 40.0, 5000.0, 1720.0),
        rect("fin", 7300.0, 100.0, 900.0, 600.0),
    ]);
    assert_eq!(cutting_order(&laid), [0, 1, 2]);
}

#[test]
fn a_pair_is_cut_together() {
    let laid = cloth(vec![
        rect("elevator", 0.0, 0.0, 1000.0, 500.0),
        rect("fin", 0.0, 600.0, 1000.0, 499.0),
        rect("elevator", 1100.0, 0.0, 1000.0, 500.0),
    ]);
    assert_eq!(cutting_order(&laid), [0, 2, 1]);
}

/// A piece in the notch of another is cut before it, and a piece in its hole too.
#[test]
fn what_another_surrounds_is_cut_before_it() {
    let barrier = LaidPiece {
        outline: vec![[0.0, 0.0], [1000.0, 0.0], [1000.0, 1800.0], [900.0, 1800.0], [900.0, 100.0], [0.0, 100.0]],
        ..rect("corner", 0.0, 0.0, 1.0, 1.0)
    };
    let laid =
        cloth(vec![barrier, rect("patch", 300.0, 800.0, 90.0, 90.0), rect("gusset", 1200.0, 300.0, 100.0, 200.0)]);
    assert_eq!(cutting_order(&laid), [2, 1, 0]);
}

proptest! {
    #[test]
    fn every_piece_is_cut_once(boxes in prop::collection::vec((0.0_f64..5000.0, 0.0_f64..1500.0, 10.0_f64..900.0, 10.0_f64..300.0), 1..25)) {
        let pieces = boxes.iter().enumerate().map(|(i, (x, y, long, high))| rect(&format!("piece {}", i / 2), *x, *y, *long, *high));
        let laid = cloth(pieces.collect());
        let mut cut = cutting_order(&laid);
        cut.sort_unstable();
        prop_assert_eq!(cut, (0..boxes.len()).collect::<Vec<_>>());
    }
}
