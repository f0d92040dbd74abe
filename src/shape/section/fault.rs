//! What is wrong with a section, in words for the person who wrote it.

use thiserror::Error;

/// Why something is no wing section.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum SectionFault {
    /// Not four digits.
    #[error("a four-digit section has four digits such as 2412, this is {0:?}")]
    NotFourDigits(String),
    /// The last two digits are 00.
    #[error("the section {0} has no thickness: its last two digits say how thick it is, in hundredths of the chord")]
    NoThickness(String),
    /// Only one of the first two digits is 0.
    #[error(
        "the section {0} has camber without its place, or a place without camber: the first two digits are both 0, or neither is"
    )]
    CamberWithoutPlace(String),
    /// Fewer rows than a curve needs.
    #[error("a section needs 4 rows of ordinates or more, this one has {0}")]
    TooFewRows(usize),
    /// A number that is none, or farther from the chord line than the section is long.
    #[error("row {row} holds {value}; ordinates are per cent of the chord, from -100 to 100")]
    OutOfRange {
        /// Which row, from 1.
        row: usize,
        /// The number.
        value: f64,
    },
    /// The first row is not the nose.
    #[error("the first row is station {0}; begin at the nose, station 0")]
    NotFromNose(f64),
    /// The last row is not the trailing edge.
    #[error("the last row is station {0}; end at the trailing edge, station 100")]
    NotToTrailingEdge(f64),
    /// A station that does not lie behind the one before it.
    #[error(
        "row {row}, station {station}, does not lie behind the row before it; stations go from nose to trailing edge"
    )]
    StationsNotInOrder {
        /// Which row, from 1.
        row: usize,
        /// Its station.
        station: f64,
    },
    /// Upper and lower ordinate differ at the nose.
    #[error("at the nose the upper ordinate is {upper} and the lower one {lower}; there they are the same")]
    OpenNose {
        /// The upper ordinate.
        upper: f64,
        /// The lower ordinate.
        lower: f64,
    },
    /// The upper surface lies below the lower one.
    #[error(
        "in row {row}, station {station}, the upper ordinate lies below the lower one; a row is [station, upper, lower]"
    )]
    InsideOut {
        /// Which row, from 1.
        row: usize,
        /// Its station.
        station: f64,
    },
}

impl SectionFault {
    /// The row of ordinates that is wrong, from 1, where it is one.
    pub fn row(&self) -> Option<usize> {
        match self {
            Self::OutOfRange { row, .. } | Self::StationsNotInOrder { row, .. } | Self::InsideOut { row, .. } => {
                Some(*row)
            }
            Self::NotFromNose(_) | Self::OpenNose { .. } => Some(1),
            _ => None,
        }
    }
}
