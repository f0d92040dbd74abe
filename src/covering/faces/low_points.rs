//! The low points of a bay: where water stands that cannot run on.
//!
//! The bay is looked at on a fine grid, kept to where a grommet has room. Cells are flooded from the lowest
//! up; a hollow counts when water would stand in it deeper than a stated depth before it runs over into a lower one.

use geo::{BoundingRect, Contains};
use geo_types::{Coord, LineString, Polygon, Rect};

use crate::shape::sin_cos_degrees;

/// Cells across the shorter way of a bay, at most.
const CELLS: f64 = 60.0;
/// The finest grid, in millimetres.
const FINEST: f64 = 4.0;
/// Cells of one bay, at most.
const MOST: f64 = 20_000.0;
/// Below this step, in millimetres, nothing is gained by going on downhill; and so many steps are enough.
const FINE: f64 = 0.1;
const MOST_STEPS: usize = 2_000;
/// Directions that are tried on the way downhill, first few of them, then so many that it goes on along a wall that lies
/// aslant.
const WAYS: [usize; 2] = [16, 64];
/// What counts as lower, in millimetres.
const LOWER: f64 = 1e-5;
/// Heights nearer to each other than this, in millimetres, are the same: a level bay has one low point, in its middle.
const LEVEL: f64 = 0.01;

/// The low points of a ring, the lowest first. `height` tells how high a point is; `room` how much room a drain has there,
/// less than zero where it has none: it is kept to where it has room, or to where it has the most if that is nowhere.
/// `depth` is the depth of water from which a second hollow counts. Millimetres.
pub fn low_points(
    ring: &[Coord<f64>],
    height: impl Fn(Coord<f64>) -> f64,
    room: impl Fn(Coord<f64>) -> f64,
    depth: f64,
) -> Vec<Coord<f64>> {
    let grid = Grid::new(ring, &room);
    let heights: Vec<f64> = grid.cells.iter().map(|cell| height(grid.place(*cell))).collect();
    let mut order: Vec<usize> = (0..heights.len()).collect();
    order.sort_by(|one, other| heights[*one].total_cmp(&heights[*other]).then(one.cmp(other)));
    let basins = Basins::flooded(&grid, &heights, &order);
    let mut found: Vec<usize> = basins.lows(depth);
    found.sort_by(|one, other| heights[*one].total_cmp(&heights[*other]).then(one.cmp(other)));
    found.into_iter().map(|low| grid.settled(grid.middle_of_level(low, &heights), &height, &room)).collect()
}

/// Cells of a ring where there is room.
struct Grid {
    bay: Polygon<f64>,
    /// Room that a drain has at least.
    least_room: f64,
    corner: Coord<f64>,
    step: f64,
    columns: usize,
    /// Column and row of each cell.
    cells: Vec<[usize; 2]>,
    /// The place in `cells` of each column and row.
    index: Vec<Option<usize>>,
}

impl Grid {
    fn new(ring: &[Coord<f64>], room: impl Fn(Coord<f64>) -> f64) -> Self {
        let bay = Polygon::new(LineString::new(ring.to_vec()), Vec::new());
        let bounds = bay.bounding_rect().unwrap_or_else(|| Rect::new(Coord::default(), Coord::default()));
        let (corner, wide, high) = (bounds.min(), bounds.width(), bounds.height());
        let step = (wide.min(high) / CELLS).max(FINEST).max((wide * high / MOST).sqrt()).min(wide.min(high).max(1.0));
        let (columns, rows) = ((wide / step).ceil().max(1.0) as usize, (high / step).ceil().max(1.0) as usize);
        let index = vec![None; columns * rows];
        let mut grid = Self { bay, least_room: 0.0, corner, step, columns, cells: Vec::new(), index };
        let all = (0..rows).flat_map(|row| (0..columns).map(move |column| [column, row]));
        let inside: Vec<([usize; 2], f64)> = all
            .map(|cell| (cell, grid.place(cell)))
            .filter(|(_, at)| grid.bay.contains(at))
            .map(|(cell, at)| (cell, room(at)))
            .collect();
        let most = inside.iter().map(|(_, room)| *room).fold(f64::NEG_INFINITY, f64::max);
        grid.least_room = most.min(0.0) - LEVEL;
        for (cell, _) in inside.into_iter().filter(|(_, room)| *room >= most.min(0.0) - LEVEL) {
            grid.index[cell[1] * columns + cell[0]] = Some(grid.cells.len());
            grid.cells.push(cell);
        }
        grid
    }

    fn place(&self, [column, row]: [usize; 2]) -> Coord<f64> {
        self.corner + Coord { x: (column as f64 + 0.5) * self.step, y: (row as f64 + 0.5) * self.step }
    }

