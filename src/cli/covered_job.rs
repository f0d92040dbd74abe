//! A job that is read and covered, with its cautions said.

use std::path::Path;

use crate::covering::{Covering, cover};
use crate::job::{self, Job, Reach};
use crate::plan::PlanFault;

use super::exit::Stop;
use super::messages;

/// A job with what covers its airframe.
pub(super) struct CoveredJob {
    pub job: Job,
    pub covering: Covering,
}

/// Reads a job file, covers its airframe, and says every caution of both.
pub(super) fn read(path: &Path, reach: Reach) -> Result<CoveredJob, Stop> {
    let reading = job::read_reaching(path, reach)?;
    let covering = cover(&reading.job).map_err(PlanFault::from)?;
    messages::cautions(&[messages::of_job(&reading.cautions), covering.cautions.clone()].concat());
    Ok(CoveredJob { job: reading.job, covering })
}
