//! `clothwright compare`: the same job laid on each cloth, or with a figure changed.

use std::io::{self, Write};
use std::path::PathBuf;

use crate::covering::cover;
use crate::draw::{CompareSheet, compare_sheet};
use crate::job::{self, Cloth, Job, JobText, Reach};
use crate::plan::{
    self, Compared, Comparison, LayerChoice, Outputs, PlanFault, Range, TapeSource, Way, Winners, area, compare,
    layer_choices, mass, of_width, on_one_cloth, percent, pieces_with, what_if, winners,
};
use crate::units::{Units, typed_length};
use crate::wording::counted;

use super::exit::{Exit, Stop};
use super::force::Force;
use super::interrupt;
use super::messages;
use super::progress::ShownProgress;
use super::settings::{effort, seed, thread_pool};
use super::table::{Align, Table};

/// Effort for each lay: a comparison makes many, and wants like conditions rather than the last centimetre.
const DEFAULT_EFFORT: u64 = 1;
/// Seeds for each way: one shows no spread, and each costs a whole lay.
const DEFAULT_SEEDS: u64 = 2;

/// The files of `--out`.
const DATA: &str = "compare.json";
const SHEET: &str = "compare.svg";

/// Flags of `compare`.
#[derive(Debug, clap::Args)]
pub(super) struct Args {
    /// The job file.
    pub job: PathBuf,
    /// Widths to lay the job on, such as 1.5m,1.65m@12.50: with @ the price of a metre, else the price goes with the width
    /// [default: each cloth of the job that is bought, one at a time].
    #[arg(long, value_name = "WIDTHS", value_delimiter = ',')]
    pub widths: Vec<String>,
    /// Seeds for each: how far lays of one cloth differ, so that a smaller difference counts as a tie.
    #[arg(long, value_name = "N", default_value_t = DEFAULT_SEEDS, value_parser = clap::value_parser!(u64).range(1..=100))]
    pub seeds: u64,
    /// The first seed.
    #[arg(long, value_name = "N", default_value_t = 1, value_parser = seed)]
    pub seed: u64,
    /// Work to spend on each lay.
    #[arg(long, value_name = "N", default_value_t = DEFAULT_EFFORT, value_parser = effort)]
    pub effort: u64,
    /// Change a figure, and show both: gap="5 mm", vne="160 mph", lap="2 in", lap@fuselage="2 in", price=16, tilt=3, or a path
    /// through the job file such as cloth.roll.price=16.
    #[arg(long, value_name = "KEY=VALUE")]
    pub what_if: Vec<String>,
    /// Finishing tape too: bought on rolls, cut from the cloth, or both side by side.
    #[arg(long, value_name = "FROM", value_enum)]
    pub tape: Option<TapeFrom>,
    /// Reinforcing patches against a whole second layer of cloth on these parts, panels or pieces.
    #[arg(long, value_name = "FACES", value_delimiter = ',')]
    pub layers: Vec<String>,
    /// Print JSON instead of tables: millimetres, grams, hours.
    #[arg(long)]
    pub json: bool,
    /// Folder for compare.json and compare.svg; it is made where it is missing.
    #[arg(long, value_name = "DIR")]
    pub out: Option<PathBuf>,
    /// Whether any file may be replaced.
    #[command(flatten)]
    pub force: Force,
    /// Threads to work with; the result does not depend on it [default: one a core].
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u16).range(1..=1024))]
    pub threads: Option<u16>,
}

/// Where finishing tape comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq, clap::ValueEnum)]
pub(super) enum TapeFrom {
    /// Rolls of tape that the job names.
    Bought,
    /// Strips of the cloth that is compared.
    Cut,
    /// Each way twice.
    Both,
}

impl TapeFrom {
    fn sources(self) -> &'static [TapeSource] {
        match self {
            Self::Bought => &[TapeSource::Bought],
            Self::Cut => &[TapeSource::Cut],
            Self::Both => &[TapeSource::Bought, TapeSource::Cut],
        }
    }
}

