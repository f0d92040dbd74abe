//! One stretch of a ring: a straight line, a cubic curve or an arc of an ellipse, each knowing its own start.

use std::f64::consts::{PI, TAU};

use kurbo::{
    Affine, CubicBez, Line, ParamCurve, ParamCurveArea, ParamCurveDeriv, ParamCurveExtrema, Point, Rect, Vec2,
};

use super::sin_cos_degrees;

/// An arc of an ellipse: `centre + cos θ · across + sin θ · along` for θ from `from` to `from + sweep`, in radians.
///
/// Two half axes that need not lie square to each other hold any circle or ellipse, turned, flipped or scaled.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Arc {
    pub centre: Point,
    pub across: Vec2,
    pub along: Vec2,
    pub from: f64,
    pub sweep: f64,
    /// The end points as they were given, so that no rounding parts the arc from its neighbours.
    pub ends: [Point; 2],
}

/// A stretch of a ring.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Segment {
    Line(Line),
    Cubic(CubicBez),
    Arc(Arc),
}

impl Arc {
    /// A whole circle, counter-clockwise from its rightmost point.
    pub fn circle(centre: Point, radius: f64) -> Self {
        Self {
            centre,
            across: Vec2::new(radius, 0.0),
            along: Vec2::new(0.0, radius),
            from: 0.0,
            sweep: TAU,
            ends: [centre + Vec2::new(radius, 0.0); 2],
        }
    }

    /// Whether it is a whole circle.
    pub fn is_circle(&self) -> bool {
        let square = self.across.dot(self.along) == 0.0 && self.across.hypot() == self.along.hypot();
        square && self.sweep.abs() == TAU
    }

    /// The same arc with its two half axes square to each other, which an uneven map leaves askew: with conjugate half
    /// diameters p and q, the axes are where the distance from the centre is greatest and least.
    fn squared(self) -> Self {
        let (p, q) = (self.across, self.along);
        let skew = 2.0 * p.dot(q);
        if skew.abs() <= 1e-12 * (p.hypot2() + q.hypot2()) {
            return self;
        }
        let turn = libm::atan2(skew, p.hypot2() - q.hypot2()) / 2.0;
        let (sin, cos) = libm::sincos(turn);
        Self { across: p * cos + q * sin, along: q * cos - p * sin, from: self.from - turn, ..self }
    }

    /// The smallest upright rectangle round the arc: its ends, and where it runs along or across.
    fn bounds(&self) -> Rect {
        let ends = Rect::from_points(self.ends[0], self.ends[1]);
        let within = |angle: f64| {
            let turned = if self.sweep < 0.0 { self.from - angle } else { angle - self.from };
            turned.rem_euclid(TAU) <= self.sweep.abs()
        };
        let reach = |across: f64, along: f64| {
            let angle = libm::atan2(along, across);
            let half = libm::hypot(across, along);
            [within(angle).then_some(half), within(angle + PI).then_some(-half)].into_iter().flatten()
        };
        let sideways = reach(self.across.x, self.along.x).map(|x| Point::new(self.centre.x + x, ends.y0));
        let upright = reach(self.across.y, self.along.y).map(|y| Point::new(ends.x0, self.centre.y + y));
        sideways.chain(upright).fold(ends, |bounds, point| bounds.union_pt(point))
    }

    /// Half axes of an ellipse that is turned by `degrees`.
    pub fn axes(radii: Vec2, degrees: f64) -> (Vec2, Vec2) {
        let (sin, cos) = sin_cos_degrees(degrees);
        (Vec2::new(cos, sin) * radii.x, Vec2::new(-sin, cos) * radii.y)
    }

    fn at_angle(&self, angle: f64) -> Point {
        let (sin, cos) = libm::sincos(angle);
        self.centre + self.across * cos + self.along * sin
    }

