//! What keeps a part from being covered, and where in the job file it comes from.

use thiserror::Error;

use crate::job::Spot;

/// Something that keeps the airframe from being covered.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
#[error("{} (line {}, column {}): {message}; {hint}", .at.path, .at.line, .at.column)]
pub struct CoveringFault {
    /// Where in the job file.
    pub at: Spot,
    /// What is wrong.
    pub message: String,
    /// What would be right.
    pub hint: String,
}
