//! How a large template is divided into sheets: which turn and which place of the grid takes the fewest.
//!
//! Sheets overlap. A line in the overlap is on both, and one of them is enough. So the plane is parted into stretches, in
//! each direction, that belong to one sheet or to two; whatever stretches a line runs through, one of their sheets is
//! printed.

use std::collections::BTreeSet;

use geo_types::Coord;

use crate::plan::Template;
use crate::shape::Pose;

/// Places of the grid that are tried in each direction.
const PLACES: usize = 8;
/// Turns that are tried, beside a quarter turn of each: along the longest edges of the hull.
const TURNS: usize = 5;
/// How finely lines are followed, in millimetres: less than what an overlap could hide.
const FOLLOWED: f64 = 0.005;
/// A line so near to the edge of a drawing, in millimetres, would be cut off in the middle of its width.
const EDGE: f64 = 0.5;

/// A sheet of the grid, from the lower left.
pub(super) type Cell = [usize; 2];

/// A template on a grid of sheets.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Tiling {
    /// Carries the template to the grid, whose lower left sheet has its lower left corner at the origin.
    pub pose: Pose,
    /// From one sheet to the next.
    pub step: [f64; 2],
    /// Size of the drawing on a sheet.
    pub room: [f64; 2],
    /// Sheets across and upwards.
    pub count: Cell,
    /// The sheets that are printed, in order.
    pub cells: Vec<Cell>,
}

/// A line of the template as short straight ones.
type Lines = Vec<[Coord<f64>; 2]>;

/// The tiling that takes the fewest sheets, for drawings of a size on sheets that overlap.
pub(super) fn tiling(template: &Template, room: [f64; 2], overlap: f64) -> Tiling {
    let lines: Lines = template
        .lines
        .iter()
        .flat_map(|line| {
            let points = line.path.points(FOLLOWED);
            points.windows(2).map(|ends| [ends[0], ends[1]]).collect::<Lines>()
        })
        .collect();
    let step = [room[0] - overlap, room[1] - overlap];
    let edge = EDGE.min(overlap / 4.0);
    let mut best: Option<Tiling> = None;
    for turn in turns(template) {
        let turned = Pose { turn, ..Pose::unmoved() };
        let lines: Lines = lines.iter().map(|ends| ends.map(|end| turned.apply(end))).collect();
        let (low, high) = corners(&lines);
        let fewest = |size: f64, axis: usize| (((size - overlap) / step[axis]).ceil() as usize).max(1);
        let size = high - low + Coord { x: 2.0 * EDGE, y: 2.0 * EDGE };
        let count = [fewest(size.x, 0), fewest(size.y, 1)];
        let spare = [0, 1].map(|axis| count[axis] as f64 * step[axis] + overlap - [size.x, size.y][axis]);
        for place in 0..PLACES * PLACES {
            let share = [place % PLACES, place / PLACES].map(|index| index as f64 / (PLACES - 1) as f64);
            // The left edge of the first sheet carries the upright check length: of equal places the rightmost is taken.
            let shift = Coord { x: EDGE + spare[0] * (1.0 - share[0]), y: EDGE + spare[1] * share[1] } - low;
            let grid = Grid { step, overlap, edge, count };
            let cells = grid.cells(lines.iter().map(|ends| ends.map(|end| end + shift)));
            if best.as_ref().is_none_or(|best| cells.len() < best.cells.len()) {
                let pose = Pose { at: shift, ..turned };
                best = Some(Tiling { pose, step, room, count, cells });
            }
        }
    }
    best.unwrap_or_else(|| Tiling { pose: Pose::unmoved(), step, room, count: [1, 1], cells: vec![[0, 0]] })
}

fn corners(lines: &Lines) -> (Coord<f64>, Coord<f64>) {
    let start = (Coord { x: f64::INFINITY, y: f64::INFINITY }, Coord { x: f64::NEG_INFINITY, y: f64::NEG_INFINITY });
    lines.iter().flatten().fold(start, |(low, high), point| {
        (
            Coord { x: low.x.min(point.x), y: low.y.min(point.y) },
            Coord { x: high.x.max(point.x), y: high.y.max(point.y) },
        )
    })
}

/// Turns at which an edge of the hull lies level or upright, those of the longest edges first; no turn before all.
fn turns(template: &Template) -> Vec<f64> {
    let hull = template.cut.convex_hull();
    let mut edges: Vec<(f64, f64)> = hull
        .exterior()
        .lines()
        .map(|edge| {
            let along = edge.end - edge.start;
            (libm::hypot(along.x, along.y), (-libm::atan2(along.y, along.x).to_degrees()).rem_euclid(90.0))
        })
        .collect();
    edges.sort_by(|one, other| other.0.total_cmp(&one.0).then(one.1.total_cmp(&other.1)));
    let mut turns = vec![0.0];
    for (_, turn) in edges {
        if turns.len() <= TURNS && turns.iter().all(|known: &f64| (known - turn).abs() > 0.5) {
            turns.push(turn);
        }
    }
    turns.iter().flat_map(|turn| [*turn, turn + 90.0]).collect()
}

/// Sheets that overlap, side by side and over each other.
struct Grid {
    step: [f64; 2],
    overlap: f64,
    /// What lies so near to the edge of a sheet does not count as lying on it.
    edge: f64,
    count: Cell,
}

