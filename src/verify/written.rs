//! A written lay against the job that it was made for.

use std::collections::{BTreeMap, BTreeSet};

use super::cloth::{check_flip, check_places, check_turn, coordinates, farthest, is_finite, length_used, not_finite};
use super::counts::{check_cloths, check_copies};
use super::edges::Shape;
use super::outline::check_outline;
use super::tape::check_tape;
use super::{Fault, Finding, Named, TOLERANCE};
use crate::covering::cover;
use crate::job::{self, Grain, GrainDirection, Job, Piece};
use crate::nest::{Cloth, Turns};
use crate::plan::{LaidCloth, LaidPiece, LayFile, PlanFault, pieces_with};
use crate::shape::Pose;
use geo_types::Coord;

/// By how much a written waste or density may differ from the one that is worked out again: a hundredth of a per cent.
pub const RATIO_TOLERANCE: f64 = 1e-4;

/// Checks a written lay against its job: the pieces that it gives, and the panels of its airframe, worked out again.
///
/// Collisions are measured between the outlines in the file, since these are what gets cut; and each outline must be the
/// job's cut outline, flipped, turned and moved as its entry says, to [`TOLERANCE`] millimetres a point. Further: every
/// copy is laid or listed as unplaced exactly once; names, widths, usable widths and counts are the job's; length used,
/// waste and density (both to [`RATIO_TOLERANCE`]) are worked out again. A tape plan is held against the runs of the airframe
/// and the rolls of the job.
pub fn verify_lay(lay: &LayFile, job: &Job) -> Vec<Finding> {
    let covering = match cover(job).map_err(PlanFault::from) {
        Ok(covering) => covering,
        Err(fault) => return vec![Finding { cloth: None, fault: Fault::NoPieces { why: fault.to_string() } }],
    };
    let pieces = pieces_with(job, &covering);
    let tape = lay.tape.iter().flat_map(|plan| check_tape(plan, job, &covering, &pieces));
    let mut findings: Vec<Finding> = tape.map(|fault| Finding { cloth: None, fault }).collect();
    findings.extend(verify_pieces(lay, job, &pieces, |piece| (1..=piece.quantity).collect()));
    findings
}

/// Checks a written lay against these pieces of a job, of which these copies are to be laid.
pub(super) fn verify_pieces(
    lay: &LayFile,
    job: &Job,
    pieces: &[Piece],
    copies: impl Fn(&Piece) -> Vec<u32>,
) -> Vec<Finding> {
    let whole = |fault| Finding { cloth: None, fault };
    let mut findings = Vec::new();
    if lay.format != 1 {
        findings.push(whole(Fault::Format { given: lay.format }));
    }
    findings.extend(check_names(lay, job, pieces).into_iter().map(whole));
    let wanted: Vec<_> = pieces.iter().map(|piece| (piece.name.clone(), copies(piece))).collect();
    let laid = lay.cloths.iter().flat_map(|cloth| &cloth.pieces).map(|laid| Named::new(&laid.piece, laid.copy));
    let unplaced = lay.unplaced.iter().map(|unplaced| Named::new(&unplaced.piece, unplaced.copy));
    findings.extend(check_copies(&wanted, laid.chain(unplaced)).into_iter().map(whole));
    for unplaced in lay.unplaced.iter().filter(|unplaced| unplaced.why.trim().is_empty()) {
        findings.push(whole(Fault::NoReason { piece: Named::new(&unplaced.piece, unplaced.copy) }));
    }
    let known: Vec<_> = job.cloth.iter().map(|cloth| (cloth.name.clone(), cloth.count)).collect();
    let cloths: Vec<_> = lay.cloths.iter().map(|cloth| Named::new(&cloth.cloth, cloth.number)).collect();
    let faulty = check_cloths(&known, &cloths).into_iter();
    findings.extend(faulty.map(|(cloth, fault)| Finding { cloth: Some(cloth), fault }));
    let pieces: BTreeMap<&str, &Piece> = pieces.iter().map(|piece| (piece.name.as_str(), piece)).collect();
    let known: BTreeMap<&str, &job::Cloth> = job.cloth.iter().map(|cloth| (cloth.name.as_str(), cloth)).collect();
    for (name, laid) in cloths.iter().zip(&lay.cloths) {
        if let Some(cloth) = known.get(laid.cloth.as_str()) {
            let faults = check_written_cloth(job, &pieces, cloth, laid);
            findings.extend(faults.into_iter().map(|fault| Finding { cloth: Some(name.clone()), fault }));
        }
    }
    findings
}

/// Names in the lay that the job does not have, each once.
fn check_names(lay: &LayFile, job: &Job, pieces: &[Piece]) -> Vec<Fault> {
    let laid = lay.cloths.iter().flat_map(|cloth| &cloth.pieces).map(|laid| &laid.piece);
    let named = laid.chain(lay.unplaced.iter().map(|unplaced| &unplaced.piece));
    let known_pieces: BTreeSet<&str> = pieces.iter().map(|piece| piece.name.as_str()).collect();
    let unknown_pieces = once_each(named.filter(|name| !known_pieces.contains(name.as_str())));
    let cloths = lay.cloths.iter().map(|cloth| &cloth.cloth);
    let known_cloths: BTreeSet<&str> = job.cloth.iter().map(|cloth| cloth.name.as_str()).collect();
    let unknown_cloths = once_each(cloths.filter(|name| !known_cloths.contains(name.as_str())));
    let pieces = unknown_pieces.into_iter().map(|name| Fault::UnknownPiece { name });
    pieces.chain(unknown_cloths.into_iter().map(|name| Fault::UnknownCloth { name })).collect()
}

