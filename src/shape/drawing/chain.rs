//! Loose lines into closed loops: doubled lines go, near ends are joined.

use std::collections::BTreeMap;

use kurbo::{Point, Rect};

use super::{DrawingFault, DrawnLine, limits};
use crate::shape::segment::{Segment, double_area};
use crate::shape::{SAME_POINT, TOLERANCE};

/// Lines with more stretches than this are not compared with others.
const COMPARED: usize = 2_000;

/// What became of the lines.
pub(super) struct Chained {
    /// Closed lines.
    pub loops: Vec<DrawnLine>,
    /// Lines that close nowhere.
    pub open: Vec<DrawnLine>,
    /// How many lines were drawn twice.
    pub doubled: usize,
    /// Gaps that were closed, in millimetres.
    pub gaps: Vec<f64>,
    /// How many lines became part of a longer one.
    pub chained: usize,
}

/// Chains lines that are in millimetres; ends within `join` of each other meet.
///
/// # Errors
/// [`DrawingFault`] where so many lines lie over each other or end at one place that no piece of cloth can be meant.
pub(super) fn chain(lines: Vec<DrawnLine>, join: f64) -> Result<Chained, DrawingFault> {
    let before = lines.len();
    let lines = without_doubles(lines)?;
    let doubled = before - lines.len();
    let (loops, loose): (Vec<_>, Vec<_>) = lines.into_iter().partition(|line| gap(&line.segments) <= SAME_POINT);
    let mut chained = Chained { loops, open: Vec::new(), doubled, gaps: Vec::new(), chained: 0 };
    let mut pool = Pool::new(loose, join)?;
    while let Some(mut line) = pool.first() {
        let mut count = 1;
        for _ in 0..2 {
            while gap(&line.segments) > join || short(&line, join) {
                let Some(next) = pool.next(end(&line.segments), join) else { break };
                chained.gaps.extend(meet(&mut line.segments, next));
                count += 1;
            }
            if gap(&line.segments) > join || short(&line, join) {
                line.segments = backwards(&line.segments);
            }
        }
        chained.chained += if count > 1 { count } else { 0 };
        if gap(&line.segments) <= join && !short(&line, join) {
            chained.gaps.extend(close(&mut line.segments));
            chained.loops.push(line);
        } else {
            chained.open.push(line);
        }
    }
    chained.gaps.retain(|gap| *gap > SAME_POINT);
    Ok(chained)
}

fn end(segments: &[Segment]) -> Point {
    segments.last().map_or(Point::ZERO, Segment::end)
}

fn gap(segments: &[Segment]) -> f64 {
    segments.first().map_or(0.0, |first| (first.start() - end(segments)).hypot())
}

/// Whether a line is too short for its ends to be the two sides of a gap.
fn short(line: &DrawnLine, join: f64) -> bool {
    line.bounds().is_none_or(|bounds| bounds.width().max(bounds.height()) <= 2.0 * join)
}

fn backwards(segments: &[Segment]) -> Vec<Segment> {
    segments.iter().rev().map(Segment::reversed).collect()
}

/// Appends a line whose start is near the end of the first; answers the gap between them.
fn meet(segments: &mut Vec<Segment>, mut next: Vec<Segment>) -> Option<f64> {
    let (last, first) = (segments.last_mut()?, next.first_mut()?);
    let (from, to) = (last.end(), first.start());
    let gap = (to - from).hypot();
    let bridge = bring_together(last, first);
    segments.extend(bridge);
    segments.extend(next);
    Some(gap)
}

/// Closes a line whose ends are near each other; answers the gap.
fn close(segments: &mut Vec<Segment>) -> Option<f64> {
    let gap = gap(segments);
    let mut last = segments.pop()?;
    if segments.is_empty() {
        segments.push(last);
    } else {
        let bridge = bring_together(&mut last, &mut segments[0]);
        segments.push(last);
        segments.extend(bridge);
        return Some(gap);
    }
    if gap > 0.0 {
        segments.push(Segment::line(end(segments), segments[0].start()));
    }
    Some(gap)
}

/// Lets two stretches meet: a straight line or a curve gives way to an arc, whose circle must stay; between two arcs with
/// a true gap comes a short line.
fn bring_together(last: &mut Segment, first: &mut Segment) -> Option<Segment> {
    let (from, to) = (last.end(), first.start());
    match (&mut *last, &mut *first) {
        (_, Segment::Line(line)) => line.p0 = from,
        (Segment::Line(line), _) => line.p1 = to,
        (_, Segment::Cubic(cubic)) => {
            cubic.p1 += from - cubic.p0;
            cubic.p0 = from;
        }
        (Segment::Cubic(cubic), _) => {
            cubic.p2 += to - cubic.p3;
            cubic.p3 = to;
        }
        (Segment::Arc(_), Segment::Arc(arc)) if (to - from).hypot() <= SAME_POINT => arc.ends[0] = from,
        (Segment::Arc(_), Segment::Arc(_)) => return Some(Segment::line(from, to)),
    }
    None
}

/// Open lines by the cells that their ends lie in.
struct Pool {
    lines: Vec<Option<DrawnLine>>,
    cells: BTreeMap<(i64, i64), Vec<usize>>,
    cell: f64,
    begun: usize,
}

