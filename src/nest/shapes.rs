//! Every shape that the engine handles: each piece at each allowed turn, on one integer grid.

use std::collections::BTreeSet;

use geo::{Area, BooleanOps};
use geo_types::{Coord, Rect};
use rustc_hash::FxHashMap;

use super::minkowski::{GridPoint, GridRings};
use super::pairs::{Pairs, from_least};
use super::task::{Piece, TaskFault, Turns};
use crate::shape::{Join, Outline, Pose, SAME_POINT, grown};

/// How many directions stand for a free turn, at most and at least.
const FREE_DIRECTIONS: [usize; 2] = [24, 4];
/// The finest step of the grid, in millimetres.
const FINEST_UNIT: f64 = 1.0 / (1u64 << 40) as f64;
/// Shapes of which all pairs may have a no-fit polygon at the same time, if none is an obstacle.
const MOST_SHAPES: usize = 400;
/// Shapes of pieces beyond which free turns get fewer directions.
const MANY_SHAPES: usize = 360;
/// Points that a circle has at least, and how many times its share of the circle an edge may take.
const ROUND: usize = 24;
const UNEVEN: f64 = 1.5;

/// Largest coordinate of a no-fit polygon on the grid: far enough from the end of `i32` for sums and differences.
const GRID_REACH: f64 = (1u32 << 29) as f64;

/// An outline at one turn, centred on the middle of its box.
#[derive(Clone, Debug)]
pub struct Shape {
    /// Half the width and height of the outline as it is cut.
    pub half: [f64; 2],
    /// Half the width and height with half the gap all round.
    pub half_with_gap: [f64; 2],
    /// The outline with half the gap all round.
    pub rings: GridRings,
    /// The outline as it is cut, where that is another.
    pub bare: Option<GridRings>,
    /// Whether it is an obstacle: pieces may touch it, whatever the gap between them.
    pub obstacle: bool,
    /// Area within the rings, in square millimetres.
    pub area: f64,
    /// Area of the outline as it is cut, in square millimetres.
    pub cut_area: f64,
    /// Whether the outline, as it is cut, fills its box.
    pub fills_box: bool,
}

/// One way to lay a piece.
#[derive(Clone, Copy, Debug)]
pub struct Way {
    /// Index into the shapes.
    pub shape: usize,
    /// Degrees counter-clockwise, after the flip.
    turn: f64,
    flipped: bool,
    /// Where the middle of the box lies, seen from the piece's origin.
    middle: [f64; 2],
}

impl Way {
    /// Whether this is another way turned half round.
    pub fn is_half_turn_of(&self, other: &Self) -> bool {
        let off = (self.turn - other.turn).rem_euclid(360.0) - 180.0;
        self.flipped == other.flipped && off.abs() < 1e-6
    }

    /// The pose that puts the middle of the box at a point.
    pub fn pose(&self, at: [f64; 2]) -> Pose {
        Pose {
            turn: self.turn,
            flipped: self.flipped,
            at: Coord { x: at[0] - self.middle[0], y: at[1] - self.middle[1] },
        }
    }
}

/// Shapes and ways of a list of pieces, and the no-fit polygons between shapes.
pub struct Shapes {
    shapes: Vec<Shape>,
    /// For each piece, those with the face up first.
    ways: Vec<Vec<Way>>,
    /// Shapes of pieces; those of obstacles follow.
    of_pieces: usize,
    unit: f64,
    pairs: Pairs,
}

impl Shapes {
    /// Prepares pieces, and obstacles that are met but never moved.
    ///
    /// The obstacles follow the pieces, in their order; see [`Shapes::obstacle`].
    ///
    /// # Errors
    /// [`TaskFault::Growth`] for a piece that cannot be given half the gap all round.
    pub fn new(pieces: &[Piece], obstacles: &[Outline], may_flip: bool, gap: f64) -> Result<Self, TaskFault> {
        let mut shapes = Self {
            shapes: Vec::new(),
            ways: Vec::new(),
            of_pieces: 0,
            unit: grid_unit(widest_no_fit(pieces, obstacles, gap)),
            pairs: Pairs::default(),
        };
        let mut known = FxHashMap::default();
        let free = free_directions(pieces, may_flip);
        for (index, piece) in pieces.iter().enumerate() {
            let outline = &piece.outline;
            let grown = (gap > 0.0).then(|| grown(outline, gap / 2.0, Join::Round)).transpose();
            let grown = grown.map_err(|_| TaskFault::Growth { piece: index })?;
            let cut = Cut { outline, with_gap: grown.as_ref().map(|outline| (outline, gap)) };
            let ways = shapes.ways_of(piece, &cut, &directions(piece, free), may_flip, &mut known);
            shapes.ways.push(ways);
        }
        shapes.of_pieces = shapes.shapes.len();
        // Pieces keep another distance from an obstacle than from a piece of the same shape.
        known.clear();
        for outline in obstacles {
            let way = shapes.way(&Cut { outline, with_gap: None }, Pose::unmoved(), &mut known);
            shapes.shapes[way.shape].obstacle = true;
            shapes.ways.push(vec![way]);
        }
        if !shapes.too_many() {
            shapes.pairs = Pairs::new(&shapes.shapes, shapes.unit);
        }
        Ok(shapes)
    }

