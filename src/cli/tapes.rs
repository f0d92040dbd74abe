//! `clothwright tapes`: finishing tape onto rolls.

use std::io::{self, Write};
use std::path::PathBuf;

use serde::Serialize;

use crate::job::{Job, Reach};
use crate::plan::{ClothTape, TapePlan, cut_tapes, mass, metres_and_yards};
use crate::wording::counted;

use super::covered_job::{self, CoveredJob};
use super::exit::{Exit, Stop};
use super::messages;
use super::table::{Align, Table};

/// Flags of `tapes`.
#[derive(Debug, clap::Args)]
pub(super) struct Args {
    /// The job file.
    pub job: PathBuf,
    /// Print JSON instead of tables: lengths in millimetres.
    #[arg(long)]
    pub json: bool,
}

/// The plan as JSON.
#[derive(Serialize)]
struct TapeList<'a> {
    format: u32,
    job: &'a str,
    #[serde(flatten)]
    plan: &'a TapePlan,
}

/// Cuts the tape of a job.
pub(super) fn run(args: &Args, reach: Reach) -> Result<Exit, Stop> {
    let CoveredJob { job, covering } = covered_job::read(&args.job, reach)?;
    let plan = cut_tapes(&job, &covering);
    let mut out = io::BufWriter::new(io::stdout().lock());
    if args.json {
        let list = TapeList { format: 1, job: &job.name, plan: &plan };
        serde_json::to_writer_pretty(&mut out, &list).map_err(io::Error::from)?;
        writeln!(out)?;
    } else if plan.kinds.is_empty() {
        writeln!(out, "no tape goes onto the panels of this job: it has no airframe whose faces are known")?;
    } else {
        rolls(&mut out, &job, &plan)?;
        kinds(&job, &plan).print(&mut out)?;
        writeln!(out)?;
        sum(&mut out, &plan)?;
        from_cloth(&mut out, &job, &plan)?;
    }
    out.flush()?;
    for words in plan.cautions() {
        messages::error(&words);
    }
    Ok(if plan.unplaced.is_empty() { Exit::Done } else { Exit::NoValidLay })
}

/// Each roll with its runs in the order of cutting.
fn rolls(out: &mut impl Write, job: &Job, plan: &TapePlan) -> io::Result<()> {
    let show = |mm: f64| job.units.show(mm);
    for roll in &plan.rolls {
        writeln!(out, "{}: {}, {} long, {} left", roll.words(), roll.kind, show(roll.length), show(roll.left))?;
        let mut table = Table::new(&[
            ("run", Align::Left),
            ("length", Align::Right),
            ("from", Align::Right),
            ("to", Align::Right),
            ("goes", Align::Left),
        ]);
        for piece in &roll.pieces {
            table.line([
                piece.words(),
                show(piece.length),
                show(piece.from),
                show(piece.from + piece.length),
                piece.over.clone(),
            ]);
        }
        table.print(out)?;
        writeln!(out)?;
    }
    Ok(())
}

/// The sums of each kind.
fn kinds(job: &Job, plan: &TapePlan) -> Table {
    let mut table = Table::new(&[
        ("tape", Align::Left),
        ("runs", Align::Right),
        ("metres", Align::Right),
        ("yards", Align::Right),
        ("rolls", Align::Right),
        ("joints", Align::Right),
        ("cost", Align::Right),
        ("mass on the aircraft", Align::Right),
        ("left over", Align::Right),
        ("longest of it", Align::Right),
        ("cost is", Align::Left),
    ]);
    for kind in &plan.kinds {
        let [metres, yards] = metres_and_yards(kind.length);
        let cut = kind.rolls > 0;
        let when_cut = |words: String| if cut { words } else { String::new() };
        table.line([
            kind.kind.clone(),
            kind.runs.to_string(),
            metres,
            yards,
            kind.rolls.to_string(),
            if kind.joints > 0 { kind.joints.to_string() } else { String::new() },
            when_cut(format!("{:.2}", kind.cost)),
            kind.mass.map_or(String::new(), |grams| mass(grams, job.units)),
            when_cut(job.units.show(kind.left)),
            when_cut(job.units.show(kind.longest_left)),
            kind.proof_words(),
        ]);
    }
    table
}

/// What it takes to cut the same tape from cloth.
fn from_cloth(out: &mut impl Write, job: &Job, plan: &TapePlan) -> io::Result<()> {
    let Some(wish) = &job.tape_cutting.from_cloth else { return Ok(()) };
    let what = match wish.in_lay {
        true => {
            format!("cut from cloth “{}”; its strips are pieces of the lay, and alone they would take:", wish.cloth)
        }
        false => format!("cut from cloth “{}” instead, worked out beside the lay:", wish.cloth),
    };
    writeln!(out, "\n{what}")?;
    let mut table = Table::new(&[
        ("tape", Align::Left),
        ("cut width", Align::Right),
        ("strips", Align::Right),
        ("seams", Align::Right),
        ("metres of cloth", Align::Right),
        ("cloth costs", Align::Right),
        ("rolls cost", Align::Right),
        ("metres to cut", Align::Right),
        ("hours", Align::Right),
    ]);
    for kind in &plan.from_cloth {
        table.line([
            kind.kind.clone(),
            job.units.show(kind.width),
            kind.strips.to_string(),
            if kind.joins > 0 { kind.joins.to_string() } else { String::new() },
            format!("{:.2}", kind.cloth / 1000.0),
            kind.cost.map_or(String::new(), |cost| format!("{cost:.2}")),
            format!("{:.2}", kind.saves),
            format!("{:.1}", kind.edge / 1000.0),
            format!("{:.1}", kind.hours),
        ]);
    }
    table.print(out)?;
    if !plan.from_cloth.is_empty() {
        let sum = |figure: fn(&ClothTape) -> f64| plan.from_cloth.iter().map(figure).sum::<f64>();
        let cost = plan.from_cloth.iter().map(|kind| kind.cost).sum::<Option<f64>>();
        let cost = cost.map_or(String::new(), |cost| format!(", {cost:.2}"));
        writeln!(
            out,
            "in all {:.2} m of cloth{cost}, and {:.1} hours of cutting, in place of rolls for {:.2}",
            sum(|kind| kind.cloth) / 1000.0,
            sum(|kind| kind.hours),
            sum(|kind| kind.saves)
        )?;
    }
    for kind in plan.kinds.iter().filter(|kind| plan.from_cloth.iter().all(|cut| cut.kind != kind.kind)) {
        writeln!(
            out,
            "{} cannot be cut from it: a run is longer than its strips, or there is too little of it",
            kind.kind
        )?;
    }
    Ok(())
}

/// `tape: 133 runs on 9 rolls; cost 368.50, proven least`.
pub(super) fn sum(out: &mut impl Write, plan: &TapePlan) -> io::Result<()> {
    let runs: u32 = plan.kinds.iter().map(|kind| kind.runs).sum();
    let placed = runs - plan.unplaced.len() as u32;
    write!(
        out,
        "tape: {placed} of {} on {}",
        counted(runs, "run", "runs"),
        counted(plan.rolls.len() as u32, "roll", "rolls")
    )?;
    if plan.rolls.is_empty() {
        return writeln!(out);
    }
    let least = if plan.kinds.iter().all(|kind| kind.rolls == 0 || kind.is_least()) { ", proven least" } else { "" };
    writeln!(out, "; cost {:.2}{least}", plan.cost())
}
