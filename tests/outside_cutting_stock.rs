//! Published problems of cutting lengths from stock: as few stock lengths as are proven least, each within seconds.
//!
//! Sources: ESICUP datasets (CC0) of Falkenauer 1996, "A hybrid grouping genetic algorithm for bin packing", Journal of
//! Heuristics 2(1), with the best known number of stock lengths of each.

mod datasets;

use std::time::{Duration, Instant};

use clothwright::strips::{Proof, Roll, Run, Task, cut};
use rayon::prelude::*;
use serde::Deserialize;

/// What the search may take for each, as for the tape of a job.
const EFFORT: u64 = 10;

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
fn published_problems_are_solved_with_the_fewest_lengths() {
    let Some(folder) = datasets::folder() else { return };
    let mut problems = Vec::new();
    for set in ["1d-binpack2", "1d-binpack5", "1d-binpack6"] {
        let path = folder.join(format!("{set}.json"));
        let text = std::fs::read_to_string(&path).unwrap_or_else(|error| panic!("{}: {error}", path.display()));
        let set: Set = serde_json::from_str(&text).unwrap_or_else(|error| panic!("{}: {error}", path.display()));
        problems.extend(set.problems);
    }
    assert_eq!(problems.len(), 60);
    problems.par_iter().for_each(|problem| {
        let rolls = vec![Roll { length: problem.stock_length, price: 1.0, count: None }];
        let runs = problem.lengths.iter().map(|length| Run { length: *length, count: 1, joint: None }).collect();
        let started = Instant::now();
        let plan = cut(&Task { rolls, runs }, EFFORT).expect("a sound task");
        let took = started.elapsed();
        assert!(plan.unplaced.is_empty(), "{}", problem.name);
        assert_eq!((plan.rolls.len(), plan.proof), (problem.optimum, Proof::Least), "{}", problem.name);
        assert!(took < Duration::from_secs(10), "{} took {took:?}", problem.name);
    });
}
