//! Several cloths, flaws, gaps, and what finds no place.

mod support;

use clothwright::nest::{Budget, Cloth, Piece, Task, TaskFault, Turns, lay};
use support::{along, effort, length, piece, polygon, quarter_turns, rect, roll, sound_lay, task, unturned};

fn offcut(length: f64, width: f64, count: u32) -> Cloth {
    Cloth { length: Some(length), count, price: 0.0, ..roll(width) }
}

#[test]
fn offcuts_are_filled_before_the_roll_is_cut() {
    let squares =
        |count| task(vec![roll(500.0), offcut(250.0, 250.0, 2)], vec![piece(rect(100.0, 100.0), count, along())]);
    let few = sound_lay(&squares(8), &effort(0, 1));
    assert!(few.unplaced.is_empty());
    assert!(few.cloths.iter().all(|cloth| cloth.cloth == 1), "eight squares fit on the offcuts: {:?}", few.cloths);
    let more = sound_lay(&squares(11), &effort(0, 1));
    assert!(more.unplaced.is_empty());
    let on_roll: usize = more.cloths.iter().filter(|cloth| cloth.cloth == 0).map(|cloth| cloth.placed.len()).sum();
    assert_eq!(on_roll, 3, "three squares are left for the roll: {:?}", more.cloths);
}

#[test]
fn a_roll_that_is_not_needed_is_not_cut_even_if_it_comes_first() {
    let pieces = vec![piece(rect(240.0, 120.0), 2, along())];
    let lay = sound_lay(&task(vec![roll(500.0), offcut(250.0, 250.0, 1)], pieces), &effort(0, 1));
    assert_eq!(lay.cloths.len(), 1);
    assert_eq!(lay.cloths[0].cloth, 1);
}

#[test]
fn pieces_keep_off_flaws() {
    let flaw = polygon(&[[100.0, 0.0], [160.0, 0.0], [160.0, 300.0], [100.0, 300.0]], &[]);
    let cloth = Cloth { flaws: vec![flaw], ..roll(300.0) };
    let lay = sound_lay(&task(vec![cloth], vec![piece(rect(150.0, 90.0), 4, unturned())]), &effort(0, 1));
    // The flaw runs over the whole width, and no piece fits before it.
    assert!(lay.unplaced.is_empty());
    let starts = lay.cloths[0].placed.iter().map(|placed| placed.pose.at.x);
    assert!(starts.fold(f64::INFINITY, f64::min) >= 160.0 - 0.01, "{:?}", lay.cloths);
}

#[test]
fn pieces_stay_inside_an_offcut_that_is_no_rectangle() {
    let ell = polygon(&[[0.0, 0.0], [600.0, 0.0], [600.0, 200.0], [200.0, 200.0], [200.0, 600.0], [0.0, 600.0]], &[]);
    let cloth = Cloth { region: Some(ell), ..offcut(600.0, 600.0, 1) };
    let lay = sound_lay(&task(vec![cloth], vec![piece(rect(150.0, 150.0), 12, unturned())]), &effort(0, 1));
    let placed: usize = lay.cloths.iter().map(|cloth| cloth.placed.len()).sum();
    assert!(placed >= 5, "two arms of 600 by 200 hold seven squares of 150 side by side: {placed}");
    assert_eq!(placed + lay.unplaced.len(), 12);
}

#[test]
fn the_gap_lies_between_pieces_and_not_along_the_edges() {
    let two = |gap| Task { gap, ..task(vec![roll(205.0)], vec![piece(rect(100.0, 100.0), 4, unturned())]) };
    let side_by_side = length(&sound_lay(&two(5.0), &effort(1, 1)));
    assert!((side_by_side - 205.0).abs() <= 0.5, "{side_by_side}");
    // Side by side they would be 5 mm apart. Shifted along, corner faces corner, and 5.1² = 5² + shift².
    let shifted = length(&sound_lay(&two(5.1), &effort(1, 1)));
    let shortest = 400.0 + 3.0 * f64::sqrt(5.1 * 5.1 - 5.0 * 5.0);
    assert!((shortest - 0.1..=415.3).contains(&shifted), "{shifted}");
}

