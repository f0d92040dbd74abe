//! How deep one shape lies in another: a no-fit polygon with an index that answers in a few nanoseconds.
//!
//! The depth at a displacement `t` is the distance from `t` to the boundary of the no-fit polygon where `t` lies
//! inside, and zero elsewhere: the shortest push that parts the two shapes (penetration depth, as Imamichi, Yagiura and
//! Nagamochi use it in "An iterated local search algorithm based on nonlinear programming for the irregular strip
//! packing problem", 2009). The index leaves out edges that cannot be nearest; near the boundary the depth is exact, so that
//! shapes can come to touch, and deep inside, where it only guides a search, it may be the distance to an edge that is
//! nearest but for a part of a cell.

use super::minkowski::GridRings;

/// Cells of the index for each edge, where there is room for so many.
const CELLS_PER_EDGE: usize = 64;

/// Depth of one shape in another as a function of their displacement.
#[derive(Debug)]
pub struct NoFit {
    low: [f64; 2],
    high: [f64; 2],
    cells_per_unit: [f64; 2],
    columns: u32,
    rows: u32,
    cells: Vec<Cell>,
    edges: Vec<Edge>,
    /// For each cell with more than one candidate the number of them, whether all of the cell is inside (1 or 0), and
    /// their indices into the edges.
    candidates: Vec<u32>,
}

/// What is known of one cell of the index: two bits that tell what it is, and a number. It is small so that the indices of
/// all pairs stay near at hand.
#[derive(Clone, Copy, Debug)]
struct Cell(u32);

impl Cell {
    /// Nothing of the cell is inside.
    const OUTSIDE: Self = Self(0);
    /// One edge is nearest to every place in it; some of them may be outside.
    const CROSSED: u32 = 1;
    /// One edge is nearest to every place in it, and all are inside.
    const INSIDE: u32 = 2;
    /// Several edges may be nearest: the number tells where in the candidates their list is.
    const SEVERAL: u32 = 3;

    fn new(what: u32, number: usize) -> Self {
        debug_assert!(number < 1 << 30, "there are not so many edges and candidates");
        Self((number as u32) << 2 | what)
    }

    #[inline(always)]
    fn what(self) -> u32 {
        self.0 & 3
    }

    #[inline(always)]
    fn number(self) -> usize {
        (self.0 >> 2) as usize
    }
}

/// An edge of the no-fit polygon; the inside lies to its left.
#[derive(Clone, Copy, Debug)]
struct Edge {
    from: [f64; 2],
    along: [f64; 2],
    inverse_length_squared: f64,
    /// The way inwards at the corner at the start and at the end: between the normals of the two edges that meet there.
    inwards: [[f32; 2]; 2],
}

/// What the index knows of one displacement, looked up apart from the depth there so that several can be looked up at
/// once.
#[derive(Clone, Copy, Debug)]
pub struct Spot {
    t: [f64; 2],
    cell: Cell,
}

impl Default for Spot {
    fn default() -> Self {
        Self { t: [0.0; 2], cell: Cell::OUTSIDE }
    }
}

/// The nearest way out.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WayOut {
    /// Distance.
    pub depth: f64,
    /// The push on the second shape that parts the two.
    pub push: [f64; 2],
}

/// A direction along an axis: 0 for x, 1 for y.
#[derive(Clone, Copy, Debug)]
pub struct Towards {
    /// The axis.
    pub axis: usize,
    /// Whether towards greater values.
    pub ahead: bool,
}

impl Edge {
    /// How far along the edge the nearest point lies as a share of it, unlimited and limited to the edge, and the way
    /// there.
    #[inline(always)]
    fn foot(&self, t: [f64; 2]) -> (f64, [f64; 2]) {
        let rel = [t[0] - self.from[0], t[1] - self.from[1]];
        let share = (rel[0] * self.along[0] + rel[1] * self.along[1]) * self.inverse_length_squared;
        let clamped = share.clamp(0.0, 1.0);
        (share, [clamped * self.along[0] - rel[0], clamped * self.along[1] - rel[1]])
    }

    /// Squared distance of a point.
    #[inline(always)]
    fn squared_distance(&self, t: [f64; 2]) -> f64 {
        let (_, off) = self.foot(t);
        off[0] * off[0] + off[1] * off[1]
    }

