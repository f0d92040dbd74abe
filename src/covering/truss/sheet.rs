//! A face of a truss laid out flat: seen from outside, with the line of flight along x.

use geo_types::Coord;

use super::borders::tube_between;
use crate::covering::marks::Way;
use crate::job::{Face, MemberClass, Truss, Tube};
use crate::shape::{Distances, SpacePoint, UnrollFault, dot, double_area_vector, minus, unroll};

/// How much of a direction in space must lie in the face for the grain to follow it: cos 60°. Of three directions square
/// to each other one always has more.
const IN_THE_FACE: f64 = 0.5;

/// Height that a face gains for each millimetre across it before it counts as upright: about 6° from level.
const UPRIGHT: f64 = 0.1;

/// A face laid out flat.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Sheet<'t> {
    /// Its nodes, counter-clockwise as seen from outside.
    pub ring: Vec<usize>,
    /// Where they lie on the flat, the lower left corner at the origin.
    pub points: Vec<Coord<f64>>,
    /// Which way x runs on the flat.
    pub grain: GrainWay,
    /// Which way is up on the flat; `None` where the face lies level or stands along x.
    pub up: Option<Coord<f64>>,
    /// The tubes across it.
    pub across: Vec<Across<'t>>,
    /// The bays, as places in `ring`.
    pub bays: Vec<Vec<usize>>,
    /// How far nodes of a bay lie apart in space and on the flat; the nodes are places in `ring`.
    pub distances: Vec<Distances>,
}

impl Sheet<'_> {
    /// Names of two nodes of the ring, the one that the job has first before the other.
    pub fn names(&self, truss: &Truss, places: [usize; 2]) -> [String; 2] {
        let mut nodes = places.map(|place| self.ring[place]);
        nodes.sort_unstable();
        nodes.map(|node| truss.nodes[node].name.clone())
    }
}

/// The direction in space along which a face is laid out.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum GrainLine {
    /// Aft, along the line of flight.
    Aft,
    /// Up, for a face that is square to the flight.
    Up,
    /// To the right, for a face that is square to both.
    Right,
}

impl GrainLine {
    /// The directions in the order in which they are tried, each with its axis in space.
    const ALL: [(Self, usize); 3] = [(Self::Aft, 0), (Self::Up, 2), (Self::Right, 1)];

    /// What lies towards the small and the great ends of the axis.
    fn ends(self) -> [&'static str; 2] {
        match self {
            Self::Aft => ["front", "rear"],
            Self::Up => ["bottom", "top"],
            Self::Right => ["aircraft's left", "aircraft's right"],
        }
    }

    /// What is named in a drawing: the front, the top, or the right of the aircraft.
    fn named(self) -> usize {
        if self == Self::Aft { 0 } else { 1 }
    }
}

/// How a flat face lies along its x axis.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct GrainWay {
    line: GrainLine,
    /// Whether the axis runs to the left, so that the top of the face is up.
    to_the_left: bool,
}

impl GrainWay {
    /// The direction that is named in a drawing.
    pub fn way(self) -> Way {
        let named = self.line.named();
        let leftwards = (named == 0) != self.to_the_left;
        let x = if leftwards { -1.0 } else { 1.0 };
        Way { word: self.line.ends()[named], towards: Coord { x, y: 0.0 } }
    }
}

/// How a panel lies in its drawing.
pub(super) fn lies(way: &Way) -> String {
    let whose = if way.word.starts_with("aircraft") { "the" } else { "its" };
    let side = if way.towards.x < 0.0 { "left" } else { "right" };
    format!("drawn with {whose} {} to the {side}", way.word)
}

/// A tube that runs across a face and divides it into bays.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Across<'t> {
    /// Its ends as places in the ring, the lower first.
    pub ends: [usize; 2],
    /// The tube.
    pub tube: &'t Tube,
}

/// The ring of a face, counter-clockwise as seen from outside, which is to say away from the middle of the nodes.
pub(super) fn seen_from_outside(truss: &Truss, face: &Face) -> Vec<usize> {
    let places: Vec<SpacePoint> = face.ring.iter().map(|node| truss.nodes[*node].place).collect();
    let mut centre = middle(truss.nodes.iter().map(|node| node.place));
    if truss.has_mirrored_faces() {
        centre[1] = 0.0;
    }
    let own = middle(places.iter().copied());
    let normal = double_area_vector(&places);
    let away = dot(normal, minus(own, centre));
    let mut ring = face.ring.clone();
    if away < 0.0 {
        ring.reverse();
    }
    ring
}

fn middle(places: impl Iterator<Item = SpacePoint>) -> SpacePoint {
    let mut count = 0.0;
    let mut sum = [0.0; 3];
    for place in places {
        count += 1.0;
        sum = std::array::from_fn(|k| sum[k] + place[k]);
    }
    sum.map(|value: f64| value / count)
}

