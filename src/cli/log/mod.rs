//! `clothwright log`: the memory of a covering project.

mod args;
mod choose;
mod cut;
mod enough;
mod entries;
mod listing;
mod measures;
mod names;
mod offcut;
mod rename;
mod status;

use std::io::{self, Write};

use jiff::ZonedDateTime;

use crate::covering::{Covering, cover};
use crate::job::{self, Job, Reach};
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
    log: Log,
    standing: Standing,
}

impl<'a> Desk<'a> {
    fn new(args: &'a Args, job: &'a Job, covering: &'a Covering, pieces: &'a [CountedPiece], log: Log) -> Self {
        messages::set_aside(&log);
        let standing = fold(&log.entries);
        Self { args, job, covering, pieces, log, standing }
    }
}

/// Adds to the log of a job, or shows it.
pub(super) fn run(args: &Args, reach: Reach) -> Result<Exit, Stop> {
    let job = job::read_reaching(&args.job, reach)?.job;
    let covering = cover(&job).map_err(PlanFault::from)?;
    let pieces = counted_pieces(&job, &covering);
    let path = log_path(&args.job);
    let desk = |log| Desk::new(args, &job, &covering, &pieces, log);
    let mut out = io::stdout().lock();
    match &args.what {
        What::Status { json } => {
            status::print(&mut out, &desk(LogFile::read(&path)?), *json)?;
        }
        What::List => {
            listing::print(&mut out, &desk(LogFile::read(&path)?))?;
        }
        what => {
            let today = ZonedDateTime::now().date();
            let date = args.date.unwrap_or(today);
            if date > today {
                return Err(names::wrong(format!("{date} has not come yet")));
            }
            let mut file = LogFile::hold(&path)?;
            // Held from here on: nobody can cut the same copy between our look and our line.
            let entered = entries::enter(&desk(file.log().clone()), what)?;
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

impl From<LogFault> for Stop {
    fn from(fault: LogFault) -> Self {
        Self::fault(Exit::CommandWrong, fault)
    }
}
