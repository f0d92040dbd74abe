//! Patches over fittings in few sizes, doilies over rings, and the patches over drains: what is cut for them, and where each
//! goes.

use std::collections::BTreeMap;

use super::{DrainHole, Patch, Ring};
use crate::covering::desk::{Desk, GIVE_FIGURE};
use crate::covering::dressing::{
    self, PatchSizes, Protrusion, RingMaterial, SPARE_SHARE, SizeCount, WantedPatch, WantedShape, covers, given_sizes,
    patch_sizes, protrusion,
};
use crate::covering::faces::Placed;
use crate::covering::{CoveredPart, RuleUsed};
use crate::job::{
    ControlKind, Edge, Fitting, FittingKind, FittingSize, Grain, GrainDirection, Grommet, InspectionOpening, Part,
    PatchSizeWish, Piece, Pinking, RingKind, Words,
};
use crate::shape::Curve;
use crate::units::{Units, inches};

/// Outside diameter of a plastic ring where the person does not say it: what a doily of 6-1/2 in with its margin of 1 in
/// implies, derived from approved covering manual p. 40 and AC 43.13-1B 2-14a(4).
const RING_OUTSIDE: f64 = inches(4.5);
/// How far a hand reaches through a ring, in millimetres. Common practice, no source.
const REACH: f64 = 350.0;

/// The sizes that patches are cut in.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct PatchChoice {
    /// Templates that are saved by rounding sizes up.
    pub templates_saved: usize,
    /// What that costs, in square millimetres of cloth.
    pub extra: f64,
    /// What all patches would take as they are wanted, in square millimetres.
    pub wanted: f64,
}

/// Pieces that are cut for things on the cloth, in the order in which they are first met.
#[derive(Default)]
pub(super) struct Cut {
    pub pieces: Vec<Piece>,
    by_name: BTreeMap<String, usize>,
}

impl Cut {
    /// Some more copies of a piece, which is made when it is met first.
    pub fn add(&mut self, name: &str, copies: u32, goes: &str, make: impl FnOnce() -> Option<Piece>) {
        if let Some(index) = self.by_name.get(name) {
            let piece = &mut self.pieces[*index];
            piece.quantity += copies;
            if let Some(places) = piece.goes.as_mut().filter(|places| !places.split("; ").any(|place| place == goes)) {
                places.push_str("; ");
                places.push_str(goes);
            }
            return;
        }
        if let Some(piece) = make() {
            self.by_name.insert(name.to_owned(), self.pieces.len());
            self.pieces.push(Piece { quantity: copies, goes: Some(goes.to_owned()), ..piece });
        }
    }
}

/// The sizes for all patches of a job: fewer templates for a little more cloth.
pub(super) fn sizes(
    wish: &PatchSizeWish,
    margin: f64,
    units: Units,
    parts: &[CoveredPart],
) -> (PatchSizes, PatchChoice) {
    let wanted: Vec<WantedPatch> = fittings(parts)
        .map(|(hands, fitting)| WantedPatch {
            shape: least(&fitting.what, margin, units),
            quantity: hands * fitting.what.layers,
        })
        .collect();
    let sizes = match wish {
        PatchSizeWish::Few => patch_sizes(&wanted, SizeCount::Fewest { spare: SPARE_SHARE }),
        PatchSizeWish::AtMost(most) => patch_sizes(&wanted, SizeCount::AtMost(*most as usize)),
        PatchSizeWish::These(given) => given_sizes(&wanted, &given.iter().map(as_wanted).collect::<Vec<_>>()),
    };
    let choice = PatchChoice { templates_saved: sizes.templates_saved, extra: sizes.extra, wanted: sizes.wanted };
    (sizes, choice)
}

fn as_wanted(size: &FittingSize) -> WantedShape {
    match *size {
        FittingSize::Rect(sides) => WantedShape::Rect(sides),
        FittingSize::Circle(diameter) => WantedShape::Circle(diameter),
    }
}

/// A caution for each fitting that none of the sizes that the person gave covers.
pub(super) fn told_uncovered(desk: &mut Desk, margin: f64, parts: &[CoveredPart]) {
    let PatchSizeWish::These(given) = &desk.rules.patch_sizes else { return };
    let given: Vec<WantedShape> = given.iter().map(as_wanted).collect();
    for (_, fitting) in fittings(parts) {
        let least = least(&fitting.what, margin, desk.job.units);
        if !given.iter().any(|size| covers(*size, least)) {
            let (name, size) = (&fitting.what.name, shape_words(desk, least));
            desk.caution(format!(
                "none of your \"patch_sizes\" covers {name:?} and its margin; its patch has a size of its own, {size}"
            ));
        }
    }
}

/// Every fitting of every face, in order, with how many hands have it.
fn fittings(parts: &[CoveredPart]) -> impl Iterator<Item = (u32, &Placed<Fitting>)> {
    let faces = parts.iter().flat_map(|part| &part.faces);
    faces.flat_map(|face| face.fittings.iter().map(move |fitting| (face.hands, fitting)))
}

/// What a patch must cover: the fitting with the margin past it all round, rounded up to what a rule shows: millimetres, or
/// sixteenths of an inch.
fn least(fitting: &Fitting, margin: f64, units: Units) -> WantedShape {
    let step = match units {
        Units::Mm | Units::Cm | Units::M => 1.0,
        Units::In | Units::Ft => inches(1.0 / 16.0),
    };
    // What is a whole number of steps but for rounding stays that.
    let with_margin = |size: f64| ((size + 2.0 * margin) / step - 1e-6).ceil() * step;
    match fitting.size {
        FittingSize::Rect(sides) => WantedShape::Rect(sides.map(with_margin)),
        FittingSize::Circle(diameter) => WantedShape::Circle(with_margin(diameter)),
    }
}

