//! Where faces and figures stand on the sheet. All lengths are millimetres of paper, but for the sizes of faces.

/// A3 on its side (ISO 216).
pub(super) const PAPER: [f64; 2] = [420.0, 297.0];
/// Left edge of all that is drawn; as much stays free on the right and below.
pub(super) const LEFT: f64 = 10.0;
/// Distance from one line of figures to the next.
pub(super) const STEP: f64 = 3.4;
/// How many columns of figures stand side by side, and how wide each is.
const COLUMNS: usize = 4;
pub(super) const COLUMN: f64 = 96.0;
/// Room round a face for tags.
pub(super) const BESIDE: f64 = 9.0;
/// Room above that for its name and ways.
pub(super) const HEAD: f64 = 9.5;
/// How many headings follow each other at most, and so how many lines a column may end early.
pub(super) const HEADINGS: usize = 2;
const TOP: f64 = 27.0;
const BETWEEN: f64 = 16.0 / 3.0;
/// How much smaller faces may be drawn for the sake of more lines of figures.
const SMALLER: f64 = 1.25;

/// The places of a sheet.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Layout {
    /// Millimetres of the face in a millimetre of paper.
    pub scale: f64,
    /// Upper left corner of the room of each face.
    pub faces: Vec<[f64; 2]>,
    /// The columns of figures, in the order in which they are read.
    pub columns: Vec<Column>,
}

/// A column of figures.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Column {
    /// Its upper left corner.
    pub at: [f64; 2],
    /// How many lines it holds.
    pub lines: usize,
}

impl Layout {
    /// The layout of faces of these sizes with so many lines; `None` where there is no room for all of that, or where they
    /// would be drawn much smaller than alone with the fewest lines that they need.
    pub fn large(sizes: &[[f64; 2]], lines: usize, fewest: usize) -> Option<Self> {
        let (layout, bare) = (best(sizes, lines)?, best(sizes, fewest)?);
        (layout.scale <= bare.scale * SMALLER).then_some(layout)
    }

    /// The layout of a sheet that has nothing but figures.
    pub fn of_figures() -> Self {
        let lines = ((PAPER[1] - TOP - LEFT) / STEP) as usize;
        let column = |index: usize| Column { at: [LEFT + index as f64 * (COLUMN + BETWEEN), TOP], lines };
        Self { scale: 1.0, faces: Vec::new(), columns: (0..COLUMNS).map(column).collect() }
    }

    /// How many lines stand on a sheet at least; each column may end early.
    pub fn holds(&self) -> usize {
        self.columns.iter().map(|column| column.lines.saturating_sub(HEADINGS)).sum()
    }
}

/// The layout that draws the faces largest: in a row or one above the other, with columns of figures beside them, below
/// them, or both. `None` where a sheet has no room for them and so many lines.
fn best(sizes: &[[f64; 2]], lines: usize) -> Option<Layout> {
    let layouts = [true, false].into_iter().flat_map(|in_row| (0..COLUMNS).map(move |beside| (in_row, beside)));
    let layouts = layouts.filter_map(|(in_row, beside)| with_figures(sizes, in_row, beside, lines));
    layouts.min_by(|one, other| one.scale.total_cmp(&other.scale))
}

/// Faces with so many columns of figures to their right, as high as the sheet, and what these do not hold below.
fn with_figures(sizes: &[[f64; 2]], in_row: bool, beside: usize, lines: usize) -> Option<Layout> {
    let body = [PAPER[0] - 2.0 * LEFT, PAPER[1] - TOP - LEFT];
    let tall = (body[1] / STEP) as usize;
    // Some lines more for each column, since no heading stands at its foot.
    let held_beside = beside * (tall - HEADINGS);
    let below = COLUMNS - beside;
    let short = if lines > held_beside { (lines - held_beside).div_ceil(below) + HEADINGS } else { 0 };
    let height = if short > 0 { short as f64 * STEP + 2.0 } else { 0.0 };
    let room = [body[0] - beside as f64 * (COLUMN + BETWEEN), body[1] - height];
    let column =
        |index: usize, y: f64, lines: usize| Column { at: [LEFT + index as f64 * (COLUMN + BETWEEN), y], lines };
    let under = (0..below).map(|index| column(index, PAPER[1] - LEFT - short as f64 * STEP, short));
    let right = (below..COLUMNS).map(|index| column(index, TOP, tall));
    let columns = under.filter(|_| short > 0).chain(right).collect();
    placed(sizes, in_row, room).map(|(scale, faces)| Layout { scale, faces, columns })
}

/// The scale of the faces in a room of the sheet and the corner of each; `None` where it is too small.
fn placed(sizes: &[[f64; 2]], in_row: bool, room: [f64; 2]) -> Option<(f64, Vec<[f64; 2]>)> {
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
    Some((scale, faces))
}
