//! Cloth as columns of bits: a first valid lay at once, however many pieces there are.
//!
//! Cells that a piece touches, however little, are taken; so two pieces on different cells never overlap. All rows of a
//! column are tried together by shifting words (the bottom-left fill of the packing literature, on a grid as in Sato,
//! Martins, Gomes and Tsuzuki, "Raster penetration map applied to the irregular packing problem", 2019).

use super::minkowski::GridRings;
use super::shapes::Shape;

/// Steps of the shapes' grid by which a shape may reach over the border of a cell and still not touch the next: what
/// rounding moves a point by, less than what counts as an overlap.
const BORDER_STEPS: f64 = 2.0;

/// A grid over cloth.
#[derive(Clone, Debug)]
pub struct Raster {
    /// Lower left corner, in millimetres.
    origin: [f64; 2],
    /// Size of a cell, in millimetres.
    cell: [f64; 2],
    rows: usize,
    words: usize,
    /// Columns after which the cloth ends.
    limit: usize,
    /// Length of a step of the shapes' grid.
    unit: f64,
    /// Cells that pieces touch, gap included.
    taken: Vec<u64>,
    /// Cells that obstacles touch.
    barred: Vec<u64>,
}

/// The cells that a shape touches when the lower left corner of its box lies on a corner of the grid.
#[derive(Clone, Debug)]
pub struct Mask {
    columns: usize,
    rows: usize,
    blocks: Vec<Block>,
    /// The same without the gap; none where there are no obstacles, which is all that they are for.
    bare: Vec<Block>,
}

/// Cells of equal rows in neighbouring columns.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Block {
    columns: [usize; 2],
    rows: [usize; 2],
}

/// A cell of the grid, by column and row.
pub type Spot = [usize; 2];

impl Raster {
    /// A free grid from `low` to `high` across the cloth, starting at `start` along it, with cells of about these sizes
    /// along and across; `length` ends it. `unit` is the step of the grid on which shapes are given.
    pub fn new(start: f64, length: Option<f64>, [low, high]: [f64; 2], sides: [f64; 2], unit: f64) -> Self {
        let whole = |extent: f64, side: f64| (extent / side).round().max(1.0) as usize;
        let rows = whole(high - low, sides[1]);
        let limit = length.map_or(usize::MAX, |length| whole(length, sides[0]));
        let cell = [length.map_or(sides[0], |length| length / limit as f64), (high - low) / rows as f64];
        let words = rows.div_ceil(64);
        Self { origin: [start, low], cell, rows, words, limit, unit, taken: Vec::new(), barred: Vec::new() }
    }

    /// The lower left corner of a cell.
    pub fn corner(&self, spot: Spot) -> [f64; 2] {
        [0, 1].map(|axis| self.origin[axis] + spot[axis] as f64 * self.cell[axis])
    }

    fn in_cells(&self, rings: &GridRings, shift: [f64; 2]) -> Vec<Vec<[f64; 2]>> {
        let place = |p: &[i32; 2]| [0, 1].map(|axis| (f64::from(p[axis]) * self.unit + shift[axis]) / self.cell[axis]);
        rings.iter().map(|ring| ring.iter().map(place).collect()).collect()
    }

    fn border(&self) -> [f64; 2] {
        self.cell.map(|side| BORDER_STEPS * self.unit / side)
    }

    /// The mask of a shape.
    pub fn mask(&self, shape: &Shape) -> Mask {
        let mask = Mask::of(&self.in_cells(&shape.rings, shape.half_with_gap), usize::MAX, self.border());
        let bare = match (&shape.bare, self.barred.is_empty()) {
            (_, true) => Vec::new(),
            (None, false) => mask.blocks.clone(),
            (Some(rings), false) => {
                Mask::of(&self.in_cells(rings, shape.half_with_gap), usize::MAX, self.border()).blocks
            }
        };
        Mask { bare, ..mask }
    }

    /// Bars every cell that an obstacle touches; `at` is the middle of its box.
    pub fn bar(&mut self, rings: &GridRings, at: [f64; 2]) {
        let shift = [at[0] - self.origin[0], at[1] - self.origin[1]];
        let mask = Mask::of(&self.in_cells(rings, shift), self.rows, self.border());
        set(&mut self.barred, self.words, &mask, [0, 0]);
    }

    /// Takes the cells of a mask at a spot.
    pub fn take(&mut self, mask: &Mask, spot: Spot) {
        set(&mut self.taken, self.words, mask, spot);
    }

    /// Takes every cell that a thing which keeps the gap touches; `at` is the middle of its box.
    pub fn take_shape(&mut self, shape: &Shape, at: [f64; 2]) {
        let shift = [at[0] - self.origin[0], at[1] - self.origin[1]];
        let mask = Mask::of(&self.in_cells(&shape.rings, shift), self.rows, self.border());
        self.take(&mask, [0, 0]);
    }