    /// Whether there are so many shapes that no-fit polygons can only be kept for some of them at a time.
    pub fn too_many(&self) -> bool {
        are_too_many(self.of_pieces, self.shapes.len() - self.of_pieces)
    }

    /// Some of the shapes, with room for their pairs, and their new indices by the old ones. Pieces keep their indices, and
    /// those of their ways whose shapes are among them.
    pub fn some(&self, wanted: &BTreeSet<usize>) -> (Self, FxHashMap<usize, usize>) {
        let renumbered: FxHashMap<usize, usize> = wanted.iter().enumerate().map(|(new, &old)| (old, new)).collect();
        let shapes: Vec<Shape> = wanted.iter().map(|&old| self.shapes[old].clone()).collect();
        let known = |way: &Way| Some(Way { shape: *renumbered.get(&way.shape)?, ..*way });
        let ways = self.ways.iter().map(|ways| ways.iter().filter_map(known).collect());
        let pairs = Pairs::new(&shapes, self.unit);
        let of_pieces = self.pieces_among(wanted);
        (Self { shapes, ways: ways.collect(), of_pieces, unit: self.unit, pairs }, renumbered)
    }

    /// Whether some of the shapes are still too many.
    pub fn too_many_among(&self, some: &BTreeSet<usize>) -> bool {
        let of_pieces = self.pieces_among(some);
        are_too_many(of_pieces, some.len() - of_pieces)
    }

    fn pieces_among(&self, some: &BTreeSet<usize>) -> usize {
        some.range(..self.of_pieces).count()
    }

    /// The no-fit polygons between them; none where there are [too many](Self::too_many).
    pub fn pairs(&self) -> &Pairs {
        &self.pairs
    }

    fn ways_of(
        &mut self,
        piece: &Piece,
        cut: &Cut,
        turns: &[f64],
        may_flip: bool,
        known: &mut FxHashMap<GridRings, usize>,
    ) -> Vec<Way> {
        let mut ways: Vec<Way> = Vec::new();
        let faces = if may_flip && piece.flip { [false, true].as_slice() } else { &[false] };
        for &flipped in faces {
            for &turn in turns {
                let way = self.way(cut, Pose { turn, flipped, ..Pose::unmoved() }, known);
                if ways.iter().all(|other| other.shape != way.shape) {
                    ways.push(way);
                }
            }
        }
        ways
    }

    fn way(&mut self, cut: &Cut, pose: Pose, known: &mut FxHashMap<GridRings, usize>) -> Way {
        let bare = pose.apply_to(cut.outline);
        let bounds = bare.bounds();
        let with_gap = cut.with_gap.map(|(outline, gap)| within_box(&pose.apply_to(outline), bounds, gap / 2.0));
        let outer = with_gap.as_ref().unwrap_or(&bare);
        let middle = bounds.center();
        let half = |bounds: Rect<f64>| [bounds.width() / 2.0, bounds.height() / 2.0];
        let shape = *known.entry(self.to_grid(outer, middle)).or_insert_with_key(|rings| {
            self.shapes.push(Shape {
                half: half(bounds),
                half_with_gap: half(outer.bounds()),
                rings: rings.clone(),
                bare: with_gap.is_some().then(|| self.to_grid(&bare, middle)),
                obstacle: false,
                area: outer.area(),
                cut_area: bare.area(),
                fills_box: fills(&bare, bounds),
            });
            self.shapes.len() - 1
        });
        Way { shape, turn: pose.turn, flipped: pose.flipped, middle: [middle.x, middle.y] }
    }

