//! A length of cloth, what lies on it, and what is known of each thing there.

use super::shapes::{Shapes, Way};
use crate::shape::Pose;

/// Cloth of a given width with pieces to lay on it and obstacles that stay where they are.
pub struct Strip<'a> {
    /// Shapes of all pieces and obstacles.
    pub shapes: &'a Shapes,
    /// For each item, the piece that it is a copy of (index into the shapes' pieces).
    pub items: Vec<usize>,
    /// Usable y.
    pub usable: [f64; 2],
    /// Shape and middle of each obstacle.
    pub obstacles: Vec<(usize, [f64; 2])>,
    /// Numbers that weigh each item against others: the root of the area of its shape's box.
    pub bulk: Vec<f64>,
}

/// Where an item lies.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Lying {
    /// Index into the ways of its piece.
    pub way: usize,
    /// The middle of its box.
    pub at: [f64; 2],
}

/// Where every item lies, in the order of [`Strip::items`].
pub type Arrangement = Vec<Lying>;

impl<'a> Strip<'a> {
    /// A strip whose obstacles are the last ways of `shapes`.
    pub fn new(shapes: &'a Shapes, items: Vec<usize>, usable: [f64; 2], obstacles: std::ops::Range<usize>) -> Self {
        let bulk = items
            .iter()
            .map(|&piece| {
                let shape = shapes.shape(shapes.ways(piece)[0].shape);
                (shape.half[0] * shape.half[1] * 4.0).sqrt()
            })
            .collect();
        let obstacles = obstacles.map(|index| shapes.obstacle(index)).collect();
        Self { shapes, items, usable, obstacles, bulk }
    }

    /// The ways in which an item may lie.
    pub fn ways(&self, item: usize) -> &'a [Way] {
        self.shapes.ways(self.items[item])
    }

    /// Half the box of an item that lies in a way.
    pub fn half(&self, item: usize, way: usize) -> [f64; 2] {
        self.shapes.shape(self.ways(item)[way].shape).half
    }

    /// Whether an item fits at all, in a way, on a length of this cloth.
    pub fn admits(&self, item: usize, way: usize, length: f64) -> bool {
        let half = self.half(item, way);
        // A piece as wide as the cloth must not fail by the last bit of a number.
        let slack = 1e-9 * (self.usable[1] - self.usable[0]);
        2.0 * half[0] <= length + slack && 2.0 * half[1] <= self.usable[1] - self.usable[0] + slack
    }

    /// The nearest point to `at` at which an item that lies in a way is wholly on the cloth.
    #[inline]
    pub fn onto_cloth(&self, half: [f64; 2], at: [f64; 2], length: f64) -> [f64; 2] {
        let within =
            |value: f64, low: f64, high: f64| if high < low { (low + high) / 2.0 } else { value.clamp(low, high) };
        [within(at[0], half[0], length - half[0]), within(at[1], self.usable[0] + half[1], self.usable[1] - half[1])]
    }

    /// The greatest x that an item of the arrangement reaches.
    pub fn length_of(&self, arrangement: &[Lying]) -> f64 {
        arrangement
            .iter()
            .enumerate()
            .map(|(item, lying)| lying.at[0] + self.half(item, lying.way)[0])
            .fold(0.0, f64::max)
    }

    /// The pose of an item.
    pub fn pose(&self, item: usize, lying: &Lying) -> Pose {
        self.ways(item)[lying.way].pose(lying.at)
    }
}
