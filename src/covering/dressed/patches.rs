//! Patches over fittings in few sizes: what is cut for them, and where each goes.

use super::Patch;
use super::cut::{Cut, pinked};
use crate::covering::desk::Desk;
use crate::covering::dressing::{
    PatchSizes, Protrusion, SPARE_SHARE, SizeCount, WantedPatch, WantedShape, covers, given_sizes, patch_sizes,
    protrusion,
};
use crate::covering::faces::Placed;
use crate::covering::{CoveredPart, RuleUsed};
use crate::job::{Fitting, FittingKind, FittingSize, JobPlace, PatchSizeWish, Piece, Words};
use crate::units::{Units, inches};

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
            quantity: fitting.what.place.copies(hands) * fitting.what.layers,
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
            let hands = fitting.what.place.copies(face.hands);
            let copies = hands * fitting.what.layers;
            cut.add(&piece, copies, &part.name, &fitting.what.name, || made(&piece, size, margin, desk));
            found.push(Patch {
                number: String::new(),
                over: fitting.what.name.clone(),
                face: index,
                at: fitting.at,
                shape: turned_like(size, least),
                least,
                piece,
                hands,
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
    let mut notes: Vec<String> = one_hand_note(&fitting.place).into_iter().collect();
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

/// That something is not on both hands.
pub(super) fn one_hand_note(place: &JobPlace) -> Option<String> {
    place.hand.as_ref().map(|one| format!("on the {} one only", one.hand.word()))
}

fn made(name: &str, shape: WantedShape, margin: &RuleUsed, desk: &Desk) -> Option<Piece> {
    let margin_words = desk.job.units.show(margin.used);
    pinked(name, shape, format!("covers its fitting and {margin_words} past it ({})", margin.source_in_words()))
}
