//! Measures the engine on open data and prints its densities beside published ones.
//!
//! ```text
//! cargo bench --bench published -- --data DIR --seconds 60 --seeds 3 albano swim
//! ```
//!
//! The strip is never widened, pieces may touch, and every layout is held against the independent check.

#![allow(clippy::print_stdout, clippy::print_stderr)]

#[path = "../tests/datasets/mod.rs"]
mod datasets;

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::ExitCode;
use std::sync::OnceLock;
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::{Duration, Instant};

use clap::Parser;
use clothwright::nest::{Budget, Progress, Watch, lay};
use clothwright::verify::verify_task;
use datasets::{CLOTH_JOBS, Dataset};
use serde::Deserialize;

/// Lays open datasets and prints the densities beside published ones.
#[derive(Parser)]
struct Asked {
    /// Folder with the datasets and published.json.
    #[arg(long, env = "CLOTHWRIGHT_DATASETS")]
    data: PathBuf,
    /// Time for one layout.
    #[arg(long, default_value_t = 60.0)]
    seconds: f64,
    /// Layouts for each dataset, each with another seed.
    #[arg(long, default_value_t = 3)]
    seeds: u64,
    /// The first seed; the next are one more each.
    #[arg(long, default_value_t = 1)]
    first_seed: u64,
    /// A layout ends as soon as it is so much denser, in percentage points, than the published average.
    #[arg(long)]
    ahead: Option<f64>,
    /// Threads to use; all cores when it is left out.
    #[arg(long)]
    threads: Option<usize>,
    /// Names of datasets; the cloth-cutting jobs when left out.
    names: Vec<String>,
    /// Given by cargo, and of no meaning here.
    #[arg(long, hide = true)]
    bench: bool,
}

/// What papers print, in per cent.
#[derive(Deserialize)]
struct Published {
    source: String,
    instances: BTreeMap<String, Figures>,
}

#[derive(Deserialize, Default)]
struct Figures {
    average: Option<f64>,
    best: Option<f64>,
    note: Option<String>,
}

/// One layout: per cent of the strip, length in units of the file, faults, the time to the first complete lay, and how
/// fast the search was.
struct Layout {
    density: f64,
    length: f64,
    faults: Vec<String>,
    first: Option<Duration>,
    /// Millions of trials in a second.
    rate: f64,
}

/// Notes when the first complete lay is reported, and whether one is as dense as is wanted.
struct Looker {
    start: Instant,
    first: OnceLock<Duration>,
    /// Share of the strip.
    wanted: f64,
    dense_enough: AtomicBool,
}

impl Watch for Looker {
    fn report(&self, progress: Progress) {
        if let Some(density) = progress.density {
            self.first.get_or_init(|| self.start.elapsed());
            self.dense_enough.fetch_or(density >= self.wanted, Ordering::Relaxed);
        }
    }

    fn interrupted(&self) -> bool {
        self.dense_enough.load(Ordering::Relaxed)
    }
}

fn main() -> ExitCode {
    let asked = Asked::parse();
    match run(&asked) {
        Ok(0) => ExitCode::SUCCESS,
        Ok(invalid) => {
            eprintln!("{invalid} layouts broke a rule");
            ExitCode::FAILURE
        }
        Err(why) => {
            eprintln!("{why}");
            ExitCode::FAILURE
        }
    }
}

