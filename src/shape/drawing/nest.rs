//! Which loop is a piece and which is a hole in one: counted from outside, every second loop is a hole.

use kurbo::{Point, Rect};

use super::DrawnLine;
use crate::shape::segment::{Segment, double_area};

/// Points along one bent stretch: enough to know inside from outside.
const POINTS: usize = 8;

/// A loop and the holes in it.
pub(super) struct Nested {
    pub outer: DrawnLine,
    pub holes: Vec<DrawnLine>,
}

/// Sorts loops into pieces with their holes; pieces keep the order of the drawing.
pub(super) fn nest(loops: Vec<DrawnLine>) -> Vec<Nested> {
    let rings: Vec<Vec<Point>> = loops.iter().map(|line| corners(&line.segments)).collect();
    let boxes: Vec<Rect> = loops.iter().map(|line| line.bounds().unwrap_or(Rect::ZERO)).collect();
    let areas: Vec<f64> = loops.iter().map(|line| double_area(&line.segments).abs()).collect();
    let holds = |outer: usize, inner: usize| {
        outer != inner
            && areas[outer] > areas[inner]
            && boxes[outer].union(boxes[inner]) == boxes[outer]
            && rings[inner].get(rings[inner].len() / 2).is_some_and(|point| inside(&rings[outer], *point))
    };
    let around: Vec<Vec<usize>> =
        (0..loops.len()).map(|inner| (0..loops.len()).filter(|outer| holds(*outer, inner)).collect()).collect();
    let parent = |inner: usize| around[inner].iter().copied().min_by(|a, b| areas[*a].total_cmp(&areas[*b]));
    let mut pieces: Vec<(usize, Vec<usize>)> = (0..loops.len())
        .filter(|index| around[*index].len().is_multiple_of(2))
        .map(|index| (index, Vec::new()))
        .collect();
    for hole in (0..loops.len()).filter(|index| around[*index].len() % 2 == 1) {
        if let Some(piece) = parent(hole).and_then(|parent| pieces.iter_mut().find(|piece| piece.0 == parent)) {
            piece.1.push(hole);
        }
    }
    let mut loops: Vec<Option<DrawnLine>> = loops.into_iter().map(Some).collect();
    let mut take = |index: usize| loops[index].take();
    pieces
        .into_iter()
        .filter_map(|(outer, holes)| {
            Some(Nested { outer: take(outer)?, holes: holes.into_iter().filter_map(&mut take).collect() })
        })
        .collect()
}

fn corners(segments: &[Segment]) -> Vec<Point> {
    let points = |segment: &Segment| match segment {
        Segment::Line(line) => vec![line.p0],
        bent => (0..POINTS).map(|step| bent.at(step as f64 / POINTS as f64)).collect(),
    };
    segments.iter().flat_map(points).collect()
}

/// Whether a point lies inside a ring: a ray to the right crosses it an odd number of times.
fn inside(ring: &[Point], at: Point) -> bool {
    let crosses =
        |a: Point, b: Point| (a.y > at.y) != (b.y > at.y) && at.x < a.x + (at.y - a.y) * (b.x - a.x) / (b.y - a.y);
    let next = ring.iter().cycle().skip(1);
    ring.iter().zip(next).filter(|(a, b)| crosses(**a, **b)).count() % 2 == 1
}
