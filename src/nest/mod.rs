//! Outlines onto cloth: knows geometry and cloth, and nothing of aircraft.

mod task;

pub use task::{
    Budget, Cloth, ClothLay, Ending, Lay, Piece, Placed, Progress, Task, TaskFault, Turns, Unplaced, Watch,
};

/// Works out a lay: where every piece of the task goes.
///
/// # Errors
/// [`TaskFault`] when the task makes no sense (an empty cloth, a piece with no turn allowed). A piece that fits nowhere
/// is no error: it comes back in [`Lay::unplaced`] with the reason.
pub fn lay(_task: &Task, _budget: &Budget, _watch: &dyn Watch) -> Result<Lay, TaskFault> {
    unimplemented!()
}
