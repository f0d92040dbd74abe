//! `clothwright schema`: the JSON Schema of the job file.

use std::io::{self, Write};

use crate::job;

use super::exit::{Exit, Stop};

/// Prints the schema.
pub(super) fn run() -> Result<Exit, Stop> {
    let mut out = io::BufWriter::new(io::stdout().lock());
    serde_json::to_writer_pretty(&mut out, &job::schema()).map_err(io::Error::from)?;
    writeln!(out)?;
    out.flush()?;
    Ok(Exit::Done)
}
