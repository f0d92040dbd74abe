//! From curves to polygons that hold them.
//!
//! Where the piece bulges outwards the polygon runs along tangents, where it is hollow along chords: so material is
//! never cut away, and no vertex lies further off than the tolerance.

use std::f64::consts::FRAC_PI_2;

use kurbo::{Point, Vec2};

use super::segment::{Segment, double_area, unit};

/// Steps in which the bend of a curve is summed up to space its vertices.
const SAMPLES: usize = 64;
/// How often a step that turns out too coarse may be halved; beyond that it is shorter than a millionth of its curve.
const HALVINGS: usize = 20;
/// Sine of the angle up to which two segments meet smoothly.
pub(super) const SMOOTH: f64 = 1e-9;

/// A vertex of a flattened ring.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Vertex {
    pub at: Point,
    /// The segment of the curve that the edge leaving this vertex stands for.
    pub segment: usize,
    pub kind: VertexKind,
}

/// What a vertex of a flattened ring stands for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum VertexKind {
    /// A point where two segments meet, as the person gave it.
    Given,
    /// Two segments meet on one tangent: the vertex lies on the straight line between its neighbours.
    Smooth,
    /// A vertex in the middle of a curve.
    Bend,
}

/// Flattens a ring; `outer` says whether the material is inside it.
///
/// Vertices of the kind [`VertexKind::Smooth`] may be left out without changing the polygon.
pub(super) fn flatten_ring(ring: &[Segment], outer: bool, tolerance: f64) -> Vec<Vertex> {
    let material_left = (double_area(ring) > 0.0) == outer;
    let mut vertices = Vec::new();
    for (index, segment) in ring.iter().enumerate() {
        let before = &ring[(index + ring.len() - 1) % ring.len()];
        let kind = match meet_smoothly(before, segment, material_left) {
            true => VertexKind::Smooth,
            false => VertexKind::Given,
        };
        vertices.push(Vertex { at: segment.start(), segment: index, kind });
        let bends = bend_vertices(segment, material_left, tolerance);
        vertices.extend(bends.into_iter().map(|at| Vertex { at, segment: index, kind: VertexKind::Bend }));
    }
    vertices
}

/// Whether the vertex between two segments lies on the tangent that the polygon follows on both sides of it.
fn meet_smoothly(before: &Segment, after: &Segment, material_left: bool) -> bool {
    let straight = |segment: &Segment| matches!(segment, Segment::Line(_));
    if straight(before) && straight(after) {
        return false;
    }
    let (arriving, leaving) = (before.end_directions().1, after.end_directions().0);
    if arriving.cross(leaving).abs() > SMOOTH || arriving.dot(leaving) <= 0.0 {
        return false;
    }
    let bulges = |segment: &Segment, t: f64| straight(segment) || bends_left(segment, t) == material_left;
    let last = one_way_stretches(before).last().map_or(0.0, |stretch| stretch.0);
    let first = one_way_stretches(after).first().map_or(1.0, |stretch| stretch.1);
    bulges(before, (last + 1.0) / 2.0) && bulges(after, first / 2.0)
}

/// The vertices between the start and the end of a segment.
fn bend_vertices(segment: &Segment, material_left: bool, tolerance: f64) -> Vec<Point> {
    let mut points = Vec::new();
    for (from, to) in one_way_stretches(segment) {
        if from > 0.0 {
            points.push(segment.at(from));
        }
        let stretch = segment.part(from, to);
        let left = bends_left(&stretch, 0.5);
        let bulges = left == material_left;
        let steps = steps(&stretch, left, bulges, tolerance);
        if bulges {
            let parts = steps.windows(2).map(|step| stretch.part(step[0], step[1]));
            points.extend(parts.filter_map(|part| tangents_meet(&part)));
        } else {
            points.extend(steps[1..steps.len() - 1].iter().map(|&t| stretch.at(t)));
        }
    }
    points
}

/// Parameter ranges in which a segment bends one way only.
fn one_way_stretches(segment: &Segment) -> Vec<(f64, f64)> {
    let mut cuts = vec![0.0];
    match segment {
        Segment::Line(_) => return Vec::new(),
        Segment::Arc(_) => {}
        Segment::Cubic(cubic) => cuts.extend(cubic.inflections().into_iter().filter(|t| *t > 1e-9 && *t < 1.0 - 1e-9)),
    }
    cuts.push(1.0);
    cuts.windows(2).map(|pair| (pair[0], pair[1])).collect()
}

fn bends_left(segment: &Segment, t: f64) -> bool {
    let (slope, bow) = segment.slope_and_bow(t);
    slope.cross(bow) > 0.0
}

