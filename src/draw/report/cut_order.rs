//! The cut list of each cloth in the order of cutting. Its lines are what the drawings and the search of the page speak of.

use super::Report;
use super::table::align;
use crate::draw::piece_marks::{full_name, key_number};
use crate::job::Piece;
use crate::plan::{LaidCloth, LaidPiece, cutting_order, edge_words, grain_words, size};
use crate::units::trimmed;

/// The cut list of a cloth.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct CutTable {
    /// The cloth.
    pub cloth: String,
    /// Which cloth of the lay, from 1.
    pub number: usize,
    /// The unit of lengths.
    pub unit: &'static str,
    /// Its lines.
    pub lines: Vec<CutLine>,
}

/// A copy of a piece.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct CutLine {
    /// Its place in the order of cutting, from 1.
    pub step: usize,
    /// Its number, as on the drawings.
    pub number: String,
    /// Its name, with the copy where there are several.
    pub name: String,
    pub size: String,
    /// From the cloth's end and from its lower edge, to the nearest points of the piece.
    pub along: String,
    pub across: String,
    pub edge: String,
    pub grain: String,
    pub turned: String,
    pub goes: String,
}

/// The cut lists of a lay.
pub(super) fn cut_tables(report: &Report) -> Vec<CutTable> {
    let names = cloth_names(report);
    let table = |(index, laid): (usize, &LaidCloth)| {
        let mut lines: Vec<CutLine> =
            cutting_order(laid).into_iter().enumerate().filter_map(|(step, at)| line(report, laid, step, at)).collect();
        align(lines.iter_mut().map(|line| &mut line.along).collect());
        align(lines.iter_mut().map(|line| &mut line.across).collect());
        CutTable { cloth: names[index].clone(), number: index + 1, unit: report.job.units.symbol(), lines }
    };
    report.lay.cloths.iter().enumerate().map(table).collect()
}

/// The name of each cloth of a lay, with its number where the job has several of that name.
pub(super) fn cloth_names(report: &Report) -> Vec<String> {
    let several = |laid: &LaidCloth| report.job.cloth.iter().any(|cloth| cloth.name == laid.cloth && cloth.count > 1);
    let name = |laid: &LaidCloth| {
        if several(laid) { format!("{}, no. {}", laid.cloth, laid.number) } else { laid.cloth.clone() }
    };
    report.lay.cloths.iter().map(name).collect()
}

fn line(report: &Report, laid: &LaidCloth, step: usize, at: usize) -> Option<CutLine> {
    let laid: &LaidPiece = &laid.pieces[at];
    let index = report.pieces.iter().position(|piece| piece.name == laid.piece)?;
    let piece: &Piece = &report.pieces[index];
    let units = report.job.units;
    let face_down = if laid.flipped { ", face down" } else { "" };
    Some(CutLine {
        step: step + 1,
        number: key_number(index + 1, piece, laid.copy),
        name: full_name(piece, laid.copy),
        size: size(piece.size, units),
        along: units.show_number(laid.span(0)[0]),
        across: units.show_number(laid.span(1)[0]),
        edge: edge_words(piece.edge, units),
        grain: grain_words(piece.grain),
        turned: format!("{}°{face_down}", trimmed(laid.turn, 2)),
        goes: piece.goes.clone().unwrap_or_default(),
    })
}
