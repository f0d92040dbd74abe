//! Flat parts: a planar frame with a tube all round, covered on one side or both.
//!
//! The cloth of a side leaves the face over the centre line of the perimeter tube and follows the tube to its middle, a
//! quarter of its circumference, πD/4. There the sides meet. From there on each goes half the lap farther, or the first
//! side all of it; a sewn seam needs its margin on each side instead.

use std::f64::consts::FRAC_PI_4;

use geo_types::Coord;

use super::balance::balance;
use super::cautions::{balance_caution, narrow_tube_caution, notch_caution};
use super::desk::Desk;
use super::faces::flat_faces;
use super::marks::{Marks, Way, edge_names};
use super::member_ends;
use super::panel::{EdgeFigures, Figure, MemberLine, PanelPlan};
use super::place_figures::PlaceFigures;
use super::rules::RuleUsed;
use super::seams::Ground;
use super::{CoveredPart, Dressed};
use crate::job::{Direction, FlatPart, Grain, Location, MeasuredTo, Method, Part, RuleFigure, Sides, Surface, Wrap};
use crate::shape::Join;

/// One copy of a side's cloth.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
struct Side {
    first: bool,
    /// Whether it belongs to the part that is built as the mirror image.
    twin: bool,
}

impl Side {
    /// Whether its outline is the mirror image of the part's: seen from outside, the second side is, and the twin again.
    fn mirrored(self) -> bool {
        self.first == self.twin
    }

    fn words(self) -> String {
        let side = if self.first { "first side" } else { "second side" };
        if self.twin { format!("{side} of its mirror image") } else { side.to_owned() }
    }
}

/// The panels of a flat part.
pub(super) fn cover(desk: &mut Desk, part: &Part, flat: &FlatPart) -> Option<CoveredPart> {
    let perimeter = PlaceFigures::ask(desk, location(flat.surface), &part.at)?;
    if desk.book.method() == Method::Sewn && flat.wrap == Wrap::FirstSide {
        let hint = "leave \"wrap\" out: each side of a sewn seam has its own margin";
        desk.fault(&part.at, format!("part {:?}: a sewn seam has no lap for the first side to hold", part.name), hint);
        return None;
    }
    let ground = Ground::new(&flat.members);
    let mut panels = Vec::new();
    let mut area = 0.0;
    let mut plain = None;
    for group in groups(&sides(flat, part), flat, desk.faces_alike(part)) {
        let lead = group[0];
        let plan = plan(desk, part, flat, &perimeter, &group);
        let panel = desk.panel(plan, part, flat.surface, &ground)?;
        let of_one = group.iter().filter(|side| !side.twin).count();
        area += panel.trimmed.area() * of_one as f64;
        panels.push(if lead.mirrored() { panel.mirrored() } else { panel.clone() });
        plain.get_or_insert(panel);
    }
    let balance = balance(desk.rules, &desk.cloths(part), area, &plain?, flat.hinge);
    cautions(desk, part, flat, &perimeter);
    let faces = desk.faces(part, flat_faces(part, flat, location(flat.surface)), true)?;
    if let Some(first) = faces.first() {
        member_ends::told(desk, first);
    }
    Some(CoveredPart {
        name: part.name.clone(),
        panels,
        balance: Some(balance),
        hinge: flat.hinge,
        faces,
        dressed: Dressed::default(),
    })
}

/// Where in the rules the perimeter of a surface is. Of a wing nobody says which edge leads: the leading edge is the
/// strictest.
fn location(surface: Surface) -> Location {
    match surface {
        Surface::Empennage => Location::Empennage,
        Surface::ControlSurface => Location::ControlSurface,
        Surface::Wing => Location::WingLeadingEdge,
        Surface::Fuselage => Location::Fuselage,
    }
}

fn sides(flat: &FlatPart, part: &Part) -> Vec<Side> {
    let mut sides = vec![Side { first: true, twin: false }];
    if flat.sides == Sides::Both {
        sides.push(Side { first: false, twin: false });
    }
    if part.mirrored {
        sides.extend(sides.clone().into_iter().map(|side| Side { twin: true, ..side }));
    }
    sides
}