    /// Above zero where a point whose nearest edge this is lies inside; `share` and `off` are those of its foot.
    ///
    /// Beyond a corner the normal between the two edges decides (after Bærentzen and Aanæs, "Signed distance computation
    /// using the angle weighted pseudonormal", 2005). That a corner is convex would not do: where it is all but straight,
    /// rounding puts the foot of a point far inside beyond it.
    #[inline(always)]
    fn side(&self, t: [f64; 2], share: f64, off: [f64; 2]) -> f64 {
        let rel = [t[0] - self.from[0], t[1] - self.from[1]];
        let beside = self.along[0] * rel[1] - self.along[1] * rel[0];
        let inwards = if share < 0.0 { self.inwards[0] } else { self.inwards[1] };
        let beyond = -(f64::from(inwards[0]) * off[0] + f64::from(inwards[1]) * off[1]);
        if (0.0..=1.0).contains(&share) { beside } else { beyond }
    }
}

impl NoFit {
    /// Builds the index, of at most so many cells; `unit` is the length of one step of the grid.
    pub fn new(rings: &GridRings, unit: f64, most_cells: usize) -> Self {
        let edges: Vec<Edge> = rings.iter().flat_map(|ring| ring_edges(ring, unit)).collect();
        let mut low = [f64::INFINITY; 2];
        let mut high = [f64::NEG_INFINITY; 2];
        for edge in &edges {
            for axis in 0..2 {
                low[axis] = low[axis].min(edge.from[axis]);
                high[axis] = high[axis].max(edge.from[axis]);
            }
        }
        let mut no_fit = Self {
            low,
            high,
            cells_per_unit: [0.0; 2],
            columns: 0,
            rows: 0,
            cells: Vec::new(),
            edges: Vec::new(),
            candidates: Vec::new(),
        };
        no_fit.fill_index(&edges, most_cells);
        no_fit.edges = edges;
        no_fit.candidates.shrink_to_fit();
        no_fit
    }

    fn fill_index(&mut self, edges: &[Edge], most_cells: usize) {
        let size = [self.high[0] - self.low[0], self.high[1] - self.low[1]];
        // As square as the box permits.
        let wanted = (CELLS_PER_EDGE * edges.len()).clamp(16, most_cells) as f64;
        let side = (size[0] * size[1] / wanted).sqrt();
        let [columns, rows] = size.map(|size| ((size / side).ceil() as u32).clamp(1, 512));
        self.columns = columns;
        self.rows = rows;
        self.cells_per_unit = [f64::from(columns) / size[0], f64::from(rows) / size[1]];
        self.cells = vec![Cell::OUTSIDE; (columns * rows) as usize];
        let everything: Vec<u32> = (0..edges.len() as u32).collect();
        self.fill_block(edges, &everything, [0, 0], [self.columns, self.rows]);
    }

    /// Splits a block of cells in four until it is one cell, keeping the edges that may be nearest to some point of it.
    fn fill_block(&mut self, edges: &[Edge], candidates: &[u32], from: [u32; 2], to: [u32; 2]) {
        let corner =
            |cell: [u32; 2]| [0, 1].map(|axis| self.low[axis] + f64::from(cell[axis]) / self.cells_per_unit[axis]);
        let (a, b) = (corner(from), corner(to));
        let centre = [(a[0] + b[0]) / 2.0, (a[1] + b[1]) / 2.0];
        let radius = ((b[0] - a[0]).powi(2) + (b[1] - a[1]).powi(2)).sqrt() / 2.0;
        let squares: Vec<f64> = candidates.iter().map(|&k| edges[k as usize].squared_distance(centre)).collect();
        let nearest = squares.iter().copied().fold(f64::INFINITY, f64::min).sqrt();
        let reach = (nearest + 2.0 * radius * (1.0 + 1e-9)).powi(2);
        let kept: Vec<u32> = candidates.iter().zip(&squares).filter(|(_, d)| **d <= reach).map(|(&k, _)| k).collect();
        let crossed = nearest <= radius;
        let inside = crossed || is_inside(edges, &kept, centre);
        if !inside {
            // No point of the block overlaps: its cells stay empty.
            return;
        }
        let [width, height] = [to[0] - from[0], to[1] - from[1]];
        if width == 1 && height == 1 {
            self.cells[(from[1] * self.columns + from[0]) as usize] = if crossed {
                self.cell_of(&kept, false)
            } else {
                self.cell_of(&nearest_somewhere(edges, &kept, a, b), true)
            };
            return;
        }
        let middle = [from[0] + width.div_ceil(2), from[1] + height.div_ceil(2)];
        for (x0, x1) in [(from[0], middle[0]), (middle[0], to[0])] {
            for (y0, y1) in [(from[1], middle[1]), (middle[1], to[1])] {
                if x0 < x1 && y0 < y1 {
                    self.fill_block(edges, &kept, [x0, y0], [x1, y1]);
                }
            }
        }
    }

