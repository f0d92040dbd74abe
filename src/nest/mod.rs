//! Outlines onto cloth: knows geometry and cloth, and nothing of aircraft.

mod bands;
mod cloths;
mod first;
mod insert;
mod meter;
mod minkowski;
mod no_fit;
mod race;
mod random;
mod raster;
mod sections;
mod separate;
mod shapes;
mod strip;
mod task;
mod tighten;

use meter::Meter;
pub use task::{
    Budget, Cloth, ClothLay, Ending, Lay, Piece, Placed, Progress, Task, TaskFault, Turns, Unplaced, Watch,
};

/// Works out a lay: where every piece of the task goes.
///
/// The same task, seed and effort give the same lay, however many threads there are, as long as no time limit or
/// interruption ends the search early.
///
/// # Errors
/// [`TaskFault`] when the task makes no sense (an empty cloth, a piece with no turn allowed). A piece that fits nowhere
/// is no error: it comes back in [`Lay::unplaced`] with the reason.
pub fn lay(task: &Task, budget: &Budget, watch: &dyn Watch) -> Result<Lay, TaskFault> {
    task.check()?;
    Ok(cloths::lay_on_all(task, &mut Meter::new(*budget, watch), budget.seed))
}
