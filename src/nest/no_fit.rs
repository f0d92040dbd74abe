//! How deep one shape lies in another: a no-fit polygon with an index that answers in a few nanoseconds.
//!
//! The depth at a displacement `t` is the distance from `t` to the boundary of the no-fit polygon where `t` lies
//! inside, and zero elsewhere: the shortest push that parts the two shapes (penetration depth, as Imamichi, Yagiura and
//! Nagamochi use it in "An iterated local search algorithm based on nonlinear programming for the irregular strip
//! packing problem", 2009). It is exact everywhere; the index only leaves out edges that cannot be nearest.

use super::minkowski::GridRings;

/// Depth of one shape in another as a function of their displacement.
#[derive(Debug)]
pub struct NoFit {
    low: [f64; 2],
    high: [f64; 2],
    cells_per_unit: [f64; 2],
    columns: usize,
    rows: usize,
    cells: Vec<Cell>,
    edges: Vec<Edge>,
    /// Indices into the edges, cell by cell.
    candidates: Vec<u32>,
}

/// What is known of one cell of the index: the run of candidates that may be nearest, and whether all of it is inside.
#[derive(Clone, Copy, Debug)]
struct Cell {
    first: u32,
    count: u32,
    all_inside: bool,
}

/// An edge of the no-fit polygon; the inside lies to its left.
#[derive(Clone, Copy, Debug)]
struct Edge {
    from: [f64; 2],
    along: [f64; 2],
    inverse_length_squared: f64,
    from_convex: bool,
    to_convex: bool,
}

/// The nearest way out.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WayOut {
    /// Distance.
    pub depth: f64,
    /// The push on the second shape that parts the two.
    pub push: [f64; 2],
}

impl Edge {
    /// Squared distance of a point, the nearest point, and whether the point lies on the inner side there.
    #[inline]
    fn nearest(&self, t: [f64; 2]) -> (f64, [f64; 2], bool) {
        let rel = [t[0] - self.from[0], t[1] - self.from[1]];
        let share = (rel[0] * self.along[0] + rel[1] * self.along[1]) * self.inverse_length_squared;
        let clamped = share.clamp(0.0, 1.0);
        let off = [clamped * self.along[0] - rel[0], clamped * self.along[1] - rel[1]];
        let inside = if share < 0.0 {
            !self.from_convex
        } else if share > 1.0 {
            !self.to_convex
        } else {
            self.along[0] * rel[1] - self.along[1] * rel[0] > 0.0
        };
        (off[0] * off[0] + off[1] * off[1], off, inside)
    }
}

impl NoFit {
    /// Builds the index; `unit` is the length of one step of the grid.
    pub fn new(rings: &GridRings, unit: f64) -> Self {
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
        no_fit.fill_index(&edges);
        no_fit.edges = edges;
        no_fit.candidates.shrink_to_fit();
        no_fit
    }

    fn fill_index(&mut self, edges: &[Edge]) {
        let size = [self.high[0] - self.low[0], self.high[1] - self.low[1]];
        // About four cells an edge, as square as the box permits.
        let wanted = (4 * edges.len()).clamp(16, 4096) as f64;
        let side = (size[0] * size[1] / wanted).sqrt();
        self.columns = ((size[0] / side).ceil() as usize).clamp(1, 512);
        self.rows = ((size[1] / side).ceil() as usize).clamp(1, 512);
        self.cells_per_unit = [self.columns as f64 / size[0], self.rows as f64 / size[1]];
        self.cells = vec![Cell { first: 0, count: 0, all_inside: false }; self.columns * self.rows];
        let everything: Vec<u32> = (0..edges.len() as u32).collect();
        self.fill_block(edges, &everything, [0, 0], [self.columns, self.rows]);
    }