    /// A cell with these candidates, which are noted.
    fn cell_of(&mut self, candidates: &[u32], all_inside: bool) -> Cell {
        if let [only] = candidates {
            return Cell::new(if all_inside { Cell::INSIDE } else { Cell::CROSSED }, *only as usize);
        }
        let start = self.candidates.len();
        self.candidates.extend([candidates.len() as u32, u32::from(all_inside)]);
        self.candidates.extend(candidates);
        Cell::new(Cell::SEVERAL, start)
    }

    #[inline(always)]
    fn cell(&self, t: [f64; 2]) -> Cell {
        let along = (t[0] - self.low[0]) * self.cells_per_unit[0];
        let across = (t[1] - self.low[1]) * self.cells_per_unit[1];
        if along > 0.0 && along < f64::from(self.columns) && across > 0.0 && across < f64::from(self.rows) {
            self.cells[(across as u32 * self.columns + along as u32) as usize]
        } else {
            Cell::OUTSIDE
        }
    }

    /// The candidates of a cell that has several, and whether all of it is inside.
    fn several(&self, cell: Cell) -> (&[u32], bool) {
        let start = cell.number();
        let count = self.candidates[start] as usize;
        (&self.candidates[start + 2..start + 2 + count], self.candidates[start + 1] == 1)
    }

    /// Depth at a displacement of the second shape against the first.
    #[inline]
    pub fn depth(&self, t: [f64; 2]) -> f64 {
        self.depth_at(&self.spot(t))
    }

    /// Looks a displacement up in the index.
    #[inline(always)]
    pub fn spot(&self, t: [f64; 2]) -> Spot {
        Spot { t, cell: self.cell(t) }
    }

    /// Depth at a displacement that was looked up here.
    #[inline(always)]
    pub fn depth_at(&self, spot: &Spot) -> f64 {
        let Spot { t, cell } = *spot;
        let what = cell.what();
        if what == Cell::SEVERAL {
            return self.depth_of_several(cell, t);
        }
        // Outside is no branch of its own: it is met so often and so irregularly that to reckon for nothing costs less.
        let Some(edge) = self.edges.get(cell.number()) else { return 0.0 };
        let (share, off) = edge.foot(t);
        let inside = (what == Cell::INSIDE) | ((what == Cell::CROSSED) & (edge.side(t, share, off) > 0.0));
        let depth = (off[0] * off[0] + off[1] * off[1]).sqrt();
        if inside { depth } else { 0.0 }
    }

    #[inline(never)]
    fn depth_of_several(&self, cell: Cell, t: [f64; 2]) -> f64 {
        let (run, all_inside) = self.several(cell);
        if all_inside {
            let distances = run.iter().map(|&k| self.edges[k as usize].squared_distance(t));
            return distances.fold(f64::INFINITY, f64::min).sqrt();
        }
        let mut best = f64::INFINITY;
        let mut inside = 0.0;
        for &k in run {
            let edge = &self.edges[k as usize];
            let (share, off) = edge.foot(t);
            let squared = off[0] * off[0] + off[1] * off[1];
            let side = edge.side(t, share, off);
            inside = if squared < best { side } else { inside };
            best = best.min(squared);
        }
        if inside > 0.0 { best.sqrt() } else { 0.0 }
    }

    /// The shortest push that parts the two shapes; `None` where they do not overlap.
    pub fn way_out(&self, t: [f64; 2]) -> Option<WayOut> {
        let cell = self.cell(t);
        let only = cell.number() as u32;
        let (run, all_inside) = match cell.what() {
            Cell::SEVERAL => self.several(cell),
            Cell::INSIDE => (std::slice::from_ref(&only), true),
            Cell::CROSSED => (std::slice::from_ref(&only), false),
            _ => return None,
        };
        let nearest =
            run.iter().map(|&k| (self.edges[k as usize].squared_distance(t), k)).min_by(|a, b| a.0.total_cmp(&b.0));
        let (squared, nearest) = nearest?;
        let edge = &self.edges[nearest as usize];
        let (share, push) = edge.foot(t);
        let inside = all_inside || edge.side(t, share, push) > 0.0;
        inside.then_some(WayOut { depth: squared.sqrt(), push })
    }

