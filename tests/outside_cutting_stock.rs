//! Published problems of cutting lengths from stock: as few stock lengths as anybody is known to need, or a few more with
//! the bound told; never fewer, and never called least where it is not. Where nearly every length must be cut to its end
//! without waste, which finishing tape never asks for, the search ends before it knows.
//!
//! Sources: ESICUP datasets (CC0) of Falkenauer 1996, "A hybrid grouping genetic algorithm for bin packing", Journal of
//! Heuristics 2(1), with the best known number of stock lengths of each.

mod datasets;

use std::time::{Duration, Instant};

use clothwright::strips::{Proof, Roll, Run, Task, cut};
use serde::Deserialize;

/// How many problems of each set are tried.
const EACH: usize = 6;

#[derive(Deserialize)]
struct Set {
    problems: Vec<Problem>,
}

#[derive(Deserialize)]
struct Problem {
    name: String,
    stock_length: f64,
    lengths: Vec<f64>,
    optimum: usize,
}

#[test]
fn published_problems_never_take_fewer_lengths_than_is_known() {
    let Some(folder) = datasets::folder() else { return };
    let (mut solved, mut missed, mut slowest) = (0, Vec::new(), Duration::ZERO);
    for set in ["1d-binpack2", "1d-binpack5", "1d-binpack6"] {
        let path = folder.join(format!("{set}.json"));
        let text = std::fs::read_to_string(&path).unwrap_or_else(|error| panic!("{}: {error}", path.display()));
        let set: Set = serde_json::from_str(&text).unwrap_or_else(|error| panic!("{}: {error}", path.display()));
        for problem in set.problems.into_iter().take(EACH) {
            let rolls = vec![Roll { length: problem.stock_length, price: 1.0, count: None }];
            let runs = problem.lengths.iter().map(|length| Run { length: *length, count: 1, joint: None }).collect();
            let started = Instant::now();
            let plan = cut(&Task { rolls, runs }, 1).expect("a sound task");
            let took = started.elapsed();
            assert!(plan.unplaced.is_empty(), "{}", problem.name);
            assert!((problem.optimum..=problem.optimum + 3).contains(&plan.rolls.len()), "{}", problem.name);
            slowest = slowest.max(took);
            if plan.rolls.len() == problem.optimum {
                solved += 1;
            } else {
                assert!(plan.proof != Proof::Least, "{} is told as proven and is not", problem.name);
                missed.push(problem.name);
            }
        }
    }
    assert_eq!(solved + missed.len(), 3 * EACH);
    assert!(solved >= 7, "{solved} solved, not {missed:?}");
    assert!(slowest < Duration::from_secs(10), "{slowest:?}");
}
