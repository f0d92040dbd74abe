//! The order in which the pieces of a cloth are cut: large ones first, pairs together, and nothing that strands the rest.
//!
//! A piece is stranded when it lies on cloth that earlier cuts have parted from the roll: it slips, frays and is measured from
//! an end that is no longer there. Large before small, and mirrored pairs together, is what the trade does (approved covering
//! manual pp. 52-56, derived).

use geo_types::Coord;

use super::{LaidCloth, LaidPiece};
use crate::shape::double_area;

/// A large piece hangs on the roll only by cloth that is this wide at the edge of what is cut out, and twice as wide between
/// two cuts; in millimetres. By less it hangs like a flag. Common practice, no source.
const HOLD: f64 = 80.0;
/// A piece from this area on is large, in square millimetres.
const LARGE: f64 = 1e5;
/// Cells across the cloth on which it is decided what still hangs together.
const ROWS: usize = 80;
/// Most cells along the cloth; a longer one has longer cells.
const MOST_COLUMNS: f64 = 2000.0;

/// The order in which to cut the pieces of a cloth, as places in [`LaidCloth::pieces`].
///
/// Some piece can always be cut without leaving another on nothing: of all that hang on the roll one is the farthest leaf.
/// Pieces smaller than a cell are the exception, which strand nothing that matters. Where it can be, no large piece is left
/// hanging on a narrow strip either.
pub fn cutting_order(laid: &LaidCloth) -> Vec<usize> {
    let mut cloth = Grid::new(laid);
    let areas: Vec<f64> = laid.pieces.iter().map(area).collect();
    let mut waiting: Vec<usize> = (0..laid.pieces.len()).collect();
    // Of equals the one nearer to the cloth's end.
    waiting.sort_by(|one, other| {
        areas[*other].total_cmp(&areas[*one]).then(cloth.first_column(*one).cmp(&cloth.first_column(*other)))
    });
    let mut order: Vec<usize> = Vec::new();
    while !waiting.is_empty() {
        let mate = order.last().and_then(|last| mate(laid, &waiting, *last));
        let tried = || mate.into_iter().chain(0..waiting.len());
        let sound = |stranded| tried().find(|place| !cloth.strands(waiting[*place], &waiting, stranded));
        let place = sound(Stranded::Hardly).or_else(|| sound(Stranded::Quite)).unwrap_or(0);
        let piece = waiting.remove(place);
        cloth.cut(piece);
        order.push(piece);
    }
    order
}

/// The other one of a pair, as a place in `waiting`.
fn mate(laid: &LaidCloth, waiting: &[usize], piece: usize) -> Option<usize> {
    let name = &laid.pieces[piece].piece;
    let copies = laid.pieces.iter().filter(|other| other.piece == *name).count();
    (copies == 2).then(|| waiting.iter().position(|other| laid.pieces[*other].piece == *name)).flatten()
}

fn area(piece: &LaidPiece) -> f64 {
    let ring: Vec<Coord<f64>> = piece.outline.iter().map(|[x, y]| Coord { x: *x, y: *y }).collect();
    double_area(&ring).abs() / 2.0
}

/// Some cells of a column, a bit each.
type Column = u128;

/// All cells of a column.
const FULL: Column = (1 << ROWS) - 1;

/// Some cells of columns one behind the other, of which the first and the last have some.
struct Cells {
    first: usize,
    columns: Vec<Column>,
}

impl Cells {
    /// Those of all columns of the cloth.
    fn of(all: &[Column]) -> Self {
        let some = |column: &Column| *column != 0;
        let first = all.iter().position(some).unwrap_or(0);
        let end = all.iter().rposition(some).map_or(first, |last| last + 1);
        Self { first, columns: all[first..end].to_vec() }
    }

    /// These and some of the cloth.
    fn with(&self, cloth: &[Column]) -> Vec<Column> {
        let mut all = cloth.to_vec();
        self.add_to(&mut all);
        all
    }

    fn add_to(&self, cloth: &mut [Column]) {
        cloth[self.first..].iter_mut().zip(&self.columns).for_each(|(all, some)| *all |= some);
    }

    /// Whether one of them is among some of the cloth.
    fn meet(&self, cloth: &[Column]) -> bool {
        cloth[self.first..].iter().zip(&self.columns).any(|(all, some)| all & some != 0)
    }

    /// These and those round them, so many columns and rows away, on cloth of so many columns.
    fn widened(&self, [along, across]: [usize; 2], columns: usize) -> Self {
        let mut all = vec![0; columns];
        for (column, cells) in (self.first..).zip(&self.columns) {
            let beside = (1..=across.min(ROWS - 1)).fold(0, |beside, by| beside | cells << by | cells >> by);
            let end = (column + along + 1).min(columns);
            all[column.saturating_sub(along).min(end)..end].iter_mut().for_each(|all| *all |= cells | beside & FULL);
        }
        Self::of(&all)
    }
}

/// Cloth in cells, and one more column for the roll that goes on behind it.
struct Grid {
    cut: Vec<Column>,
    /// The cells of each piece.
    cells: Vec<Cells>,
    /// The same, and those round them by which nothing large hangs.
    wide: Vec<Cells>,
    /// What is cut, with that.
    cut_wide: Vec<Column>,
    large: Vec<bool>,
}

/// What counts as stranded.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Stranded {
    /// A large piece that hangs on a narrow strip, and any piece that hangs on nothing.
    Hardly,
    /// Any piece that hangs on nothing.
    Quite,
}

