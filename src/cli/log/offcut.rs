//! An offcut that turned up.

use super::entries::{Entered, is_free};
use super::measures::{corner, corners_from_zero};
use super::names::{listed, meant, wrong};
use super::{Desk, Stop};
use crate::plan::ledger::{Event, stock};
use crate::plan::size;
use crate::shape::Curve;

/// An offcut by its corners; it has a name, and is no larger than what it was cut from.
pub(super) fn found(desk: &Desk, of: Option<&str>, name: Option<&str>, corners: &[String]) -> Result<Entered, Stop> {
    let cloths: Vec<&str> = desk.job.cloth.iter().map(|cloth| cloth.name.as_str()).collect();
    let of = match (of, cloths.as_slice()) {
        (Some(typed), _) => meant("cloth", typed, &cloths)?,
        (None, [only]) => only,
        (None, _) => {
            return Err(wrong(format!("of which cloth is it? Add --of with one of {}", listed(&cloths))));
        }
    };
    let outline = corners_from_zero(corners.iter().map(|text| corner(desk, text)).collect::<Result<_, _>>()?);
    let area = Curve::polygon(&outline, &[]).flatten().map_err(|fault| {
        wrong(format!("these corners make no offcut: {fault}; give them in turn, going once round"))
    })?;
    check_size(desk, of, &outline, area.area())?;
    let name = match name {
        Some(name) if name.trim().is_empty() => return Err(wrong("an offcut needs a name that can be read")),
        Some(name) => name.trim().to_owned(),
        None => (1..).map(|number| format!("offcut {number}")).find(|name| is_free(desk, name, "")).unwrap_or_default(),
    };
    if !is_free(desk, &name, "") {
        return Err(wrong(format!("there is a cloth “{name}” already")));
    }
    let units = desk.job.units;
    let said = format!("found: “{name}” of “{of}”, {}", crate::plan::area(area.area(), units));
    Ok(Entered::one(Event::Found { name, of: of.to_owned(), outline }, said))
}

/// Nothing is cut from a cloth that is longer or wider than the cloth itself.
fn check_size(desk: &Desk, of: &str, outline: &[[f64; 2]], area: f64) -> Result<(), Stop> {
    /// In square millimetres: a square of 10 mm, from which nothing can be cut.
    const LEAST: f64 = 100.0;
    /// Rolls are a little longer and wider than they are sold, and a slack cloth measures long; from memory.
    const SLACK: f64 = 1.02;
    let reach = |axis: usize| outline.iter().map(|corner| corner[axis]).fold(0.0, f64::max);
    let [along, across] = [reach(0), reach(1)];
    let this = size([along, across], desk.job.units);
    if area < LEAST {
        return Err(wrong(format!(
            "an offcut of less than 1 cm² is of no use, and this would be {this}; measure again"
        )));
    }
    let stock = stock(desk.job, &desk.standing);
    let cloths: Vec<_> = stock.iter().filter(|cloth| cloth.of.name == of && cloth.outline.is_none()).collect();
    let width = cloths.iter().map(|cloth| cloth.width).fold(0.0, f64::max);
    // One length that nobody knows may be as long as it likes.
    let lengths: Option<Vec<f64>> = cloths.iter().map(|cloth| cloth.length).collect();
    let length = lengths.map(|lengths| lengths.into_iter().fold(0.0, f64::max));
    if across <= SLACK * width && length.is_none_or(|length| along <= SLACK * length) {
        return Ok(());
    }
    let show = |mm: f64| desk.job.units.show(mm);
    let long = length.map_or(String::new(), |length| format!("{} long and ", show(length)));
    let way_out = if desk.job.cloth.len() > 1 { ", or name another cloth with --of" } else { "" };
    Err(wrong(format!("“{of}” is {long}{} wide, and this would be {this}; measure again{way_out}", show(width))))
}
