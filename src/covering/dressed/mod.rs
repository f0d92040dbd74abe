//! Everything that goes onto the panels of a part, each thing at its place: tapes, patches, rings, drains and laces.
//!
//! The order is that of the work: patches over fittings first, then tapes along the chord, then along the span, the tip bow
//! last (approved covering manual p. 42). Numbers are the job's own: they are the same on maps, in tables and on templates.

mod clashes;
mod cut;
mod laced;
mod numbered;
mod openings;
mod patches;
mod quantities;
mod seam_tapes;
mod tapes;
mod turns;

use geo_types::Coord;

use super::dressing::{TapeCut, WantedShape};

pub(super) use numbered::dress;
pub use patches::PatchChoice;
pub use quantities::{Quantity, Unit};

/// How the name of a tape over a seam within a panel begins.
const OVER_A_SEAM: &str = "seam in ";

/// All that goes onto the cloth of a part.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Dressed {
    /// Finishing tape, in the order of the work.
    pub tapes: Vec<TapeRun>,
    /// Patches over fittings, cables, struts and hard edges.
    pub patches: Vec<Patch>,
    /// Inspection openings with their rings and doilies.
    pub rings: Vec<Ring>,
    /// Drain holes.
    pub drains: Vec<DrainHole>,
    /// Ribs that the cloth is fastened to.
    pub ribs: Vec<LacedRib>,
    /// What is used up on the part.
    pub quantities: Vec<Quantity>,
}

/// When a tape is laid.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum TapeOrder {
    /// Along the chord, or round the fuselage: second after the patches.
    Chordwise,
    /// Along the span, or along the fuselage: third.
    Spanwise,
    /// Round the tip, last.
    TipBow,
}

impl Dressed {
    /// The names of the pieces that are cut for it, one for each thing.
    pub fn pieces(&self) -> impl Iterator<Item = &str> {
        let patches = self.patches.iter().map(|patch| &patch.piece);
        let rings = self.rings.iter().map(|ring| &ring.piece);
        let drains = self.drains.iter().filter_map(|drain| drain.piece.as_ref());
        patches.chain(rings).chain(drains).map(String::as_str)
    }
}

/// A run of finishing tape. Lengths in millimetres.
#[derive(Clone, Debug, PartialEq)]
pub struct TapeRun {
    /// Its number: `T` and a number that no other tape of the job has.
    pub number: String,
    /// What it lies over, such as `rib 3` or `leading edge`.
    pub over: String,
    /// When it is laid.
    pub order: TapeOrder,
    /// How wide it is when it is finished.
    pub width: f64,
    /// Whether it is straight, has relief cuts or is cut on the bias.
    pub cut: TapeCut,
    /// How long it is cut, with what hangs over at its ends.
    pub length: f64,
    /// How many are cut: 2 where the part is built left and right.
    pub quantity: u32,
    /// Where it runs: one leg for each face that it lies on.
    pub legs: Vec<Leg>,
    /// Where the half of its width lies that goes round an edge onto other faces; the same length again.
    pub round: Vec<Leg>,
    /// Whether it may be joined from pieces.
    pub joined: bool,
    /// Where its width comes from.
    pub source: String,
    /// What else is to be done, such as notches.
    pub notes: Vec<String>,
}

impl TapeRun {
    /// Every line of it on every face, those beyond an edge too.
    pub fn lines(&self) -> impl Iterator<Item = &Leg> {
        self.legs.iter().chain(&self.round)
    }

    /// Whether it lies over a seam within a panel.
    pub fn is_over_a_seam(&self) -> bool {
        self.over.starts_with(OVER_A_SEAM)
    }

    /// Whether it is cut on the bias.
    pub fn is_bias(&self) -> bool {
        matches!(self.cut, TapeCut::Bias { .. })
    }

    /// Width of the tape as it is sold; bias tape narrows when it is pulled round its curve.
    pub fn sold_width(&self) -> f64 {
        match self.cut {
            TapeCut::Bias { stock, .. } => stock,
            TapeCut::Straight | TapeCut::ReliefCuts { .. } => self.width,
        }
    }

    /// What a copy of it is called, from 1: `T3`, or `T12·2` where there are several.
    pub fn copy_name(&self, copy: u32) -> String {
        if self.quantity == 1 { self.number.clone() } else { format!("{}·{copy}", self.number) }
    }
}

