//! `--force`, the same for every command that writes files.

use crate::plan::Replace;

/// What results may take the place of.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, clap::Args)]
pub(super) struct Force {
    /// Let results take the place of files that this program did not write.
    #[arg(long)]
    force: bool,
}

impl From<Force> for Replace {
    fn from(force: Force) -> Self {
        if force.force { Self::Any } else { Self::Own }
    }
}
