//! Where an outline lies: flip, turn, shift.

use geo_types::Coord;

use super::Outline;

/// Carries an outline from its own coordinates to its place on the cloth.
///
/// A point `p` goes to `at + R(turn) · F · p`: first the flip (`y` becomes `-y`, so the grain along `x` stays), then
/// the turn, then the shift.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pose {
    /// Degrees, counter-clockwise.
    pub turn: f64,
    /// Whether the piece is laid face down.
    pub flipped: bool,
    /// Where the outline's own origin lands, in millimetres.
    pub at: Coord<f64>,
}

impl Pose {
    /// The pose that leaves everything where it is.
    pub fn unmoved() -> Self {
        Self { turn: 0.0, flipped: false, at: Coord { x: 0.0, y: 0.0 } }
    }

    /// Moves one point. Quarter turns are exact; other angles use `libm`, so that every machine agrees.
    pub fn apply(&self, point: Coord<f64>) -> Coord<f64> {
        let (sin, cos) = sin_cos_degrees(self.turn);
        let y = if self.flipped { -point.y } else { point.y };
        Coord { x: self.at.x + cos * point.x - sin * y, y: self.at.y + sin * point.x + cos * y }
    }

    /// The point that [`Pose::apply`] carries to `point`.
    ///
    /// ```
    /// use clothwright::shape::Pose;
    /// use geo_types::coord;
    /// let pose = Pose { turn: 90.0, flipped: true, at: coord! { x: 100.0, y: 20.0 } };
    /// let laid = pose.apply(coord! { x: 30.0, y: 5.0 });
    /// assert_eq!(laid, coord! { x: 105.0, y: 50.0 });
    /// assert_eq!(pose.inverse_point(laid), coord! { x: 30.0, y: 5.0 });
    /// ```
    pub fn inverse_point(&self, point: Coord<f64>) -> Coord<f64> {
        let (sin, cos) = sin_cos_degrees(self.turn);
        let shifted = point - self.at;
        let y = cos * shifted.y - sin * shifted.x;
        Coord { x: cos * shifted.x + sin * shifted.y, y: if self.flipped { -y } else { y } }
    }

    /// Moves a whole outline; rings keep their sense (outer counter-clockwise) even when it is flipped.
    pub fn apply_to(&self, outline: &Outline) -> Outline {
        let moved = |ring: &geo_types::LineString<f64>| {
            let mut points: Vec<_> = ring.0.iter().map(|p| self.apply(*p)).collect();
            if self.flipped {
                points.reverse();
            }
            geo_types::LineString(points)
        };
        let polygon = outline.polygon();
        Outline::trusted(geo_types::Polygon::new(
            moved(polygon.exterior()),
            polygon.interiors().iter().map(moved).collect(),
        ))
    }
}

/// Sine and cosine of an angle in degrees, exact at quarter turns.
pub fn sin_cos_degrees(degrees: f64) -> (f64, f64) {
    let turn = degrees.rem_euclid(360.0);
    match turn {
        0.0 => (0.0, 1.0),
        90.0 => (1.0, 0.0),
        180.0 => (0.0, -1.0),
        270.0 => (-1.0, 0.0),
        _ => {
            let radians = turn.to_radians();
            (libm::sin(radians), libm::cos(radians))
        }
    }
}
