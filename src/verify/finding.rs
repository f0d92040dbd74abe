//! What an independent check can find wrong with a lay.

use std::fmt;

use geo_types::Coord;

/// One of several alike: the third doily, the second roll.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Named {
    /// The name in the job.
    pub name: String,
    /// Copy number, from 1.
    pub number: u32,
}

impl Named {
    /// Names a copy.
    pub fn new(name: impl Into<String>, number: u32) -> Self {
        Self { name: name.into(), number }
    }
}

impl fmt::Display for Named {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} {}", self.name, self.number)
    }
}

/// Something that is wrong with a lay.
#[derive(Clone, Debug, PartialEq)]
pub struct Finding {
    /// The cloth on which it was found; none where the whole lay is meant.
    pub cloth: Option<Named>,
    /// What is wrong.
    pub fault: Fault,
}

/// What can be wrong. Lengths are in millimetres, `at` is in the cloth's coordinates, turns are in degrees.
#[derive(Clone, Debug, PartialEq)]
pub enum Fault {
    /// Two pieces lie on each other.
    Overlap {
        /// The first of the two in the lay.
        one: Named,
        /// The other.
        other: Named,
        /// How far one reaches into the other, at least.
        depth: f64,
        /// Where.
        at: Coord<f64>,
    },
    /// Two pieces lie too close.
    GapNotKept {
        /// The first of the two in the lay.
        one: Named,
        /// The other.
        other: Named,
        /// Their distance.
        distance: f64,
        /// The gap that was asked for.
        gap: f64,
        /// Where.
        at: Coord<f64>,
    },
    /// A piece reaches over the edge of the usable width.
    OverEdge {
        /// The piece.
        piece: Named,
        /// `lower` or `upper`.
        edge: &'static str,
        /// How far.
        by: f64,
        /// Where the usable width ends.
        limit: f64,
    },
    /// A piece reaches over an end of the cloth.
    OverEnd {
        /// The piece.
        piece: Named,
        /// `start` or `end`.
        end: &'static str,
        /// How far.
        by: f64,
        /// Where the cloth ends.
        limit: f64,
    },
    /// A piece reaches out of an offcut that is no rectangle.
    OffCloth {
        /// The piece.
        piece: Named,
        /// How far, at least.
        by: f64,
        /// Where.
        at: Coord<f64>,
    },
    /// A piece lies on a flaw.
    OnFlaw {
        /// The piece.
        piece: Named,
        /// Number of the flaw, from 1.
        flaw: usize,
        /// How far, at least.
        depth: f64,
        /// Where.
        at: Coord<f64>,
    },
    /// The grain does not allow the turn.
    WrongTurn {
        /// The piece.
        piece: Named,
        /// Its turn.
        turn: f64,
        /// Distance to the nearest turn that is allowed, its tolerance included.
        off: f64,
    },
    /// A piece lies face down and may not.
    WrongFlip {
        /// The piece.
        piece: Named,
        /// Whether the piece or the cloth forbids it.
        why: &'static str,
    },
    /// A piece lies on cloth that it may not be cut from.
    WrongCloth {
        /// The piece.
        piece: Named,
    },
    /// A figure is infinite or no number.
    NotFinite {
        /// Which figure.
        what: String,
    },
    /// There were more faults on a cloth than anybody reads.
    More {
        /// How many are shown.
        shown: usize,
    },
    /// The outline in the lay is not the piece's cut outline moved to its place.
    OtherOutline {
        /// The piece.
        piece: Named,
        /// What differs.
        how: String,
    },
    /// The job has no such piece.
    UnknownPiece {
        /// The name in the lay.
        name: String,
    },
    /// The job has no such cloth.
    UnknownCloth {
        /// The name in the lay.
        name: String,
    },
    /// A copy has no place and is not among the unplaced.
    Missing {
        /// The piece.
        piece: Named,
    },
    /// A copy occurs more than once.
    Repeated {
        /// The piece.
        piece: Named,
        /// How often.
        times: usize,
    },
    /// There are not that many copies.
    TooMany {
        /// The piece.
        piece: Named,
        /// How many the job asks for.
        quantity: u32,
    },
    /// A copy that has been cut before.
    NotLeft {
        /// The piece.
        piece: Named,
    },
    /// A piece on cloth that was thrown away.
    ClothGone {
        /// The piece.
        piece: Named,
    },
    /// There are not that many such cloths.
    NoSuchCloth {
        /// How many there are.
        count: u32,
    },
    /// A cloth is listed twice.
    ClothRepeated {
        /// How often.
        times: usize,
    },
    /// A piece is unplaced without a reason.
    NoReason {
        /// The piece.
        piece: Named,
    },
    /// A figure does not agree with what it is the figure of.
    WrongFigure {
        /// Which figure.
        what: &'static str,
        /// As it is written.
        given: f64,
        /// As it was worked out again, or as the job has it.
        found: f64,
    },
    /// The outline of the cloth or of one of its flaws is no sound polygon.
    BadCloth {
        /// What is wrong with it.
        why: String,
    },
    /// The pieces to cut cannot be worked out from the job.
    NoPieces {
        /// Why.
        why: String,
    },
    /// The tape plan is wrong.
    Tape {
        /// What is wrong with it.
        why: String,
    },
    /// The file is of another format.
    Format {
        /// As it is written.
        given: u32,
    },
}

impl Fault {
    /// The piece that the fault is about, where it is about one alone.
    pub fn piece(&self) -> Option<&Named> {
        match self {
            Self::OverEdge { piece, .. }
            | Self::OverEnd { piece, .. }
            | Self::OffCloth { piece, .. }
            | Self::OnFlaw { piece, .. }
            | Self::WrongTurn { piece, .. }
            | Self::WrongFlip { piece, .. }
            | Self::WrongCloth { piece }
            | Self::OtherOutline { piece, .. }
            | Self::Missing { piece }
            | Self::Repeated { piece, .. }
            | Self::TooMany { piece, .. }
            | Self::NotLeft { piece }
            | Self::ClothGone { piece }
            | Self::NoReason { piece } => Some(piece),
            _ => None,
        }
    }
}
