//! Parts with ribs and a section: wings, ailerons, flaps, as the person describes them.

use super::Surface;
use crate::shape::{Chord, Section};

/// A surface whose ribs have a section: a wing, an aileron, a flap.
#[derive(Clone, Debug, PartialEq)]
pub struct RibbedPart {
    /// What it belongs to, which decides its rules.
    pub surface: Surface,
    /// The chords from butt to tip, two at least; straight lines run from each to the next.
    pub planform: Vec<Chord>,
    /// The section of every rib.
    pub section: Section,
    /// How the cloth goes round it.
    pub cover: RibbedCover,
    /// Which way the roll runs.
    pub roll: Roll,
    /// Where the ribs are along the span, in order.
    pub ribs: Vec<f64>,
    /// Where the spars are, as parts of the chord, in order.
    pub spars: Vec<f64>,
    /// How far aft the nose sheet reaches on top and bottom, as parts of the chord.
    pub nose_sheet: Option<[f64; 2]>,
    /// How far the tip bow reaches beyond the last chord, in millimetres.
    pub tip_bow: Option<f64>,
    /// Where the hinge line is, as a part of the chord.
    pub hinge: Option<f64>,
    /// Degrees by which it rises from butt to tip.
    pub dihedral: f64,
    /// Degrees by which the nose of its chord is up in level flight.
    pub incidence: f64,
    /// The range of the span behind the propeller's disc.
    pub slipstream: Option<[f64; 2]>,
    /// What is cut out of the trailing edge, from butt to tip; no two overlap or touch.
    pub recesses: Vec<Recess>,
}

/// A cut-out in the trailing edge, in which an aileron or a flap sits.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Recess {
    /// Where along the span it begins, in millimetres.
    pub from: f64,
    /// Where along the span it ends, in millimetres.
    pub to: f64,
    /// Where its front wall stands, as a part of the chord.
    pub front: f64,
}

/// How the cloth goes round a section.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum RibbedCover {
    /// One panel from the trailing edge over the top, round the nose and along the bottom.
    OnePiece,
    /// A panel for the top and one for the bottom, lapped at the leading edge too.
    TopAndBottom,
}

/// Which way the roll runs.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Roll {
    /// Warp along the span.
    Spanwise,
    /// Warp along the chord.
    Chordwise,
    /// Whichever has fewer seams, and of equals takes less of the roll.
    Better,
}
