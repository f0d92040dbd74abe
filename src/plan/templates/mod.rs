//! What is drawn on a full-size template, whatever it is drawn on: paper, a file for a plotter, a screen.
//!
//! A [`Template`] is made from each piece to cut. Pieces of one shape share it.

mod choice;
mod marks;
mod panel_lines;
mod piece_lines;
mod shared;
mod template;

use crate::covering::Covering;
use crate::job::Job;
use crate::shape::Pose;

pub use choice::{TemplateChoice, TemplateFault};
pub use marks::{KeptMark, kept_marks};
pub use template::{Bearing, LineKind, Template, TemplateLine, Use};

/// The templates of a job, in the order and with the numbers of its pieces: its own, those of its panels, and what goes onto
/// them. Pieces of one shape share one, with the number of the first.
///
/// With `mirrored`, every template is turned over: what was seen from outside is seen from inside.
///
/// # Errors
/// [`TemplateFault`] where the choice names what is not there, or nothing is left.
pub fn templates(
    job: &Job,
    covering: &Covering,
    choice: &TemplateChoice,
    mirrored: bool,
) -> Result<Vec<Template>, TemplateFault> {
    let mut chosen = shared::shared(choice.choose(each_template(job, covering))?);
    for template in chosen.iter_mut().filter(|_| mirrored) {
        *template = template.carried(&Pose { flipped: true, ..Pose::unmoved() });
    }
    Ok(chosen)
}

/// A template of each piece to cut, in the order and with the numbers of [`super::pieces_with`], also where several have
/// one shape.
pub fn each_template(job: &Job, covering: &Covering) -> Vec<Template> {
    let given = job.pieces.iter().map(|piece| piece_lines::of_piece(piece, job.units));
    let parts = covering.parts.iter();
    let of_panels =
        parts.flat_map(|part| part.panels.iter().flat_map(move |panel| panel_lines::of_panel(part, panel, job.units)));
    let patches = covering.dressing.iter().chain(covering.repairs.iter().filter_map(|repair| repair.patch.as_ref()));
    let patches = patches.map(|piece| piece_lines::of_piece(piece, job.units));
    let mut all: Vec<Template> = given.chain(of_panels).chain(patches).collect();
    for (index, template) in all.iter_mut().enumerate() {
        template.number = index + 1;
    }
    all
}