/// The patches of a part; `first` is the place of its first fitting among those of the job.
pub(super) fn patches(
    desk: &Desk,
    part: &CoveredPart,
    sizes: &PatchSizes,
    margin: &RuleUsed,
    first: usize,
    cut: &mut Cut,
) -> Vec<Patch> {
    let mut found = Vec::new();
    let mut place = first;
    for (index, face) in part.faces.iter().enumerate() {
        for fitting in &face.fittings {
            let least = least(&fitting.what, margin.used, desk.job.units);
            let size = sizes.sizes.iter().find(|size| size.serves.contains(&place)).map_or(least, |size| size.shape);
            place += 1;
            let piece = format!("patch {}", shape_words(desk, size));
            let copies = face.hands * fitting.what.layers;
            cut.add(&piece, copies, &part.name, || made(&piece, size, margin, desk));
            found.push(Patch {
                number: String::new(),
                over: fitting.what.name.clone(),
                face: index,
                at: fitting.at,
                shape: turned_like(size, least),
                least,
                piece,
                hands: face.hands,
                layers: fitting.what.layers,
                notes: patch_notes(&fitting.what),
            });
        }
    }
    found
}

/// A size with its longer side where the wanted one has it.
fn turned_like(size: WantedShape, least: WantedShape) -> WantedShape {
    match (size, least) {
        (WantedShape::Rect([long, short]), WantedShape::Rect([x, y])) if x < y => WantedShape::Rect([short, long]),
        _ => size,
    }
}

fn shape_words(desk: &Desk, shape: WantedShape) -> String {
    let show = |length: f64| desk.job.units.show(length);
    match shape {
        WantedShape::Rect([long, short]) => format!("{} × {}", show(long), show(short)),
        WantedShape::Circle(diameter) => format!("{} round", show(diameter)),
    }
}

fn patch_notes(fitting: &Fitting) -> Vec<String> {
    let mut notes = Vec::new();
    if fitting.ring {
        notes.push(
            if fitting.layers > 1 { "a plastic ring between the layers" } else { "a plastic ring under it" }.to_owned(),
        );
    }
    if fitting.height > 0.0 {
        notes.push(
            match protrusion(fitting.height) {
                Protrusion::SlitAfterShrinking => "cut after shrinking: the smallest slit (manual pp. 20, 24)",
                Protrusion::OpenBeforeShrinking => {
                    "seal and open before shrinking, as little as will do; it grows (manual p. 20)"
                }
            }
            .to_owned(),
        );
    } else if fitting.kind == FittingKind::CableExit {
        notes.push("cut after shrinking (AC 2-8d)".to_owned());
    }
    notes
}

fn made(name: &str, shape: WantedShape, margin: &RuleUsed, desk: &Desk) -> Option<Piece> {
    let margin_words = desk.job.units.show(margin.used);
    pinked(name, shape, format!("covers its fitting and {margin_words} past it ({})", margin.source_in_words()))
}

/// A pinked piece; round ones may lie at any angle.
fn pinked(name: &str, shape: WantedShape, source: String) -> Option<Piece> {
    let (outline, direction) = match shape {
        WantedShape::Rect([long, short]) => (Curve::rect(long, short), GrainDirection::Either),
        WantedShape::Circle(diameter) => (Curve::circle(diameter), GrainDirection::Free),
    };
    small_piece(name, outline, Edge::Pinked(Pinking::USUAL), direction, source)
}

/// A piece that may lie on any cloth with either face up; its copies are counted as they are met.
pub(super) fn small_piece(
    name: &str,
    outline: Curve,
    edge: Edge,
    direction: GrainDirection,
    source: String,
) -> Option<Piece> {
    let cut = outline.flatten().ok()?;
    let bounds = outline.bounds();
    Some(Piece {
        name: name.to_owned(),
        outline,
        quantity: 0,
        cut,
        size: [bounds.width(), bounds.height()],
        edge,
        grain: Grain { direction, tolerance: 0.0, one_way: false },
        flip: true,
        cloth: Vec::new(),
        goes: None,
        source: Some(source),
    })
}

/// The rings of a part with their doilies.
pub(super) fn rings(desk: &mut Desk, of: &Part, part: &CoveredPart, cut: &mut Cut) -> Option<Vec<Ring>> {
    let mut found = Vec::new();
    for (index, face) in part.faces.iter().enumerate() {
        for opening in &face.openings {
            found.push(ring(desk, of, part, index, opening, face.hands, cut)?);
        }
        for control in &face.controls {
            let within = |opening: &Placed<InspectionOpening>| {
                (opening.at.x - control.at.x).hypot(opening.at.y - control.at.y) <= REACH
            };
            if !face.openings.iter().any(within) {
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
    cut.add(&piece, hands, &part.name, || pinked(&piece, WantedShape::Circle(doily.diameter), source));
    let mut notes = vec!["cut the hole only when it is first needed (AC 2-14a(1))".to_owned()];
    if doily.optional {
        notes.push("over a metal ring the doily is left to you; in the slipstream and on the forward belly it is advised (AC 2-14a(3))".to_owned());
    }
    Some(Ring {
        number: String::new(),
        name: opening.what.name.clone(),
        face,
        at: opening.at,
        inside: opening.what.inside.unwrap_or(inside.used),
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
                cut.add(piece, face.hands, &part.name, || {
                    pinked(piece, WantedShape::Circle(figures.patch.used), source)
                });
            }
            found.push(DrainHole {
                number: String::new(),
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
