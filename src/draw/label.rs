//! Where a label has room inside a piece.
//!
//! A label is a box. For a box of a given shape with its centre at a given point, the largest size at which no edge
//! of the piece enters it follows from the edges alone, so a coarse grid of centres with a finer look round the best
//! one is enough. Holes are edges too: a label never lies in the hole of a ring.

use geo::{Contains, MinimumRotatedRect};
use geo_types::{Coord, Line, Point, Polygon};

use crate::shape::sin_cos_degrees;

/// Centres tried along and across the piece; odd, so that its middle is one of them.
const GRID: [usize; 2] = [15, 9];
/// How often the look round the best centre is repeated with half the step.
const REFINEMENTS: usize = 4;
/// The eight steps to the cells around a cell.
const AROUND: [(f64, f64); 8] =
    [(-1.0, 0.0), (1.0, 0.0), (0.0, -1.0), (0.0, 1.0), (-1.0, -1.0), (1.0, 1.0), (-1.0, 1.0), (1.0, -1.0)];
/// What a millimetre away from where a box should be costs in size.
const NEARNESS: f64 = 1e-6;
/// A label that reads level is taken unless a turned one is this much larger.
const LEVEL_IS_WORTH: f64 = 1.5;

/// A box that lies free inside a piece, in the coordinates of the polygon.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Spot {
    /// Centre.
    pub at: Coord<f64>,
    /// Degrees counter-clockwise.
    pub angle: f64,
    /// Largest size: the box is `size` times the shape that was asked for.
    pub size: f64,
}

/// A box shape for size 1.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct BoxShape {
    /// Along the box's own x axis.
    pub width: f64,
    /// Across it.
    pub height: f64,
}

impl Spot {
    /// What a box of a shape covers here.
    pub fn covers(self, shape: BoxShape) -> Polygon<f64> {
        let corners = [(-0.5, -0.5), (0.5, -0.5), (0.5, 0.5), (-0.5, 0.5)].map(|(x, y)| {
            let along = Coord { x: x * shape.width * self.size, y: y * shape.height * self.size };
            turned(along, self.angle) + self.at
        });
        Polygon::new(corners.to_vec().into(), Vec::new())
    }
}

/// A piece prepared for looking for room in it.
pub(super) struct Room<'a> {
    polygon: &'a Polygon<f64>,
    edges: Vec<Line<f64>>,
    long_axis: f64,
    taken: Vec<Polygon<f64>>,
}

impl<'a> Room<'a> {
    /// Prepares a piece.
    pub fn new(polygon: &'a Polygon<f64>) -> Self {
        let rings = std::iter::once(polygon.exterior()).chain(polygon.interiors());
        let edges = rings.flat_map(|ring| ring.lines().collect::<Vec<_>>()).collect();
        Self { polygon, edges, long_axis: long_axis(polygon), taken: Vec::new() }
    }

    /// Keeps the box of a spot free of later boxes.
    pub fn take(&mut self, spot: Spot, shape: BoxShape) {
        let taken = spot.covers(shape);
        self.edges.extend(taken.exterior().lines());
        self.taken.push(taken);
    }

    /// Keeps later boxes off a line.
    pub fn keep_off(&mut self, line: Line<f64>) {
        self.edges.push(line);
    }

    /// The boxes that were taken.
    pub fn into_taken(self) -> Vec<Polygon<f64>> {
        self.taken
    }

    /// The best spot for a text: level where that costs little, else along the piece. Sizes beyond `enough` count as
    /// equal.
    pub fn for_text(&self, shape: BoxShape, enough: f64) -> Option<Spot> {
        let level = self.at_angle(shape, 0.0, enough, None);
        let along = self.at_angle(shape, readable(self.long_axis), enough, None);
        match (level, along) {
            (Some(level), Some(along)) if along.size > level.size * LEVEL_IS_WORTH => Some(along),
            (Some(level), _) => Some(level),
            (None, along) => along,
        }
    }

