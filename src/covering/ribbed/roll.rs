//! Which way the roll runs: along the span, along the chord, or whichever has fewer seams and takes less of it.

use super::super::desk::Desk;
use super::super::seams::{Ground, divided};
use super::{Figure, Panel, PanelPlan, grain};
use crate::job::{GrainDirection, Member, Part, RibbedPart, Roll};

/// The way that was chosen for all panels of a part, so that top and bottom, left and right have the same grain.
pub(super) struct Choice {
    direction: GrainDirection,
    /// What this way and the other one take, where both were compared.
    compared: Option<(Taken, Option<Taken>)>,
}

/// What all panels of a part take, before any lay.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Taken {
    seams: usize,
    /// Length of roll with strips side by side as often as the width has room for them.
    length: f64,
}

impl Choice {
    /// The plan with its grain, and with what the choice took.
    pub fn applied_to(&self, mut plan: PanelPlan) -> PanelPlan {
        plan.grain = grain(self.direction);
        let [this, other] = match self.direction {
            GrainDirection::Along => ["spanwise", "chordwise"],
            _ => ["chordwise", "spanwise"],
        };
        if let Some((taken, by_other)) = self.compared {
            let instead = match by_other {
                Some(Taken { seams, length }) => {
                    let more = 100.0 * (length / taken.length - 1.0);
                    let more = if more < 0.0 { format!("{:.1} % less", -more) } else { format!("{more:.1} % more") };
                    format!("{other} it takes {more} and has {}", seams_in_words(seams))
                }
                None => format!("{other} no cloth is wide enough"),
            };
            plan.figures.push(Figure {
                what: format!("roll {this} for all panels of the part"),
                value: taken.length,
                source: format!("strip beside strip, with {}; {instead}", seams_in_words(taken.seams)),
            });
        }
        plan
    }
}

fn seams_in_words(seams: usize) -> String {
    match seams {
        0 => "no seam".to_owned(),
        1 => "1 seam".to_owned(),
        _ => format!("{seams} seams"),
    }
}

/// The way that the person wants, or the better one; spanwise where both are alike.
pub(super) fn choose(
    desk: &Desk,
    part: &Part,
    wing: &RibbedPart,
    plans: &[PanelPlan],
    grounds: &[Vec<Member>],
) -> Choice {
    let fixed = |direction| Choice { direction, compared: None };
    if wing.roll != Roll::Better {
        let spanwise = wing.roll == Roll::Spanwise;
        return fixed(if spanwise { GrainDirection::Along } else { GrainDirection::Across });
    }
    let [along, across] = [GrainDirection::Along, GrainDirection::Across]
        .map(|direction| taken(desk, part, wing, plans, grounds, direction));
    match (along, across) {
        (None, None) => fixed(GrainDirection::Along),
        (Some(along), Some(across)) if (across.seams, across.length) < (along.seams, along.length) => {
            Choice { direction: GrainDirection::Across, compared: Some((across, Some(along))) }
        }
        (Some(along), across) => Choice { direction: GrainDirection::Along, compared: Some((along, across)) },
        (None, Some(across)) => Choice { direction: GrainDirection::Across, compared: Some((across, None)) },
    }
}

/// What all panels take with the roll one way; `None` where one of them fits no cloth.
fn taken(
    desk: &Desk,
    part: &Part,
    wing: &RibbedPart,
    plans: &[PanelPlan],
    grounds: &[Vec<Member>],
    direction: GrainDirection,
) -> Option<Taken> {
    let cloths = desk.cloths(part);
    let room = cloths.iter().map(|cloth| cloth.usable()[1] - cloth.usable()[0]).fold(0.0, f64::max);
    let mut taken = Taken { seams: 0, length: 0.0 };
    for (plan, ground) in plans.iter().zip(grounds) {
        let mut plan = plan.clone();
        plan.grain = grain(direction);
        let quantity = plan.quantity;
        let panel = Panel::new(plan).ok()?;
        let panel = divided(&panel, &cloths, desk.book, wing.surface, &Ground::new(ground)).ok()?.panel;
        taken.seams += panel.seams.len() * quantity as usize;
        for strip in &panel.strips {
            let bounds = strip.cut.bounds();
            let (along, across) = match direction {
                GrainDirection::Along => (bounds.width(), bounds.height()),
                _ => (bounds.height(), bounds.width()),
            };
            taken.length += f64::from(quantity) * along / libm::floor(room / across).max(1.0);
        }
    }
    Some(taken)
}
