//! A job that has been read and found sound: lengths in millimetres, outlines as curves.

use super::airframe::{Part, Rules};
use super::parked::Parked;
use super::repair::Repair;
use super::spares::{Prices, Rates, Spares};
use super::tape::{TapeCutting, TapeStock};
use crate::shape::Curve;
pub use crate::units::Units;

/// A whole job.
#[derive(Clone, Debug, PartialEq)]
pub struct Job {
    /// What the person calls it; the file's name when it has no name.
    pub name: String,
    /// The job's unit.
    pub units: Units,
    /// Free distance between cut lines, in millimetres.
    pub gap: f64,
    /// The cloths.
    pub cloth: Vec<Cloth>,
    /// The pieces that the person gives; what else is cut follows from the airframe.
    pub pieces: Vec<Piece>,
    /// Which covering rules hold.
    pub rules: Option<Rules>,
    /// The parts to be covered; without rules there are none.
    pub airframe: Vec<Part>,
    /// How the aircraft stands when it is parked, where the person says it.
    pub parked: Option<Parked>,
    /// The repairs to be made; without rules there are none.
    pub repairs: Vec<Repair>,
    /// What is bought beyond what is worked out.
    pub spares: Spares,
    /// What goods other than cloth and tape cost.
    pub prices: Prices,
    /// How long work takes the person.
    pub rates: Rates,
    /// The rolls of finishing tape that there are or that can be bought.
    pub tape: Vec<TapeStock>,
    /// How finishing tape is cut.
    pub tape_cutting: TapeCutting,
    /// What the person noted about the job.
    pub note: Option<String>,
}

impl Job {
    /// Whether it says where finishing tape is cut from: rolls of tape, or the cloth.
    pub fn has_tape(&self) -> bool {
        !self.tape.is_empty() || self.cuts_tape_from_cloth()
    }

    /// Whether strips for finishing tape lie among the pieces.
    pub fn cuts_tape_from_cloth(&self) -> bool {
        self.tape_cutting.strips().is_some()
    }
}

/// A roll, a bolt or an offcut.
#[derive(Clone, Debug, PartialEq)]
pub struct Cloth {
    /// Unique among the cloths.
    pub name: String,
    /// Full width, selvage included.
    pub width: f64,
    /// What is trimmed from the lower and the upper edge.
    pub selvage: [f64; 2],
    /// Length; `None` for as much as is needed.
    pub length: Option<f64>,
    /// How many there are.
    pub count: u32,
    /// The true outline of an offcut that is no rectangle, in the cloth's own coordinates (x along, y across).
    pub outline: Option<Curve>,
    /// Areas not to be used.
    pub flaws: Vec<Flaw>,
    /// Grams a square metre.
    pub mass: Option<f64>,
    /// Price of a metre of length, in the job's money.
    pub price: Option<f64>,
    /// The step in which it is sold, in millimetres.
    pub sold_by: Option<f64>,
    /// Whether both faces are alike, so that pieces may be flipped.
    pub faces_alike: bool,
    /// What the person noted about it.
    pub note: Option<String>,
}

/// An area of the cloth that is not to be used.
#[derive(Clone, Debug, PartialEq)]
pub struct Flaw {
    /// Where, in the cloth's coordinates.
    pub outline: Curve,
    /// What it is.
    pub note: Option<String>,
}

/// Which way the warp must run in a piece; the piece's own x axis is its grain line.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Grain {
    /// The direction of the piece's x axis on the roll.
    pub direction: GrainDirection,
    /// Degrees that it may be off, either way.
    pub tolerance: f64,
    /// Whether the cloth has an up and a down: then a half turn is not allowed.
    pub one_way: bool,
}

/// The direction of the piece's x axis on the roll.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum GrainDirection {
    /// Along the roll, with the warp.
    Along,
    /// Across the roll, with the fill.
    Across,
    /// Along or across.
    Either,
    /// At 45° to the warp.
    Bias,
    /// Any angle.
    Free,
}

/// Teeth of a pinked edge.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pinking {
    /// Tip to tip, along the edge.
    pub pitch: f64,
    /// Tip to nip, across the edge.
    pub depth: f64,
}

/// How the edge is cut.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Edge {
    /// Straight scissors.
    Plain,
    /// Saw-toothed; the nominal size is tip to tip.
    Pinked(Pinking),
}

/// An outline to be cut, and how often.
#[derive(Clone, Debug, PartialEq)]
pub struct Piece {
    /// Unique among the pieces.
    pub name: String,
    /// The finished outline.
    pub outline: Curve,
    /// How many copies.
    pub quantity: u32,
    /// The cut outline: the finished outline flattened and grown by the allowance. Teeth lie inside it.
    pub cut: crate::shape::Outline,
    /// Length and width of the cut outline along and across the piece's x axis, as [`Curve::cut_size`] tells them: the
    /// size that tables and drawings show.
    pub size: [f64; 2],
    /// How the edge is cut.
    pub edge: Edge,
    /// Which way the warp must run.
    pub grain: Grain,
    /// Whether it may be laid face down.
    pub flip: bool,
    /// Names of the cloths that it may be cut from; empty for all.
    pub cloth: Vec<String>,
    /// Where it goes.
    pub goes: Option<String>,
    /// Where its figures come from.
    pub source: Option<String>,
}

impl Pinking {
    /// Teeth where the job gives none: pitch 5 mm, from memory: shears have 3/16 to 1/4 in; sides at 45°, which make the
    /// edge √2 times as long (FAA-H-8083-31 chapter 3 has a pinked edge about 41 % longer than a straight one).
    pub const USUAL: Self = Self { pitch: 5.0, depth: 2.5 };
}

impl Cloth {
    /// The lowest and the highest y that a piece may reach, in millimetres: the width without its selvages.
    pub fn usable(&self) -> [f64; 2] {
        [self.selvage[0], self.width - self.selvage[1]]
    }

    /// Whether it is bought by the length; a cloth of a known length without a price lies on the shelf.
    pub fn is_bought(&self) -> bool {
        self.length.is_none() || self.price.is_some()
    }
}

impl Grain {
    /// The turns of the piece that the grain allows, in degrees counter-clockwise, each give or take the tolerance;
    /// `None` for any.
    ///
    /// Where the cloth has an up and a down (along x), a turn and its half turn are not both allowed.
    pub fn turns(&self) -> Option<Vec<f64>> {
        let turns: &[f64] = match (self.direction, self.one_way) {
            (GrainDirection::Along, false) => &[0.0, 180.0],
            (GrainDirection::Along, true) => &[0.0],
            (GrainDirection::Across, false) => &[90.0, 270.0],
            (GrainDirection::Across, true) => &[90.0],
            (GrainDirection::Either, false) => &[0.0, 90.0, 180.0, 270.0],
            (GrainDirection::Either, true) => &[0.0, 90.0],
            (GrainDirection::Bias, false) => &[45.0, 135.0, 225.0, 315.0],
            (GrainDirection::Bias, true) => &[45.0, 315.0],
            (GrainDirection::Free, _) => return None,
        };
        Some(turns.to_vec())
    }
}
