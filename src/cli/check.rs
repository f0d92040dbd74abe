//! `clothwright check`: what is wrong, what is risky, and how much there is.

use std::io::{self, Write};
use std::path::PathBuf;

use crate::covering::cover;
use crate::job::{self, Edge, GrainDirection, Job, Piece};
use crate::plan::{PlanFault, area, pieces_with};

use super::exit::{Exit, Stop};
use super::{covered, messages};

/// Flags of `check`.
#[derive(Debug, clap::Args)]
pub(super) struct Args {
    /// The job file.
    pub job: PathBuf,
}

/// Checks a job.
pub(super) fn run(args: &Args) -> Result<Exit, Stop> {
    let reading = job::read(&args.job)?;
    let covering = cover(&reading.job).map_err(PlanFault::from)?;
    let read: Vec<String> = reading
        .cautions
        .iter()
        .map(|caution| format!("{} (line {}, column {})", caution.message, caution.line, caution.column))
        .collect();
    messages::cautions(&read.iter().chain(&covering.cautions).collect::<Vec<_>>());
    let mut out = io::stdout().lock();
    print(&mut out, &reading.job, &pieces_with(&reading.job, &covering))?;
    covered::print(&mut out, &reading.job, &covering)?;
    out.flush()?;
    Ok(Exit::Done)
}

fn print(out: &mut impl Write, job: &Job, pieces: &[Piece]) -> io::Result<()> {
    let copies = |test: &dyn Fn(&Piece) -> bool| -> u64 {
        pieces.iter().filter(|piece| test(piece)).map(|piece| u64::from(piece.quantity)).sum()
    };
    let area_of_all: f64 = pieces.iter().map(|piece| piece.cut.area() * f64::from(piece.quantity)).sum();
    writeln!(out, "{}: the job is sound", job.name)?;
    writeln!(
        out,
        "pieces: {} kinds, {} to cut, {} in all; {} pinked, {} on the bias",
        pieces.len(),
        copies(&|_| true),
        area(area_of_all, job.units),
        copies(&|piece| matches!(piece.edge, Edge::Pinked(_))),
        copies(&|piece| piece.grain.direction == GrainDirection::Bias),
    )?;
    for cloth in &job.cloth {
        let length = cloth.length.map_or("as long as needed".to_owned(), |length| job.units.show(length));
        let count = if cloth.count > 1 { format!("{} × ", cloth.count) } else { String::new() };
        let flaws = if cloth.flaws.is_empty() { String::new() } else { format!(", flaws: {}", cloth.flaws.len()) };
        writeln!(out, "cloth “{}”: {count}{} wide, {length}{flaws}", cloth.name, job.units.show(cloth.width))?;
    }
    writeln!(out, "gap between cut lines: {}", job.units.show(job.gap))
}
