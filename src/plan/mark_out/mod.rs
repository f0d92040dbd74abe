//! A piece marked out on cloth by dimensions: points to measure from the cloth's end and its lower edge, and what runs from
//! each to the next.
//!
//! Nobody prints a fuselage side on sixty sheets of paper. With these figures two people and a tape measure draw it: the
//! points in the order in which one walks round the piece, straight edges by a chalk line, curves by offsets from the chord
//! at even stations, and diagonals that prove the corners before anything is cut.

mod cloth;
mod corners;
mod curves;

use geo_types::Coord;

use crate::shape::{Outline, distance, open_points};
use crate::units::Units;

pub use cloth::{Crossing, MarkOutWish, MarkedCloth, MarkedPiece, Window, marked_cloth};
use corners::{corners, stretch};
use curves::{Curved, Frame, STRAIGHT, bulge, curved};

/// What a length is rounded to.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Rounding {
    /// The nearest millimetre.
    #[default]
    Millimetre,
    /// The nearest sixteenth of an inch.
    SixteenthInch,
}

/// A piece marked out by dimensions. Lengths in millimetres; x along the cloth from its end, y across from its lower edge.
#[derive(Clone, Debug, PartialEq)]
pub struct MarkOut {
    /// The points, counter-clockwise round the outer edge, from the one nearest to the cloth's end and lower edge.
    pub points: Vec<MarkPoint>,
    /// The run from each point to the next, the last one back to the first.
    pub runs: Vec<MarkRun>,
    /// Distances between points that are not neighbours, to prove that the piece is true before it is cut.
    pub diagonals: Vec<Diagonal>,
    /// How far at most a mark that is drawn from rounded figures lies from where it should be: a point, or a mark beside
    /// the chord of two points.
    pub worst_rounding: f64,
    /// How far at most a straight line from mark to mark lies from the edge; a fair curve lies nearer.
    pub worst_bend: f64,
}

/// A point of the edge.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MarkPoint {
    /// Where it is.
    pub at: Coord<f64>,
    /// Distance from the cloth's end, rounded.
    pub from_end: f64,
    /// Distance from the cloth's lower edge, rounded.
    pub from_edge: f64,
}

/// What runs from a point to the next one.
#[derive(Clone, Debug, PartialEq)]
pub enum MarkRun {
    /// A straight line.
    Straight {
        /// Its length, rounded.
        length: f64,
    },
    /// A curve.
    Curved {
        /// Straight distance from point to point, rounded.
        chord: f64,
        /// Marks along the chord, both ends left out.
        offsets: Vec<Offset>,
    },
}

/// A mark beside a chord.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Offset {
    /// How far along the chord, rounded.
    pub along: f64,
    /// How far out of the piece from the chord, rounded; below zero inwards.
    pub out: f64,
    /// Where it is.
    pub at: Coord<f64>,
}

/// A distance across the piece.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Diagonal {
    /// Places of its ends in [`MarkOut::points`].
    pub between: [usize; 2],
    /// Its length, rounded.
    pub length: f64,
}

impl Rounding {
    /// The nearest length that can be read off a rule.
    pub fn round(self, length: f64) -> f64 {
        let step = self.step();
        libm::round(length / step) * step + 0.0
    }

    /// The rounding of who measures in a unit.
    pub fn of(units: Units) -> Self {
        match units {
            Units::Mm | Units::Cm | Units::M => Self::Millimetre,
            Units::In | Units::Ft => Self::SixteenthInch,
        }
    }

    /// The unit in which rounded lengths are shown: that of the job where it has such a rule, and whole inches for feet, as
    /// a tape measure counts them.
    pub fn shown_in(self, job: Units) -> Units {
        match self {
            Self::Millimetre if Self::of(job) == self => job,
            Self::Millimetre => Units::Mm,
            Self::SixteenthInch => Units::In,
        }
    }

    /// From one mark of the rule to the next, in millimetres.
    pub fn step(self) -> f64 {
        match self {
            Self::Millimetre => 1.0,
            Self::SixteenthInch => 25.4 / 16.0,
        }
    }
}

