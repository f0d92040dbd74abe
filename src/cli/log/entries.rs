//! What was typed, turned into events.

use std::path::Path;

use super::args::What;
use super::choose::{CUT, Chosen, FINISHED, GLUED, SPOILED, choose};
use super::cut::{cuts, still_on};
use super::enough::lacking;
use super::measures::{hours, size};
use super::names::{meant, wrong};
use super::offcut::found;
use super::rename::renamed;
use super::{Desk, Stop, status};
use crate::cli::settings::job_path_from;
use crate::cli::written_lay::read_lay;
use crate::plan::ledger::{Event, Step, TapeKind, part_names, stock, stock_name};
use crate::wording::counted;

/// What a command adds to the log, and what it says.
#[derive(Default)]
pub(super) struct Entered {
    pub events: Vec<Event>,
    pub said: Vec<String>,
    pub cautions: Vec<String>,
}

impl Entered {
    pub fn one(event: Event, said: String) -> Self {
        Self { events: vec![event], said: vec![said], cautions: Vec::new() }
    }
}

/// Turns a command into events.
pub(super) fn enter(desk: &Desk, what: &What) -> Result<Entered, Stop> {
    match what {
        What::Status { .. } | What::List => Ok(Entered::default()),
        What::Lay { file } => lay(desk, file),
        What::Cut { pieces, from, off_lay } => {
            let chosen = choose(desk, pieces, &CUT)?;
            let (events, cautions) = cuts(desk, &chosen, from.as_deref(), *off_lay)?;
            Ok(Entered { events, said: said("cut", &chosen), cautions })
        }
        What::Glued { pieces } => {
            let event = |piece, copies| Event::Glued { piece, copies };
            Ok(for_each("glued", &choose(desk, pieces, &GLUED)?, event))
        }
        What::Finished { pieces } => {
            let event = |piece, copies| Event::Finished { piece, copies };
            Ok(for_each("finished", &choose(desk, pieces, &FINISHED)?, event))
        }
        What::Spoiled { pieces, why } => {
            let event = |piece, copies| Event::Spoiled { piece, copies, why: why.clone() };
            let mut entered = for_each("spoiled, to be cut again", &choose(desk, pieces, &SPOILED)?, event);
            if desk.standing.lay.is_some() {
                entered.said.push("lay the rest anew to find cloth for it (lay JOB --rest)".to_owned());
            }
            Ok(entered)
        }
        What::Tape { width, length, bias, part } => tape(desk, [width, length], *bias, part.as_deref()),
        What::BoughtTape { width, length, bias } => {
            let tape = TapeKind { width: size(desk, width)?, bias: *bias };
            let length = size(desk, length)?;
            let said = format!(
                "bought: {} of {}",
                status::long(length, desk.job.units),
                status::tape_words(tape, desk.job.units)
            );
            Ok(Entered::one(Event::BoughtTape { tape, length }, said))
        }
        What::Bought { cloth, length } => bought(desk, cloth, length),
        What::Found { of, name, corners } => found(desk, of.as_deref(), name.as_deref(), corners),
        What::Gone { cloth, up_to } => gone(desk, cloth, up_to.as_deref()),
        What::Hours { part, hours, step } => spent(desk, part, hours, step),
        What::Note { text, part } => {
            if text.trim().is_empty() {
                return Err(wrong("a note needs words"));
            }
            let part = part.as_deref().map(|part| named_part(desk, part)).transpose()?;
            Ok(Entered::one(Event::Note { text: text.clone(), part }, "noted".to_owned()))
        }
        What::Renamed { from, to } => renamed(desk, from, to),
        What::Undo { line } => undo(desk, *line),
    }
}

fn said(doing: &str, chosen: &[Chosen]) -> Vec<String> {
    chosen.iter().map(|chosen| format!("{doing}: {}", chosen.words())).collect()
}

fn for_each(doing: &str, chosen: &[Chosen], event: impl Fn(String, Vec<u32>) -> Event) -> Entered {
    let events = chosen.iter().map(|chosen| event(chosen.name().to_owned(), chosen.copies.clone()));
    Entered { events: events.collect(), said: said(doing, chosen), cautions: Vec::new() }
}

/// The lay is named as the job's folder sees it, so that both can be moved together.
fn lay(desk: &Desk, file: &Path) -> Result<Entered, Stop> {
    let lay = read_lay(file)?;
    let known = |name: &str| desk.pieces.iter().any(|counted| counted.piece.name == name);
    let laid = || lay.cloths.iter().flat_map(|cloth| &cloth.pieces);
    if let Some(stranger) = laid().find(|laid| !known(&laid.piece)) {
        return Err(wrong(format!("{} has a piece “{}” that is not in this job", file.display(), stranger.piece)));
    }
    let folder = desk.args.job.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."));
    let said =
        format!("cutting goes by {} from now on: {}", file.display(), counted(laid().count(), "piece", "pieces"));
    let cautions = lacking(desk, &lay);
    Ok(Entered { cautions, ..Entered::one(Event::Lay { file: job_path_from(folder, file) }, said) })
}