    fn slope_at_angle(&self, angle: f64) -> Vec2 {
        let (sin, cos) = libm::sincos(angle);
        (self.along * cos - self.across * sin) * self.sweep
    }

    fn bow_at_angle(&self, angle: f64) -> Vec2 {
        (self.centre - self.at_angle(angle)) * (self.sweep * self.sweep)
    }

    fn part(&self, from: f64, to: f64) -> Self {
        let angle = |t: f64| self.from + t * self.sweep;
        let start = if from == 0.0 { self.ends[0] } else { self.at_angle(angle(from)) };
        let end = if to == 1.0 { self.ends[1] } else { self.at_angle(angle(to)) };
        Self { from: angle(from), sweep: (to - from) * self.sweep, ends: [start, end], ..*self }
    }
}

impl Segment {
    pub fn line(from: Point, to: Point) -> Self {
        Self::Line(Line::new(from, to))
    }

    pub fn at(&self, t: f64) -> Point {
        match self {
            Self::Line(line) => line.eval(t),
            Self::Cubic(cubic) => cubic.eval(t),
            Self::Arc(arc) => arc.at_angle(arc.from + t * arc.sweep),
        }
    }

    pub fn start(&self) -> Point {
        match self {
            Self::Line(line) => line.p0,
            Self::Cubic(cubic) => cubic.p0,
            Self::Arc(arc) => arc.ends[0],
        }
    }

    pub fn end(&self) -> Point {
        match self {
            Self::Line(line) => line.p1,
            Self::Cubic(cubic) => cubic.p3,
            Self::Arc(arc) => arc.ends[1],
        }
    }

    /// First and second derivative.
    pub fn slope_and_bow(&self, t: f64) -> (Vec2, Vec2) {
        match self {
            Self::Line(line) => (line.p1 - line.p0, Vec2::ZERO),
            Self::Cubic(cubic) => {
                let slope = cubic.deriv();
                (slope.eval(t).to_vec2(), slope.deriv().eval(t).to_vec2())
            }
            Self::Arc(arc) => {
                let angle = arc.from + t * arc.sweep;
                (arc.slope_at_angle(angle), arc.bow_at_angle(angle))
            }
        }
    }

    /// Unit vectors along the segment where it starts and where it ends; zero for a segment without length.
    pub fn end_directions(&self) -> (Vec2, Vec2) {
        match self {
            Self::Line(line) => {
                let direction = unit(line.p1 - line.p0);
                (direction, direction)
            }
            Self::Cubic(c) => (
                first_direction([c.p1 - c.p0, c.p2 - c.p0, c.p3 - c.p0]),
                first_direction([c.p3 - c.p2, c.p3 - c.p1, c.p3 - c.p0]),
            ),
            Self::Arc(arc) => (unit(arc.slope_at_angle(arc.from)), unit(arc.slope_at_angle(arc.from + arc.sweep))),
        }
    }

    /// The stretch between two parameters.
    pub fn part(&self, from: f64, to: f64) -> Self {
        match self {
            Self::Line(line) => Self::Line(line.subsegment(from..to)),
            Self::Cubic(cubic) => Self::Cubic(cubic.subsegment(from..to)),
            Self::Arc(arc) => Self::Arc(arc.part(from, to)),
        }
    }

    /// What the segment adds to twice the signed area of its ring, seen from the origin.
    pub fn double_area(&self) -> f64 {
        match self {
            Self::Line(line) => 2.0 * line.signed_area(),
            Self::Cubic(cubic) => 2.0 * cubic.signed_area(),
            Self::Arc(arc) => {
                arc.centre.to_vec2().cross(self.end() - self.start()) + arc.across.cross(arc.along) * arc.sweep
            }
        }
    }

    /// The smallest upright rectangle round the segment.
    pub fn bounds(&self) -> Rect {
        match self {
            Self::Line(line) => Rect::from_points(line.p0, line.p1),
            Self::Cubic(cubic) => cubic.bounding_box(),
            Self::Arc(arc) => arc.bounds(),
        }
    }