impl Pool {
    fn new(lines: Vec<DrawnLine>, join: f64) -> Result<Self, DrawingFault> {
        let cell = join.max(SAME_POINT);
        let mut cells: BTreeMap<(i64, i64), Vec<usize>> = BTreeMap::new();
        for (index, line) in lines.iter().enumerate() {
            if let (Some(first), last) = (line.segments.first(), end(&line.segments)) {
                for point in [first.start(), last] {
                    cells.entry(cell_of(point, cell)).or_default().push(index);
                }
            }
        }
        if let Some(ends) = cells.values().find(|ends| ends.len() > limits::ENDS_TOGETHER) {
            let first = lines[ends[0]].segments.first().map_or(Point::ZERO, Segment::start);
            return Err(DrawingFault::new(
                format!("more than {} lines end near x = {:.3}, y = {:.3}", limits::ENDS_TOGETHER, first.x, first.y),
                "pick one layer or one group, or join over a shorter distance",
            ));
        }
        Ok(Self { lines: lines.into_iter().map(Some).collect(), cells, cell, begun: 0 })
    }

    fn first(&mut self) -> Option<DrawnLine> {
        while self.begun < self.lines.len() {
            self.begun += 1;
            if let Some(line) = self.lines[self.begun - 1].take() {
                return Some(line);
            }
        }
        None
    }

    /// The line with an end nearest to a point, from there on.
    fn next(&mut self, from: Point, join: f64) -> Option<Vec<Segment>> {
        let (column, row) = cell_of(from, self.cell);
        let mut best: Option<(f64, usize, bool)> = None;
        for place in (-1..=1).flat_map(|dx| (-1..=1).map(move |dy| (column + dx, row + dy))) {
            let Some(indices) = self.cells.get_mut(&place) else { continue };
            indices.retain(|index| self.lines[*index].is_some());
            for &index in indices.iter() {
                let Some(line) = &self.lines[index] else { continue };
                let ends = [line.segments.first().map(Segment::start), Some(end(&line.segments))];
                for (turned, point) in ends.into_iter().enumerate() {
                    let distance = point.map_or(f64::INFINITY, |point| (point - from).hypot());
                    if distance <= join && best.is_none_or(|best| (distance, index) < (best.0, best.1)) {
                        best = Some((distance, index, turned == 1));
                    }
                }
            }
        }
        let (_, index, turned) = best?;
        let line = self.lines[index].take()?;
        Some(if turned { backwards(&line.segments) } else { line.segments })
    }
}

fn cell_of(point: Point, cell: f64) -> (i64, i64) {
    ((point.x / cell).floor() as i64, (point.y / cell).floor() as i64)
}

/// Keeps the first of lines that lie on each other, end for end.
fn without_doubles(lines: Vec<DrawnLine>) -> Result<Vec<DrawnLine>, DrawingFault> {
    let mut compared = 0;
    let bounds: Vec<Rect> = lines.iter().map(|line| line.bounds().unwrap_or(Rect::ZERO)).collect();
    let keys: Vec<f64> = bounds.iter().map(key).collect();
    let mut order: Vec<usize> = (0..lines.len()).collect();
    order.sort_by(|a, b| keys[*a].total_cmp(&keys[*b]).then(a.cmp(b)));
    let mut gone = vec![false; lines.len()];
    for (place, &one) in order.iter().enumerate() {
        if gone[one] {
            continue;
        }
        for &other in order[place + 1..].iter().take_while(|other| keys[**other] - keys[one] <= NEAR_KEYS) {
            if gone[other] || !near(bounds[one], bounds[other]) {
                continue;
            }
            // Each stretch of one may be held against each of the other.
            let [stretches, others] = [one, other].map(|line| lines[line].segments.len());
            compared += if stretches == others { stretches * others } else { 1 };
            if compared > limits::COMPARISONS {
                return Err(DrawingFault::new(
                    "very many lines lie over each other",
                    "delete those that are drawn twice",
                ));
            }
            if same_line(&lines[one], &lines[other]) {
                gone[one.max(other)] = true;
            }
        }
    }
    Ok(lines.into_iter().zip(gone).filter(|(_, gone)| !gone).map(|(line, _)| line).collect())
}

/// Keys of near boxes differ by this at most.
const NEAR_KEYS: f64 = 3.0 * TOLERANCE;

/// A number that is nearly the same for boxes that are: a sum with weights that seldom let unlike boxes agree, as their
/// left sides alone often do.
fn key(bounds: &Rect) -> f64 {
    bounds.x0 + 0.754_877 * bounds.y0 + 0.569_840 * bounds.x1 + 0.430_159 * bounds.y1
}

fn near(a: Rect, b: Rect) -> bool {
    let far = [a.x0 - b.x0, a.y0 - b.y0, a.x1 - b.x1, a.y1 - b.y1];
    far.into_iter().all(|distance| distance.abs() <= TOLERANCE)
}

fn same_line(a: &DrawnLine, b: &DrawnLine) -> bool {
    let (a, b) = (&a.segments, &b.segments);
    if a.len() != b.len() || a.len() > COMPARED {
        return false;
    }
    let room = TOLERANCE * a.iter().map(|s| s.bounds().width() + s.bounds().height()).sum::<f64>();
    let same = |p: Point, q: Point| (p - q).hypot() <= TOLERANCE;
    let alike = |s: &Segment, t: &Segment| {
        (same(s.start(), t.start()) && same(s.end(), t.end())) || (same(s.start(), t.end()) && same(s.end(), t.start()))
    };
    let middles: Vec<Point> = b.iter().map(|t| t.at(0.5)).collect();
    let has_like = |s: &Segment| {
        let middle = s.at(0.5);
        b.iter().zip(&middles).any(|(t, other)| same(middle, *other) && alike(s, t))
    };
    (double_area(a).abs() - double_area(b).abs()).abs() <= room && a.iter().all(has_like)
}