    /// The best spot for a box at an angle. Sizes beyond `enough` count as equal, and of equal ones that nearest to
    /// `near` is taken, or to the middle of the piece.
    pub fn at_angle(&self, shape: BoxShape, angle: f64, enough: f64, near: Option<Coord<f64>>) -> Option<Spot> {
        let (middle, extent) = self.extent();
        let mut search =
            Search { room: self, shape, angle, enough, near: near.unwrap_or(middle), best: None, best_score: 0.0 };
        let mut step = Coord { x: extent.x / GRID[0] as f64, y: extent.y / GRID[1] as f64 };
        let aside = |from: Coord<f64>, step: Coord<f64>, (x, y): (f64, f64)| {
            from + turned(Coord { x: x * step.x, y: y * step.y }, self.long_axis)
        };
        for row in from_the_middle(GRID[1]) {
            for column in from_the_middle(GRID[0]) {
                search.consider(aside(middle, step, (column, row)));
            }
        }
        for _ in 0..REFINEMENTS {
            step = step / 2.0;
            let Some(spot) = search.best else { break };
            for way in AROUND {
                search.consider(aside(spot.at, step, way));
            }
        }
        search.best
    }

    /// Places along the long axis, `apart` from each other and from the middle, at which a box of a size is free.
    pub fn along(&self, shape: BoxShape, size: f64, apart: f64) -> Vec<Spot> {
        let (middle, extent) = self.extent();
        let angle = readable(self.long_axis);
        let each_way = libm::floor(extent.x / 2.0 / apart) as usize;
        let free = |ahead: f64| {
            from_the_middle(GRID[1])
                .map(|row| Coord { x: ahead * apart, y: row * extent.y / GRID[1] as f64 })
                .map(|along| turned(along, self.long_axis) + middle)
                .find(|at| self.is_free(*at) && self.largest(*at, shape, angle, size).is_some())
                .map(|at| Spot { at, angle, size })
        };
        from_the_middle(2 * each_way + 1).skip(1).filter_map(free).collect()
    }

    fn is_free(&self, at: Coord<f64>) -> bool {
        let point = Point(at);
        self.polygon.contains(&point) && !self.taken.iter().any(|taken| taken.contains(&point))
    }

    /// Centre and extent of the piece along and across its long axis.
    fn extent(&self) -> (Coord<f64>, Coord<f64>) {
        let mut low = Coord { x: f64::INFINITY, y: f64::INFINITY };
        let mut high = Coord { x: f64::NEG_INFINITY, y: f64::NEG_INFINITY };
        for point in self.polygon.exterior().coords() {
            let along = turned(*point, -self.long_axis);
            low = Coord { x: low.x.min(along.x), y: low.y.min(along.y) };
            high = Coord { x: high.x.max(along.x), y: high.y.max(along.y) };
        }
        (turned((low + high) / 2.0, self.long_axis), high - low)
    }

    /// The largest size of a box round a point that no edge enters; `None` as soon as it is known to be no more than
    /// `at_least`.
    fn largest(&self, at: Coord<f64>, shape: BoxShape, angle: f64, at_least: f64) -> Option<f64> {
        let (sin, cos) = sin_cos_degrees(-angle);
        let into_box = |point: Coord<f64>| {
            let from = point - at;
            Coord {
                x: (cos * from.x - sin * from.y) / (shape.width / 2.0),
                y: (sin * from.x + cos * from.y) / (shape.height / 2.0),
            }
        };
        let mut largest = f64::INFINITY;
        for edge in &self.edges {
            largest = largest.min(square_distance(into_box(edge.start), into_box(edge.end)));
            if largest <= at_least {
                return None;
            }
        }
        Some(largest)
    }
}

/// Looks for the best centre of a box.
struct Search<'a> {
    room: &'a Room<'a>,
    shape: BoxShape,
    angle: f64,
    enough: f64,
    near: Coord<f64>,
    best: Option<Spot>,
    best_score: f64,
}

impl Search<'_> {
    fn consider(&mut self, at: Coord<f64>) {
        let malus = NEARNESS * libm::hypot(at.x - self.near.x, at.y - self.near.y);
        if self.best_score + malus >= self.enough || !self.room.is_free(at) {
            return;
        }
        let Some(largest) = self.room.largest(at, self.shape, self.angle, self.best_score + malus) else { return };
        let size = largest.min(self.enough);
        self.best_score = size - malus;
        self.best = Some(Spot { at, angle: self.angle, size });
    }
}

/// Steps from the middle of `count` cells to the middle of each, nearest first.
fn from_the_middle(count: usize) -> impl Iterator<Item = f64> {
    (0..count).map(|index| {
        let away = index.div_ceil(2) as f64;
        if index % 2 == 0 { away } else { -away }
    })
}