    /// A displacement at which the two shapes touch: on the edge that a share of all edges points to, at a share of it.
    pub fn touching(&self, which: f64, share: f64) -> [f64; 2] {
        let edge = &self.edges[((which * self.edges.len() as f64) as usize).min(self.edges.len() - 1)];
        [0, 1].map(|axis| edge.from[axis] + share * edge.along[axis])
    }

    /// How far the second shape can be moved along an axis, from a displacement without overlap, before it meets the
    /// first; infinite where it never does. An overlap of up to `touch` is none.
    pub fn free_run(&self, t: [f64; 2], towards: Towards, touch: f64) -> f64 {
        let Towards { axis, ahead } = towards;
        let other = 1 - axis;
        let line = t[other];
        if line <= self.low[other] + touch || line >= self.high[other] - touch {
            // The line only grazes.
            return f64::INFINITY;
        }
        // The inside lies to the left of an edge: one that runs upwards is entered towards smaller x.
        let enters_upwards = (axis == 0) != ahead;
        let entry = |edge: &Edge| {
            let (start, end) = (edge.from[other], edge.from[other] + edge.along[other]);
            let crosses = if enters_upwards { start <= line && line < end } else { end <= line && line < start };
            let at = edge.from[axis] + (line - start) / edge.along[other] * edge.along[axis];
            let run = if ahead { at - t[axis] } else { t[axis] - at };
            (crosses && run >= -touch).then_some(run.max(0.0))
        };
        self.edges.iter().filter_map(entry).fold(f64::INFINITY, f64::min)
    }

    /// Half planes, each with `t` on its free side, that together keep every displacement within `reach` of `t` along
    /// both axes free of overlap. From the nearest edge outwards: each cuts off the boundary beyond it, until nothing of
    /// the boundary is left. A `t` that lies a little inside is taken to lie on the boundary, and may stay.
    pub fn free_region(&self, t: [f64; 2], reach: f64, touch: f64) -> Vec<HalfPlane> {
        let beside = |axis: usize| t[axis] < self.low[axis] - reach || t[axis] > self.high[axis] + reach;
        if beside(0) || beside(1) {
            return Vec::new();
        }
        let walls = [([1.0, 0.0], t[0]), ([-1.0, 0.0], -t[0]), ([0.0, 1.0], t[1]), ([0.0, -1.0], -t[1])];
        let window = walls.map(|(normal, at)| HalfPlane { normal, offset: at - reach });
        let within = |edge: &Edge| {
            let whole = [edge.from, [edge.from[0] + edge.along[0], edge.from[1] + edge.along[1]]];
            let part = window.iter().try_fold(whole, |part, wall| wall.part_ahead(part, 0.0))?;
            Some((part, edge.along))
        };
        let mut boundary: Vec<([[f64; 2]; 2], [f64; 2])> = self.edges.iter().filter_map(within).collect();
        let mut region = Vec::new();
        let distance = |part: [[f64; 2]; 2]| {
            let near = nearest_of(part, t);
            (near[0] - t[0]).hypot(near[1] - t[1])
        };
        // From inside, the way away from the nearest edge leads further in.
        let on_edge = touch.max(1.01 * self.depth(t));
        while let Some(&(part, along)) = boundary.iter().min_by(|a, b| distance(a.0).total_cmp(&distance(b.0))) {
            let near = nearest_of(part, t);
            let away = [t[0] - near[0], t[1] - near[1]];
            let (apart, length) = (away[0].hypot(away[1]), along[0].hypot(along[1]));
            // The free side of an edge is on its right.
            let normal =
                if apart > on_edge { away.map(|c| c / apart) } else { [along[1] / length, -along[0] / length] };
            let offset = normal[0] * near[0] + normal[1] * near[1];
            let plane = HalfPlane { normal, offset };
            boundary = boundary
                .into_iter()
                .filter_map(|(part, along)| Some((plane.part_ahead(part, touch)?, along)))
                .collect();
            // Where it lies now is allowed, whatever rounding says.
            region.push(HalfPlane { offset: offset + plane.ahead(t).min(0.0), normal });
        }
        region
    }
}

/// A side of a line: the points `t` with `normal · t ≥ offset`.
#[derive(Clone, Copy, Debug)]
pub struct HalfPlane {
    /// Of length one, away from the overlap.
    pub normal: [f64; 2],
    /// Where the line lies.
    pub offset: f64,
}

impl HalfPlane {
    /// How far a point lies on the free side of the line.
    fn ahead(&self, t: [f64; 2]) -> f64 {
        self.normal[0] * t[0] + self.normal[1] * t[1] - self.offset
    }

