//! Inspection rings with their doilies, and drain holes with their patches.

use super::cut::{Cut, pinked};
use super::patches::one_hand_note;
use super::{DrainHole, Ring};
use crate::covering::CoveredPart;
use crate::covering::desk::{Desk, GIVE_FIGURE};
use crate::covering::dressing::{self, RingMaterial, WantedShape};
use crate::covering::faces::{Face, Placed};
use crate::job::{Control, ControlKind, Grommet, Hand, InspectionOpening, JobPlace, Part, RingKind, Words};
use crate::units::inches;

/// Outside diameter of a plastic ring where the person does not say it: what a doily of 6-1/2 in with its margin of 1 in
/// implies, derived from approved covering manual p. 40 and AC 43.13-1B 2-14a(4).
const RING_OUTSIDE: f64 = inches(4.5);
/// How far a hand reaches through a ring, in millimetres. Common practice, no source.
const REACH: f64 = 350.0;

/// The rings of a part with their doilies.
pub(super) fn rings(desk: &mut Desk, of: &Part, part: &CoveredPart, cut: &mut Cut) -> Option<Vec<Ring>> {
    let mut found = Vec::new();
    for (index, face) in part.faces.iter().enumerate() {
        for opening in &face.openings {
            found.push(ring(desk, of, part, index, opening, opening.what.place.copies(face.hands), cut)?);
        }
        for control in &face.controls {
            if !within_reach(face, control) {
                let kind: ControlKind = control.what.kind;
                desk.caution(format!(
                    "{}, {}: no opening within reach of the {} {:?} ({} is reckoned); openings belong at every one (AC 2-14a)",
                    part.name,
                    face.name,
                    kind.word(),
                    control.what.name,
                    desk.job.units.show(REACH)
                ));
            }
        }
    }
    Some(found)
}

/// Whether an opening is within reach of a control, on each hand that has it.
fn within_reach(face: &Face, control: &Placed<Control>) -> bool {
    let hand = |place: &JobPlace| place.hand.as_ref().map(|one| one.hand);
    let near = |opening: &&Placed<InspectionOpening>| {
        (opening.at.x - control.at.x).hypot(opening.at.y - control.at.y) <= REACH
    };
    let serves = |wanted: Hand| {
        let on = |opening: &Placed<InspectionOpening>| hand(&opening.what.place).is_none_or(|there| there == wanted);
        face.openings.iter().filter(near).any(on)
    };
    match hand(&control.what.place) {
        Some(one) => serves(one),
        None => serves(Hand::Left) && serves(Hand::Right),
    }
}

fn ring(
    desk: &mut Desk,
    of: &Part,
    part: &CoveredPart,
    face: usize,
    opening: &Placed<InspectionOpening>,
    hands: u32,
    cut: &mut Cut,
) -> Option<Ring> {
    let material = if opening.what.ring == RingKind::Metal { RingMaterial::Metal } else { RingMaterial::Plastic };
    let outside = opening.what.outside.unwrap_or(RING_OUTSIDE);
    let inside = desk.answer(dressing::inspection_ring(&desk.book), &of.at, GIVE_FIGURE)?;
    let doily = desk.answer(dressing::doily(&desk.book, outside, material), &of.at, GIVE_FIGURE)?;
    for used in [&inside, &doily.usual, &doily.margin] {
        desk.note(used);
    }
    let piece = format!("doily {}", desk.job.units.show(doily.diameter));
    let source = format!(
        "{}; {} past a ring of {} ({})",
        doily.usual.source_in_words(),
        desk.job.units.show(doily.margin.used),
        desk.job.units.show(outside),
        doily.margin.source_in_words()
    );
    cut.add(&piece, hands, &part.name, &opening.what.name, || {
        pinked(&piece, WantedShape::Circle(doily.diameter), source)
    });
    let mut notes: Vec<String> = one_hand_note(&opening.what.place).into_iter().collect();
    notes.push("cut the hole only when it is first needed (AC 2-14a(1))".to_owned());
    if doily.optional {
        notes.push("over a metal ring the doily is left to you; in the slipstream and on the forward belly it is advised (AC 2-14a(3))".to_owned());
    }
    Some(Ring {
        number: String::new(),
        name: opening.what.name.clone(),
        face,
        at: opening.at,
        inside: opening.what.inside.unwrap_or(inside.used),
        outside,
        doily: doily.diameter,
        piece,
        hands,
        notes,
    })
}

/// The drain holes of a part.
pub(super) fn drains(desk: &mut Desk, of: &Part, part: &CoveredPart, cut: &mut Cut) -> Option<Vec<DrainHole>> {
    let Some(style) = of.places.drains else { return Some(Vec::new()) };
    let figures = desk.answer(dressing::drain(&desk.book), &of.at, GIVE_FIGURE)?;
    if part.faces.iter().all(|face| face.drains.is_empty()) {
        return Some(Vec::new());
    }
    desk.note(&figures.hole);
    let patched = style.patch && style.grommet != Grommet::None;
    if patched {
        desk.note(&figures.patch);
    }
    let piece = patched.then(|| format!("drain patch {}", desk.job.units.show(figures.patch.used)));
    let mut found = Vec::new();
    for (index, face) in part.faces.iter().enumerate() {
        for drain in &face.drains {
            if let Some(piece) = &piece {
                let source = figures.patch.source_in_words();
                cut.add(piece, face.hands, &part.name, "drains", || {
                    pinked(piece, WantedShape::Circle(figures.patch.used), source)
                });
            }
            found.push(DrainHole {
                number: String::new(),
                patch_number: None,
                face: index,
                at: drain.at,
                hole: figures.hole.used,
                piece: piece.clone(),
                patch: figures.patch.used,
                hands: face.hands,
            });
        }
    }
    Some(found)
}
