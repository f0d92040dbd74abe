//! How the aircraft stands when it is parked, and how parts lie in it: what decides where water gathers.

use crate::shape::SpacePoint;

/// The attitude of the parked aircraft.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Parked {
    /// Degrees by which the nose is up, against level flight.
    pub nose_up: f64,
    /// Degrees by which either wing may be down, where the aircraft rests on a wing; 0 where it stands level.
    pub wing_down: f64,
}

/// A direction in the aircraft.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Direction {
    /// Towards the tail.
    Aft,
    /// Towards the nose.
    Forward,
    /// To the right of the pilot.
    Right,
    /// To the left of the pilot.
    Left,
    /// Up.
    Up,
    /// Down.
    Down,
}

impl Direction {
    /// Of length one; x aft, y to the right, z up.
    pub fn vector(self) -> SpacePoint {
        match self {
            Self::Aft => [1.0, 0.0, 0.0],
            Self::Forward => [-1.0, 0.0, 0.0],
            Self::Right => [0.0, 1.0, 0.0],
            Self::Left => [0.0, -1.0, 0.0],
            Self::Up => [0.0, 0.0, 1.0],
            Self::Down => [0.0, 0.0, -1.0],
        }
    }

    /// What lies that way.
    pub fn way_word(self) -> &'static str {
        match self {
            Self::Aft => "rear",
            Self::Forward => "front",
            Self::Right => "right",
            Self::Left => "left",
            Self::Up => "top",
            Self::Down => "bottom",
        }
    }

    /// Whether two directions are square to each other.
    pub fn square_to(self, other: Self) -> bool {
        let (one, other) = (self.vector(), other.vector());
        (0..3).all(|axis| one[axis] * other[axis] == 0.0)
    }
}
