//! Finished panels whose outline is given: what is added along each edge, by the rules of the place that it meets.
//!
//! Nothing is known of the neighbour, so every edge has the whole lap. Where an edge follows a tube, the cloth leaves the
//! face over the tube's centre line and goes round it to the middle, a quarter of its circumference, πD/4, before the lap
//! begins.

use std::collections::BTreeMap;
use std::f64::consts::FRAC_PI_4;

use super::balance::balance;
use super::cautions::{balance_caution, narrow_tube_caution, notch_caution};
use super::desk::Desk;
use super::marks::{Marks, edge_names};
use super::place_figures::PlaceFigures;
use super::seams::Ground;
use super::{CoveredPart, Dressed, EdgeFigures, Figure, MemberLine, PanelPlan};
use crate::job::{GivenPanel, Grain, Location, PanelEdge, Part, Round, Surface, Words};
use crate::shape::Join;

/// The figures of every place that an edge meets.
type Places = BTreeMap<Location, PlaceFigures>;

/// The panel as it is cut, for both hands where it is mirrored.
pub(super) fn cover(desk: &mut Desk, part: &Part, given: &GivenPanel) -> Option<CoveredPart> {
    let places = places(desk, part, given)?;
    let alike = !part.mirrored || desk.faces_alike(part);
    let quantity = if part.mirrored && alike { 2 } else { 1 };
    let plan = plan(desk, part, given, &places, quantity);
    let panel = desk.panel(plan, part, given.surface, &Ground::new(&given.members))?;
    let balance = balance(desk.rules, &desk.cloths(part), panel.trimmed.area(), &panel, given.hinge);
    cautions(desk, part, given, &places);
    let other_hand = (!alike).then(|| panel.for_other_hand());
    let panels = [panel].into_iter().chain(other_hand).collect();
    Some(CoveredPart {
        name: part.name.clone(),
        panels,
        balance: Some(balance),
        hinge: given.hinge,
        faces: Vec::new(),
        dressed: Dressed::default(),
    })
}

fn places(desk: &mut Desk, part: &Part, given: &GivenPanel) -> Option<Places> {
    let mut met: Vec<Location> = joined(given).map(|(at, _)| at).collect();
    met.sort();
    met.dedup();
    let asked: Vec<_> = met.into_iter().map(|at| Some((at, PlaceFigures::ask(desk, at, &part.at)?))).collect();
    asked.into_iter().collect()
}

/// The edges that meet something, in order.
fn joined(given: &GivenPanel) -> impl Iterator<Item = (Location, Round)> {
    given.edges.iter().filter_map(|edge| match *edge {
        PanelEdge::Joined { at, round } => Some((at, round)),
        PanelEdge::NothingAdded => None,
    })
}

fn plan(desk: &Desk, part: &Part, given: &GivenPanel, places: &Places, quantity: u32) -> PanelPlan {
    let hands = if quantity == 2 { ", left and right" } else { "" };
    let edges: Vec<EdgeFigures> = given.edges.iter().map(|edge| added(*edge, places)).collect();
    PanelPlan {
        name: part.name.clone(),
        part: part.name.clone(),
        goes: format!("{}{hands}", part.name),
        faces: Vec::new(),
        finished: given.outline.clone(),
        marks: Marks { edges: edge_names(&given.outline, &words(given), &edges), ..Marks::default() },
        edges,
        join: Join::Mitred,
        members: given.members.iter().map(MemberLine::of).collect(),
        figures: figures(desk, given, places),
        grain: Grain { direction: given.grain, tolerance: 0.0, one_way: false },
        cloth: part.cloth.clone(),
        quantity,
        source: part.source.clone(),
    }
}

/// What each edge meets.
fn words(given: &GivenPanel) -> Vec<String> {
    let word = |edge: &PanelEdge| match edge {
        PanelEdge::Joined { at, .. } => at.word().to_owned(),
        PanelEdge::NothingAdded => "cut on the line".to_owned(),
    };
    given.edges.iter().map(word).collect()
}

fn added(edge: PanelEdge, places: &Places) -> EdgeFigures {
    let PanelEdge::Joined { at, round } = edge else { return EdgeFigures::default() };
    let place = places.get(&at);
    EdgeFigures {
        wrap: wrap(round),
        lap: place.map_or(0.0, |place| place.joint.used),
        handling: place.map_or(0.0, |place| place.handling.used),
    }
}

fn wrap(round: Round) -> f64 {
    match round {
        Round::Nothing => 0.0,
        Round::Tube(diameter) => FRAC_PI_4 * diameter,
        Round::Measured(length) => length,
    }
}

fn figures(desk: &Desk, given: &GivenPanel, places: &Places) -> Vec<Figure> {
    let units = desk.job.units;
    let mut told: Vec<Figure> = Vec::new();
    let mut tell = |what: String, value: f64, source: String| {
        let figure = Figure { what, value, source };
        if !told.contains(&figure) {
            told.push(figure);
        }
    };
    for (at, round) in joined(given) {
        let word = at.word();
        match round {
            Round::Nothing => {}
            Round::Tube(tube) => tell(
                format!("wrap to the middle of the {} tube at the {word}", units.show(tube)),
                wrap(round),
                "πD/4 from the tube centre".to_owned(),
            ),
            Round::Measured(length) => tell(format!("wrap at the {word}"), length, "as you measured it".to_owned()),
        }
        let Some(place) = places.get(&at) else { continue };
        let joint = if place.sewn() { "margin past the sewn seam" } else { "lap" };
        tell(format!("{joint} at the {word}"), place.joint.used, place.joint.source_in_words());
        tell(format!("handling at the {word}"), place.handling.used, place.handling.source_in_words());
    }
    let bare = (1..).zip(&given.edges).filter(|(_, edge)| **edge == PanelEdge::NothingAdded);
    let bare: Vec<String> = bare.map(|(number, _): (usize, _)| number.to_string()).collect();
    if !bare.is_empty() {
        let edges = if bare.len() == 1 { "edge" } else { "edges" };
        tell(format!("added at {edges} {}, cut on the outline,", bare.join(", ")), 0.0, "as you say".to_owned());
    }
    told
}

fn cautions(desk: &mut Desk, part: &Part, given: &GivenPanel, places: &Places) {
    for (at, round) in joined(given) {
        let Some(place) = places.get(&at) else { continue };
        match round {
            Round::Tube(tube) => narrow_tube_caution(desk, part, &place.joint, tube),
            _ if !place.sewn() => desk.caution(format!(
                "{}: what lies under the lap of {} at the {} is not given; a lapped seam needs structure as wide as \
                 itself (AC 2-8 NOTE)",
                part.name,
                desk.job.units.show(place.joint.used),
                at.word()
            )),
            _ => {}
        }
    }
    // The hinge of a door turns nothing that has to be balanced.
    let balanced = given.surface == Surface::Empennage && given.hinge.is_some();
    if balanced || given.surface == Surface::ControlSurface {
        balance_caution(desk, part);
    }
    let sewn = places.get(&Location::ControlSurface).is_some_and(PlaceFigures::sewn);
    if given.surface == Surface::ControlSurface && sewn {
        let outline = given.outline.flatten();
        let longest = outline.map_or(0.0, |outline| outline.bounds().width().max(outline.bounds().height()));
        notch_caution(desk, part, Location::ControlSurface, longest);
    }
}
