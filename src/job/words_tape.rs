//! The words of a job file for finishing tape: see [`super::words`].

use super::tape::{TapeJoins, TapeWeave};
use super::words::Words;

impl Words for TapeWeave {
    const ALL: &'static [(Self, &'static str)] = &[(Self::Straight, "straight"), (Self::Bias, "bias")];
}

impl Words for TapeJoins {
    const ALL: &'static [(Self, &'static str)] =
        &[(Self::AlongSpan, "along the span"), (Self::Never, "never"), (Self::Everywhere, "everywhere")];
}
