//! Tape onto rolls: nothing is lost or too long, no plan is dearer than it must be, and joints keep their overlap.

use clothwright::strips::{Joint, Plan, Proof, Roll, Run, Task, TaskFault, cut};
use microlp::{ComparisonOp, OptimizationDirection, Problem};
use proptest::prelude::*;

fn roll(length: f64, price: f64) -> Roll {
    Roll { length, price, count: None }
}

fn whole(length: f64, count: u32) -> Run {
    Run { length, count, joint: None }
}

/// Every copy is there once, its pieces come to its length and their overlaps, and no roll is cut past its end.
fn assert_sound(task: &Task, plan: &Plan) {
    for (run, wants) in task.runs.iter().enumerate() {
        for copy in 1..=wants.count {
            let cuts: Vec<_> = plan
                .rolls
                .iter()
                .flat_map(|roll| &roll.cuts)
                .filter(|cut| (cut.run, cut.copy) == (run, copy))
                .collect();
            let lacking = plan.unplaced.iter().filter(|one| (one.run, one.copy) == (run, copy)).count();
            assert_eq!(cuts.is_empty(), lacking == 1, "run {run}, copy {copy}");
            if cuts.is_empty() {
                continue;
            }
            let overlap = wants.joint.map_or(0.0, |joint| joint.overlap);
            let sum: f64 = cuts.iter().map(|cut| cut.length).sum();
            let joints = cuts.len() as f64 - 1.0;
            assert!((sum - joints * overlap - wants.length).abs() < 0.02 * (joints + 1.0), "run {run}: {sum}");
            let mut numbers: Vec<u32> = cuts.iter().map(|cut| cut.piece).collect();
            numbers.sort_unstable();
            assert_eq!(numbers, (1..=cuts.len() as u32).collect::<Vec<_>>());
            assert!(cuts.iter().all(|cut| cut.pieces as usize == cuts.len()));
            if let (Some(joint), true) = (wants.joint, cuts.len() > 1) {
                assert!(cuts.iter().all(|cut| cut.length >= joint.shortest - 0.011));
            } else {
                assert_eq!(cuts.len(), 1);
            }
        }
    }
    for cut_roll in &plan.rolls {
        let used: f64 = cut_roll.cuts.iter().map(|cut| cut.length).sum();
        let length = task.rolls[cut_roll.roll].length;
        assert!(cut_roll.left >= 0.0 && (used + cut_roll.left - length).abs() < 0.02);
    }
    for (kind, roll) in task.rolls.iter().enumerate() {
        let taken = plan.rolls.iter().filter(|cut| cut.roll == kind).count();
        assert!(roll.count.is_none_or(|count| taken <= count as usize));
    }
}

/// The least cost by integer programming, a counter-check by a general solver: which roll is used, and what is on it.
fn least_by_solver(task: &Task) -> f64 {
    let items: Vec<f64> = task.runs.iter().flat_map(|run| vec![run.length; run.count as usize]).collect();
    let mut problem = Problem::new(OptimizationDirection::Minimize);
    let mut on: Vec<Vec<_>> = vec![Vec::new(); items.len()];
    for roll in &task.rolls {
        let copies = roll.count.map_or(items.len(), |count| count as usize);
        for _ in 0..copies {
            let used = problem.add_binary_var(roll.price);
            let mut row = vec![(used, -roll.length)];
            for (item, length) in items.iter().enumerate() {
                let here = problem.add_binary_var(0.0);
                on[item].push((here, 1.0));
                row.push((here, *length));
            }
            problem.add_constraint(row, ComparisonOp::Le, 0.0);
        }
    }
    for row in on {
        problem.add_constraint(row, ComparisonOp::Eq, 1.0);
    }
    problem.solve().expect("a solution").into_solution().expect("not interrupted").objective()
}

#[test]
fn one_roll_is_cut_in_order_and_the_rest_is_left() {
    let task = Task { rolls: vec![roll(45_720.0, 55.0)], runs: vec![whole(2718.0, 10), whole(2438.0, 4)] };
    let plan = cut(&task, 1).unwrap();
    assert_sound(&task, &plan);
    assert_eq!((plan.rolls.len(), plan.cost, plan.proof), (1, 55.0, Proof::Least));
    assert!((plan.left() - (45_720.0 - 27_180.0 - 9752.0)).abs() < 0.01);
}

/// A roll of 50 yd is 45.72 m and one of 25 yd 22.86 m (approved covering manual, p. 95).
#[test]
fn of_two_lengths_the_cheaper_choice_is_bought() {
    let rolls = vec![roll(22_860.0, 31.0), roll(45_720.0, 55.0)];
    let cost = |metres: u32| cut(&Task { rolls: rolls.clone(), runs: vec![whole(1000.0, metres)] }, 1).unwrap().cost;
    assert_eq!(cost(22), 31.0);
    assert_eq!(cost(23), 55.0);
    assert_eq!(cost(45), 55.0);
    assert_eq!(cost(60), 86.0);
}

