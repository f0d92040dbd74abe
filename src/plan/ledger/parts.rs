//! The pieces of a job, each with the part that it is counted under.

use crate::covering::Covering;
use crate::job::{Job, Piece};
use crate::plan::{is_tape_strip, pieces_with};

/// What pieces are counted under that the job gives.
pub const GIVEN: &str = "pieces as given";
/// What patches and doilies are counted under: one kind may go onto several parts.
pub const SMALL: &str = "patches and doilies";
/// What strips of cloth are counted under that finishing tape is cut from.
pub const STRIPS: &str = "tape strips";
/// What is counted under no part alone.
pub const WHOLE: &str = "whole job";

/// A piece of the job with the part that it is counted under.
#[derive(Clone, Debug, PartialEq)]
pub struct CountedPiece {
    /// The piece.
    pub piece: Piece,
    /// The part.
    pub part: String,
}

/// The pieces to cut with their parts, in the order of their numbers.
pub fn counted_pieces(job: &Job, covering: &Covering) -> Vec<CountedPiece> {
    let panels = covering.parts.iter().flat_map(|part| &part.panels).flat_map(|panel| {
        let pieces = panel.pieces(job.units).into_iter();
        pieces.map(|piece| (piece.name, panel.plan.part.clone()))
    });
    let repairs = covering.repairs.iter().filter_map(|repair| {
        let patch = repair.patch.as_ref()?;
        Some((patch.name.clone(), repair.name.clone()))
    });
    let given = job.pieces.iter().map(|piece| (piece.name.clone(), GIVEN.to_owned()));
    let parts: std::collections::BTreeMap<String, String> = given.chain(panels).chain(repairs).collect();
    let counted = |piece: Piece| {
        let small = if is_tape_strip(&piece) { STRIPS } else { SMALL };
        let part = parts.get(&piece.name).cloned().unwrap_or_else(|| small.to_owned());
        CountedPiece { piece, part }
    };
    pieces_with(job, covering).into_iter().map(counted).collect()
}

/// Every part that hours and notes may name: those of the job first.
pub fn part_names(job: &Job, covering: &Covering) -> Vec<String> {
    let parts = job.airframe.iter().map(|part| part.name.clone());
    let repairs = job.repairs.iter().map(|repair| repair.name.clone());
    let mut names: Vec<String> = parts.chain(repairs).collect();
    if !job.pieces.is_empty() {
        names.push(GIVEN.to_owned());
    }
    if !covering.dressing.is_empty() {
        names.push(SMALL.to_owned());
    }
    if job.cuts_tape_from_cloth() {
        names.push(STRIPS.to_owned());
    }
    names.push(WHOLE.to_owned());
    names
}
