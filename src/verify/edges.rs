//! An outline as straight edges that know their cloth side, and the distances between edges.

use geo_types::Coord;

use crate::shape::Outline;

/// An outline as it lies: its edges, and the box round them.
pub(super) struct Shape {
    edges: Vec<Edge>,
    bounds: Bounds,
}

/// One straight stretch of a cut line.
#[derive(Clone, Copy)]
pub(super) struct Edge {
    from: Coord<f64>,
    to: Coord<f64>,
    /// Unit vector from the edge into the cloth of the piece.
    inward: Coord<f64>,
    bounds: Bounds,
}

/// An upright box.
#[derive(Clone, Copy)]
pub(super) struct Bounds {
    pub(super) min: Coord<f64>,
    pub(super) max: Coord<f64>,
}

/// A distance, and a point where it was found.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Measured {
    pub(super) mm: f64,
    pub(super) at: Coord<f64>,
}

impl Bounds {
    fn of(points: impl Iterator<Item = Coord<f64>>) -> Self {
        let mut bounds = Self {
            min: Coord { x: f64::INFINITY, y: f64::INFINITY },
            max: Coord { x: f64::NEG_INFINITY, y: f64::NEG_INFINITY },
        };
        for point in points {
            bounds.min = Coord { x: bounds.min.x.min(point.x), y: bounds.min.y.min(point.y) };
            bounds.max = Coord { x: bounds.max.x.max(point.x), y: bounds.max.y.max(point.y) };
        }
        bounds
    }

    /// Whether the boxes come within `margin` of each other in x and in y.
    pub(super) fn near(&self, other: &Self, margin: f64) -> bool {
        self.min.x <= other.max.x + margin
            && other.min.x <= self.max.x + margin
            && self.min.y <= other.max.y + margin
            && other.min.y <= self.max.y + margin
    }

    fn holds(&self, point: Coord<f64>) -> bool {
        self.min.x <= point.x && point.x <= self.max.x && self.min.y <= point.y && point.y <= self.max.y
    }
}

impl Shape {
    /// The shape of a sound outline.
    pub(super) fn of(outline: &Outline) -> Self {
        let polygon = outline.polygon();
        Self::from_rings(&polygon.exterior().0, polygon.interiors().iter().map(|ring| ring.0.as_slice()))
    }

    /// The shape of rings as they were written; nothing is asked of them but finite numbers.
    pub(super) fn from_rings<'a>(outer: &[Coord<f64>], holes: impl Iterator<Item = &'a [Coord<f64>]>) -> Self {
        let mut edges = ring_edges(outer, false);
        for hole in holes {
            edges.extend(ring_edges(hole, true));
        }
        let bounds = Bounds::of(edges.iter().flat_map(|edge| [edge.from, edge.to]));
        Self { edges, bounds }
    }

    pub(super) fn bounds(&self) -> &Bounds {
        &self.bounds
    }

    pub(super) fn edges(&self) -> &[Edge] {
        &self.edges
    }

    /// Whether a point lies inside, by the even-odd rule. Points on the cut line may go either way.
    pub(super) fn contains(&self, point: Coord<f64>) -> bool {
        self.bounds.holds(point) && self.edges.iter().filter(|edge| edge.is_right_of(point)).count() % 2 == 1
    }

    pub(super) fn distance_to_cut_line(&self, point: Coord<f64>) -> f64 {
        self.edges.iter().map(|edge| edge.distance_to(point)).fold(f64::INFINITY, f64::min)
    }

    /// A point for each edge, `depth` inside of its middle; where the piece is too slender there, none.
    pub(super) fn inner_points(&self, depth: f64) -> impl Iterator<Item = (&Edge, Coord<f64>)> {
        self.edges.iter().map(move |edge| (edge, edge.beside_middle(depth)))
    }
}

impl Edge {
    pub(super) fn bounds(&self) -> &Bounds {
        &self.bounds
    }

    pub(super) fn length(&self) -> f64 {
        length(self.to - self.from)
    }

    /// The point at a share of the edge, 0 to 1.
    pub(super) fn at(&self, share: f64) -> Coord<f64> {
        self.from + (self.to - self.from) * share
    }

    /// Whether a ray from the point along x meets the edge.
    fn is_right_of(&self, point: Coord<f64>) -> bool {
        let (a, b) = (self.from, self.to);
        (a.y > point.y) != (b.y > point.y) && point.x < (b.x - a.x) * (point.y - a.y) / (b.y - a.y) + a.x
    }

    fn distance_to(&self, point: Coord<f64>) -> f64 {
        let along = self.to - self.from;
        let square = dot(along, along);
        let share = if square > 0.0 { (dot(point - self.from, along) / square).clamp(0.0, 1.0) } else { 0.0 };
        length(point - self.from - along * share)
    }

    pub(super) fn beside_middle(&self, depth: f64) -> Coord<f64> {
        (self.from + self.to) / 2.0 + self.inward * depth
    }