/// Of choices that cost the same the shorter one is bought, and what is left is in one piece.
#[test]
fn least_length_and_one_leftover() {
    let task = Task { rolls: vec![roll(10_000.0, 1.0), roll(9000.0, 1.0)], runs: vec![whole(3000.0, 5)] };
    let plan = cut(&task, 1).unwrap();
    assert_eq!(plan.cost, 2.0);
    assert!((plan.left() - 3000.0).abs() < 0.01, "two of 9 m are bought");
    assert!((plan.longest_left() - 3000.0).abs() < 0.01, "three on one, two on the other");

    let task =
        Task { rolls: vec![roll(10_000.0, 1.0)], runs: vec![whole(4000.0, 2), whole(3000.0, 2), whole(1000.0, 1)] };
    let plan = cut(&task, 1).unwrap();
    assert!((plan.longest_left() - 5000.0).abs() < 0.01, "one roll is cut to its end: {plan:?}");
}

/// The cutting of master rolls of paper, 5600 mm wide: 73 are needed for these thirteen widths, as textbooks on cutting
/// stock tell (from memory).
#[test]
fn a_textbook_case_of_cutting_stock() {
    let widths = [1380, 1520, 1560, 1710, 1820, 1880, 1930, 2000, 2050, 2100, 2140, 2150, 2200];
    let counts = [22, 25, 12, 14, 18, 18, 20, 10, 12, 14, 16, 18, 20];
    let runs = widths.iter().zip(counts).map(|(width, count)| whole(f64::from(*width), count)).collect();
    let task = Task { rolls: vec![roll(5600.0, 1.0)], runs };
    let plan = cut(&task, 1).unwrap();
    assert_sound(&task, &plan);
    assert_eq!((plan.rolls.len(), plan.proof), (73, Proof::Least));
}

/// Runs longer than half a roll need a roll each, which no sum of lengths tells: the bound of the linear programme does.
#[test]
fn long_runs_are_proven_to_need_a_roll_each() {
    let task = Task { rolls: vec![roll(22_860.0, 31.0)], runs: vec![whole(12_000.0, 30), whole(11_000.0, 3)] };
    let plan = cut(&task, 1).unwrap();
    assert_sound(&task, &plan);
    assert_eq!((plan.rolls.len(), plan.proof), (32, Proof::Least));
}

#[test]
fn a_run_that_may_be_joined_takes_what_is_left() {
    let joint = Some(Joint { overlap: 50.0, shortest: 300.0 });
    let joined = Run { length: 7000.0, count: 1, joint };
    let task = Task { rolls: vec![roll(10_000.0, 10.0)], runs: vec![whole(6000.0, 2), joined] };
    let plan = cut(&task, 1).unwrap();
    assert_sound(&task, &plan);
    assert_eq!((plan.rolls.len(), plan.joints()), (2, 1));
    assert!((plan.left() - (20_000.0 - 19_050.0)).abs() < 0.1);

    // A run longer than any roll is joined, or is on no roll.
    let long =
        |joint| Task { rolls: vec![roll(10_000.0, 10.0)], runs: vec![Run { length: 25_000.0, count: 1, joint }] };
    let plan = cut(&long(joint), 1).unwrap();
    assert_eq!((plan.rolls.len(), plan.joints()), (3, 2));
    assert_eq!(cut(&long(None), 1).unwrap().unplaced.len(), 1);
}

#[test]
fn a_run_that_fits_whole_is_not_joined() {
    let joint = Some(Joint { overlap: 50.0, shortest: 300.0 });
    let runs = vec![whole(6000.0, 1), Run { length: 5000.0, count: 2, joint }, whole(4000.0, 1)];
    let plan = cut(&Task { rolls: vec![roll(10_000.0, 10.0)], runs }, 1).unwrap();
    assert_eq!((plan.rolls.len(), plan.joints()), (2, 0));
}

#[test]
fn rolls_on_the_shelf_come_before_bought_ones() {
    let shelf = Roll { length: 5000.0, price: 0.0, count: Some(1) };
    let task = Task { rolls: vec![roll(10_000.0, 10.0), shelf], runs: vec![whole(4900.0, 3)] };
    let plan = cut(&task, 1).unwrap();
    assert_sound(&task, &plan);
    assert_eq!((plan.cost, plan.rolls.len()), (10.0, 2));
}