impl Grid {
    /// The sheets that carry all of the lines, each joined to the others by an edge.
    fn cells(&self, lines: impl Iterator<Item = [Coord<f64>; 2]>) -> Vec<Cell> {
        let mut wanted: BTreeSet<[[usize; 2]; 2]> = BTreeSet::new();
        for [from, to] in lines {
            self.stretches(from, to, &mut wanted);
        }
        let mut printed: BTreeSet<Cell> = BTreeSet::new();
        let carried = |printed: &BTreeSet<Cell>, [across, up]: &[[usize; 2]; 2]| {
            (across[0]..=across[1]).any(|x| (up[0]..=up[1]).any(|y| printed.contains(&[x, y])))
        };
        // Stretches of one sheet decide first; what is in overlaps alone goes to the sheet that takes the most of it.
        printed.extend(wanted.iter().filter(|[x, y]| x[0] == x[1] && y[0] == y[1]).map(|[x, y]| [x[0], y[0]]));
        loop {
            wanted.retain(|stretch| !carried(&printed, stretch));
            let mut takes: Vec<(usize, Cell)> = Vec::new();
            for [across, up] in &wanted {
                for cell in (across[0]..=across[1]).flat_map(|x| (up[0]..=up[1]).map(move |y| [x, y])) {
                    match takes.iter_mut().find(|(_, known)| *known == cell) {
                        Some((count, _)) => *count += 1,
                        None => takes.push((1, cell)),
                    }
                }
            }
            let Some((_, most)) = takes.into_iter().max_by_key(|(count, cell)| (*count, std::cmp::Reverse(*cell)))
            else {
                break;
            };
            printed.insert(most);
        }
        self.joined(printed)
    }

    /// Notes every stretch that a line runs through: the first and the last sheet of it, across and upwards.
    fn stretches(&self, from: Coord<f64>, to: Coord<f64>, wanted: &mut BTreeSet<[[usize; 2]; 2]>) {
        let of = |at: Coord<f64>| [self.sheets_at(at.x, 0), self.sheets_at(at.y, 1)];
        let (start, end) = (of(from), of(to));
        wanted.insert(start);
        if start == end {
            return;
        }
        // Where the line crosses from one stretch into the next, in parts of its length; between two, it is in one.
        let mut crossings = vec![0.0, 1.0];
        for (axis, (from, to)) in [(from.x, to.x), (from.y, to.y)].into_iter().enumerate() {
            let borders = (0..=self.count[axis]).flat_map(|k| {
                let start = k as f64 * self.step[axis];
                [start + self.edge, start + self.overlap - self.edge]
            });
            let share = |border: f64| (border - from) / (to - from);
            crossings.extend(borders.map(share).filter(|share| *share > 0.0 && *share < 1.0));
        }
        crossings.sort_by(f64::total_cmp);
        for pair in crossings.windows(2).filter(|pair| pair[1] > pair[0]) {
            wanted.insert(of(from + (to - from) * ((pair[0] + pair[1]) / 2.0)));
        }
    }

    /// The first and the last sheet that a place is on.
    fn sheets_at(&self, place: f64, axis: usize) -> [usize; 2] {
        let last = self.count[axis] - 1;
        let sheet = |index: f64| (index.max(0.0) as usize).min(last);
        let highest = sheet(((place - self.edge) / self.step[axis]).floor());
        let lowest = sheet(((place - self.overlap + self.edge) / self.step[axis]).ceil() - 1.0);
        [lowest.min(highest), highest]
    }

    /// Adds sheets until every one is joined to the others, so that they can be glued in their places.
    fn joined(&self, mut printed: BTreeSet<Cell>) -> Vec<Cell> {
        while let Some(link) = self.missing_link(&printed) {
            printed.extend(link);
        }
        printed.into_iter().collect()
    }

    /// The fewest sheets that join what hangs together with the first sheet to another; `None` where all do.
    fn missing_link(&self, printed: &BTreeSet<Cell>) -> Option<Vec<Cell>> {
        let first = *printed.iter().next()?;
        // By how many sheets that are not printed a cell is reached: those that are printed cost nothing.
        let mut reached: BTreeSet<Cell> = BTreeSet::new();
        let mut rims: Vec<Vec<(Cell, Vec<Cell>)>> = vec![vec![(first, Vec::new())]];
        let mut cost = 0;
        while cost < rims.len() {
            while let Some((cell, link)) = rims[cost].pop() {
                if !reached.insert(cell) {
                    continue;
                }
                if cost > 0 && printed.contains(&cell) {
                    return Some(link);
                }
                for next in self.beside(cell) {
                    let mut link = link.clone();
                    let dearer = usize::from(!printed.contains(&next));
                    if dearer == 1 {
                        link.push(next);
                        if rims.len() == cost + 1 {
                            rims.push(Vec::new());
                        }
                    }
                    rims[cost + dearer].push((next, link));
                }
            }
            cost += 1;
        }
        None
    }

    fn beside(&self, [x, y]: Cell) -> Vec<Cell> {
        let mut beside = Vec::new();
        beside.extend(x.checked_sub(1).map(|x| [x, y]));
        beside.extend(y.checked_sub(1).map(|y| [x, y]));
        beside.extend((x + 1 < self.count[0]).then_some([x + 1, y]));
        beside.extend((y + 1 < self.count[1]).then_some([x, y + 1]));
        beside
    }
}
