//! What an independent check can find wrong with a lay, in words for the person.

use std::fmt;

use geo_types::Coord;
use thiserror::Error;

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

impl fmt::Display for Finding {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match &self.cloth {
            Some(cloth) => write!(f, "{cloth}: {}", self.fault),
            None => self.fault.fmt(f),
        }
    }
}

/// What can be wrong. Lengths are in millimetres, `at` is in the cloth's coordinates, turns are in degrees.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum Fault {
    /// Two pieces lie on each other.
    #[error("{one} overlaps {other} by {} near {}", mm(*depth), place(*at))]
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
    #[error("{one} and {other} are {} apart near {}, and the gap should be {}", mm(*distance), place(*at), mm(*gap))]
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
    #[error("{piece} reaches {} over the {edge} edge of the usable width, which ends at y {}", mm(*by), mm(*limit))]
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
    #[error("{piece} reaches {} over the {end} of the cloth at x {}", mm(*by), mm(*limit))]
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
    #[error("{piece} lies {} outside the outline of the cloth near {}", mm(*by), place(*at))]
    OffCloth {
        /// The piece.
        piece: Named,
        /// How far, at least.
        by: f64,
        /// Where.
        at: Coord<f64>,
    },
    /// A piece lies on a flaw.
    #[error("{piece} reaches {} onto flaw {flaw} near {}", mm(*depth), place(*at))]
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
    #[error("{piece} is turned by {}°, which is {}° off the nearest turn that its grain allows", plain(*turn, 4), plain(*off, 4))]
    WrongTurn {
        /// The piece.
        piece: Named,
        /// Its turn.
        turn: f64,
        /// Distance to the nearest turn that is allowed, its tolerance included.
        off: f64,
    },
    /// A piece lies face down and may not.
    #[error("{piece} lies face down, but {why}")]
    WrongFlip {
        /// The piece.
        piece: Named,
        /// Whether the piece or the cloth forbids it.
        why: &'static str,
    },
    /// A piece lies on cloth that it may not be cut from.
    #[error("{piece} may not be cut from this cloth")]
    WrongCloth {
        /// The piece.
        piece: Named,
    },
    /// A figure is infinite or no number.
    #[error("{what} is not a finite number")]
    NotFinite {
        /// Which figure.
        what: String,
    },
    /// There were more faults on a cloth than anybody reads.
    #[error("there are more faults between pieces; the first {shown} are shown")]
    More {
        /// How many are shown.
        shown: usize,
    },
    /// The outline in the lay is not the piece's cut outline moved to its place.
    #[error("the outline of {piece} is not its cut outline turned and moved to its place: {how}")]
    OtherOutline {
        /// The piece.
        piece: Named,
        /// What differs.
        how: String,
    },
    /// The job has no such piece.
    #[error("the job has no piece named \"{name}\"")]
    UnknownPiece {
        /// The name in the lay.
        name: String,
    },
    /// The job has no such cloth.
    #[error("the job has no cloth named \"{name}\"")]
    UnknownCloth {
        /// The name in the lay.
        name: String,
    },
    /// A copy has no place and is not among the unplaced.
    #[error("{piece} is missing: it has no place and is not listed as unplaced")]
    Missing {
        /// The piece.
        piece: Named,
    },
    /// A copy occurs more than once.
    #[error("{piece} occurs {times} times")]
    Repeated {
        /// The piece.
        piece: Named,
        /// How often.
        times: usize,
    },
    /// There are not that many copies.
    #[error("{piece} is one too many: copies go from 1 to {quantity}")]
    TooMany {
        /// The piece.
        piece: Named,
        /// How many the job asks for.
        quantity: u32,
    },
    /// There are not that many such cloths.
    #[error("there is no such cloth: the job has {count} of it, numbered from 1")]
    NoSuchCloth {
        /// How many there are.
        count: u32,
    },
    /// A cloth is listed twice.
    #[error("the cloth is listed {times} times")]
    ClothRepeated {
        /// How often.
        times: usize,
    },
    /// A piece is unplaced without a reason.
    #[error("{piece} is unplaced and no reason is given")]
    NoReason {
        /// The piece.
        piece: Named,
    },
    /// A figure does not agree with what it is the figure of.
    #[error("{what} is given as {}, and is {}", plain(*given, 6), plain(*found, 6))]
    WrongFigure {
        /// Which figure.
        what: &'static str,
        /// As it is written.
        given: f64,
        /// As it was worked out again, or as the job has it.
        found: f64,
    },
    /// The outline of the cloth or of one of its flaws is no sound polygon.
    #[error("the outline of the cloth or of one of its flaws cannot be used: {why}")]
    BadCloth {
        /// What is wrong with it.
        why: String,
    },
    /// The pieces to cut cannot be worked out from the job.
    #[error("the pieces of the job cannot be worked out: {why}")]
    NoPieces {
        /// Why.
        why: String,
    },
    /// The file is of another format.
    #[error("the lay says format {given}, and this program reads format 1")]
    Format {
        /// As it is written.
        given: u32,
    },
}

/// Millimetres, to a thousandth and without trailing zeros.
fn mm(value: f64) -> String {
    format!("{} mm", plain(value, 3))
}

fn place(at: Coord<f64>) -> String {
    format!("x {}, y {}", plain(at.x, 1), plain(at.y, 1))
}

/// A number without trailing zeros and without a minus before zero.
fn plain(value: f64, digits: usize) -> String {
    let text = format!("{value:.digits$}");
    let short = if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.') } else { &text };
    if short == "-0" { "0".into() } else { short.into() }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn findings_read_well() {
        let overlap = Finding {
            cloth: Some(Named::new("roll", 1)),
            fault: Fault::Overlap {
                one: Named::new("doily", 3),
                other: Named::new("gusset", 7),
                depth: 1.25,
                at: Coord { x: 1203.4, y: 88.0 },
            },
        };
        assert_eq!(overlap.to_string(), "roll 1: doily 3 overlaps gusset 7 by 1.25 mm near x 1203.4, y 88");
    }

    #[test]
    fn numbers_are_short() {
        assert_eq!(plain(-0.00001, 3), "0");
        assert_eq!(plain(1200.0, 3), "1200");
        assert_eq!(plain(0.0125, 3), "0.013");
        assert_eq!(plain(f64::NAN, 3), "NaN");
    }
}
