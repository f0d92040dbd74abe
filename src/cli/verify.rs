//! `clothwright verify`: is a written lay what it claims to be?

use std::io::{self, Write};
use std::path::PathBuf;

use crate::job::Reach;
use crate::plan::LayFile;
use crate::wording::counted;

use super::exit::{Exit, Stop};
use super::messages;
use super::written_lay::{CheckedLay, read_checked};

/// Flags of `verify`.
#[derive(Debug, clap::Args)]
pub(super) struct Args {
    /// The lay file, such as out/lay.json.
    pub lay: PathBuf,
    /// The job file [default: the one that the lay names, seen from the lay's folder].
    #[arg(long)]
    pub job: Option<PathBuf>,
}

/// Checks a written lay against its job.
pub(super) fn run(args: &Args, reach: Reach) -> Result<Exit, Stop> {
    let CheckedLay { lay, job, findings } = read_checked(&args.lay, args.job.as_deref(), reach)?;
    let mut out = io::stdout().lock();
    for finding in &findings {
        writeln!(out, "{}", finding.told(job.units))?;
    }
    writeln!(out, "{}: {}", args.lay.display(), verdict(&lay, findings.len()))?;
    out.flush()?;
    messages::unplaced(&lay.unplaced);
    if findings.is_empty() && lay.unplaced.is_empty() { Ok(Exit::Done) } else { Ok(Exit::NoValidLay) }
}

fn verdict(lay: &LayFile, found: usize) -> String {
    let pieces: usize = lay.cloths.iter().map(|cloth| cloth.pieces.len()).sum();
    let cloths = counted(lay.cloths.len(), "cloth", "cloths");
    match (found, lay.unplaced.len()) {
        (0, 0) => format!("valid; {} on {cloths}", counted(pieces, "piece", "pieces")),
        (0, left) => format!(
            "not complete: {left} of {} without a place; the {pieces} on {cloths} lie as they should",
            counted(pieces + left, "piece is", "pieces are")
        ),
        (found, _) => format!("not valid, {found} found wrong"),
    }
}