/// Compares ways to do a job.
pub(super) fn run(args: &Args, reach: Reach) -> Result<Exit, Stop> {
    let reading = job::read_reaching(&args.job, reach)?;
    messages::cautions(&messages::of_job(&reading.cautions));
    let job = &reading.job;
    let ways = ways(args, job, reach)?;
    let layers = layers(args, job)?;
    if let Some(folder) = &args.out {
        let names = [DATA, SHEET].map(str::to_owned);
        Outputs::foresee(folder, &names, args.force.into())?;
    }
    messages::say(&format!(
        "laying {} with {} each, at effort {}",
        counted(ways.len(), "way", "ways"),
        counted(args.seeds, "seed", "seeds"),
        args.effort
    ));
    interrupt::search_begins();
    let progress = ShownProgress::new(job.units);
    let pool = thread_pool(args.threads.map_or(0, usize::from))?;
    let compared = pool.install(|| compare(&ways, args.effort, args.seed, args.seeds, &progress));
    progress.finish();
    if interrupt::asked() {
        messages::caution(
            "interrupted: the lays are not alike, so nothing follows from what is below; no file is written",
        );
    }
    let best = winners(&compared);
    let file = Comparison {
        format: 1,
        job: job.name.clone(),
        effort: args.effort,
        seeds: args.seeds,
        ways: compared,
        winners: best,
        layers,
    };
    let Comparison { ways: compared, winners: best, layers, .. } = &file;
    let json = serde_json::to_string_pretty(&file).map_err(io::Error::from)? + "\n";
    let mut wrote = Vec::new();
    if let Some(folder) = args.out.as_ref().filter(|_| !interrupt::asked()) {
        let mut outputs = Outputs::default();
        outputs.add(DATA, json.as_str());
        let note = conditions(args);
        outputs.add(SHEET, compare_sheet(&CompareSheet { job, ways: compared, winners: best, note: &note }));
        outputs.write(folder, args.force.into())?;
        wrote.extend(outputs.names().map(|name| folder.join(name)));
    }
    let mut out = io::stdout().lock();
    if args.json {
        out.write_all(json.as_bytes())?;
    } else {
        print(&mut out, job, compared, best, args)?;
        print_tape(&mut out, job.units, compared)?;
        print_layers(&mut out, job.units, layers)?;
    }
    if !args.json {
        for file in wrote {
            writeln!(out, "wrote {}", file.display())?;
        }
        writeln!(out, "{}", plan::PLANNING_AID)?;
    }
    out.flush()?;
    let some_possible = compared.iter().any(|way| way.impossible.is_none());
    Ok(match some_possible {
        _ if interrupt::asked() => Exit::Interrupted,
        true => Exit::Done,
        false => Exit::NoValidLay,
    })
}

/// The ways to compare: each cloth, and each of them once more with each figure changed.
fn ways(args: &Args, job: &Job, reach: Reach) -> Result<Vec<Way>, Stop> {
    let mut jobs = vec![(job.clone(), String::new())];
    if !args.what_if.is_empty() {
        let text = job::read_file(&args.job)?;
        let file = JobText { path: &args.job, reach, text: &text };
        for change in &args.what_if {
            let changed = what_if(&file, change).map_err(|fault| Stop::fault(Exit::CommandWrong, fault))?;
            jobs.push((changed, format!(", {change}")));
        }
    }
    let per_job = jobs.iter().map(|(job, suffix)| cloths(args, job).map(|cloths| (job, suffix, cloths)));
    let per_job: Vec<_> = per_job.collect::<Result<_, _>>()?;
    let count = per_job.iter().map(|(.., cloths)| cloths.len()).min().unwrap_or(0);
    let ways = (0..count).flat_map(|index| {
        per_job.iter().map(move |(job, suffix, cloths)| {
            let (cloth, name) = cloths[index].clone();
            on_one_cloth(job, cloth, format!("{name}{suffix}"))
        })
    });
    match args.tape {
        None => Ok(ways.collect()),
        Some(TapeFrom::Bought | TapeFrom::Both) if job.tape.is_empty() => Err(Stop::fault(
            Exit::CommandWrong,
            "the job has no \"tape\", so it is not known what bought tape costs; give its rolls, or compare --tape cut",
        )),
        Some(from) => {
            let each = |way: Way| from.sources().iter().map(move |source| way.clone().with_tape(*source));
            Ok(ways.flat_map(each).collect())
        }
    }
}

