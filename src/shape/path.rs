//! Lines as they are drawn: straight stretches, arcs of circles and cubic curves, one after the other.

use std::f64::consts::{FRAC_PI_2, FRAC_PI_4, TAU};

use geo_types::{Coord, LineString};
use kurbo::Vec2;

use super::rings::{coord, open_points};
use super::segment::{Arc, Segment};
use super::{Curve, Outline, Pose};

/// Longest half axis of an ellipse, in millimetres, of which cubic curves of an eighth of a turn each stay within a
/// thousandth of a millimetre.
const LARGE: f64 = 200.0;

/// One stretch of a path, from where the one before it ends.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Stretch {
    /// A straight line to a point.
    Line(Coord<f64>),
    /// An arc of a circle of half a turn at most.
    Arc {
        /// Where it ends.
        to: Coord<f64>,
        /// The tangent of a quarter of the angle that it turns through, greater than zero counter-clockwise.
        bulge: f64,
    },
    /// A cubic curve, by its two control points and its end.
    Cubic([Coord<f64>; 2], Coord<f64>),
}

/// A line to be drawn, in millimetres.
#[derive(Clone, Debug, PartialEq)]
pub struct Path {
    /// Where it starts.
    pub start: Coord<f64>,
    /// How it goes on.
    pub stretches: Vec<Stretch>,
    /// Whether it ends where it starts.
    pub closed: bool,
}

/// The circle that an arc is part of.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Circle {
    pub centre: Coord<f64>,
    pub radius: f64,
    /// Where on it the arc starts, in radians.
    pub from: f64,
    /// How far it turns, in radians, greater than zero counter-clockwise.
    pub sweep: f64,
}

impl Stretch {
    /// Where the stretch ends.
    pub fn end(&self) -> Coord<f64> {
        match self {
            Self::Line(to) | Self::Arc { to, .. } | Self::Cubic(_, to) => *to,
        }
    }

    /// The stretch as cubic curves, each by its control points and its end; none for a straight line. An arc is off by
    /// less than five millionths of its radius.
    pub fn cubics(&self, from: Coord<f64>) -> Vec<([Coord<f64>; 2], Coord<f64>)> {
        match *self {
            Self::Line(_) => Vec::new(),
            Self::Cubic(controls, to) => vec![(controls, to)],
            Self::Arc { to, bulge } => circle(from, to, bulge).map_or_else(Vec::new, |circle| circle.cubics(to)),
        }
    }

    fn circle(&self, from: Coord<f64>) -> Option<Circle> {
        match *self {
            Self::Arc { to, bulge } => circle(from, to, bulge),
            Self::Line(_) | Self::Cubic(..) => None,
        }
    }

    /// Points along the stretch, its end last, between which chords stay within `tolerance` millimetres of it.
    fn points(&self, from: Coord<f64>, tolerance: f64, points: &mut Vec<Coord<f64>>) {
        match *self {
            Self::Line(_) => {}
            Self::Arc { to, bulge } => {
                if let Some(circle) = circle(from, to, bulge) {
                    let step = 2.0 * libm::acos((1.0 - tolerance / circle.radius).max(0.0));
                    let steps = (circle.sweep.abs() / step).ceil().max(1.0) as usize;
                    points.extend((1..steps).map(|k| circle.at(k as f64 / steps as f64)));
                }
            }
            Self::Cubic([one, two], to) => {
                // The bend of a cubic is no more than that of its control points: |B''| ≤ 6 · the larger second difference.
                let second = |a: Coord<f64>, b: Coord<f64>, c: Coord<f64>| length(a - b * 2.0 + c);
                let bend = 6.0 * second(from, one, two).max(second(one, two, to));
                let steps = (bend / (8.0 * tolerance)).sqrt().ceil().max(1.0) as usize;
                points.extend((1..steps).map(|k| {
                    let t = k as f64 / steps as f64;
                    let s = 1.0 - t;
                    from * (s * s * s) + one * (3.0 * s * s * t) + two * (3.0 * s * t * t) + to * (t * t * t)
                }));
            }
        }
        points.push(self.end());
    }
}

