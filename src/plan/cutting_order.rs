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
const CELLS_ACROSS: f64 = 80.0;
/// Most cells along the cloth; a longer one has longer cells.
const CELLS_ALONG: f64 = 2000.0;

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

/// Cloth in cells, and one more column for the roll that goes on behind it.
struct Grid {
    columns: usize,
    rows: usize,
    cut: Vec<bool>,
    /// The cells of each piece.
    cells: Vec<Vec<usize>>,
    /// The same, and those round them by which nothing large hangs.
    wide: Vec<Vec<usize>>,
    /// What is cut, with that.
    cut_wide: Vec<bool>,
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
        let high = (laid.width / CELLS_ACROSS).max(f64::MIN_POSITIVE);
        let long = high.max(laid.length_used / CELLS_ALONG);
        let columns = (laid.length_used / long).ceil().max(1.0) as usize + 1;
        let rows = CELLS_ACROSS as usize;
        let none = vec![false; columns * rows];
        let large = laid.pieces.iter().map(|piece| area(piece) >= LARGE).collect();
        let mut grid =
            Self { columns, rows, cut: none.clone(), cells: Vec::new(), wide: Vec::new(), cut_wide: none, large };
        let size = [long, high];
        grid.cells = laid.pieces.iter().map(|piece| grid.cells_of(piece, size)).collect();
        let reach = size.map(|side| (HOLD / side).ceil() as usize);
        grid.wide = grid.cells.iter().map(|cells| grid.widened(cells, reach)).collect();
        grid
    }

    /// Cells and those round them, so many columns and rows away, that are there.
    fn widened(&self, cells: &[usize], [along, across]: [usize; 2]) -> Vec<usize> {
        let mut all = vec![false; self.cut.len()];
        for cell in cells {
            let (column, row) = (cell / self.rows, cell % self.rows);
            let rows = row.saturating_sub(across)..=(row + across).min(self.rows - 1);
            // The roll behind the last piece holds whatever is cut.
            for column in column.saturating_sub(along)..=(column + along).min(self.columns - 2) {
                all[column * self.rows + rows.start()..=column * self.rows + rows.end()].fill(true);
            }
        }
        (0..all.len()).filter(|cell| all[*cell]).collect()
    }

    /// The cells whose middle lies in a piece; of one that covers no middle, that of its first point.
    fn cells_of(&self, piece: &LaidPiece, size: [f64; 2]) -> Vec<usize> {
        let mut cells = Vec::new();
        for row in 0..self.rows {
            let y = (row as f64 + 0.5) * size[1];
            let crossings = piece.crossings(1, y);
            for pair in crossings.chunks_exact(2) {
                let [first, end] = [pair[0], pair[1]].map(|x| (x / size[0] - 0.5).ceil().max(0.0) as usize);
                cells.extend((first..end.min(self.columns - 1)).map(|column| column * self.rows + row));
            }
        }
        if cells.is_empty() {
            let at = |axis: usize, most: usize| ((piece.outline[0][axis] / size[axis]).max(0.0) as usize).min(most - 1);
            cells.push(at(0, self.columns) * self.rows + at(1, self.rows));
        }
        cells
    }

    fn first_column(&self, piece: usize) -> usize {
        self.cells[piece].iter().min().map_or(0, |cell| cell / self.rows)
    }

    fn cut(&mut self, piece: usize) {
        self.cells[piece].iter().for_each(|cell| self.cut[*cell] = true);
        self.wide[piece].iter().for_each(|cell| self.cut_wide[*cell] = true);
    }

    /// Whether any waiting piece is stranded once a piece is cut.
    fn strands(&self, piece: usize, waiting: &[usize], stranded: Stranded) -> bool {
        let others = || waiting.iter().filter(|other| **other != piece);
        let held = self.held(with(&self.cut, &self.cells[piece]));
        let hangs = |other: &usize, held: &[bool]| self.cells[*other].iter().any(|cell| held[*cell]);
        if !others().all(|other| hangs(other, &held)) {
            return true;
        }
        if stranded == Stranded::Quite || !others().any(|other| self.large[*other]) {
            return false;
        }
        let held = self.held(with(&self.cut_wide, &self.wide[piece]));
        !others().filter(|other| self.large[**other]).all(|other| hangs(other, &held))
    }

    /// The cells that hang together with the roll.
    fn held(&self, gone: Vec<bool>) -> Vec<bool> {
        let mut held = vec![false; gone.len()];
        let mut next: Vec<usize> = ((self.columns - 1) * self.rows..self.columns * self.rows).collect();
        while let Some(cell) = next.pop() {
            if gone[cell] || std::mem::replace(&mut held[cell], true) {
                continue;
            }
            let row = cell % self.rows;
            next.extend((row > 0).then(|| cell - 1));
            next.extend((row + 1 < self.rows).then_some(cell + 1));
            next.extend(cell.checked_sub(self.rows));
            next.extend(Some(cell + self.rows).filter(|neighbour| *neighbour < gone.len()));
        }
        held
    }
}

/// Cells that are gone, and more of them.
fn with(gone: &[bool], more: &[usize]) -> Vec<bool> {
    let mut all = gone.to_vec();
    more.iter().for_each(|cell| all[*cell] = true);
    all
}
