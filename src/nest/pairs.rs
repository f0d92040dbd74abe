//! The no-fit polygon of each pair of shapes, made when it is first asked for and kept.
//!
//! Shapes that differ by quarter turns only are of one kind, and pairs that differ by a common quarter turn have one
//! no-fit polygon: it is asked in the coordinates of the first shape's kind. So a job whose pieces may lie at four turns
//! has a quarter of the polygons to make and to keep near at hand, one with two turns half.

use std::sync::OnceLock;

use rustc_hash::FxHashMap;

use super::minkowski::{GridRings, eroded, no_fit_rings};
use super::no_fit::{HalfPlane, NoFit, Slope, Spot, Towards, WayOut};
use super::shapes::Shape;

/// Cells of the indices of all no-fit polygons together, about.
const MOST_CELLS: usize = 1 << 22;
/// Cells of the index of one no-fit polygon, at least and at most.
const CELLS: [usize; 2] = [256, 16_384];

/// Steps of the grid by which shapes are made smaller, so that a notch just as wide as a piece is room for it in spite of
/// rounding. Twice that is less than what counts as touching.
pub const EASE: f64 = 2.0;

/// What makes shapes equal but for a quarter turn.
#[derive(Clone, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
struct Kind {
    rings: GridRings,
    bare: Option<GridRings>,
    obstacle: bool,
}

/// The kind of a shape, and the quarter turns that make the shape of it.
#[derive(Clone, Copy, Debug)]
struct Turned {
    kind: u32,
    quarters: u8,
}

/// No-fit polygons of all pairs of some shapes.
#[derive(Default)]
pub struct Pairs {
    shapes: Vec<Turned>,
    kinds: Vec<Kind>,
    /// Four for each pair of kinds that are not both obstacles, by the quarter turns between them.
    no_fits: Vec<OnceLock<Box<NoFit>>>,
    /// How many of them can be asked for.
    wanted: usize,
    /// Pairs of obstacles, whose kinds come first: nobody asks for them.
    unasked: usize,
    unit: f64,
}

impl Pairs {
    /// Room for the pairs of some shapes; `unit` is the length of one step of the grid.
    pub fn new(shapes: &[Shape], unit: f64) -> Self {
        let mut pairs = Self { unit, ..Self::default() };
        let mut known: FxHashMap<Kind, u32> = FxHashMap::default();
        let turned: Vec<(Kind, u8)> = shapes.iter().map(kind_of).collect();
        let (obstacles, others): (Vec<_>, Vec<_>) = turned.iter().partition(|(kind, _)| kind.obstacle);
        for (kind, _) in obstacles.iter().chain(&others) {
            let next = known.len() as u32;
            known.entry(kind.clone()).or_insert_with(|| {
                pairs.kinds.push(kind.clone());
                next
            });
        }
        pairs.shapes =
            turned.iter().map(|(kind, quarters)| Turned { kind: known[kind], quarters: *quarters }).collect();
        let of_so_many = |kinds: usize| kinds * (kinds + 1) / 2;
        pairs.unasked = of_so_many(pairs.kinds.iter().filter(|kind| kind.obstacle).count());
        pairs.no_fits.resize_with(4 * (of_so_many(pairs.kinds.len()) - pairs.unasked), OnceLock::new);
        pairs.wanted = pairs.count_wanted();
        pairs
    }

    /// Number of no-fit polygons that can be asked for.
    pub fn count(&self) -> usize {
        self.wanted
    }

    fn count_wanted(&self) -> usize {
        let mut turns = vec![0u8; self.kinds.len()];
        for shape in &self.shapes {
            turns[shape.kind as usize] |= 1 << shape.quarters;
        }
        let between = |a: u8, b: u8| {
            (0..4).filter(|by| (0..4).any(|from| a >> from & 1 == 1 && b >> ((from + by) % 4) & 1 == 1)).count()
        };
        let asked = |high: &usize| !self.kinds[*high].obstacle;
        let with_all_before = |high: usize| turns[..=high].iter().map(|&low| between(low, turns[high])).sum::<usize>();
        (0..turns.len()).filter(asked).map(with_all_before).sum()
    }

    /// How deep shape `b` lies in shape `a` when it is displaced by `t` from it.
    #[inline(always)]
    pub fn depth(&self, a: usize, b: usize, t: [f64; 2]) -> f64 {
        let Between { no_fit, frame } = self.between(a, b);
        no_fit.depth(frame.into(t))
    }

    /// The shortest push on shape `b` that parts it from shape `a`.
    pub fn way_out(&self, a: usize, b: usize, t: [f64; 2]) -> Option<WayOut> {
        let Between { no_fit, frame } = self.between(a, b);
        let out = no_fit.way_out(frame.into(t))?;
        Some(WayOut { push: frame.out_of(out.push), ..out })
    }

