//! Trusses: faces between tubes in space, such as the bottom, the sides and the decks of a fuselage.
//!
//! A face is laid out flat between the centre lines of its tubes, over which the cloth leaves it. Where no cloth lies on a
//! tube yet, the cloth is wrapped once round it; where an earlier face has covered it, the cloth laps over that. A face
//! that is too wide for the cloth is divided like any panel: along tubes across it on which a lap may lie, else by a sewn
//! seam.

mod borders;
mod faces;
mod folds;
mod plan;
mod sheet;
mod twist;

use std::collections::BTreeSet;
use std::f64::consts::FRAC_PI_2;

use super::balance::balance;
use super::desk::Desk;
use super::panel::Panel;
use super::place_figures::PlaceFigures;
use super::seams::Ground;
use super::{CoveredPart, CoveringFault, Dressed};
use crate::job::{Face, Location, Member, Part, Spot, Surface, Truss};
use crate::shape::UnrollFault;
use borders::{Border, borders};
use folds::folds;
use plan::{FaceCloth, plan};
use sheet::{Sheet, lies, seen_from_outside, sheet};
use twist::{AT_250, AT_350, Twist, twist};

/// What part of its diameter's worth of tube carries a lap: half of the circumference, to which cloth can be pressed down.
const CARRIES: f64 = FRAC_PI_2;

/// A bend over a tube that takes less cloth than this, in millimetres, is not worth a word.
const LEAST_BEND: f64 = 2.0;

fn fault(at: &Spot, message: impl Into<String>, hint: impl Into<String>) -> CoveringFault {
    CoveringFault { at: at.clone(), message: message.into(), hint: hint.into() }
}

/// The panels of a truss.
pub(super) fn cover(desk: &mut Desk, part: &Part, truss: &Truss) -> Option<CoveredPart> {
    let figures = PlaceFigures::ask(desk, Location::Fuselage, &part.at)?;
    let rings: Vec<Vec<usize>> = truss.faces.iter().map(|face| seen_from_outside(truss, face)).collect();
    let borders = match borders(truss, &rings, desk.book.method()) {
        Ok(borders) => borders,
        Err(faults) => {
            faults.into_iter().for_each(|found| desk.fault(&found.at, found.message, found.hint));
            return None;
        }
    };
    let mut panels = Vec::new();
    let mut covered = Vec::new();
    let mut taped = BTreeSet::new();
    let mut area = 0.0;
    let mut sound = true;
    for ((face, ring), borders) in truss.faces.iter().zip(rings).zip(&borders) {
        let sheet = laid_flat(desk, truss, face, &ring);
        let panel = sheet.as_ref().and_then(|sheet| face_panel(desk, part, truss, &figures, face, sheet, borders));
        let (Some(sheet), Some(panel)) = (sheet, panel) else {
            sound = false;
            continue;
        };
        covered.push(faces::face(part, truss, face, &sheet, borders, &mut taped));
        area += panel.trimmed.area() * if face.mirrored { 2.0 } else { 1.0 };
        panels.extend(both_hands(desk, part, face, panel));
        caution_of_narrow_tubes(desk, part, face, borders, &figures);
    }
    let balance = balance(desk.rules, &desk.cloths(part), area, panels.first()?, None);
    let faces = desk.faces(part, covered.into_iter().collect(), false)?;
    sound.then_some(CoveredPart {
        name: part.name.clone(),
        panels,
        balance: Some(balance),
        hinge: None,
        faces,
        dressed: Dressed::default(),
    })
}

/// A face laid out flat; a fault where that cannot be done.
fn laid_flat<'t>(desk: &mut Desk, truss: &'t Truss, face: &Face, ring: &[usize]) -> Option<Sheet<'t>> {
    let why = match sheet(truss, ring.to_vec()) {
        Ok(sheet) => return Some(sheet),
        Err(UnrollFault::NoArea { bay }) => {
            let names: Vec<String> = bay.iter().map(|at| format!("{:?}", truss.nodes[ring[*at]].name)).collect();
            format!("nodes {} lie on one line", names.join(", "))
        }
        Err(other) => other.to_string(),
    };
    let message = format!("face {:?} cannot be laid out flat: {why}", face.name);
    desk.fault(&face.at, message, "look at the places of its nodes and at the tubes across it");
    None
}

/// The panel of a face as it is written, not of its mirror image.
fn face_panel(
    desk: &mut Desk,
    part: &Part,
    truss: &Truss,
    figures: &PlaceFigures,
    face: &Face,
    sheet: &Sheet,
    borders: &[Border],
) -> Option<Panel> {
    let twist = twist(truss, sheet, desk.job.units);
    check_twist(desk, part, face, &twist)?;
    caution_of_folds(desk, part, truss, face, sheet);
    let plan = plan(
        &FaceCloth { part, truss, face, sheet, borders, grain: truss.grain, figures, units: desk.job.units },
        &twist,
    );
    let members: Vec<Member> = sheet
        .across
        .iter()
        .map(|across| Member {
            class: across.tube.class,
            from: sheet.points[across.ends[0]].into(),
            to: sheet.points[across.ends[1]].into(),
            width: Some(CARRIES * across.tube.diameter),
            at: across.tube.at.clone(),
        })
        .collect();
    desk.panel(plan, part, Surface::Fuselage, &Ground::new(&members))
}

