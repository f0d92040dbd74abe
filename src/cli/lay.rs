//! `clothwright lay`: the main job.

use std::io::{self, Write};
use std::path::Path;

use crate::covering::{CoveredPart, Covering};
use crate::draw::{
    LaySheet, cut_list, lay_sheet, map_sheet_names, map_sheets, map_table, part_sheet, part_sheet_names, sheet_names,
    take_off_table, tape_sheet, tape_sheet_names,
};
use crate::job::{self, Job, Reach};
use crate::nest::Watch;
use crate::plan::{self, Outputs, PlanFault, TapeAccount, TapePlan, WorkedLay, lay_json};
use crate::units::Units;
use crate::verify::{Finding, verify_lay};

use super::exit::{Exit, Stop};
use super::interrupt;
use super::mark_out::{ToMarkOut, add_mark_outs};
use super::progress::ShownProgress;
use super::report::add_report;
use super::settings::{Args, LaySettings, job_path_from, thread_pool};
use super::{lay_rest, messages, summary, take_off};

/// Lays a job.
pub(super) fn run(args: Args, reach: Reach) -> Result<Exit, Stop> {
    let settings = LaySettings::from(args);
    settings.mark_out.sheet()?;
    if settings.rest {
        return lay_rest::run(&settings, reach);
    }
    let reading = job::read_reaching(&settings.job, reach)?;
    foresee(&settings, &reading.job)?;
    let mut worked = search(&settings, &reading.job)?;
    worked.file.cautions.splice(0..0, messages::of_job(&reading.cautions));
    messages::cautions(&worked.file.cautions);

    sound(&verify_lay(&worked.file, &reading.job))?;
    finish(&settings, &reading.job, &worked)
}

/// Finds out before the search whether the results can be written, as far as their names are known.
pub(super) fn foresee(settings: &LaySettings, job: &Job) -> Result<(), Stop> {
    let mut names = sheet_names(job.cloth.iter().map(|cloth| (cloth.name.as_str(), 1)));
    names.push("lay.json".to_owned());
    if settings.job.to_str().is_none() {
        messages::say(
            "note: the name of the job file is no Unicode text, so lay.json cannot name it; give --job to `verify` and `mark-out`",
        );
    }
    Ok(Outputs::foresee(&settings.out, &names, settings.force.into())?)
}

/// Nothing is written that the check refuses.
pub(super) fn sound(findings: &[Finding]) -> Result<(), Stop> {
    if findings.is_empty() {
        return Ok(());
    }
    let findings: Vec<String> = findings.iter().map(|finding| format!("  {finding}")).collect();
    let message = format!(
        "the lay that was found is not valid, and nothing was written; this is a fault of the program:\n{}",
        findings.join("\n")
    );
    Err(Stop::fault(Exit::NoValidLay, message))
}

/// Draws and writes a lay, and says what it takes.
pub(super) fn finish(settings: &LaySettings, job: &Job, worked: &WorkedLay) -> Result<Exit, Stop> {
    let mut outputs = outputs(job, worked)?;
    let WorkedLay { covering, pieces, file, .. } = worked;
    add_mark_outs(&mut outputs, &ToMarkOut { job, covering, pieces, lay: file }, &settings.mark_out)?;
    add_report(&mut outputs, job, worked, settings)?;
    outputs.write(&settings.out, settings.force.into())?;
    leftovers(&settings.out, &outputs);
    let exit = verdict(worked);
    // The files are there: a reader that closes the pipe changes nothing about how the lay went.
    match print(job, worked, &settings.out, &outputs) {
        Err(error) if error.kind() != io::ErrorKind::BrokenPipe => Err(error.into()),
        _ => Ok(exit),
    }
}

fn search(settings: &LaySettings, job: &Job) -> Result<WorkedLay, Stop> {
    let job_path = job_path_from(&settings.out, &settings.job);
    watched(settings, job.units, |watch| plan::lay(job, &job_path, &settings.budget, watch))
}

/// Searches with the threads that were asked for, shows how far it has come, and can be interrupted.
pub(super) fn watched<T: Send>(
    settings: &LaySettings,
    units: Units,
    search: impl FnOnce(&dyn Watch) -> Result<T, PlanFault> + Send,
) -> Result<T, Stop> {
    interrupt::search_begins();
    let progress = ShownProgress::new(units);
    let threads = thread_pool(settings.threads)?;
    let found = threads.install(|| search(&progress));
    progress.finish();
    Ok(found?)
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
    tapes(&mut outputs, job, worked.file.tape.as_ref());
    let cut_list = cut_list(job, &worked.covering, &worked.pieces, &worked.file)
        .map_err(|error| cannot_tell("cut-list.csv", &error))?;
    outputs.add("cut-list.csv", cut_list);
    let table = take_off_table(job, &worked.file.take_off).map_err(|error| cannot_tell("take-off.csv", &error))?;
    outputs.add("take-off.csv", table);
    Ok(outputs)
}

/// The map of each part whose faces are known, and the table of all of them.
fn maps(outputs: &mut Outputs, job: &Job, covering: &Covering) -> Result<(), csv::Error> {
    let mapped: Vec<&CoveredPart> = covering.parts.iter().filter(|part| !part.faces.is_empty()).collect();
    if mapped.is_empty() {
        return Ok(());
    }
    let sheets: Vec<Vec<String>> = mapped.iter().map(|part| map_sheets(job, part)).collect();
    let counted = mapped.iter().zip(&sheets).map(|(part, sheets)| (part.name.as_str(), sheets.len()));
    for (name, sheet) in map_sheet_names(counted).into_iter().zip(sheets.into_iter().flatten()) {
        outputs.add(name, sheet);
    }
    outputs.add("map.csv", map_table(job, covering)?);
    Ok(())
}

/// The drawing of each kind of tape that is cut from rolls.
fn tapes(outputs: &mut Outputs, job: &Job, plan: Option<&TapePlan>) {
    let Some(plan) = plan else { return };
    let cut: Vec<&TapeAccount> = plan.kinds.iter().filter(|kind| kind.rolls > 0).collect();
    for (name, kind) in tape_sheet_names(cut.iter().map(|kind| kind.kind.as_str())).into_iter().zip(cut) {
        outputs.add(name, tape_sheet(job, plan, kind));
    }
}

/// Names sheets of an earlier lay that lie beside the new ones and would be taken for them.
fn leftovers(folder: &Path, outputs: &Outputs) {
    let Ok(entries) = folder.read_dir() else { return };
    let names = entries.flatten().filter_map(|entry| entry.file_name().into_string().ok());
    let kinds = [
        ("lay-", ".svg"),
        ("map-", ".svg"),
        ("part-", ".svg"),
        ("tapes-", ".svg"),
        ("mark-out-", ".pdf"),
        ("mark-out-", ".csv"),
    ];
    let sheet = |name: &String| kinds.iter().any(|(start, end)| name.starts_with(start) && name.ends_with(end));
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
    if interrupt::asked() {
        return Exit::Interrupted;
    }
    if worked.file.unplaced.is_empty() { Exit::Done } else { Exit::NoValidLay }
}

fn print(job: &Job, worked: &WorkedLay, folder: &Path, outputs: &Outputs) -> io::Result<()> {
    let mut out = io::stdout().lock();
    summary::print(&mut out, job, worked)?;
    take_off::print(&mut out, job, &worked.file.take_off)?;
    writeln!(out)?;
    for name in outputs.names() {
        writeln!(out, "wrote {}", folder.join(name).display())?;
    }
    writeln!(out, "{}", plan::PLANNING_AID)?;
    out.flush()
}
