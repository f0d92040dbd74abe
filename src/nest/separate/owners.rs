//! Which thing a place most likely overlaps most: asked first, it mostly shows that the place is no good.

use super::Thing;

/// Cells for each thing, about.
const CELLS_PER_THING: usize = 8;
/// Cells at least and at most.
const CELLS: [usize; 2] = [128, 8192];

/// Passes for which what was noted is kept.
const KEPT: u32 = 4;

/// For each cell of a raster over the cloth the thing in whose box, or beside which, its middle lies the most central; the
/// first thing where there is none.
#[derive(Default)]
pub(super) struct Owners {
    low: [f64; 2],
    cells_per_unit: [f64; 2],
    counts: [usize; 2],
    owners: Vec<u32>,
    /// Passes since it was noted where things lie.
    age: u32,
    /// How far from the middle of the box of its owner a cell lies, as a share of half the box.
    shares: Vec<f32>,
}

impl Owners {
    /// Lays the raster over a part of the plane, for so many things.
    pub(super) fn cover(&mut self, low: [f64; 2], high: [f64; 2], things: usize) {
        let cells = (CELLS_PER_THING * things).clamp(CELLS[0], CELLS[1]) as f64;
        let size = [high[0] - low[0], high[1] - low[1]];
        let side = (size[0] * size[1] / cells).sqrt();
        self.low = low;
        self.counts = size.map(|size| ((size / side).ceil() as usize).clamp(1, CELLS[1]));
        self.cells_per_unit = [0, 1].map(|axis| self.counts[axis] as f64 / size[axis]);
        self.owners.clear();
    }

    /// Notes where things lie, now and then: how soon a place is known to be no good depends on it and nothing else.
    pub(super) fn keep_up(&mut self, things: &[Thing]) {
        if self.owners.is_empty() || self.age >= KEPT {
            self.note(things);
            self.age = 0;
        }
        self.age += 1;
    }

    fn note(&mut self, things: &[Thing]) {
        let cells = self.counts[0] * self.counts[1];
        self.owners.clear();
        self.owners.resize(cells, 0);
        self.shares.clear();
        self.shares.resize(cells, f32::INFINITY);
        for (number, thing) in things.iter().enumerate() {
            let cell = |axis: usize, at: f64| ((at - self.low[axis]) * self.cells_per_unit[axis]).max(0.0) as usize;
            let [columns, rows] = [0, 1].map(|axis| {
                let (from, to) = (thing.at[axis] - thing.half[axis], thing.at[axis] + thing.half[axis]);
                cell(axis, from)..(cell(axis, to) + 1).min(self.counts[axis])
            });
            let away = |axis: usize, cell: usize| {
                let middle = self.low[axis] + (cell as f64 + 0.5) / self.cells_per_unit[axis];
                ((middle - thing.at[axis]).abs() / thing.half[axis]) as f32
            };
            for row in rows {
                let across = away(1, row);
                for column in columns.clone() {
                    let share = across.max(away(0, column));
                    let cell = row * self.counts[0] + column;
                    if share < self.shares[cell] {
                        self.shares[cell] = share;
                        self.owners[cell] = number as u32;
                    }
                }
            }
        }
    }

    /// The thing to ask first about a place.
    #[inline(always)]
    pub(super) fn at(&self, at: [f64; 2]) -> usize {
        let [column, row] = [0, 1].map(|axis| {
            let cell = ((at[axis] - self.low[axis]) * self.cells_per_unit[axis]).max(0.0) as usize;
            cell.min(self.counts[axis] - 1)
        });
        self.owners[row * self.counts[0] + column] as usize
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_place_belongs_to_the_thing_in_whose_middle_it_lies() {
        let thing = |at: [f64; 2], half: [f64; 2]| Thing { shape: 0, bulk: 1.0, at, half };
        let things =
            [thing([20.0, 20.0], [30.0, 20.0]), thing([70.0, 20.0], [40.0, 20.0]), thing([150.0, 90.0], [5.0, 9.0])];
        let mut owners = Owners::default();
        owners.cover([0.0, 0.0], [200.0, 100.0], things.len());
        owners.note(&things);
        let at = |x: f64, y: f64| owners.at([x, y]);
        assert_eq!([at(5.0, 20.0), at(22.0, 20.0), at(60.0, 20.0), at(105.0, 39.0)], [0, 0, 1, 1]);
        // Both boxes hold it, nearer to the middle of the second.
        assert_eq!(at(45.0, 20.0), 1);
        assert_eq!(at(150.0, 91.0), 2);
        // What is beside the cloth is asked of the nearest part of it.
        assert_eq!([at(-40.0, 20.0), at(22.0, -9.0)], [0, 0]);
        let moved = [things[1], things[0], things[2]];
        owners.note(&moved);
        assert_eq!(owners.at([22.0, 20.0]), 1);
        // What was noted is kept for some passes, and for none on other cloth.
        owners.cover([0.0, 0.0], [200.0, 100.0], things.len());
        let mut first_pass = |things: &[Thing]| {
            owners.keep_up(things);
            owners.at([22.0, 20.0])
        };
        assert_eq!(first_pass(&things), 0);
        assert_eq!([0; KEPT as usize].map(|_| first_pass(&moved)), [0, 0, 0, 1]);
        owners.cover([0.0, 0.0], [200.0, 100.0], things.len());
        owners.keep_up(&things);
        assert_eq!(owners.at([22.0, 20.0]), 0);
    }
}
