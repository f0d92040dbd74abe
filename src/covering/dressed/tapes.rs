//! Finishing tape: a run for every rib, edge, longeron, stringer, seam and tip bow.

use std::f64::consts::PI;

use super::seam_tapes::over_seams;
use super::turns::sharpest;
use super::{Leg, TapeOrder, TapeRun};
use crate::covering::desk::{Desk, GIVE_FIGURE};
use crate::covering::dressing::{Ease, TAKE_UP, TapeCut, TapeOver, tape_over, tape_round};
use crate::covering::faces::{EdgeClass, Face, FaceEdge, FaceMember};
use crate::covering::seam::OVERHANG;
use crate::covering::{Panel, RuleUsed, notches};
use crate::job::{Location, MemberClass, Method, Part, PartKind, RibbedPart, RuleFigure, Surface};
use crate::shape::length_of;

/// The tapes of a part, without numbers, in the order of the work.
pub(super) fn tapes(desk: &mut Desk, part: &Part, faces: &[Face], panels: &[Panel]) -> Vec<TapeRun> {
    let mut runs: Vec<TapeRun> = Vec::new();
    for (index, face) in faces.iter().enumerate() {
        for member in &face.members {
            runs.extend(over_member(desk, part, faces, index, member));
        }
        for edge in face.edges.iter().filter(|edge| edge.own) {
            runs.extend(over_edge(desk, part, faces, index, edge));
        }
    }
    runs.extend(panels.iter().flat_map(|panel| over_seams(part, faces, panels, panel)));
    runs.sort_by_key(|run| run.order);
    runs
}

fn ease(desk: &Desk) -> Ease {
    // Cotton and linen have no figure; doped and sewn covering may be of either.
    if desk.book.method() == Method::Cemented {
        TAKE_UP
    } else {
        Ease { share: 0.0, source: "cotton and linen take up nothing that is known" }
    }
}

/// Width of the tape over a member, with the seam on it.
fn width(desk: &mut Desk, part: &Part, over: TapeOver) -> Option<RuleUsed> {
    let used = desk.answer(tape_over(&desk.book, over), &part.at, GIVE_FIGURE)?;
    desk.note(&used);
    Some(used)
}

/// A run over a member inside a face; over a rib that has a section one run for top and bottom, told with the first face.
fn over_member(desk: &mut Desk, part: &Part, faces: &[Face], index: usize, member: &FaceMember) -> Option<TapeRun> {
    let face = &faces[index];
    let order = match member.class {
        // The edge of the face has the tape over the butt rib; spars carry no cloth but where a seam lies on one.
        MemberClass::ButtRib | MemberClass::Spar => return None,
        MemberClass::Rib | MemberClass::CrossTube | MemberClass::Diagonal | MemberClass::Former => TapeOrder::Chordwise,
        _ => TapeOrder::Spanwise,
    };
    let in_slipstream = member.rib.is_some_and(|rib| rib.in_slipstream);
    let over = TapeOver { class: member.class, surface: face.surface, in_slipstream, seam: None };
    let mut legs = vec![Leg { face: index, run: member.run.clone() }];
    let mut notes = Vec::new();
    if let Some(rib) = member.rib {
        if index > 0 {
            return None;
        }
        legs.extend(faces.iter().enumerate().skip(1).filter_map(|(other, face)| {
            let same = face.members.iter().find(|member| member.rib.is_some_and(|found| found.index == rib.index))?;
            Some(Leg { face: other, run: same.run.clone() })
        }));
        notes.push("in one piece from trailing edge to trailing edge round the nose (manual p. 43)".to_owned());
    }
    let used = width(desk, part, over)?;
    let bend = sharpest(&member.run);
    let length: f64 = legs.iter().map(|leg| length_of(&leg.run)).sum();
    Some(TapeRun {
        number: String::new(),
        over: named(face, &member.name, legs.len()),
        order,
        width: used.used,
        cut: tape_round(used.used, bend.radius, bend.length, ease(desk)),
        length: length + 2.0 * OVERHANG,
        quantity: face.hands,
        legs,
        round: Vec::new(),
        joined: order == TapeOrder::Spanwise,
        source: used.source_in_words(),
        notes,
    })
}

/// The name of what a tape lies over; with that of the face where each face has its own.
fn named(face: &Face, what: &str, legs: usize) -> String {
    if legs > 1 { what.to_owned() } else { format!("{what}, {}", face.name) }
}