fn cloths(args: &Args, job: &Job) -> Result<Vec<(Cloth, String)>, Stop> {
    let bought: Vec<&Cloth> = job.cloth.iter().filter(|cloth| cloth.is_bought()).collect();
    let wrong = |message: String| Stop::fault(Exit::CommandWrong, message);
    let Some(first) = bought.first() else {
        return Err(wrong("the job has no cloth that is bought: all of it is on the shelf already".to_owned()));
    };
    if args.widths.is_empty() {
        let named = |cloth: &&Cloth| ((*cloth).clone(), format!("{} {}", cloth.name, job.units.show(cloth.width)));
        return Ok(bought.iter().map(named).collect());
    }
    let of_text = |text: &String| {
        let (width, price) = text.split_once('@').map_or((text.as_str(), None), |(width, price)| (width, Some(price)));
        let hint = || format!("{text:?} is no width; write for example 1.5m, or 1.5m@12.50 with the price of a metre");
        let width = typed_length(job.units, width).map_err(|_| wrong(hint()))?;
        let price = match price.map(|price| price.trim().parse::<f64>()) {
            None => None,
            Some(Ok(price)) if price >= 0.0 && price.is_finite() => Some(price),
            Some(_) => return Err(wrong(hint())),
        };
        let usable = width - first.selvage[0] - first.selvage[1];
        if !width.is_finite() || usable < job::limits::SMALLEST || width > job::limits::LENGTH {
            return Err(wrong(format!("{text:?} leaves no usable width beside the selvage of {:?}", first.name)));
        }
        Ok((of_width(first, width, price), format!("{} wide", job.units.show(width))))
    };
    args.widths.iter().map(of_text).collect()
}

fn layers(args: &Args, job: &Job) -> Result<Vec<LayerChoice>, Stop> {
    if args.layers.is_empty() {
        return Ok(Vec::new());
    }
    let covering = cover(job).map_err(PlanFault::from)?;
    let pieces = pieces_with(job, &covering);
    layer_choices(job, &covering, &pieces, &args.layers).map_err(|fault| Stop::fault(Exit::CommandWrong, fault))
}

fn conditions(args: &Args) -> String {
    format!(
        "each laid at effort {} with {} from {} on; each cloth alone, without what is on the shelf",
        args.effort,
        counted(args.seeds, "seed", "seeds"),
        args.seed
    )
}

