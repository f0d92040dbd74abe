//! A written lay and the job that it was made for.

use std::fs;
use std::path::{Path, PathBuf};

use crate::job::{self, Reach, Reading};
use crate::plan::LayFile;

use super::exit::{Exit, Stop};

/// Reads a lay, and its job: the one that is given, else the one that the lay names, seen from the lay's folder.
pub(super) fn read(lay_file: &Path, job_file: Option<&Path>, reach: Reach) -> Result<(LayFile, Reading), Stop> {
    let lay = read_lay(lay_file)?;
    let reading = job::read_reaching(&job_of(lay_file, &lay, job_file)?, reach)?;
    Ok((lay, reading))
}

/// The job file that is given, else the one that a lay names.
pub(super) fn job_of(lay_file: &Path, lay: &LayFile, given: Option<&Path>) -> Result<PathBuf, Stop> {
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