/// A run over an edge, on the face that has it.
fn over_edge(desk: &mut Desk, part: &Part, faces: &[Face], index: usize, edge: &FaceEdge) -> Option<TapeRun> {
    let face = &faces[index];
    let used = match edge.class {
        EdgeClass::Perimeter | EdgeClass::Recess => desk.figure(RuleFigure::Tape, edge.location, &part.at)?,
        // Round a control surface the tape of its perimeter lies, however a wing's leading edge is taped.
        EdgeClass::Member(MemberClass::LeadingEdge | MemberClass::TrailingEdge | MemberClass::TipBow)
            if face.surface == Surface::ControlSurface =>
        {
            desk.figure(RuleFigure::Tape, edge.location, &part.at)?
        }
        EdgeClass::Member(class) => {
            let over = TapeOver { class, surface: face.surface, in_slipstream: false, seam: Some(edge.location) };
            width(desk, part, over)?
        }
    };
    let (order, bend, length) = match edge.class {
        EdgeClass::Member(MemberClass::TipBow) => bow(part, edge),
        EdgeClass::Member(
            MemberClass::ButtRib | MemberClass::CrossTube | MemberClass::Diagonal | MemberClass::Former,
        ) => (TapeOrder::Chordwise, sharpest(&edge.run), edge.length()),
        _ => (TapeOrder::Spanwise, sharpest(&edge.run), edge.length()),
    };
    let others = beyond(faces, index, edge);
    let cut = tape_round(used.used, bend.radius, bend.length, ease(desk));
    let bias = matches!(cut, TapeCut::Bias { .. });
    let mut notes: Vec<String> = round_the_edge(faces, edge, &others).into_iter().collect();
    if edge.class == EdgeClass::Recess {
        notes.push("as over the trailing edge, half of it down into the recess: common practice, no source".to_owned());
    }
    let trailing =
        edge.location == Location::ControlSurface || edge.class == EdgeClass::Member(MemberClass::TrailingEdge);
    if desk.book.method() == Method::Sewn && trailing && face.surface == Surface::ControlSurface {
        notes.extend(notched(desk, edge.length(), used.used));
    }
    if cut.is_narrower_than(used.used) {
        notes.push(
            "the widest bias tape that is sold ends narrower than that; \"about 3 in\" is the trade's (manual p. 46)"
                .to_owned(),
        );
    }
    Some(TapeRun {
        number: String::new(),
        over: edge.name.clone(),
        order,
        width: used.used,
        cut,
        length: length + 2.0 * OVERHANG,
        quantity: if edge.joins_hands { (face.hands / 2).max(1) } else { face.hands },
        legs: vec![Leg { face: index, run: edge.run.clone() }],
        round: others,
        joined: order == TapeOrder::Spanwise && !bias,
        source: used.source_in_words(),
        notes,
    })
}

/// The same edge on the other faces that end there.
fn beyond(faces: &[Face], index: usize, edge: &FaceEdge) -> Vec<Leg> {
    let same = |other: &&FaceEdge| other.lines.iter().any(|line| edge.lines.contains(line));
    let others = faces.iter().enumerate().filter(|(other, _)| *other != index);
    others
        .flat_map(|(face, known)| known.edges.iter().filter(same).map(move |at| Leg { face, run: at.run.clone() }))
        .collect()
}

/// Where the half of a tape goes that the edge is drawn without.
fn round_the_edge(faces: &[Face], edge: &FaceEdge, others: &[Leg]) -> Option<String> {
    let mut names: Vec<&str> = others.iter().map(|leg| faces[leg.face].name.as_str()).collect();
    names.dedup();
    if edge.joins_hands {
        names.push("the same face of the other hand");
    }
    let onto = if names.is_empty() { return None } else { names.join(" and ") };
    Some(format!("goes round the edge: half of its width lies on the other side of it, on {onto}"))
}

/// The tape round a tip. Its shape is not known where only its reach is: half an ellipse over the last chord is taken.
fn bow(part: &Part, edge: &FaceEdge) -> (TapeOrder, super::turns::Bend, f64) {
    let bend = sharpest(&edge.run);
    let reach = match &part.kind {
        PartKind::Ribbed(RibbedPart { tip_bow: Some(reach), .. }) => *reach,
        // Without a bow the tip is a rib.
        _ => return (TapeOrder::Chordwise, bend, edge.length()),
    };
    let half = edge.length() / 2.0;
    // Perimeter of an ellipse: Ramanujan, "Modular equations and approximations to π", 1914; half of it is the bow.
    let (sum, product) = (half + reach, half * reach);
    let length = PI / 2.0 * (3.0 * sum - (3.0 * sum * sum + 4.0 * product).sqrt());
    let sharpest = reach * reach / half;
    let radius = sharpest.min(half * half / reach);
    (TapeOrder::TipBow, super::turns::Bend { radius, length }, length)
}

fn notched(desk: &Desk, length: f64, tape: f64) -> Option<String> {
    let notches = notches(desk.rules.vne, length, tape)?;
    Some(format!("{}: {} in each edge (AC 2-7a(5))", notches.in_words(desk.job.units), notches.on_each_edge))
}
