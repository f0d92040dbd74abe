//! Covered faces laid flat: what tapes, patches, drains and laces lie on, and what the map shows.
//!
//! A face is seen from outside, true to size, in millimetres. It knows its edges and members by name, where a person hooks
//! the tape measure, and where its points are on the aircraft, so that the lowest of them can be found.

mod bays;
mod clearance;
mod datum;
mod drains;
mod ends;
mod flat;
mod low_points;
mod places;
mod runs;
mod skin;

use geo_types::Coord;

use super::MemberLine;
use super::desk::Desk;
use crate::job::{Control, Fitting, Hand, InspectionOpening, Location, MemberClass, Parked, Part, Surface};
use crate::shape::{Outline, length_of};

pub use bays::{Bay, bays};
pub use datum::{Datum, Measure};
pub use drains::{Drain, drains};
pub(super) use flat::faces as flat_faces;
pub use low_points::low_points;
pub use places::Placed;
pub(super) use runs::smooth_runs;
pub use skin::{Skin, height};

/// A covered face.
#[derive(Clone, Debug, PartialEq)]
pub struct Face {
    /// Name of its part.
    pub part: String,
    /// Unique within the part, such as `top` or `first side`.
    pub name: String,
    /// How many are built: 2 where there is its mirror image too.
    pub hands: u32,
    /// Which of the two is drawn, where there are two and that is known.
    pub drawn: Option<Hand>,
    /// What the coordinates that the person wrote are multiplied by: `[1, 1]` as they are, one of them -1 for a mirror image.
    pub signs: [f64; 2],
    /// What it belongs to.
    pub surface: Surface,
    /// The finished outline.
    pub outline: Outline,
    /// Its edges, counter-clockwise.
    pub edges: Vec<FaceEdge>,
    /// What lies under it.
    pub members: Vec<FaceMember>,
    /// From where places on it are measured.
    pub datums: Vec<Datum>,
    /// Where it lies on the aircraft; `None` where the person did not say how the part stands.
    pub skin: Option<Skin>,
    /// Which way is up or ahead in the drawing, as words with directions of length one.
    pub ways: Vec<(&'static str, Coord<f64>)>,
    /// The cells into which its members divide it.
    pub bays: Vec<Bay>,
    /// Where water runs off.
    pub drains: Vec<Drain>,
    /// What comes through the cloth or presses on it.
    pub fittings: Vec<Placed<Fitting>>,
    /// Where one looks in.
    pub openings: Vec<Placed<InspectionOpening>>,
    /// What must be reached.
    pub controls: Vec<Placed<Control>>,
}

/// An edge of a face.
#[derive(Clone, Debug, PartialEq)]
pub struct FaceEdge {
    /// What a person calls it, such as `leading edge` or `longeron LL1 to LL7`.
    pub name: String,
    /// What it is.
    pub class: EdgeClass,
    /// Where it is for the rules.
    pub location: Location,
    /// Its line, the face on its left.
    pub run: Vec<Coord<f64>>,
    /// Which lines of its part it is made of, as pairs of numbers that are the same on every face that ends there.
    pub lines: Vec<[usize; 2]>,
    /// Diameter of the tube along it.
    pub tube: Option<f64>,
    /// How far the tube reaches into the face from the line, where it is known.
    pub reaches_in: Option<f64>,
    /// Whether this face is the one that has the tape over the edge, of all that end there.
    pub own: bool,
    /// Whether the face meets its own mirror image there, so that one tape serves both hands.
    pub joins_hands: bool,
}

/// What an edge is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum EdgeClass {
    /// The tube round a flat part.
    Perimeter,
    /// A member that the trade has a name for.
    Member(MemberClass),
    /// The edges of a recess.
    Recess,
}

/// A member under a face.
#[derive(Clone, Debug, PartialEq)]
pub struct FaceMember {
    /// What a person calls it, such as `rib 3`.
    pub name: String,
    /// What it is.
    pub class: MemberClass,
    /// Its line; that of a rib that has a section runs from the nose.
    pub run: Vec<Coord<f64>>,
    /// Width of its face under the cloth.
    pub width: Option<f64>,
    /// Of a rib that has a section.
    pub rib: Option<RibSize>,
}

/// A rib that has a section.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RibSize {
    /// Which rib of the part, from 0, the same on top and bottom.
    pub index: usize,
    /// Its place along the span.
    pub span: f64,
    /// From nose to trailing edge, or to the front of the recess that it ends at.
    pub chord: f64,
    /// Greatest depth from top to bottom.
    pub depth: f64,
    /// Distance along the cloth from the nose to where the nose sheet ends; 0 without one.
    pub sheet: f64,
    /// Whether it lies in the slipstream or is the next one beside it (AC 43.13-1B 2-9c).
    pub in_slipstream: bool,
}

impl Face {
    /// Where a point is, from the edge that is nearest to it.
    pub fn measure(&self, at: Coord<f64>) -> Option<Measure> {
        datum::measured(&self.datums, at)
    }

    /// With its bays, and with its drains where it is to have some; `upright_too` where a face that stands upright holds
    /// water of its own.
    pub(super) fn with_bays(mut self, parked: Option<&Parked>, upright_too: bool) -> Self {
        self.bays = bays(&self);
        self.drains = parked.map_or(Vec::new(), |parked| drains(&self, &self.bays, parked, upright_too));
        self
    }

    /// With all that the person says is on it; a fault for each place that lies off it.
    pub(super) fn with_places(mut self, desk: &mut Desk, part: &Part) -> Self {
        self.fittings = places::placed(desk, part, &self, "fitting", &part.places.fittings);
        self.openings = places::placed(desk, part, &self, "opening", &part.places.openings);
        self.controls = places::placed(desk, part, &self, "control", &part.places.controls);
        self
    }
}

impl FaceMember {
    /// A member that is one straight line.
    pub(super) fn straight(name: String, line: &MemberLine, width: Option<f64>) -> Self {
        Self { name, class: line.class, run: line.ends.to_vec(), width, rib: None }
    }

    /// Length in millimetres.
    pub fn length(&self) -> f64 {
        length_of(&self.run)
    }
}

impl FaceEdge {
    /// Length in millimetres.
    pub fn length(&self) -> f64 {
        length_of(&self.run)
    }
}
