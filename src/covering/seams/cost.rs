//! What a way to divide a panel costs, so that ways can be compared.
//!
//! Everything is counted as an area of cloth in square millimetres: what the strips take of the roll, their laps
//! included, the tape over the seams, and the work of sewing as a band of cloth.

use super::line::Line;
use crate::job::{Cloth, GrainDirection};
use crate::shape::{Outline, TOLERANCE};

/// A hand's breadth in millimetres: a narrower strip is hard to keep straight, and a narrower rest of the roll's width is
/// good for little. Common practice, no source.
pub(super) const HAND: f64 = 100.0;

/// Ways whose cloth differs by no more than this share cost nearly the same. Common practice, no source.
const NEARLY: f64 = 0.05;

/// The two rows of stitches of a sewn seam, as a band of cloth this wide in millimetres: sewing is dearer than the thread.
/// Common practice, no source.
const SEWING: f64 = 50.0;

/// A way to divide a panel.
pub(super) struct Way {
    pub lines: Vec<Line>,
    pub strips: Vec<Outline>,
    /// Which way the x axis of every strip lies on the roll.
    pub direction: GrainDirection,
}

impl Way {
    /// What the way costs; a strip narrower than a hand makes it dearer by what counts as nearly the same.
    pub fn cost(&self, cut: &Outline, cloths: &[&Cloth]) -> f64 {
        let seams: f64 = self.lines.iter().map(|line| line.length(cut) * band(line)).sum();
        let sliver = if self.narrowest() < HAND { 1.0 + NEARLY } else { 1.0 };
        (self.taken(cloths) + seams) * sliver
    }

    /// Width of the narrowest strip, across the seams.
    fn narrowest(&self) -> f64 {
        let across = |strip: &Outline| {
            let widths = self.lines.iter().map(|line| line.cutter().extent_across(strip));
            widths.fold(f64::INFINITY, f64::min)
        };
        self.strips.iter().map(across).fold(f64::INFINITY, f64::min)
    }

    /// What the strips take of the roll.
    fn taken(&self, cloths: &[&Cloth]) -> f64 {
        let all = |along: usize| -> f64 { self.strips.iter().map(|strip| taken_by(strip, along, cloths)).sum() };
        match self.direction {
            GrainDirection::Along => all(0),
            GrainDirection::Across => all(1),
            GrainDirection::Either | GrainDirection::Bias | GrainDirection::Free => all(0).min(all(1)),
        }
    }
}

/// Width of the cloth that a seam costs beside what the strips take.
fn band(line: &Line) -> f64 {
    let sewing = if line.is_sewn() { SEWING } else { 0.0 };
    line.figures[1].used + sewing
}

/// What a strip takes of the cloth where it takes least, with its axis `along` along the cloth: its own width, and with
/// it the rest of the cloth's width where that is too narrow to be of use. Endless where no cloth is wide enough.
fn taken_by(strip: &Outline, along: usize, cloths: &[&Cloth]) -> f64 {
    let bounds = strip.bounds();
    let extent = [bounds.width(), bounds.height()];
    let (length, width) = (extent[along], extent[1 - along]);
    let on = |cloth: &&Cloth| {
        let [lower, upper] = cloth.usable();
        let rest = upper - lower - width;
        let taken = if rest < HAND { upper - lower } else { width };
        (rest >= -TOLERANCE).then_some(length * taken)
    };
    cloths.iter().filter_map(on).fold(f64::INFINITY, f64::min)
}
