//! Every line of the log in words.

use std::io::{self, Write};

use super::Desk;
use super::status::{long, tape_words};
use crate::cli::messages::numbers;
use crate::cli::table::{Align, Table};
use crate::plan::ledger::Event;
use crate::units::{Units, trimmed};

/// Prints every line with its number, its day and what it says; a line that was undone says so.
pub(super) fn print(out: &mut impl Write, desk: &Desk) -> io::Result<()> {
    let undone = desk.log.undone();
    let mut table =
        Table::new(&[("line", Align::Right), ("day", Align::Left), ("", Align::Left), ("what", Align::Left)]);
    for entry in &desk.log.entries {
        let odd = desk.standing.oddities.iter().any(|(line, _)| *line == entry.line);
        let counts = if undone.contains(&entry.line) {
            "undone"
        } else if odd {
            "odd"
        } else {
            ""
        };
        let words = words(&entry.event, desk.job.units);
        table.line([entry.line.to_string(), entry.date.to_string(), counts.to_owned(), words]);
    }
    table.print(out)
}

/// An event in words.
pub(super) fn words(event: &Event, units: Units) -> String {
    let copies = |piece: &str, copies: &[u32]| {
        let word = if copies.len() == 1 { "copy" } else { "copies" };
        format!("“{piece}”, {word} {}", numbers(copies.iter().copied()))
    };
    let part = |part: &Option<String>| part.as_ref().map_or(String::new(), |part| format!(" on {part}"));
    match event {
        Event::Lay { file } => format!("lay in use: {file}"),
        Event::Cut { piece, copies: numbers, cloth, .. } => {
            let from = cloth.as_ref().map_or(String::new(), |cloth| format!(" from “{cloth}”"));
            format!("cut: {}{from}", copies(piece, numbers))
        }
        Event::Glued { piece, copies: numbers } => format!("glued: {}", copies(piece, numbers)),
        Event::Finished { piece, copies: numbers } => format!("finished: {}", copies(piece, numbers)),
        Event::Spoiled { piece, copies: numbers, why } => {
            let why = why.as_ref().map_or(String::new(), |why| format!(": {why}"));
            format!("spoiled: {}{why}", copies(piece, numbers))
        }
        Event::Tape { tape, length, part: on } => {
            format!("used: {} of {}{}", long(*length, units), tape_words(*tape, units), part(on))
        }
        Event::BoughtTape { tape, length } => {
            format!("bought: {} of {}", long(*length, units), tape_words(*tape, units))
        }
        Event::Bought { cloth, name, length } => {
            let called = if name == cloth { String::new() } else { format!(" as “{name}”") };
            format!("bought: {} of “{cloth}”{called}", units.show(*length))
        }
        Event::Found { name, of, .. } => format!("found: “{name}” of “{of}”"),
        Event::Gone { cloth, up_to } => {
            let up_to = up_to.map_or(String::new(), |up_to| format!(" up to {}", units.show(up_to)));
            format!("gone: “{cloth}”{up_to}")
        }
        Event::Hours { part, step, hours } => format!("{} h of {} on {part}", trimmed(*hours, 2), step.word()),
        Event::Note { text, part: about } => format!("note{}: {text}", part(about)),
        Event::Renamed { from, to } => format!("renamed: “{from}” is “{to}” now"),
        Event::Undo { line } => format!("undone: line {line}"),
    }
}
