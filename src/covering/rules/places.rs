//! Where a lapped seam may lie: only over structure as wide as the seam, and what counts as structure is the rules' to say.

use thiserror::Error;

use super::{Location, Method, Words};
use crate::job::{MemberClass, Surface};

/// A lapped seam may not lie on this member.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
#[error("a lapped seam may not lie on a {} of the {}: {why}; sew the seam or move it ({source_words})", .class.word(), .surface.word())]
pub struct NotStructure {
    /// What the member is.
    pub class: MemberClass,
    /// What it belongs to.
    pub surface: Surface,
    /// Why not.
    pub why: &'static str,
    /// Which document says so.
    pub source_words: &'static str,
}

/// The place in the rules of a lapped seam over a member.
///
/// Sources: approved covering manual pp. 15-16 and 53 (leading and trailing edge, tip bow, butt rib, perimeter,
/// longerons and main cross tubes count as structure; wing ribs, formers and stringers do not) and AC 43.13-1B 2-8 NOTE
/// (structure as wide as the whole seam).
///
/// # Errors
/// [`NotStructure`] where no lapped seam may lie on such a member, or the rules have no figures for it.
pub fn lap_over(method: Method, surface: Surface, class: MemberClass) -> Result<Location, NotStructure> {
    use MemberClass as M;
    let refused = |why, source_words| Err(NotStructure { class, surface, why, source_words });
    if method == Method::Sewn {
        return refused("sewn covering has no lapped seams", "AC 2-7a");
    }
    match (class, surface) {
        (M::Stringer | M::Former, _) => {
            refused("it gives shape and is not structure", "manual pp. 16, 53; AC 2-8 NOTE")
        }
        (M::NoseSheet, _) => refused("its edge carries cloth on one side only", "manual pp. 15-16; AC 2-8 NOTE"),
        (M::Rib, _) => refused("ribs do not count as structure for a lap", "manual pp. 15-16; AC 2-8 NOTE"),
        (M::Spar, Surface::Empennage | Surface::ControlSurface) if method == Method::Doped => {
            Ok(perimeter(surface, class))
        }
        (M::Spar, _) => refused("the rules have no lap for it", "manual pp. 15-16; AC 2-7b"),
        (M::Longeron | M::CrossTube | M::Diagonal, Surface::Fuselage) => Ok(Location::Fuselage),
        (M::Longeron | M::CrossTube | M::Diagonal, _) => refused("such a member belongs to a fuselage", "manual p. 53"),
        (M::LeadingEdge | M::TrailingEdge | M::TipBow | M::ButtRib, Surface::Fuselage) => {
            refused("such a member does not belong to a fuselage", "manual p. 53")
        }
        (M::LeadingEdge | M::TrailingEdge | M::TipBow | M::ButtRib, _) => Ok(perimeter(surface, class)),
    }
}

/// The place of an edge member of a surface.
fn perimeter(surface: Surface, class: MemberClass) -> Location {
    match (surface, class) {
        (Surface::Empennage, _) => Location::Empennage,
        (Surface::ControlSurface, _) => Location::ControlSurface,
        (Surface::Fuselage, _) => Location::Fuselage,
        (Surface::Wing, MemberClass::TrailingEdge) => Location::WingTrailingEdge,
        (Surface::Wing, MemberClass::TipBow) => Location::WingTip,
        (Surface::Wing, MemberClass::ButtRib) => Location::WingButt,
        (Surface::Wing, _) => Location::WingLeadingEdge,
    }
}
