//! Every shape that the engine handles: each piece at each allowed turn, on one integer grid, with the no-fit polygon
//! of each pair, made when it is first asked for and kept.

use std::sync::OnceLock;

use geo_types::Coord;
use rustc_hash::FxHashMap;

use super::minkowski::{GridPoint, GridRings, no_fit_rings};
use super::no_fit::{NoFit, WayOut};
use super::task::{Piece, Turns};
use crate::shape::{Join, Outline, Pose, grown};

/// How many directions stand for a free turn.
const FREE_DIRECTIONS: usize = 24;

/// Largest coordinate of a no-fit polygon on the grid: far enough from the end of `i32` for sums and differences.
const GRID_REACH: f64 = (1u32 << 29) as f64;

/// An outline at one turn, centred on the middle of its box.
#[derive(Debug)]
pub struct Shape {
    /// Half the width and height of the outline as it is cut.
    pub half: [f64; 2],
    /// Half the width and height with half the gap all round.
    pub half_with_gap: [f64; 2],
    /// The outline with half the gap all round.
    pub rings: GridRings,
    /// Area within the rings, in square millimetres.
    pub area: f64,
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
    unit: f64,
    pairs: Vec<OnceLock<Box<NoFit>>>,
}

impl Shapes {
    /// Prepares pieces, and obstacles that are met but never moved.
    ///
    /// The shapes of the obstacles come last, one each in their order; see [`Shapes::obstacle`].
    pub fn new(pieces: &[Piece], obstacles: &[Outline], may_flip: bool, gap: f64) -> Self {
        let all = pieces.iter().map(|piece| &piece.outline).chain(obstacles);
        let reach = all.map(longest_side).fold(0.0, f64::max) + gap;
        // Two shapes of 1.5 times the longest side (a turned square) make the widest no-fit polygon.
        let steps = (GRID_REACH / (3.0 * reach)).log2().floor().exp2();
        let mut shapes = Self { shapes: Vec::new(), ways: Vec::new(), unit: 1.0 / steps, pairs: Vec::new() };
        let mut known = FxHashMap::default();
        for piece in pieces {
            let ways = shapes.ways_of(piece, may_flip, gap, &mut known);
            shapes.ways.push(ways);
        }
        for obstacle in obstacles {
            let way = shapes.way(obstacle, obstacle, Pose::unmoved(), &mut FxHashMap::default());
            shapes.ways.push(vec![way]);
        }
        let count = shapes.shapes.len();
        shapes.pairs.resize_with(count * (count + 1) / 2, OnceLock::new);
        shapes
    }

    fn ways_of(
        &mut self,
        piece: &Piece,
        may_flip: bool,
        gap: f64,
        known: &mut FxHashMap<GridRings, usize>,
    ) -> Vec<Way> {
        let with_gap =
            if gap > 0.0 { grown(&piece.outline, gap / 2.0, Join::Round) } else { Ok(piece.outline.clone()) };
        let with_gap = with_gap.unwrap_or_else(|_| piece.outline.clone());
        let mut ways: Vec<Way> = Vec::new();
        for flipped in [false, true] {
            if flipped && !(may_flip && piece.flip) {
                continue;
            }
            for turn in directions(piece) {
                let pose = Pose { turn, flipped, ..Pose::unmoved() };
                let way = self.way(&piece.outline, &with_gap, pose, known);
                if ways.iter().all(|other| other.shape != way.shape) {
                    ways.push(way);
                }
            }
        }
        ways
    }

    fn way(
        &mut self,
        outline: &Outline,
        with_gap: &Outline,
        pose: Pose,
        known: &mut FxHashMap<GridRings, usize>,
    ) -> Way {
        let bounds = pose.apply_to(outline).bounds();
        let grown = pose.apply_to(with_gap);
        let middle = bounds.center();
        let rings = self.to_grid(&grown, middle);
        let area = grown.area();
        let shape = *known.entry(rings).or_insert_with_key(|rings| {
            self.shapes.push(Shape {
                half: [bounds.width() / 2.0, bounds.height() / 2.0],
                half_with_gap: [grown.bounds().width() / 2.0, grown.bounds().height() / 2.0],
                rings: rings.clone(),
                area,
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
            let start = (0..points.len()).min_by_key(|&k| points[k]).unwrap_or(0);
            points.rotate_left(start);
            points
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

    /// How deep shape `b` lies in shape `a` when it is displaced by `t` from it.
    #[inline]
    pub fn depth(&self, a: usize, b: usize, t: [f64; 2]) -> f64 {
        if a <= b { self.no_fit(a, b).depth(t) } else { self.no_fit(b, a).depth([-t[0], -t[1]]) }
    }

    /// The shortest push on shape `b` that parts it from shape `a`.
    pub fn way_out(&self, a: usize, b: usize, t: [f64; 2]) -> Option<WayOut> {
        if a <= b {
            self.no_fit(a, b).way_out(t)
        } else {
            let out = self.no_fit(b, a).way_out([-t[0], -t[1]])?;
            Some(WayOut { push: [-out.push[0], -out.push[1]], ..out })
        }
    }

    /// How far shape `b`, displaced by `t` from shape `a`, can be moved towards smaller x
    /// before it meets it.
    pub fn free_run(&self, a: usize, b: usize, t: [f64; 2], touch: f64) -> f64 {
        if a <= b {
            self.no_fit(a, b).free_run_back(t, touch)
        } else {
            self.no_fit(b, a).free_run_ahead([-t[0], -t[1]], touch)
        }
    }

    #[inline]
    fn no_fit(&self, low: usize, high: usize) -> &NoFit {
        self.pairs[high * (high + 1) / 2 + low].get_or_init(|| {
            let rings = no_fit_rings(&self.shapes[low].rings, &self.shapes[high].rings);
            Box::new(NoFit::new(&rings, self.unit))
        })
    }
}

fn longest_side(outline: &Outline) -> f64 {
    let bounds = outline.bounds();
    bounds.width().max(bounds.height())
}

/// The turns that are tried for a piece, in degrees.
fn directions(piece: &Piece) -> Vec<f64> {
    match &piece.turns {
        Turns::Any if is_round(&piece.outline) => vec![0.0],
        Turns::Any => (0..FREE_DIRECTIONS).map(|k| 360.0 * k as f64 / FREE_DIRECTIONS as f64).collect(),
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
        let radii = ring.0.iter().map(|p| (p.x - centre.x).hypot(p.y - centre.y));
        let [least, most] =
            radii.fold([f64::INFINITY, 0.0], |[least, most], r| [f64::min(least, r), f64::max(most, r)]);
        ring.0.len() > FREE_DIRECTIONS && most - least < 0.001 * most
    })
}
