//! `clothwright lay JOB --rest`: what the log leaves, laid anew.

use std::io::{self, Write};
use std::path::Path;

use crate::covering::{Covering, cover};
use crate::job::{self, Job, Reach};
use crate::plan::ledger::{Log, LogFile, Rest, Standing, counted_pieces, fold, log_path, misfits, rest};
use crate::plan::{
    Change, Kept, LayFile, PlanFault, RestLay, RestWish, WorkedLay, area, is_worth_it, kept_lay, kept_of, lay_rest,
    pieces_with, to_buy,
};
use crate::verify::{Fault, Finding, Named, verify_rest};
use crate::wording::counted;

use super::exit::{Exit, Stop};
use super::lay::{finish, foresee, sound, watched};
use super::messages;
use super::settings::{LaySettings, job_path_from};
use super::written_lay::read_lay;

/// What is left of a job, as its log has it.
pub(super) struct Left {
    pub job: Job,
    pub covering: Covering,
    pub log: Log,
    pub standing: Standing,
    pub rest: Rest,
    pub misfits: Vec<String>,
}

impl Left {
    /// Reads the log beside a job, all of it or so many lines.
    pub fn of(job_file: &Path, job: Job, lines: Option<usize>) -> Result<Self, Stop> {
        let covering = cover(&job).map_err(PlanFault::from)?;
        let pieces = counted_pieces(&job, &covering);
        let path = log_path(job_file);
        let mut log = LogFile::read(&path)?;
        if let Some(lines) = lines {
            if log.lines < lines {
                let message = format!(
                    "the lay was made when the log {} had {}, and it has {} now: this is another log",
                    path.display(),
                    counted(lines, "line", "lines"),
                    log.lines
                );
                return Err(Stop::fault(Exit::CommandWrong, message));
            }
            log.entries.retain(|entry| entry.line <= lines);
        }
        let standing = fold(&log.entries);
        let rest = rest(&job, &pieces, &standing).map_err(|fault| Stop::fault(Exit::CommandWrong, fault))?;
        let misfits = misfits(&job, &covering, &pieces, &standing);
        Ok(Self { job, covering, log, standing, rest, misfits })
    }
}

/// Lays what is left.
pub(super) fn run(settings: &LaySettings, reach: Reach) -> Result<Exit, Stop> {
    let job = job::read_reaching(&settings.job, reach)?.job;
    let left = Left::of(&settings.job, job, None)?;
    messages::set_aside(&left.log);
    messages::cautions(&left.misfits);
    let pieces: usize = left.rest.copies.values().map(Vec::len).sum();
    if pieces == 0 {
        messages::say("nothing is left to cut: every piece of the job is there");
        return Ok(Exit::Done);
    }
    foresee(settings, &left.rest.job)?;
    enough_at_first_sight(&left, pieces);
    let earlier = earlier_lay(settings, &left)?;
    let job_path = job_path_from(&settings.out, &settings.job);
    let wish = RestWish { job_path: &job_path, lines: left.log.lines, budget: &settings.budget };
    let kept = earlier.as_ref().map_or_else(Kept::new, |earlier| may_stay(earlier, &left, &wish));
    let found = search(settings, &left, &kept, earlier.as_ref(), &wish)?;
    messages::cautions(&found.file.cautions);
    sound(&verify_rest(&found.file, &left.rest, &left.standing))?;
    changed(&found, earlier.is_some())?;
    shopping(&found, &left);
    let worked = WorkedLay {
        pieces: pieces_with(&left.job, &left.covering),
        covering: left.covering,
        file: found.file,
        accounts: found.accounts,
        ending: found.ending,
    };
    // A length that is not bought and not needed is nobody's business.
    let laid = |name: &String| worked.file.cloths.iter().any(|laid| laid.cloth == *name);
    let mut job = left.rest.job;
    job.cloth.retain(|cloth| !left.rest.to_buy.contains(&cloth.name) || laid(&cloth.name));
    finish(settings, &job, &worked)
}

/// Says before the search what areas alone say: cloth without room for the pieces has no room for them however they lie.
fn enough_at_first_sight(left: &Left, pieces: usize) {
    let units = left.job.units;
    let (need, there) = (left.rest.area_to_cut(), left.rest.area_there());
    let (need_words, there_words) = (area(need, units), area(there, units));
    let pieces = counted(pieces, "piece", "pieces");
    messages::say(&format!("{pieces} still to cut, {need_words}; cloth that is there: {there_words}"));
    if need > there && there > 0.0 {
        messages::caution("the cloth that is there is not enough, however the pieces are laid: more must be bought");
    }
}