/// Parameters, 0 and 1 among them, at which a curve that bends one way is touched by the polygon.
///
/// The error of a step grows with the square of √curvature · length, so steps of equal √curvature · length are the
/// fewest that keep the tolerance.
fn steps(curve: &Segment, left: bool, bulges: bool, tolerance: f64) -> Vec<f64> {
    let weights = bend_weights(curve);
    let total: f64 = weights.iter().sum();
    let estimate = steps_for(total, tolerance);
    let fits = |pair: &[f64]| step_fits(&curve.part(pair[0], pair[1]), left, bulges, tolerance);
    for count in estimate..estimate + 4 {
        let even = spaced_by_weight(&weights, total, count);
        if even.windows(2).all(fits) {
            return even;
        }
    }
    let mut refined = vec![0.0];
    for pair in spaced_by_weight(&weights, total, estimate).windows(2) {
        halve_until(pair[0], pair[1], HALVINGS, &fits, &mut refined);
    }
    refined
}

fn bend_weights(curve: &Segment) -> Vec<f64> {
    (0..SAMPLES).map(|i| bend_weight(curve, (i as f64 + 0.5) / SAMPLES as f64)).collect()
}

fn steps_for(total: f64, tolerance: f64) -> usize {
    (total / SAMPLES as f64 / (8.0 * tolerance).sqrt()).ceil().max(1.0) as usize
}

/// About how many vertices a segment will have, found much faster than they are.
pub(super) fn about_vertices(segment: &Segment, tolerance: f64) -> usize {
    match segment {
        Segment::Line(_) => 1,
        bent => steps_for(bend_weights(bent).iter().sum(), tolerance),
    }
}

fn bend_weight(curve: &Segment, t: f64) -> f64 {
    let (slope, bow) = curve.slope_and_bow(t);
    let speed = slope.hypot();
    if speed > 0.0 { (slope.cross(bow).abs() / speed).sqrt() } else { 0.0 }
}

/// Parameters that cut the weights into `count` equal shares.
fn spaced_by_weight(weights: &[f64], total: f64, count: usize) -> Vec<f64> {
    let mut parameters = vec![0.0];
    let (mut sample, mut passed) = (0, 0.0);
    for step in 1..count {
        let wanted = total * step as f64 / count as f64;
        while sample + 1 < weights.len() && passed + weights[sample] < wanted {
            passed += weights[sample];
            sample += 1;
        }
        let share = if weights[sample] > 0.0 { (wanted - passed) / weights[sample] } else { 0.5 };
        parameters.push((sample as f64 + share.clamp(0.0, 1.0)) / weights.len() as f64);
    }
    parameters.push(1.0);
    parameters
}

fn halve_until(from: f64, to: f64, halvings: usize, fits: &impl Fn(&[f64]) -> bool, parameters: &mut Vec<f64>) {
    if halvings == 0 || fits(&[from, to]) {
        parameters.push(to);
        return;
    }
    let middle = (from + to) / 2.0;
    halve_until(from, middle, halvings - 1, fits, parameters);
    halve_until(middle, to, halvings - 1, fits, parameters);
}

/// Whether one step turns by a right angle at most and stays within the tolerance.
fn step_fits(part: &Segment, left: bool, bulges: bool, tolerance: f64) -> bool {
    let (first, last) = part.end_directions();
    let turn = if left { first.cross(last) } else { last.cross(first) };
    if turn < -SMOOTH || first.dot(last) < -SMOOTH {
        return false;
    }
    let (start, end) = (part.start(), part.end());
    if bulges {
        // The polygon is furthest from the curve where two tangents meet.
        let near = |corner: Point| -most(|t| -(part.at(t) - corner).hypot());
        tangents_meet(part).is_none_or(|corner| near(corner) <= tolerance)
    } else {
        let chord = unit(end - start);
        most(|t| chord.cross(part.at(t) - start).abs()) <= tolerance
    }
}

/// Where the tangents at both ends of a step meet; nothing where the step is straight.
fn tangents_meet(part: &Segment) -> Option<Point> {
    let (first, last) = part.end_directions();
    let turn = first.cross(last);
    (turn.abs() > 1e-12).then(|| part.start() + first * ((part.end() - part.start()).cross(last) / turn))
}

/// Largest value of a function with one hump on 0 to 1, by ternary search.
fn most(value: impl Fn(f64) -> f64) -> f64 {
    let (mut low, mut high) = (0.0, 1.0);
    for _ in 0..24 {
        let (a, b) = (low + (high - low) / 3.0, high - (high - low) / 3.0);
        if value(a) < value(b) { low = a } else { high = b }
    }
    value((low + high) / 2.0)
}

/// Steps in which an arc of a circle is turned so that its tangents stay within the tolerance of it.
pub(super) fn arc_steps(radius: f64, turn: f64, tolerance: f64) -> usize {
    let step = 2.0 * libm::acos(radius / (radius + tolerance));
    (turn / step.min(FRAC_PI_2) - 1e-9).ceil().max(1.0) as usize
}

/// A vector turned counter-clockwise by an angle in radians.
pub(super) fn turned(vector: Vec2, angle: f64) -> Vec2 {
    let (sin, cos) = libm::sincos(angle);
    Vec2::new(cos * vector.x - sin * vector.y, sin * vector.x + cos * vector.y)
}
