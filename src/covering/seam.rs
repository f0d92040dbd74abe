//! A seam that divides a panel, and the strips between seams.

use geo_types::Coord;

use crate::job::{MemberClass, Words};
use crate::shape::{Curve, Outline};
use crate::units::{Units, inches};

/// What a tape hangs over at each end: to hold it by, and for rib tapes what goes past the trailing edge (approved covering
/// manual pp. 43, 45).
pub(super) const OVERHANG: f64 = inches(1.0);

/// What a seam is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SeamKind {
    /// Lapped over a member of this class.
    Lapped(MemberClass),
    /// Sewn, two rows of stitches.
    Sewn,
}

/// A seam that divides a panel.
#[derive(Clone, Debug, PartialEq)]
pub struct Seam {
    /// What it is.
    pub kind: SeamKind,
    /// Where its line meets the cut outline.
    pub ends: [Coord<f64>; 2],
    /// Cloth over cloth, in millimetres: the lap, or the margins of both sides.
    pub overlap: f64,
    /// Width of the tape over it, in millimetres.
    pub tape: f64,
    /// Where both figures come from.
    pub source: String,
}

/// A panel, or a part of it between seams.
#[derive(Clone, Debug, PartialEq)]
pub struct Strip {
    /// What is cut.
    pub cut: Outline,
    /// The finished outline, without laps.
    pub finished: Curve,
}

impl Seam {
    /// Length of the seam in millimetres.
    pub fn length(&self) -> f64 {
        let [from, to] = self.ends;
        ((to.x - from.x) * (to.x - from.x) + (to.y - from.y) * (to.y - from.y)).sqrt()
    }

    /// Length of the tape over it, with what hangs over at its ends, in millimetres.
    pub fn tape_length(&self) -> f64 {
        self.length() + 2.0 * OVERHANG
    }

    /// What the seam is and what it costs.
    pub fn in_words(&self, units: Units) -> String {
        let kind = match self.kind {
            SeamKind::Lapped(class) => format!("lapped over a {}", class.word()),
            SeamKind::Sewn => "sewn".to_owned(),
        };
        let [length, overlap, tape] = [self.length(), self.overlap, self.tape].map(|length| units.show(length));
        format!("seam {kind}, {length} long, takes {overlap} of cloth and {length} of {tape} tape ({})", self.source)
    }
}
