//! The pieces to cut, wherever they come from, and the table that shows them.

use serde::Serialize;

use crate::covering::{Covering, cover};
use crate::job::{Job, Piece};

use super::{PlanFault, edge_words, grain_words, tape_pieces};

/// Every piece to cut: those that the job gives, in its order, then the panels of its airframe and what goes onto them,
/// then strips for tape that is cut from cloth.
///
/// # Errors
/// [`PlanFault::Covering`] where the airframe cannot be covered.
pub fn pieces_to_cut(job: &Job) -> Result<Vec<Piece>, PlanFault> {
    Ok(pieces_with(job, &cover(job)?))
}

/// As [`pieces_to_cut`], for a covering that is already worked out.
pub fn pieces_with(job: &Job, covering: &Covering) -> Vec<Piece> {
    let given = job.pieces.iter().cloned();
    given.chain(covering.pieces(job)).chain(tape_pieces(job, covering)).collect()
}

/// A line of the table of pieces. Lengths in millimetres, areas in square millimetres.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct PieceRow {
    /// Its number, from 1: the same in lays, cut lists, maps and templates.
    pub number: usize,
    /// Name of the piece.
    pub piece: String,
    /// How many copies.
    pub quantity: u32,
    /// Extent of the cut outline along and across its own x axis.
    pub size: [f64; 2],
    /// Area of one copy, holes left out.
    pub area: f64,
    /// Which way the warp must run, in words.
    pub grain: String,
    /// How the edge is cut, in words.
    pub edge: String,
    /// Whether it may be laid face down.
    pub flip: bool,
    /// Cloths that it may be cut from; empty for all.
    pub cloth: Vec<String>,
    /// Where it goes.
    pub goes: Option<String>,
    /// Where its figures come from.
    pub source: Option<String>,
}

/// The table of pieces to cut, one line a piece, in their order.
pub fn piece_table(job: &Job, pieces: Vec<Piece>) -> Vec<PieceRow> {
    let row = |(index, piece): (usize, Piece)| PieceRow {
        number: index + 1,
        quantity: piece.quantity,
        size: piece.size,
        area: piece.cut.area(),
        grain: grain_words(piece.grain),
        edge: edge_words(piece.edge, job.units),
        flip: piece.flip,
        piece: piece.name,
        cloth: piece.cloth,
        goes: piece.goes,
        source: piece.source,
    };
    pieces.into_iter().enumerate().map(row).collect()
}
