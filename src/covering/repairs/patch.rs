//! The patch of a repair: how far it reaches on each side of the opening, and the piece that is cut.

use crate::covering::desk::Desk;
use crate::covering::rules::RuleUsed;
use crate::job::{Edge, Grain, GrainDirection, NearMember, Opening, Piece, Pinking, Repair, RepairKind, Side, Words};
use crate::shape::{Allowance, Curve, Join, OutlineFault};
use crate::units::inches;

/// A patch that ends no farther than this from a member that the cloth is attached to is carried past it: AC 2-42f.
pub(super) const NEAR: f64 = inches(1.0);
/// How far past it: AC 2-42f.
const PAST: f64 = inches(3.0);

/// How far a patch goes past each side of its opening, in millimetres.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Reach {
    /// In the order of the edges of the outline: lower, right, upper, left of a rectangle, or all round.
    by_edge: Vec<f64>,
    /// The sides that are carried past a member, and how far past it they end.
    carried: Vec<(Side, f64)>,
}

impl Reach {
    /// The lap on each side, or 3 in past a member where the lap would end within 1 in before it (AC 43.13-1B 2-42f). A lap
    /// that would end past the member lies on its attachments too, and goes as far.
    pub fn of(repair: &Repair, lap: f64) -> Self {
        if !matches!(repair.opening, Opening::Rect(_)) {
            return Self { by_edge: vec![lap], carried: Vec::new() };
        }
        let near = |side: Side| {
            let member = repair.members.iter().find(|member| member.side == side);
            member.filter(|member| lap >= member.distance - NEAR - 1e-9)
        };
        let reach = |member: &NearMember| lap.max(member.distance + PAST);
        let by_edge = Side::ALL.map(|side| near(side).map_or(lap, reach)).to_vec();
        let carried = Side::ALL
            .into_iter()
            .filter_map(|side| near(side).map(|member| (side, reach(member) - member.distance)))
            .collect();
        Self { by_edge, carried }
    }

    /// The sides that are carried past a member, and how far past it they end.
    pub fn carried(&self) -> &[(Side, f64)] {
        &self.carried
    }
}

/// The piece to cut.
///
/// Its edge is pinked unless it lies under tape (AC 43.13-1B 2-42e) or is folded under.
pub(super) fn piece(
    desk: &Desk,
    repair: &Repair,
    lap: &RuleUsed,
    reach: &Reach,
    tape: Option<&RuleUsed>,
) -> Result<Piece, OutlineFault> {
    let outline = match repair.opening {
        Opening::Rect([length, width]) => Curve::rect(length, width),
        Opening::Circle(size) | Opening::Tear(size) => Curve::circle(size),
    };
    let allowance = Allowance { by_edge: reach.by_edge.clone(), join: Join::Mitred };
    let cut = outline.cut_outline(&allowance)?;
    let covered = tape.is_some() || repair.kind == RepairKind::SewnPatch;
    Ok(Piece {
        name: format!("{} patch", repair.name),
        size: outline.cut_size(&allowance, &cut),
        outline,
        quantity: 1,
        cut,
        edge: if covered { Edge::Plain } else { Edge::Pinked(Pinking::USUAL) },
        grain: Grain { direction: GrainDirection::Either, tolerance: 0.0, one_way: false },
        flip: true,
        cloth: repair.cloth.clone(),
        goes: Some(format!("{}, {}", repair.place.word(), repair.kind.word())),
        source: Some(source(desk, repair, lap, reach, tape)),
    })
}

/// The figures of the patch, each with its source.
fn source(desk: &Desk, repair: &Repair, lap: &RuleUsed, reach: &Reach, tape: Option<&RuleUsed>) -> String {
    let show = |length: f64| desk.job.units.show(length);
    let mut lines: Vec<String> = repair.source.iter().cloned().collect();
    lines.push(match repair.opening {
        Opening::Rect([length, width]) => format!("opening {} × {}", show(length), show(width)),
        Opening::Circle(size) | Opening::Tear(size) => format!("opening {} across", show(size)),
    });
    let what = if repair.kind == RepairKind::SewnPatch { "fold" } else { "lap" };
    lines.push(format!("{what} {} ({})", show(lap.used), lap.source_in_words()));
    for (side, past) in reach.carried() {
        lines.push(format!("{} side {} past the member (AC 2-42f)", side.word(), show(*past)));
    }
    lines.push(match tape {
        Some(tape) => format!("tape {} wide ({})", show(tape.used), tape.source_in_words()),
        None => "no tape; edge pinked (AC 2-42e)".to_owned(),
    });
    lines.join("; ")
}
