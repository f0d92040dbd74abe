//! The index of a no-fit polygon: a raster whose cells know what of the boundary is nearest to them.

use rustc_hash::FxHashMap;

use super::edge::{Edge, is_inside};
use super::wedge::{CellBox, Wedge, exact_bounds, near_bounds};
use crate::nest::vector::length;

/// Cells of the index for each edge, where there is room for so many.
const CELLS_PER_EDGE: usize = 32;
/// How far the raster reaches beyond the edges, as a share of their box.
const MARGIN: f64 = 1e-5;

/// A raster over a no-fit polygon.
#[derive(Debug)]
pub(super) struct Index {
    cells_per_unit: [f64; 2],
    /// Where the origin lies in the raster, and its last column and row.
    origin: [f64; 2],
    last: [f64; 2],
    stride: u32,
    /// Row by row, with a border of cells that are outside.
    cells: Vec<Cell>,
    wedges: Vec<Wedge>,
    /// The edges that bound each wedge.
    bounds: Vec<[u32; 2]>,
    /// For cells that are no wedge: the number of candidates, whether all of the cell is inside (1 or 0), and the indices of
    /// the candidates.
    lists: Vec<u32>,
}

/// What is known of one cell: one bit that tells whether it is a wedge or a list of candidates, and which. It is small so
/// that the indices of all pairs stay near at hand.
#[derive(Clone, Copy, Debug)]
pub(super) struct Cell(u32);

impl Cell {
    /// Nothing of the cell is inside: the first wedge is empty.
    const OUTSIDE: Self = Self(0);

    fn wedge(number: usize) -> Self {
        debug_assert!(number < 1 << 31, "there are not so many wedges");
        Self((number as u32) << 1)
    }

    fn list(start: usize) -> Self {
        debug_assert!(start < 1 << 31, "there are not so many candidates");
        Self((start as u32) << 1 | 1)
    }

    #[inline(always)]
    pub(super) fn is_list(self) -> bool {
        self.0 & 1 == 1
    }

    #[inline(always)]
    fn number(self) -> usize {
        (self.0 >> 1) as usize
    }
}

impl Index {
    /// The index of some edges that reach from `low` to `high`, of at most so many cells.
    pub(super) fn new(edges: &[Edge], low: [f64; 2], high: [f64; 2], most_cells: usize) -> Self {
        // What touches an outermost edge from outside lies in the raster too.
        let margin = [0, 1].map(|axis| MARGIN * (high[axis] - low[axis]));
        let low = [0, 1].map(|axis| low[axis] - margin[axis]);
        let high = [0, 1].map(|axis| high[axis] + margin[axis]);
        let size = [high[0] - low[0], high[1] - low[1]];
        // As square as the box permits.
        let wanted = (CELLS_PER_EDGE * edges.len()).clamp(16, most_cells) as f64;
        let side = (size[0] * size[1] / wanted).sqrt();
        let counts = size.map(|size| ((size / side).ceil() as u32).clamp(1, 512));
        let cells_per_unit = [0, 1].map(|axis| f64::from(counts[axis]) / size[axis]);
        let [columns, rows] = counts.map(|count| count + 2);
        let index = Self {
            cells_per_unit,
            // The first cell, of which the middle is a whole number, is that of the border.
            origin: [0, 1].map(|axis| 0.5 - low[axis] * cells_per_unit[axis]),
            last: [f64::from(columns - 1), f64::from(rows - 1)],
            stride: columns,
            cells: vec![Cell::OUTSIDE; (columns * rows) as usize],
            wedges: vec![Wedge::EMPTY],
            bounds: vec![[0; 2]],
            lists: Vec::new(),
        };
        let mut filling = Filling { index, edges, low, wedges: FxHashMap::default(), lists: FxHashMap::default() };
        let everything: Vec<u32> = (0..edges.len() as u32).collect();
        filling.fill(&everything, [0, 0], counts);
        let mut index = filling.index;
        index.lists.shrink_to_fit();
        index.wedges.shrink_to_fit();
        index.bounds.shrink_to_fit();
        index
    }

    /// The cell of a point.
    #[inline(always)]
    pub(super) fn cell(&self, t: [f64; 2]) -> Cell {
        // Without a branch, which is taken so irregularly that it costs more: what is beside the raster meets its border.
        let along = |axis: usize| {
            nearest_whole((t[axis] * self.cells_per_unit[axis] + self.origin[axis]).max(0.0).min(self.last[axis]))
        };
        let (column, row) = (along(0), along(1));
        self.cells.get((row * self.stride + column) as usize).copied().unwrap_or(Cell::OUTSIDE)
    }

    /// The inside as it is to a cell that is no list.
    #[inline(always)]
    pub(super) fn wedge(&self, cell: Cell) -> &Wedge {
        &self.wedges[cell.number()]
    }

    /// The candidates of a cell that is a list, and whether all of it is inside.
    pub(super) fn list(&self, cell: Cell) -> (&[u32], bool) {
        let start = cell.number();
        let count = self.lists[start] as usize;
        (&self.lists[start + 2..start + 2 + count], self.lists[start + 1] == 1)
    }

    /// The edges that bound the wedge of a cell that is no list.
    pub(super) fn bounds(&self, cell: Cell) -> &[u32] {
        &self.bounds[cell.number()]
    }