#[test]
fn what_fits_nowhere_comes_back_with_a_reason() {
    let pieces = vec![
        piece(rect(90.0, 320.0), 2, along()),
        piece(rect(90.0, 280.0), 2, along()),
        Piece { cloths: Some(vec![1]), ..piece(rect(120.0, 60.0), 1, along()) },
    ];
    let lay = sound_lay(&task(vec![roll(300.0), offcut(100.0, 100.0, 1)], pieces), &effort(0, 1));
    let unplaced: Vec<_> = lay.unplaced.iter().map(|unplaced| (unplaced.piece, unplaced.copy)).collect();
    assert_eq!(unplaced, [(0, 1), (0, 2), (2, 1)]);
}

#[test]
fn a_cloth_that_is_too_short_takes_what_it_can() {
    let lay =
        sound_lay(&task(vec![offcut(250.0, 100.0, 1)], vec![piece(rect(100.0, 100.0), 5, along())]), &effort(0, 1));
    assert_eq!(lay.cloths[0].placed.len(), 2);
    assert_eq!(lay.unplaced.len(), 3);
}

#[test]
fn pieces_lie_face_down_only_where_faces_are_alike() {
    // Wider at one selvage than at the other: in a row they interlock only when every second one is turned over.
    let wedge = polygon(&[[0.0, 0.0], [100.0, 0.0], [80.0, 100.0], [20.0, 100.0]], &[]);
    for (faces_alike, may_flip) in [(false, true), (true, false), (true, true)] {
        let cloth = Cloth { faces_alike, ..roll(100.0) };
        let wedges = Piece { flip: may_flip, ..piece(wedge.clone(), 4, unturned()) };
        let lay = sound_lay(&task(vec![cloth], vec![wedges]), &effort(1, 1));
        let flipped = lay.cloths[0].placed.iter().filter(|placed| placed.pose.flipped).count();
        if faces_alike && may_flip {
            assert_eq!(flipped, 2, "{lay:?}");
            assert!((length(&lay) - 340.0).abs() < 1.0, "{}", length(&lay));
        } else {
            assert_eq!(flipped, 0, "{lay:?}");
            assert!((length(&lay) - 400.0).abs() < 0.1, "{}", length(&lay));
        }
    }
}

#[test]
fn tasks_that_make_no_sense_are_refused() {
    let pieces = || vec![piece(rect(10.0, 10.0), 1, along())];
    let refused = |task: Task| lay(&task, &Budget { seed: 1, effort: 0, time: None }, &()).expect_err("no sense");
    assert_eq!(refused(task(vec![], pieces())), TaskFault::NoCloth);
    let thin = Cloth { usable: [100.0, 100.0], ..roll(100.0) };
    assert_eq!(refused(task(vec![roll(100.0), thin], pieces())), TaskFault::EmptyCloth { cloth: 1 });
    let short = offcut(0.0, 100.0, 1);
    assert_eq!(refused(task(vec![short], pieces())), TaskFault::EmptyCloth { cloth: 0 });
    let still = piece(rect(10.0, 10.0), 1, Turns::These { angles: vec![], tilt: 0.0 });
    assert_eq!(refused(task(vec![roll(100.0)], vec![still])), TaskFault::NoTurn { piece: 0 });
    for gap in [-1.0, f64::NAN, f64::INFINITY] {
        assert_eq!(refused(Task { gap, ..task(vec![roll(100.0)], pieces()) }), TaskFault::Gap);
    }
}

#[test]
fn no_pieces_make_an_empty_lay() {
    let empty = sound_lay(&task(vec![roll(100.0)], vec![]), &effort(1, 1));
    assert_eq!(length(&empty), 0.0);
    let none = sound_lay(&task(vec![roll(100.0)], vec![piece(rect(10.0, 10.0), 0, along())]), &effort(1, 1));
    assert!(none.unplaced.is_empty() && length(&none) == 0.0);
}

