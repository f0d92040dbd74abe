//! Ribs that the cloth is fastened to: where each lace goes, and the cord and tape it takes.

use geo::{Distance, Euclidean};
use geo_types::{Coord, LineString, Point};

use super::LacedRib;
use super::patches::Cut;
use crate::covering::desk::{Desk, GIVE_FIGURE};
use crate::covering::dressing::{anti_tear_strip, cord_of_rib, lace_spacing, laces, reinforced_rib};
use crate::covering::faces::{Face, FaceMember};
use crate::job::{Attachment, Edge, Grain, GrainDirection, Location, MemberClass, Part, PartKind, Piece, Surface};
use crate::shape::{Curve, length_of, point_along};
use crate::units::inches;

/// Width of a rib's cap where nothing is said. Common practice, no source.
const CAP: f64 = inches(0.5);
/// So finely it is looked where a rib meets a spar.
const STEPS: u32 = 1000;

/// The fastened ribs of a part.
pub(super) fn laced(desk: &mut Desk, part: &Part, faces: &[Face], cut: &mut Cut) -> Vec<LacedRib> {
    let attachment = desk.book.attachment();
    let Some(face) = faces.first().filter(|_| attachment != Attachment::None) else { return Vec::new() };
    if face.surface == Surface::Fuselage {
        return Vec::new();
    }
    let ribs: Vec<&FaceMember> = face.members.iter().filter(|member| member.class == MemberClass::Rib).collect();
    let mut found = Vec::new();
    for rib in ribs {
        match one(desk, part, faces, rib, attachment) {
            Some(laced) => {
                cut_anti_tear(desk, part, rib, &laced, cut);
                found.push(laced);
            }
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
    let anti_tear = anti_tear(desk, part, faces, rib, cap)?;
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
        anti_tear,
        places: places.collect(),
        hands: faces[0].hands,
        source: spacing.source_in_words(),
    })
}

/// Length and width of the strip under the reinforcing tape; outer `None` where the rules do not say how wide.
fn anti_tear(desk: &mut Desk, part: &Part, faces: &[Face], rib: &FaceMember, cap: f64) -> Option<Option<[f64; 2]>> {
    let in_slipstream = rib.rib.is_some_and(|rib| rib.in_slipstream);
    let strip = desk.answer(anti_tear_strip(&desk.book, cap, in_slipstream), &part.at, GIVE_FIGURE)?;
    let Some(strip) = strip else { return Some(None) };
    desk.note(&strip.rule);
    if rib.rib.is_none() {
        // A flat part has one on each side.
        return Some(Some([rib.length(), strip.width]));
    }
    let below = faces.iter().skip(1).filter_map(|face| {
        let here = face.members.iter().find(|member| member.name == rib.name && member.class == rib.class)?;
        let to_spar =
            face.members.iter().find(|member| member.class == MemberClass::Spar).and_then(|spar| meets(here, spar));
        Some(if strip.to_trailing_edge_below { here.length() } else { to_spar.unwrap_or_else(|| here.length()) })
    });
    Some(Some([rib.length() + below.sum::<f64>(), strip.width]))
}

/// How far along a rib from its nose it meets a spar.
fn meets(rib: &FaceMember, spar: &FaceMember) -> Option<f64> {
    let spar = LineString::new(spar.run.clone());
    let off = |point: &Coord<f64>| Euclidean.distance(&Point(*point), &spar);
    let steps = (0..=STEPS).map(|step| rib.length() * f64::from(step) / f64::from(STEPS));
    let places = steps.filter_map(|at| point_along(&rib.run, at).map(|(point, _)| (at, off(&point))));
    places.min_by(|one, other| one.1.total_cmp(&other.1)).map(|(at, _)| at)
}

/// The strips of a rib as pieces: they are cut from the cover's own cloth (AC 43.13-1B 2-9c).
fn cut_anti_tear(desk: &Desk, part: &Part, rib: &FaceMember, laced: &LacedRib, cut: &mut Cut) {
    let Some([length, width]) = laced.anti_tear else { return };
    let sides = if rib.rib.is_some() { 1 } else { laced.places.len() as u32 };
    let [long, wide] = [length, width].map(|length| desk.job.units.show((length * 10.0).ceil() / 10.0));
    let name = format!("anti-tear strip {long} × {wide}");
    cut.add(&name, sides * laced.hands, &part.name, || {
        let outline = Curve::rect(length, width);
        Some(Piece {
            name: name.clone(),
            cut: outline.flatten().ok()?,
            outline,
            quantity: 0,
            size: [length, width],
            edge: Edge::Plain,
            grain: Grain { direction: GrainDirection::Along, tolerance: 0.0, one_way: false },
            flip: true,
            cloth: Vec::new(),
            goes: None,
            source: Some("under the reinforcing tape, of the cover's own cloth (AC 2-9c)".to_owned()),
        })
    });
}

/// The tube of a flat part is as deep as its ribs.
fn tube(part: &Part) -> f64 {
    match &part.kind {
        PartKind::Flat(flat) => flat.tube.iter().copied().fold(0.0, f64::max),
        _ => 0.0,
    }
}
