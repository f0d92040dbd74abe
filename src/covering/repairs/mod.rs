//! Repairs: from a damaged place to the patch that is cut and the tape over its edge.
//!
//! Sources: AC 43.13-1B 2-42 to 2-45 for doped and sewn repairs, an approved covering manual p. 89 for cemented ones.

mod figures;
mod patch;

use super::desk::Desk;
use super::rules::RuleUsed;
use crate::job::{Location, Method, Opening, Piece, Repair, RepairKind, RepairPlace, RuleFigure, Words};
use crate::units::inches;
use figures::figures;
use patch::Reach;

/// A repair that is worked out. Lengths in millimetres.
#[derive(Clone, Debug, PartialEq)]
pub struct RepairWork {
    /// Name of the repair in the job.
    pub name: String,
    /// How it is repaired.
    pub kind: RepairKind,
    /// What is closed.
    pub opening: Opening,
    /// The patch to cut; `None` for a tear that is sewn up.
    pub patch: Option<Piece>,
    /// How far the patch goes past the opening, or how much of a sewn patch is folded under; `None` for a tear.
    pub lap: Option<RuleUsed>,
    /// Width of the tape over the edge or the stitches; `None` where none is called for.
    pub tape: Option<RuleUsed>,
    /// Length of tape; 0 where there is none.
    pub tape_length: f64,
    /// What to do, in order, beyond sizes.
    pub steps: Vec<String>,
}

/// Works out a repair, and notes what the person should think about.
pub(super) fn work(desk: &mut Desk, repair: &Repair) -> Option<RepairWork> {
    let found = figures(repair, desk.book.vne());
    let lap_figure = if repair.kind == RepairKind::SewnPatch { RuleFigure::Margin } else { RuleFigure::Lap };
    let lap = found.lap.map(|lap| desk.book.own_or(lap_figure, Location::Repair, lap));
    let tape = match found.tape {
        Some(tape) => Some(desk.book.own_or(RuleFigure::Tape, Location::Repair, tape)),
        None => desk.book.figure(RuleFigure::Tape, Location::Repair).ok(),
    };
    for used in [&lap, &tape].into_iter().flatten() {
        desk.note_repair(used, &repair.name);
    }
    let reach = lap.as_ref().map(|lap| Reach::of(repair, lap.used));
    let patch = match (&lap, &reach) {
        (Some(lap), Some(reach)) => match patch::piece(desk, repair, lap, reach, tape.as_ref()) {
            Ok(piece) => Some(piece),
            Err(fault) => {
                let hint = "look at the size of the opening and at the distances of its members";
                desk.fault(&repair.at, format!("the patch of {:?} cannot be cut: {fault}", repair.name), hint);
                return None;
            }
        },
        _ => None,
    };
    if repair.kind != RepairKind::CementedPatch {
        desk.caution(
            "repairs: cloth, cord and tape at least as strong as the original; on synthetic cloth its approved manual \
             comes first (AC 2-42, 2-42h)"
                .to_owned(),
        );
    }
    for caution in cautions(desk, repair, reach.as_ref()) {
        desk.caution(format!("{}: {caution}", repair.name));
    }
    let tape_length = tape.as_ref().map_or(0.0, |tape| tape_length(repair, patch.as_ref(), tape.used));
    Some(RepairWork {
        name: repair.name.clone(),
        kind: repair.kind,
        opening: repair.opening,
        steps: steps(desk, repair),
        patch,
        lap,
        tape,
        tape_length,
    })
}

/// Tape along each edge of the patch, or along the stitches of a sewn one, each strip half its width past the corners; a
/// round one overlaps itself by its width. Common practice, no source.
fn tape_length(repair: &Repair, patch: Option<&Piece>, width: f64) -> f64 {
    match (repair.kind, repair.opening, patch) {
        (RepairKind::SewnPatch, Opening::Rect([length, across]), _) => 2.0 * (length + across) + 4.0 * width,
        (_, Opening::Rect(_), Some(piece)) => 2.0 * (piece.size[0] + piece.size[1]) + 4.0 * width,
        (_, Opening::Circle(_), Some(piece)) => std::f64::consts::PI * piece.size[0] + width,
        (_, opening, _) => opening.longest() + width,
    }
}

fn steps(desk: &Desk, repair: &Repair) -> Vec<String> {
    let show = |length: f64| desk.job.units.show(length);
    let mut steps = Vec::new();
    if matches!(repair.kind, RepairKind::SewnPatch) {
        steps.push(format!(
            "trim the opening straight on four sides, {} inside the line of the stitches, and fold that under (AC 2-44a)",
            show(inches(0.5))
        ));
    }
    if matches!(repair.kind, RepairKind::SewnPatch | RepairKind::SewnTear) {
        steps.push(format!(
            "take the coats off for {} on each side of the stitches; lock the stitches every 10 at most (AC 2-43)",
            show(inches(2.0))
        ));
    }
    steps
}

fn cautions(desk: &Desk, repair: &Repair, reach: Option<&Reach>) -> Vec<String> {
    let show = |length: f64| desk.job.units.show(length);
    let mut cautions = Vec::new();
    let suits = match desk.book.method() {
        Method::Cemented => repair.kind == RepairKind::CementedPatch,
        Method::Doped | Method::Sewn => repair.kind != RepairKind::CementedPatch,
    };
    if !suits {
        cautions.push(format!(
            "a {} on {} covering mixes two systems: use one only (AC 2-5)",
            repair.kind.word(),
            desk.book.method().word()
        ));
    }
    if repair.spans_two_ribs && matches!(repair.place, RepairPlace::WingTop | RepairPlace::WingBottom) {
        cautions.push(
            "new cloth over two adjacent wing ribs is a major repair: in the US an entry in the log and FAA Form 337 \
             (AC 2-42d); elsewhere the national rules decide"
                .to_owned(),
        );
    }
    if matches!(repair.place, RepairPlace::Empennage | RepairPlace::ControlSurface) {
        cautions.push("if this is a control surface, check its balance after the repair (AC 2-5f)".to_owned());
    }
    for (side, past) in reach.iter().flat_map(|reach| reach.carried()) {
        cautions.push(format!(
            "on the {} side the patch would end within {} of a member that the cloth is attached to, or past it: it is \
             carried {} past the member; repeat the lacing there (AC 2-42f)",
            side.word(),
            show(patch::NEAR),
            show(*past)
        ));
    }
    cautions
}
