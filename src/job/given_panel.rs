//! A panel whose finished outline the person already has, from a drawing or from an old cover.

use super::airframe::{Member, Surface};
use super::model::GrainDirection;
use super::rule_figure::Location;
use crate::shape::Curve;

/// A finished panel; what is added along its edges is worked out by the rules.
#[derive(Clone, Debug, PartialEq)]
pub struct GivenPanel {
    /// What it belongs to, which decides where a seam within it may lie.
    pub surface: Surface,
    /// The finished outline, seen from outside; it has no holes.
    pub outline: Curve,
    /// What each edge of the outline meets, in order.
    pub edges: Vec<PanelEdge>,
    /// Which way its x axis lies on the roll: along, across or either.
    pub grain: GrainDirection,
    /// What lies under it.
    pub members: Vec<Member>,
    /// Two points of the hinge line.
    pub hinge: Option<[[f64; 2]; 2]>,
}

/// What an edge of a finished panel meets.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum PanelEdge {
    /// Nothing: the cloth is cut on the outline.
    NothingAdded,
    /// Other cloth, or the structure, at a place for which the rules have figures.
    Joined {
        /// The place.
        at: Location,
        /// What the cloth follows before its lap begins.
        round: Round,
    },
}

/// What the cloth follows from the outline to where its lap begins.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Round {
    /// Nothing: the lap begins at the outline.
    Nothing,
    /// A tube of this diameter, over whose centre line the outline runs.
    Tube(f64),
    /// Whatever it is, for this length, which the person measured.
    Measured(f64),
}