/// Pieces that may turn freely get shorter or longer along the roll as they turn; all of each must stay on the cloth.
#[test]
fn a_lay_of_one_column_keeps_to_the_start_of_the_cloth() {
    for size in [60.0, 90.0, 123.0] {
        let hooks = vec![piece(support::ell(size), 4, Turns::Any)];
        let budget = Budget { time: Some(std::time::Duration::from_secs(20)), ..effort(1, 55) };
        let lay = sound_lay(&task(vec![roll(400.0)], hooks), &budget);
        assert_eq!(lay.ending, clothwright::nest::Ending::EffortSpent, "size {size}: the effort should end the search");
    }
}

/// Copies of a piece that were laid.
fn laid(lay: &clothwright::nest::Lay) -> usize {
    lay.cloths.iter().map(|cloth| cloth.placed.len()).sum()
}

/// The first lay leaves room; the search has to find it, however the cloth is described.
#[test]
fn an_offcut_given_by_its_outline_is_filled_up_like_one_given_by_its_length() {
    let hooks = vec![piece(support::ell(90.0), 30, quarter_turns())];
    let plain = offcut(400.0, 300.0, 1);
    let outlined = Cloth { region: Some(rect(400.0, 300.0)), ..plain.clone() };
    for cloth in [plain, outlined] {
        let task = task(vec![cloth], hooks.clone());
        let [at_first, searched] = [0, 1].map(|units| laid(&sound_lay(&task, &effort(units, 1))));
        assert!(searched > at_first, "{at_first} at first, {searched} in the end");
    }
}

/// The largest piece alone covers 60 of 100; two that are smaller cover all.
#[test]
fn an_offcut_takes_two_pieces_instead_of_one_where_they_cover_more() {
    let pieces = vec![piece(rect(60.0, 60.0), 1, unturned()), piece(rect(50.0, 60.0), 2, unturned())];
    let lay = sound_lay(&task(vec![offcut(100.0, 60.0, 1)], pieces), &effort(1, 1));
    let unplaced: Vec<_> = lay.unplaced.iter().map(|unplaced| (unplaced.piece, unplaced.copy)).collect();
    assert_eq!(unplaced, [(0, 1)]);
}

/// The roll is there for pieces that may be cut from either.
#[test]
fn a_piece_that_may_be_cut_from_one_cloth_only_goes_before_larger_ones() {
    let only_there = |piece: Piece| Piece { cloths: Some(vec![1]), ..piece };
    let (large, small) = (piece(rect(60.0, 60.0), 1, unturned()), piece(rect(50.0, 60.0), 2, unturned()));
    for pieces in [vec![only_there(large.clone()), small.clone()], vec![large, only_there(small)]] {
        let lay = sound_lay(&task(vec![roll(100.0), offcut(100.0, 60.0, 1)], pieces), &effort(1, 1));
        assert!(lay.unplaced.is_empty(), "{:?}", lay.unplaced);
    }
}

/// Sizes of which the area is no round number fill the cloth all the same.
#[test]
fn an_offcut_is_filled_to_the_last_millimetre() {
    let pieces = vec![piece(rect(600.0, 600.0), 1, unturned()), piece(rect(500.15, 600.0), 2, unturned())];
    let outlined = Cloth { region: Some(rect(1000.3, 600.0)), ..offcut(1000.3, 600.0, 1) };
    for cloth in [offcut(1000.3, 600.0, 1), outlined] {
        let lay = sound_lay(&task(vec![cloth], pieces.clone()), &effort(1, 1));
        assert_eq!(laid(&lay), 2, "{lay:?}");
    }
}

/// The outline of an offcut may lie anywhere on it.
#[test]
fn pieces_stay_inside_an_outline_that_begins_beyond_the_start_of_the_cloth() {
    let square = polygon(&[[900.0, 50.0], [1500.0, 50.0], [1500.0, 500.0], [900.0, 650.0]], &[]);
    let cloth = Cloth { region: Some(square), ..offcut(1600.0, 700.0, 1) };
    let lay = sound_lay(&task(vec![cloth], vec![piece(rect(100.0, 100.0), 40, unturned())]), &effort(1, 1));
    assert!(laid(&lay) >= 20, "{}", laid(&lay));
    assert!(lay.cloths[0].placed.iter().all(|placed| placed.pose.at.x >= 900.0 - 0.01));
}

