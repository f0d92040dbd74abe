//! A piece or a part that has another name in the job than the log gives it.

use super::entries::Entered;
use super::names::{listed, meant, wrong};
use super::{Desk, Stop, choose};
use crate::plan::ledger::{Event, part_names};

/// What only the log knows, as what the job has now: a piece as a piece, a part as a part.
pub(super) fn renamed(desk: &Desk, from: &str, to: &str) -> Result<Entered, Stop> {
    let parts = part_names(desk.job, desk.covering);
    let parts: Vec<&str> = parts.iter().map(String::as_str).collect();
    let old_pieces: Vec<&str> =
        desk.standing.pieces.keys().map(String::as_str).filter(|name| !is_piece(desk, name)).collect();
    let old_parts = old_parts(desk, &parts);
    let mut old = [old_pieces.clone(), old_parts.clone()].concat();
    old.sort_unstable();
    old.dedup();
    let from = old_name(desk, from, &old, &parts)?;
    let to = match (old_pieces.contains(&from), old_parts.contains(&from)) {
        (true, false) => choose::piece(desk, to)?.piece.name.as_str(),
        (false, _) => meant("part in the job", to, &parts)?,
        (true, true) => {
            let pieces = desk.pieces.iter().map(|counted| counted.piece.name.as_str());
            meant("piece or part in the job", to, &pieces.chain(parts.iter().copied()).collect::<Vec<_>>())?
        }
    };
    let event = Event::Renamed { from: from.to_owned(), to: to.to_owned() };
    Ok(Entered::one(event, format!("what the log calls “{from}” is “{to}” now")))
}

/// Parts with hours or notes that the job does not have.
fn old_parts<'a>(desk: &'a Desk, parts: &[&str]) -> Vec<&'a str> {
    let hours = desk.standing.hours.keys().map(|(part, _)| part.as_str());
    let notes = desk.standing.notes.iter().filter_map(|note| note.part.as_deref());
    hours.chain(notes).filter(|part| !parts.contains(part)).collect()
}

fn old_name<'n>(desk: &Desk, typed: &str, old: &[&'n str], parts: &[&str]) -> Result<&'n str, Stop> {
    let only_log = match old {
        [] => "the job has all that the log names".to_owned(),
        old => format!("only the log has {}", listed(old)),
    };
    let is_old = old.iter().any(|name| name.to_lowercase() == typed.trim().to_lowercase());
    if !is_old && (is_piece(desk, typed) || parts.contains(&typed)) {
        return Err(wrong(format!("“{typed}” is in the job still, under that name; {only_log}")));
    }
    if old.is_empty() {
        return Err(wrong(format!("the log has nothing called “{typed}” that needs another name; {only_log}")));
    }
    meant("name in the log", typed, old)
}

fn is_piece(desk: &Desk, name: &str) -> bool {
    desk.pieces.iter().any(|counted| counted.piece.name == name)
}
