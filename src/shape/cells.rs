//! The cells into which lines divide an outline, such as the bays between the members of a covered frame.

use std::collections::BTreeMap;

use geo::{Contains, Simplify};
use geo_types::{Coord, LineString, Polygon};

use super::polyline::distance;
use super::rings::{closed_pairs, double_area};

/// Points nearer to each other than this, in millimetres, are one corner of a cell.
const SAME_CORNER: f64 = 0.01;

/// A point in whole steps of [`SAME_CORNER`].
type Corner = (i64, i64);

/// The cells of a ring divided by lines, each counter-clockwise without a repeated point, by their lowest and leftmost
/// corners.
///
/// A line has two points or more. An end that lies on nothing is prolonged to what it meets within `reach`, since a member
/// is drawn to the middle or to the side of what holds it; an end that meets nothing all the same divides nothing. Lines
/// that hang together with nothing divide nothing either.
///
/// ```
/// use clothwright::shape::cells;
/// use geo_types::coord;
///
/// let frame = [[0.0, 0.0], [900.0, 0.0], [900.0, 400.0], [0.0, 400.0]].map(|[x, y]| coord! { x: x, y: y });
/// // Two ribs, one of which ends 5 mm short of the frame.
/// let ribs = [[300.0, 0.0, 400.0], [600.0, 5.0, 400.0]].map(|[x, from, to]| vec![coord! { x: x, y: from }, coord! { x: x, y: to }]);
/// assert_eq!(cells(&frame, &ribs, 10.0).len(), 3);
/// assert_eq!(cells(&frame, &ribs, 1.0).len(), 2);
/// ```
pub fn cells(ring: &[Coord<f64>], lines: &[Vec<Coord<f64>>], reach: f64) -> Vec<Vec<Coord<f64>>> {
    let frame = closed_pairs(ring).map(|(from, to)| [from, to]);
    let mut segments: Vec<[Coord<f64>; 2]> = frame.chain(lines.iter().flat_map(|line| pairs(line))).collect();
    for line in lines {
        let line = LineString::new(line.clone()).simplify(SAME_CORNER).into_inner();
        let [first, second, ..] = line[..] else { continue };
        let [.., before, last] = line[..] else { continue };
        segments.extend(prolonged(first, second, &segments, reach));
        segments.extend(prolonged(last, before, &segments, reach));
    }
    let mut graph = Graph::of(&segments);
    graph.keep_what_hangs_together_with(corner(ring[0]));
    graph.drop_loose_ends();
    let frame = Polygon::new(LineString::new(ring.to_vec()), Vec::new());
    let mut found: Vec<Vec<Coord<f64>>> =
        graph.loops().into_iter().filter(|cell| area(cell) > SAME_CORNER && is_inside(&frame, cell)).collect();
    for cell in &mut found {
        let first = (0..cell.len()).min_by(|one, other| order(cell[*one], cell[*other])).unwrap_or(0);
        cell.rotate_left(first);
    }
    found.sort_by(|one, other| order(one[0], other[0]).then(area(one).total_cmp(&area(other))));
    found
}

fn order(one: Coord<f64>, other: Coord<f64>) -> std::cmp::Ordering {
    one.y.total_cmp(&other.y).then(one.x.total_cmp(&other.x))
}

fn pairs(line: &[Coord<f64>]) -> impl Iterator<Item = [Coord<f64>; 2]> {
    line.windows(2).map(|pair| [pair[0], pair[1]])
}

/// What a line has more at an end, where it came from `before`: nothing where the end lies on another line or, among the
/// segments of its own, on one that it does not belong to; else as far as what it meets within reach, or all of the reach,
/// where the prolonged end of another line may still meet it.
fn prolonged(end: Coord<f64>, before: Coord<f64>, segments: &[[Coord<f64>; 2]], reach: f64) -> Option<[Coord<f64>; 2]> {
    let is_own = |segment: &[Coord<f64>; 2]| segment.contains(&end);
    let others = || segments.iter().filter(|segment| !is_own(segment));
    let held = segments.iter().filter(|segment| is_own(segment)).count() > 1;
    if held || others().any(|segment| lies_on(end, *segment)) {
        return None;
    }
    let way = (end - before) / distance(before, end).max(SAME_CORNER);
    let far = end + way * reach;
    let met = others().flat_map(|segment| meetings([end, far], *segment));
    let nearest = met.min_by(|one, other| distance(end, *one).total_cmp(&distance(end, *other)));
    Some([end, nearest.unwrap_or(far)])
}

fn corner(point: Coord<f64>) -> Corner {
    let step = |value: f64| (value / SAME_CORNER).round() as i64;
    (step(point.x), step(point.y))
}

fn point((x, y): Corner) -> Coord<f64> {
    Coord { x: x as f64 * SAME_CORNER, y: y as f64 * SAME_CORNER }
}

fn area(ring: &[Coord<f64>]) -> f64 {
    double_area(ring) / 2.0
}

/// Whether a cell lies in the ring, of which it crosses no edge: whether a point beside its first edge does.
fn is_inside(frame: &Polygon<f64>, cell: &[Coord<f64>]) -> bool {
    let longest = (0..cell.len()).max_by(|one, other| side(cell, *one).total_cmp(&side(cell, *other))).unwrap_or(0);
    let (from, to) = (cell[longest], cell[(longest + 1) % cell.len()]);
    let way = (to - from) / side(cell, longest).max(f64::MIN_POSITIVE);
    let beside = (from + to) / 2.0 + Coord { x: -way.y, y: way.x } * (2.0 * SAME_CORNER);
    frame.contains(&beside)
}