    /// The shortest distance between two edges, and the point of this one where it is found.
    pub(super) fn distance_between(&self, other: &Self) -> Measured {
        if let Some(at) = self.crossing(other) {
            return Measured { mm: 0.0, at };
        }
        [
            Measured { mm: other.distance_to(self.from), at: self.from },
            Measured { mm: other.distance_to(self.to), at: self.to },
            Measured { mm: self.distance_to(other.from), at: other.from },
            Measured { mm: self.distance_to(other.to), at: other.to },
        ]
        .into_iter()
        .min_by(|one, two| one.mm.total_cmp(&two.mm))
        .unwrap_or(Measured { mm: f64::INFINITY, at: self.from })
    }

    /// Where two edges cross; edges that only touch are left to the distances of their ends.
    fn crossing(&self, other: &Self) -> Option<Coord<f64>> {
        let (mine, theirs) = (self.to - self.from, other.to - other.from);
        let ends = [cross(theirs, self.from - other.from), cross(theirs, self.to - other.from)];
        let others = [cross(mine, other.from - self.from), cross(mine, other.to - self.from)];
        let cross_over = ends[0] * ends[1] < 0.0 && others[0] * others[1] < 0.0;
        cross_over.then(|| self.from + mine * (ends[0] / (ends[0] - ends[1])))
    }

    /// The stretch of this edge, in millimetres from its start, that lies within `margin` of the other: one stretch or
    /// none, since all that is within a margin of a straight edge is convex.
    pub(super) fn stretch_near(&self, other: &Self, margin: f64) -> Option<[f64; 2]> {
        let whole = self.length();
        let along = (self.to - self.from) / whole;
        let stretches = [
            stretch_in_disc(self.from, along, other.from, margin),
            stretch_in_disc(self.from, along, other.to, margin),
            stretch_beside(self.from, along, other, margin),
        ];
        let union = stretches.into_iter().flatten().reduce(|one, two| [one[0].min(two[0]), one[1].max(two[1])])?;
        let cut = [union[0].max(0.0), union[1].min(whole)];
        (cut[0] <= cut[1]).then_some(cut)
    }
}

/// Edges of one ring; the last point may or may not repeat the first, and points on top of each other make no edge.
fn ring_edges(points: &[Coord<f64>], hole: bool) -> Vec<Edge> {
    let next = points.iter().cycle().skip(1);
    let pairs = || points.iter().zip(next.clone());
    let twice_area: f64 = pairs().map(|(a, b)| cross(*a - points[0], *b - points[0])).sum();
    let cloth_is_left = (twice_area > 0.0) != hole;
    pairs()
        .filter(|(from, to)| from != to)
        .map(|(&from, &to)| {
            let along = (to - from) / length(to - from);
            let left = Coord { x: -along.y, y: along.x };
            let inward = if cloth_is_left { left } else { -left };
            Edge { from, to, inward, bounds: Bounds::of([from, to].into_iter()) }
        })
        .collect()
}

/// Where a line lies within `radius` of a point, in millimetres along it.
fn stretch_in_disc(start: Coord<f64>, along: Coord<f64>, centre: Coord<f64>, radius: f64) -> Option<[f64; 2]> {
    let middle = dot(centre - start, along);
    let aside = cross(along, centre - start);
    let square = radius * radius - aside * aside;
    (square >= 0.0).then(|| [middle - square.sqrt(), middle + square.sqrt()])
}

/// Where a line lies in the rectangle that reaches `margin` to both sides of an edge.
fn stretch_beside(start: Coord<f64>, along: Coord<f64>, edge: &Edge, margin: f64) -> Option<[f64; 2]> {
    let long = length(edge.to - edge.from);
    let axis = (edge.to - edge.from) / long;
    let offset = start - edge.from;
    let lengthwise = stretch_between(dot(offset, axis), dot(along, axis), 0.0, long)?;
    let crosswise = stretch_between(cross(axis, offset), cross(axis, along), -margin, margin)?;
    let both = [lengthwise[0].max(crosswise[0]), lengthwise[1].min(crosswise[1])];
    (both[0] <= both[1]).then_some(both)
}

/// Where `at + speed · s` lies between two values.
fn stretch_between(at: f64, speed: f64, low: f64, high: f64) -> Option<[f64; 2]> {
    if speed == 0.0 {
        return (low <= at && at <= high).then_some([f64::NEG_INFINITY, f64::INFINITY]);
    }
    let ends = [(low - at) / speed, (high - at) / speed];
    Some([ends[0].min(ends[1]), ends[0].max(ends[1])])
}

fn dot(a: Coord<f64>, b: Coord<f64>) -> f64 {
    a.x * b.x + a.y * b.y
}

fn cross(a: Coord<f64>, b: Coord<f64>) -> f64 {
    a.x * b.y - a.y * b.x
}

fn length(a: Coord<f64>) -> f64 {
    dot(a, a).sqrt()
}
