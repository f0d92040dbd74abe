//! A line that may become a seam.

use geo_types::{Coord, coord};

use crate::covering::rules::{RuleBook, RuleUsed, lap_over};
use crate::covering::seam::{Seam, SeamKind};
use crate::covering::split::{Cutter, length_inside};
use crate::job::{Member, RuleFigure, Surface, Words};
use crate::shape::Outline;

/// A straight line with the figures of a seam on it.
#[derive(Clone, Debug)]
pub(super) struct Line {
    pub kind: SeamKind,
    pub at: Coord<f64>,
    pub along: Coord<f64>,
    /// The lap or the margin, and the tape.
    pub figures: [RuleUsed; 2],
}

impl Line {
    /// The line of a member that carries a lap from edge to edge of a finished outline; why it does not otherwise.
    pub fn lapped(member: &Member, finished: &Outline, book: RuleBook, surface: Surface) -> Result<Self, String> {
        let location = lap_over(book.method(), surface, member.class).map_err(|not| not.to_string())?;
        let lap = book.figure(RuleFigure::Lap, location).map_err(|none| none.to_string())?;
        let tape = book.figure(RuleFigure::Tape, location).map_err(|none| none.to_string())?;
        let class = member.class.word();
        if member.width.is_none_or(|width| width < lap.used) {
            return Err(format!("the {class} is not known to be as wide as the lap (AC 2-8 NOTE)"));
        }
        let [from, to] = [member.from, member.to].map(|[x, y]| coord! { x: x, y: y });
        let line = Self { kind: SeamKind::Lapped(member.class), at: from, along: to - from, figures: [lap, tape] };
        if line.bare(from, to, finished) > line.overlap() {
            return Err(format!("the {class} does not reach from edge to edge under the seam (AC 2-8 NOTE)"));
        }
        Ok(line)
    }

    /// How far the line runs on inside an outline past either end of its member, where no structure lies under it.
    fn bare(&self, from: Coord<f64>, to: Coord<f64>, outline: &Outline) -> f64 {
        let cutter = self.cutter();
        let Some(ends) = cutter.ends(outline) else { return 0.0 };
        let [enters, leaves] = ends.map(|end| cutter.forward(end));
        (cutter.forward(from) - enters).max(leaves - cutter.forward(to))
    }

    /// Cloth over cloth: a lap, or the margins of both sides.
    pub fn overlap(&self) -> f64 {
        match self.kind {
            SeamKind::Lapped(_) => self.figures[0].used,
            SeamKind::Sewn => 2.0 * self.figures[0].used,
        }
    }

    pub fn is_sewn(&self) -> bool {
        self.kind == SeamKind::Sewn
    }

    pub fn cutter(&self) -> Cutter {
        Cutter::new(self.at, self.along)
    }

    /// Length of the seam on a cut outline; endless where the line does not part it in two.
    pub fn length(&self, cut: &Outline) -> f64 {
        length_inside(&self.cutter(), cut)
    }

    /// The same line where nothing laps.
    pub fn without_overlap(&self) -> Self {
        let mut bare = self.clone();
        bare.figures[0].used = 0.0;
        bare
    }

    pub fn seam(&self, cut: &Outline) -> Option<Seam> {
        let ends = self.cutter().ends(cut)?;
        let source = format!("{}; tape {}", self.figures[0].source, self.figures[1].source);
        Some(Seam { kind: self.kind, ends, overlap: self.overlap(), tape: self.figures[1].used, source })
    }
}

/// The strips that some seams leave; `None` where one of them does not part the outline in two.
pub(super) fn strips_of(cut: &Outline, lines: &[Line]) -> Option<Vec<Outline>> {
    let mut strips = vec![cut.clone()];
    for line in lines {
        let mut divided = Vec::new();
        let mut parted = false;
        for strip in strips {
            match line.cutter().halves(&strip, line.overlap()) {
                Some(halves) => {
                    parted = true;
                    divided.extend(halves);
                }
                None => divided.push(strip),
            }
        }
        if !parted {
            return None;
        }
        strips = divided;
    }
    Some(strips)
}
