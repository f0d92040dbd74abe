//! What can be wrong with an outline, and where.

use std::fmt;

use geo_types::Coord;
use thiserror::Error;

use crate::wording::counted;

/// Which ring of an outline.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum RingRole {
    /// The outer ring.
    Outer,
    /// A hole, counted from 1.
    Hole(usize),
}

impl fmt::Display for RingRole {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Outer => write!(f, "the outer ring"),
            Self::Hole(number) => write!(f, "hole {number}"),
        }
    }
}

/// A place in millimetres, as it is shown to a person.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Place(pub Coord<f64>);

impl fmt::Display for Place {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        // A thousandth of a millimetre is finer than anybody cuts; the zero takes the minus from -0.
        let rounded = |value: f64| (value * 1000.0).round() / 1000.0 + 0.0;
        write!(f, "({}, {})", rounded(self.0.x), rounded(self.0.y))
    }
}

/// What is wrong with a polygon that should have become an [`Outline`](super::Outline).
///
/// Points and edges are counted from 1, in the order given; edge 1 runs from point 1 to point 2. The edges of a
/// [`Curve`](super::Curve) are its lines, curves and arcs. Places are in millimetres.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum OutlineFault {
    /// A ring has fewer than three points.
    #[error("{ring} has {}; a ring needs three or more", counted(*points, "point", "points"))]
    TooFewPoints {
        /// The ring.
        ring: RingRole,
        /// How many points it has.
        points: usize,
    },
    /// The polygon would have more corners than [`CORNERS`](super::CORNERS).
    #[error("the outline would have more than {} corners as a polygon, which no piece of cloth needs", super::CORNERS)]
    TooManyCorners,
    /// A coordinate is infinite or not a number.
    #[error("point {point} of {ring} is not a finite number")]
    NotFinite {
        /// The ring.
        ring: RingRole,
        /// Which of its points.
        point: usize,
    },
    /// A coordinate lies beyond [`FAR_AWAY`](super::FAR_AWAY).
    #[error("point {point} of {ring} lies more than a kilometre away from the origin; is the unit right?")]
    TooFar {
        /// The ring.
        ring: RingRole,
        /// Which of its points.
        point: usize,
    },
    /// A point is the same as the one before it, or the last the same as the first.
    #[error("point {point} of {ring} repeats its neighbour at {at}; leave one of them out")]
    RepeatedPoint {
        /// The ring.
        ring: RingRole,
        /// The later of the two points.
        point: usize,
        /// Where.
        at: Place,
    },
    /// A ring encloses nothing.
    #[error("{ring} has no area: its points lie on one line")]
    ZeroArea {
        /// The ring.
        ring: RingRole,
    },
    /// Two edges of a ring cross.
    #[error("{ring} crosses itself at {at}, where edge {first} meets edge {second}")]
    SelfCrossing {
        /// The ring.
        ring: RingRole,
        /// One edge.
        first: usize,
        /// A later edge.
        second: usize,
        /// Where.
        at: Place,
    },
    /// A ring touches itself, or runs back along its own edge.
    #[error("{ring} touches itself at {at}, where edge {first} meets edge {second}; edges may meet only end to end")]
    TouchesItself {
        /// The ring.
        ring: RingRole,
        /// One edge.
        first: usize,
        /// A later edge.
        second: usize,
        /// Where.
        at: Place,
    },
    /// Two rings cross.
    #[error("{second} crosses {first} at {at}; a hole must lie wholly inside the piece and clear of other holes")]
    RingsCross {
        /// The outer ring or the lower hole.
        first: RingRole,
        /// The other hole.
        second: RingRole,
        /// Where.
        at: Place,
    },
    /// Two rings touch.
    #[error("{second} touches {first} at {at}; a hole must lie wholly inside the piece and clear of other holes")]
    RingsTouch {
        /// The outer ring or the lower hole.
        first: RingRole,
        /// The other hole.
        second: RingRole,
        /// Where.
        at: Place,
    },
    /// A hole lies outside the outer ring.
    #[error("hole {hole} at {at} lies outside the piece; a hole must lie wholly inside")]
    HoleOutside {
        /// Which hole, from 1.
        hole: usize,
        /// One of its points.
        at: Place,
    },
    /// A hole lies inside another hole.
    #[error("hole {inner} at {at} lies inside hole {outer}; there is no material left to cut it from")]
    HoleInHole {
        /// The hole inside, from 1.
        inner: usize,
        /// The hole round it, from 1.
        outer: usize,
        /// One of the inner hole's points.
        at: Place,
    },
    /// An allowance is negative, infinite or not a number.
    #[error("an allowance of {given} mm makes no sense; it must be zero or more")]
    Allowance {
        /// What was given, in millimetres.
        given: f64,
    },
    /// The number of allowances fits no rule.
    #[error(
        "{} given for {}; give one for each edge, or one for all round",
        counted(*given, "allowance is", "allowances are"),
        counted(*edges, "edge", "edges")
    )]
    AllowanceCount {
        /// How many were given.
        given: usize,
        /// How many edges the outer ring has.
        edges: usize,
    },
}

impl OutlineFault {
    /// The same fault with other numbers for points and edges.
    pub(super) fn renumbered(mut self, number_of: impl Fn(RingRole, usize) -> usize) -> Self {
        match &mut self {
            Self::NotFinite { ring, point }
            | Self::TooFar { ring, point }
            | Self::RepeatedPoint { ring, point, .. } => {
                *point = number_of(*ring, *point);
            }
            Self::SelfCrossing { ring, first, second, .. } | Self::TouchesItself { ring, first, second, .. } => {
                *first = number_of(*ring, *first);
                *second = number_of(*ring, *second);
            }
            _ => {}
        }
        self
    }
}

/// What is wrong with a text that should have been SVG path data.
#[derive(Clone, Debug, PartialEq, Error)]
#[error("{message} (character {} of the path)", .at + 1)]
pub struct PathFault {
    /// How many characters come before the place.
    pub at: usize,
    /// What is wrong and what would be right.
    pub message: String,
}
