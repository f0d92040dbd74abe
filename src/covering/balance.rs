//! What a covering weighs, and its moment about the hinge line: covering behind the hinge upsets the balance of a control
//! surface (AC 43.13-1B 2-5f).

use geo::Centroid;

use super::Panel;
use crate::job::{Cloth, Rules};

/// Mass of the covering of one part as built once. Areas in square millimetres, masses in grams.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Balance {
    /// Area of cloth that stays on the part.
    pub area: f64,
    /// Mass of the cloth; `None` where the cloths that may be used have none or unlike ones.
    pub cloth: Option<f64>,
    /// Mass of all coats; `None` where the rules say nothing of it.
    pub coats: Option<f64>,
    /// Distance in millimetres of the middle of the covered area from the hinge line; `None` without one.
    pub arm: Option<f64>,
}

impl Balance {
    /// Mass of cloth and coats, as far as it is known.
    pub fn mass(&self) -> Option<f64> {
        match (self.cloth, self.coats) {
            (None, None) => None,
            (cloth, coats) => Some(cloth.unwrap_or(0.0) + coats.unwrap_or(0.0)),
        }
    }

    /// Moment of that mass about the hinge line in gram-millimetres.
    pub fn moment(&self) -> Option<f64> {
        Some(self.arm? * self.mass()?)
    }
}

/// The balance of a part whose sides are covered by panels of these areas; `plan` is one of them, not mirrored.
pub(super) fn balance(
    rules: &Rules,
    cloths: &[&Cloth],
    area: f64,
    plan: &Panel,
    hinge: Option<[[f64; 2]; 2]>,
) -> Balance {
    let per_area = area * 1e-6;
    let first = cloths.first().and_then(|cloth| cloth.mass);
    let alike = cloths.iter().all(|cloth| cloth.mass == first);
    Balance {
        area,
        cloth: first.filter(|_| alike).map(|mass| mass * per_area),
        coats: rules.coats.map(|mass| mass * per_area),
        arm: hinge.and_then(|hinge| arm(plan, hinge)),
    }
}

/// Distance of the middle of a panel from a line.
fn arm(panel: &Panel, [from, to]: [[f64; 2]; 2]) -> Option<f64> {
    let centre = panel.trimmed.polygon().centroid()?;
    let along = [to[0] - from[0], to[1] - from[1]];
    let across = along[0] * (centre.y() - from[1]) - along[1] * (centre.x() - from[0]);
    Some(across.abs() / (along[0] * along[0] + along[1] * along[1]).sqrt())
}
