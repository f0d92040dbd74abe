//! What the person wrote: the model, reading it, and what is wrong with it.
//!
//! A job file is JSON. [`read`] answers a [`Job`] in which everything is sound and in millimetres, or every fault of the
//! file at once, each with its line under carets. [`schema`] is for editors.

mod fault;
mod fits;
mod keys;
pub mod limits;
mod model;
mod nearest;
mod outline_fault;
mod read;
mod read_cloth;
mod read_job;
mod read_outline;
mod read_piece;
mod reader;
mod schema;
mod source;
mod syntax;

pub use fault::{Also, Caution, Fault, Faults};
pub use model::{Cloth, Edge, Flaw, Grain, GrainDirection, Job, Piece, Pinking, Units};
pub use read::{ReadError, Reading, read, read_text};
pub use schema::schema;
