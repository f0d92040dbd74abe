//! What the log says that the job does not: told piece by piece, and never dropped.

use std::collections::BTreeSet;

use super::{CountedPiece, Stage, Standing, stock};
use crate::covering::Covering;
use crate::job::{Job, nearest};
use crate::plan::size;
use crate::wording::counted;

use super::parts::part_names;

/// Sizes that differ by less are the same: what a pencil line is wide.
const SAME_SIZE: f64 = 0.5;

/// Everything in the log that does not fit the job, a sentence each.
pub fn misfits(job: &Job, covering: &Covering, pieces: &[CountedPiece], standing: &Standing) -> Vec<String> {
    let mut misfits = Vec::new();
    for name in standing.pieces.keys() {
        match pieces.iter().find(|counted| counted.piece.name == *name) {
            None => misfits.push(piece_gone(name, pieces, standing)),
            Some(counted) => misfits.extend(changed(job, counted, standing)),
        }
    }
    misfits.extend(cloths_gone(job, standing));
    misfits.extend(parts_gone(&part_names(job, covering), standing));
    misfits
}

fn piece_gone(name: &str, pieces: &[CountedPiece], standing: &Standing) -> String {
    let stages = [Stage::Cut, Stage::Glued, Stage::Finished];
    let done: Vec<String> = stages
        .iter()
        .map(|stage| (stage, standing.pieces[name].values().filter(|copy| copy.stage == *stage).count()))
        .filter(|(_, copies)| *copies > 0)
        .map(|(stage, copies)| format!("{copies} {stage}"))
        .collect();
    let done = if done.is_empty() { "all spoiled".to_owned() } else { done.join(", ") };
    // A piece that the log knows as well cannot be the one that was renamed.
    let free = pieces.iter().map(|counted| counted.piece.name.as_str());
    let free = free.filter(|known| !standing.pieces.contains_key(*known));
    let way_out = match nearest(name, free) {
        Some(near) => format!("if it is “{near}” now, say so: renamed \"{name}\" \"{near}\""),
        None => format!("if it has another name now, say so: renamed \"{name}\" NEW"),
    };
    format!("“{name}” ({done}) is not in the job any more and is counted nowhere; {way_out}")
}

fn changed(job: &Job, counted_piece: &CountedPiece, standing: &Standing) -> Vec<String> {
    let piece = &counted_piece.piece;
    let mut told = Vec::new();
    let copies = &standing.pieces[&piece.name];
    let there = || copies.iter().filter(|(_, copy)| copy.stage > Stage::ToCut);
    let beyond = there().filter(|(number, _)| **number > piece.quantity).count();
    if beyond > 0 {
        let quantity = counted(piece.quantity, "copy", "copies");
        told.push(format!("“{}”: {beyond} more cut than the {quantity} that the job asks for", piece.name));
    }
    let differs = |cut: [f64; 2]| (0..2).any(|axis| (cut[axis] - piece.size[axis]).abs() > SAME_SIZE);
    for (number, copy) in there().filter(|(_, copy)| differs(copy.size)) {
        told.push(format!(
            "“{}”, copy {number} was cut to {}, and the job asks for {} now: hold it against the airframe; if it is of no \
             use, log it as spoiled",
            piece.name,
            size(copy.size, job.units),
            size(piece.size, job.units)
        ));
    }
    told
}

fn cloths_gone(job: &Job, standing: &Standing) -> Vec<String> {
    let known: BTreeSet<String> = stock(job, standing).into_iter().map(|cloth| cloth.name).collect();
    let cut = standing.cuts.iter().filter_map(|cut| cut.cloth.as_ref());
    let bought = standing.bought.iter().filter(|(of, _)| !job.cloth.iter().any(|cloth| cloth.name == **of));
    let bought = bought.flat_map(|(_, lengths)| lengths.iter().map(|(name, _)| name));
    let found = standing.found.iter().map(|found| &found.name);
    let named: BTreeSet<&String> = cut.chain(bought).chain(found).filter(|name| !known.contains(*name)).collect();
    let told = |name: &String| {
        let cuts = standing.cuts.iter().filter(|cut| cut.cloth.as_ref() == Some(name)).count();
        let cuts = counted(cuts, "piece was cut", "pieces were cut");
        match standing.never_bought.get(name) {
            Some(line) => format!(
                "the purchase of “{name}”, from which {cuts}, was undone (line {line}); nothing more is laid on it until it is \
                 entered again with `bought`"
            ),
            None => {
                format!("the cloth “{name}”, from which {cuts}, is not in the job any more; nothing more is laid on it")
            }
        }
    };
    named.into_iter().map(told).collect()
}

fn parts_gone(known: &[String], standing: &Standing) -> Vec<String> {
    let hours = standing.hours.keys().map(|(part, _)| part);
    let gone: BTreeSet<&String> = hours.filter(|part| !known.contains(part)).collect();
    let told = |part: &String| {
        let hours: f64 = standing.hours.iter().filter(|((of, _), _)| of == part).map(|(_, hours)| hours).sum();
        let near = nearest(part, known.iter().map(String::as_str)).unwrap_or("NEW");
        format!(
            "the part “{part}” ({hours:.1} h) is not in the job any more; its hours still count; if it has another name \
             now, say so: renamed \"{part}\" \"{near}\""
        )
    };
    gone.into_iter().map(told).collect()
}
