//! The flags of `lay`, turned once into what the run needs.

use std::path::{Path, PathBuf};
use std::time::Duration;

use crate::nest::Budget;
use crate::wording::counted;

use super::exit::{Exit, Stop};
use super::force::Force;
use super::mark_out::MarkOutFlags;

/// Effort that is spent when the person asks for none.
const DEFAULT_EFFORT: u64 = 10;

/// Flags of `lay`.
#[derive(Debug, clap::Args)]
pub(super) struct Args {
    /// The job file.
    pub job: PathBuf,
    /// Folder for report.html, lay.json, drawings, mark-outs and tables; it is made where it is missing.
    #[arg(long, value_name = "DIR")]
    pub out: PathBuf,
    /// Lay what is left of the job, as its log has it: cloth as it lies after what was cut, pieces still to be cut.
    #[arg(long)]
    pub rest: bool,
    /// Seed of the search: another seed gives another lay, the same seed the same lay.
    #[arg(long, value_name = "N", default_value_t = 1, value_parser = seed, allow_negative_numbers = true)]
    pub seed: u64,
    /// Work to spend: more gives tighter lays and takes longer; the same effort gives the same lay.
    #[arg(long, value_name = "N", default_value_t = DEFAULT_EFFORT, value_parser = effort, allow_negative_numbers = true)]
    pub effort: u64,
    /// Stop after this time with the best lay so far; the lay then depends on how fast the machine is.
    #[arg(long, value_name = "S", value_parser = seconds, allow_negative_numbers = true)]
    pub seconds: Option<f64>,
    /// Threads to work with; the lay does not depend on it [default: one a core].
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u16).range(1..=1024), allow_negative_numbers = true)]
    pub threads: Option<u16>,
    /// How large pieces are marked out.
    #[command(flatten)]
    pub mark_out: MarkOutFlags,
    /// Whether any file may be replaced.
    #[command(flatten)]
    pub force: Force,
}

/// Everything that a run of `lay` needs to know.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct LaySettings {
    /// The job file.
    pub job: PathBuf,
    /// The folder for the results.
    pub out: PathBuf,
    /// Whether only the rest is laid, as the log has it.
    pub rest: bool,
    /// How hard to look.
    pub budget: Budget,
    /// Threads to work with; zero for one a core.
    pub threads: usize,
    /// How large pieces are marked out.
    pub mark_out: MarkOutFlags,
    /// Which files the results may replace.
    pub force: Force,
}

impl From<Args> for LaySettings {
    fn from(args: Args) -> Self {
        Self {
            job: args.job,
            out: args.out,
            rest: args.rest,
            budget: Budget { seed: args.seed, effort: args.effort, time: args.seconds.map(Duration::from_secs_f64) },
            threads: args.threads.map_or(0, usize::from),
            mark_out: args.mark_out,
            force: args.force,
        }
    }
}

pub(super) fn seed(text: &str) -> Result<u64, String> {
    text.parse().map_err(|_| format!("give a whole number from 0 to {}", u64::MAX))
}

pub(super) fn effort(text: &str) -> Result<u64, String> {
    match text.parse() {
        Ok(effort) if effort > 0 => Ok(effort),
        _ => Err(format!("give a whole number of 1 or more; {DEFAULT_EFFORT} is usual")),
    }
}

/// Threads to work with; zero for one a core.
pub(super) fn thread_pool(threads: usize) -> Result<rayon::ThreadPool, Stop> {
    rayon::ThreadPoolBuilder::new()
        .num_threads(threads)
        .build()
        .map_err(|error| Stop::fault(Exit::CommandWrong, format!("{}: {error}", counted(threads, "thread", "threads"))))
}

/// A time limit that makes sense.
fn seconds(text: &str) -> Result<f64, String> {
    const LONGEST: f64 = 1e6;
    match text.parse::<f64>() {
        Ok(seconds) if seconds > 0.0 && seconds <= LONGEST => Ok(seconds),
        _ => Err(format!("give a number of seconds above 0 and up to {LONGEST}, such as 20 or 2.5")),
    }
}

/// How a lay in `folder` names the job file: relative where both hang on a common folder, else in full.
pub(super) fn job_path_from(folder: &Path, job: &Path) -> String {
    let (Ok(folder), Ok(job)) = (folder.canonicalize(), job.canonicalize()) else {
        return job.display().to_string();
    };
    let shared = folder.components().zip(job.components()).take_while(|(ours, theirs)| ours == theirs).count();
    if shared <= 1 {
        return job.display().to_string();
    }
    let mut relative = PathBuf::new();
    relative.extend(folder.components().skip(shared).map(|_| ".."));
    relative.extend(job.components().skip(shared));
    relative.display().to_string()
}
