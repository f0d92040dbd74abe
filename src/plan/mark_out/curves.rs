//! A curved edge as offsets from its chord at even stations.

use geo_types::Coord;

use crate::shape::distance;

/// What a run may bulge and still be a straight line, in millimetres: less than a pencil line is wide.
pub(super) const STRAIGHT: f64 = 0.4;
/// How far a straight line between neighbouring marks may lie from the curve, in millimetres.
const BEND: f64 = 1.0;
/// The least and the greatest distance from mark to mark, in millimetres.
const STATIONS: [f64; 2] = [20.0, 250.0];
/// Spaces between marks that are tried, as parts of the chord, at most.
const SPACES: usize = 200;

/// A curve beside its chord.
pub(super) struct Curved {
    /// Length of the chord.
    pub chord: f64,
    /// The marks, both ends left out.
    pub marks: Vec<Mark>,
    /// How far the curve lies from straight lines between marks, at most.
    pub bend: f64,
}

/// A mark beside the chord.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Mark {
    pub along: f64,
    /// To the right of the way, which is out of a ring that runs counter-clockwise.
    pub out: f64,
    pub at: Coord<f64>,
}

/// How far points lie from the line through the first and the last one, at most.
pub(super) fn bulge(points: &[Coord<f64>]) -> f64 {
    let frame = Frame::new(points[0], points[points.len() - 1]);
    points.iter().map(|point| frame.along_and_out(*point)[1].abs()).fold(0.0, f64::max)
}

/// The marks of a curve that is nowhere steep against its chord.
pub(super) fn curved(points: &[Coord<f64>]) -> Curved {
    let (from, to) = (points[0], points[points.len() - 1]);
    let frame = Frame::new(from, to);
    let local: Vec<[f64; 2]> = points.iter().map(|point| frame.along_and_out(*point)).collect();
    let chord = distance(from, to);
    let fewest = (chord / STATIONS[1]).ceil().max(2.0) as usize;
    let most = ((chord / STATIONS[0]).floor() as usize).clamp(fewest, SPACES.max(fewest));
    let mut found = stations(&local, chord, fewest);
    for spaces in fewest + 1..=most {
        if bend(&local, &found, chord) <= BEND {
            break;
        }
        found = stations(&local, chord, spaces);
    }
    let bend = bend(&local, &found, chord);
    let marks = found.into_iter().map(|[along, out]| Mark { along, out, at: frame.point(along, out) }).collect();
    Curved { chord, marks, bend }
}

/// The curve at even parts of the chord, both ends left out.
fn stations(local: &[[f64; 2]], chord: f64, spaces: usize) -> Vec<[f64; 2]> {
    let place = |part: usize| chord * part as f64 / spaces as f64;
    (1..spaces).map(|part| [place(part), offset_at(local, place(part))]).collect()
}

fn offset_at(local: &[[f64; 2]], along: f64) -> f64 {
    let over = local.windows(2).find(|pair| pair[0][0] <= along && along <= pair[1][0]);
    over.map_or(0.0, |pair| {
        let width = pair[1][0] - pair[0][0];
        let part = if width > 0.0 { (along - pair[0][0]) / width } else { 0.0 };
        pair[0][1] + (pair[1][1] - pair[0][1]) * part
    })
}

/// How far the curve lies from straight lines between its marks and ends, at most.
fn bend(local: &[[f64; 2]], marks: &[[f64; 2]], chord: f64) -> f64 {
    let mut through = vec![[0.0, 0.0]];
    through.extend(marks);
    through.push([chord, 0.0]);
    local.iter().map(|[along, out]| (out - offset_at(&through, along.clamp(0.0, chord))).abs()).fold(0.0, f64::max)
}

/// A chord with the side that lies out of the piece.
pub(super) struct Frame {
    from: Coord<f64>,
    /// Of length one.
    direction: Coord<f64>,
}

impl Frame {
    pub fn new(from: Coord<f64>, to: Coord<f64>) -> Self {
        let length = distance(from, to).max(f64::MIN_POSITIVE);
        Self { from, direction: (to - from) / length }
    }

    fn along_and_out(&self, point: Coord<f64>) -> [f64; 2] {
        let arm = point - self.from;
        let Coord { x, y } = self.direction;
        [arm.x * x + arm.y * y, arm.x * y - arm.y * x]
    }

    pub fn point(&self, along: f64, out: f64) -> Coord<f64> {
        let Coord { x, y } = self.direction;
        Coord { x: self.from.x + along * x + out * y, y: self.from.y + along * y - out * x }
    }
}
