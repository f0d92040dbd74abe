//! The flags of `log`.

use std::path::PathBuf;

use clap::Subcommand;
use jiff::civil::Date;

/// Flags of `log`.
#[derive(Debug, clap::Args)]
pub(crate) struct Args {
    /// The job file; its log is beside it, as JOB.log.jsonl.
    pub job: PathBuf,
    /// The day of the work, such as 2026-05-02 [default: today].
    #[arg(long, global = true, value_name = "DATE", value_parser = date)]
    pub date: Option<Date>,
    #[command(subcommand)]
    pub what: What,
}

/// What is logged or shown.
#[derive(Debug, Subcommand)]
pub(crate) enum What {
    /// Show what is done, what is left, and what cloth, tape and hours it takes.
    Status {
        /// Print JSON: lengths in millimetres.
        #[arg(long)]
        json: bool,
    },
    /// Show every line of the log.
    List,
    /// Name the lay that is cut from now on.
    Lay {
        /// The lay.json that `lay` wrote.
        file: PathBuf,
    },
    /// Pieces were cut.
    Cut {
        #[command(flatten)]
        pieces: Pieces,
        /// The cloth that they were cut from, where no lay says so.
        #[arg(long, value_name = "CLOTH")]
        from: Option<String>,
        /// They were not cut as the lay has them, but somewhere on the cloth.
        #[arg(long)]
        off_lay: bool,
    },
    /// Pieces were glued or sewn onto the airframe.
    Glued {
        #[command(flatten)]
        pieces: Pieces,
    },
    /// Pieces have all that goes onto them.
    Finished {
        #[command(flatten)]
        pieces: Pieces,
    },
    /// Pieces are of no use any more and must be cut again.
    Spoiled {
        #[command(flatten)]
        pieces: Pieces,
        /// What happened.
        #[arg(long, value_name = "WORDS")]
        why: Option<String>,
    },
    /// Tape was used.
    Tape {
        /// Its width, such as "2 in".
        width: String,
        /// How much.
        length: String,
        /// It was cut on the bias.
        #[arg(long)]
        bias: bool,
        /// For which part.
        #[arg(long)]
        part: Option<String>,
    },
    /// A roll of tape was bought.
    BoughtTape {
        /// Its width, such as "2 in".
        width: String,
        /// Its length.
        length: String,
        /// It is cut on the bias.
        #[arg(long)]
        bias: bool,
    },
    /// Cloth was bought.
    Bought {
        /// The job's cloth.
        cloth: String,
        /// Its length.
        length: String,
    },
    /// An offcut turned up that the job does not have: measure its corners, from any two lines at right angles.
    Found {
        /// The job's cloth that it is of [default: where there is only one].
        #[arg(long, value_name = "CLOTH")]
        of: Option<String>,
        /// What to call it [default: "offcut 1" and so on].
        #[arg(long)]
        name: Option<String>,
        /// Its corners in turn, each "ALONG,ACROSS": along the warp and across it. Two are a rectangle's.
        #[arg(required = true, num_args = 2.., allow_hyphen_values = true, value_name = "CORNER")]
        corners: Vec<String>,
    },
    /// Cloth was thrown away or given away.
    Gone {
        /// The cloth.
        cloth: String,
        /// Only the beginning of it, up to here.
        #[arg(long, value_name = "LENGTH")]
        up_to: Option<String>,
    },
    /// Hours were spent.
    Hours {
        /// The part, or "whole job".
        part: String,
        /// How many: 2.5, 2:30 or "2 h 30 min".
        hours: String,
        /// On what: cutting, gluing, ironing, lacing, taping, coating, other.
        step: String,
    },
    /// Keep a note.
    Note {
        /// The words.
        text: String,
        /// The part that it is about.
        #[arg(long)]
        part: Option<String>,
    },
    /// A piece or a part has another name in the job than it had.
    Renamed {
        /// As the log has it.
        from: String,
        /// As the job has it now.
        to: String,
    },
    /// Take back a line: one more line says so, and nothing is taken out.
    Undo {
        /// Its number, as `list` shows it [default: the last one that counts].
        line: Option<usize>,
    },
}

/// Which copies of which pieces.
#[derive(Debug, clap::Args)]
pub(crate) struct Pieces {
    /// Pieces by name or number, as `pieces` and the cut list have them.
    #[arg(required = true, value_name = "PIECE")]
    pub pieces: Vec<String>,
    /// Which copies, such as 2 or 1,4-6 [default: all for which it makes sense].
    #[arg(long, value_name = "LIST", conflicts_with = "count")]
    pub copies: Option<String>,
    /// How many copies: the next ones.
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u32).range(1..))]
    pub count: Option<u32>,
}

fn date(text: &str) -> Result<Date, String> {
    text.trim().parse().map_err(|_| "write year, month and day, such as 2026-05-02".to_owned())
}
