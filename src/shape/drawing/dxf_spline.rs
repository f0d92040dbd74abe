//! A B-spline, rational or not, as cubic curves: exact for plain ones of degree three, and otherwise halved until three
//! points of each lie on the spline.

use kurbo::{CubicBez, ParamCurve, Point, Vec2};

use super::limits;
use crate::shape::segment::Segment;

/// Furthest that a cubic may lie from the spline, in parts of the spline's size.
const CLOSENESS: f64 = 1e-6;
/// Most halvings of one stretch between knots.
const HALVINGS: usize = 10;

/// A spline by its control points, each with a weight.
pub(super) struct Spline {
    pub degree: usize,
    pub knots: Vec<f64>,
    pub points: Vec<[f64; 3]>,
}

impl Spline {
    /// The spline as cubics; nothing where knots and points do not fit each other.
    pub fn segments(&self) -> Option<Vec<Segment>> {
        let count = self.points.len();
        let sound = (1..=10).contains(&self.degree)
            && count > self.degree
            && self.knots.len() == count + self.degree + 1
            && self.knots.windows(2).all(|pair| pair[0] <= pair[1])
            && self.points.iter().all(|point| point[2] > 0.0);
        if !sound {
            return None;
        }
        let size =
            self.points.iter().flat_map(|p| [p[0] / p[2], p[1] / p[2]]).fold(0.0, |most: f64, v| most.max(v.abs()));
        let mut segments = Vec::new();
        for span in self.degree..count {
            // Whoever counts the stretches of the drawing refuses it then.
            if segments.len() > limits::STRETCHES {
                break;
            }
            let (from, to) = (self.knots[span], self.knots[span + 1]);
            if to > from {
                self.fit(span, from, to, CLOSENESS * size, HALVINGS, &mut segments);
            }
        }
        Some(segments)
    }

    fn fit(&self, span: usize, from: f64, to: f64, closeness: f64, halvings: usize, segments: &mut Vec<Segment>) {
        let ((start, first), (end, last)) = (self.at(span, from), self.at(span, to));
        let third = (to - from) / 3.0;
        let cubic = CubicBez::new(start, start + first * third, end - last * third, end);
        let close = |share: f64| (cubic.eval(share) - self.at(span, from + share * (to - from)).0).hypot() <= closeness;
        if halvings == 0 || [0.25, 0.5, 0.75].into_iter().all(close) {
            let straight = self.degree == 1;
            segments.push(if straight { Segment::line(start, end) } else { Segment::Cubic(cubic) });
            return;
        }
        let middle = (from + to) / 2.0;
        self.fit(span, from, middle, closeness, halvings - 1, segments);
        self.fit(span, middle, to, closeness, halvings - 1, segments);
    }

    /// Place and slope at a parameter of a span, by de Boor's algorithm on points times weights.
    fn at(&self, span: usize, t: f64) -> (Point, Vec2) {
        let degree = self.degree;
        let mut d: Vec<[f64; 3]> = self.points[span - degree..=span].to_vec();
        let mut slope = [0.0; 3];
        for round in 1..=degree {
            if round == degree {
                let width = self.knots[span + 1] - self.knots[span];
                slope = [0, 1, 2].map(|axis| (d[degree][axis] - d[degree - 1][axis]) * degree as f64 / width);
            }
            for index in (round..=degree).rev() {
                let left = self.knots[span - degree + index];
                let width = self.knots[span + 1 + index - round] - left;
                let share = if width > 0.0 { (t - left) / width } else { 0.0 };
                d[index] = [0, 1, 2].map(|axis| d[index - 1][axis] * (1.0 - share) + d[index][axis] * share);
            }
        }
        let [x, y, weight] = d[degree];
        let place = Point::new(x / weight, y / weight);
        (place, Vec2::new(slope[0] - slope[2] * place.x, slope[1] - slope[2] * place.y) / weight)
    }
}
