//! Ribs that the cloth is fastened to: where each lace goes, and the cord and tape it takes.

use geo::{Distance, Euclidean};
use geo_types::{Coord, LineString, Point};

use super::cut::{Cut, small_piece};
use super::{LacedRib, LacesOnFace};
use crate::covering::desk::{Desk, GIVE_FIGURE};
use crate::covering::dressing::{anti_tear_strip, cord_of_rib, lace_spacing, laces, reinforced_rib};
use crate::covering::faces::{Face, FaceEdge, FaceMember};
use crate::job::{Attachment, Edge, GrainDirection, Location, MemberClass, Part, PartKind, Surface};
use crate::shape::{Curve, Side, length_of, point_along};
use crate::units::inches;

/// Width of a rib's cap where nothing is said. Common practice, no source.
const CAP: f64 = inches(0.5);
/// So finely it is looked where a rib meets a spar.
const STEPS: u32 = 1000;
/// Halvings of a chord until a place on it is exact to a thousandth of a millimetre and more.
const HALVINGS: u32 = 30;

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
        // A rule without an answer has none for the other ribs either; that is told once.
        let Some(laced) = one(desk, part, faces, rib, attachment) else { break };
        if let Some(laced) = laced {
            cut_anti_tear(desk, part, rib, &laced, cut);
            found.push(laced);
        }
    }
    found
}

/// How a rib is laced; inner `None` where it has nothing to lace, outer `None` where a rule has no answer.
fn one(
    desk: &mut Desk,
    part: &Part,
    faces: &[Face],
    rib: &FaceMember,
    attachment: Attachment,
) -> Option<Option<LacedRib>> {
    let location = match (faces[0].surface, rib.rib.is_some_and(|rib| rib.in_slipstream)) {
        (Surface::Empennage, _) => Location::Empennage,
        (_, true) => Location::SlipstreamRib,
        _ => Location::Rib,
    };
    let hint = "give \"spacing\" in \"figures\" of \"rules\" and say where it comes from";
    let spacing = desk.answer(lace_spacing(&desk.book, location), &part.at, hint)?;
    desk.note(&spacing);
    let [start, stop] = unlaced(&faces[0], rib);
    let length = length_of(&rib.run) - start - stop;
    if length <= 0.0 {
        return Some(None);
    }
    let along = laces(length, spacing.used);
    let depth = rib.rib.map_or_else(|| tube(part), |rib| rib.depth);
    let cap = rib.width.unwrap_or(CAP);
    let reinforced = reinforced_rib(&desk.book, along.first_to_last(), cap);
    let reinforced = desk.answer(reinforced, &part.at, GIVE_FIGURE)?;
    let anti_tear = anti_tear(desk, part, faces, rib, cap)?;
    let from_nose: Vec<f64> = along.at.iter().map(|at| start + at).collect();
    let places = faces.iter().enumerate().filter_map(|(index, face)| {
        let here = face.members.iter().find(|member| member.name == rib.name && member.class == rib.class)?;
        let from_nose = if index == 0 { from_nose.clone() } else { carried_over(part, rib, here, &from_nose) };
        let begins = unlaced(face, here)[0];
        let at = from_nose.iter().filter_map(|at| point_along(&here.run, *at)).map(|(point, _)| point).collect();
        Some(LacesOnFace { face: index, along: from_nose.iter().map(|at| at - begins).collect(), at })
    });
    Some(Some(LacedRib {
        rib: rib.name.clone(),
        at: along.at.clone(),
        spacing: spacing.used,
        cord: cord_of_rib(attachment, &along, cap, depth).map(|cord| cord.length),
        cap: (cap, rib.width.is_some()),
        reinforcing_strip: (reinforced.reinforcing, reinforced.width, reinforced.side_by_side),
        reinforcing: 2.0 * f64::from(reinforced.side_by_side) * reinforced.reinforcing,
        anti_tear,
        places: places.collect(),
        hands: faces[0].hands,
        source: spacing.source_in_words(),
    }))
}

/// How much of a rib is not laced at its nose and at its other end: what a nose sheet covers, and what lies on a tube.
fn unlaced(face: &Face, rib: &FaceMember) -> [f64; 2] {
    if let Some(size) = rib.rib {
        return [size.sheet, 0.0];
    }
    let on_tube = |end: Option<&Coord<f64>>| {
        let Some(end) = end else { return 0.0 };
        let reach = |edge: &FaceEdge| {
            edge.reaches_in.unwrap_or(0.0) - Euclidean.distance(&Point(*end), &LineString::new(edge.run.clone()))
        };
        face.edges.iter().map(reach).fold(0.0, f64::max)
    };
    [on_tube(rib.run.first()), on_tube(rib.run.last())]
}

/// Laces of the first face on another one: a lace goes through the rib square to the chord. Distances from the nose.
fn carried_over(part: &Part, rib: &FaceMember, here: &FaceMember, from_nose: &[f64]) -> Vec<f64> {
    let (PartKind::Ribbed(wing), Some(size)) = (&part.kind, rib.rib) else { return from_nose.to_vec() };
    // The rib ends at a recess, or at the trailing edge.
    let aft = (size.chord * wing.section.greatest_depth() / size.depth).min(1.0);
    let whole = |side: Side| wing.section.girth(side, 0.0, aft);
    let (top, bottom) = (rib.length() / whole(Side::Top), here.length() / whole(Side::Bottom));
    let place = |at: &f64| {
        let (mut low, mut high) = (0.0, aft);
        for _ in 0..HALVINGS {
            let middle = (low + high) / 2.0;
            if wing.section.girth(Side::Top, 0.0, middle) * top < *at { low = middle } else { high = middle }
        }
        wing.section.girth(Side::Bottom, 0.0, low) * bottom
    };
    from_nose.iter().map(place).collect()
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
    let source = "under the reinforcing tape, of the cover's own cloth (AC 2-9c)".to_owned();
    cut.add(&name, sides * laced.hands, &part.name, &rib.name, || {
        small_piece(&name, Curve::rect(length, width), Edge::Plain, GrainDirection::Along, source)
    });
}

/// The tube of a flat part is as deep as its ribs.
fn tube(part: &Part) -> f64 {
    match &part.kind {
        PartKind::Flat(flat) => flat.tube.iter().copied().fold(0.0, f64::max),
        _ => 0.0,
    }
}