#[test]
fn what_there_is_not_enough_for_is_told() {
    let shelf = Roll { length: 5000.0, price: 0.0, count: Some(1) };
    let task = Task { rolls: vec![shelf], runs: vec![whole(3000.0, 1), whole(1500.0, 2)] };
    let plan = cut(&task, 1).unwrap();
    assert_sound(&task, &plan);
    assert_eq!(plan.unplaced.len(), 1);
    assert_eq!(plan.unplaced[0].run, 1, "the shortest is done without");
    assert_eq!(cut(&Task { rolls: vec![], runs: vec![whole(10.0, 2)] }, 1).unwrap().unplaced.len(), 2);
}

#[test]
fn senseless_tasks_are_refused() {
    let bad = |rolls: Vec<Roll>, runs: Vec<Run>| cut(&Task { rolls, runs }, 1).unwrap_err();
    assert!(matches!(bad(vec![roll(0.0, 1.0)], vec![]), TaskFault::Length { what: "roll", index: 0, .. }));
    assert!(matches!(bad(vec![roll(f64::NAN, 1.0)], vec![]), TaskFault::Length { .. }));
    assert!(matches!(bad(vec![roll(10.0, 0.0)], vec![]), TaskFault::Price { index: 0, .. }), "free and without end");
    assert!(matches!(bad(vec![roll(10.0, -1.0)], vec![]), TaskFault::Price { .. }));
    assert!(matches!(bad(vec![], vec![whole(-1.0, 1)]), TaskFault::Length { what: "run", .. }));
    let joint = Some(Joint { overlap: 50.0, shortest: 50.0 });
    let endless = Run { length: 10.0, count: 1, joint };
    assert!(matches!(bad(vec![], vec![endless]), TaskFault::Joint { index: 0, .. }));
}

/// A whole airframe's tape, about as much as a two-seater takes (approved covering manual, p. 127: seven rolls of 2 in).
#[test]
fn three_hundred_metres_are_planned_at_once() {
    let lengths = [2718.0, 2438.0, 1310.0, 1290.0, 640.0, 4870.0, 950.0, 415.0, 2210.0, 3355.0];
    let runs = lengths.iter().map(|length| whole(*length, 15)).collect();
    let task = Task { rolls: vec![roll(45_720.0, 55.0), roll(22_860.0, 31.0)], runs };
    let started = std::time::Instant::now();
    let plan = cut(&task, 1).unwrap();
    assert!(started.elapsed().as_secs() < 5);
    assert_sound(&task, &plan);
    assert_eq!(plan.proof, Proof::Least);
    assert_eq!(plan, cut(&task, 1).unwrap(), "the same task gives the same plan");
}

/// 650 mm in two pieces of 500 mm or more would need an overlap of 350 mm.
#[test]
fn a_run_that_does_not_come_out_of_pieces_is_named_at_once() {
    let joined = Run { length: 650.0, count: 2, joint: Some(Joint { overlap: 50.0, shortest: 500.0 }) };
    let task = Task { rolls: vec![roll(600.0, 1.0), roll(1.0, 0.1)], runs: vec![joined, whole(500.0, 3)] };
    let plan = cut(&task, 1).unwrap();
    assert_eq!((plan.unplaced.len(), plan.rolls.len()), (2, 3));
    let longer = Run { joint: Some(Joint { overlap: 50.0, shortest: 350.0 }), ..task.runs[0].clone() };
    let plan = cut(&Task { runs: vec![longer], ..task }, 1).unwrap();
    assert!(plan.unplaced.is_empty(), "two pieces of 350 mm");
}

/// With many lengths of roll the choice is too large to be searched. Still no plan is dearer than the simplest ones: longest
/// first on rolls of one length, the last one exchanged for the cheapest that is long enough; and no bound is below what the
/// length costs by itself.
#[test]
fn many_lengths_of_roll_are_no_excuse() {
    let rolls: Vec<Roll> = (0..25).map(|i| f64::from(10 + 2 * i)).map(|m| roll(m * 1000.0, 4.0 + 1.1 * m)).collect();
    let lengths: Vec<f64> = (0..100).map(|i| 500.0 + f64::from(i * 37 % 100) * 31.0).collect();
    let task = Task { rolls: rolls.clone(), runs: lengths.iter().map(|length| whole(*length, 1)).collect() };
    let plan = cut(&task, 10).unwrap();
    assert_sound(&task, &plan);
    let mut falling = lengths.clone();
    falling.sort_by(|one, other| other.total_cmp(one));
    let simple = |kind: &Roll| {
        let mut left: Vec<f64> = Vec::new();
        for length in &falling {
            match left.iter_mut().find(|left| **left >= *length) {
                Some(left) => *left -= length,
                None => left.push(kind.length - length),
            }
        }
        let last = kind.length - left.pop().expect("a roll");
        let cheapest =
            rolls.iter().filter(|roll| roll.length >= last).map(|roll| roll.price).fold(f64::INFINITY, f64::min);
        left.len() as f64 * kind.price + cheapest
    };
    let best = rolls.iter().map(simple).fold(f64::INFINITY, f64::min);
    assert!(plan.cost <= best + 1e-9, "{} against {best}", plan.cost);
    let by_length = rolls.iter().map(|roll| roll.price / roll.length).fold(f64::INFINITY, f64::min);
    if let Proof::AtLeast(bound) = plan.proof {
        assert!(bound >= lengths.iter().sum::<f64>() * by_length - 1e-6, "{bound}");
    }
}