    fn to_grid(&self, outline: &Outline, middle: Coord<f64>) -> GridRings {
        let ring = |line: &geo_types::LineString<f64>| {
            let snap = |value: f64| (value / self.unit).round() as i32;
            let mut points: Vec<GridPoint> =
                line.0.iter().map(|p| [snap(p.x - middle.x), snap(p.y - middle.y)]).collect();
            points.pop();
            points.dedup();
            while points.len() > 1 && points.first() == points.last() {
                points.pop();
            }
            // Equal shapes get equal rings, wherever their own rings start.
            from_least(points)
        };
        let polygon = outline.polygon();
        let mut holes: Vec<_> = polygon.interiors().iter().map(ring).filter(|hole| hole.len() > 2).collect();
        holes.sort();
        std::iter::once(ring(polygon.exterior())).chain(holes).collect()
    }

    /// The ways to lay a piece, face up or, where that is allowed, down.
    pub fn ways(&self, piece: usize, may_flip: bool) -> &[Way] {
        let ways = &self.ways[piece];
        let face_up = if may_flip { ways.len() } else { ways.partition_point(|way| !way.flipped) };
        &ways[..face_up]
    }

    /// The shape of an obstacle and the middle of its box; `index` counts on from the last piece.
    pub fn obstacle(&self, index: usize) -> (usize, [f64; 2]) {
        let way = &self.ways[index][0];
        (way.shape, way.middle)
    }

    /// One shape.
    pub fn shape(&self, index: usize) -> &Shape {
        &self.shapes[index]
    }

    /// Length of a grid step, in millimetres.
    pub fn unit(&self) -> f64 {
        self.unit
    }
}

/// An outline to be cut, and the same with half the gap all round and that gap.
struct Cut<'a> {
    outline: &'a Outline,
    with_gap: Option<(&'a Outline, f64)>,
}

/// Whether an outline fills a box round it: but for rounding, and without a hole however small.
fn fills(outline: &Outline, bounds: Rect<f64>) -> bool {
    let no_hole = outline.polygon().interiors().is_empty();
    no_hole && outline.area() >= (1.0 - 1e-7) * bounds.width() * bounds.height()
}

/// An outline cut off where it reaches further beyond a box than it should: rounded corners do by a hair, and a piece
/// that only just fits must not fail by that.
fn within_box(outline: &Outline, bounds: Rect<f64>, margin: f64) -> Outline {
    let [low, high] = [bounds.min(), bounds.max()];
    let frame =
        Rect::new(Coord { x: low.x - margin, y: low.y - margin }, Coord { x: high.x + margin, y: high.y + margin });
    let reach = outline.bounds();
    let over = (frame.min().x - reach.min().x)
        .max(frame.min().y - reach.min().y)
        .max(reach.max().x - frame.max().x)
        .max(reach.max().y - frame.max().y);
    if over <= SAME_POINT {
        return outline.clone();
    }
    let inside = frame.to_polygon().intersection(outline.polygon());
    let largest = inside.0.into_iter().max_by(|a, b| a.unsigned_area().total_cmp(&b.unsigned_area()));
    largest.map_or_else(|| outline.clone(), Outline::trusted)
}

/// The step of a grid on which a length stays in reach: a power of two, so that halves and quarters are exact.
fn grid_unit(length: f64) -> f64 {
    let mut unit = 1.0;
    while length / unit > GRID_REACH {
        unit *= 2.0;
    }
    while length / unit <= GRID_REACH / 2.0 && unit > FINEST_UNIT {
        unit /= 2.0;
    }
    unit
}

/// Whether there are too many pairs of two pieces, or of a piece and an obstacle.
fn are_too_many(of_pieces: usize, obstacles: usize) -> bool {
    of_pieces * (of_pieces + 1) / 2 + of_pieces * obstacles > MOST_SHAPES * (MOST_SHAPES + 1) / 2
}

/// A length that no no-fit polygon exceeds: of two pieces, each of which is up to 1.5 times its longest side wide (a turned
/// square), or of a piece and an obstacle, which does not turn.
fn widest_no_fit(pieces: &[Piece], obstacles: &[Outline], gap: f64) -> f64 {
    let piece = pieces.iter().map(|piece| longest_side(&piece.outline)).fold(0.0, f64::max) + gap;
    let obstacle = obstacles.iter().map(longest_side).fold(0.0, f64::max);
    (3.0 * piece).max(1.5 * piece + obstacle)
}

/// The longer side of the box round an outline.
pub fn longest_side(outline: &Outline) -> f64 {
    let bounds = outline.bounds();
    bounds.width().max(bounds.height())
}