/// The sides in groups that are cut from one outline.
fn groups(sides: &[Side], flat: &FlatPart, faces_alike: bool) -> Vec<Vec<Side>> {
    let alike = |one: &Side, other: &Side| {
        let same_lap = flat.wrap == Wrap::Shared || one.first == other.first;
        same_lap && (faces_alike || one.mirrored() == other.mirrored())
    };
    let mut groups: Vec<Vec<Side>> = Vec::new();
    for side in sides {
        match groups.iter_mut().find(|group| alike(&group[0], side)) {
            Some(group) => group.push(*side),
            None => groups.push(vec![*side]),
        }
    }
    groups
}

/// Which way front, top and the sides are on what a group is cut from, where the job says how the outline lies in the
/// aircraft; what is to the right of one side and to the left of another is left out.
fn ways(flat: &FlatPart, group: &[Side]) -> Vec<Way> {
    let along = [Coord { x: 1.0, y: 0.0 }, Coord { x: 0.0, y: 1.0 }];
    let axes = flat.axes.into_iter().flatten().zip(along);
    let way = |(axis, towards): (Direction, Coord<f64>)| {
        let sided = matches!(axis, Direction::Left | Direction::Right);
        let twins = group.iter().filter(|side| side.twin).count();
        match axis {
            _ if sided && twins > 0 && twins < group.len() => None,
            Direction::Left if twins > 0 => Some(Way { word: Direction::Right.way_word(), towards }),
            Direction::Right if twins > 0 => Some(Way { word: Direction::Left.way_word(), towards }),
            Direction::Aft => Some(Way { word: Direction::Forward.way_word(), towards: -towards }),
            Direction::Down => Some(Way { word: Direction::Up.way_word(), towards: -towards }),
            axis => Some(Way { word: axis.way_word(), towards }),
        }
    };
    axes.filter_map(way).collect()
}

/// What a group of sides is called: by what they have in common.
fn group_name(group: &[Side], flat: &FlatPart) -> String {
    let same_side = group.iter().all(|side| side.first == group[0].first);
    let same_hand = group.iter().all(|side| side.mirrored() == group[0].mirrored());
    match (group, same_side, same_hand) {
        ([only], ..) => only.words(),
        (_, true, _) => if flat.sides == Sides::One { "covered side" } else { group[0].words_of_side() }.to_owned(),
        (_, false, true) if group[0].mirrored() => "mirrored".to_owned(),
        (_, false, true) => "as drawn".to_owned(),
        _ => "every side".to_owned(),
    }
}

impl Side {
    fn words_of_side(self) -> &'static str {
        if self.first { "first side" } else { "second side" }
    }
}

/// How many of a group lie on each face.
fn faces_of(group: &[Side]) -> Vec<(String, u32)> {
    let count = |first: bool| group.iter().filter(|side| side.first == first).count() as u32;
    let sides = [("first side", count(true)), ("second side", count(false))];
    sides.into_iter().filter(|(_, count)| *count > 0).map(|(name, count)| (name.to_owned(), count)).collect()
}

/// The plan of a panel for a group of sides, in the coordinates of the part: not mirrored.
fn plan(desk: &Desk, part: &Part, flat: &FlatPart, perimeter: &PlaceFigures, group: &[Side]) -> PanelPlan {
    let copies: Vec<String> = group.iter().map(|side| side.words()).collect();
    let edges: Vec<EdgeFigures> = flat.tube.iter().map(|tube| edge(flat, perimeter, group[0], *tube)).collect();
    let tubes: Vec<String> = flat.tube.iter().map(|tube| format!("{} tube", desk.job.units.show(*tube))).collect();
    PanelPlan {
        name: format!("{}, {}", part.name, group_name(group, flat)),
        part: part.name.clone(),
        goes: format!("{}: {}", part.name, copies.join(", ")),
        faces: faces_of(group),
        finished: flat.outline.clone(),
        marks: Marks { edges: edge_names(&flat.outline, &tubes, &edges), ways: ways(flat, group), ..Marks::default() },
        edges,
        join: Join::Round,
        members: flat.members.iter().map(MemberLine::of).collect(),
        figures: figures(desk, flat, perimeter, group[0]),
        grain: Grain { direction: flat.grain, tolerance: 0.0, one_way: false },
        cloth: part.cloth.clone(),
        quantity: group.len() as u32,
        source: part.source.clone(),
    }
}