    /// The neighbours of a cell, corner to corner too.
    fn neighbours(&self, cell: usize) -> impl Iterator<Item = usize> {
        let [column, row] = self.cells[cell];
        let rows = self.index.len() / self.columns;
        let around = (row.saturating_sub(1)..=(row + 1).min(rows - 1)).flat_map(move |row| {
            (column.saturating_sub(1)..=(column + 1).min(self.columns - 1)).map(move |column| (column, row))
        });
        around.filter_map(|(column, row)| self.index[row * self.columns + column]).filter(move |other| *other != cell)
    }

    /// Downhill from a place in ever smaller steps, as far as there is room: the grid alone would miss a slope of less than
    /// its own error.
    fn settled(
        &self,
        from: Coord<f64>,
        height: impl Fn(Coord<f64>) -> f64,
        room: impl Fn(Coord<f64>) -> f64,
    ) -> Coord<f64> {
        let (mut at, mut low, mut step) = (from, height(from), self.step);
        for _ in 0..MOST_STEPS {
            let lowest_of = |count: usize| {
                let ways = (0..count).map(|way| sin_cos_degrees(360.0 * way as f64 / count as f64));
                let around = ways.map(|(sin, cos)| at + Coord { x: cos, y: sin } * step);
                let allowed = around.filter(|next| self.bay.contains(next) && room(*next) >= self.least_room);
                let heights = allowed.map(|next| (next, height(next)));
                heights.min_by(|one, other| one.1.total_cmp(&other.1)).filter(|(_, next)| *next < low - LOWER)
            };
            let lowest = WAYS.into_iter().find_map(lowest_of);
            match lowest {
                Some((next, height)) => {
                    (at, low) = (next, height);
                    step = (2.0 * step).min(self.step);
                }
                None if step < FINE => break,
                None => step /= 2.0,
            }
        }
        at
    }

    /// The cell in the middle of all that are as low as one and hang together with it.
    fn middle_of_level(&self, low: usize, heights: &[f64]) -> Coord<f64> {
        let mut seen = vec![false; self.cells.len()];
        let mut waiting = vec![low];
        let mut level = Vec::new();
        while let Some(cell) = waiting.pop() {
            if std::mem::replace(&mut seen[cell], true) || heights[cell] > heights[low] + LEVEL {
                continue;
            }
            level.push(cell);
            waiting.extend(self.neighbours(cell));
        }
        let count = level.len() as f64;
        let middle =
            level.iter().fold(Coord { x: 0.0, y: 0.0 }, |sum, cell| sum + self.place(self.cells[*cell])) / count;
        let away = |cell: &usize| {
            let arm = self.place(self.cells[*cell]) - middle;
            arm.x * arm.x + arm.y * arm.y
        };
        level.sort_unstable();
        let nearest = level.into_iter().min_by(|one, other| away(one).total_cmp(&away(other))).unwrap_or(low);
        self.place(self.cells[nearest])
    }
}

/// Hollows, as they grow together while the water rises.
struct Basins {
    /// The lowest cell of the hollow that each cell belongs to, found by following the chain.
    chain: Vec<usize>,
    /// Lowest cells with the depth of water at which their hollow ran over; endless for the last one.
    ran_over: Vec<(usize, f64)>,
}

impl Basins {
    fn flooded(grid: &Grid, heights: &[f64], order: &[usize]) -> Self {
        let mut basins = Self { chain: (0..heights.len()).collect(), ran_over: Vec::new() };
        let mut wet = vec![false; heights.len()];
        for cell in order {
            wet[*cell] = true;
            for neighbour in grid.neighbours(*cell) {
                if wet[neighbour] {
                    basins.join(*cell, neighbour, heights);
                }
            }
        }
        let mut last: Vec<usize> = (0..heights.len()).map(|cell| basins.lowest(cell)).collect();
        last.sort_unstable();
        last.dedup();
        basins.ran_over.extend(last.into_iter().map(|low| (low, f64::INFINITY)));
        basins
    }

    fn lowest(&self, mut cell: usize) -> usize {
        while self.chain[cell] != cell {
            cell = self.chain[cell];
        }
        cell
    }

    /// Two hollows meet at a cell: the water of the shallower one runs over into the other.
    fn join(&mut self, cell: usize, neighbour: usize, heights: &[f64]) {
        let (one, other) = (self.lowest(cell), self.lowest(neighbour));
        if one == other {
            return;
        }
        let lower = |a: usize, b: usize| (heights[a], a) < (heights[b], b);
        let (deep, shallow) = if lower(one, other) { (one, other) } else { (other, one) };
        if shallow != cell {
            self.ran_over.push((shallow, heights[cell] - heights[shallow]));
        }
        self.chain[shallow] = deep;
    }

    fn lows(&self, depth: f64) -> Vec<usize> {
        self.ran_over.iter().filter(|(_, deep)| *deep >= depth).map(|(low, _)| *low).collect()
    }
}
