//! Parting an outline along a straight line, each side with its share of an overlap.

use geo_types::{Coord, LineString, Polygon};

use crate::shape::{Outline, RingRole, SAME_POINT};

/// A straight line without ends.
pub(super) struct Cutter {
    at: Coord<f64>,
    /// Of length one.
    along: Coord<f64>,
}

impl Cutter {
    /// The line through a point in a direction, which is not zero.
    pub fn new(at: Coord<f64>, along: Coord<f64>) -> Self {
        let length = (along.x * along.x + along.y * along.y).sqrt();
        Self { at, along: Coord { x: along.x / length, y: along.y / length } }
    }

    /// How far a point lies to the left of the line.
    fn left(&self, point: Coord<f64>) -> f64 {
        self.along.x * (point.y - self.at.y) - self.along.y * (point.x - self.at.x)
    }

    /// How far along the line a point lies.
    pub fn forward(&self, point: Coord<f64>) -> f64 {
        self.along.x * (point.x - self.at.x) + self.along.y * (point.y - self.at.y)
    }

    /// How far an outline reaches across the direction of the line.
    pub fn extent_across(&self, outline: &Outline) -> f64 {
        let lefts = outline.rings().flat_map(|(_, ring)| ring).map(|point| self.left(*point));
        let (low, high) = lefts.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), at| (low.min(at), high.max(at)));
        high - low
    }

    /// The part to the right of the line and the part to the left of it, each reaching over it by half the overlap.
    ///
    /// `None` where the line does not part the outline in exactly two, or where the outline has holes.
    pub fn halves(&self, outline: &Outline, overlap: f64) -> Option<[Outline; 2]> {
        if outline.rings().any(|(role, _)| role != RingRole::Outer) {
            return None;
        }
        let (_, ring) = outline.rings().next()?;
        let right = self.kept(ring, |point| overlap / 2.0 - self.left(point))?;
        let left = self.kept(ring, |point| overlap / 2.0 + self.left(point))?;
        Some([right, left])
    }

    /// What of an outline without holes lies to the left of the line; `None` where it does not cross it twice.
    pub fn left_of(&self, outline: &Outline) -> Option<Outline> {
        let (_, ring) = outline.rings().next()?;
        self.kept(ring, |point| self.left(point))
    }

    /// The part of a ring where `inside` is zero or more; `None` where that is all, nothing, or in several parts.
    fn kept(&self, ring: &[Coord<f64>], inside: impl Fn(Coord<f64>) -> f64) -> Option<Outline> {
        // A point that lies on the edge but for rounding belongs to the part.
        let keeps = |point: Coord<f64>| inside(point) >= -SAME_POINT;
        let mut points = Vec::new();
        let mut crossings = 0;
        for (from, to) in ring.iter().copied().zip(ring.iter().copied().cycle().skip(1)) {
            if keeps(from) {
                points.push(from);
            }
            if keeps(from) != keeps(to) {
                crossings += 1;
                let (a, b) = (inside(from), inside(to));
                let share = (a / (a - b)).clamp(0.0, 1.0);
                points.push(from + (to - from) * share);
            }
        }
        let near = |a: Coord<f64>, b: Coord<f64>| (a.x - b.x).abs().max((a.y - b.y).abs()) <= SAME_POINT;
        points.dedup_by(|next, before| near(*next, *before));
        if points.len() > 1 && near(points[0], points[points.len() - 1]) {
            points.pop();
        }
        if crossings != 2 || points.len() < 3 {
            return None;
        }
        points.push(points[0]);
        Outline::new(Polygon::new(LineString::new(points), Vec::new())).ok()
    }

    /// Where the line enters and leaves an outline; `None` where it crosses it elsewhere than twice.
    pub fn ends(&self, outline: &Outline) -> Option<[Coord<f64>; 2]> {
        let (_, ring) = outline.rings().next()?;
        let pairs = ring.iter().copied().zip(ring.iter().copied().cycle().skip(1));
        let crossings: Vec<Coord<f64>> = pairs
            .filter(|(from, to)| (self.left(*from) >= 0.0) != (self.left(*to) >= 0.0))
            .map(|(from, to)| {
                let (a, b) = (self.left(from), self.left(to));
                from + (to - from) * (a / (a - b))
            })
            .collect();
        let [one, other] = crossings[..] else { return None };
        Some(if self.forward(one) <= self.forward(other) { [one, other] } else { [other, one] })
    }
}

/// Length of the line inside an outline; endless where it does not part it in two.
pub(super) fn length_inside(line: &Cutter, outline: &Outline) -> f64 {
    line.ends(outline).map_or(f64::INFINITY, |[from, to]| line.forward(to) - line.forward(from))
}
