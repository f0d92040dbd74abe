//! Where the points of a flat face lie on the aircraft, and how high above ground they are when it is parked.

use geo::{BoundingRect, Intersects};
use geo_types::{Coord, MultiPoint};

use crate::job::Parked;
use crate::shape::{SpacePoint, dot, double_area_vector, length, minus, scaled, sin_cos_degrees};

/// A face laid flat beside the face in space, in triangles. Aircraft axes: x aft, y to the right, z up.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Skin {
    /// Corners on the flat.
    pub flat: Vec<Coord<f64>>,
    /// The same corners on the aircraft.
    pub space: Vec<SpacePoint>,
    /// Each by the places of its corners, counter-clockwise as seen from outside.
    pub triangles: Vec<[usize; 3]>,
}

impl Skin {
    /// Where a point of the flat face lies on the aircraft: in the triangle that holds it, or else in the plane of the
    /// nearest.
    pub fn in_space(&self, at: Coord<f64>) -> SpacePoint {
        self.in_triangles(&self.triangles, at)
    }

    /// As [`Skin::in_space`], among some of the triangles.
    pub(super) fn in_triangles(&self, triangles: &[[usize; 3]], at: Coord<f64>) -> SpacePoint {
        let mut best: Option<(f64, SpacePoint)> = None;
        for triangle in triangles {
            let Some(shares) = self.shares(*triangle, at) else { continue };
            let outside = shares.iter().copied().fold(0.0, f64::min);
            if best.is_none_or(|(least, _)| outside > least) {
                best = Some((outside, self.mixed(*triangle, shares)));
                if outside >= 0.0 {
                    break;
                }
            }
        }
        best.map_or([0.0; 3], |(_, place)| place)
    }

    /// The point of the face that is nearest to a place of the aircraft, and how far away it is.
    pub fn nearest(&self, place: SpacePoint) -> Option<(Coord<f64>, f64)> {
        let found = self.triangles.iter().map(|triangle| {
            let shares = nearest_shares(triangle.map(|corner| self.space[corner]), place);
            let there = self.mixed(*triangle, shares);
            let away = length(minus(there, place));
            let corners = triangle.map(|corner| self.flat[corner]);
            let at = corners[0] * shares[0] + corners[1] * shares[1] + corners[2] * shares[2];
            (at, away)
        });
        found.min_by(|one, other| one.1.total_cmp(&other.1))
    }

    /// How far from a point of the face a place of the aircraft is, measured along the face and not square to it.
    pub(super) fn along(&self, at: Coord<f64>, place: SpacePoint) -> f64 {
        let arm = minus(place, self.in_space(at));
        let square = dot(arm, self.outward());
        (dot(arm, arm) - square * square).max(0.0).sqrt()
    }

    /// What of each corner a point is made of; all between 0 and 1 where the triangle holds it.
    fn shares(&self, triangle: [usize; 3], at: Coord<f64>) -> Option<[f64; 3]> {
        let [a, b, c] = triangle.map(|corner| self.flat[corner]);
        let cross = |from: Coord<f64>, to: Coord<f64>| from.x * to.y - from.y * to.x;
        let whole = cross(b - a, c - a);
        (whole.abs() > f64::MIN_POSITIVE)
            .then(|| [cross(b - at, c - at) / whole, cross(c - at, a - at) / whole, cross(a - at, b - at) / whole])
    }

    fn mixed(&self, triangle: [usize; 3], shares: [f64; 3]) -> SpacePoint {
        let corners = triangle.map(|corner| self.space[corner]);
        std::array::from_fn(|axis| (0..3).map(|corner| shares[corner] * corners[corner][axis]).sum())
    }

    /// The triangles that lie near a ring, for many questions about the same cell; all where none does.
    pub(super) fn near(&self, ring: &[Coord<f64>]) -> Vec<[usize; 3]> {
        let box_of = |points: &[Coord<f64>]| MultiPoint::from(points.to_vec()).bounding_rect();
        let around = box_of(ring);
        let touches = |triangle: &&[usize; 3]| {
            let corners = box_of(&triangle.map(|corner| self.flat[corner]));
            around.zip(corners).is_some_and(|(around, corners)| around.intersects(&corners))
        };
        let near: Vec<[usize; 3]> = self.triangles.iter().filter(touches).copied().collect();
        if near.is_empty() { self.triangles.clone() } else { near }
    }

    /// Square to the face on its outside, of length one: the mean over its triangles by their areas.
    pub fn outward(&self) -> SpacePoint {
        let corners = self.triangles.iter().map(|triangle| triangle.map(|corner| self.space[corner]));
        let sum = corners.fold([0.0; 3], |sum: SpacePoint, corners| {
            let part = double_area_vector(&corners);
            std::array::from_fn(|axis| sum[axis] + part[axis])
        });
        scaled(sum, 1.0 / length(sum).max(f64::MIN_POSITIVE))
    }
}

impl Parked {
    /// The direction that is up, in the axes of the aircraft, for each attitude in which it may stand: with either wing
    /// down where it rests on a wing.
    pub fn ups(&self) -> Vec<SpacePoint> {
        let (sin, cos) = sin_cos_degrees(self.nose_up);
        let rolls = if self.wing_down == 0.0 { vec![0.0] } else { vec![self.wing_down, -self.wing_down] };
        let up = |roll: f64| {
            let (sin_roll, cos_roll) = sin_cos_degrees(roll);
            [-sin, cos * sin_roll, cos * cos_roll]
        };
        rolls.into_iter().map(up).collect()
    }
}

/// What of each corner the point of a triangle is made of that is nearest to a place.
fn nearest_shares(corners: [SpacePoint; 3], place: SpacePoint) -> [f64; 3] {
    let [u, v, w] = [minus(corners[1], corners[0]), minus(corners[2], corners[0]), minus(place, corners[0])];
    let (uu, uv, vv, wu, wv) = (dot(u, u), dot(u, v), dot(v, v), dot(w, u), dot(w, v));
    let whole = uu * vv - uv * uv;
    if whole.abs() > f64::MIN_POSITIVE {
        let (b, c) = ((wu * vv - wv * uv) / whole, (wv * uu - wu * uv) / whole);
        if b >= 0.0 && c >= 0.0 && b + c <= 1.0 {
            return [1.0 - b - c, b, c];
        }
    }
    // It lies beside the triangle: then the nearest point is on one of its sides.
    let on_side = |from: usize, to: usize| {
        let (way, arm) = (minus(corners[to], corners[from]), minus(place, corners[from]));
        let part = (dot(arm, way) / dot(way, way).max(f64::MIN_POSITIVE)).clamp(0.0, 1.0);
        let mut shares = [0.0; 3];
        shares[from] = 1.0 - part;
        shares[to] = part;
        let there: SpacePoint = std::array::from_fn(|axis| (0..3).map(|i| shares[i] * corners[i][axis]).sum());
        let off = minus(there, place);
        (dot(off, off), shares)
    };
    let sides = [on_side(0, 1), on_side(1, 2), on_side(2, 0)];
    sides.into_iter().min_by(|one, other| one.0.total_cmp(&other.0)).map_or([1.0, 0.0, 0.0], |(_, shares)| shares)
}

/// How high a place of the aircraft is over its origin.
pub fn height(place: SpacePoint, up: SpacePoint) -> f64 {
    dot(place, up)
}
