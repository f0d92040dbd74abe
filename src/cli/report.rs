//! The report that `lay` writes.

use std::io::ErrorKind;
use std::path::Path;

use crate::draw::{KnownComparison, Report, report_html};
use crate::job::{Job, read_up_to};
use crate::plan::{Comparison, Outputs, WorkedLay, limits};

use super::exit::{Exit, Stop};
use super::settings::LaySettings;

/// The file that `compare` writes.
const COMPARISON: &str = "compare.json";

/// Adds the report of a lay. A comparison that lies in the folder already is shown with it.
pub(super) fn add_report(
    outputs: &mut Outputs,
    job: &Job,
    worked: &WorkedLay,
    settings: &LaySettings,
) -> Result<(), Stop> {
    let WorkedLay { covering, pieces, file, accounts, .. } = worked;
    let (paper, compared) = (settings.mark_out.sheet()?, compared(&settings.out, job));
    let report = Report { job, covering, pieces, lay: file, accounts, paper: &paper, compared: &compared };
    let html = report_html(&report)
        .map_err(|error| Stop::fault(Exit::NoValidLay, format!("report.html cannot be put together: {error}")))?;
    outputs.add("report.html", html);
    Ok(())
}

fn compared(folder: &Path, job: &Job) -> KnownComparison {
    let not_shown = |why: String| KnownComparison::NotShown(format!("A {COMPARISON} lies in this folder, but {why}."));
    let most = limits::COMPARISON_BYTES;
    let bytes = match read_up_to(&folder.join(COMPARISON), most) {
        Ok(Some(bytes)) => bytes,
        Ok(None) => return not_shown(format!("it has more than {} MB", most / 1024 / 1024)),
        Err(error) if error.kind() == ErrorKind::NotFound => return KnownComparison::Not,
        Err(error) => return not_shown(format!("it cannot be read: {error}")),
    };
    match serde_json::from_slice::<Comparison>(&bytes) {
        Ok(found) if found.job == job.name => KnownComparison::Found(Box::new(found)),
        Ok(found) => not_shown(format!("it was made for another job, “{}”", found.job)),
        Err(_) => not_shown("it is not one that this program wrote".to_owned()),
    }
}