/// The smallest max(|x|, |y|) on a segment: it is reached at an end or where x = ±y, x = 0 or y = 0.
fn square_distance(start: Coord<f64>, end: Coord<f64>) -> f64 {
    let run = end - start;
    let at = |t: f64| (start.x + t * run.x).abs().max((start.y + t * run.y).abs());
    let crossings =
        [(-start.x, run.x), (-start.y, run.y), (start.y - start.x, run.x - run.y), (-start.x - start.y, run.x + run.y)];
    crossings
        .into_iter()
        .filter(|(_, slope)| *slope != 0.0)
        .map(|(from, slope)| from / slope)
        .filter(|t| (0.0..=1.0).contains(t))
        .map(at)
        .fold(at(0.0).min(at(1.0)), f64::min)
}

fn turned(point: Coord<f64>, angle: f64) -> Coord<f64> {
    let (sin, cos) = sin_cos_degrees(angle);
    Coord { x: cos * point.x - sin * point.y, y: sin * point.x + cos * point.y }
}

/// Direction of the long side of the smallest rectangle round the piece, in degrees.
fn long_axis(polygon: &Polygon<f64>) -> f64 {
    let Some(around) = polygon.minimum_rotated_rect() else { return 0.0 };
    let longest = around.exterior().lines().max_by(|a, b| squared(a).total_cmp(&squared(b)));
    longest.map_or(0.0, |side| libm::atan2(side.dy(), side.dx()).to_degrees())
}

fn squared(line: &Line<f64>) -> f64 {
    line.dx() * line.dx() + line.dy() * line.dy()
}

/// The same direction, turned so that a text along it is read from below or from the right.
pub(super) fn readable(angle: f64) -> f64 {
    let half = angle.rem_euclid(180.0);
    if half > 90.5 { half - 180.0 } else { half }
}

#[cfg(test)]
mod tests {
    use geo_types::polygon;

    use super::*;

    const SQUARE: BoxShape = BoxShape { width: 1.0, height: 1.0 };

    #[test]
    fn the_largest_box_in_a_square_is_the_square() {
        let square = polygon![(x: 0.0, y: 0.0), (x: 90.0, y: 0.0), (x: 90.0, y: 90.0), (x: 0.0, y: 90.0)];
        let spot = Room::new(&square).at_angle(SQUARE, 0.0, f64::INFINITY, None);
        assert!(spot.is_some_and(|spot| (spot.size - 90.0).abs() < 1e-6), "{spot:?}");
    }

    #[test]
    fn a_label_never_lies_in_the_hole_of_a_ring() {
        let around = |radius: f64| -> Vec<Coord<f64>> {
            (0..72).map(|step| turned(Coord { x: radius, y: 0.0 }, f64::from(step) * 5.0)).collect()
        };
        let ring = Polygon::new(around(60.0).into(), vec![around(40.0).into()]);
        let spot = Room::new(&ring).for_text(BoxShape { width: 2.0, height: 1.0 }, f64::INFINITY);
        let Some(spot) = spot else { panic!("the ring has room") };
        let away = libm::hypot(spot.at.x, spot.at.y);
        assert!(away > 40.0 && away < 60.0, "{spot:?}");
        assert!(spot.size > 10.0, "{spot:?}");
    }

    #[test]
    fn a_long_piece_is_lettered_along_its_length() {
        let (width, length) = (20.0, 400.0);
        let strip: Vec<Coord<f64>> = [(0.0, 0.0), (length, 0.0), (length, width), (0.0, width)]
            .map(|(x, y)| turned(Coord { x, y }, 120.0))
            .to_vec();
        let strip = Polygon::new(strip.into(), Vec::new());
        let spot = Room::new(&strip).for_text(BoxShape { width: 6.0, height: 1.0 }, f64::INFINITY);
        assert!(spot.is_some_and(|spot| (spot.angle + 60.0).abs() < 1e-6 && spot.size > 18.0), "{spot:?}");
    }

    #[test]
    fn a_second_box_keeps_clear_of_the_first() {
        let square = polygon![(x: 0.0, y: 0.0), (x: 90.0, y: 0.0), (x: 90.0, y: 90.0), (x: 0.0, y: 90.0)];
        let mut room = Room::new(&square);
        room.take(Spot { at: Coord { x: 45.0, y: 45.0 }, angle: 0.0, size: 30.0 }, SQUARE);
        let spot = room.at_angle(SQUARE, 0.0, f64::INFINITY, None);
        assert!(spot.is_some_and(|spot| spot.size > 25.0 && spot.size < 30.1), "{spot:?}");
    }
}
