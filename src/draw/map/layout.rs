//! Where faces and figures stand on the sheet. All lengths are millimetres of paper, but for the sizes of faces.

use super::list::Lines;

/// A3 on its side (ISO 216).
pub(super) const PAPER: [f64; 2] = [420.0, 297.0];
/// Left edge of all that is drawn; as much stays free on the right and below.
pub(super) const LEFT: f64 = 10.0;
/// Distance from one line of figures to the next.
pub(super) const STEP: f64 = 3.4;
/// Width of a column of figures: four stand side by side.
pub(super) const COLUMN: f64 = 96.0;
/// Room round a face for tags.
pub(super) const BESIDE: f64 = 9.0;
/// Room above that for its name and ways.
pub(super) const HEAD: f64 = 6.0;
const TOP: f64 = 27.0;
const BETWEEN: f64 = 16.0 / 3.0;
/// How much smaller the faces may be drawn for the sake of more lines of figures.
const SMALLER: f64 = 1.35;

/// The places of a sheet.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Layout {
    /// Millimetres of the face in a millimetre of paper.
    pub scale: f64,
    /// Upper left corner of the room of each face.
    pub faces: Vec<[f64; 2]>,
    /// Upper left corner of each column of figures.
    pub columns: Vec<[f64; 2]>,
    /// How many lines a column holds.
    pub lines: usize,
    /// How many rows of the table stand on the sheet.
    pub rows: usize,
}

/// The layout with the most rows of figures that still leaves the faces large.
pub(super) fn laid_out(sizes: &[[f64; 2]], lines: &Lines) -> Layout {
    let with = |rows: usize| Layout { rows, ..best(sizes, lines.to_fit(rows).len()) };
    let bare = with(0);
    let large = |layout: &Layout| layout.scale <= bare.scale * SMALLER;
    (1..=lines.rows()).rev().map(with).find(large).unwrap_or(bare)
}

/// The layout that draws the faces largest: in a row or one above the other, with the figures beside them or below.
fn best(sizes: &[[f64; 2]], lines: usize) -> Layout {
    let body = [PAPER[0] - 2.0 * LEFT, PAPER[1] - TOP - LEFT];
    let most = (body[1] / STEP) as usize;
    // A line more for each column, since no heading stands at its foot.
    let beside = (1..=3).map(|columns| (columns, most)).find(|(columns, held)| columns * held >= lines + columns);
    let below = (4, lines.div_ceil(4) + 1);
    let mut layouts = Vec::new();
    for in_row in [true, false] {
        if let Some((columns, held)) = beside {
            let room = [body[0] - columns as f64 * (COLUMN + BETWEEN), body[1]];
            let first = LEFT + room[0] + BETWEEN;
            layouts.push(placed(sizes, in_row, room, (columns, held), [first, TOP]));
        }
        let height = below.1 as f64 * STEP;
        let room = [body[0], body[1] - height - 2.0];
        layouts.push(placed(sizes, in_row, room, below, [LEFT, TOP + room[1] + 2.0]));
    }
    let found = layouts.into_iter().flatten().min_by(|one, other| one.scale.total_cmp(&other.scale));
    found.unwrap_or(Layout { scale: 1.0, faces: Vec::new(), columns: vec![[LEFT, TOP]], lines: most, rows: 0 })
}

/// The faces in a room of the sheet; `None` where it is too small.
fn placed(
    sizes: &[[f64; 2]],
    in_row: bool,
    room: [f64; 2],
    (columns, lines): (usize, usize),
    [x, y]: [f64; 2],
) -> Option<Layout> {
    let round = [2.0 * BESIDE, 2.0 * BESIDE + HEAD];
    let side_by_side = usize::from(!in_row);
    let scales = [0, 1].map(|axis| {
        let along = sizes.iter().map(|size| size[axis]);
        let (length, count) = if axis == side_by_side {
            (along.sum::<f64>(), sizes.len() as f64)
        } else {
            (along.fold(0.0, f64::max), 1.0)
        };
        let free = room[axis] - count * round[axis];
        if free > 0.0 { length / free } else { f64::INFINITY }
    });
    let scale = scales[0].max(scales[1]);
    if !scale.is_finite() || scale <= 0.0 {
        return None;
    }
    let mut at = [LEFT, TOP];
    let mut faces = Vec::new();
    for size in sizes {
        faces.push(at);
        at[side_by_side] += size[side_by_side] / scale + round[side_by_side];
    }
    let columns = (0..columns).map(|column| [x + column as f64 * (COLUMN + BETWEEN), y]).collect();
    Some(Layout { scale, faces, columns, lines, rows: 0 })
}