fn once_each<'a>(names: impl Iterator<Item = &'a String>) -> Vec<String> {
    let mut names: Vec<_> = names.cloned().collect();
    names.sort();
    names.dedup();
    names
}

fn check_written_cloth(job: &Job, pieces: &BTreeMap<&str, &Piece>, cloth: &job::Cloth, laid: &LaidCloth) -> Vec<Fault> {
    let ground = match ground(cloth) {
        Ok(ground) => ground,
        Err(fault) => return vec![fault],
    };
    let mut faults = Vec::new();
    let mut lying = Vec::new();
    let mut area = 0.0;
    for written in &laid.pieces {
        let name = Named::new(&written.piece, written.copy);
        if !all_finite(written) {
            faults.push(not_finite(&name));
            continue;
        }
        if let Some(piece) = pieces.get(written.piece.as_str()) {
            faults.extend(check_written_piece(&name, piece, cloth, &ground, written));
            area += piece.cut.area();
        }
        let holes: Vec<_> = written.holes.iter().map(|hole| coordinates(hole)).collect();
        let shape = Shape::from_rings(&coordinates(&written.outline), holes.iter().map(Vec::as_slice));
        lying.push((name, shape));
    }
    faults.extend(check_places(&ground, job.gap, &lying));
    faults.extend(check_figures(cloth, &ground, laid, length_used(&lying), area));
    faults
}

fn check_written_piece(
    name: &Named,
    piece: &job::Piece,
    cloth: &job::Cloth,
    ground: &Cloth,
    written: &LaidPiece,
) -> Vec<Fault> {
    let pose = pose(written);
    let wrong_cloth = !piece.cloth.is_empty() && !piece.cloth.contains(&cloth.name);
    let wrong_cloth = wrong_cloth.then(|| Fault::WrongCloth { piece: name.clone() });
    let how = check_outline(pose.apply_to(&piece.cut).polygon(), &written.outline, &written.holes);
    let other = how.map(|how| Fault::OtherOutline { piece: name.clone(), how });
    let turn = check_turn(name, &turns(piece.grain), &pose, farthest(&piece.cut));
    let flip = check_flip(name, piece.flip, ground, &pose);
    [wrong_cloth, turn, flip, other].into_iter().flatten().collect()
}

/// Checks the figures of a cloth against the job and against what lies on it.
fn check_figures(cloth: &job::Cloth, ground: &Cloth, laid: &LaidCloth, length: f64, area: f64) -> Vec<Fault> {
    let share = |width: f64| if length > 0.0 { area / (width * length) } else { 0.0 };
    let usable = ground.usable[1] - ground.usable[0];
    let figures = [
        ("the width", laid.width, cloth.width, TOLERANCE),
        ("the lower end of the usable width", laid.usable[0], ground.usable[0], TOLERANCE),
        ("the upper end of the usable width", laid.usable[1], ground.usable[1], TOLERANCE),
        ("the length used", laid.length_used, length, TOLERANCE),
        ("the waste", laid.waste, 1.0 - share(cloth.width), RATIO_TOLERANCE),
        ("the density", laid.density, share(usable), RATIO_TOLERANCE),
    ];
    let wrong = |(what, given, found, tolerance): (&'static str, f64, f64, f64)| {
        let agrees = (given - found).abs() <= tolerance;
        (!agrees).then_some(Fault::WrongFigure { what, given, found })
    };
    figures.into_iter().filter_map(wrong).collect()
}

fn pose(written: &LaidPiece) -> Pose {
    Pose { turn: written.turn, flipped: written.flipped, at: Coord { x: written.at[0], y: written.at[1] } }
}

fn all_finite(written: &LaidPiece) -> bool {
    let mut points = written.outline.iter().chain(written.holes.iter().flatten());
    is_finite(&pose(written)) && points.all(|[x, y]| x.is_finite() && y.is_finite())
}

/// A cloth of the job as ground to lie on.
pub(super) fn ground(cloth: &job::Cloth) -> Result<Cloth, Fault> {
    let flat =
        |curve: &crate::shape::Curve| curve.flatten().map_err(|fault| Fault::BadCloth { why: fault.to_string() });
    Ok(Cloth {
        usable: [cloth.selvage[0], cloth.width - cloth.selvage[1]],
        length: cloth.length,
        region: cloth.outline.as_ref().map(flat).transpose()?,
        flaws: cloth.flaws.iter().map(|flaw| flat(&flaw.outline)).collect::<Result<_, _>>()?,
        count: cloth.count,
        price: 0.0,
        faces_alike: cloth.faces_alike,
    })
}

/// The turns that keep a grain: those that bring the piece's x axis into its direction, and the half turns of those
/// unless the cloth has an up and a down.
fn turns(grain: Grain) -> Turns {
    let mut angles = match grain.direction {
        GrainDirection::Free => return Turns::Any,
        GrainDirection::Along => vec![0.0],
        GrainDirection::Across => vec![90.0],
        GrainDirection::Either => vec![0.0, 90.0],
        GrainDirection::Bias => vec![45.0, 135.0],
    };
    if !grain.one_way {
        angles.extend(angles.clone().into_iter().map(|angle| angle + 180.0));
    }
    Turns::These { angles, tilt: grain.tolerance }
}