    /// The part of a stretch that lies on the free side by more than `touch`.
    fn part_ahead(&self, [a, b]: [[f64; 2]; 2], touch: f64) -> Option<[[f64; 2]; 2]> {
        let (from, to) = (self.ahead(a) - touch, self.ahead(b) - touch);
        if from <= 0.0 && to <= 0.0 {
            return None;
        }
        let share = from / (from - to);
        let between = [0, 1].map(|axis| a[axis] + share * (b[axis] - a[axis]));
        Some(match (from > 0.0, to > 0.0) {
            (true, false) => [a, between],
            (false, true) => [between, b],
            _ => [a, b],
        })
    }
}

/// The nearest point of a stretch.
fn nearest_of([a, b]: [[f64; 2]; 2], t: [f64; 2]) -> [f64; 2] {
    let along = [b[0] - a[0], b[1] - a[1]];
    let squared = along[0] * along[0] + along[1] * along[1];
    let share = ((t[0] - a[0]) * along[0] + (t[1] - a[1]) * along[1]) / squared.max(f64::MIN_POSITIVE);
    let share = share.clamp(0.0, 1.0);
    [a[0] + share * along[0], a[1] + share * along[1]]
}

/// Whether a point lies inside, by the nearest of some edges.
fn is_inside(edges: &[Edge], candidates: &[u32], t: [f64; 2]) -> bool {
    let nearest = candidates.iter().min_by(|a, b| {
        let [a, b] = [a, b].map(|&&k| edges[k as usize].squared_distance(t));
        a.total_cmp(&b)
    });
    nearest.is_some_and(|&k| {
        let edge = &edges[k as usize];
        let (share, off) = edge.foot(t);
        edge.side(t, share, off) > 0.0
    })
}

/// Those of some edges that are nearest to one of nine points of a cell: its corners, the middles of its sides, its centre.
fn nearest_somewhere(edges: &[Edge], candidates: &[u32], from: [f64; 2], to: [f64; 2]) -> Vec<u32> {
    let mut found = Vec::new();
    for (x, y) in [0.0, 0.5, 1.0].into_iter().flat_map(|x| [0.0, 0.5, 1.0].map(|y| (x, y))) {
        let t = [from[0] + x * (to[0] - from[0]), from[1] + y * (to[1] - from[1])];
        let distance = |k: u32| edges[k as usize].squared_distance(t);
        let nearest = candidates.iter().copied().min_by(|&a, &b| distance(a).total_cmp(&distance(b)));
        found.extend(nearest.filter(|k| !found.contains(k)));
    }
    found
}

/// The way inwards at a corner of a ring, whose inside is on its left.
fn inwards_at(before: [i32; 2], here: [i32; 2], after: [i32; 2]) -> [f32; 2] {
    let direction = |from: [i32; 2], to: [i32; 2]| {
        let [x, y] = [0, 1].map(|axis| f64::from(to[axis]) - f64::from(from[axis]));
        let length = x.hypot(y).max(f64::MIN_POSITIVE);
        [x / length, y / length]
    };
    let (to_here, from_here) = (direction(before, here), direction(here, after));
    let between_normals = [-to_here[1] - from_here[1], to_here[0] + from_here[0]];
    if between_normals[0].hypot(between_normals[1]) > 1e-6 {
        return between_normals.map(|c| c as f32);
    }
    // The normals cancel out: inwards is back along a needle, and on from the end of a slit.
    let is_slit = to_here[0] * from_here[1] < to_here[1] * from_here[0];
    let on = if is_slit { 1.0 } else { -1.0 };
    to_here.map(|c| (on * c) as f32)
}