    /// Splits a block of cells in four until it is one cell, keeping the edges that may be nearest to some point of it.
    fn fill_block(&mut self, edges: &[Edge], candidates: &[u32], from: [usize; 2], to: [usize; 2]) {
        let corner =
            |cell: [usize; 2]| [0, 1].map(|axis| self.low[axis] + cell[axis] as f64 / self.cells_per_unit[axis]);
        let (a, b) = (corner(from), corner(to));
        let centre = [(a[0] + b[0]) / 2.0, (a[1] + b[1]) / 2.0];
        let radius = ((b[0] - a[0]).powi(2) + (b[1] - a[1]).powi(2)).sqrt() / 2.0;
        let distances: Vec<f64> = candidates.iter().map(|&k| edges[k as usize].nearest(centre).0.sqrt()).collect();
        let nearest = distances.iter().copied().fold(f64::INFINITY, f64::min);
        let reach = nearest + 2.0 * radius * (1.0 + 1e-9);
        let kept: Vec<u32> = candidates.iter().zip(&distances).filter(|(_, d)| **d <= reach).map(|(&k, _)| k).collect();
        let crossed = nearest <= radius;
        let inside = crossed || inside_by_nearest(edges, &kept, centre);
        if !inside {
            // No point of the block overlaps: its cells stay empty.
            return;
        }
        let [width, height] = [to[0] - from[0], to[1] - from[1]];
        if width == 1 && height == 1 {
            let first = self.candidates.len() as u32;
            self.candidates.extend(&kept);
            let count = kept.len() as u32;
            self.cells[from[1] * self.columns + from[0]] = Cell { first, count, all_inside: !crossed };
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

    #[inline]
    fn cell(&self, t: [f64; 2]) -> Option<&Cell> {
        if t[0] <= self.low[0] || t[0] >= self.high[0] || t[1] <= self.low[1] || t[1] >= self.high[1] {
            return None;
        }
        let column = (((t[0] - self.low[0]) * self.cells_per_unit[0]) as usize).min(self.columns - 1);
        let row = (((t[1] - self.low[1]) * self.cells_per_unit[1]) as usize).min(self.rows - 1);
        self.cells.get(row * self.columns + column).filter(|cell| cell.count > 0)
    }

    /// Depth at a displacement of the second shape against the first.
    #[inline]
    pub fn depth(&self, t: [f64; 2]) -> f64 {
        match self.nearest(t) {
            Some((squared, _)) => squared.sqrt(),
            None => 0.0,
        }
    }

    /// The shortest push that parts the two shapes; `None` where they do not overlap.
    pub fn way_out(&self, t: [f64; 2]) -> Option<WayOut> {
        self.nearest(t).map(|(squared, push)| WayOut { depth: squared.sqrt(), push })
    }

    /// How far the second shape can be moved towards smaller x, from a displacement without overlap, before it meets the
    /// first; infinite where it never does. An overlap of up to `touch` is none.
    pub fn free_run_back(&self, t: [f64; 2], touch: f64) -> f64 {
        // The inside lies to the left of an edge that runs upwards.
        let entries = self.crossings(t[1], touch).filter(|(x, upwards)| *upwards && *x <= t[0] + touch);
        (t[0] - entries.map(|(x, _)| x).fold(f64::NEG_INFINITY, f64::max)).max(0.0)
    }

    /// The same towards larger x.
    pub fn free_run_ahead(&self, t: [f64; 2], touch: f64) -> f64 {
        let entries = self.crossings(t[1], touch).filter(|(x, upwards)| !*upwards && *x >= t[0] - touch);
        (entries.map(|(x, _)| x).fold(f64::INFINITY, f64::min) - t[0]).max(0.0)
    }

    /// Where edges cross a line of equal y, and whether they run upwards there; none if the line only grazes.
    fn crossings(&self, y: f64, touch: f64) -> impl Iterator<Item = (f64, bool)> {
        let grazes = y <= self.low[1] + touch || y >= self.high[1] - touch;
        let edges = if grazes { &[] } else { self.edges.as_slice() };
        edges.iter().filter_map(move |edge| {
            let (start, end) = (edge.from[1], edge.from[1] + edge.along[1]);
            let upwards = start <= y && y < end;
            let downwards = end <= y && y < start;
            let x = edge.from[0] + (y - start) / edge.along[1] * edge.along[0];
            (upwards || downwards).then_some((x, upwards))
        })
    }

    #[inline]
    fn nearest(&self, t: [f64; 2]) -> Option<(f64, [f64; 2])> {
        let cell = self.cell(t)?;
        let first = cell.first as usize;
        let mut best = (f64::INFINITY, [0.0; 2]);
        let mut inside = true;
        for &candidate in &self.candidates[first..first + cell.count as usize] {
            let (squared, push, inner) = self.edges[candidate as usize].nearest(t);
            if squared < best.0 {
                best = (squared, push);
                inside = inner;
            }
        }
        (cell.all_inside || inside).then_some(best)
    }
}

fn inside_by_nearest(edges: &[Edge], candidates: &[u32], t: [f64; 2]) -> bool {
    let mut best = f64::INFINITY;
    let mut inside = false;
    for &k in candidates {
        let (squared, _, inner) = edges[k as usize].nearest(t);
        if squared < best {
            best = squared;
            inside = inner;
        }
    }
    inside
}

fn ring_edges(ring: &[[i32; 2]], unit: f64) -> Vec<Edge> {
    let n = ring.len();
    let convex: Vec<bool> = (0..n)
        .map(|k| {
            let [before, here, after] = [ring[(k + n - 1) % n], ring[k], ring[(k + 1) % n]];
            let u = [i64::from(here[0] - before[0]), i64::from(here[1] - before[1])];
            let v = [i64::from(after[0] - here[0]), i64::from(after[1] - here[1])];
            u[0] * v[1] - u[1] * v[0] >= 0
        })
        .collect();
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
                from_convex: convex[k],
                to_convex: convex[next],
            })
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn l_shape() -> NoFit {
        NoFit::new(&vec![vec![[0, 0], [30, 0], [30, 10], [10, 10], [10, 30], [0, 30]]], 1.0)
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
    fn moving_back_ends_where_the_shapes_meet() {
        let no_fit = l_shape();
        assert_eq!(no_fit.free_run_back([50.0, 5.0], 1e-6), 20.0);
        assert_eq!(no_fit.free_run_back([50.0, 20.0], 1e-6), 40.0);
        assert_eq!(no_fit.free_run_back([30.0, 5.0], 1e-6), 0.0);
        assert_eq!(no_fit.free_run_back([50.0, 30.0], 1e-6), f64::INFINITY);
        assert_eq!(no_fit.free_run_back([-5.0, 5.0], 1e-6), f64::INFINITY);
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
        let no_fit = NoFit::new(&vec![ring.clone()], 0.5);
        let edges = ring_edges(&ring, 0.5);
        let all: Vec<u32> = (0..edges.len() as u32).collect();
        for i in -25..25 {
            for j in -25..25 {
                let t = [f64::from(i) * 20.3, f64::from(j) * 20.7];
                let nearest = edges.iter().map(|e| e.nearest(t).0).fold(f64::INFINITY, f64::min).sqrt();
                let expected = if inside_by_nearest(&edges, &all, t) { nearest } else { 0.0 };
                assert!((no_fit.depth(t) - expected).abs() < 1e-9, "at {t:?}");
            }
        }
    }
}