/// The panel for every copy that is built: one for both hands where either face of the cloth may be outside.
fn both_hands(desk: &Desk, part: &Part, face: &Face, panel: Panel) -> Vec<Panel> {
    // The mirror image of a truss has the mirror images of all its faces.
    let (as_written, images) = match (face.mirrored, part.mirrored) {
        (false, false) => (1, 0),
        (true, true) => (2, 2),
        _ => (1, 1),
    };
    let copies = |mut panel: Panel, quantity| {
        panel.plan.quantity = quantity;
        panel.plan.faces.iter_mut().for_each(|(_, copies)| *copies = quantity);
        panel
    };
    if images == 0 || desk.faces_alike(part) {
        return vec![copies(panel, as_written + images)];
    }
    let mirrored = if is_upright(&panel) { panel.mirrored_upright() } else { panel.mirrored() };
    let mut image = copies(mirrored, images);
    if let ([before, ..], [after, ..]) = (&panel.plan.marks.ways[..], &image.plan.marks.ways[..]) {
        image.plan.goes = panel.plan.goes.replace(&lies(before), &lies(after));
    }
    image.plan.name = format!("{}, mirror image", image.plan.name);
    vec![copies(panel, as_written), image]
}

/// Whether the top of the panel is up in its drawing, and not beside it.
fn is_upright(panel: &Panel) -> bool {
    panel.plan.marks.ways.iter().any(|way| way.word == "top" && way.towards.y > 0.0)
}

/// Says what a twisted face asks of the cloth; `None` where it is more than cloth can do.
fn check_twist(desk: &mut Desk, part: &Part, face: &Face, twist: &Twist) -> Option<()> {
    let percent = |share: f64| (share * 100.0).round();
    let name = format!("{}, {}", part.name, face.name);
    if !twist.short.is_empty() {
        let places = twist.short.join(", ");
        desk.caution(format!(
            "{name}: it is bent two ways, and flat cloth is too short by {places}; leave it that much slack"
        ));
    }
    if !twist.hot.is_empty() {
        let (cool, hot, places) = (percent(AT_250), percent(AT_350), twist.hot.join(", "));
        desk.caution(format!(
            "{name}: it is twisted, and heat must take up {places}. Polyester takes up {cool} % at 250 °F and {hot} % at \
             350 °F, which no cemented seam bears (manual pp. 13, 23; FAA-H-8083-31 chapter 3)"
        ));
    }
    if !twist.beyond.is_empty() {
        let (hot, places) = (percent(AT_350), twist.beyond.join(", "));
        let message = format!(
            "face {:?} is twisted so far that no flat cloth covers it: heat would have to take up {places}, and polyester \
             takes up {hot} % at most",
            face.name
        );
        desk.fault(&face.at, message, "divide it: add a tube across it, or make two faces of it");
        return None;
    }
    Some(())
}

/// Bends over tubes: what the cloth runs farther outside a tube, and where it does not touch one.
fn caution_of_folds(desk: &mut Desk, part: &Part, truss: &Truss, face: &Face, sheet: &Sheet) {
    let name = format!("{}, {}", part.name, face.name);
    for fold in folds(truss, sheet, LEAST_BEND) {
        let [from, to] = fold.nodes;
        let degrees = fold.degrees.round();
        let bent = format!("{name}: the face is bent by {degrees}° over the tube from {from:?} to {to:?}");
        desk.caution(match fold.longer {
            Some(longer) => {
                let longer = desk.job.units.show(longer);
                format!(
                    "{bent}; the cloth runs {longer} farther round the tube than the panel shows, out of its handling"
                )
            }
            None => format!("{bent}, inwards; tight cloth spans the hollow and does not touch the tube"),
        });
    }
}

/// A lapped seam needs structure as wide as itself.
fn caution_of_narrow_tubes(desk: &mut Desk, part: &Part, face: &Face, borders: &[Border], figures: &PlaceFigures) {
    let lapped = borders.iter().filter(|border| border.under.is_some() || border.meets_own_image);
    let thinnest = lapped.map(|border| border.tube.diameter).fold(f64::INFINITY, f64::min);
    let lap = figures.joint.used;
    if !figures.sewn() && lap > CARRIES * thinnest {
        let [lap, tube, carried] = [lap, thinnest, CARRIES * thinnest].map(|length| desk.job.units.show(length));
        desk.caution(format!(
            "{}, {}: a lap of {lap} goes round more than half of the {tube} tube, {carried}; a lapped seam needs structure \
             as wide as itself (AC 2-8 NOTE)",
            part.name, face.name
        ));
    }
}
