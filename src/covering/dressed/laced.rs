//! Ribs that the cloth is fastened to: where each lace goes, and the cord and tape it takes.

use super::LacedRib;
use crate::covering::desk::{Desk, GIVE_FIGURE};
use crate::covering::dressing::{cord_of_rib, lace_spacing, laces, reinforced_rib};
use crate::covering::faces::{Face, FaceMember};
use crate::job::{Attachment, Location, MemberClass, Part, PartKind, Surface};
use crate::shape::{length_of, point_along};
use crate::units::inches;

/// Width of a rib's cap where nothing is said. Common practice, no source.
const CAP: f64 = inches(0.5);

/// The fastened ribs of a part.
pub(super) fn laced(desk: &mut Desk, part: &Part, faces: &[Face]) -> Vec<LacedRib> {
    let attachment = desk.book.attachment();
    let Some(face) = faces.first().filter(|_| attachment != Attachment::None) else { return Vec::new() };
    if face.surface == Surface::Fuselage {
        return Vec::new();
    }
    let ribs: Vec<&FaceMember> = face.members.iter().filter(|member| member.class == MemberClass::Rib).collect();
    let mut found = Vec::new();
    for rib in ribs {
        match one(desk, part, faces, rib, attachment) {
            Some(rib) => found.push(rib),
            None => break,
        }
    }
    found
}

fn one(desk: &mut Desk, part: &Part, faces: &[Face], rib: &FaceMember, attachment: Attachment) -> Option<LacedRib> {
    let location = match (faces[0].surface, rib.rib.is_some_and(|rib| rib.in_slipstream)) {
        (Surface::Empennage, _) => Location::Empennage,
        (_, true) => Location::SlipstreamRib,
        _ => Location::Rib,
    };
    let hint = "give \"spacing\" in \"figures\" of \"rules\" and say where it comes from";
    let spacing = desk.answer(lace_spacing(&desk.book, location), &part.at, hint)?;
    desk.note(&spacing);
    let sheet = rib.rib.map_or(0.0, |rib| rib.sheet);
    let length = length_of(&rib.run) - sheet;
    if length <= 0.0 {
        return None;
    }
    let along = laces(length, spacing.used);
    let depth = rib.rib.map_or_else(|| tube(part), |rib| rib.depth);
    let cap = rib.width.unwrap_or(CAP);
    let reinforced = reinforced_rib(&desk.book, along.first_to_last(), cap);
    let reinforced = desk.answer(reinforced, &part.at, GIVE_FIGURE)?;
    let places = faces.iter().enumerate().filter_map(|(index, face)| {
        let here = face.members.iter().find(|member| member.name == rib.name && member.class == rib.class)?;
        let skipped = here.rib.map_or(0.0, |rib| rib.sheet);
        // The top is longer than the bottom: marks are carried over square to the chord, share by share of the laced way.
        let stretch = (length_of(&here.run) - skipped) / length;
        let at = |at: &f64| point_along(&here.run, skipped + at * stretch).map(|(point, _)| point);
        Some((index, along.at.iter().filter_map(at).collect()))
    });
    Some(LacedRib {
        rib: rib.name.clone(),
        at: along.at.clone(),
        spacing: spacing.used,
        cord: cord_of_rib(attachment, &along, cap, depth).map(|cord| cord.length),
        reinforcing: 2.0 * f64::from(reinforced.side_by_side) * reinforced.reinforcing,
        places: places.collect(),
        hands: faces[0].hands,
        source: spacing.source_in_words(),
    })
}

/// The tube of a flat part is as deep as its ribs.
fn tube(part: &Part) -> f64 {
    match &part.kind {
        PartKind::Flat(flat) => flat.tube.iter().copied().fold(0.0, f64::max),
        _ => 0.0,
    }
}
