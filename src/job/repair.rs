//! Repairs of the cloth, as the person describes the damage.

use super::airframe::Spot;

/// A damaged place and how it is to be repaired.
#[derive(Clone, Debug, PartialEq)]
pub struct Repair {
    /// Unique among the repairs.
    pub name: String,
    /// How it is repaired.
    pub kind: RepairKind,
    /// The damage once it is trimmed.
    pub opening: Opening,
    /// Where it lies.
    pub place: RepairPlace,
    /// Members nearby that the cloth is attached to.
    pub members: Vec<NearMember>,
    /// Whether the new cloth reaches over two adjacent ribs.
    pub spans_two_ribs: bool,
    /// Names of the cloths that the patch may be cut from; empty for all.
    pub cloth: Vec<String>,
    /// Where its figures come from, such as the report of an inspection.
    pub source: Option<String>,
    /// Where it is written.
    pub at: Spot,
}

/// The ways to repair, each with rules of its own.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum RepairKind {
    /// A patch doped on: AC 43.13-1B 2-45.
    DopedPatch,
    /// A patch cemented on: an approved covering manual.
    CementedPatch,
    /// A patch sewn in: AC 43.13-1B 2-44.
    SewnPatch,
    /// A tear sewn up: AC 43.13-1B 2-43.
    SewnTear,
}

/// What is to be closed, in millimetres.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Opening {
    /// A rectangle: length along the grain line of the patch, and width. For a sewn patch, the line of the stitches.
    Rect([f64; 2]),
    /// A circle: its diameter.
    Circle(f64),
    /// A tear: its length.
    Tear(f64),
}

/// Where a repair lies; rules are stricter on top of a wing.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum RepairPlace {
    /// Upper surface of a wing.
    WingTop,
    /// Lower surface of a wing.
    WingBottom,
    /// A control surface of the wing.
    ControlSurface,
    /// A tail surface.
    Empennage,
    /// The fuselage.
    Fuselage,
}

/// A side of a rectangular opening.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Side {
    /// Where y is least, along the length.
    Lower,
    /// Where x is greatest.
    Right,
    /// Where y is greatest, along the length.
    Upper,
    /// Where x is least.
    Left,
}

/// A member that the cloth is attached to, along a side of the opening.
#[derive(Clone, Debug, PartialEq)]
pub struct NearMember {
    /// On which side of the opening.
    pub side: Side,
    /// From that side of the opening to the member's centre line, in millimetres.
    pub distance: f64,
    /// Where it is written.
    pub at: Spot,
}

impl Opening {
    /// The longest side, the diameter or the length, in millimetres: what the rules go by.
    pub fn longest(self) -> f64 {
        match self {
            Self::Rect([length, width]) => length.max(width),
            Self::Circle(size) | Self::Tear(size) => size,
        }
    }
}

impl Side {
    /// The sides in the order of the edges of a rectangle: lower, right, upper, left.
    pub const ALL: [Self; 4] = [Self::Lower, Self::Right, Self::Upper, Self::Left];
}
