//! Lengths, corners and hours as they are typed.

use super::names::wrong;
use super::{Desk, Stop};
use crate::units::{LengthFault, typed_length};

/// Two corners are opposite ones of a rectangle. Whatever the person measured from, the least x and y become zero.
pub(super) fn corners_from_zero(corners: Vec<[f64; 2]>) -> Vec<[f64; 2]> {
    let corners = match corners.as_slice() {
        [[left, low], [right, high]] => vec![[*left, *low], [*right, *low], [*right, *high], [*left, *high]],
        _ => corners,
    };
    let least = |axis: usize| corners.iter().map(|corner| corner[axis]).fold(f64::INFINITY, f64::min);
    let [left, low] = [least(0), least(1)];
    corners.iter().map(|[x, y]| [x - left, y - low]).collect()
}

/// `900,450`: along and across.
pub(super) fn corner(desk: &Desk, text: &str) -> Result<[f64; 2], Stop> {
    let (along, across) = text.split_once(',').ok_or_else(|| {
        wrong(format!("{text:?} is no corner; write along and across with a comma between, like 900,450"))
    })?;
    Ok([length(desk, along)?, length(desk, across)?])
}

/// `2.5`, `2:30`, `2 h 30 min`, `45 min`.
pub(super) fn hours(text: &str) -> Result<f64, Stop> {
    const MOST: f64 = 1000.0;
    let number = |text: &str| text.trim().parse::<f64>().ok();
    let plain = text.trim().to_lowercase();
    let parts = match (plain.split_once(':'), plain.split_once('h')) {
        (Some((hours, minutes)), _) => number(hours).zip(number(minutes)),
        (None, Some((hours, rest))) => {
            let rest = rest.trim_start_matches("ours").trim_start_matches("our").trim_end_matches("min");
            number(hours).zip(if rest.trim().is_empty() { Some(0.0) } else { number(rest) })
        }
        (None, None) => match plain.strip_suffix("min") {
            Some(minutes) => number(minutes).map(|minutes| (0.0, minutes)),
            None => number(&plain).map(|hours| (hours, 0.0)),
        },
    };
    let after_hours = !plain.ends_with("min") || plain.contains('h');
    if parts.is_some_and(|(_, minutes)| after_hours && minutes >= 60.0) {
        return Err(wrong(format!(
            "{text:?} has 60 minutes or more after the hours; write it like 2.5, 2:30 or \"2 h 30 min\""
        )));
    }
    let hours = parts.filter(|(hours, minutes)| *hours >= 0.0 && *minutes >= 0.0).map(|(h, m)| h + m / 60.0);
    hours.filter(|hours| *hours > 0.0 && *hours <= MOST).ok_or_else(|| {
        wrong(format!("{text:?} is no time above 0 and up to {MOST} hours; write it like 2.5, 2:30 or \"2 h 30 min\""))
    })
}

fn length(desk: &Desk, text: &str) -> Result<f64, Stop> {
    let text = text.trim();
    let fault = |fault: LengthFault| wrong(format!("{}; {}", fault.message, fault.hint));
    let mm = typed_length(desk.job.units, text).map_err(fault)?;
    if mm.abs() <= crate::job::limits::LENGTH {
        Ok(mm)
    } else {
        Err(wrong(format!("{text:?} is longer than any cloth")))
    }
}

/// A length above zero.
pub(super) fn size(desk: &Desk, text: &str) -> Result<f64, Stop> {
    let mm = length(desk, text)?;
    if mm > 0.0 { Ok(mm) } else { Err(wrong(format!("{text:?} must be more than nothing"))) }
}
