//! `clothwright log`: the memory of a covering project.

mod args;
mod choose;
mod cut;
mod entries;
mod listing;
mod names;
mod status;

use std::io::{self, Write};

use jiff::ZonedDateTime;

use crate::covering::{Covering, cover};
use crate::job::{self, Job};
use crate::plan::PlanFault;
use crate::plan::ledger::{CountedPiece, Log, LogFault, LogFile, Standing, counted_pieces, fold, log_path};

pub(super) use args::Args;
use args::What;

use super::exit::{Exit, Stop};
use super::messages;

/// What a command of the log works on.
struct Desk<'a> {
    args: &'a Args,
    job: &'a Job,
    covering: &'a Covering,
    pieces: &'a [CountedPiece],
    log: &'a Log,
    standing: Standing,
}

/// Adds to the log of a job, or shows it.
pub(super) fn run(args: &Args) -> Result<Exit, Stop> {
    let job = job::read(&args.job)?.job;
    let covering = cover(&job).map_err(PlanFault::from)?;
    let pieces = counted_pieces(&job, &covering);
    let path = log_path(&args.job);
    let desk = |log| {
        let standing = fold(log_entries(log));
        Desk { args, job: &job, covering: &covering, pieces: &pieces, log, standing }
    };
    let mut out = io::stdout().lock();
    match &args.what {
        What::Status { json } => {
            let log = LogFile::read(&path)?;
            torn(&log);
            status::print(&mut out, &desk(&log), *json)?;
        }
        What::List => {
            let log = LogFile::read(&path)?;
            torn(&log);
            listing::print(&mut out, &desk(&log))?;
        }
        what => {
            let mut file = LogFile::hold(&path)?;
            torn(file.log());
            // Held from here on: nobody can cut the same copy between our look and our line.
            let entered = entries::enter(&desk(&file.log().clone()), what)?;
            let date = args.date.unwrap_or_else(|| ZonedDateTime::now().date());
            file.add(date, &entered.events)?;
            for caution in &entered.cautions {
                messages::caution(caution);
            }
            for line in &entered.said {
                writeln!(out, "{line}")?;
            }
        }
    }
    out.flush()?;
    Ok(Exit::Done)
}

fn log_entries(log: &Log) -> &[crate::plan::ledger::Entry] {
    &log.entries
}

/// Tells what of a log cannot be read.
fn torn(log: &Log) {
    for line in &log.set_aside {
        let text: String = line.text.chars().take(60).collect();
        messages::caution(&format!(
            "line {} of the log cannot be read, since {}; it stays in the file and counts for nothing: {text}…\n  Look \
             whether what it said is missing, and enter that again",
            line.line, line.why
        ));
    }
    if log.open_end && log.set_aside.last().is_none_or(|line| line.line != log.lines) {
        messages::caution(&format!(
            "line {} of the log has no end, as after a power cut, but all of it is there: it counts",
            log.lines
        ));
    }
}

impl From<LogFault> for Stop {
    fn from(fault: LogFault) -> Self {
        Self::fault(Exit::CommandWrong, fault)
    }
}
