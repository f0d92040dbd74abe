//! What can be wrong with a log.

use std::io;
use std::path::PathBuf;

use thiserror::Error;

use super::Stage;

/// A line that makes no sense after those above it. It is told and does not count.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum Oddity {
    /// A copy is cut that is there already.
    #[error("“{piece}”, copy {copy} is {stage} already; if it was spoiled, log that first")]
    NotToCut {
        /// The piece.
        piece: String,
        /// The copy.
        copy: u32,
        /// How far it is.
        stage: Stage,
    },
    /// A copy is worked on that is not there.
    #[error("“{piece}”, copy {copy} has not been cut")]
    NotCut {
        /// The piece.
        piece: String,
        /// The copy.
        copy: u32,
    },
    /// A copy has come as far already.
    #[error("“{piece}”, copy {copy} is {stage} already")]
    Already {
        /// The piece.
        piece: String,
        /// The copy.
        copy: u32,
        /// How far it is.
        stage: Stage,
    },
    /// Two lengths or offcuts of one name.
    #[error("there is a cloth “{name}” in the log already")]
    ClothTwice {
        /// The name.
        name: String,
    },
    /// Cloth that was thrown away is cut or thrown away again.
    #[error("the cloth “{name}” is gone")]
    ClothGone {
        /// The name.
        name: String,
    },
    /// A piece lay on the beginning of a cloth, which was thrown away.
    #[error(
        "“{piece}”, copy {copy} would lie where the cloth “{cloth}” is gone; lay the rest anew (lay JOB --rest) and name that lay"
    )]
    PlaceGone {
        /// The piece.
        piece: String,
        /// The copy.
        copy: u32,
        /// The cloth.
        cloth: String,
    },
    /// A piece lay where another was cut.
    #[error(
        "“{piece}”, copy {copy} would lie where “{other}” was cut from “{cloth}”; lay the rest anew (lay JOB --rest) and name that lay"
    )]
    CutTwice {
        /// The piece.
        piece: String,
        /// The copy.
        copy: u32,
        /// What was cut there before.
        other: String,
        /// The cloth.
        cloth: String,
    },
    /// A piece is renamed to one that has been cut as well.
    #[error("“{from}” cannot become “{to}”: both have been cut")]
    BothThere {
        /// As it was.
        from: String,
        /// As it would be.
        to: String,
    },
    /// An undo without a line that it could take back.
    #[error("line {line} cannot be undone: there is no such line, or it has been undone")]
    NothingToUndo {
        /// The line.
        line: usize,
    },
}

/// Why a log cannot be read or added to.
#[derive(Debug, Error)]
pub enum LogFault {
    /// The system says no.
    #[error("the log {} cannot be {what}: {error}", file.display())]
    File {
        /// The file.
        file: PathBuf,
        /// What was tried.
        what: &'static str,
        /// What the system said.
        error: io::Error,
    },
    /// The event makes no sense after those above it.
    #[error("nothing was recorded: {}", .0.iter().map(ToString::to_string).collect::<Vec<_>>().join("\n"))]
    Odd(Vec<Oddity>),
}