/// Lays a face out flat. `ring` is the face's, as seen from outside.
pub(super) fn sheet<'t>(truss: &'t Truss, ring: Vec<usize>) -> Result<Sheet<'t>, UnrollFault> {
    let places: Vec<SpacePoint> = ring.iter().map(|node| truss.nodes[*node].place).collect();
    let across = tubes_across(truss, &ring);
    let ends: Vec<[usize; 2]> = across.iter().map(|tube| tube.ends).collect();
    let unrolled = unroll(&places, &ends)?;
    let (grain, points) = along_the_flight(&unrolled.points, &places);
    let height = slope(&points, &places, 2);
    let up = (height.y > UPRIGHT).then(|| height / height.x.hypot(height.y));
    Ok(Sheet { ring, points, grain, up, across, bays: unrolled.bays, distances: unrolled.distances })
}

/// The tubes between nodes of the ring that are not neighbours. Of two that cross, structure goes before what only gives
/// shape, and then the one that was written first.
fn tubes_across<'t>(truss: &'t Truss, ring: &[usize]) -> Vec<Across<'t>> {
    let count = ring.len();
    let mut found = Vec::new();
    for from in 0..count {
        for to in from + 2..count {
            let neighbours = from == 0 && to + 1 == count;
            if let Some(tube) = tube_between(truss, [ring[from], ring[to]]).filter(|_| !neighbours) {
                found.push(Across { ends: [from, to], tube });
            }
        }
    }
    let written = |across: &Across| truss.tubes.iter().position(|tube| std::ptr::eq(tube, across.tube));
    found.sort_by_key(|across| (!is_structure(across.tube), written(across)));
    let mut kept: Vec<Across> = Vec::new();
    for across in found {
        if kept.iter().all(|other| !cross(other.ends, across.ends)) {
            kept.push(across);
        }
    }
    kept
}

/// Whether a tube is structure: approved covering manual pp. 16, 53.
fn is_structure(tube: &Tube) -> bool {
    matches!(tube.class, MemberClass::Longeron | MemberClass::CrossTube | MemberClass::Diagonal)
}

fn cross(one: [usize; 2], other: [usize; 2]) -> bool {
    let inside = |end: usize| one[0] < end && end < one[1];
    let clear = other.iter().any(|end| one.contains(end));
    !clear && inside(other[0]) != inside(other[1])
}

/// Turns the flat face so that the line of flight runs along x, or another direction where the face is square to it, and
/// so that the top is up where there is one.
fn along_the_flight(points: &[Coord<f64>], places: &[SpacePoint]) -> (GrainWay, Vec<Coord<f64>>) {
    let slopes = GrainLine::ALL.map(|(line, axis)| (line, slope(points, places, axis)));
    let steep = |(_, slope): &(GrainLine, Coord<f64>)| (slope.x * slope.x + slope.y * slope.y).sqrt() > IN_THE_FACE;
    let (line, grain) = slopes.into_iter().find(steep).unwrap_or(slopes[0]);
    let size = (grain.x * grain.x + grain.y * grain.y).sqrt();
    let (cos, sin) = (grain.x / size, grain.y / size);
    let turned = |p: &Coord<f64>| Coord { x: cos * p.x + sin * p.y, y: cos * p.y - sin * p.x };
    let turned: Vec<Coord<f64>> = points.iter().map(turned).collect();
    let to_the_left = slope(&turned, places, 2).y < -UPRIGHT;
    let sign = if to_the_left { -1.0 } else { 1.0 };
    let turned: Vec<Coord<f64>> = turned.into_iter().map(|point| point * sign).collect();
    let least = |value: fn(&Coord<f64>) -> f64| turned.iter().map(value).fold(f64::INFINITY, f64::min);
    let corner = Coord { x: least(|p| p.x), y: least(|p| p.y) };
    (GrainWay { line, to_the_left }, turned.iter().map(|point| *point - corner).collect())
}

/// How a coordinate in space grows over the flat face, by least squares.
fn slope(points: &[Coord<f64>], places: &[SpacePoint], axis: usize) -> Coord<f64> {
    let count = points.len() as f64;
    let mean = points.iter().fold(Coord { x: 0.0, y: 0.0 }, |sum, point| sum + *point) / count;
    let mean_value = places.iter().map(|place| place[axis]).sum::<f64>() / count;
    let [mut xx, mut xy, mut yy, mut xv, mut yv] = [0.0; 5];
    for (point, place) in points.iter().zip(places) {
        let (arm, value) = (*point - mean, place[axis] - mean_value);
        xx += arm.x * arm.x;
        xy += arm.x * arm.y;
        yy += arm.y * arm.y;
        xv += arm.x * value;
        yv += arm.y * value;
    }
    let determinant = xx * yy - xy * xy;
    Coord { x: (xv * yy - yv * xy) / determinant, y: (yv * xx - xv * xy) / determinant }
}
