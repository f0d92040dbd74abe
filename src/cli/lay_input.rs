//! A written lay that the person names.

use std::fs;
use std::path::Path;

use crate::plan::LayFile;

use super::exit::{Exit, Stop};

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