fn tape(desk: &Desk, [width, length]: [&str; 2], bias: bool, part: Option<&str>) -> Result<Entered, Stop> {
    let tape = TapeKind { width: size(desk, width)?, bias };
    let length = size(desk, length)?;
    let part = part.map(|part| named_part(desk, part)).transpose()?;
    let words = status::tape_words(tape, desk.job.units);
    let mut entered = Entered::one(
        Event::Tape { tape, length, part },
        format!("used: {} of {words}", status::long(length, desk.job.units)),
    );
    let before = desk.standing.tape.iter().find(|standing| standing.tape == tape);
    let [bought, used] = before.map_or([0.0; 2], |standing| [standing.bought, standing.used]);
    if bought > 0.0 && used + length > bought {
        entered.cautions.push(format!(
            "more of {words} is used than was bought: {} of {}",
            status::long(used + length, desk.job.units),
            status::long(bought, desk.job.units)
        ));
    }
    Ok(entered)
}

fn bought(desk: &Desk, typed: &str, length: &str) -> Result<Entered, Stop> {
    let rolls = desk.job.cloth.iter().filter(|cloth| cloth.is_bought());
    let names: Vec<&str> = rolls.map(|cloth| cloth.name.as_str()).collect();
    let cloth = meant("cloth to be bought", typed, &names)?.to_owned();
    let length = size(desk, length)?;
    let name = (1..).map(|number| stock_name(&cloth, number)).find(|name| is_free(desk, name, &cloth));
    let name = name.unwrap_or_else(|| cloth.clone());
    let called = if name == cloth { String::new() } else { format!("; it is called “{name}”") };
    let said = format!("bought: {} of “{cloth}”{called}", show(desk, length));
    Ok(Entered::one(Event::Bought { cloth, name, length }, said))
}

/// Whether a cloth may be called so: only the first length of a roll has the name of the job's cloth.
pub(super) fn is_free(desk: &Desk, name: &str, roll: &str) -> bool {
    let in_job = desk.job.cloth.iter().any(|cloth| cloth.name == name && name != roll);
    !in_job && !desk.standing.has_cloth(name)
}

fn gone(desk: &Desk, typed: &str, up_to: Option<&str>) -> Result<Entered, Stop> {
    let stock = stock(desk.job, &desk.standing);
    let names: Vec<&str> = stock.iter().map(|cloth| cloth.name.as_str()).collect();
    let cloth = meant("cloth", typed, &names)?.to_owned();
    let up_to = up_to.map(|up_to| size(desk, up_to)).transpose()?;
    let said = match up_to {
        Some(up_to) => format!("gone: “{cloth}” from its end to {}", show(desk, up_to)),
        None => format!("gone: “{cloth}”"),
    };
    let waiting = still_on(desk, &cloth, up_to)?;
    let mut entered = Entered::one(Event::Gone { cloth, up_to }, said);
    if waiting > 0 {
        let pieces = counted(waiting, "piece that is still to be cut was", "pieces that are still to be cut were");
        entered.said.push(format!("{pieces} to come from there: lay the rest anew (lay JOB --rest)"));
    }
    Ok(entered)
}

fn spent(desk: &Desk, part: &str, typed: &str, step: &str) -> Result<Entered, Stop> {
    let part = named_part(desk, part)?;
    let words: Vec<&str> = Step::ALL.iter().map(|step| step.word()).collect();
    let word = meant("step", step, &words)?;
    let step = Step::ALL.into_iter().find(|step| step.word() == word).unwrap_or(Step::Other);
    let hours = hours(typed)?;
    let said = format!("{part}: {} h of {word}", crate::units::trimmed(hours, 2));
    Ok(Entered::one(Event::Hours { part, step, hours }, said))
}

fn named_part(desk: &Desk, typed: &str) -> Result<String, Stop> {
    let parts = part_names(desk.job, desk.covering);
    let parts: Vec<&str> = parts.iter().map(String::as_str).collect();
    meant("part", typed, &parts).map(str::to_owned)
}

fn undo(desk: &Desk, line: Option<usize>) -> Result<Entered, Stop> {
    let last = || {
        let undone: Vec<usize> = desk.log.undone().into_iter().collect();
        let counts = |line: &usize| !undone.contains(line);
        let done = desk.log.entries.iter().filter(|entry| !matches!(entry.event, Event::Undo { .. }));
        done.map(|entry| entry.line).rfind(counts)
    };
    let line = line.or_else(last).ok_or_else(|| wrong("there is nothing to undo"))?;
    let entry = desk.log.entries.iter().find(|entry| entry.line == line);
    let words = entry.map_or_else(String::new, |entry| super::listing::words(&entry.event, desk.job.units));
    Ok(Entered::one(Event::Undo { line }, format!("undone: line {line}, {words}")))
}

fn show(desk: &Desk, mm: f64) -> String {
    desk.job.units.show(mm)
}