    #[cfg(test)]
    pub(super) fn sides(&self) -> [f64; 2] {
        self.cells_per_unit.map(|count| 1.0 / count)
    }
}

/// The nearest whole number of one that is neither below zero nor great, without a conversion that asks for these.
#[inline(always)]
fn nearest_whole(number: f64) -> u32 {
    /// From here to the next power of two the doubles are the whole numbers.
    const WHOLE: f64 = (1u64 << 52) as f64;
    (number + WHOLE).to_bits() as u32
}

/// An index that is being filled, and what is noted in it already: cells in a row mostly have the same.
struct Filling<'a> {
    index: Index,
    edges: &'a [Edge],
    low: [f64; 2],
    wedges: FxHashMap<[u32; 2], Cell>,
    lists: FxHashMap<(Vec<u32>, bool), Cell>,
}

impl Filling<'_> {
    /// Splits a block of cells in four until it is one cell, keeping the edges that may be nearest to some point of it.
    fn fill(&mut self, candidates: &[u32], from: [u32; 2], to: [u32; 2]) {
        let block = self.block(from, to);
        let centre = [0, 1].map(|axis| (block.low[axis] + block.high[axis]) / 2.0);
        let radius = length([0, 1].map(|axis| block.high[axis] - block.low[axis])) / 2.0;
        let squares: Vec<f64> = candidates.iter().map(|&k| self.edges[k as usize].squared_distance(centre)).collect();
        let nearest = squares.iter().copied().fold(f64::INFINITY, f64::min).sqrt();
        let reach = (nearest + 2.0 * radius * (1.0 + 1e-9)).powi(2);
        let kept: Vec<u32> = candidates.iter().zip(&squares).filter(|(_, d)| **d <= reach).map(|(&k, _)| k).collect();
        let crossed = nearest <= radius;
        if !crossed && !is_inside(self.edges, &kept, centre) {
            // No point of the block overlaps: its cells stay empty.
            return;
        }
        let [width, height] = [to[0] - from[0], to[1] - from[1]];
        if width == 1 && height == 1 {
            let cell = if crossed { self.crossed(&kept, &block) } else { self.inside(&kept, &block) };
            self.index.cells[((from[1] + 1) * self.index.stride + from[0] + 1) as usize] = cell;
            return;
        }
        let middle = [from[0] + width.div_ceil(2), from[1] + height.div_ceil(2)];
        for (x0, x1) in [(from[0], middle[0]), (middle[0], to[0])] {
            for (y0, y1) in [(from[1], middle[1]), (middle[1], to[1])] {
                if x0 < x1 && y0 < y1 {
                    self.fill(&kept, [x0, y0], [x1, y1]);
                }
            }
        }
    }

    fn block(&self, from: [u32; 2], to: [u32; 2]) -> CellBox {
        let corner = |cell: [u32; 2]| {
            [0, 1].map(|axis| self.low[axis] + f64::from(cell[axis]) / self.index.cells_per_unit[axis])
        };
        CellBox { low: corner(from), high: corner(to) }
    }

    /// A cell that the boundary crosses.
    fn crossed(&mut self, candidates: &[u32], cell: &CellBox) -> Cell {
        match exact_bounds(self.edges, candidates, cell, false) {
            Some(bounds) => self.wedge(bounds),
            None => self.list(candidates, false),
        }
    }

    /// A cell that lies inside.
    fn inside(&mut self, candidates: &[u32], cell: &CellBox) -> Cell {
        let nearest = nearest_somewhere(self.edges, candidates, cell);
        let bounds = exact_bounds(self.edges, &nearest, cell, true);
        match bounds.or_else(|| near_bounds(self.edges, &nearest, cell)) {
            Some(bounds) => self.wedge(bounds),
            None => self.list(&nearest, true),
        }
    }

    fn wedge(&mut self, bounds: [u32; 2]) -> Cell {
        let Index { wedges, bounds: all_bounds, .. } = &mut self.index;
        *self.wedges.entry(bounds).or_insert_with(|| {
            let [a, b] = bounds.map(|k| &self.edges[k as usize]);
            wedges.push(Wedge::between(a, b));
            all_bounds.push(bounds);
            Cell::wedge(wedges.len() - 1)
        })
    }

    fn list(&mut self, candidates: &[u32], all_inside: bool) -> Cell {
        let lists = &mut self.index.lists;
        *self.lists.entry((candidates.to_vec(), all_inside)).or_insert_with(|| {
            let start = lists.len();
            lists.extend([candidates.len() as u32, u32::from(all_inside)]);
            lists.extend(candidates);
            Cell::list(start)
        })
    }
}

/// Those of some edges that are nearest to one of nine places of a cell, in order: of two that are as near the first, as
/// in [`is_inside`].
fn nearest_somewhere(edges: &[Edge], candidates: &[u32], cell: &CellBox) -> Vec<u32> {
    let mut found = Vec::new();
    for t in cell.places() {
        let off = |k: u32| edges[k as usize].squared_distance(t);
        let nearest = candidates.iter().copied().min_by(|&a, &b| off(a).total_cmp(&off(b)));
        found.extend(nearest.filter(|k| !found.contains(k)));
    }
    found.sort_unstable();
    found
}
