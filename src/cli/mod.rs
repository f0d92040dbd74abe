//! The command line: one file a command. It prints, asks and shows progress, and has no knowledge of the trade.

mod check;
mod compare;
mod covered;
mod covered_job;
mod dressed;
mod exit;
mod force;
mod interrupt;
mod lay;
mod lay_rest;
mod log;
mod mark_out;
mod messages;
mod pieces;
mod places;
mod progress;
mod repairs;
mod report;
mod schema;
mod settings;
mod summary;
mod table;
mod take_off;
mod tapes;
mod templates;
mod trace;
mod verify;
mod written_lay;

use std::process::ExitCode;

use clap::{Parser, Subcommand};

use crate::job::Reach;
use exit::{Exit, Stop};

/// Plans, lays out and accounts for the cloth that covers a fabric-covered aircraft.
///
/// A planning aid, not approved data: the maker's manual, national rules and a licensed inspector decide.
#[derive(Debug, Parser)]
#[command(name = "clothwright", version, after_help = EXIT_CODES)]
struct Args {
    /// Read drawings that lie outside the folder of the job.
    #[arg(long, global = true)]
    allow_outside: bool,
    #[command(subcommand)]
    command: Command,
}

const EXIT_CODES: &str = "Exit codes: 0 done; 1 the job is wrong; 2 the command line is wrong; 3 no valid lay, or \
                          some piece has no place; 130 interrupted, best lay so far written";

#[derive(Debug, Subcommand)]
enum Command {
    /// Read a job, say all that is wrong or risky, and count what it asks for.
    Check(check::Args),
    /// List every piece to cut.
    Pieces(pieces::Args),
    /// List where every tape, patch, ring, drain and lace goes on the covered faces.
    Places(places::Args),
    /// Lay the pieces onto the cloth, check the lay, draw it.
    Lay(settings::Args),
    /// Keep the log of the work: what is cut, glued, spoiled and used up.
    Log(log::Args),
    /// Lay the same job on several widths, or with a figure changed, side by side.
    Compare(compare::Args),
    /// Cut the finishing tape from rolls: what to buy, and which runs come from each roll.
    Tapes(tapes::Args),
    /// Draw full-size templates, to print or for a plotter.
    Templates(templates::Args),
    /// Draw how large pieces of a written lay are marked out, and the order of cutting.
    MarkOut(mark_out::Args),
    /// Check a written lay against its job.
    Verify(verify::Args),
    /// Turn the closed shapes of a drawing (SVG or DXF) into pieces of a job.
    Trace(trace::Args),
    /// Print the JSON Schema of the job file.
    Schema,
}

/// Runs the program with the arguments of the process.
pub fn run() -> ExitCode {
    let args = match Args::try_parse() {
        Ok(args) => args,
        Err(help_or_fault) => {
            // The text may be a help page on a closed pipe: then nobody wants the rest of it.
            let _ = help_or_fault.print();
            return ExitCode::from(u8::try_from(help_or_fault.exit_code()).unwrap_or(Exit::CommandWrong as u8));
        }
    };
    let answer = interrupt::listen().and_then(|()| act(args));
    match answer {
        Ok(exit) => exit.into(),
        Err(Stop::Fault { exit, message }) => {
            messages::error(&message);
            exit.into()
        }
        Err(Stop::ClosedPipe) => Exit::Done.into(),
    }
}

fn act(args: Args) -> Result<Exit, Stop> {
    let reach = if args.allow_outside { Reach::Anywhere } else { Reach::Folder };
    match args.command {
        Command::Check(args) => check::run(&args, reach),
        Command::Pieces(args) => pieces::run(&args, reach),
        Command::Places(args) => places::run(&args, reach),
        Command::Lay(args) => lay::run(args, reach),
        Command::Log(args) => log::run(&args, reach),
        Command::Compare(args) => compare::run(&args, reach),
        Command::Tapes(args) => tapes::run(&args, reach),
        Command::MarkOut(args) => mark_out::run(&args, reach),
        Command::Templates(args) => templates::run(&args, reach),
        Command::Verify(args) => verify::run(&args, reach),
        Command::Trace(args) => trace::run(&args),
        Command::Schema => schema::run(),
    }
}
