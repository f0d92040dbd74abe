//! `clothwright pieces`: every piece to cut.

use std::io::{self, Write};
use std::path::PathBuf;

use serde::Serialize;

use crate::covering::Covering;
use crate::job::{Job, Reach};
use crate::plan::{self, PieceRow, area, piece_table, pieces_with, size};
use crate::wording::counted;

use super::covered_job::{self, CoveredJob};
use super::exit::{Exit, Stop};
use super::table::{Align, Table};
use super::take_off;

/// Flags of `pieces`.
#[derive(Debug, clap::Args)]
pub(super) struct Args {
    /// The job file.
    pub job: PathBuf,
    /// Print JSON instead of a table: lengths in millimetres, areas in square millimetres.
    #[arg(long)]
    pub json: bool,
    /// Print what the pieces take in all, before any lay: areas, tapes, small parts, what a rule of thumb would buy.
    #[arg(long, conflicts_with = "json")]
    pub totals: bool,
}

/// The table as JSON.
#[derive(Serialize)]
struct PieceList<'a> {
    format: u32,
    job: &'a str,
    pieces: &'a [PieceRow],
}

/// Lists the pieces of a job.
pub(super) fn run(args: &Args, reach: Reach) -> Result<Exit, Stop> {
    let CoveredJob { job, covering } = covered_job::read(&args.job, reach)?;
    let pieces = pieces_with(&job, &covering);
    let mut out = io::BufWriter::new(io::stdout().lock());
    if args.totals {
        take_off::print(&mut out, &job, &plan::take_off(&job, &covering, &pieces, None))?;
        out.flush()?;
        return Ok(Exit::Done);
    }
    let rows = piece_table(&job, pieces);
    if args.json {
        let list = PieceList { format: 1, job: &job.name, pieces: &rows };
        serde_json::to_writer_pretty(&mut out, &list).map_err(io::Error::from)?;
        writeln!(out)?;
    } else {
        let mut table = table(&job, &rows);
        table.fit_terminal(&[SOURCE, GOES]);
        table.print(&mut out)?;
        figures(&mut out, &job, &covering)?;
        let copies: u64 = rows.iter().map(|row| u64::from(row.quantity)).sum();
        writeln!(out, "\n{}, {} to cut", counted(rows.len(), "kind", "kinds"), counted(copies, "piece", "pieces"))?;
    }
    out.flush()?;
    Ok(Exit::Done)
}

/// Columns that the person fills with words of any length.
const GOES: usize = 8;
const SOURCE: usize = 9;

/// Below the table each panel with where it goes and the figures that it was made from: too many for a column.
fn figures(out: &mut impl Write, job: &Job, covering: &Covering) -> io::Result<()> {
    for panel in covering.parts.iter().flat_map(|part| &part.panels) {
        writeln!(out, "\n{}\n  goes: {}", panel.plan.name, panel.plan.goes)?;
        for line in panel.figure_lines(job.units) {
            writeln!(out, "  {line}")?;
        }
    }
    Ok(())
}

/// The pieces that the job gives come first and have columns for their own words; those of panels stand below.
fn table(job: &Job, rows: &[PieceRow]) -> Table {
    let mut table = Table::new(&[
        ("number", Align::Right),
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
    for (index, row) in rows.iter().enumerate() {
        let own_words = |words: &Option<String>| words.clone().filter(|_| index < job.pieces.len()).unwrap_or_default();
        table.line([
            row.number.to_string(),
            row.piece.clone(),
            row.quantity.to_string(),
            size(row.size, job.units),
            area(row.area, job.units),
            row.grain.clone(),
            row.edge.clone(),
            row.cloth.join(", "),
            own_words(&row.goes),
            own_words(&row.source),
        ]);
    }
    table
}
