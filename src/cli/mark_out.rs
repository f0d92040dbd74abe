//! `clothwright mark-out`: large pieces by their measures, and the order of cutting, from a lay that is written already.

use std::collections::BTreeSet;
use std::io::{self, Write};
use std::path::{Path, PathBuf};

use clap::ValueEnum;

use crate::covering::{Covering, cover};
use crate::draw::{
    DEFAULT_MARGIN, DEFAULT_OVERLAP, Margins, MarkOutSheets, Paper, PrintSheet, large_pieces, length_of,
    mark_out_names, mark_out_pdf, mark_out_table,
};
use crate::job::{Job, Piece, Reach};
use crate::plan::{
    LayFile, MarkOutWish, Outputs, PLANNING_AID, PlanFault, Rounding, each_template, marked_cloth, pieces_with,
};
use crate::units::Units;

use super::exit::{Exit, Stop};
use super::force::Force;
use super::messages;
use super::written_lay::{CheckedLay, read_checked};

/// The shortest table, in millimetres: a shorter one would hold no piece that is worth marking out.
const SHORTEST_TABLE: f64 = 500.0;

/// Flags of `mark-out`.
#[derive(Debug, clap::Args)]
pub(super) struct Args {
    /// The lay file, such as out/lay.json.
    pub lay: PathBuf,
    /// Folder for mark-out-NAME.pdf and mark-out-NAME.csv; it is made where it is missing.
    #[arg(long, value_name = "DIR")]
    pub out: PathBuf,
    /// The job file [default: the one that the lay names, seen from the lay's folder].
    #[arg(long)]
    pub job: Option<PathBuf>,
    /// How large pieces are marked out.
    #[command(flatten)]
    pub how: MarkOutFlags,
    /// Whether any file may be replaced.
    #[command(flatten)]
    pub force: Force,
}

/// How large pieces are marked out.
#[derive(Clone, Debug, PartialEq, clap::Args)]
#[command(next_help_heading = "Mark-out of large pieces")]
pub(super) struct MarkOutFlags {
    /// Length of the table, such as 3m or "10 ft": cloth that is longer is shown stretch by stretch, as it is drawn over the
    /// table [default: the whole cloth lies on it].
    #[arg(long, value_name = "LENGTH", value_parser = table, allow_hyphen_values = true)]
    pub table: Option<f64>,
    /// What the measures are rounded to [default: 1/16in where the job is in inches or feet, else 1mm].
    #[arg(long, value_enum)]
    pub round: Option<Round>,
    /// Mark out every piece that is at least so long [default: pieces whose templates would take more than 12 sheets of the
    /// paper, or rectangles more than one].
    #[arg(long, value_name = "LENGTH", value_parser = large, allow_hyphen_values = true)]
    pub large: Option<f64>,
    /// Paper of the mark-out, named as for `templates`.
    #[arg(long, value_name = "PAPER", default_value = "A4", value_parser = Paper::parse)]
    pub paper: Paper,
}

/// What measures are rounded to.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(super) enum Round {
    /// Whole millimetres.
    #[value(name = "1mm")]
    Millimetre,
    /// Sixteenths of an inch.
    #[value(name = "1/16in")]
    SixteenthInch,
}

/// What is marked out.
pub(super) struct ToMarkOut<'t> {
    pub job: &'t Job,
    pub covering: &'t Covering,
    pub pieces: &'t [Piece],
    pub lay: &'t LayFile,
}

fn table(text: &str) -> Result<f64, String> {
    match length_of(text) {
        Ok(length) if length >= SHORTEST_TABLE && length.is_finite() => Ok(length),
        Ok(_) => Err(format!("a table is {} long or longer", Units::Mm.show(SHORTEST_TABLE))),
        Err(fault) => Err(fault.to_string()),
    }
}

fn large(text: &str) -> Result<f64, String> {
    match length_of(text) {
        Ok(length) if length > 0.0 => Ok(length),
        Ok(_) => Err("give a length greater than 0, such as 900mm".to_owned()),
        Err(fault) => Err(fault.to_string()),
    }
}

