//! `clothwright check`: what is wrong, what is risky, and how much there is.

use std::io::{self, Write};
use std::path::PathBuf;

use crate::job::{Cloth, Edge, GrainDirection, Job, Piece, Reach};
use crate::plan::{area, pieces_with};
use crate::units::Units;
use crate::wording::counted;

use super::covered;
use super::covered_job::{self, CoveredJob};
use super::exit::{Exit, Stop};

/// Flags of `check`.
#[derive(Debug, clap::Args)]
pub(super) struct Args {
    /// The job file.
    pub job: PathBuf,
}

/// Checks a job.
pub(super) fn run(args: &Args, reach: Reach) -> Result<Exit, Stop> {
    let CoveredJob { job, covering } = covered_job::read(&args.job, reach)?;
    let mut out = io::stdout().lock();
    print(&mut out, &job, &pieces_with(&job, &covering))?;
    covered::print(&mut out, &job, &covering)?;
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
        "pieces: {}, {} to cut, {} in all; {} pinked, {} on the bias",
        counted(pieces.len(), "kind", "kinds"),
        copies(&|_| true),
        area(area_of_all, job.units),
        copies(&|piece| matches!(piece.edge, Edge::Pinked(_))),
        copies(&|piece| piece.grain.direction == GrainDirection::Bias),
    )?;
    for cloth in &job.cloth {
        writeln!(out, "cloth “{}”: {}", cloth.name, cloth_words(cloth, job.units))?;
    }
    writeln!(out, "gap between cut lines: {}", job.units.show(job.gap))
}

/// Metres in a yard, and grams a square metre in an ounce a square yard (NIST Special Publication 811 (2008), appendix B.8).
const YARD: f64 = 0.9144;
const OUNCE_A_SQUARE_YARD: f64 = 33.905_75;

fn mass_of_cloth(mass: f64, units: Units) -> String {
    match units {
        Units::Mm | Units::Cm | Units::M => format!("{mass} g a square metre"),
        Units::In | Units::Ft => {
            format!("{:.1} oz a square yard ({mass} g a square metre)", mass / OUNCE_A_SQUARE_YARD)
        }
    }
}

/// `3 of them, each 12 in wide, 18 in long, 14.50 a metre`.
fn cloth_words(cloth: &Cloth, units: Units) -> String {
    let each = if cloth.count > 1 { format!("{} of them, each ", cloth.count) } else { String::new() };
    let mut words = vec![format!("{each}{} wide", units.show(cloth.width))];
    words.push(cloth.length.map_or("as long as needed".to_owned(), |length| format!("{} long", units.show(length))));
    if !cloth.flaws.is_empty() {
        words.push(counted(cloth.flaws.len(), "flaw", "flaws"));
    }
    words.extend(cloth.mass.map(|mass| mass_of_cloth(mass, units)));
    words.extend(cloth.price.map(|price| match units {
        Units::Mm | Units::Cm | Units::M => format!("{price:.2} a metre"),
        // The price is for a metre, whatever the units of the job.
        Units::In | Units::Ft => format!("{:.2} a yard ({price:.2} a metre)", price * YARD),
    }));
    words.extend(cloth.sold_by.map(|step| format!("sold by {}", units.show(step))));
    words.join(", ")
}