/// How many directions stand for a free turn, so that there are not too many shapes in all.
fn free_directions(pieces: &[Piece], may_flip: bool) -> usize {
    let faces = |piece: &Piece| if may_flip && piece.flip { 2 } else { 1 };
    let is_free = |piece: &&Piece| piece.turns == Turns::Any && !is_round(&piece.outline);
    let (free, fixed): (Vec<&Piece>, Vec<&Piece>) = pieces.iter().partition(is_free);
    let others: usize = fixed.into_iter().map(|piece| faces(piece) * directions(piece, 1).len()).sum();
    let free: usize = free.into_iter().map(faces).sum();
    if others >= MANY_SHAPES {
        return FREE_DIRECTIONS[0];
    }
    let affordable = (MANY_SHAPES - others) / free.max(1) / 4 * 4;
    affordable.clamp(FREE_DIRECTIONS[1], FREE_DIRECTIONS[0])
}

/// The turns that are tried for a piece, in degrees.
fn directions(piece: &Piece, free: usize) -> Vec<f64> {
    match &piece.turns {
        Turns::Any if is_round(&piece.outline) => vec![0.0],
        Turns::Any => (0..free).map(|k| 360.0 * k as f64 / free as f64).collect(),
        Turns::These { angles, tilt } if *tilt > 0.0 => {
            angles.iter().flat_map(|angle| [*angle, angle - tilt, angle + tilt]).collect()
        }
        Turns::These { angles, .. } => angles.clone(),
    }
}

/// Whether every ring is a circle about one centre, so that no turn matters.
fn is_round(outline: &Outline) -> bool {
    let centre = outline.bounds().center();
    let polygon = outline.polygon();
    std::iter::once(polygon.exterior()).chain(polygon.interiors()).all(|ring| {
        let radii = ring.0.iter().map(|p| libm::hypot(p.x - centre.x, p.y - centre.y));
        let [least, most] =
            radii.fold([f64::INFINITY, 0.0], |[least, most], r| [f64::min(least, r), f64::max(most, r)]);
        // A circle with a piece cut off has all its corners on the circle too.
        let longest_edge = UNEVEN * std::f64::consts::TAU / ROUND as f64 * most;
        let no_chord = ring.lines().all(|edge| libm::hypot(edge.dx(), edge.dy()) < longest_edge);
        ring.0.len() > ROUND && most - least < 0.001 * most && no_chord
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::nest::test_pieces::piece;
    use crate::shape::sin_cos_degrees;

    /// Points of a circle, one a degree, from an angle to another.
    fn arc(from: usize, to: usize) -> Vec<[f64; 2]> {
        (from..to).map(|degrees| sin_cos_degrees(degrees as f64)).map(|(sin, cos)| [60.0 * cos, 60.0 * sin]).collect()
    }

    fn free(corners: &[[f64; 2]]) -> Piece {
        Piece { turns: Turns::Any, ..piece(corners, 1, &[]) }
    }

    #[test]
    fn a_circle_needs_no_turn_and_one_with_a_straight_side_does() {
        let shapes = Shapes::new(&[free(&arc(0, 360)), free(&arc(0, 300))], &[], false, 0.0).expect("no gap");
        assert_eq!([0, 1].map(|piece| shapes.ways(piece, false).len()), [1, FREE_DIRECTIONS[0]]);
    }

    #[test]
    fn free_turns_get_no_more_directions_than_there_may_be_shapes() {
        let kinds: Vec<Piece> =
            (0..40).map(|k| free(&[[0.0, 0.0], [80.0 + f64::from(k), 0.0], [10.0, 50.0]])).collect();
        for count in [1, 10, 20, 40] {
            let shapes = Shapes::new(&kinds[..count], &[], false, 0.0).expect("no gap");
            assert!(!shapes.too_many(), "{count} kinds");
            assert!(shapes.ways(0, false).len() >= 8, "{count} kinds");
        }
    }

    #[test]
    fn equal_flaws_share_a_shape_that_is_no_piece_s() {
        let square = piece(&[[0.0, 0.0], [40.0, 0.0], [40.0, 40.0], [0.0, 40.0]], 1, &[0.0]);
        let flaw = |x: f64| {
            let moved = Pose { turn: 0.0, flipped: false, at: Coord { x, y: 7.0 } };
            moved.apply_to(&square.outline)
        };
        let shapes = Shapes::new(std::slice::from_ref(&square), &[flaw(100.0), flaw(300.0)], false, 3.0)
            .expect("the gap can be kept");
        let of_piece = shapes.ways(0, false)[0].shape;
        let [(one, at), (other, other_at)] = [1, 2].map(|index| shapes.obstacle(index));
        assert_eq!((one, at, other_at), (other, [120.0, 27.0], [320.0, 27.0]));
        assert!(one != of_piece && shapes.shape(one).obstacle && !shapes.shape(of_piece).obstacle);
        // The piece against itself and against the flaw; a flaw meets no flaw.
        assert_eq!(shapes.pairs().count(), 2);
    }
}
