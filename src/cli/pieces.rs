//! `clothwright pieces`: every piece to cut.

use std::io::{self, Write};
use std::path::PathBuf;

use serde::Serialize;

use crate::covering::cover;
use crate::job::{self, Job};
use crate::plan::{PieceRow, PlanFault, area, piece_table, pieces_with, size};

use super::exit::{Exit, Stop};
use super::messages;
use super::table::{Align, Table};

/// Flags of `pieces`.
#[derive(Debug, clap::Args)]
pub(super) struct Args {
    /// The job file.
    pub job: PathBuf,
    /// Print JSON instead of a table: lengths in millimetres, areas in square millimetres.
    #[arg(long)]
    pub json: bool,
}

/// The table as JSON.
#[derive(Serialize)]
struct PieceList<'a> {
    format: u32,
    job: &'a str,
    pieces: &'a [PieceRow],
}

/// Lists the pieces of a job.
pub(super) fn run(args: &Args) -> Result<Exit, Stop> {
    let reading = job::read(&args.job)?;
    let covering = cover(&reading.job).map_err(PlanFault::from)?;
    let cautions = reading.cautions.iter().map(|caution| &caution.message).chain(&covering.cautions);
    messages::cautions(&cautions.collect::<Vec<_>>());
    let rows = piece_table(&reading.job, pieces_with(&reading.job, &covering));
    let mut out = io::BufWriter::new(io::stdout().lock());
    if args.json {
        let list = PieceList { format: 1, job: &reading.job.name, pieces: &rows };
        serde_json::to_writer_pretty(&mut out, &list).map_err(io::Error::from)?;
        writeln!(out)?;
    } else {
        table(&reading.job, &rows).print(&mut out)?;
        let copies: u64 = rows.iter().map(|row| u64::from(row.quantity)).sum();
        writeln!(out, "\n{} kinds, {copies} pieces to cut", rows.len())?;
    }
    out.flush()?;
    Ok(Exit::Done)
}

fn table(job: &Job, rows: &[PieceRow]) -> Table {
    let mut table = Table::new(&[
        ("piece", Align::Left),
        ("copies", Align::Right),
        ("size", Align::Right),
        ("area of one", Align::Right),
        ("grain", Align::Left),
        ("edge", Align::Left),
        ("cloth", Align::Left),
        ("goes", Align::Left),
        ("source", Align::Left),
    ]);
    for row in rows {
        table.line([
            row.piece.clone(),
            row.quantity.to_string(),
            size(row.size, job.units),
            area(row.area, job.units),
            row.grain.clone(),
            row.edge.clone(),
            row.cloth.join(", "),
            row.goes.clone().unwrap_or_default(),
            row.source.clone().unwrap_or_default(),
        ]);
    }
    table
}
