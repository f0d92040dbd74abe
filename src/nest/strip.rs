//! A length of cloth, what lies on it, and what is known of each thing there.

use std::collections::BTreeSet;

use rustc_hash::FxHashMap;

use super::shapes::{Shapes, Way};
use crate::shape::Pose;

/// Cloth of a given width with pieces to lay on it and obstacles that stay where they are.
#[derive(Clone)]
pub struct Strip<'a> {
    /// Shapes of all pieces and obstacles.
    pub shapes: &'a Shapes,
    /// For each item, the piece that it is a copy of (index into the shapes' pieces).
    pub items: Vec<usize>,
    /// Usable y.
    pub usable: [f64; 2],
    /// Shape and middle of each obstacle.
    pub obstacles: Vec<(usize, [f64; 2])>,
    may_flip: bool,
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
    /// A strip whose obstacles are the given pieces of `shapes`.
    pub fn new(
        shapes: &'a Shapes,
        items: Vec<usize>,
        usable: [f64; 2],
        obstacles: std::ops::Range<usize>,
        may_flip: bool,
    ) -> Self {
        let obstacles = obstacles.map(|index| shapes.obstacle(index)).collect();
        Self { shapes, items, usable, obstacles, may_flip }
    }

    /// The same cloth with other items.
    pub fn with_items(&self, items: Vec<usize>) -> Self {
        Self { items, obstacles: self.obstacles.clone(), ..*self }
    }

    /// The same cloth without the obstacles that lie wholly before `from` or beyond `to`.
    pub fn with_obstacles_between(mut self, from: f64, to: f64) -> Self {
        let shapes = self.shapes;
        self.obstacles.retain(|(shape, at)| {
            let half = shapes.shape(*shape).half[0];
            at[0] + half > from && at[0] - half < to
        });
        self
    }

    /// The shapes of what lies on it or may lie on it.
    pub fn own_shapes(&self) -> BTreeSet<usize> {
        let of_items = (0..self.items.len()).flat_map(|item| self.ways(item)).map(|way| way.shape);
        of_items.chain(self.obstacles.iter().map(|(shape, _)| *shape)).collect()
    }

    /// The same strip on its own shapes alone, which are kept in `own`, where all shapes are too many and these are not.
    pub fn on_own_shapes<'b>(self, own: &'b mut Option<Shapes>) -> Strip<'b>
    where
        'a: 'b,
    {
        if !self.shapes.too_many() {
            return self;
        }
        let wanted = self.own_shapes();
        if self.shapes.too_many_among(&wanted) {
            return self;
        }
        let (shapes, renumbered) = self.shapes.some(&wanted);
        self.on_shapes(own.insert(shapes), &renumbered)
    }

    /// The same strip with its shapes taken from some of them; tells the new index of each shape by the old one.
    pub fn on_shapes<'b>(&self, shapes: &'b Shapes, renumbered: &FxHashMap<usize, usize>) -> Strip<'b> {
        let obstacles = self.obstacles.iter().map(|(shape, at)| (renumbered[shape], *at)).collect();
        Strip { shapes, items: self.items.clone(), usable: self.usable, obstacles, may_flip: self.may_flip }
    }

    /// Usable width.
    pub fn width(&self) -> f64 {
        self.usable[1] - self.usable[0]
    }

    /// The ways in which a piece may lie on this cloth.
    pub fn piece_ways(&self, piece: usize) -> &'a [Way] {
        self.shapes.ways(piece, self.may_flip)
    }

    /// The ways in which an item may lie.
    pub fn ways(&self, item: usize) -> &'a [Way] {
        self.piece_ways(self.items[item])
    }

    /// The shape of an item that lies in a way.
    pub fn shape_of(&self, item: usize, way: usize) -> usize {
        self.ways(item)[way].shape
    }

    /// The way that is another one turned half round, where the item may lie so.
    pub fn half_turned(&self, item: usize, way: usize) -> Option<usize> {
        let ways = self.ways(item);
        ways.iter().position(|other| other.is_half_turn_of(&ways[way]))
    }

    /// Shape and middle of each item of an arrangement.
    pub fn shapes_in(&self, arrangement: &[Lying]) -> impl Iterator<Item = (usize, [f64; 2])> {
        arrangement.iter().enumerate().map(|(item, lying)| (self.shape_of(item, lying.way), lying.at))
    }

    /// Sorts items, those of the greatest area first.
    pub fn sort_largest_first(&self, items: &mut [usize]) {
        items.sort_by(|&a, &b| self.area(b).total_cmp(&self.area(a)).then(a.cmp(&b)));
    }

    /// Half the box of an item that lies in a way.
    pub fn half(&self, item: usize, way: usize) -> [f64; 2] {
        self.shapes.shape(self.shape_of(item, way)).half
    }

    /// Width and height of the box, with half the gap all round, of an item that lies in a way.
    pub fn box_with_gap(&self, item: usize, way: usize) -> [f64; 2] {
        self.shapes.shape(self.shape_of(item, way)).half_with_gap.map(|half| 2.0 * half)
    }

    /// Area of an item, gap included.
    pub fn area(&self, item: usize) -> f64 {
        self.shapes.shape(self.ways(item)[0].shape).area
    }

    /// Area of a piece as it is cut.
    pub fn piece_area(&self, piece: usize) -> f64 {
        self.shapes.shape(self.piece_ways(piece)[0].shape).cut_area
    }

    /// The side of a square with the area of an item's box: how much it is in the way.
    pub fn bulk(&self, item: usize) -> f64 {
        let half = self.half(item, 0);
        (4.0 * half[0] * half[1]).sqrt()
    }

    /// How much longer or wider than the cloth a piece is at the turn that suits it best; zero or less where it fits.
    pub fn excess(&self, piece: usize, length: Option<f64>) -> f64 {
        let over = |way: &Way| {
            let half = self.shapes.shape(way.shape).half;
            let along = length.map_or(f64::NEG_INFINITY, |length| 2.0 * half[0] - length);
            along.max(2.0 * half[1] - self.width())
        };
        self.piece_ways(piece).iter().map(over).fold(f64::INFINITY, f64::min)
    }

    /// Whether a piece fits, in some way, on a length of this cloth.
    pub fn fits(&self, piece: usize, length: Option<f64>) -> bool {
        self.excess(piece, length) <= self.slack()
    }

    /// A piece as wide as the cloth must not fail by the last bit of a number.
    fn slack(&self) -> f64 {
        1e-9 * self.width()
    }

    /// Whether an item that lies in a way fits on a length of this cloth.
    pub fn admits(&self, item: usize, way: usize, length: f64) -> bool {
        let half = self.half(item, way);
        2.0 * half[0] <= length + self.slack() && 2.0 * half[1] <= self.width() + self.slack()
    }

    /// The least and the greatest middle at which a box of half size `half` is wholly on the cloth; the same twice where it is
    /// too large.
    #[inline]
    pub fn middles(&self, half: [f64; 2], length: f64) -> [[f64; 2]; 2] {
        let within = |low: f64, high: f64| if high < low { [(low + high) / 2.0; 2] } else { [low, high] };
        let [along, across] =
            [within(half[0], length - half[0]), within(self.usable[0] + half[1], self.usable[1] - half[1])];
        [[along[0], across[0]], [along[1], across[1]]]
    }

    /// The nearest point to `at` at which a box of half size `half` is wholly on the cloth.
    #[inline]
    pub fn onto_cloth(&self, half: [f64; 2], at: [f64; 2], length: f64) -> [f64; 2] {
        let [low, high] = self.middles(half, length);
        [at[0].clamp(low[0], high[0]), at[1].clamp(low[1], high[1])]
    }

    /// The greatest x that an item of the arrangement reaches.
    pub fn length_of(&self, arrangement: &[Lying]) -> f64 {
        arrangement
            .iter()
            .enumerate()
            .map(|(item, lying)| lying.at[0] + self.half(item, lying.way)[0])
            .fold(0.0, f64::max)
    }

    /// Share of the usable cloth, up to where the arrangement ends, that it covers.
    pub fn density(&self, arrangement: &[Lying]) -> f64 {
        let area: f64 = self.items.iter().map(|&piece| self.piece_area(piece)).sum();
        area / (self.length_of(arrangement) * self.width()).max(f64::MIN_POSITIVE)
    }

    /// The pose of an item.
    pub fn pose(&self, item: usize, lying: &Lying) -> Pose {
        self.ways(item)[lying.way].pose(lying.at)
    }
}
