//! The aft edge of a panel: the trailing edge, and round each recess the edges along which the cloth is folded down.

use geo_types::Coord;

use super::shape::{Border, column_of};
use crate::job::RibbedPart;
use crate::shape::{Chord, SAME_POINT, Side, SpanLine};

/// The aft edge of one side, in rows and columns of the flat skin.
pub(super) struct AftEdge {
    pub side: Side,
    /// The column of the trailing edge.
    trailing_edge: usize,
    last_row: usize,
    wells: Vec<Well>,
}

/// A recess in rows and columns of the flat skin.
#[derive(Clone, Copy)]
struct Well {
    rows: [usize; 2],
    front: usize,
}

/// A corner of a recess into which no cloth can be folded without a cut.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct InsideCorner {
    /// Where the finished edges meet.
    pub at: Coord<f64>,
    /// From there to where lines meet that lie one millimetre out of both edges, within the recess.
    pub inwards: Coord<f64>,
}

impl AftEdge {
    /// The aft edge of a side; `lines` holds that side's trailing edge and every front of a recess.
    pub fn new(wing: &RibbedPart, chords: &[Chord], lines: &[SpanLine], side: Side) -> Self {
        let row = |span: f64| chords.iter().position(|chord| (chord.span - span).abs() <= SAME_POINT);
        let well = |recess: &crate::job::Recess| {
            let rows = [row(recess.from)?, row(recess.to)?];
            Some(Well { rows, front: column_of(lines, side, recess.front)? })
        };
        Self {
            side,
            trailing_edge: if side == Side::Top { 0 } else { lines.len() - 1 },
            last_row: chords.len() - 1,
            wells: wing.recesses.iter().filter_map(well).collect(),
        }
    }

    /// The column at which the cloth ends on a row; at the walls of a recess it is the trailing edge.
    pub fn column(&self, row: usize) -> usize {
        let within = |well: &&Well| {
            let [from, to] = well.rows;
            (from < row || from == 0) && (row < to || to == self.last_row) && (from..=to).contains(&row)
        };
        self.wells.iter().find(within).map_or(self.trailing_edge, |well| well.front)
    }

    /// The edges from butt to tip. A recess that begins at the butt or ends at the tip has no wall there.
    pub fn borders(&self, rows: &[Vec<Coord<f64>>]) -> Vec<(Border, Vec<Coord<f64>>)> {
        let along = |column: usize, from: usize, to: usize| rows[from..=to].iter().map(|row| row[column]).collect();
        let (trailing_edge, recess) = (Border::TrailingEdge(self.side), Border::Recess(self.side));
        let mut borders = Vec::new();
        let mut start = 0;
        for Well { rows: [from, to], front } in self.wells.iter().copied() {
            if from > 0 {
                borders.push((trailing_edge, along(self.trailing_edge, start, from)));
                borders.push((recess, self.wall(&rows[from], front)));
            }
            borders.push((recess, along(front, from, to)));
            if to < self.last_row {
                borders.push((recess, self.wall(&rows[to], front).into_iter().rev().collect()));
            }
            start = to;
        }
        if self.wells.last().is_none_or(|well| well.rows[1] < self.last_row) {
            borders.push((trailing_edge, along(self.trailing_edge, start, self.last_row)));
        }
        borders
    }

    /// The end of a recess, from the trailing edge to the front.
    fn wall(&self, row: &[Coord<f64>], front: usize) -> Vec<Coord<f64>> {
        if self.trailing_edge < front {
            row[self.trailing_edge..=front].to_vec()
        } else {
            row[front..=self.trailing_edge].iter().rev().copied().collect()
        }
    }

    /// The corners between front and walls.
    pub fn inside_corners(&self, rows: &[Vec<Coord<f64>>]) -> Vec<InsideCorner> {
        let corner = |row: usize, beside: usize, front: usize| {
            let wall = self.wall(&rows[row], front);
            let at = rows[row][front];
            let [along, aft] = [rows[beside][front], wall[wall.len().saturating_sub(2)]].map(|to| unit(to - at));
            let square = (along.x * aft.y - along.y * aft.x).abs();
            InsideCorner { at, inwards: (along + aft) / square }
        };
        let of_well = |well: &Well| {
            let [from, to] = well.rows;
            let inner = (from > 0).then(|| corner(from, from + 1, well.front));
            let outer = (to < self.last_row).then(|| corner(to, to - 1, well.front));
            [inner, outer]
        };
        self.wells.iter().flat_map(of_well).flatten().collect()
    }
}

fn unit(along: Coord<f64>) -> Coord<f64> {
    along / along.x.hypot(along.y)
}