/// So many kinds that no-fit polygons are made for some of them at a time, two faces up on one cloth and one on the other.
#[test]
fn many_kinds_keep_their_faces_on_cloths_of_both_sorts() {
    let wedge = |k: usize| {
        let size = 30.0 + k as f64;
        Piece { flip: true, ..piece(polygon(&[[0.0, 0.0], [size, 0.0], [0.0, 0.7 * size]], &[]), 1, quarter_turns()) }
    };
    let alike = Cloth { faces_alike: true, ..offcut(100.0, 300.0, 1) };
    let lay = sound_lay(&task(vec![roll(300.0), alike], (0..130).map(wedge).collect()), &effort(1, 1));
    assert!(lay.unplaced.is_empty() && lay.cloths.len() == 2);
    let on_roll = lay.cloths.iter().filter(|laid| laid.cloth == 0).flat_map(|laid| &laid.placed);
    assert!(on_roll.clone().count() > 100 && on_roll.into_iter().all(|placed| !placed.pose.flipped));
}

/// Where pieces keep apart, half the gap all round takes no room along the edges.
#[test]
fn a_gap_does_not_keep_an_offcut_from_being_filled_up() {
    let hooks = vec![piece(support::ell(90.0), 40, quarter_turns())];
    let task = Task { gap: 40.0, ..task(vec![offcut(230.0, 230.0, 1)], hooks) };
    let [at_first, searched] = [0, 1].map(|units| laid(&sound_lay(&task, &effort(units, 1))));
    assert!(searched > at_first, "{at_first} at first, {searched} in the end");
}

#[test]
fn flaws_beyond_the_end_of_a_lay_change_nothing() {
    let hooks = vec![piece(support::ell(90.0), 20, quarter_turns())];
    let flaw = |k: usize| {
        let (x, size) = (5000.0 + 40.0 * k as f64, 10.0 + 0.01 * k as f64);
        polygon(&[[x, 10.0], [x + size, 10.0], [x, 10.0 + size]], &[])
    };
    let [clean, flawed] = [0, 200].map(|flaws| {
        let cloth = Cloth { flaws: (0..flaws).map(flaw).collect(), ..roll(300.0) };
        sound_lay(&task(vec![cloth], hooks.clone()), &effort(1, 1))
    });
    assert_eq!(clean.cloths, flawed.cloths);
}

/// Nobody asks how two flaws lie to each other, so that costs nothing of the effort either.
#[test]
fn many_flaws_leave_effort_for_the_search() {
    let flaw = |k: usize| {
        let (x, size) = (3.0 * k as f64, 2.0 + 0.001 * k as f64);
        polygon(&[[x, 0.0], [x + size, 0.0], [x, size]], &[])
    };
    let cloth = Cloth { flaws: (0..450).map(flaw).collect(), ..roll(300.0) };
    let task = task(vec![cloth], vec![piece(support::ell(90.0), 20, quarter_turns())]);
    let [at_first, searched] = [0, 1].map(|units| length(&sound_lay(&task, &effort(units, 1))));
    assert!(searched < 0.98 * at_first, "{at_first} at first, {searched} in the end");
}

/// The grid on which shapes are compared is as fine on a long bolt as the check of a lay asks for.
#[test]
fn pieces_touch_soundly_on_a_long_bolt_with_an_outline() {
    let bolt = polygon(&[[0.0, 0.0], [150_000.0, 0.0], [149_000.0, 1500.0], [0.0, 1500.0]], &[]);
    let cloth = Cloth { region: Some(bolt), ..offcut(150_000.0, 1500.0, 1) };
    let kites = polygon(&[[0.0, 250.0], [333.3, 0.0], [900.0, 250.0], [333.3, 500.0]], &[]);
    let lay = sound_lay(&task(vec![cloth], vec![piece(kites, 20, along())]), &effort(1, 1));
    assert!(lay.unplaced.is_empty() && length(&lay) < 6000.0, "{}", length(&lay));
}
