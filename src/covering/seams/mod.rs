//! Seams that divide a panel wider than the cloth: over structure where the rules let a lap lie, else sewn.
//!
//! A lapped seam lies on the line of a member that counts as structure, is as wide as the lap and reaches from edge to
//! edge. Where no such members divide the panel into strips that fit, it is sewn, in straight lines along the roll. Of the
//! ways with the fewest seams the cheapest is used: see `cost`.

mod cost;
mod handling;
mod line;
mod ways;

use super::panel::Panel;
use super::rules::{RuleBook, RuleUsed};
use super::seam::Strip;
use crate::job::{Cloth, Member, Miss, Surface, least_miss};
use crate::shape::{Curve, Outline, TOLERANCE};
use crate::units::Units;
use cost::Way;
use line::{Line, strips_of};
use ways::ToDivide;

/// Most members that are tried together as lines of seams; of more, those with the shortest seams.
const MOST_LINES: usize = 40;

/// The members under a panel.
pub(super) struct Ground<'m> {
    members: &'m [Member],
}

/// A panel that can be cut, and the figures that its seams took.
pub(super) struct Divided {
    pub panel: Panel,
    pub rules_used: Vec<RuleUsed>,
}

/// No cloth takes the panel, however it is divided.
pub(super) struct NoSeam {
    miss: Miss,
    cloth: String,
    refused: Vec<String>,
}

impl<'m> Ground<'m> {
    pub fn new(members: &'m [Member]) -> Self {
        Self { members }
    }
}

impl NoSeam {
    pub fn in_words(&self, units: Units) -> String {
        let show = |length: f64| units.show(length);
        let Miss { across, along, room } = self.miss;
        let mut words = format!("on {:?}, where it comes nearest, ", self.cloth);
        if self.miss.too_wide() > TOLERANCE {
            words.push_str(&format!("it needs {} across the cloth, where {} can be used", show(across), show(room[0])));
        } else {
            words.push_str(&format!("it needs {} along the cloth, where there is {}", show(along), show(room[1])));
        }
        words.push_str("; no seam divides it so that every strip fits");
        if let Some(refused) = self.refused.first() {
            words.push_str(&format!("; {refused}"));
        }
        words
    }
}

/// Divides a panel with the fewest seams so that every strip fits one of the cloths.
pub(super) fn divided(
    panel: &Panel,
    cloths: &[&Cloth],
    book: RuleBook,
    surface: Surface,
    ground: &Ground,
) -> Result<Divided, NoSeam> {
    let grain = panel.plan.grain;
    let misses = |cut: &Outline| least_miss(cut, &grain, cloths);
    let fits = |cut: &Outline| misses(cut).is_none_or(|(_, miss)| miss.by() <= TOLERANCE);
    let Some((nearest, miss)) = misses(&panel.cut).filter(|_| !fits(&panel.cut)) else {
        return Ok(Divided { panel: panel.clone(), rules_used: Vec::new() });
    };
    let to_divide = ToDivide { panel, cloths, book };
    if let Some(panel) = to_divide.with_less_handling() {
        return Ok(Divided { panel, rules_used: Vec::new() });
    }
    let (lines, refused) = lap_lines(panel, book, surface, ground);
    let way = to_divide.lapped(&lines).or_else(|| to_divide.sewn());
    let divided = way.and_then(|way| with_seams(panel, way));
    divided.ok_or_else(|| NoSeam { miss, cloth: cloths[nearest].name.clone(), refused })
}

/// The lines of members that a lap may lie on, the shortest seam first, and why it may not lie on the others.
fn lap_lines(panel: &Panel, book: RuleBook, surface: Surface, ground: &Ground) -> (Vec<Line>, Vec<String>) {
    let Ok(finished) = panel.plan.finished.flatten() else { return (Vec::new(), Vec::new()) };
    let mut lines = Vec::new();
    let mut refused = Vec::new();
    for member in ground.members {
        match Line::lapped(member, &finished, book, surface) {
            Ok(line) => lines.push(line),
            Err(why) => refused.push(why),
        }
    }
    refused.dedup();
    lines.sort_by(|one, other| one.length(&panel.cut).total_cmp(&other.length(&panel.cut)));
    lines.truncate(MOST_LINES);
    (lines, refused)
}

fn with_seams(panel: &Panel, way: Way) -> Option<Divided> {
    let Way { lines, strips: cuts, direction } = way;
    let finished = panel.plan.finished.flatten().ok()?;
    let without_lap: Vec<Line> = lines.iter().map(Line::without_overlap).collect();
    let finished = strips_of(&finished, &without_lap).filter(|parts| parts.len() == cuts.len());
    let strip = |(index, cut): (usize, Outline)| {
        let whole = finished.as_ref().map_or(&cut, |parts| &parts[index]);
        Strip { finished: polygon(whole), cut: cut.clone() }
    };
    let mut panel = panel.clone();
    panel.plan.grain.direction = direction;
    panel.seams = lines.iter().filter_map(|line| line.seam(&panel.cut)).collect();
    panel.strips = cuts.into_iter().enumerate().map(strip).collect();
    let rules_used = lines.into_iter().flat_map(|line| line.figures).collect();
    Some(Divided { panel, rules_used })
}

fn polygon(outline: &Outline) -> Curve {
    let points: Vec<[f64; 2]> = outline.polygon().exterior().0.iter().map(|point| [point.x, point.y]).collect();
    Curve::polygon(&points, &[])
}