/// The least cost by trying every way to put the runs from a place on, each on a roll that is open or on a new one.
fn least_by_trying(rolls: &[Roll], runs: &[f64], open: &mut Vec<f64>, cost: f64, least: &mut f64) {
    if cost >= *least {
        return;
    }
    let Some((run, others)) = runs.split_first() else {
        *least = cost;
        return;
    };
    for place in 0..open.len() {
        if open[place] >= *run {
            open[place] -= run;
            least_by_trying(rolls, others, open, cost, least);
            open[place] += run;
        }
    }
    for roll in rolls.iter().filter(|roll| roll.length >= *run) {
        open.push(roll.length - run);
        least_by_trying(rolls, others, open, cost + roll.price, least);
        open.pop();
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 200, ..ProptestConfig::default() })]

    /// No way to put up to eight runs on rolls is cheaper, and the plan knows it.
    #[test]
    fn trying_everything_finds_nothing_cheaper(
        lengths in prop::collection::vec(15u32..60, 1..8),
        rolls in prop::collection::vec((60u32..100, 3u32..12), 1..3),
    ) {
        let task = Task {
            rolls: rolls.iter().map(|(length, price)| roll(f64::from(*length), f64::from(*price))).collect(),
            runs: lengths.iter().map(|length| whole(f64::from(*length), 1)).collect(),
        };
        let runs: Vec<f64> = task.runs.iter().map(|run| run.length).collect();
        let mut least = f64::INFINITY;
        least_by_trying(&task.rolls, &runs, &mut Vec::new(), 0.0, &mut least);
        let plan = cut(&task, 1).unwrap();
        prop_assert_eq!((plan.cost, plan.proof), (least, Proof::Least));
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 12, ..ProptestConfig::default() })]

    /// What is called least is what a general integer programme calls least.
    #[test]
    fn the_least_cost_is_that_of_an_integer_programme(
        lengths in prop::collection::vec((15u32..60, 1u32..3), 1..4),
        rolls in prop::collection::vec((60u32..100, 3u32..12), 1..3),
    ) {
        let task = Task {
            rolls: rolls.iter().map(|(length, price)| roll(f64::from(*length), f64::from(*price))).collect(),
            runs: lengths.iter().map(|(length, count)| whole(f64::from(*length), *count)).collect(),
        };
        let plan = cut(&task, 1).unwrap();
        assert_sound(&task, &plan);
        prop_assert_eq!(plan.proof, Proof::Least);
        let least = least_by_solver(&task);
        // The solver takes a number for whole within a millionth.
        prop_assert!((plan.cost - least).abs() < 1e-3, "{} against {}", plan.cost, least);
    }

    /// Whatever is joined or short of rolls, no run is lost and none is cut wrong.
    #[test]
    fn plans_are_sound(
        lengths in prop::collection::vec((50u32..9000, 1u32..4, any::<bool>()), 1..12),
        rolls in prop::collection::vec((1000u32..8000, 1u32..40, prop::option::of(0u32..4)), 1..4),
        shelf in prop::collection::vec((500u32..5000, 1u32..3), 0..3),
    ) {
        let joint = Some(Joint { overlap: 25.0, shortest: 200.0 });
        let bought = rolls.iter().map(|(length, price, count)| Roll { length: f64::from(*length), price: f64::from(*price), count: *count });
        let there = shelf.iter().map(|(length, count)| Roll { length: f64::from(*length), price: 0.0, count: Some(*count) });
        let task = Task {
            rolls: bought.chain(there).collect(),
            runs: lengths.iter().map(|(length, count, joined)| Run {
                length: f64::from(*length), count: *count, joint: joint.filter(|_| *joined),
            }).collect(),
        };
        let plan = cut(&task, 1).unwrap();
        assert_sound(&task, &plan);
        if let Proof::AtLeast(bound) = plan.proof {
            prop_assert!(bound <= plan.cost + 1e-9);
        }
    }
}
