//! Many equal pieces: they lie in straight rows, as a person with a ruler would lay them, and no worse.

mod support;

use clothwright::nest::{Piece, Task, lay};
use support::{along, assert_sound, effort, ell, length, piece, polygon, quarter_turns, roll, sound_lay, task};

/// A gusset: 120 long and 100 high.
fn gussets(quantity: u32) -> Piece {
    piece(polygon(&[[0.0, 0.0], [120.0, 0.0], [40.0, 100.0]], &[]), quantity, along())
}

/// Ten rows on cloth of 1000, each of six pairs: a pair takes 120, and the last one leans over by 40.
#[test]
fn triangles_lie_in_rows_of_pairs() {
    let found = length(&sound_lay(&task(vec![roll(1000.0)], vec![gussets(120)]), &effort(1, 1)));
    assert!(found <= 760.01, "{found}");
}

/// With a gap of 3 a pair takes 3 / cos more for each of its slopes: 3 × 128.06 / 100 and 3 × 107.70 / 100. Nine rows find
/// room, the longest of seven pairs.
#[test]
fn rows_keep_the_gap() {
    let question = Task { gap: 3.0, ..task(vec![roll(1000.0)], vec![gussets(120)]) };
    let found = length(&sound_lay(&question, &effort(1, 1)));
    let steep = 3.0 * 1.0770;
    let flat = 3.0 * 1.2806;
    assert!(found <= 6.0 * (120.0 + steep + flat) + 160.0 + flat + 0.5, "{found}");
}

/// So many that they are laid section by section: 17 rows on cloth of 1700, of 26 or 27, so thirteen pairs and one more.
#[test]
fn rows_of_hundreds_are_as_straight() {
    let found = length(&sound_lay(&task(vec![roll(1700.0)], vec![gussets(450)]), &effort(2, 1)));
    assert!(found <= 13.0 * 120.0 + 120.0 + 0.01, "{found}");
}

#[test]
fn lattices_are_the_same_with_any_number_of_threads() {
    let question = Task {
        gap: 2.0,
        ..task(
            vec![roll(900.0)],
            vec![piece(ell(110.0), 3, along()), gussets(30), piece(ell(150.0), 20, quarter_turns())],
        )
    };
    let with_threads = |threads: usize| {
        let pool = rayon::ThreadPoolBuilder::new().num_threads(threads).build().expect("threads can be started");
        pool.install(|| lay(&question, &effort(1, 5), &())).expect("the task makes sense")
    };
    let one = with_threads(1);
    assert_sound(&question, &one);
    for threads in [2, 8] {
        assert_eq!(format!("{one:?}"), format!("{:?}", with_threads(threads)), "{threads} threads");
    }
}
