//! Whether a piece can lie on a cloth at all, at some turn that its grain allows, and by how much it is too large.

use geo_types::Coord;

use super::model::{Cloth, Grain};
use crate::shape::{Curve, Outline, sin_cos_degrees};

/// The convex hull of a cut outline, ready to be measured at any turn.
pub(super) struct Hull {
    /// Counter-clockwise.
    points: Vec<Coord<f64>>,
    /// Direction of the edge that starts at each point, in degrees, growing from the first by no more than a full turn.
    edges: Vec<f64>,
}

/// How a piece misses a cloth at the turn where it misses it least, in millimetres.
#[derive(Clone, Copy, Debug)]
pub struct Miss {
    /// What the piece needs across the roll.
    pub across: f64,
    /// What the piece needs along it.
    pub along: f64,
    /// The free width and length of the cloth.
    pub room: [f64; 2],
}

impl Miss {
    /// How much is missing in the worse direction; zero or less where the piece fits.
    pub fn by(&self) -> f64 {
        self.too_wide().max(self.too_long())
    }

    /// How much width is missing.
    pub fn too_wide(&self) -> f64 {
        self.across - self.room[0]
    }

    /// How much length is missing.
    pub fn too_long(&self) -> f64 {
        self.along - self.room[1]
    }
}

/// Free width and length of a cloth: selvages off, and no more than the box round an offcut's outline.
pub(super) fn room(cloth: &Cloth) -> [f64; 2] {
    let [mut lower, mut upper] = cloth.usable();
    let (mut first, mut last) = (0.0_f64, cloth.length.unwrap_or(f64::INFINITY));
    if let Some(Ok(region)) = cloth.outline.as_ref().map(Curve::flatten) {
        let (low, high) = (region.bounds().min(), region.bounds().max());
        (lower, upper) = (lower.max(low.y), upper.min(high.y));
        (first, last) = (first.max(low.x), last.min(high.x));
    }
    [upper - lower, last - first]
}

/// How a cut outline misses the cloth that it misses least, at its best allowed turn, and which of the cloths that is;
/// `None` where there is no cloth. An offcut counts as the rectangle round its outline.
pub fn least_miss(cut: &Outline, grain: &Grain, cloths: &[&Cloth]) -> Option<(usize, Miss)> {
    let rooms: Vec<[f64; 2]> = cloths.iter().map(|cloth| room(cloth)).collect();
    Hull::of(cut).least_miss(grain, &rooms)
}

/// From and to which turn a piece of that grain may be laid, in degrees.
fn ranges(grain: &Grain) -> Vec<[f64; 2]> {
    match grain.turns() {
        // Half a turn changes neither extent.
        None => vec![[0.0, 180.0]],
        Some(turns) => turns.iter().map(|turn| [turn - grain.tolerance, turn + grain.tolerance]).collect(),
    }
}

impl Hull {
    pub fn of(outline: &Outline) -> Self {
        let mut points = outline.convex_hull().exterior().0.clone();
        // The ring repeats its first point at the end.
        points.pop();
        let mut edges: Vec<f64> = Vec::with_capacity(points.len());
        for (index, from) in points.iter().enumerate() {
            let to = points[(index + 1) % points.len()];
            let direction = libm::atan2(to.y - from.y, to.x - from.x).to_degrees();
            let before = *edges.last().unwrap_or(&direction);
            let turned = (direction - before).rem_euclid(360.0);
            // A hull turns left; where it turns right it does so by rounding, at points that are all but in line.
            edges.push(if turned > 180.0 { before } else { before + turned });
        }
        Self { points, edges }
    }