impl Grid {
    fn new(laid: &LaidCloth) -> Self {
        let high = (laid.width / ROWS as f64).max(f64::MIN_POSITIVE);
        let long = high.max(laid.length_used / MOST_COLUMNS);
        let columns = (laid.length_used / long).ceil().max(1.0) as usize + 1;
        let size = [long, high];
        let cells: Vec<Cells> = laid.pieces.iter().map(|piece| cells_of(piece, size, columns)).collect();
        let reach = size.map(|side| (HOLD / side).ceil() as usize);
        // The roll behind the last piece holds whatever is cut.
        let wide = cells.iter().map(|cells| cells.widened(reach, columns - 1)).collect();
        let large = laid.pieces.iter().map(|piece| area(piece) >= LARGE).collect();
        let [cut, cut_wide] = [(); 2].map(|()| vec![0; columns]);
        Self { cut, cells, wide, cut_wide, large }
    }

    fn first_column(&self, piece: usize) -> usize {
        self.cells[piece].first
    }

    fn cut(&mut self, piece: usize) {
        self.cells[piece].add_to(&mut self.cut);
        self.wide[piece].add_to(&mut self.cut_wide);
    }

    /// Whether any waiting piece is stranded once a piece is cut.
    fn strands(&self, piece: usize, waiting: &[usize], stranded: Stranded) -> bool {
        let others = || waiting.iter().filter(|other| **other != piece);
        let held = held_without(&self.cells[piece].with(&self.cut));
        if !others().all(|other| self.cells[*other].meet(&held)) {
            return true;
        }
        if stranded == Stranded::Quite || !others().any(|other| self.large[*other]) {
            return false;
        }
        let held = held_without(&self.wide[piece].with(&self.cut_wide));
        !others().filter(|other| self.large[**other]).all(|other| self.cells[*other].meet(&held))
    }
}

/// The cells that hang together with the roll, which is the last column, once some are gone.
fn held_without(gone: &[Column]) -> Vec<Column> {
    let mut held = vec![0; gone.len()];
    let roll = gone.len() - 1;
    held[roll] = FULL & !gone[roll];
    // There and back, until no more are found to hang.
    let mut found = true;
    while found {
        found = false;
        let there = (0..roll).rev().map(|column| (column, column + 1));
        let back = (1..=roll).map(|column| (column, column - 1));
        for (column, beside) in there.chain(back) {
            let free = FULL & !gone[column];
            let reached = held[beside] & free & !held[column];
            if reached != 0 {
                held[column] |= runs_with(reached, free);
                found = true;
            }
        }
    }
    held
}

/// The runs of free cells of a column in which there is one of some.
fn runs_with(some: Column, free: Column) -> Column {
    let [mut ahead, mut behind] = [some & free; 2];
    let [mut free_ahead, mut free_behind] = [free; 2];
    // What is free up to so many cells away doubles from step to step.
    for by in [1, 2, 4, 8, 16, 32, 64] {
        ahead |= free_ahead & (ahead << by);
        free_ahead &= free_ahead << by;
        behind |= free_behind & (behind >> by);
        free_behind &= free_behind >> by;
    }
    ahead | behind
}

/// The cells whose middle lies in a piece; of one that covers no middle, that of its first point.
fn cells_of(piece: &LaidPiece, size: [f64; 2], columns: usize) -> Cells {
    let mut all = vec![0; columns];
    for row in 0..ROWS {
        let crossings = piece.crossings(1, (row as f64 + 0.5) * size[1]);
        for pair in crossings.chunks_exact(2) {
            let [first, end] = [pair[0], pair[1]].map(|x| (x / size[0] - 0.5).ceil().max(0.0) as usize);
            let end = end.min(columns - 1);
            all[first.min(end)..end].iter_mut().for_each(|column| *column |= 1 << row);
        }
    }
    if all.iter().all(|column| *column == 0) {
        let at = |axis: usize, most: usize| ((piece.outline[0][axis] / size[axis]).max(0.0) as usize).min(most - 1);
        all[at(0, columns)] = 1 << at(1, ROWS);
    }
    Cells::of(&all)
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    proptest! {
        #[test]
        fn a_run_is_held_if_one_of_its_cells_is(some in any::<u128>(), gone in any::<[u128; 2]>()) {
            // Of two random columns put together three cells in four are free, so that runs of all lengths come.
            let (some, free) = (some & FULL, FULL & !(gone[0] & gone[1]));
            let has = |column: Column, row: usize| column >> row & 1 == 1;
            let held = runs_with(some, free);
            for row in 0..ROWS {
                let run = (0..=row).rev().take_while(|cell| has(free, *cell));
                let run = run.chain((row..ROWS).take_while(|cell| has(free, *cell)));
                prop_assert_eq!(has(held, row), run.into_iter().any(|cell| has(some, cell)), "row {}", row);
            }
        }
    }

    #[test]
    fn what_hangs_by_a_winding_way_is_held_and_an_island_is_not() {
        // The roll is on the right. A way leads up, back and down again round a wall; a ring of cuts holds nothing.
        let picture = [".........", ".#######.", ".#...#.#.", ".#.#.###.", "...#.....", "########."];
        let columns = picture[0].len();
        let mut gone = vec![FULL; columns];
        for (row, line) in picture.iter().enumerate() {
            for (column, _) in line.chars().enumerate().filter(|(_, cell)| *cell == '.') {
                gone[column] &= !(1 << row);
            }
        }
        let held = held_without(&gone);
        for (row, line) in picture.iter().enumerate() {
            for (column, cell) in line.chars().enumerate() {
                let island = (row, column) == (2, 6);
                assert_eq!(held[column] >> row & 1 == 1, cell == '.' && !island, "row {row}, column {column}");
            }
        }
    }
}
