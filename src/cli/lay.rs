//! `clothwright lay`: the main job.

use std::io::{self, Write};
use std::path::Path;

use crate::covering::{CoveredPart, Covering};
use crate::draw::{
    LaySheet, cut_list, lay_sheet, map_sheet, map_sheet_names, map_table, part_sheet, part_sheet_names, sheet_names,
};
use crate::job::{self, Job, Reach};
use crate::nest::Ending;
use crate::plan::{self, Outputs, WorkedLay, lay_json};
use crate::verify::verify_lay;
use crate::wording::counted;

use super::exit::{Exit, Stop};
use super::interrupt::Interrupt;
use super::progress::ShownProgress;
use super::settings::{Args, LaySettings, job_path_from};
use super::{messages, summary};

/// Lays a job.
pub(super) fn run(args: Args, reach: Reach) -> Result<Exit, Stop> {
    let settings = LaySettings::from(args);
    let reading = job::read_reaching(&settings.job, reach)?;
    Outputs::prepare(&settings.out)?;
    let mut worked = search(&settings, &reading.job)?;
    worked.file.cautions.splice(0..0, messages::of_job(&reading.cautions));
    messages::cautions(&worked.file.cautions);

    let findings = verify_lay(&worked.file, &reading.job);
    if !findings.is_empty() {
        let findings: Vec<String> = findings.iter().map(|finding| format!("  {finding}")).collect();
        let message = format!(
            "the lay that was found is not valid, and nothing was written; this is a fault of the program:\n{}",
            findings.join("\n")
        );
        return Err(Stop::fault(Exit::NoValidLay, message));
    }

    let outputs = outputs(&reading.job, &worked)?;
    outputs.write(&settings.out)?;
    leftovers(&settings.out, &outputs);
    let exit = verdict(&worked);
    // The files are there: a reader that closes the pipe changes nothing about how the lay went.
    match print(&reading.job, &worked, &settings.out, &outputs) {
        Err(error) if error.kind() != io::ErrorKind::BrokenPipe => Err(error.into()),
        _ => Ok(exit),
    }
}

fn search(settings: &LaySettings, job: &Job) -> Result<WorkedLay, Stop> {
    let progress = ShownProgress::new(job.units, Interrupt::listen()?);
    let threads = rayon::ThreadPoolBuilder::new().num_threads(settings.threads).build().map_err(|error| {
        Stop::fault(Exit::CommandWrong, format!("{}: {error}", counted(settings.threads, "thread", "threads")))
    })?;
    let job_path = job_path_from(&settings.out, &settings.job);
    let worked = threads.install(|| plan::lay(job, &job_path, &settings.budget, &progress));
    progress.finish();
    Ok(worked?)
}

fn outputs(job: &Job, worked: &WorkedLay) -> Result<Outputs, Stop> {
    let cannot_tell = |what: &str, error: &dyn std::error::Error| {
        Stop::fault(Exit::NoValidLay, format!("{what} cannot be put together: {error}"))
    };
    let mut outputs = Outputs::default();
    outputs.add("lay.json", lay_json(&worked.file).map_err(|error| cannot_tell("lay.json", &error))?);
    let names = sheet_names(worked.file.cloths.iter().map(|laid| (laid.cloth.as_str(), laid.number)));
    for ((name, laid), account) in names.into_iter().zip(&worked.file.cloths).zip(&worked.accounts) {
        if let Some(cloth) = job.cloth.iter().find(|cloth| cloth.name == laid.cloth) {
            let sheet = LaySheet { job, pieces: &worked.pieces, cloth, laid, account };
            outputs.add(name, lay_sheet(&sheet));
        }
    }
    let names = part_sheet_names(worked.covering.parts.iter().map(|part| part.name.as_str()));
    for (name, part) in names.into_iter().zip(&worked.covering.parts) {
        outputs.add(name, part_sheet(job, part));
    }
    maps(&mut outputs, job, &worked.covering).map_err(|error| cannot_tell("map.csv", &error))?;
    let cut_list = cut_list(job, &worked.pieces, &worked.file).map_err(|error| cannot_tell("cut-list.csv", &error))?;
    outputs.add("cut-list.csv", cut_list);
    Ok(outputs)
}

/// The map of each part whose faces are known, and the table of all of them.
fn maps(outputs: &mut Outputs, job: &Job, covering: &Covering) -> Result<(), csv::Error> {
    let mapped: Vec<&CoveredPart> = covering.parts.iter().filter(|part| !part.faces.is_empty()).collect();
    if mapped.is_empty() {
        return Ok(());
    }
    let names = map_sheet_names(mapped.iter().map(|part| part.name.as_str()));
    for (name, part) in names.into_iter().zip(mapped) {
        outputs.add(name, map_sheet(job, part));
    }
    outputs.add("map.csv", map_table(job, covering)?);
    Ok(())
}

/// Names sheets of an earlier lay that lie beside the new ones and would be taken for them.
fn leftovers(folder: &Path, outputs: &Outputs) {
    let Ok(entries) = folder.read_dir() else { return };
    let names = entries.flatten().filter_map(|entry| entry.file_name().into_string().ok());
    let sheet =
        |name: &String| ["lay-", "map-", "part-"].iter().any(|start| name.starts_with(start)) && name.ends_with(".svg");
    let mut old: Vec<String> = names.filter(|name| sheet(name) && !outputs.names().any(|new| new == name)).collect();
    old.sort();
    if !old.is_empty() {
        let left =
            if old.len() == 1 { "is left from an earlier lay and does" } else { "are left from an earlier lay and do" };
        messages::say(&format!("note: {} {left} not belong to this one", old.join(", ")));
    }
}

fn verdict(worked: &WorkedLay) -> Exit {
    messages::unplaced(&worked.file.unplaced);
    match worked.ending {
        Ending::Interrupted => Exit::Interrupted,
        _ if !worked.file.unplaced.is_empty() => Exit::NoValidLay,
        Ending::TimeUp | Ending::EffortSpent => Exit::Done,
    }
}

fn print(job: &Job, worked: &WorkedLay, folder: &Path, outputs: &Outputs) -> io::Result<()> {
    let mut out = io::stdout().lock();
    summary::print(&mut out, job, worked)?;
    for name in outputs.names() {
        writeln!(out, "wrote {}", folder.join(name).display())?;
    }
    writeln!(out, "{}", plan::PLANNING_AID)?;
    out.flush()
}
