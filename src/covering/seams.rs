//! Seams that divide a panel wider than the cloth: over structure where the rules let a lap lie, else sewn.
//!
//! A lapped seam lies on the line of a member that counts as structure and is as wide as the lap. Where no such members
//! divide the panel into strips that fit, it is sewn, in straight lines along the roll. Of the ways with the fewest seams
//! the one that takes the least cloth for lap and tape is used.

use geo_types::{Coord, coord};

use super::panel::Panel;
use super::rules::{RuleBook, RuleUsed, lap_over};
use super::seam::{Seam, SeamKind, Strip};
use super::split::{Cutter, length_inside};
use crate::job::{Cloth, Grain, GrainDirection, Location, Member, Miss, RuleFigure, Surface, Words, least_miss};
use crate::shape::{Curve, Outline, TOLERANCE};
use crate::units::Units;

/// Most lapped seams in one panel: more would be a patchwork that nobody sews or laps.
const MOST_LAPPED: usize = 3;
/// Most strips of one panel.
const MOST_STRIPS: usize = 20;
/// Most members that are tried together as lines of seams; of more, the longest.
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

/// A line that may become a seam.
#[derive(Clone, Debug)]
struct Line {
    kind: SeamKind,
    at: Coord<f64>,
    along: Coord<f64>,
    figures: [RuleUsed; 2],
}

impl<'m> Ground<'m> {
    pub fn new(members: &'m [Member]) -> Self {
        Self { members }
    }
}

impl Line {
    /// Cloth over cloth: a lap, or the margins of both sides.
    fn overlap(&self) -> f64 {
        match self.kind {
            SeamKind::Lapped(_) => self.figures[0].used,
            SeamKind::Sewn => 2.0 * self.figures[0].used,
        }
    }

    fn cutter(&self) -> Cutter {
        Cutter::new(self.at, self.along)
    }

    /// Cloth that the seam takes: lap and tape.
    fn cost(&self, cut: &Outline) -> f64 {
        length_inside(&self.cutter(), cut) * (self.overlap() + self.figures[1].used)
    }

    fn seam(&self, cut: &Outline) -> Option<Seam> {
        let ends = self.cutter().ends(cut)?;
        let source = format!("{}; tape {}", self.figures[0].source, self.figures[1].source);
        Some(Seam { kind: self.kind, ends, overlap: self.overlap(), tape: self.figures[1].used, source })
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
    let (lines, refused) = lap_lines(panel, book, surface, ground);
    let lapped = (1..=MOST_LAPPED).find_map(|seams| best_laps(&panel.cut, &lines, seams, &fits));
    let lines = lapped.or_else(|| best_sewn(panel, cloths, book, &fits));
    let divided = lines.and_then(|lines| with_seams(panel, &lines)).map(|divided| with_one_grain(divided, cloths));
    divided.ok_or_else(|| NoSeam { miss, cloth: cloths[nearest].name.clone(), refused })
}

/// The lines of members that a lap may lie on, and why it may not lie on the others.
fn lap_lines(panel: &Panel, book: RuleBook, surface: Surface, ground: &Ground) -> (Vec<Line>, Vec<String>) {
    let mut lines = Vec::new();
    let mut refused = Vec::new();
    for member in ground.members {
        match lap_line(member, book, surface) {
            Ok(line) => lines.push(line),
            Err(why) => refused.push(why),
        }
    }
    refused.dedup();
    lines.sort_by(|one, other| one.cost(&panel.cut).total_cmp(&other.cost(&panel.cut)));
    lines.truncate(MOST_LINES);
    (lines, refused)
}

fn lap_line(member: &Member, book: RuleBook, surface: Surface) -> Result<Line, String> {
    let location = lap_over(book.method(), surface, member.class).map_err(|not| not.to_string())?;
    let lap = book.figure(RuleFigure::Lap, location).map_err(|none| none.to_string())?;
    let tape = book.figure(RuleFigure::Tape, location).map_err(|none| none.to_string())?;
    if member.width.is_none_or(|width| width < lap.used) {
        let class = member.class.word();
        return Err(format!("the {class} is not known to be as wide as the lap (AC 2-8 NOTE)"));
    }
    let [from, to] = [member.from, member.to].map(|[x, y]| coord! { x: x, y: y });
    Ok(Line { kind: SeamKind::Lapped(member.class), at: from, along: to - from, figures: [lap, tape] })
}

/// The cheapest so many of the lines that leave only strips that fit.
fn best_laps(cut: &Outline, lines: &[Line], seams: usize, fits: &dyn Fn(&Outline) -> bool) -> Option<Vec<Line>> {
    if fits(cut) {
        return Some(Vec::new());
    }
    if seams == 0 {
        return None;
    }
    let mut best: Option<(f64, Vec<Line>)> = None;
    for (index, line) in lines.iter().enumerate() {
        let Some(halves) = line.cutter().halves(cut, line.overlap()) else { continue };
        // Later lines only: the order in which lines divide a panel does not matter.
        let rest = &lines[index + 1..];
        let Some(first) = best_laps(&halves[0], rest, seams - 1, fits) else { continue };
        let Some(second) = best_laps(&halves[1], rest, seams - 1 - first.len(), fits) else { continue };
        let found: Vec<Line> = [vec![line.clone()], first, second].concat();
        let cost = found.iter().map(|line| line.cost(cut)).sum();
        if best.as_ref().is_none_or(|(least, _)| cost < *least) {
            best = Some((cost, found));
        }
    }
    best.map(|(_, lines)| lines)
}

/// Straight sewn seams along the roll: the fewest, and of those the ones that take least cloth.
fn best_sewn(panel: &Panel, cloths: &[&Cloth], book: RuleBook, fits: &dyn Fn(&Outline) -> bool) -> Option<Vec<Line>> {
    let margin = book.figure(RuleFigure::Margin, Location::PanelSeam).ok()?;
    let tape = book.figure(RuleFigure::Tape, Location::PanelSeam).ok()?;
    let widest = cloths.iter().map(|cloth| cloth.usable()[1] - cloth.usable()[0]).fold(0.0, f64::max);
    // A strip as wide as the cloth to the last digit may be too wide by rounding.
    let room = widest - TOLERANCE;
    let figures = [margin, tape];
    for strips in 2..=MOST_STRIPS {
        let ways = seam_axes(panel.plan.grain.direction)
            .iter()
            .flat_map(|axis| sewn_ways(&panel.cut, *axis, strips, room, &figures))
            .filter(|lines| strips_of(&panel.cut, lines).is_some_and(|cuts| cuts.iter().all(fits)));
        let cost = |lines: &Vec<Line>| lines.iter().map(|line| line.cost(&panel.cut)).sum::<f64>();
        // Costs that differ by rounding are the same, so that the first way wins on every machine.
        let best = ways.fold(None, |best: Option<Vec<Line>>, lines| match best {
            Some(best) if cost(&best) <= cost(&lines) * (1.0 + 1e-9) => Some(best),
            _ => Some(lines),
        });
        if best.is_some() {
            return best;
        }
    }
    None
}

/// Along which of the panel's axes the roll may run.
fn seam_axes(direction: GrainDirection) -> &'static [usize] {
    match direction {
        GrainDirection::Along => &[0],
        GrainDirection::Across => &[1],
        GrainDirection::Either | GrainDirection::Bias | GrainDirection::Free => &[0, 1],
    }
}