fn side(cell: &[Coord<f64>], index: usize) -> f64 {
    distance(cell[index], cell[(index + 1) % cell.len()])
}

/// Corners with their neighbours.
struct Graph {
    next: BTreeMap<Corner, Vec<Corner>>,
}

impl Graph {
    /// Segments parted where they meet.
    fn of(segments: &[[Coord<f64>; 2]]) -> Self {
        let mut next: BTreeMap<Corner, Vec<Corner>> = BTreeMap::new();
        for (index, segment) in segments.iter().enumerate() {
            let mut corners = vec![corner(segment[0]), corner(segment[1])];
            for (other, across) in segments.iter().enumerate() {
                if other != index {
                    corners.extend(meetings(*segment, *across).into_iter().map(corner));
                }
            }
            let from = corners[0];
            let ahead = |at: &Corner| (at.0 - from.0).pow(2) + (at.1 - from.1).pow(2);
            corners.sort_by_key(ahead);
            corners.dedup();
            for pair in corners.windows(2) {
                next.entry(pair[0]).or_default().push(pair[1]);
                next.entry(pair[1]).or_default().push(pair[0]);
            }
        }
        for neighbours in next.values_mut() {
            neighbours.sort_unstable();
            neighbours.dedup();
        }
        Self { next }
    }

    fn keep_what_hangs_together_with(&mut self, start: Corner) {
        let mut kept: BTreeMap<Corner, Vec<Corner>> = BTreeMap::new();
        let mut waiting = vec![start];
        while let Some(at) = waiting.pop() {
            if let Some(neighbours) = self.next.remove(&at) {
                waiting.extend(&neighbours);
                kept.insert(at, neighbours);
            }
        }
        self.next = kept;
    }

    fn drop_loose_ends(&mut self) {
        let ends = |next: &BTreeMap<Corner, Vec<Corner>>| {
            next.iter().filter(|(_, neighbours)| neighbours.len() < 2).map(|(at, _)| *at).collect::<Vec<_>>()
        };
        let mut loose = ends(&self.next);
        while let Some(end) = loose.pop() {
            for neighbour in self.next.remove(&end).unwrap_or_default() {
                if let Some(neighbours) = self.next.get_mut(&neighbour) {
                    neighbours.retain(|other| *other != end);
                    if neighbours.len() < 2 {
                        loose.push(neighbour);
                    }
                }
            }
        }
    }

    /// Every way round that keeps what it encloses on the left.
    fn loops(&self) -> Vec<Vec<Coord<f64>>> {
        let mut ways: BTreeMap<(Corner, Corner), bool> =
            self.next.iter().flat_map(|(at, next)| next.iter().map(move |to| ((*at, *to), false))).collect();
        let starts: Vec<(Corner, Corner)> = ways.keys().copied().collect();
        let mut found = Vec::new();
        for start in starts {
            let mut way = start;
            let mut corners = Vec::new();
            while let Some(walked) = ways.get_mut(&way).filter(|walked| !**walked) {
                *walked = true;
                corners.push(point(way.0));
                way = (way.1, self.leftmost(way));
            }
            if corners.len() > 2 {
                found.push(corners);
            }
        }
        found
    }

    /// Where to go from the end of a way to keep to the left as much as possible.
    fn leftmost(&self, (from, at): (Corner, Corner)) -> Corner {
        let back = angle(at, from);
        // Counted clockwise from where one came from, the first way met is the leftmost.
        let turn = |to: &Corner| {
            let turn = back - angle(at, *to);
            if turn <= 0.0 { turn + std::f64::consts::TAU } else { turn }
        };
        let ways = self.next.get(&at).into_iter().flatten();
        ways.copied().min_by(|one, other| turn(one).total_cmp(&turn(other))).unwrap_or(from)
    }
}

fn angle(from: Corner, to: Corner) -> f64 {
    libm::atan2((to.1 - from.1) as f64, (to.0 - from.0) as f64)
}

/// Where two segments meet: one point, or the ends that one has on the other.
fn meetings(one: [Coord<f64>; 2], other: [Coord<f64>; 2]) -> Vec<Coord<f64>> {
    let mut found: Vec<Coord<f64>> = other.into_iter().filter(|end| lies_on(*end, one)).collect();
    let (way, across) = (one[1] - one[0], other[1] - other[0]);
    let cross = way.x * across.y - way.y * across.x;
    if cross.abs() <= f64::EPSILON * way.x.hypot(way.y) * across.x.hypot(across.y) {
        return found;
    }
    let arm = other[0] - one[0];
    let part = (arm.x * across.y - arm.y * across.x) / cross;
    let part_across = (arm.x * way.y - arm.y * way.x) / cross;
    if (0.0..=1.0).contains(&part) && (0.0..=1.0).contains(&part_across) {
        found.push(one[0] + way * part);
    }
    found
}

/// Whether a point lies on a segment but for rounding.
fn lies_on(at: Coord<f64>, [from, to]: [Coord<f64>; 2]) -> bool {
    let (way, arm) = (to - from, at - from);
    let length = way.x.hypot(way.y);
    if length <= SAME_CORNER {
        return distance(at, from) <= SAME_CORNER;
    }
    let along = (arm.x * way.x + arm.y * way.y) / length;
    let beside = (way.x * arm.y - way.y * arm.x) / length;
    beside.abs() <= SAME_CORNER && (-SAME_CORNER..=length + SAME_CORNER).contains(&along)
}