    /// The same stretch carried by any affine map: arcs of circles may become arcs of ellipses.
    pub fn carried(&self, map: Affine) -> Self {
        let vector = |v: Vec2| map * v.to_point() - map * Point::ZERO;
        match *self {
            Self::Line(line) => Self::Line(map * line),
            Self::Cubic(cubic) => Self::Cubic(map * cubic),
            Self::Arc(arc) => Self::Arc(
                Arc {
                    centre: map * arc.centre,
                    across: vector(arc.across),
                    along: vector(arc.along),
                    ends: arc.ends.map(|end| map * end),
                    ..arc
                }
                .squared(),
            ),
        }
    }

    /// The same stretch from its end to its start.
    pub fn reversed(&self) -> Self {
        match *self {
            Self::Line(line) => Self::line(line.p1, line.p0),
            Self::Cubic(c) => Self::Cubic(CubicBez::new(c.p3, c.p2, c.p1, c.p0)),
            Self::Arc(arc) => Self::Arc(Arc {
                from: arc.from + arc.sweep,
                sweep: -arc.sweep,
                ends: [arc.ends[1], arc.ends[0]],
                ..arc
            }),
        }
    }

    /// The same segment with every point multiplied by `scale` and then shifted.
    pub fn moved(&self, scale: f64, shift: Vec2) -> Self {
        let point = |p: Point| (p.to_vec2() * scale + shift).to_point();
        match *self {
            Self::Line(line) => Self::line(point(line.p0), point(line.p1)),
            Self::Cubic(c) => Self::Cubic(CubicBez::new(point(c.p0), point(c.p1), point(c.p2), point(c.p3))),
            Self::Arc(arc) => Self::Arc(Arc {
                centre: point(arc.centre),
                across: arc.across * scale,
                along: arc.along * scale,
                ends: arc.ends.map(point),
                ..arc
            }),
        }
    }

    /// The same segment with every `y` negated.
    pub fn mirrored(&self) -> Self {
        let point = |p: Point| Point::new(p.x, 0.0 - p.y);
        let vector = |v: Vec2| Vec2::new(v.x, 0.0 - v.y);
        match *self {
            Self::Line(line) => Self::line(point(line.p0), point(line.p1)),
            Self::Cubic(c) => Self::Cubic(CubicBez::new(point(c.p0), point(c.p1), point(c.p2), point(c.p3))),
            Self::Arc(arc) => Self::Arc(Arc {
                centre: point(arc.centre),
                across: vector(arc.across),
                along: vector(arc.along),
                ends: arc.ends.map(point),
                ..arc
            }),
        }
    }

    /// The points that define the segment, its start first: what must be finite.
    pub fn defining_points(&self) -> [Point; 4] {
        match *self {
            Self::Line(line) => [line.p0, line.p1, line.p1, line.p1],
            Self::Cubic(c) => [c.p0, c.p1, c.p2, c.p3],
            Self::Arc(arc) => [arc.ends[0], arc.ends[1], arc.centre + arc.across, arc.centre + arc.along],
        }
    }
}

/// Twice the signed area of a ring of segments.
pub(super) fn double_area(ring: &[Segment]) -> f64 {
    ring.iter().map(Segment::double_area).sum()
}

/// A vector of length one, or zero.
pub(super) fn unit(vector: Vec2) -> Vec2 {
    let length = vector.hypot();
    if length > 0.0 { vector / length } else { Vec2::ZERO }
}

/// The direction of the first vector that has one: a control point may lie on its end point.
fn first_direction(candidates: [Vec2; 3]) -> Vec2 {
    let longest = candidates.iter().fold(0.0, |most: f64, v| most.max(v.hypot()));
    candidates.into_iter().find(|v| v.hypot() > 1e-12 * longest).map_or(Vec2::ZERO, unit)
}
