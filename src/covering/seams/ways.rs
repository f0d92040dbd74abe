//! The ways to divide a panel: along members that carry a lap, or by straight sewn seams along the roll.

use geo_types::coord;

use super::cost::Way;
use super::line::{Line, strips_of};
use crate::covering::panel::Panel;
use crate::covering::rules::{RuleBook, RuleUsed};
use crate::covering::seam::SeamKind;
use crate::job::{Cloth, Grain, GrainDirection, Location, RuleFigure, least_miss};
use crate::shape::{Outline, TOLERANCE};

/// Most lapped seams in one panel: more would be a patchwork that nobody laps.
const MOST_LAPPED: usize = 3;
/// Most strips of one panel.
const MOST_STRIPS: usize = 20;
/// So many places are tried between the one where the first strip is as wide as it can be and the one where the last is.
const PLACES: usize = 5;

/// A panel with all that decides how it may be divided.
pub(super) struct ToDivide<'p> {
    pub panel: &'p Panel,
    pub cloths: &'p [&'p Cloth],
    pub book: RuleBook<'p>,
}

/// Lines that may divide a panel, and which way its x axis then lies on the roll.
type Choice = (Vec<Line>, GrainDirection);

impl ToDivide<'_> {
    /// Laps over members: the fewest, and of those the cheapest.
    pub fn lapped(&self, lines: &[Line]) -> Option<Way> {
        let each_way = |lines: Vec<Line>| self.directions(&lines).into_iter().map(move |way| (lines.clone(), way));
        (1..=MOST_LAPPED)
            .find_map(|seams| self.cheapest(choices(lines, seams).into_iter().flat_map(each_way).collect()))
    }

    /// Straight sewn seams along the roll: the fewest, and of those the cheapest.
    pub fn sewn(&self) -> Option<Way> {
        let figure = |figure| self.book.figure(figure, Location::PanelSeam).ok();
        let figures = [figure(RuleFigure::Margin)?, figure(RuleFigure::Tape)?];
        let room = self.room();
        let directions = self.directions(&[]);
        (2..=MOST_STRIPS).find_map(|strips| {
            let by_direction = |direction: &GrainDirection| -> Vec<Choice> {
                let axis = usize::from(*direction == GrainDirection::Across);
                let lines = sewn_lines(&self.panel.cut, axis, strips, room, &figures);
                lines.into_iter().map(|lines| (lines, *direction)).collect()
            };
            self.cheapest(directions.iter().flat_map(by_direction).collect())
        })
    }

    /// Width that a strip may have across the roll.
    pub fn room(&self) -> f64 {
        let widest = self.cloths.iter().map(|cloth| cloth.usable()[1] - cloth.usable()[0]).fold(0.0, f64::max);
        // A strip as wide as the cloth to the last digit may be too wide by rounding.
        widest - TOLERANCE
    }

    /// Which ways the strips may lie, all of them alike: along the first seam first, where the grain leaves the choice.
    pub fn directions(&self, lines: &[Line]) -> Vec<GrainDirection> {
        let across = lines.first().is_some_and(|line| line.along.x.abs() < line.along.y.abs());
        match (self.panel.plan.grain.direction, across) {
            (GrainDirection::Either, false) => vec![GrainDirection::Along, GrainDirection::Across],
            (GrainDirection::Either, true) => vec![GrainDirection::Across, GrainDirection::Along],
            (only, _) => vec![only],
        }
    }

    pub fn fits(&self, strip: &Outline, direction: GrainDirection) -> bool {
        let grain = Grain { direction, ..self.panel.plan.grain };
        least_miss(strip, &grain, self.cloths).is_none_or(|(_, miss)| miss.by() <= TOLERANCE)
    }

    /// The cheapest of the ways whose strips all fit; of those that cost the same, the first.
    fn cheapest(&self, choices: Vec<Choice>) -> Option<Way> {
        let mut best: Option<(f64, Way)> = None;
        for (lines, direction) in choices {
            let strips = strips_of(&self.panel.cut, &lines);
            let Some(strips) = strips.filter(|strips| strips.iter().all(|strip| self.fits(strip, direction))) else {
                continue;
            };
            let way = Way { lines, strips, direction };
            let cost = way.cost(&self.panel.cut, self.cloths);
            // Costs that differ by rounding are the same, so that the first way wins on every machine.
            if best.as_ref().is_none_or(|(least, _)| cost < least * (1.0 - 1e-9)) {
                best = Some((cost, way));
            }
        }
        best.map(|(_, way)| way)
    }
}

/// Every choice of so many of the lines, in their order.
fn choices(lines: &[Line], count: usize) -> Vec<Vec<Line>> {
    if count == 0 {
        return vec![Vec::new()];
    }
    let with_first = |(index, line): (usize, &Line)| -> Vec<Vec<Line>> {
        let rest = choices(&lines[index + 1..], count - 1);
        rest.into_iter().map(|rest| [vec![line.clone()], rest].concat()).collect()
    };
    lines.iter().enumerate().flat_map(with_first).collect()
}

/// Seams along an axis that make so many strips: of even width first, then as wide as the cloth from either edge, and
/// places between those.
fn sewn_lines(cut: &Outline, axis: usize, strips: usize, room: f64, figures: &[RuleUsed; 2]) -> Vec<Vec<Line>> {
    let bounds = cut.bounds();
    let (low, high) = if axis == 0 { (bounds.min().y, bounds.max().y) } else { (bounds.min().x, bounds.max().x) };
    let margin = figures[0].used;
    let seams = 1..strips;
    // An edge strip has a margin on one side only, a middle strip on both.
    let full = |number: usize| number as f64 * (room - 2.0 * margin) + margin;
    let even: Vec<f64> = seams.clone().map(|n| low + (high - low) * n as f64 / strips as f64).collect();
    let between = |place: usize| {
        let share = place as f64 / (PLACES - 1) as f64;
        let at = |n: usize| (1.0 - share) * (low + full(n)) + share * (high - full(strips - n));
        seams.clone().map(at).collect::<Vec<f64>>()
    };
    let line = |place: f64| {
        let (at, along) = match axis {
            0 => (coord! { x: 0.0, y: place }, coord! { x: 1.0, y: 0.0 }),
            _ => (coord! { x: place, y: 0.0 }, coord! { x: 0.0, y: 1.0 }),
        };
        Line { kind: SeamKind::Sewn, at, along, figures: figures.clone() }
    };
    let places = [even].into_iter().chain((0..PLACES).map(between));
    places.map(|places| places.into_iter().map(line).collect()).collect()
}