/// The part of a run that lies on one face.
#[derive(Clone, Debug, PartialEq)]
pub struct Leg {
    /// Which face, as a place among those of the part.
    pub face: usize,
    /// The middle of the tape.
    pub run: Vec<Coord<f64>>,
}

/// A patch over something that comes through the cloth.
#[derive(Clone, Debug, PartialEq)]
pub struct Patch {
    /// Its number: that of its piece and of its copies, `12·3` or `12·3–4`.
    pub number: String,
    /// What it lies over.
    pub over: String,
    /// Which face, as a place among those of the part.
    pub face: usize,
    /// Its middle.
    pub at: Coord<f64>,
    /// Its size as it is cut, sides along x and y of the face.
    pub shape: WantedShape,
    /// What it must cover at least.
    pub least: WantedShape,
    /// Name of the piece that it is cut as; one template serves all of a size.
    pub piece: String,
    /// How many are built: 2 where the part is built left and right.
    pub hands: u32,
    /// Layers, one over the other.
    pub layers: u32,
    /// What else is to be done, such as a ring between the layers or when the cloth is opened.
    pub notes: Vec<String>,
}

/// An inspection opening.
#[derive(Clone, Debug, PartialEq)]
pub struct Ring {
    /// Its number: that of its doily and of its copies, `12·3` or `12·3–4`.
    pub number: String,
    /// What the person calls it.
    pub name: String,
    /// Which face, as a place among those of the part.
    pub face: usize,
    /// Its middle.
    pub at: Coord<f64>,
    /// Inside diameter of the ring.
    pub inside: f64,
    /// Outside diameter of the ring.
    pub outside: f64,
    /// Diameter of the doily over it.
    pub doily: f64,
    /// Name of the piece that the doily is cut as.
    pub piece: String,
    /// How many are built: 2 where the part is built left and right.
    pub hands: u32,
    /// What else is to be done.
    pub notes: Vec<String>,
}

/// A drain hole.
#[derive(Clone, Debug, PartialEq)]
pub struct DrainHole {
    /// Its number: `D` and a number that no other drain of the job has.
    pub number: String,
    /// The number of its patch and of its copies, `12·3` or `12·3–4`; `None` without one.
    pub patch_number: Option<String>,
    /// Which face, as a place among those of the part.
    pub face: usize,
    /// Where it is.
    pub at: Coord<f64>,
    /// Diameter of the hole.
    pub hole: f64,
    /// Name of the piece that the patch over it is cut as; `None` without one.
    pub piece: Option<String>,
    /// Diameter of that patch.
    pub patch: f64,
    /// How many are built: 2 where the part is built left and right.
    pub hands: u32,
}

/// The laces of a rib on one face.
#[derive(Clone, Debug, PartialEq)]
pub struct LacesOnFace {
    /// Which face, as a place among those of the part.
    pub face: usize,
    /// Distances of the laces along the cloth, in millimetres: from the edge of this side's nose sheet, from the nose where
    /// there is none, or from the inner side of a flat part's tube.
    pub along: Vec<f64>,
    /// Where they are on the face.
    pub at: Vec<Coord<f64>>,
}

/// A rib that the cloth is fastened to from both sides.
#[derive(Clone, Debug, PartialEq)]
pub struct LacedRib {
    /// What the person calls it.
    pub rib: String,
    /// Distances of the laces along the cloth from where lacing may begin, in millimetres.
    pub at: Vec<f64>,
    /// The greatest distance from one lace to the next.
    pub spacing: f64,
    /// Cord for it; `None` where it is not laced with cord.
    pub cord: Option<f64>,
    /// Width of its cap, and whether the person gave it.
    pub cap: (f64, bool),
    /// Reinforcing tape for both sides.
    pub reinforcing: f64,
    /// A strip of reinforcing tape: its length, its width, and how many lie side by side on each side of the rib.
    pub reinforcing_strip: (f64, f64, u32),
    /// Length and width of each strip of cover cloth under the reinforcing tape, where Vne asks for it.
    pub anti_tear: Option<[f64; 2]>,
    /// Where each lace is, on each face.
    pub places: Vec<LacesOnFace>,
    /// How many are built: 2 where the part is built left and right.
    pub hands: u32,
    /// Where the spacing comes from.
    pub source: String,
}