impl Path {
    /// A straight line.
    pub fn line(from: Coord<f64>, to: Coord<f64>) -> Self {
        Self { start: from, stretches: vec![Stretch::Line(to)], closed: false }
    }

    /// Straight lines from point to point; `None` for fewer than two.
    pub fn through(points: &[Coord<f64>]) -> Option<Self> {
        let (start, rest) = points.split_first()?;
        let stretches: Vec<Stretch> = rest.iter().map(|point| Stretch::Line(*point)).collect();
        (!stretches.is_empty()).then_some(Self { start: *start, stretches, closed: false })
    }

    /// The ring of a polygon.
    pub fn ring(ring: &LineString<f64>) -> Option<Self> {
        let (start, rest) = open_points(ring).split_first()?;
        let stretches = rest.iter().chain([start]).map(|point| Stretch::Line(*point)).collect();
        Some(Self { start: *start, stretches, closed: true })
    }

    /// The rings of an outline, the outer one first.
    pub fn rings(outline: &Outline) -> Vec<Self> {
        let polygon = outline.polygon();
        std::iter::once(polygon.exterior()).chain(polygon.interiors()).filter_map(Self::ring).collect()
    }

    /// Points along the path, its start first, between which chords stay within `tolerance` millimetres of it.
    ///
    /// ```
    /// use clothwright::shape::Curve;
    /// let circle = &Curve::circle(100.0).paths()[0];
    /// assert!(circle.points(0.01).len() > 80);
    /// ```
    pub fn points(&self, tolerance: f64) -> Vec<Coord<f64>> {
        let mut points = vec![self.start];
        let mut from = self.start;
        for stretch in &self.stretches {
            stretch.points(from, tolerance, &mut points);
            from = stretch.end();
        }
        points
    }

    /// The same path without an arc of more than a quarter turn.
    pub fn with_short_arcs(&self) -> Self {
        let mut from = self.start;
        let mut stretches = Vec::new();
        for stretch in &self.stretches {
            match (*stretch, stretch.circle(from)) {
                (Stretch::Arc { to, bulge }, Some(circle)) => {
                    let parts = (circle.sweep.abs() / FRAC_PI_2 - 1e-9).ceil().max(1.0);
                    let bulge = if parts > 1.0 { libm::tan(libm::atan(bulge) / parts) } else { bulge };
                    let inner = (1..parts as u32).map(|part| circle.at(f64::from(part) / parts));
                    stretches.extend(inner.chain([to]).map(|to| Stretch::Arc { to, bulge }));
                }
                (other, _) => stretches.push(other),
            }
            from = stretch.end();
        }
        Self { stretches, ..self.clone() }
    }

    /// The path carried to another place.
    pub fn carried(&self, pose: &Pose) -> Self {
        let hand = if pose.flipped { -1.0 } else { 1.0 };
        let carried = |stretch: &Stretch| match *stretch {
            Stretch::Line(to) => Stretch::Line(pose.apply(to)),
            Stretch::Arc { to, bulge } => Stretch::Arc { to: pose.apply(to), bulge: hand * bulge },
            Stretch::Cubic(controls, to) => Stretch::Cubic(controls.map(|point| pose.apply(point)), pose.apply(to)),
        };
        Self {
            start: pose.apply(self.start),
            stretches: self.stretches.iter().map(carried).collect(),
            closed: self.closed,
        }
    }
}

impl Curve {
    /// The rings of the curve as they are drawn, the outer one first. Arcs of circles stay arcs, those of ellipses become
    /// cubic curves.
    ///
    /// ```
    /// use clothwright::shape::{Curve, Stretch};
    /// let tab = Curve::from_svg_path("M 0 0 H 4 A 1 1 0 0 1 4 2 H 0 Z", 25.4)?.paths();
    /// assert!(matches!(tab[0].stretches[1], Stretch::Arc { bulge, .. } if (bulge - 1.0).abs() < 1e-9));
    /// # Ok::<(), clothwright::shape::PathFault>(())
    /// ```
    pub fn paths(&self) -> Vec<Path> {
        self.rings().filter_map(|(_, ring)| drawn(ring)).collect()
    }
}