impl MarkOutFlags {
    /// The paper with its margins.
    pub fn sheet(&self) -> Result<PrintSheet, Stop> {
        PrintSheet::new(self.paper.clone(), None, Margins::all(DEFAULT_MARGIN), DEFAULT_OVERLAP)
            .map_err(|fault| Stop::fault(Exit::CommandWrong, fault))
    }

    fn rounding(&self, job: &Job) -> Rounding {
        match self.round {
            Some(Round::Millimetre) => Rounding::Millimetre,
            Some(Round::SixteenthInch) => Rounding::SixteenthInch,
            None => Rounding::of(job.units),
        }
    }
}

/// Marks out a written lay.
pub(super) fn run(args: &Args, reach: Reach) -> Result<Exit, Stop> {
    args.how.sheet()?;
    let CheckedLay { lay, job, findings } = read_checked(&args.lay, args.job.as_deref(), reach)?;
    if let Some(first) = findings.first() {
        let message = format!(
            "{} is no valid lay of its job, and nothing was written: {}; `clothwright verify` lists all that is wrong",
            args.lay.display(),
            first.told(job.units)
        );
        return Err(Stop::fault(Exit::NoValidLay, message));
    }
    let covering = cover(&job).map_err(PlanFault::from)?;
    let pieces = pieces_with(&job, &covering);
    let mut outputs = Outputs::default();
    add_mark_outs(&mut outputs, &ToMarkOut { job: &job, covering: &covering, pieces: &pieces, lay: &lay }, &args.how)?;
    outputs.write(&args.out, args.force.into())?;
    match print(&outputs, &args.out) {
        Err(error) if error.kind() != io::ErrorKind::BrokenPipe => Err(error.into()),
        _ => Ok(Exit::Done),
    }
}

fn print(outputs: &Outputs, folder: &Path) -> io::Result<()> {
    if outputs.names().next().is_none() {
        messages::say("note: no piece of this lay is large, so there is nothing to mark out; say with --large what is");
    }
    let mut out = io::stdout().lock();
    for name in outputs.names() {
        writeln!(out, "wrote {}", folder.join(name).display())?;
    }
    writeln!(out, "{PLANNING_AID}")?;
    out.flush()
}

/// Adds the mark-out of each cloth that holds large pieces: its pages, and its table.
pub(super) fn add_mark_outs(outputs: &mut Outputs, what: &ToMarkOut, how: &MarkOutFlags) -> Result<(), Stop> {
    let sheet = how.sheet()?;
    let templates = each_template(what.job, what.covering);
    let large: BTreeSet<String> = match how.large {
        Some(least) => {
            let is_large = |piece: &&Piece| piece.size[0].max(piece.size[1]) >= least;
            what.pieces.iter().filter(is_large).map(|piece| piece.name.clone()).collect()
        }
        None => large_pieces(&templates, &sheet),
    };
    let wish = MarkOutWish { rounding: how.rounding(what.job), large, table: how.table };
    let cloths = || what.lay.cloths.iter().map(|laid| (laid.cloth.as_str(), laid.number));
    let names = mark_out_names(cloths(), "pdf").into_iter().zip(mark_out_names(cloths(), "csv"));
    for (laid, (pdf, csv)) in what.lay.cloths.iter().zip(names) {
        if !laid.pieces.iter().any(|piece| wish.large.contains(&piece.piece)) {
            continue;
        }
        let cannot =
            |why: &dyn std::fmt::Display| Stop::fault(Exit::NoValidLay, format!("{pdf} cannot be put together: {why}"));
        let marked = marked_cloth(laid, &wish).map_err(|fault| cannot(&fault))?;
        let sheets = MarkOutSheets {
            job: what.job,
            pieces: what.pieces,
            templates: &templates,
            laid,
            marked: &marked,
            wish: &wish,
            sheet: &sheet,
        };
        let units = wish.rounding.shown_in(what.job.units);
        let table = mark_out_table(&[(laid, &marked)], what.pieces, units).map_err(|fault| cannot(&fault))?;
        outputs.add(&pdf, mark_out_pdf(&sheets));
        outputs.add(csv, table);
    }
    Ok(())
}
