//! What the person wrote: the model, reading it, and what is wrong with it.

mod model;

pub use model::{Cloth, Edge, Flaw, Grain, GrainDirection, Job, Piece, Pinking, Units};