    /// The first spot, by column and then by row, at or after a column, at which the mask meets only free cells.
    pub fn first_free(&self, mask: &Mask, from_column: usize) -> Option<Spot> {
        if mask.rows > self.rows || mask.columns > self.limit {
            return None;
        }
        let mut barred = vec![0; self.words];
        let mut run = vec![0; self.words];
        for column in from_column..=self.limit - mask.columns {
            self.rows_barred(mask, column, &mut barred, &mut run);
            if let Some(row) = first_clear(&barred, self.rows - mask.rows) {
                return Some([column, row]);
            }
        }
        None
    }

    /// Marks the rows at which the mask, put at a column, meets a cell that is not free.
    fn rows_barred(&self, mask: &Mask, column: usize, barred: &mut [u64], run: &mut [u64]) {
        barred.fill(0);
        let top = self.rows - mask.rows;
        let against = [(&mask.blocks, &self.taken), (&mask.bare, &self.barred)];
        for (block, cells) in against.into_iter().flat_map(|(blocks, cells)| blocks.iter().map(move |b| (b, cells))) {
            let first = (column + block.columns[0]) * self.words;
            let last = ((column + block.columns[1]) * self.words).min(cells.len());
            if first >= last {
                continue;
            }
            run.fill(0);
            for taken in cells[first..last].chunks_exact(self.words) {
                for (word, bits) in run.iter_mut().zip(taken) {
                    *word |= bits;
                }
            }
            spread_down(run, block.rows[1] - block.rows[0]);
            or_shifted_down(barred, run, block.rows[0]);
            if first_clear(barred, top).is_none() {
                return;
            }
        }
    }
}

/// Sets the cells of a mask at a spot.
fn set(cells: &mut Vec<u64>, words: usize, mask: &Mask, spot: Spot) {
    let needed = (spot[0] + mask.columns) * words;
    if cells.len() < needed {
        cells.resize(needed, 0);
    }
    for block in &mask.blocks {
        for column in spot[0] + block.columns[0]..spot[0] + block.columns[1] {
            let words = &mut cells[column * words..(column + 1) * words];
            for row in spot[1] + block.rows[0]..spot[1] + block.rows[1] {
                words[row / 64] |= 1 << (row % 64);
            }
        }
    }
}

/// `bits[y]` becomes the or of `bits[y] … bits[y + length − 1]`.
fn spread_down(bits: &mut [u64], length: usize) {
    let mut covered = 1;
    while covered < length {
        let step = covered.min(length - covered);
        let (words, rest) = (step / 64, step % 64);
        for k in 0..bits.len() {
            let low = bits.get(k + words).copied().unwrap_or(0);
            let high = bits.get(k + words + 1).copied().unwrap_or(0);
            bits[k] |= if rest == 0 { low } else { low >> rest | high << (64 - rest) };
        }
        covered += step;
    }
}

/// Ors `bits`, moved down by some rows, into `target`.
fn or_shifted_down(target: &mut [u64], bits: &[u64], by: usize) {
    let (words, rest) = (by / 64, by % 64);
    for (k, word) in target.iter_mut().enumerate() {
        let low = bits.get(k + words).copied().unwrap_or(0);
        let high = bits.get(k + words + 1).copied().unwrap_or(0);
        *word |= if rest == 0 { low } else { low >> rest | high << (64 - rest) };
    }
}

/// The first row, up to `top`, whose bit is not set.
fn first_clear(bits: &[u64], top: usize) -> Option<usize> {
    bits.iter()
        .enumerate()
        .find(|(_, word)| **word != u64::MAX)
        .map(|(k, word)| k * 64 + word.trailing_ones() as usize)
        .filter(|row| *row <= top)
}

impl Mask {
    /// Cells touched by rings given in cells; rows are cut off at `rows`, and everything at zero.
    fn of(rings: &[Vec<[f64; 2]>], rows: usize, border: [f64; 2]) -> Self {
        let width = rings.iter().flatten().fold(0.0, |most: f64, p| most.max(p[0]));
        let columns = (width - border[0]).ceil().max(1.0) as usize;
        let mut runs: Vec<Vec<[f64; 2]>> = vec![Vec::new(); columns];
        let mut crossings: Vec<Vec<f64>> = vec![Vec::new(); columns];
        for ring in rings {
            for (k, &p) in ring.iter().enumerate() {
                let q = ring[(k + 1) % ring.len()];
                let (left, right) = if p[0] <= q[0] { (p, q) } else { (q, p) };
                each_column(left, right, columns, border[0], |column, span, middle| {
                    runs[column].push(span);
                    crossings[column].extend(middle);
                });
            }
        }
        let mut blocks: Vec<Block> = Vec::new();
        let mut height = 0;
        let mut open: Vec<usize> = Vec::new();
        for (column, (mut spans, mut crossed)) in runs.into_iter().zip(crossings).enumerate() {
            crossed.sort_by(f64::total_cmp);
            spans.extend(crossed.chunks_exact(2).map(|pair| [pair[0], pair[1]]));
            let mut now = Vec::new();
            for cells in merged_cells(spans, rows, border[1]) {
                height = height.max(cells[1]);
                let same = open.iter().copied().find(|&k| blocks[k].rows == cells);
                match same {
                    Some(k) => {
                        blocks[k].columns[1] = column + 1;
                        now.push(k);
                    }
                    None => {
                        now.push(blocks.len());
                        blocks.push(Block { columns: [column, column + 1], rows: cells });
                    }
                }
            }
            open = now;
        }
        // The largest blocks meet something soonest.
        blocks.sort_by_key(|b| std::cmp::Reverse((b.columns[1] - b.columns[0]) * (b.rows[1] - b.rows[0])));
        Self { columns, rows: height, blocks, bare: Vec::new() }
    }

