//! Handling cut back: cloth to hold on to is no reason for a seam.

use geo_types::{Coord, coord};

use super::ways::ToDivide;
use crate::covering::panel::{Figure, Panel};
use crate::covering::split::Cutter;
use crate::job::GrainDirection;
use crate::shape::{Outline, TOLERANCE};

/// Least handling that is left on a side, in millimetres, before a seam is the better choice. Common practice, no source.
const LEAST: f64 = 10.0;

impl ToDivide<'_> {
    /// The panel with less handling across the roll, where what stays on the aircraft fits a cloth and only the handling
    /// does not; `None` where that is not so.
    pub fn with_less_handling(&self) -> Option<Panel> {
        let may_be = |direction: &GrainDirection| matches!(direction, GrainDirection::Along | GrainDirection::Across);
        let directions = self.directions(&[]).into_iter().filter(may_be);
        let narrower = |direction| within(self.panel, direction, self.room()).map(|panel| (panel, direction));
        let mut fitting =
            directions.filter_map(narrower).filter(|(panel, direction)| self.fits(&panel.cut, *direction));
        fitting.next().map(|(panel, _)| panel)
    }
}

/// The panel no wider than `room` where the roll runs that way.
fn within(panel: &Panel, direction: GrainDirection, room: f64) -> Option<Panel> {
    let across = |outline: &Outline| {
        let bounds = outline.bounds();
        let (low, high) = (bounds.min(), bounds.max());
        if direction == GrainDirection::Along { [low.y, high.y] } else { [low.x, high.x] }
    };
    let ([cut_low, cut_high], [low, high]) = (across(&panel.cut), across(&panel.trimmed));
    let spare = room - (high - low);
    let had = [low - cut_low, cut_high - high];
    let below = had[0].min((spare / 2.0).max(spare - had[1]));
    let left = [below, had[1].min(spare - below)];
    if left.iter().zip(had).any(|(left, had)| *left < had.min(LEAST)) {
        return None;
    }
    let cut = clipped(&panel.cut, direction, [low - left[0], high + left[1]])?;
    let mut panel = panel.clone();
    panel.plan.grain.direction = direction;
    panel.plan.figures.push(Figure {
        what: "handling cut back, so that the cloth is wide enough without a seam: least that is left".to_owned(),
        value: left[0].min(left[1]),
        source: "what is trimmed off needs no seam: common practice, no source".to_owned(),
    });
    panel.strips[0].cut = cut.clone();
    panel.cut = cut;
    Some(panel)
}

/// An outline between two lines along the roll.
fn clipped(outline: &Outline, direction: GrainDirection, [low, high]: [f64; 2]) -> Option<Outline> {
    let bounds = outline.bounds();
    let (start, along) = match direction {
        GrainDirection::Along => ([bounds.min().y, bounds.max().y], coord! { x: 1.0, y: 0.0 }),
        _ => ([bounds.min().x, bounds.max().x], coord! { x: 0.0, y: -1.0 }),
    };
    let at = |place: f64| match direction {
        GrainDirection::Along => Coord { x: 0.0, y: place },
        _ => Coord { x: place, y: 0.0 },
    };
    let mut outline = outline.clone();
    if low > start[0] + TOLERANCE {
        outline = Cutter::new(at(low), along).left_of(&outline)?;
    }
    if high < start[1] - TOLERANCE {
        outline = Cutter::new(at(high), -along).left_of(&outline)?;
    }
    Some(outline)
}
