//! Where the points of a flat face lie on the aircraft, and how high above ground they are when it is parked.

use geo_types::Coord;

use crate::job::Parked;
use crate::shape::{SpacePoint, sin_cos_degrees};

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
        let mut best: Option<(f64, SpacePoint)> = None;
        for triangle in &self.triangles {
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

    /// The part of the skin that lies near a ring, for many questions about the same cell.
    pub fn near(&self, ring: &[Coord<f64>]) -> Self {
        let reach = |value: fn(&Coord<f64>) -> f64| {
            let values = ring.iter().map(value);
            values.fold([f64::INFINITY, f64::NEG_INFINITY], |[least, most], v| [least.min(v), most.max(v)])
        };
        let [across, up] = [reach(|p| p.x), reach(|p| p.y)];
        let misses = |values: [f64; 3], [least, most]: [f64; 2]| {
            values.iter().all(|value| *value < least) || values.iter().all(|value| *value > most)
        };
        let touches = |triangle: &&[usize; 3]| {
            let corners = triangle.map(|corner| self.flat[corner]);
            !misses(corners.map(|p| p.x), across) && !misses(corners.map(|p| p.y), up)
        };
        let triangles: Vec<[usize; 3]> = self.triangles.iter().filter(touches).copied().collect();
        let triangles = if triangles.is_empty() { self.triangles.clone() } else { triangles };
        Self { flat: self.flat.clone(), space: self.space.clone(), triangles }
    }

    /// Square to the face on its outside, of length one: the mean over its triangles by their areas.
    pub fn outward(&self) -> SpacePoint {
        let mut sum = [0.0; 3];
        for triangle in &self.triangles {
            let [a, b, c] = triangle.map(|corner| self.space[corner]);
            let [u, v]: [SpacePoint; 2] = [b, c].map(|corner| std::array::from_fn(|axis| corner[axis] - a[axis]));
            for (axis, sum) in sum.iter_mut().enumerate() {
                let (next, last) = ((axis + 1) % 3, (axis + 2) % 3);
                *sum += u[next] * v[last] - u[last] * v[next];
            }
        }
        let length = sum.iter().map(|value: &f64| value * value).sum::<f64>().sqrt().max(f64::MIN_POSITIVE);
        sum.map(|value| value / length)
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

/// How high a place of the aircraft is over its origin.
pub fn height(place: SpacePoint, up: SpacePoint) -> f64 {
    (0..3).map(|axis| place[axis] * up[axis]).sum()
}