    /// How many columns it takes.
    pub fn columns(&self) -> usize {
        self.columns
    }
}

/// Follows an edge from left to right; for each column whose inside it meets, tells the span of y within the column and
/// the y on the column's middle line, if the edge crosses it.
fn each_column(
    left: [f64; 2],
    right: [f64; 2],
    columns: usize,
    border: f64,
    mut tell: impl FnMut(usize, [f64; 2], Option<f64>),
) {
    let upright = right[0] - left[0] < border;
    if upright && (left[0] - left[0].round()).abs() < border {
        return;
    }
    let y_at = |x: f64| left[1] + (right[1] - left[1]) * (x - left[0]) / (right[0] - left[0]);
    let first = (left[0] + border).floor().max(0.0) as usize;
    let end = ((right[0] - border).ceil().max(0.0) as usize).max(first + 1).min(columns);
    for column in first..end {
        let middle = column as f64 + 0.5;
        let crosses = left[0] <= middle && middle < right[0];
        if upright {
            tell(column, [left[1].min(right[1]), left[1].max(right[1])], crosses.then_some(left[1]));
            return;
        }
        let y0 = y_at(left[0].max(column as f64));
        let y1 = y_at(right[0].min((column + 1) as f64));
        tell(column, [y0.min(y1), y0.max(y1)], crosses.then(|| y_at(middle)));
    }
}

/// Spans of y as runs of whole cells, joined where they touch.
fn merged_cells(spans: Vec<[f64; 2]>, rows: usize, border: f64) -> Vec<[usize; 2]> {
    let mut cells: Vec<[usize; 2]> = spans
        .into_iter()
        .map(|[low, high]| {
            let first = (low + border).floor().max(0.0) as usize;
            let end = ((high - border).ceil().max(0.0) as usize).min(rows);
            [first, end]
        })
        .filter(|[first, end]| first < end)
        .collect();
    cells.sort_unstable();
    let mut merged: Vec<[usize; 2]> = Vec::new();
    for run in cells {
        match merged.last_mut() {
            Some(last) if run[0] <= last[1] => last[1] = last[1].max(run[1]),
            _ => merged.push(run),
        }
    }
    merged
}

#[cfg(test)]
mod tests {
    use super::*;

    fn square(side: f64) -> Vec<Vec<[f64; 2]>> {
        vec![vec![[0.0, 0.0], [side, 0.0], [side, side], [0.0, side]]]
    }

    #[test]
    fn a_square_on_the_grid_takes_just_its_cells() {
        let mask = Mask::of(&square(3.0), usize::MAX, [1e-9; 2]);
        assert_eq!(mask.blocks, [Block { columns: [0, 3], rows: [0, 3] }]);
        let mask = Mask::of(&square(3.1), usize::MAX, [1e-9; 2]);
        assert_eq!(mask.blocks, [Block { columns: [0, 4], rows: [0, 4] }]);
    }

    #[test]
    fn a_triangle_takes_every_cell_it_touches() {
        let mask = Mask::of(&[vec![[0.0, 0.0], [4.0, 0.0], [0.0, 4.0]]], usize::MAX, [1e-9; 2]);
        let cells: usize = mask.blocks.iter().map(|b| (b.columns[1] - b.columns[0]) * (b.rows[1] - b.rows[0])).sum();
        assert_eq!(cells, 4 + 3 + 2 + 1);
    }

    #[test]
    fn squares_fill_the_width_and_then_the_next_column() {
        let mut raster = Raster::new(0.0, Some(9.0), [0.0, 7.0], [1.0; 2], 1e-9);
        let mask = Mask::of(&square(3.0), usize::MAX, [1e-9; 2]);
        let mut spots = Vec::new();
        while let Some(spot) = raster.first_free(&mask, 0) {
            raster.take(&mask, spot);
            spots.push(spot);
        }
        assert_eq!(spots, [[0, 0], [0, 3], [3, 0], [3, 3], [6, 0], [6, 3]]);
    }

    #[test]
    fn a_small_square_goes_into_the_hole_of_a_ring() {
        let mut raster = Raster::new(0.0, None, [0.0, 100.0], [1.0; 2], 1e-9);
        let mut ring = square(100.0);
        ring.push(vec![[20.0, 20.0], [20.0, 90.0], [90.0, 90.0], [90.0, 20.0]]);
        raster.take(&Mask::of(&ring, usize::MAX, [1e-9; 2]), [0, 0]);
        assert_eq!(raster.first_free(&Mask::of(&square(70.0), usize::MAX, [1e-9; 2]), 0), Some([20, 20]));
        assert_eq!(raster.first_free(&Mask::of(&square(71.0), usize::MAX, [1e-9; 2]), 0), Some([100, 0]));
    }
}
