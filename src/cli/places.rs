//! `clothwright places`: where everything goes on the covered faces.

use std::io::{self, Write};
use std::path::PathBuf;

use serde::Serialize;

use crate::job::{Job, Reach};
use crate::plan::{MapRow, map_rows, tape_measure};
use crate::wording::counted;

use super::covered_job::{self, CoveredJob};
use super::exit::{Exit, Stop};
use super::table::{Align, Table};

/// Flags of `places`.
#[derive(Debug, clap::Args)]
pub(super) struct Args {
    /// The job file.
    pub job: PathBuf,
    /// Print JSON instead of a table: lengths in millimetres.
    #[arg(long)]
    pub json: bool,
}

/// The table as JSON.
#[derive(Serialize)]
struct PlaceList<'a> {
    format: u32,
    job: &'a str,
    places: &'a [MapRow],
}

/// Lists what goes onto the faces of a job's parts.
pub(super) fn run(args: &Args, reach: Reach) -> Result<Exit, Stop> {
    let CoveredJob { job, covering } = covered_job::read(&args.job, reach)?;
    let rows = map_rows(&job, &covering);
    let mut out = io::BufWriter::new(io::stdout().lock());
    if args.json {
        let list = PlaceList { format: 1, job: &job.name, places: &rows };
        serde_json::to_writer_pretty(&mut out, &list).map_err(io::Error::from)?;
        writeln!(out)?;
    } else if rows.is_empty() {
        writeln!(out, "nothing goes onto the panels of this job: it has no airframe whose faces are known")?;
    } else {
        let mut table = table(&job, &rows);
        table.fit_terminal(&[NOTES]);
        table.print(&mut out)?;
        writeln!(out, "\n{}", counted(rows.len(), "line", "lines"))?;
    }
    out.flush()?;
    Ok(Exit::Done)
}

/// The column of notes, the longest words.
const NOTES: usize = 10;

fn table(job: &Job, rows: &[MapRow]) -> Table {
    let mut table = Table::new(&[
        ("part", Align::Left),
        ("face", Align::Left),
        ("number", Align::Left),
        ("kind", Align::Left),
        ("what", Align::Left),
        ("count", Align::Right),
        ("size", Align::Left),
        ("from", Align::Left),
        ("along", Align::Right),
        ("square", Align::Right),
        ("notes", Align::Left),
    ]);
    for row in rows {
        let figure = |mm: Option<f64>| mm.map_or(String::new(), |mm| tape_measure(mm, job.units));
        let from = match (&row.flag, &row.corner, &row.edge) {
            (Some(flag), Some(corner), Some(edge)) => format!("{flag}: {corner}, along {edge}"),
            _ => String::new(),
        };
        table.line([
            row.part.clone(),
            row.face.clone(),
            row.number.clone(),
            row.kind.word().to_owned(),
            row.what.clone(),
            row.quantity.to_string(),
            row.size_words(job.units),
            from,
            figure(row.along),
            figure(row.square),
            row.notes.join("; "),
        ]);
    }
    table
}