    /// A displacement of shape `b` from shape `a` at which they touch; see [`NoFit::touching`].
    pub fn touching(&self, a: usize, b: usize, which: f64, share: f64) -> [f64; 2] {
        let Between { no_fit, frame } = self.between(a, b);
        frame.out_of(no_fit.touching(which, share))
    }

    /// Half planes of the displacement of shape `b` from shape `a` within which, and within `reach` of `t`, they do not
    /// overlap; see [`NoFit::free_region`].
    pub fn free_region(&self, a: usize, b: usize, t: [f64; 2], reach: f64) -> Vec<HalfPlane> {
        let Between { no_fit, frame } = self.between(a, b);
        let mut region = no_fit.free_region(frame.into(t), reach, self.unit);
        region.iter_mut().for_each(|plane| plane.normal = frame.out_of(plane.normal));
        region
    }

    /// How far shape `b`, displaced by `t` from shape `a`, can be moved towards smaller x (axis 0) or y (axis 1) before it
    /// meets it; infinite where it never does. An overlap of up to `touch` is none.
    pub fn free_run(&self, a: usize, b: usize, t: [f64; 2], axis: usize, touch: f64) -> f64 {
        let Between { no_fit, frame } = self.between(a, b);
        let way = frame.into([[-1.0, 0.0], [0.0, -1.0]][axis]);
        let towards = if way[0] == 0.0 {
            Towards { axis: 1, ahead: way[1] > 0.0 }
        } else {
            Towards { axis: 0, ahead: way[0] > 0.0 }
        };
        no_fit.free_run(frame.into(t), towards, touch)
    }

    /// The no-fit polygon of two shapes, for many questions about the same two.
    #[inline(always)]
    pub fn between(&self, a: usize, b: usize) -> Between<'_> {
        let (first, second) = (self.shapes[a], self.shapes[b]);
        let (low, high, sign) = if first.kind <= second.kind { (first, second, 1.0) } else { (second, first, -1.0) };
        let between = high.quarters.wrapping_sub(low.quarters) & 3;
        let (row, column) = (high.kind as usize, low.kind as usize);
        let index = (row * (row + 1) / 2 + column - self.unasked) * 4 + usize::from(between);
        let no_fit = self.no_fits[index].get_or_init(|| Box::new(self.made(column, row, between)));
        Between { no_fit, frame: Frame::turned_back(low.quarters, sign) }
    }

    #[cold]
    fn made(&self, low: usize, high: usize, between: u8) -> NoFit {
        let [a, b] = [&self.kinds[low], &self.kinds[high]];
        // Obstacles keep no gap.
        let bare = a.obstacle || b.obstacle;
        let [a, b] = [a, b].map(|kind| kind.bare.as_ref().filter(|_| bare).unwrap_or(&kind.rings));
        let most_cells = (MOST_CELLS / self.wanted.max(1)).clamp(CELLS[0], CELLS[1]);
        let rings = no_fit_rings(&eroded(a, EASE), &eroded(&quarter_turned(b, between), EASE));
        NoFit::new(&rings, self.unit, most_cells)
    }
}

/// The no-fit polygon of two shapes and the frame in which it is asked.
#[derive(Clone, Copy)]
pub struct Between<'a> {
    no_fit: &'a NoFit,
    frame: Frame,
}

impl Between<'_> {
    /// Looks up a displacement of the second shape from the first.
    #[inline(always)]
    pub fn spot(&self, t: [f64; 2]) -> Spot {
        self.no_fit.spot(self.frame.into(t))
    }

    /// How deep the two shapes lie in each other at a displacement that was looked up here, and the way of the second shape
    /// along which that grows fastest.
    #[inline(always)]
    pub fn slope_at(&self, spot: &Spot) -> Slope {
        let Slope { depth, inwards } = self.no_fit.slope_at(spot);
        Slope { depth, inwards: self.frame.out_of(inwards) }
    }
}

/// A turn by quarters, with or without a point reflection: from the coordinates of the cloth into those of a kind.
#[derive(Clone, Copy)]
struct Frame {
    cos: f64,
    sin: f64,
}

impl Frame {
    #[inline(always)]
    fn turned_back(quarters: u8, sign: f64) -> Self {
        const COS: [f64; 4] = [1.0, 0.0, -1.0, 0.0];
        const SIN: [f64; 4] = [0.0, -1.0, 0.0, 1.0];
        let quarters = usize::from(quarters & 3);
        Self { cos: sign * COS[quarters], sin: sign * SIN[quarters] }
    }

