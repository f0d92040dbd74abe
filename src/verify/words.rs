//! What the check found, in words for the person.

use std::error::Error;
use std::fmt;

use geo_types::Coord;

use super::{Fault, Finding};
use crate::units::Units;

impl Fault {
    /// The fault in words. A lay file is in millimetres, so lengths are told in them; in a job of another unit, the
    /// job's unit stands beside.
    pub fn told(&self, units: Units) -> String {
        let length = |mm: f64| length(mm, units);
        let place = |at: Coord<f64>| place(at, units);
        match self {
            Fault::Overlap { one, other, depth, at } => {
                format!("{one} overlaps {other} by {} near {}", length(*depth), place(*at))
            }
            Fault::GapNotKept { one, other, distance, gap, at } => format!(
                "{one} and {other} are {} apart near {}, and the gap should be {}",
                length(*distance),
                place(*at),
                length(*gap)
            ),
            Fault::OverEdge { piece, edge, by, limit } => format!(
                "{piece} reaches {} over the {edge} edge of the usable width, which ends at y {}",
                length(*by),
                length(*limit)
            ),
            Fault::OverEnd { piece, end, by, limit } => {
                format!("{piece} reaches {} over the {end} of the cloth at x {}", length(*by), length(*limit))
            }
            Fault::OffCloth { piece, by, at } => {
                format!("{piece} lies {} outside the outline of the cloth near {}", length(*by), place(*at))
            }
            Fault::OnFlaw { piece, flaw, depth, at } => {
                format!("{piece} reaches {} onto flaw {flaw} near {}", length(*depth), place(*at))
            }
            Fault::WrongTurn { piece, turn, off } => format!(
                "{piece} is turned by {}°, which is {}° off the nearest turn that its grain allows",
                plain(*turn, 4),
                plain(*off, 4)
            ),
            Fault::WrongFlip { piece, why } => format!("{piece} lies face down, but {why}"),
            Fault::WrongCloth { piece } => format!("{piece} may not be cut from this cloth"),
            Fault::NotFinite { what } => format!("{what} is not a finite number"),
            Fault::More { shown } => format!("there are more faults between pieces; the first {shown} are shown"),
            Fault::OtherOutline { piece, how } => {
                format!("the outline of {piece} is not its cut outline turned and moved to its place: {how}")
            }
            Fault::UnknownPiece { name } => format!("the job has no piece named \"{name}\""),
            Fault::UnknownCloth { name } => format!("the job has no cloth named \"{name}\""),
            Fault::Missing { piece } => format!("{piece} is missing: it has no place and is not listed as unplaced"),
            Fault::Repeated { piece, times } => format!("{piece} occurs {times} times"),
            Fault::TooMany { piece, quantity } => format!("{piece} is one too many: copies go from 1 to {quantity}"),
            Fault::NotLeft { piece } => format!("{piece} has been cut before"),
            Fault::ClothGone { piece } => format!("{piece} lies on cloth that was thrown away"),
            Fault::NoSuchCloth { count } => {
                format!("there is no such cloth: the job has {count} of it, numbered from 1")
            }
            Fault::ClothRepeated { times } => format!("the cloth is listed {times} times"),
            Fault::NoReason { piece } => format!("{piece} is unplaced and no reason is given"),
            Fault::WrongFigure { what, given, found } => {
                let figure = |value: f64| match *what {
                    "the waste" | "the density" => plain(value, 6),
                    _ => length(value),
                };
                format!("{what} is given as {}, and is {}", figure(*given), figure(*found))
            }
            Fault::BadCloth { why } => format!("the outline of the cloth or of one of its flaws cannot be used: {why}"),
            Fault::NoPieces { why } => format!("the pieces of the job cannot be worked out: {why}"),
            Fault::Tape { why } => why.clone(),
            Fault::Format { given } => format!("the lay says format {given}, and this program reads format 1"),
        }
    }
}

impl fmt::Display for Fault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.told(Units::Mm))
    }
}

impl Error for Fault {}

impl Finding {
    /// The finding in words, as [`Fault::told`] has them.
    pub fn told(&self, units: Units) -> String {
        match &self.cloth {
            Some(cloth) => format!("{cloth}: {}", self.fault.told(units)),
            None => self.fault.told(units),
        }
    }
}

impl fmt::Display for Finding {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.told(Units::Mm))
    }
}

/// Millimetres, to a thousandth and without trailing zeros; the job's unit beside them where it is another.
fn length(mm: f64, units: Units) -> String {
    match units {
        Units::Mm => format!("{} mm", plain(mm, 3)),
        _ => format!("{} mm ({})", plain(mm, 3), own(mm, units, 4)),
    }
}

fn place(at: Coord<f64>, units: Units) -> String {
    let millimetres = format!("x {}, y {}", plain(at.x, 1), plain(at.y, 1));
    match units {
        Units::Mm => millimetres,
        _ => format!("{millimetres} mm (x {}, y {})", own(at.x, units, 2), own(at.y, units, 2)),
    }
}

fn own(mm: f64, units: Units, digits: usize) -> String {
    format!("{} {}", plain(units.from_mm(mm), digits), units.symbol())
}

/// A number without trailing zeros and without a minus before zero; one that no lay has is cut short.
fn plain(value: f64, digits: usize) -> String {
    /// A lay file holds nothing like it, so its digits say nothing.
    const HUGE: f64 = 1e12;
    if value.is_finite() && value.abs() >= HUGE {
        return format!("{value:.3e}");
    }
    let text = format!("{value:.digits$}");
    let short = if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.') } else { &text };
    if short == "-0" { "0".into() } else { short.into() }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::verify::Named;

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
        assert_eq!(
            overlap.told(Units::In),
            "roll 1: doily 3 overlaps gusset 7 by 1.25 mm (0.0492 in) near x 1203.4, y 88 mm (x 47.38 in, y 3.46 in)"
        );
    }

    #[test]
    fn numbers_are_short() {
        assert_eq!(plain(-0.00001, 3), "0");
        assert_eq!(plain(1200.0, 3), "1200");
        assert_eq!(plain(0.0125, 3), "0.013");
        assert_eq!(plain(f64::NAN, 3), "NaN");
        assert_eq!(plain(-1.5e300, 3), "-1.500e300");
    }
}