    /// How the piece misses the cloth that it misses least, of cloths with these free widths and lengths, at its best
    /// allowed turn; and which cloth that is.
    pub fn least_miss(&self, grain: &Grain, rooms: &[[f64; 2]]) -> Option<(usize, Miss)> {
        let ranges = ranges(grain);
        let first_try = |(index, room): (usize, &[f64; 2])| Some((index, self.at(ranges.first()?[0], *room)));
        if let Some(found) = rooms.iter().enumerate().filter_map(first_try).find(|(_, miss)| miss.by() <= 0.0) {
            return Some(found);
        }
        let least = self.least_extents(&ranges);
        // A piece misses a cloth by this at least, so the search ends early where there are many cloths.
        let bound = |room: &[f64; 2]| (least[0] - room[0]).max(least[1] - room[1]);
        let mut order: Vec<usize> = (0..rooms.len()).collect();
        order.sort_by(|one, other| bound(&rooms[*one]).total_cmp(&bound(&rooms[*other])));
        let mut best: Option<(usize, Miss)> = None;
        for index in order {
            let room = rooms[index];
            if best.is_some_and(|(_, best)| best.by() <= bound(&room).max(0.0)) {
                break;
            }
            for miss in ranges.iter().flat_map(|range| self.turning_points(*range, room)) {
                if best.is_none_or(|(_, best)| miss.by() < best.by()) {
                    best = Some((index, miss));
                }
            }
        }
        best
    }

    /// The least that the piece needs across and the least that it needs along, at different turns perhaps.
    fn least_extents(&self, ranges: &[[f64; 2]]) -> [f64; 2] {
        let turns = ranges.iter().flat_map(|range| self.turns_of_edges(*range));
        let misses = turns.map(|turn| self.at(turn, [0.0; 2]));
        misses.fold([f64::INFINITY; 2], |[across, along], miss| [across.min(miss.across), along.min(miss.along)])
    }

    /// The misses at every turn of a range where the least one can be.
    ///
    /// Between two turns at which an edge of the hull lies along or across the roll, each extent of the hull is a single
    /// arch, lowest at an end; and the greater of two arches is lowest at an end or where they cross.
    fn turning_points(&self, range: [f64; 2], room: [f64; 2]) -> Vec<Miss> {
        let turns = self.turns_of_edges(range);
        let mut misses: Vec<Miss> = turns.iter().map(|turn| self.at(*turn, room)).collect();
        for pair in turns.windows(2) {
            if let Some(turn) = self.crossing(pair[0], pair[1], room) {
                misses.push(self.at(turn, room));
            }
        }
        misses
    }

    /// The ends of a range of turns, and the turns in it at which an edge of the hull lies along or across the roll.
    fn turns_of_edges(&self, [from, to]: [f64; 2]) -> Vec<f64> {
        // That is four times in a full turn; the first time at or after `from` is here.
        let first = |edge: &f64| from + (-edge - from).rem_euclid(90.0);
        let quarters = |turn: f64| (0..4).map(move |quarter| turn + 90.0 * f64::from(quarter));
        let mut turns: Vec<f64> = self.edges.iter().map(first).flat_map(quarters).filter(|turn| *turn < to).collect();
        turns.extend([from, to]);
        turns.sort_by(f64::total_cmp);
        turns.dedup();
        turns
    }

    /// The turn between two others where too wide and too long are equal, if their order changes.
    fn crossing(&self, mut from: f64, mut to: f64, room: [f64; 2]) -> Option<f64> {
        let wider = |turn: f64| {
            let miss = self.at(turn, room);
            miss.too_wide() > miss.too_long()
        };
        let wider_first = wider(from);
        if wider_first == wider(to) {
            return None;
        }
        for _ in 0..50 {
            let middle = 0.5 * (from + to);
            if wider(middle) == wider_first {
                from = middle;
            } else {
                to = middle;
            }
        }
        Some(0.5 * (from + to))
    }

    fn at(&self, turn: f64, room: [f64; 2]) -> Miss {
        let (sin, cos) = sin_cos_degrees(turn);
        let along = |point: Coord<f64>| cos * point.x - sin * point.y;
        let across = |point: Coord<f64>| sin * point.x + cos * point.y;
        let far = |direction: f64| self.farthest(direction - turn);
        Miss { along: along(far(0.0)) - along(far(180.0)), across: across(far(90.0)) - across(far(270.0)), room }
    }

    /// The point that lies farthest in a direction, in degrees: where the edges turn past its left hand.
    fn farthest(&self, direction: f64) -> Coord<f64> {
        let first = self.edges[0];
        let left = first + (direction + 90.0 - first).rem_euclid(360.0);
        self.points[self.edges.partition_point(|edge| *edge < left) % self.points.len()]
    }
}