/// Seams along an axis that make so many strips: of even width, or as wide as the cloth from either edge.
fn sewn_ways(cut: &Outline, axis: usize, strips: usize, room: f64, figures: &[RuleUsed; 2]) -> Vec<Vec<Line>> {
    let bounds = cut.bounds();
    let (low, high) = if axis == 0 { (bounds.min().y, bounds.max().y) } else { (bounds.min().x, bounds.max().x) };
    let margin = figures[0].used;
    let seams = 1..strips;
    // An edge strip has a margin on one side only, a middle strip on both.
    let full = |number: usize| number as f64 * (room - 2.0 * margin) + margin;
    let even: Vec<f64> = seams.clone().map(|n| low + (high - low) * n as f64 / strips as f64).collect();
    let from_low: Vec<f64> = seams.clone().map(|n| low + full(n)).collect();
    let from_high: Vec<f64> = seams.map(|n| high - full(n)).collect();
    let line = |place: f64| {
        let (at, along) = match axis {
            0 => (coord! { x: 0.0, y: place }, coord! { x: 1.0, y: 0.0 }),
            _ => (coord! { x: place, y: 0.0 }, coord! { x: 0.0, y: 1.0 }),
        };
        Line { kind: SeamKind::Sewn, at, along, figures: figures.clone() }
    };
    [even, from_low, from_high].map(|places| places.into_iter().map(line).collect()).to_vec()
}

/// The strips that some seams leave; `None` where one of them does not part the outline in two.
fn strips_of(cut: &Outline, lines: &[Line]) -> Option<Vec<Outline>> {
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

fn with_seams(panel: &Panel, lines: &[Line]) -> Option<Divided> {
    let cuts = strips_of(&panel.cut, lines)?;
    let finished = panel.plan.finished.flatten().ok()?;
    let without_lap: Vec<Line> = lines
        .iter()
        .map(|line| {
            let mut bare = line.clone();
            bare.figures[0].used = 0.0;
            bare
        })
        .collect();
    let finished = strips_of(&finished, &without_lap).filter(|parts| parts.len() == cuts.len());
    let strip = |(index, cut): (usize, Outline)| {
        let whole = finished.as_ref().map_or(&cut, |parts| &parts[index]);
        Strip { finished: polygon(whole), cut: cut.clone() }
    };
    let mut panel = panel.clone();
    panel.seams = lines.iter().filter_map(|line| line.seam(&panel.cut)).collect();
    panel.strips = cuts.into_iter().enumerate().map(strip).collect();
    let rules_used = lines.iter().flat_map(|line| line.figures.clone()).collect();
    Some(Divided { panel, rules_used })
}

/// Strips that may lie along or across the roll all lie the same way: halves of a pair are kept on one grain.
fn with_one_grain(mut divided: Divided, cloths: &[&Cloth]) -> Divided {
    let panel = &mut divided.panel;
    if panel.plan.grain.direction != GrainDirection::Either {
        return divided;
    }
    let lies_along = panel.seams.first().is_none_or(|seam| {
        let [from, to] = seam.ends;
        (to.x - from.x).abs() >= (to.y - from.y).abs()
    });
    let ways = [GrainDirection::Along, GrainDirection::Across];
    let ways = if lies_along { ways } else { [ways[1], ways[0]] };
    let fits = |direction: &GrainDirection| {
        let grain = Grain { direction: *direction, ..panel.plan.grain };
        let misses = |strip: &Strip| least_miss(&strip.cut, &grain, cloths);
        panel.strips.iter().all(|strip| misses(strip).is_none_or(|(_, miss)| miss.by() <= TOLERANCE))
    };
    if let Some(direction) = ways.into_iter().find(fits) {
        panel.plan.grain.direction = direction;
    }
    divided
}

fn polygon(outline: &Outline) -> Curve {
    let points: Vec<[f64; 2]> = outline.polygon().exterior().0.iter().map(|point| [point.x, point.y]).collect();
    Curve::polygon(&points, &[])
}
