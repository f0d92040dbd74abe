//! `clothwright verify`: is a written lay what it claims to be?

use std::fs;
use std::io::{self, Write};
use std::path::{Path, PathBuf};

use crate::job::{self, Reach};
use crate::plan::LayFile;
use crate::verify::verify_lay;
use crate::wording::counted;

use super::exit::{Exit, Stop};
use super::messages;

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
    let lay = read_lay(&args.lay)?;
    let job_file = args.job.clone().unwrap_or_else(|| beside(&args.lay, &lay.job));
    if args.job.is_none() && !job_file.exists() {
        let message = format!(
            "{} says that its job is {}, and there is no such file; name the job with --job",
            args.lay.display(),
            job_file.display()
        );
        return Err(Stop::fault(Exit::CommandWrong, message));
    }
    let reading = job::read_reaching(&job_file, reach)?;
    let findings = verify_lay(&lay, &reading.job);
    let mut out = io::stdout().lock();
    for finding in &findings {
        writeln!(out, "{}", finding.told(reading.job.units))?;
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

fn read_lay(path: &Path) -> Result<LayFile, Stop> {
    let shown = path.display();
    let stop = |message: String| Stop::fault(Exit::CommandWrong, message);
    if path.is_dir() {
        return Err(stop(format!("{shown} is a folder; name the lay.json in it")));
    }
    let bytes = fs::read(path).map_err(|error| stop(format!("{shown} cannot be read: {error}")))?;
    serde_json::from_slice(&bytes)
        .map_err(|error| stop(format!("{shown} is no lay file: {error}; give the lay.json that `lay` wrote")))
}

fn beside(lay: &Path, job: &str) -> PathBuf {
    lay.parent().unwrap_or(Path::new("")).join(job)
}
