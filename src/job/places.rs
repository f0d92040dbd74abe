//! What the person writes about places on the cloth of a part: fittings that come through it, openings to look in by,
//! what must be reached through them, and drains.

use super::airframe::{PartKind, Sides, Spot};
use crate::shape::SpacePoint;

/// A place on one face of a part, or on several.
#[derive(Clone, Debug, PartialEq)]
pub struct JobPlace {
    /// Names of the faces, each once and known to the part.
    pub faces: Vec<String>,
    /// Where on them.
    pub at: PlaceAt,
    /// Where the place is written.
    pub spot: Spot,
    /// On which hand, where it is on one only of a face that is built left and right.
    pub hand: Option<OneHand>,
}

/// The hand that a place is on, of a face that is built left and right.
#[derive(Clone, Debug, PartialEq)]
pub struct OneHand {
    /// Which one.
    pub hand: Hand,
    /// Where it is written.
    pub spot: Spot,
}

/// Left or right, as seen by somebody who sits in the aircraft and looks ahead.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Hand {
    /// The left one.
    Left,
    /// The right one.
    Right,
}

impl Hand {
    /// The hand on which a place lies, by its distance to the right of the aircraft's middle; none for the middle.
    pub fn on_the_side_of(right: f64) -> Option<Self> {
        if right == 0.0 { None } else { Some(if right > 0.0 { Self::Right } else { Self::Left }) }
    }
}

impl JobPlace {
    /// How many there are of it, on a face that is built for so many hands.
    pub fn copies(&self, hands: u32) -> u32 {
        if self.hand.is_some() { 1 } else { hands }
    }
}

/// Where a place is, as each kind of part says it. Lengths in millimetres.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum PlaceAt {
    /// On a flat part: x and y of its outline.
    Plane([f64; 2]),
    /// On a ribbed part: how far along the span, and which part of the chord from the nose.
    Chordwise {
        /// Along the span, measured as the planform.
        span: f64,
        /// 0 at the nose, 1 at the trailing edge.
        chord: f64,
    },
    /// On a truss: a point in space, which belongs to the nearest point of the face.
    Space(SpacePoint),
}

/// Something that comes through the cloth or presses on it, and wants a patch.
#[derive(Clone, Debug, PartialEq)]
pub struct Fitting {
    /// Unique among the fittings of the part.
    pub name: String,
    /// Where its middle is.
    pub place: JobPlace,
    /// What it is.
    pub kind: FittingKind,
    /// How large it is in the face.
    pub size: FittingSize,
    /// How far it stands out of the cloth, in millimetres; 0 for one that does not.
    pub height: f64,
    /// How many layers its patch has.
    pub layers: u32,
    /// Whether a ring stiffens the cloth round it, between the layers of the patch or under it.
    pub ring: bool,
}

/// What comes through the cloth.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum FittingKind {
    /// A fitting, such as that of a hinge or of a bracing wire.
    Fitting,
    /// A cable runs out through the cloth.
    CableExit,
    /// A strut comes out through the cloth.
    StrutExit,
    /// A hard or sharp edge lies under the cloth.
    HardEdge,
}

/// The size of a fitting in the face, in millimetres.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum FittingSize {
    /// Along x and along y of the face.
    Rect([f64; 2]),
    /// Its diameter.
    Circle(f64),
}

/// An opening to look in by, with a ring to stiffen it.
#[derive(Clone, Debug, PartialEq)]
pub struct InspectionOpening {
    /// Unique among the openings of the part.
    pub name: String,
    /// Where its middle is.
    pub place: JobPlace,
    /// What its ring is made of.
    pub ring: RingKind,
    /// Inside diameter of the ring in millimetres; `None` for the usual one.
    pub inside: Option<f64>,
    /// Outside diameter of the ring in millimetres; `None` where the person does not say it.
    pub outside: Option<f64>,
}

/// What a ring is made of; the patch over a plastic one is strongly recommended (AC 43.13-1B 2-14a).
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum RingKind {
    /// Plastic.
    Plastic,
    /// Metal.
    Metal,
}

/// Something under the cloth that must be within reach of an opening (AC 43.13-1B 2-14a).
#[derive(Clone, Debug, PartialEq)]
pub struct Control {
    /// Unique among the controls of the part.
    pub name: String,
    /// Where it is.
    pub place: JobPlace,
    /// What it is.
    pub kind: ControlKind,
}

/// What must be reached (AC 43.13-1B 2-14a).
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum ControlKind {
    /// A bellcrank.
    Bellcrank,
    /// A pulley.
    Pulley,
    /// A guide of a cable.
    CableGuide,
    /// A fitting that holds the wing.
    WingFitting,
    /// Where drag wires meet a spar.
    DragWireJunction,
}

/// How the drains of a part are made.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct DrainStyle {
    /// What stiffens the hole.
    pub grommet: Grommet,
    /// Whether a patch lies over it.
    pub patch: bool,
}

/// What stiffens a drain hole.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Grommet {
    /// A flat eyelet.
    Flat,
    /// An eyelet with a hood that opens aft, where spray would come in.
    Hooded,
    /// None: the hole is melted through cloth and tape.
    None,
}

/// Every place that the person writes about a part.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Places {
    /// What comes through the cloth.
    pub fittings: Vec<Fitting>,
    /// Where one looks in.
    pub openings: Vec<InspectionOpening>,
    /// What must be reached.
    pub controls: Vec<Control>,
    /// How its drains are made; `None` where it has none.
    pub drains: Option<DrainStyle>,
}

impl PartKind {
    /// The names of the faces that are covered, by which places on them are written.
    pub fn face_names(&self) -> Vec<&str> {
        match self {
            Self::Flat(flat) if flat.sides == Sides::One => vec!["first side"],
            Self::Flat(_) => vec!["first side", "second side"],
            Self::Ribbed(_) => vec!["top", "bottom"],
            Self::Truss(truss) => truss.faces.iter().map(|face| face.name.as_str()).collect(),
            Self::Panel(_) => Vec::new(),
        }
    }
}