fn drawn(ring: &[Segment]) -> Option<Path> {
    let start = coord(ring.first()?.start());
    let stretches = ring.iter().flat_map(|segment| match segment {
        Segment::Line(line) => vec![Stretch::Line(coord(line.p1))],
        Segment::Cubic(cubic) => vec![Stretch::Cubic([coord(cubic.p1), coord(cubic.p2)], coord(cubic.p3))],
        Segment::Arc(arc) => arc_stretches(arc),
    });
    Some(Path { start, stretches: stretches.collect(), closed: true })
}

fn arc_stretches(arc: &Arc) -> Vec<Stretch> {
    let square = arc.across.dot(arc.along).abs() <= 1e-12 * arc.across.hypot2();
    if square && (arc.across.hypot() - arc.along.hypot()).abs() <= 1e-9 * arc.across.hypot() {
        // Half a turn at most, so that the bulge is one at most.
        let parts = if arc.sweep.abs() > TAU / 2.0 + 1e-9 { 2 } else { 1 };
        let hand = arc.across.cross(arc.along).signum();
        let bulge = hand * libm::tan(arc.sweep / (4.0 * f64::from(parts)));
        return pieces(arc, parts).map(|part| Stretch::Arc { to: coord(part.ends[1]), bulge }).collect();
    }
    let size = arc.across.hypot().max(arc.along.hypot());
    let longest = if size > LARGE { FRAC_PI_4 / 2.0 } else { FRAC_PI_4 };
    let parts = (arc.sweep.abs() / longest).ceil().max(1.0) as u32;
    let reach = 4.0 / 3.0 * libm::tan(arc.sweep / (4.0 * f64::from(parts)));
    let cubic = |part: Arc| {
        let slope = |angle: f64| part.along * libm::cos(angle) - part.across * libm::sin(angle);
        let controls = [part.ends[0] + slope(part.from) * reach, part.ends[1] - slope(part.from + part.sweep) * reach];
        Stretch::Cubic(controls.map(coord), coord(part.ends[1]))
    };
    pieces(arc, parts).map(cubic).collect()
}

/// The arc in equal parts.
fn pieces(arc: &Arc, parts: u32) -> impl Iterator<Item = Arc> {
    let share = move |part: u32| f64::from(part) / f64::from(parts);
    (0..parts).filter_map(move |part| match Segment::Arc(*arc).part(share(part), share(part + 1)) {
        Segment::Arc(arc) => Some(arc),
        _ => None,
    })
}

/// The circle of an arc; `None` where it is straight.
pub(super) fn circle(from: Coord<f64>, to: Coord<f64>, bulge: f64) -> Option<Circle> {
    let chord = to - from;
    let span = length(chord);
    if bulge == 0.0 || span == 0.0 {
        return None;
    }
    // How far the centre lies to the left of the middle of the chord, in chords.
    let aside = (1.0 - bulge * bulge) / (4.0 * bulge);
    let centre = (from + to) / 2.0 + Coord { x: -chord.y, y: chord.x } * aside;
    let arm = from - centre;
    Some(Circle { centre, radius: length(arm), from: libm::atan2(arm.y, arm.x), sweep: 4.0 * libm::atan(bulge) })
}

impl Circle {
    fn at(&self, share: f64) -> Coord<f64> {
        let (sin, cos) = libm::sincos(self.from + share * self.sweep);
        self.centre + Coord { x: cos, y: sin } * self.radius
    }

    fn cubics(&self, to: Coord<f64>) -> Vec<([Coord<f64>; 2], Coord<f64>)> {
        let parts = (self.sweep.abs() / FRAC_PI_4).ceil().max(1.0) as usize;
        let reach = 4.0 / 3.0 * libm::tan(self.sweep / (4.0 * parts as f64));
        let tangent = |point: Coord<f64>| Coord { x: self.centre.y - point.y, y: point.x - self.centre.x } * reach;
        let cubic = |part: usize| {
            let first = self.at(part as f64 / parts as f64);
            let last = if part + 1 == parts { to } else { self.at((part + 1) as f64 / parts as f64) };
            ([first + tangent(first), last - tangent(last)], last)
        };
        (0..parts).map(cubic).collect()
    }
}

fn length(vector: Coord<f64>) -> f64 {
    Vec2::new(vector.x, vector.y).hypot()
}