/// Measures what was asked and says how many layouts were invalid.
fn run(asked: &Asked) -> Result<usize, String> {
    let pool = rayon::ThreadPoolBuilder::new().num_threads(asked.threads.unwrap_or(0)).build();
    let pool = pool.map_err(|error| error.to_string())?;
    let published = read_published(&asked.data)?;
    let names = if asked.names.is_empty() { CLOTH_JOBS.map(String::from).to_vec() } else { asked.names.clone() };
    println!("published: {}", published.source);
    println!(
        "{} s a layout, {} seeds from {}, {} threads",
        asked.seconds,
        asked.seeds,
        asked.first_seed,
        pool.current_num_threads()
    );
    println!(
        "{:<10} {:>9} {:>9} {:>11} {:>9} {:>9} {:>8} {:>8} {:>8} {:>7} {:>7}",
        "instance",
        "average %",
        "best %",
        "best length",
        "paper avg",
        "paper max",
        "avg diff",
        "max diff",
        "first s",
        "invalid",
        "M/s"
    );
    let (mut invalid, mut notes) = (0, Vec::new());
    for name in &names {
        let dataset = Dataset::read(&asked.data, name)?;
        let paper = published.instances.get(name);
        let average = paper.and_then(|paper| paper.average);
        let wanted = asked.ahead.zip(average).map_or(f64::INFINITY, |(ahead, average)| (average + ahead) / 100.0);
        let layouts: Vec<Layout> = (asked.first_seed..)
            .take(asked.seeds as usize)
            .map(|seed| pool.install(|| measure(&dataset, seed, asked.seconds, wanted)))
            .collect::<Result<_, _>>()?;
        print_row(name, &layouts, paper.unwrap_or(&Figures::default()));
        notes.extend(paper.and_then(|paper| paper.note.as_ref()).map(|note| format!("{name}: {note}")));
        invalid += layouts.iter().filter(|layout| !layout.faults.is_empty()).count();
    }
    notes.iter().for_each(|note| println!("{note}"));
    Ok(invalid)
}

fn read_published(folder: &Path) -> Result<Published, String> {
    let path = folder.join("published.json");
    let said = |why: String| format!("{}: {why}", path.display());
    let text = fs::read_to_string(&path).map_err(|error| said(error.to_string()))?;
    serde_json::from_str(&text).map_err(|error| said(error.to_string()))
}

fn measure(dataset: &Dataset, seed: u64, seconds: f64, wanted: f64) -> Result<Layout, String> {
    let time = Duration::try_from_secs_f64(seconds).map_err(|error| format!("--seconds {seconds}: {error}"))?;
    let watch = Looker { start: Instant::now(), first: OnceLock::new(), wanted, dense_enough: AtomicBool::new(false) };
    let budget = Budget { seed, effort: u64::MAX, time: Some(time) };
    let lay = lay(&dataset.task, &budget, &watch).map_err(|fault| format!("{}: {fault}", dataset.name))?;
    let took = watch.start.elapsed().as_secs_f64();
    let mut faults: Vec<_> = verify_task(&dataset.task, &lay).iter().map(ToString::to_string).collect();
    faults.extend(lay.unplaced.iter().map(|unplaced| format!("unplaced: {}", unplaced.why)));
    eprintln!(
        "{} seed {seed}: {:.3} %, length {:.3}, {:.1} s, {} faults{}",
        dataset.name,
        100.0 * dataset.density(&lay),
        dataset.length(&lay),
        took,
        faults.len(),
        faults.first().map(|fault| format!("; {fault}")).unwrap_or_default()
    );
    Ok(Layout {
        density: 100.0 * dataset.density(&lay),
        length: dataset.length(&lay),
        faults,
        first: watch.first.get().copied(),
        rate: lay.trials as f64 / took / 1e6,
    })
}

fn print_row(name: &str, layouts: &[Layout], paper: &Figures) {
    let average = layouts.iter().map(|layout| layout.density).sum::<f64>() / layouts.len() as f64;
    let best = layouts.iter().map(|layout| layout.density).fold(f64::NEG_INFINITY, f64::max);
    let length = layouts.iter().map(|layout| layout.length).fold(f64::INFINITY, f64::min);
    let invalid = layouts.iter().filter(|layout| !layout.faults.is_empty()).count();
    let first = layouts.iter().filter_map(|layout| layout.first).max().map(|first| first.as_secs_f64());
    let rate = layouts.iter().map(|layout| layout.rate).sum::<f64>() / layouts.len() as f64;
    let or_dash = |value: Option<f64>| value.map_or("-".to_owned(), |value| format!("{value:.2}"));
    let signed = |value: Option<f64>| value.map_or("-".to_owned(), |value| format!("{value:+.2}"));
    println!(
        "{name:<10} {average:>9.2} {best:>9.2} {length:>11.3} {:>9} {:>9} {:>8} {:>8} {:>8} {invalid:>7} {rate:>7.2}",
        or_dash(paper.average),
        or_dash(paper.best),
        signed(paper.average.map(|published| average - published)),
        signed(paper.best.map(|published| best - published)),
        or_dash(first),
    );
}
