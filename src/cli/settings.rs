//! The flags of `lay`, turned once into what the run needs.

use std::path::{Path, PathBuf};
use std::time::Duration;

use crate::nest::Budget;

use super::lay::Args;

/// Effort that is spent when the person asks for none.
pub(super) const DEFAULT_EFFORT: u64 = 10;

/// Everything that a run of `lay` needs to know.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct LaySettings {
    /// The job file.
    pub job: PathBuf,
    /// The folder for the results.
    pub out: PathBuf,
    /// How hard to look.
    pub budget: Budget,
    /// Threads to work with; zero for one a core.
    pub threads: usize,
}

impl From<Args> for LaySettings {
    fn from(args: Args) -> Self {
        Self {
            job: args.job,
            out: args.out,
            budget: Budget { seed: args.seed, effort: args.effort, time: args.seconds.map(Duration::from_secs_f64) },
            threads: args.threads.map_or(0, usize::from),
        }
    }
}

/// A time limit that makes sense.
pub(super) fn seconds(text: &str) -> Result<f64, String> {
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