    #[inline(always)]
    fn into(self, t: [f64; 2]) -> [f64; 2] {
        [self.cos * t[0] - self.sin * t[1], self.sin * t[0] + self.cos * t[1]]
    }

    #[inline(always)]
    fn out_of(self, t: [f64; 2]) -> [f64; 2] {
        Self { sin: -self.sin, ..self }.into(t)
    }
}

/// The kind of a shape: the least, in the order of numbers, of the shape's four quarter turns.
fn kind_of(shape: &Shape) -> (Kind, u8) {
    let turned = |back: u8| {
        let by = (4 - back) % 4;
        let kind = Kind {
            rings: quarter_turned(&shape.rings, by),
            bare: shape.bare.as_ref().map(|rings| quarter_turned(rings, by)),
            obstacle: shape.obstacle,
        };
        (kind, back)
    };
    (1..4).map(turned).fold(turned(0), std::cmp::min)
}

/// Rings turned counter-clockwise by quarters, each from its least point on, holes in order.
fn quarter_turned(rings: &GridRings, quarters: u8) -> GridRings {
    let turned = |point: [i32; 2]| (0..quarters).fold(point, |[x, y], _| [-y, x]);
    let mut rings: GridRings = rings.iter().map(|ring| from_least(ring.iter().map(|&p| turned(p)).collect())).collect();
    rings[1..].sort();
    rings
}

/// A ring that starts at its least point: equal rings become equal lists.
pub fn from_least(mut ring: Vec<[i32; 2]>) -> Vec<[i32; 2]> {
    let start = (0..ring.len()).min_by_key(|&k| ring[k]).unwrap_or(0);
    ring.rotate_left(start);
    ring
}

#[cfg(test)]
mod tests {
    use super::*;

    /// One of two shapes is eased, and crossings of a no-fit polygon are rounded to the grid.
    const ROUNDING: f64 = 0.02;

    fn ell() -> GridRings {
        vec![vec![
            [-20_000, -10_000],
            [25_000, -10_000],
            [25_000, 0],
            [-10_000, 0],
            [-10_000, 30_000],
            [-20_000, 30_000],
        ]]
    }

    fn shape(rings: GridRings) -> Shape {
        Shape {
            half: [0.0; 2],
            half_with_gap: [0.0; 2],
            rings,
            bare: None,
            obstacle: false,
            area: 0.0,
            cut_area: 0.0,
            fills_box: false,
        }
    }

    /// Two shapes at every turn: what the shared polygons say is what a polygon of their own says.
    #[test]
    fn pairs_turned_together_share_a_polygon_and_lose_nothing() {
        let kite: GridRings = vec![vec![[-5_000, -30_000], [18_000, 2_000], [3_000, 21_000], [-9_000, 4_000]]];
        let turned =
            |rings: &GridRings| (0..4).map(|quarters| shape(quarter_turned(rings, quarters))).collect::<Vec<_>>();
        let shapes: Vec<Shape> = [turned(&ell()), turned(&kite)].concat();
        let pairs = Pairs::new(&shapes, 0.001);
        assert_eq!((pairs.kinds.len(), pairs.count()), (2, 12));
        for (a, b) in (0..8).flat_map(|a| (0..8).map(move |b| (a, b))) {
            let own = NoFit::new(&no_fit_rings(&shapes[a].rings, &shapes[b].rings), 0.001, 400);
            for t in
                (-12..12).flat_map(|x| (-12..12).map(move |y| [f64::from(x) * 4.7 + 0.13, f64::from(y) * 4.3 + 0.11]))
            {
                let (depth, expected) = (pairs.depth(a, b, t), own.depth(t));
                // Deep inside, an index may take another edge than the nearest.
                let alike =
                    depth.max(expected) < ROUNDING || depth.min(expected) > 0.0 && (depth - expected).abs() < 2.0;
                assert!(alike, "{a} {b} {t:?}: {depth} and {expected}");
                if let Some(out) = pairs.way_out(a, b, t) {
                    let after = [0, 1].map(|axis| t[axis] + out.push[axis]);
                    assert!(own.depth(after) < ROUNDING, "{a} {b} {t:?}: {out:?}");
                }
                for axis in 0..2 {
                    let back = Towards { axis, ahead: false };
                    let (run, expected) = (pairs.free_run(a, b, t, axis, 1e-6), own.free_run(t, back, 1e-6));
                    // Along an edge a hair's breadth across is more.
                    let alike = run == expected || (run - expected).abs() < 10.0 * ROUNDING;
                    assert!(alike, "{a} {b} {t:?}: {run} and {expected}");
                }
            }
        }
    }
}
