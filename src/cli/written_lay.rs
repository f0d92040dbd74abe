//! A written lay and the job that it was made for.

use std::path::{Path, PathBuf};

use crate::job::{self, Job, Reach};
use crate::plan::{LayFile, RestOf};
use crate::verify::{Finding, verify_lay, verify_rest};

use super::exit::{Exit, Stop};
use super::lay_rest::Left;

/// A written lay with its job, and what is wrong with it.
pub(super) struct CheckedLay {
    pub lay: LayFile,
    pub job: Job,
    pub findings: Vec<Finding>,
}

/// Reads a lay and its job, the one that is given or else the one that the lay names, seen from the lay's folder; and holds
/// one against the other. A lay of the rest is held against the log that it started from as well.
pub(super) fn read_checked(lay_file: &Path, job_file: Option<&Path>, reach: Reach) -> Result<CheckedLay, Stop> {
    let lay = read_lay(lay_file)?;
    let job_file = job_of(lay_file, &lay, job_file)?;
    let job = job::read_reaching(&job_file, reach)?.job;
    let findings = match lay.rest {
        None => verify_lay(&lay, &job),
        Some(RestOf { lines }) => {
            let left = Left::of(&job_file, job.clone(), Some(lines))?;
            verify_rest(&lay, &left.rest, &left.standing)
        }
    };
    Ok(CheckedLay { lay, job, findings })
}

/// The job file that is given, else the one that a lay names.
fn job_of(lay_file: &Path, lay: &LayFile, given: Option<&Path>) -> Result<PathBuf, Stop> {
    if let Some(given) = given {
        return Ok(given.to_owned());
    }
    let named = beside(lay_file, &lay.job);
    if !named.exists() {
        let message = format!(
            "{} says that its job is {}, and there is no such file; name the job with --job",
            lay_file.display(),
            named.display()
        );
        return Err(Stop::fault(Exit::CommandWrong, message));
    }
    Ok(named)
}

/// Reads a lay file.
pub(super) fn read_lay(path: &Path) -> Result<LayFile, Stop> {
    LayFile::read(path).map_err(|fault| Stop::fault(Exit::CommandWrong, fault))
}

fn beside(lay: &Path, job: &str) -> PathBuf {
    lay.parent().unwrap_or(Path::new("")).join(job)
}
