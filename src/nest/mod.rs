//! Outlines onto cloth: knows geometry and cloth, and nothing of aircraft.

mod bands;
mod first;
mod meter;
mod minkowski;
mod no_fit;
mod random;
mod raster;
mod separate;
mod shapes;
mod strip;
mod task;
mod tighten;

use meter::Meter;
use shapes::Shapes;
use strip::Strip;
pub use task::{
    Budget, Cloth, ClothLay, Ending, Lay, Piece, Placed, Progress, Task, TaskFault, Turns, Unplaced, Watch,
};

/// Works out a lay: where every piece of the task goes.
///
/// # Errors
/// [`TaskFault`] when the task makes no sense (an empty cloth, a piece with no turn allowed). A piece that fits nowhere
/// is no error: it comes back in [`Lay::unplaced`] with the reason.
pub fn lay(task: &Task, budget: &Budget, watch: &dyn Watch) -> Result<Lay, TaskFault> {
    let mut meter = Meter::new(*budget, watch);
    let cloth = &task.cloths[0];
    let shapes = Shapes::new(&task.pieces, &cloth.flaws, cloth.faces_alike, task.gap);
    let items: Vec<usize> =
        task.pieces.iter().enumerate().flat_map(|(k, p)| std::iter::repeat_n(k, p.quantity as usize)).collect();
    let strip = Strip::new(&shapes, items, cloth.usable, task.pieces.len()..task.pieces.len() + cloth.flaws.len());
    let side = (cloth.usable[1] - cloth.usable[0]) / 400.0;
    let first = first::orders(&strip)
        .iter()
        .filter_map(|order| first::complete(first::fill(&strip, order, cloth.length, task.gap, side)))
        .min_by(|a, b| strip.length_of(a).total_cmp(&strip.length_of(b)));
    let Some(first) = first else { return Err(TaskFault::NoCloth) };
    meter.report(strip.length_of(&first), 0.0);
    let best = tighten::tighten(&strip, first, budget.seed, &mut meter);
    let mut copies = vec![0; task.pieces.len()];
    let placed = best
        .iter()
        .enumerate()
        .map(|(item, lying)| {
            let piece = strip.items[item];
            copies[piece] += 1;
            Placed { piece, copy: copies[piece], pose: strip.pose(item, lying) }
        })
        .collect();
    let length_used = strip.length_of(&best);
    Ok(Lay {
        cloths: vec![ClothLay { cloth: 0, number: 1, placed, length_used }],
        unplaced: Vec::new(),
        ending: meter.ended().unwrap_or(Ending::EffortSpent),
    })
}
