//! Edges joined where one runs on into the next.

use geo_types::Coord;

use crate::shape::turn;

/// A turn between two edges up to which one runs on into the other, in degrees: a tape follows it without a joint.
const RUNS_ON: f64 = 30.0;

/// Edges of a ring, in order, joined to runs where neighbours are of one kind and run on into each other; each run with
/// its edges.
pub(in crate::covering) fn smooth_runs<K: PartialEq>(
    lines: &[Vec<Coord<f64>>],
    kinds: &[K],
) -> Vec<(Vec<Coord<f64>>, Vec<usize>)> {
    let count = lines.len().min(kinds.len());
    let goes_on = |index: usize| {
        let next = (index + 1) % count;
        kinds[index] == kinds[next] && bend(&lines[index], &lines[next]) <= RUNS_ON
    };
    let start = (0..count).find(|index| !goes_on((index + count - 1) % count)).unwrap_or(0);
    let mut runs: Vec<(Vec<Coord<f64>>, Vec<usize>)> = Vec::new();
    let mut on = false;
    for index in (0..count).map(|step| (start + step) % count) {
        match runs.last_mut().filter(|_| on) {
            Some((run, edges)) => {
                run.extend(lines[index].iter().skip(1));
                edges.push(index);
            }
            None => runs.push((lines[index].clone(), vec![index])),
        }
        on = goes_on(index);
    }
    runs
}

/// By how many degrees the way turns from the end of one line to the beginning of the next.
fn bend(one: &[Coord<f64>], next: &[Coord<f64>]) -> f64 {
    let ([.., before, end], [start, after, ..]) = (one, next) else { return 180.0 };
    turn(*end - *before, *after - *start).abs().to_degrees()
}