/// Marks out the outer edge of a piece as it lies on the cloth, in the cloth's coordinates.
///
/// Holes are left out: they are cut after covering, or traced.
///
/// ```
/// use clothwright::plan::{MarkRun, Rounding, mark_out};
/// use clothwright::shape::Curve;
///
/// // A panel of 4 m by 1.5 m whose corner lies 20 mm from the cloth's end.
/// let panel = Curve::polygon(&[[20.0, 0.0], [4020.0, 0.0], [4020.0, 1500.0], [20.0, 1500.0]], &[]).flatten()?;
/// let marks = mark_out(&panel, Rounding::Millimetre);
/// assert_eq!(marks.points.len(), 4);
/// assert_eq!((marks.points[1].from_end, marks.points[1].from_edge), (4020.0, 0.0));
/// assert_eq!(marks.runs[0], MarkRun::Straight { length: 4000.0 });
/// assert_eq!(marks.diagonals[0].length, 4272.0);
/// # Ok::<(), clothwright::shape::OutlineFault>(())
/// ```
pub fn mark_out(outline: &Outline, rounding: Rounding) -> MarkOut {
    let ring = open_points(outline.polygon().exterior());
    let corners = corners(ring);
    let points: Vec<MarkPoint> = corners.iter().map(|corner| mark(ring[*corner], rounding)).collect();
    let mut worst_rounding = points.iter().map(MarkPoint::rounded_by).fold(0.0, f64::max);
    let mut worst_bend: f64 = 0.0;
    let mut runs = Vec::new();
    for index in 0..corners.len() {
        let stretch = stretch(ring, corners[index], corners[(index + 1) % corners.len()]);
        let bulge = bulge(&stretch);
        runs.push(if bulge <= STRAIGHT {
            worst_bend = worst_bend.max(bulge);
            MarkRun::Straight { length: rounding.round(distance(stretch[0], stretch[stretch.len() - 1])) }
        } else {
            let Curved { chord, marks, bend } = curved(&stretch);
            worst_bend = worst_bend.max(bend);
            let offset = |mark: &curves::Mark| Offset {
                along: rounding.round(mark.along),
                out: rounding.round(mark.out),
                at: mark.at,
            };
            let offsets: Vec<Offset> = marks.iter().map(offset).collect();
            let drawn = Frame::new(points[index].drawn(), points[(index + 1) % points.len()].drawn());
            let off = |offset: &Offset| distance(offset.at, drawn.point(offset.along, offset.out));
            worst_rounding = offsets.iter().map(off).fold(worst_rounding, f64::max);
            MarkRun::Curved { chord: rounding.round(chord), offsets }
        });
    }
    let diagonals = diagonals(&points, rounding);
    MarkOut { points, runs, diagonals, worst_rounding, worst_bend }
}

fn mark(at: Coord<f64>, rounding: Rounding) -> MarkPoint {
    MarkPoint { at, from_end: rounding.round(at.x), from_edge: rounding.round(at.y) }
}

impl MarkPoint {
    /// Where it is drawn by its rounded figures.
    fn drawn(&self) -> Coord<f64> {
        Coord { x: self.from_end, y: self.from_edge }
    }

    /// How far the rounded mark lies from where it should be.
    fn rounded_by(&self) -> f64 {
        distance(self.at, self.drawn())
    }
}

/// The longest distance between points that are not neighbours, and the longest one that crosses it.
fn diagonals(points: &[MarkPoint], rounding: Rounding) -> Vec<Diagonal> {
    let count = points.len();
    let mut all: Vec<[usize; 2]> = Vec::new();
    for from in 0..count {
        for to in from + 2..count {
            if (from, to) != (0, count - 1) {
                all.push([from, to]);
            }
        }
    }
    let length = |ends: &[usize; 2]| distance(points[ends[0]].at, points[ends[1]].at);
    all.sort_by(|one, other| length(other).total_cmp(&length(one)).then(one.cmp(other)));
    let Some(longest) = all.first().copied() else { return Vec::new() };
    let crosses = |ends: &&[usize; 2]| {
        let between = |end: usize| longest[0] < end && end < longest[1];
        ends.iter().all(|end| !longest.contains(end)) && between(ends[0]) != between(ends[1])
    };
    let crossing = all.iter().find(crosses).copied();
    let diagonal = |between: [usize; 2]| Diagonal { between, length: rounding.round(length(&between)) };
    [Some(longest), crossing].into_iter().flatten().map(diagonal).collect()
}
