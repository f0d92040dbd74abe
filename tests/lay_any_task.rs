//! Whatever the task, the lay is sound: every copy lies where it may or is listed with a reason.

mod support;

use std::time::Duration;

use clothwright::nest::{Budget, Cloth, Ending, Piece, Task, Turns};
use clothwright::shape::{Outline, Pose};
use proptest::prelude::*;
use proptest::sample::select;
use support::{along, disc, effort, ell, polygon, quarter_turns, rect, ring, sound_lay, turned, unturned};

fn outline() -> impl Strategy<Value = Outline> {
    let size = || 15.0..160.0f64;
    prop_oneof![
        3 => (size(), size()).prop_map(|(width, height)| rect(width, height)),
        2 => (size(), 8..40usize).prop_map(|(diameter, corners)| disc(diameter, corners)),
        2 => size().prop_map(ell),
        1 => (size(), 0.3..0.9f64).prop_map(|(diameter, share)| ring(diameter, diameter * share, 24)),
        1 => (size(), size(), 0.0..1.0f64).prop_map(|(w, h, s)| polygon(&[[0.0, 0.0], [w, 0.0], [w * s, h]], &[])),
        1 => (600.0..900.0f64, 600.0..900.0f64).prop_map(|(width, height)| rect(width, height)),
    ]
}

fn turns() -> impl Strategy<Value = Turns> {
    let bias = Turns::These { angles: vec![45.0, 135.0, 225.0, 315.0], tilt: 0.0 };
    let loose = Turns::These { angles: vec![0.0, 180.0], tilt: 3.0 };
    select(vec![unturned(), along(), quarter_turns(), bias, loose, Turns::Any])
}

prop_compose! {
    fn asked_piece(cloths: usize)(
        outline in outline(), quantity in 1..5u32, turns in turns(), flip in any::<bool>(),
        only in proptest::option::weighted(0.2, 0..cloths),
    ) -> Piece {
        Piece { outline, quantity, turns, flip, cloths: only.map(|cloth| vec![cloth]) }
    }
}

prop_compose! {
    fn cloth()(
        width in 150.0..500.0f64, selvage in 0.0..20.0f64, length in proptest::option::of(100.0..700.0f64),
        notched in proptest::bool::weighted(0.3), count in 1..3u32, price in 0.0..2.0f64, faces_alike in any::<bool>(),
        flaws in proptest::collection::vec((0.0..600.0f64, 0.0..400.0f64, 5.0..60.0f64), 0..3),
    ) -> Cloth {
        let usable = [selvage, width - selvage];
        let notch = |length: f64| polygon(
            &[[0.0, 0.0], [length, 0.0], [length, width], [length * 0.6, width], [length * 0.5, width * 0.5], [0.0, width]],
            &[],
        );
        let region = length.filter(|_| notched).map(notch);
        let at = |(x, y, size): &(f64, f64, f64)| {
            Pose { at: [*x, *y].into(), ..turned(20.0, 0.0, 0.0) }.apply_to(&rect(*size, *size / 2.0))
        };
        Cloth { usable, length, region, flaws: flaws.iter().map(at).collect(), count, price, faces_alike }
    }
}

fn any_task() -> impl Strategy<Value = Task> {
    proptest::collection::vec(cloth(), 1..4).prop_flat_map(|cloths| {
        let pieces = proptest::collection::vec(asked_piece(cloths.len()), 1..7);
        let gap = prop_oneof![2 => Just(0.0), 1 => 0.0..9.0f64];
        (Just(cloths), pieces, gap).prop_map(|(cloths, pieces, gap)| Task { cloths, pieces, gap })
    })
}

/// Whether a piece must find a place: on some endless cloth without an outline of its own, with room to spare across it.
fn must_fit(task: &Task, piece: &Piece) -> bool {
    let angles = match &piece.turns {
        Turns::These { angles, .. } => angles.clone(),
        Turns::Any => vec![0.0],
    };
    task.cloths.iter().enumerate().any(|(index, cloth)| {
        let allowed = piece.cloths.as_ref().is_none_or(|cloths| cloths.contains(&index));
        let room = cloth.usable[1] - cloth.usable[0];
        let fits = |turn: &f64| turned(*turn, 0.0, 0.0).apply_to(&piece.outline).bounds().height() < room - 0.1;
        allowed && cloth.length.is_none() && angles.iter().any(fits)
    })
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 40, max_shrink_iters: 60, ..ProptestConfig::default() })]

    #[test]
    fn any_task_gets_a_sound_lay(task in any_task(), seed in 0..1000u64) {
        let lay = sound_lay(&task, &effort(0, seed));
        for unplaced in &lay.unplaced {
            let piece = &task.pieces[unplaced.piece];
            prop_assert!(!must_fit(&task, piece), "{} has room: {}", unplaced.piece, unplaced.why);
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 25, max_shrink_iters: 8, ..ProptestConfig::default() })]

    #[test]
    fn any_task_gets_a_sound_lay_with_some_effort(task in any_task(), seed in 0..1000u64) {
        let budget = Budget { time: Some(Duration::from_secs(30)), ..effort(1, seed) };
        prop_assert_eq!(sound_lay(&task, &budget).ending, Ending::EffortSpent, "the effort should end the search");
    }
}