/// From the outline to the middle of the tube along the cloth: a quarter of the tube's circumference from its centre
/// line, of which an outline over its outside has half a diameter already.
fn wrap(flat: &FlatPart, tube: f64) -> f64 {
    match flat.measured_to {
        MeasuredTo::TubeCentre => FRAC_PI_4 * tube,
        MeasuredTo::TubeOutside => FRAC_PI_4 * tube - tube / 2.0,
    }
}

/// How far a side goes past the middle of the tube.
fn past_middle(flat: &FlatPart, joint: &RuleUsed, side: Side) -> f64 {
    match (joint.figure, flat.sides, flat.wrap) {
        // The margin is for each side; a single side is turned round the tube by the whole lap.
        (RuleFigure::Margin, ..) | (_, Sides::One, _) => joint.used,
        (_, Sides::Both, Wrap::Shared) => joint.used / 2.0,
        (_, Sides::Both, Wrap::FirstSide) => {
            if side.first {
                joint.used
            } else {
                0.0
            }
        }
    }
}

fn edge(flat: &FlatPart, perimeter: &PlaceFigures, side: Side, tube: f64) -> EdgeFigures {
    EdgeFigures {
        wrap: wrap(flat, tube),
        lap: past_middle(flat, &perimeter.joint, side),
        handling: perimeter.handling.used,
    }
}

fn figures(desk: &Desk, flat: &FlatPart, perimeter: &PlaceFigures, side: Side) -> Vec<Figure> {
    let units = desk.job.units;
    let mut tubes: Vec<f64> = flat.tube.clone();
    tubes.sort_by(f64::total_cmp);
    tubes.dedup();
    let mut figures: Vec<Figure> = tubes
        .iter()
        .map(|tube| Figure {
            what: format!("wrap to the middle of the {} tube", units.show(*tube)),
            value: wrap(flat, *tube),
            source: match flat.measured_to {
                MeasuredTo::TubeCentre => "πD/4 from the tube centre".to_owned(),
                MeasuredTo::TubeOutside => "πD/4 from the tube centre, less D/2 to the outline".to_owned(),
            },
        })
        .collect();
    let joint = &perimeter.joint;
    let share = past_middle(flat, joint, side);
    let what = match joint.figure {
        RuleFigure::Margin => "margin past the sewn seam".to_owned(),
        _ if share < joint.used => format!("share of the {} lap, past the middle", units.show(joint.used)),
        _ => "lap past the middle".to_owned(),
    };
    figures.push(Figure { what, value: share, source: joint.source_in_words() });
    let handling = &perimeter.handling;
    figures.push(Figure { what: "handling".to_owned(), value: handling.used, source: handling.source_in_words() });
    figures
}

fn cautions(desk: &mut Desk, part: &Part, flat: &FlatPart, perimeter: &PlaceFigures) {
    let name = &part.name;
    let thinnest = flat.tube.iter().copied().fold(f64::INFINITY, f64::min);
    narrow_tube_caution(desk, part, &perimeter.joint, thinnest);
    if flat.hinge.is_some() || flat.surface == Surface::ControlSurface {
        balance_caution(desk, part);
    }
    if flat.surface == Surface::Wing {
        desk.caution(format!(
            "{name}: which edge of a flat wing leads is not said; all round it has the figures of the leading edge"
        ));
    }
    if desk.book.method() == Method::Sewn && flat.surface == Surface::ControlSurface {
        let outline = flat.outline.flatten();
        let longest = outline.map_or(0.0, |outline| outline.bounds().width().max(outline.bounds().height()));
        notch_caution(desk, part, location(flat.surface), longest);
    }
}
