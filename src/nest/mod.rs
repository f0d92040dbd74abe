//! Outlines onto cloth: knows geometry and cloth, and nothing of aircraft.
//!
//! ```
//! use clothwright::nest::{Budget, Cloth, Piece, Task, Turns, lay};
//! use clothwright::shape::Curve;
//!
//! let roll = Cloth {
//!     usable: [10.0, 1770.0],
//!     length: None,
//!     region: None,
//!     flaws: Vec::new(),
//!     count: 1,
//!     price: 0.012,
//!     faces_alike: true,
//! };
//! let doily = Piece {
//!     outline: Curve::circle(165.0).flatten()?,
//!     quantity: 24,
//!     turns: Turns::Any,
//!     flip: false,
//!     cloths: None,
//! };
//! let task = Task { cloths: vec![roll], pieces: vec![doily], gap: 3.0 };
//! let budget = Budget { seed: 1, effort: 1, time: None };
//! let lay = lay(&task, &budget, &())?;
//!
//! assert!(lay.unplaced.is_empty());
//! let on_roll = &lay.cloths[0];
//! assert_eq!(on_roll.placed.len(), 24);
//! // Three straight rows take 3 × 165 mm and two gaps; rows that lie in each other's hollows take less.
//! assert!(on_roll.length_used > 2.4 * 165.0 && on_roll.length_used < 3.0 * 165.0);
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```
//!
//! How it goes about it, from the ground up:
//!
//! | file | idea |
//! |---|---|
//! | `minkowski` | the no-fit polygon of two outlines, in exact integers |
//! | `no_fit` | how deep one shape lies in another and which way that grows, in nanoseconds |
//! | `shapes` | every piece at the turns of its grain that are tried |
//! | `pairs` | the no-fit polygon of each pair of shapes, made once for all pairs that differ by a quarter turn |
//! | `raster`, `boxes`, `first` | a first lay at once, on a grid of bits or by boxes |
//! | `strip`, `bands` | cloth with things on it, and which of them are near a place |
//! | `separate` | removal of overlaps, one item at a time with growing weights, or all at once |
//! | `tighten` | shorter and shorter: searches side by side, each with detours |
//! | `race` | several searches for one goal, of which the first to get there wins |
//! | `disrupt` | ways out of a dead end |
//! | `compact` | all items moved at once by a linear programme |
//! | `all_boxes` | boxes only: what the searches below know of them |
//! | `perfect`, `sums` | boxes only: a layout without waste |
//! | `skyline` | boxes only: the order in which they are laid |
//! | `lattice` | a first lay of many equal pieces: rows of single ones, or of two that lie into each other |
//! | `large_first` | a few large pieces and many small ones for their gaps |
//! | `insert` | cloth that has an end: one more piece, and some in exchange for others that cover more |
//! | `sections` | thousands of pieces, part by part |
//! | `cloths` | offcuts before rolls, and what finds no place |

mod all_boxes;
mod bands;
mod boxes;
mod cloths;
mod compact;
mod disrupt;
#[cfg(test)]
mod exactness;
mod first;
mod insert;
mod large_first;
mod lattice;
mod meter;
mod minkowski;
mod no_fit;
mod pairs;
mod perfect;
mod race;
mod random;
mod raster;
mod sections;
mod separate;
mod shapes;
mod skyline;
mod strip;
mod sums;
mod task;
#[cfg(test)]
mod test_pieces;
mod tighten;
mod vector;

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
    cloths::lay_on_all(task, &mut Meter::new(*budget, watch), budget.seed)
}
