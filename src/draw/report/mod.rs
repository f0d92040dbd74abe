//! The report: everything that a job came to as one page that works without a network and prints well.
//!
//! What is on the page is worked out here as plain words and figures ([`page::Page`]); how it looks is for the templates and
//! the style sheet beside this file. Nothing on the page depends on the clock: the same lay gives the same bytes.

mod cautions;
mod cloth_drawing;
mod comparison;
mod cut_order;
mod digest;
mod face_drawing;
mod front;
mod heat;
mod lays;
mod maps;
mod page;
mod rules;
mod shopping;
mod table;
mod tapes;
mod templates_index;

use askama::Template as _;

use super::paper::PrintSheet;
use crate::covering::Covering;
use crate::job::{Job, Piece};
use crate::plan::{ClothAccount, Comparison, LayFile};
use page::Page;

/// What is reported.
#[derive(Clone, Copy, Debug)]
pub struct Report<'a> {
    /// The job; of a lay of the rest, with the cloths that are left.
    pub job: &'a Job,
    /// What covers the airframe.
    pub covering: &'a Covering,
    /// Every piece of the job.
    pub pieces: &'a [Piece],
    /// The lay.
    pub lay: &'a LayFile,
    /// One account for each cloth of the lay, in the same order.
    pub accounts: &'a [ClothAccount],
    /// The paper that templates are printed on.
    pub paper: &'a PrintSheet,
    /// A comparison that was made before, if there is any.
    pub compared: &'a KnownComparison,
}

/// What there is of a comparison.
#[derive(Clone, Debug, Default, PartialEq)]
pub enum KnownComparison {
    /// None was made.
    #[default]
    Not,
    /// One that was made for a job of this name.
    Found(Box<Comparison>),
    /// One that cannot be shown, and why.
    NotShown(String),
}

/// Writes the report as one HTML file.
///
/// # Errors
/// Only what the template engine reports, which memory alone can cause.
pub fn report_html(report: &Report) -> askama::Result<String> {
    Page::of(report).render()
}
