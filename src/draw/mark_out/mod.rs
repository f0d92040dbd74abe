//! The mark-out of a cloth as pages to take to the table: the order of cutting, what lies on the table, and each large
//! piece with its figures and a drawing of it.
//!
//! Nothing on these pages is true to size: it is the figures that are drawn on the cloth.

mod arrow;
mod flow;
mod frame;
mod ground;
mod numbers;
mod order_page;
mod piece_drawing;
mod piece_page;
mod rows;
mod view;
mod window_page;

use std::collections::BTreeMap;

use rayon::iter::{IntoParallelIterator, ParallelIterator};

use crate::draw::paper::PrintSheet;
use crate::draw::pdf::{Document, Page};
use crate::draw::piece_marks::{full_name, key_number};
use crate::job::{Job, Piece};
use crate::plan::{Bearing, LaidCloth, LaidPiece, MarkOutWish, MarkedCloth, Template};
use crate::shape::Pose;
use crate::units::Units;

use flow::{Flow, feet};

/// The layers of the file.
const LAYERS: [&str; 2] = ["drawing", "text"];

/// The layers by what they hold.
mod layer {
    /// Cloth, outlines, marks.
    pub const DRAWING: usize = 0;
    /// Everything that is written.
    pub const TEXT: usize = 1;
}

/// What is drawn.
#[derive(Clone, Copy, Debug)]
pub struct MarkOutSheets<'m> {
    /// The job.
    pub job: &'m Job,
    /// Every piece to cut.
    pub pieces: &'m [Piece],
    /// A template of each, in the same order.
    pub templates: &'m [Template],
    /// The cloth.
    pub laid: &'m LaidCloth,
    /// Its mark-out.
    pub marked: &'m MarkedCloth,
    /// How it was wished for.
    pub wish: &'m MarkOutWish,
    /// What is printed on.
    pub sheet: &'m PrintSheet,
}

/// Pages of the parts that follow the order of cutting, by the numbers that the order refers to.
struct Places {
    /// The first page of each marked piece, by its place in the order of cutting.
    pieces: BTreeMap<usize, usize>,
    /// Page of each window.
    windows: Vec<usize>,
}

/// Draws the mark-out of a cloth.
pub fn mark_out_pdf(sheets: &MarkOutSheets) -> Vec<u8> {
    let windows: Vec<Vec<Page>> =
        (0..sheets.marked.windows.len()).into_par_iter().map(|window| window_page::pages(sheets, window)).collect();
    let large: Vec<usize> =
        (0..sheets.marked.steps.len()).filter(|step| sheets.marked.steps[*step].marks.is_some()).collect();
    let (pieces, first_pages) = piece_page::pages(sheets, &large);

    let places = |before: usize| {
        let mut next = before + 1;
        let mut first = |pages: &Vec<Page>| {
            next += pages.len();
            next - pages.len()
        };
        let windows = windows.iter().map(&mut first).collect();
        let pieces = large.iter().copied().zip(first_pages.iter().map(|page| next + page)).collect();
        Places { windows, pieces }
    };
    // How many pages the order takes is known when it is laid out; the others move behind them.
    let mut order = order_page::pages(sheets, &places(1));
    while order.len() != 1 {
        let again = order_page::pages(sheets, &places(order.len()));
        let settled = again.len() == order.len();
        order = again;
        if settled {
            break;
        }
    }
    let mut all: Vec<Page> = order.into_iter().chain(windows.into_iter().flatten()).collect();
    all.extend(pieces);
    feet(&mut all, sheets);
    let title = format!("{}: mark-out of {}", sheets.job.name, sheets.cloth_words());
    let mut document = Document::new(&title, &LAYERS);
    all.into_iter().for_each(|page| document.add(page));
    document.finish()
}

impl<'m> MarkOutSheets<'m> {
    /// The unit of the figures.
    fn units(&self) -> Units {
        self.wish.rounding.shown_in(self.job.units)
    }

    /// A length as it is rounded, with its unit.
    fn show(&self, length: f64) -> String {
        self.units().show(self.wish.rounding.round(length))
    }

    /// The same without its unit.
    fn number(&self, length: f64) -> String {
        self.units().show_number(self.wish.rounding.round(length))
    }

    /// `cloth “roll”`, `cloth “roll”, the 2nd`.
    fn cloth_words(&self) -> String {
        match self.laid.number {
            1 => format!("cloth “{}”", self.laid.cloth),
            number => format!("cloth “{}”, number {number}", self.laid.cloth),
        }
    }

    /// The laid piece of a step of the order of cutting.
    fn laid_at(&self, step: usize) -> &'m LaidPiece {
        &self.laid.pieces[self.marked.steps[step].piece]
    }

    /// Its place among the pieces to cut; that of the first one for a name that the job does not have, which the independent
    /// check refuses.
    fn piece_at(&self, step: usize) -> usize {
        let name = &self.laid_at(step).piece;
        self.pieces.iter().position(|piece| piece.name == *name).unwrap_or(0)
    }

    /// Its number, as on the lay, in the cut list and on templates.
    fn key(&self, step: usize) -> String {
        let piece = self.piece_at(step);
        key_number(piece + 1, &self.pieces[piece], self.laid_at(step).copy)
    }

    /// Its name, with the number of the copy where there are several.
    fn name(&self, step: usize) -> String {
        full_name(&self.pieces[self.piece_at(step)], self.laid_at(step).copy)
    }

    /// Which way forward, up and the like are of the piece as it lies on the cloth: degrees, and the word.
    fn ways(&self, step: usize) -> Vec<(f64, &'static str)> {
        let laid = self.laid_at(step);
        let pose = Pose { turn: laid.turn, flipped: laid.flipped, ..Pose::unmoved() };
        let bearings = self.templates.get(self.piece_at(step)).map(|template| &template.bearings);
        let way = |bearing: &Bearing| (bearing.carried(&pose).degrees, bearing.towards);
        bearings.into_iter().flatten().map(way).collect()
    }

    /// An empty flow of pages under a heading.
    fn flow(&self, heading: &str) -> Flow {
        let mut flow = Flow::new(self.sheet);
        flow.begin(heading);
        flow
    }
}