fn earlier_lay(settings: &LaySettings, left: &Left) -> Result<Option<LayFile>, Stop> {
    let Some(file) = &left.standing.lay else {
        messages::say("the log names no lay in use, so every piece is laid anew (log JOB lay FILE names one)");
        return Ok(None);
    };
    read_lay(&settings.job.parent().unwrap_or(Path::new("")).join(file)).map(Some)
}

/// The pieces of the earlier lay that the check has nothing against where they are.
fn may_stay(earlier: &LayFile, left: &Left, wish: &RestWish) -> Kept {
    let mut kept = kept_of(earlier, &left.rest);
    loop {
        let findings = verify_rest(&kept_lay(&left.rest, &kept, wish), &left.rest, &left.standing);
        let before: usize = kept.values().map(Vec::len).sum();
        for laid in kept.values_mut() {
            laid.retain(|laid| !findings.iter().any(|finding| is_about(finding, &laid.piece, laid.copy)));
        }
        if kept.values().map(Vec::len).sum::<usize>() == before {
            return kept;
        }
    }
}

/// Whether something is wrong with where a copy lies; of two that are in each other's way, both move.
fn is_about(finding: &Finding, piece: &str, copy: u32) -> bool {
    let is = |named: &Named| named.name == piece && named.number == copy;
    match &finding.fault {
        Fault::Overlap { one, other, .. } | Fault::GapNotKept { one, other, .. } => is(one) || is(other),
        fault => fault.piece().is_some_and(is),
    }
}

fn search(
    settings: &LaySettings,
    left: &Left,
    kept: &Kept,
    earlier: Option<&LayFile>,
    wish: &RestWish,
) -> Result<RestLay, Stop> {
    watched(settings, left.job.units, |watch| {
        let few = lay_rest(&left.rest, kept, earlier, wish, watch)?;
        let stays = kept.values().any(|laid| !laid.is_empty());
        let lacks = !few.file.unplaced.is_empty() || to_buy(&few, &left.rest) > 0.0;
        if !stays || !lacks {
            return Ok(few);
        }
        // Something has no place, or more must be bought: see whether moving everything helps.
        let all = lay_rest(&left.rest, &Kept::new(), earlier, wish, watch)?;
        Ok(if is_worth_it(&all, &few, &left.rest) { all } else { few })
    })
}

/// Prints what lies otherwise than in the earlier lay.
fn changed(found: &RestLay, has_earlier: bool) -> Result<(), Stop> {
    if !has_earlier {
        return Ok(());
    }
    let mut out = io::stdout().lock();
    let moved = counted(found.changes.len(), "piece lies", "pieces lie");
    writeln!(out, "{} as in the lay in use; {moved} otherwise", counted(found.kept, "piece stays", "pieces stay"))?;
    for change in &found.changes {
        writeln!(out, "  {}", change_words(change))?;
    }
    writeln!(out)?;
    out.flush()?;
    Ok(())
}

fn change_words(change: &Change) -> String {
    let piece = format!("“{}”, copy {}", change.piece, change.copy);
    match (&change.from, &change.to) {
        (Some(from), Some(to)) if from == to => format!("{piece}: elsewhere on “{to}”"),
        (Some(from), Some(to)) => format!("{piece}: from “{from}” to “{to}”"),
        (None, Some(to)) => format!("{piece}: new, on “{to}”"),
        (_, None) => format!("{piece}: no place"),
    }
}

/// Says what must be bought, or that nothing must.
fn shopping(found: &RestLay, left: &Left) {
    let units = left.job.units;
    let buy = to_buy(found, &left.rest);
    if buy > 0.0 {
        for (laid, account) in found.file.cloths.iter().zip(&found.accounts) {
            let Some(bought) = account.purchase.length().filter(|_| left.rest.to_buy.contains(&laid.cloth)) else {
                continue;
            };
            let cut = left.standing.cuts.iter().any(|cut| cut.cloth.as_ref() == Some(&laid.cloth));
            let already = if cut {
                "; what was cut from it is in this length, since no purchase of it is in the log"
            } else {
                ""
            };
            messages::say(&format!(
                "still to be bought: “{}”, {}, of which {} is used{already}",
                laid.cloth,
                units.show(bought),
                units.show(laid.length_used)
            ));
        }
    } else if found.file.unplaced.is_empty() {
        messages::say("the cloth that is there is enough");
    }
    if !left.standing.cuts.is_empty() {
        messages::say("waste and density below count what was cut before as cloth without a piece on it");
    }
}
