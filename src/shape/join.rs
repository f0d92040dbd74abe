//! Corners of an outline that grows: from one moved edge to the next.

use kurbo::{Point, Vec2};

use super::FLATTENING;
use super::flatten::{SMOOTH, arc_steps, turned};
use super::segment::unit;

/// How far a mitred corner may reach from the corner of the finished outline, in allowances. Sharper corners (less than
/// about 29°) are cut off square there.
pub const MITRE_LIMIT: f64 = 4.0;

/// How corners are filled where an outline grows.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Join {
    /// Edges are drawn out until they meet; see [`MITRE_LIMIT`].
    Mitred,
    /// An arc round the corner.
    Round,
}

/// A corner of a ring that has its material on the left, and the edges that meet there.
#[derive(Clone, Copy, Debug)]
pub(super) struct Corner {
    pub at: Point,
    /// Unit vectors along the edge that arrives and the edge that leaves.
    pub directions: [Vec2; 2],
    /// How far each edge moves outwards, which is to its right.
    pub distances: [f64; 2],
    pub join: Join,
}

impl Corner {
    /// Whether the material turns round this corner, or the edges run straight on.
    pub fn bulges(&self) -> bool {
        self.sine() >= -SMOOTH
    }

    /// Whether, in a notch, the band of either edge ends within the band of the other, whose lengths are given. A notch
    /// of less than a right angle ends every band that meets the other edge.
    pub fn has_room(&self, lengths: [f64; 2]) -> bool {
        let overrun = self.overrun();
        let fits = |edge: usize| {
            let ends_inside = self.cosine() <= 0.0 || self.distances[edge] * self.sine().abs() <= lengths[1 - edge];
            ends_inside && -overrun[edge] <= lengths[edge]
        };
        self.bulges() || (fits(0) && fits(1))
    }

    /// The grown ring from the moved end of the edge that arrives to the moved start of the edge that leaves.
    pub fn points(&self) -> Vec<Point> {
        match (self.bulges(), self.join) {
            (true, Join::Mitred) => self.mitred(),
            (true, Join::Round) => self.round(),
            (false, _) => self.hollow(),
        }
    }

    /// The moved end of the edge that arrives and the moved start of the edge that leaves.
    pub fn moved_ends(&self) -> [Point; 2] {
        let [arriving, leaving] = self.directions.map(right_of);
        [self.at + arriving * self.distances[0], self.at + leaving * self.distances[1]]
    }

    fn sine(&self) -> f64 {
        self.directions[0].cross(self.directions[1])
    }

    fn cosine(&self) -> f64 {
        self.directions[0].dot(self.directions[1])
    }

    /// How far past the corner the moved edges meet, along each of them outwards.
    fn overrun(&self) -> [f64; 2] {
        let [before, after] = self.distances;
        [(after - before * self.cosine()) / self.sine(), (before - after * self.cosine()) / self.sine()]
    }

    fn mitred(&self) -> Vec<Point> {
        let [end, start] = self.moved_ends();
        if (end - start).hypot() <= super::SAME_POINT {
            return vec![end];
        }
        let overrun = self.overrun();
        let drawn_out = overrun.iter().all(|length| *length >= -super::SAME_POINT);
        let straight = self.sine().abs() <= SMOOTH && self.cosine() > 0.0;
        if straight || !drawn_out {
            // The wider allowance begins with a step: drawing the narrower one out would cut into it.
            return self.step();
        }
        let tip = end + self.directions[0] * overrun[0];
        let reach = MITRE_LIMIT * self.distances[0].max(self.distances[1]);
        if tip.is_finite() && (tip - self.at).hypot() <= reach { vec![tip] } else { self.cut_off(reach) }
    }

    /// Straight from one moved edge to the other; an end on the line of the other edge needs no vertex.
    fn step(&self) -> Vec<Point> {
        let [end, start] = self.moved_ends();
        let step = start - end;
        let runs_along =
            |direction: Vec2| step.cross(direction).abs() <= super::SAME_POINT && step.dot(direction) > 0.0;
        match self.directions.map(runs_along) {
            [true, _] => vec![start],
            [_, true] => vec![end],
            _ => vec![end, start],
        }
    }

    /// A mitre cut square to the corner's axis.
    fn cut_off(&self, reach: f64) -> Vec<Point> {
        let [arriving, leaving] = self.directions;
        let axis = unit(arriving - leaving);
        let [end, start] = self.moved_ends();
        let along = |from: Point, direction: Vec2| {
            from + direction * ((reach - (from - self.at).dot(axis)) / direction.dot(axis))
        };
        vec![along(end, arriving), along(start, -leaving)]
    }

    /// An arc of the wider allowance, from where it leaves the line of the narrower one.
    fn round(&self) -> Vec<Point> {
        let end = self.moved_ends()[0];
        let [before, after] = self.distances;
        let radius = before.max(after);
        let turn = libm::atan2(self.sine().max(0.0), self.cosine());
        let (from, to) = (libm::acos(before / radius), turn - libm::acos(after / radius));
        if radius <= 0.0 || turn <= SMOOTH && before == after {
            return vec![end];
        }
        if to <= from {
            return self.step();
        }
        let steps = arc_steps(radius, to - from, FLATTENING);
        let step = (to - from) / steps as f64;
        let outwards = right_of(self.directions[0]);
        let spoke = |angle: f64, length: f64| self.at + turned(outwards, angle) * length;
        let corners = (0..steps).map(|i| spoke(from + (i as f64 + 0.5) * step, radius / libm::cos(step / 2.0)));
        // An end of the arc that touches its edge needs no vertex: the first tangent is that edge.
        let first = (from > 0.0).then(|| spoke(from, radius));
        let last = (to < turn).then(|| spoke(to, radius));
        first.into_iter().chain(corners).chain(last).collect()
    }

    /// Where the moved edges meet in a notch; a step where one moves past the start of the other.
    fn hollow(&self) -> Vec<Point> {
        let [end, start] = self.moved_ends();
        let [before, after] = self.distances;
        let overrun = self.overrun();
        let outwards = self.directions.map(right_of);
        if overrun[1] > 0.0 {
            return vec![self.at + outwards[1] * (before / self.cosine()), start];
        }
        if overrun[0] > 0.0 {
            return vec![end, self.at + outwards[0] * (after / self.cosine())];
        }
        vec![end + self.directions[0] * overrun[0]]
    }
}

fn right_of(direction: Vec2) -> Vec2 {
    Vec2::new(direction.y, -direction.x)
}