fn ring_edges(ring: &[[i32; 2]], unit: f64) -> Vec<Edge> {
    let n = ring.len();
    let inwards: Vec<[f32; 2]> =
        (0..n).map(|k| inwards_at(ring[(k + n - 1) % n], ring[k], ring[(k + 1) % n])).collect();
    (0..n)
        .filter_map(|k| {
            let next = (k + 1) % n;
            let from = ring[k].map(|c| f64::from(c) * unit);
            let to = ring[next].map(|c| f64::from(c) * unit);
            let along = [to[0] - from[0], to[1] - from[1]];
            let squared = along[0] * along[0] + along[1] * along[1];
            (squared > 0.0).then(|| Edge {
                from,
                along,
                inverse_length_squared: 1.0 / squared,
                inwards: [inwards[k], inwards[next]],
            })
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn l_shape() -> NoFit {
        NoFit::new(&vec![vec![[0, 0], [30, 0], [30, 10], [10, 10], [10, 30], [0, 30]]], 1.0, 4096)
    }

    #[test]
    fn depth_is_the_distance_to_the_nearest_edge() {
        let no_fit = l_shape();
        assert_eq!(no_fit.depth([5.0, 20.0]), 5.0);
        assert_eq!(no_fit.depth([25.0, 4.0]), 4.0);
        assert!((no_fit.depth([7.0, 7.0]) - 18f64.sqrt()).abs() < 1e-12);
        assert_eq!(no_fit.depth([20.0, 20.0]), 0.0);
        assert_eq!(no_fit.depth([10.0, 20.0]), 0.0);
        assert_eq!(no_fit.depth([-1.0, 5.0]), 0.0);
    }

    #[test]
    fn moving_along_an_axis_ends_where_the_shapes_meet() {
        let no_fit = l_shape();
        let back = |t: [f64; 2]| no_fit.free_run(t, Towards { axis: 0, ahead: false }, 1e-6);
        assert_eq!(back([50.0, 5.0]), 20.0);
        assert_eq!(back([50.0, 20.0]), 40.0);
        assert_eq!(back([30.0, 5.0]), 0.0);
        assert_eq!(back([50.0, 30.0]), f64::INFINITY);
        assert_eq!(back([-5.0, 5.0]), f64::INFINITY);
        let ahead = |t: [f64; 2]| no_fit.free_run(t, Towards { axis: 0, ahead: true }, 1e-6);
        assert_eq!((ahead([-7.0, 5.0]), ahead([15.0, 20.0])), (7.0, f64::INFINITY));
        let down = |t: [f64; 2]| no_fit.free_run(t, Towards { axis: 1, ahead: false }, 1e-6);
        assert_eq!((down([5.0, 50.0]), down([20.0, 50.0]), down([5.0, -1.0])), (20.0, 40.0, f64::INFINITY));
        let up = |t: [f64; 2]| no_fit.free_run(t, Towards { axis: 1, ahead: true }, 1e-6);
        assert_eq!((up([20.0, -3.0]), up([20.0, 12.0])), (3.0, f64::INFINITY));
    }

    #[test]
    fn the_way_out_ends_the_overlap() {
        let no_fit = l_shape();
        for t in [[5.0, 20.0], [25.0, 4.0], [7.0, 7.5], [1.0, 1.5]] {
            let out = no_fit.way_out(t).expect("inside");
            let after = [t[0] + out.push[0] * 1.000_001, t[1] + out.push[1] * 1.000_001];
            assert_eq!(no_fit.depth(after), 0.0, "from {t:?}");
        }
    }

    #[test]
    fn the_index_agrees_with_a_look_at_every_edge() {
        let ring: Vec<[i32; 2]> = (0..24)
            .map(|k| {
                let radius = if k % 2 == 0 { 1000.0 } else { 420.0 };
                let (sin, cos) = crate::shape::sin_cos_degrees(15.0 * f64::from(k));
                [(radius * cos).round() as i32, (radius * sin).round() as i32]
            })
            .collect();
        let edges = ring_edges(&ring, 0.5);
        let all: Vec<u32> = (0..edges.len() as u32).collect();
        for most_cells in [64, 4096] {
            let no_fit = NoFit::new(&vec![ring.clone()], 0.5, most_cells);
            // Deep inside, an edge that is nearest only between the points of a cell that are looked at may be left out.
            let spacing = 0.5 / no_fit.cells_per_unit[0].min(no_fit.cells_per_unit[1]);
            for (i, j) in (-25..25).flat_map(|i| (-25..25).map(move |j| (i, j))) {
                let t = [f64::from(i) * 20.3, f64::from(j) * 20.7];
                let nearest = edges.iter().map(|e| e.squared_distance(t)).fold(f64::INFINITY, f64::min).sqrt();
                let expected = if is_inside(&edges, &all, t) { nearest } else { 0.0 };
                let depth = no_fit.depth(t);
                assert_eq!(depth > 0.0, expected > 0.0, "at {t:?}");
                let cell = no_fit.cell(t);
                let all_inside = match cell.what() {
                    Cell::SEVERAL => no_fit.several(cell).1,
                    what => what == Cell::INSIDE,
                };
                let slack = if all_inside { spacing } else { 0.0 };
                assert!(depth > expected - 1e-9 && depth < expected + slack + 1e-9, "at {t:?}: {depth} and {expected}");
            }
        }
    }
}