fn print(out: &mut impl Write, job: &Job, ways: &[Compared], best: &Winners, args: &Args) -> io::Result<()> {
    let units = job.units;
    let mut table = Table::new(&[
        ("cloth", Align::Left),
        ("seams", Align::Right),
        ("sewn", Align::Right),
        ("seam length", Align::Right),
        ("laps", Align::Right),
        ("tape", Align::Right),
        ("hours", Align::Right),
        ("lap mass", Align::Right),
        ("length used", Align::Right),
        ("waste", Align::Right),
        ("buy", Align::Right),
        ("cost", Align::Right),
        ("left over", Align::Right),
        ("remark", Align::Left),
    ]);
    for way in ways {
        let seams = &way.seams;
        let some = |text: String| if seams.count > 0 { text } else { String::new() };
        let of_runs = |value: fn(&plan::Run) -> f64| Range::of(&way.runs.iter().map(value).collect::<Vec<_>>());
        let metres = |range: Option<Range>| shown(range, |mm| metres(mm, units));
        let laid = !way.runs.is_empty();
        table.line([
            way.name.clone(),
            if laid { seams.count.to_string() } else { String::new() },
            some(seams.sewn.to_string()),
            some(units.show(seams.length)),
            some(area(seams.lap_area, units)),
            some(units.show(seams.tape_length)),
            some(format!("{:.1}", seams.hours)),
            seams.mass.map_or(String::new(), |grams| some(mass(grams, units))),
            metres(way.length()),
            shown(way.waste(), percent),
            metres(of_runs(|run| run.bought)),
            shown(way.cost(), |cost| format!("{cost:.2}")),
            metres(of_runs(|run| run.left)),
            way.impossible.clone().unwrap_or_default().lines().last().unwrap_or_default().trim().to_owned(),
        ]);
    }
    table.print(out)?;
    writeln!(out)?;
    if interrupt::asked() {
        return Ok(());
    }
    let [cost, waste, seams] = best.in_words();
    writeln!(out, "least money:  {cost}")?;
    writeln!(out, "least waste:  {waste}")?;
    writeln!(out, "fewest seams: {seams}")?;
    writeln!(out, "{}", conditions(args))
}

fn metres(mm: f64, units: Units) -> String {
    plan::TakeOffUnit::Length.amount(mm, units)
}

/// A range as its ends; one value where they read alike.
fn shown(range: Option<Range>, words: impl Fn(f64) -> String) -> String {
    let Some(range) = range else { return String::new() };
    let (least, most) = (words(range.least), words(range.most));
    if least == most { least } else { format!("{} – {most}", least.split(' ').next().unwrap_or_default()) }
}

/// Finishing tape of each way, where it is compared.
fn print_tape(out: &mut impl Write, units: Units, ways: &[Compared]) -> io::Result<()> {
    if ways.iter().all(|way| way.tape.is_none()) {
        return Ok(());
    }
    let mut table = Table::new(&[
        ("tape", Align::Left),
        ("rolls cost", Align::Right),
        ("strips of cloth", Align::Right),
        ("edge to cut", Align::Right),
        ("hours", Align::Right),
    ]);
    for (way, tape) in ways.iter().filter_map(|way| Some((way, way.tape.as_ref()?))) {
        let of_strips = |text: String| if tape.strips > 0 { text } else { String::new() };
        table.line([
            way.name.clone(),
            format!("{:.2}", tape.rolls_cost),
            of_strips(tape.strips.to_string()),
            of_strips(metres(tape.edge, units)),
            of_strips(format!("{:.1}", tape.hours)),
        ]);
    }
    writeln!(out)?;
    table.print(out)?;
    writeln!(out, "the cost above holds the rolls; strips lie among the pieces, so their cloth is in it too")
}

fn print_layers(out: &mut impl Write, units: Units, layers: &[LayerChoice]) -> io::Result<()> {
    if layers.is_empty() {
        return Ok(());
    }
    let mut table = Table::new(&[
        ("layers", Align::Left),
        ("cloth", Align::Right),
        ("mass", Align::Right),
        ("edge to glue", Align::Right),
        ("edge to pink", Align::Right),
        ("pieces", Align::Right),
        ("hours", Align::Right),
    ]);
    for choice in layers {
        table.line([
            choice.name.clone(),
            area(choice.cloth, units),
            choice.mass.map_or(String::new(), |grams| mass(grams, units)),
            metres(choice.glued, units),
            metres(choice.pinked, units),
            choice.pieces.to_string(),
            format!("{:.1}", choice.hours),
        ]);
    }
    writeln!(out)?;
    table.print(out)?;
    match layers.first().map(|choice| choice.default_rates.join(", ")).filter(|rates| !rates.is_empty()) {
        None => Ok(()),
        Some(rates) => writeln!(
            out,
            "rates in hours a piece or a metre that are not your own: {rates} (common practice, no source; put your own into \
             \"rates\" of the job)"
        ),
    }
}
