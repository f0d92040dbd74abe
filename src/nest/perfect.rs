//! Boxes only: a layout without any waste, where there can be one.
//!
//! Boxes are laid one after another into the narrowest dent of what is laid so far, and taken back where the rest cannot
//! come out even (depth first, after Lesh, Marks, McMahon and Mitzenmacher, "Exhaustive approaches to 2D rectangular
//! perfect packings", 2004). A stretch can only be filled if sides of boxes that are left add up to it, and a box only
//! goes where that holds without it too (`sums`). Boxes that fit well are tried first, with some chance, and after a while
//! the search starts anew with other chances: a bad box at the start would else hold it for ever.

use rayon::prelude::*;

use super::all_boxes::Boxes;
use super::meter::Meter;
use super::race::RACERS;
use super::random::Random;
use super::strip::{Arrangement, Lying};
use super::sums::Sums;

/// Boxes up to which it is worth the time.
const MOST_BOXES: usize = 50;
/// Units along and across the cloth, at most.
const MOST_UNITS: usize = 2_000;
/// Steps of one racer, each of which lays a box or takes one back, between two looks at the race.
const HEAT: u64 = 10_000;
/// Trials of the search by overlaps that take about as long as a step.
const TRIALS_PER_STEP: u64 = 5;
/// Steps before the search starts anew, the first time.
const PATIENCE: u64 = 20_000;
/// What a box adds to its fit for its area, as a multiple of its share of all area; and at most.
const LARGE_FIRST: [f64; 2] = [5.0, 0.5];

/// Searches for a layout without waste that race.
pub struct Perfect<'a> {
    boxes: &'a Boxes,
    racers: Vec<Racer>,
}

impl<'a> Perfect<'a> {
    /// `None` where the sides are no multiples of one unit of which the cloth has few enough, a box is longer than the
    /// length without waste, or the boxes are too many.
    pub fn new(boxes: &'a Boxes, seed: u64) -> Option<Self> {
        let without_waste = boxes.without_gap(boxes.length_without_waste());
        if boxes.count() > MOST_BOXES || boxes.floor > without_waste + boxes.slack {
            return None;
        }
        let grid = Grid::of(boxes)?;
        // In many jobs the way they were drawn is the way they fit; to try only that is far less work.
        let racer = |racer: usize| {
            let as_drawn = racer + 1 < RACERS;
            Racer::new(kinds(boxes, &grid, as_drawn), grid.clone(), Random::new(seed, racer as u64))
        };
        Some(Self { boxes, racers: (0..RACERS).map(racer).collect() })
    }

    /// Whether it makes sense to go on.
    pub fn may_be_found(&self) -> bool {
        // The last racer tries all ways.
        self.racers.last().is_some_and(|racer| racer.state == State::Searching)
    }

    /// Searches for a while.
    pub fn heat(&mut self, meter: &mut Meter) -> Option<Arrangement> {
        let steps: u64 = self.racers.par_iter_mut().map(Racer::heat).sum();
        meter.add(steps * TRIALS_PER_STEP);
        let found = self.racers.iter().find(|racer| racer.state == State::Found)?;
        Some(found.arrangement(self.boxes))
    }
}

/// Length and width of the cloth in units.
#[derive(Clone, Debug, PartialEq)]
struct Grid {
    unit: f64,
    size: [usize; 2],
}

impl Grid {
    fn of(boxes: &Boxes) -> Option<Self> {
        let slack = boxes.slack;
        let cloth = [boxes.length_without_waste(), boxes.width];
        let sides = || (0..boxes.count() as u32).flat_map(|item| boxes.ways_of(item)).flat_map(|(_, size)| *size);
        let unit = sides().chain(cloth).fold(0.0, |unit, side| common_measure(unit, side, slack));
        if unit <= slack {
            return None;
        }
        let grid = Self { unit, size: cloth.map(|side| (side / unit).round() as usize) };
        let is_whole = |side: f64| (side - (side / unit).round() * unit).abs() <= slack;
        (grid.size.iter().all(|&side| side <= MOST_UNITS) && sides().chain(cloth).all(is_whole)).then_some(grid)
    }

    fn units(&self, size: [f64; 2]) -> [usize; 2] {
        size.map(|side| (side / self.unit).round() as usize)
    }
}

/// The greatest length of which two are multiples, after Euclid.
fn common_measure(mut a: f64, mut b: f64, slack: f64) -> f64 {
    while b > slack {
        let rest = a % b;
        (a, b) = (b, if b - rest <= slack { 0.0 } else { rest });
    }
    a
}

/// Boxes of one size.
#[derive(Clone, Debug, PartialEq)]
struct Kind {
    items: Vec<u32>,
    /// In units, along and across: one size, or two where it may lie both ways.
    sizes: Vec<[usize; 2]>,
    /// Sides along and sides across of these sizes.
    sides: [Vec<usize>; 2],
}

/// The boxes by their sizes, the largest first; with all their ways or only the first.
fn kinds(boxes: &Boxes, grid: &Grid, as_drawn: bool) -> Vec<Kind> {
    let mut kinds: Vec<Kind> = Vec::new();
    for item in 0..boxes.count() as u32 {
        let mut sizes: Vec<[usize; 2]> = boxes.ways_of(item).iter().map(|(_, size)| grid.units(*size)).collect();
        if as_drawn {
            sizes.truncate(1);
        }
        sizes.sort_unstable();
        sizes.dedup();
        match kinds.iter_mut().find(|kind| kind.sizes == sizes) {
            Some(kind) => kind.items.push(item),
            None => {
                let sides = [0, 1].map(|axis| sizes.iter().map(|size| size[axis]).collect());
                kinds.push(Kind { items: vec![item], sizes, sides });
            }
        }
    }
    let area = |kind: &Kind| kind.sizes.first().map_or(0, |size| size[0] * size[1]);
    kinds.sort_by_key(|kind| std::cmp::Reverse(area(kind)));
    kinds
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum State {
    Searching,
    Found,
    /// All was tried.
    InVain,
}

/// From this y on, up to the next step, the cloth is free from this x on.
type Step = [usize; 2];

/// A box in a dent.
#[derive(Clone, Copy, Debug)]
struct Choice {
    kind: usize,
    size: [usize; 2],
    fit: f64,
}

/// A layout so far, and what can be laid next.
struct Node {
    steps: Vec<Step>,
    /// The step that is filled next.
    dent: usize,
    /// The best last.
    choices: Vec<Choice>,
}

/// One search, which can pause after any box.
struct Racer {
    kinds: Vec<Kind>,
    grid: Grid,
    random: Random,
    state: State,
    path: Vec<Node>,
    /// Each box laid, with its low corner.
    laid: Vec<(Choice, [usize; 2])>,
    /// How many of each kind are left.
    left: Vec<usize>,
    all_left: usize,
    /// Of what is left, along and across.
    sums: [Sums; 2],
    starts: u64,
    /// Steps left before it starts anew.
    patience: u64,
}

impl Racer {
    fn new(kinds: Vec<Kind>, grid: Grid, random: Random) -> Self {
        let left: Vec<usize> = kinds.iter().map(|kind| kind.items.len()).collect();
        let sums = grid.size.map(Sums::new);
        let mut racer = Self {
            all_left: left.iter().sum(),
            kinds,
            grid,
            random,
            state: State::Searching,
            path: Vec::new(),
            laid: Vec::new(),
            left,
            sums,
            starts: 0,
            patience: 0,
        };
        racer.start();
        racer
    }

    fn start(&mut self) {
        while let Some((choice, _)) = self.laid.pop() {
            self.take_back(choice);
        }
        self.path.clear();
        self.starts += 1;
        self.patience = PATIENCE * luby(self.starts);
        match self.node(vec![[0, 0]]) {
            Some(root) => self.path.push(root),
            None => self.state = State::InVain,
        }
    }

    fn take_back(&mut self, choice: Choice) {
        self.left[choice.kind] += 1;
        self.all_left += 1;
    }

    /// Searches for a while; tells how many steps that took.
    fn heat(&mut self) -> u64 {
        let mut steps = 0;
        while steps < HEAT && self.state == State::Searching {
            if self.patience == 0 {
                self.start();
            }
            self.patience -= 1;
            self.advance();
            steps += 1;
        }
        steps
    }

    /// Lays one box more, or takes boxes back until another can be laid.
    fn advance(&mut self) {
        let Some(node) = self.path.last_mut() else {
            self.state = State::InVain;
            return;
        };
        let Some(choice) = node.choices.pop() else {
            self.path.pop();
            if let Some((choice, _)) = self.laid.pop() {
                self.take_back(choice);
            }
            return;
        };
        let corner = [node.steps[node.dent][1], node.steps[node.dent][0]];
        let steps = raised(&node.steps, node.dent, choice.size, self.grid.size[1]);
        self.left[choice.kind] -= 1;
        self.all_left -= 1;
        self.laid.push((choice, corner));
        if self.all_left == 0 {
            self.state = State::Found;
            return;
        }
        match self.node(steps) {
            Some(next) => self.path.push(next),
            None => {
                self.laid.pop();
                self.take_back(choice);
            }
        }
    }

    /// What can be laid next; `None` where the rest cannot come out even.
    fn node(&mut self, steps: Vec<Step>) -> Option<Node> {
        let [length, width] = self.grid.size;
        for (axis, sums) in self.sums.iter_mut().enumerate() {
            sums.take_up(self.left.iter().zip(&self.kinds).map(|(left, kind)| (*left, &kind.sides[axis][..])));
        }
        if steps.iter().any(|&[_, x]| !self.sums[0].reach(length - x)) {
            return None;
        }
        let dents = dents(&steps, width);
        if dents.iter().any(|dent| !self.sums[1].reach(dent.width)) {
            return None;
        }
        let dent = dents.into_iter().min_by_key(|dent| dent.width)?;
        let mut choices = self.choices(&dent, length - steps[dent.step][1]);
        choices.sort_by(|a, b| a.fit.total_cmp(&b.fit));
        (!choices.is_empty()).then_some(Node { steps, dent: dent.step, choices })
    }

    fn choices(&mut self, dent: &Dent, depth: usize) -> Vec<Choice> {
        let area = (self.grid.size[0] * self.grid.size[1]) as f64;
        let walls = dent.walls.map(|wall| wall.unwrap_or(depth));
        let mut choices = Vec::new();
        for (kind, Kind { sizes, .. }) in self.kinds.iter().enumerate() {
            if self.left[kind] == 0 {
                continue;
            }
            for &size in sizes {
                let rest = [depth.checked_sub(size[0]), dent.width.checked_sub(size[1])];
                let [Some(beyond), Some(beside)] = rest else { continue };
                if !(self.sums[0].reach_without(kind, beyond) && self.sums[1].reach_without(kind, beside)) {
                    continue;
                }
                let level = |wall: usize| size[0] == walls[wall];
                let agreements = [beside == 0, level(0), beside == 0 && level(1)];
                let agreements = agreements.into_iter().filter(|agrees| *agrees).count() as f64;
                let [slope, most] = LARGE_FIRST;
                let share = (size[0] * size[1]) as f64 / area;
                let fit = agreements + (slope * share).min(most) + self.random.share();
                choices.push(Choice { kind, size, fit });
            }
        }
        choices
    }

    /// The layout that was found.
    fn arrangement(&self, boxes: &Boxes) -> Arrangement {
        let mut arrangement = vec![Lying { way: 0, at: [0.0; 2] }; boxes.count()];
        let mut used = vec![0; self.kinds.len()];
        for (Choice { kind, size, .. }, corner) in &self.laid {
            let item = self.kinds[*kind].items[used[*kind]];
            used[*kind] += 1;
            let way = boxes.ways_of(item).iter().find(|(_, other)| self.grid.units(*other) == *size);
            let middle = [0, 1].map(|axis| (corner[axis] as f64 + size[axis] as f64 / 2.0) * self.grid.unit);
            let (way, _) = way.expect("the size is that of one of its ways");
            arrangement[item as usize] = boxes.lying(*way, middle);
        }
        arrangement
    }
}

/// A stretch that lies further back than what is beside it.
struct Dent {
    step: usize,
    width: usize,
    /// How far its neighbours below and above reach beyond it; `None` for the edge of the cloth.
    walls: [Option<usize>; 2],
}

fn dents(steps: &[Step], width: usize) -> Vec<Dent> {
    let mut dents = Vec::new();
    for (step, &[y, x]) in steps.iter().enumerate() {
        let below = step.checked_sub(1).map(|below| steps[below][1]);
        let above = steps.get(step + 1);
        let walls = [below, above.map(|above| above[1])];
        if walls.iter().flatten().all(|wall| *wall > x) {
            let top = above.map_or(width, |above| above[0]);
            dents.push(Dent { step, width: top - y, walls: walls.map(|wall| wall.map(|wall| wall - x)) });
        }
    }
    dents
}

/// The steps with a box at the low end of one of them.
fn raised(steps: &[Step], dent: usize, size: [usize; 2], width: usize) -> Vec<Step> {
    let [y, x] = steps[dent];
    let top = steps.get(dent + 1).map_or(width, |above| above[0]);
    let beside = (y + size[1] < top).then_some([y + size[1], x]);
    let mut raised: Vec<Step> = Vec::with_capacity(steps.len() + 1);
    let changed = [Some([y, x + size[0]]), beside].into_iter().flatten();
    for step in steps[..dent].iter().copied().chain(changed).chain(steps[dent + 1..].iter().copied()) {
        if raised.last().is_none_or(|last| last[1] != step[1]) {
            raised.push(step);
        }
    }
    raised
}

/// How long the n-th attempt of a search by chance may last, in units of the first, when nobody knows how long it takes:
/// 1, 1, 2, 1, 1, 2, 4, … (Luby, Sinclair and Zuckerman, "Optimal speedup of Las Vegas algorithms", 1993).
fn luby(attempt: u64) -> u64 {
    let round = (attempt + 1).next_power_of_two();
    if round == attempt + 1 { round / 2 } else { luby(attempt + 1 - round / 2) }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::nest::all_boxes::both_ways as boxes;
    use crate::nest::meter::Meter;
    use crate::nest::task::Budget;

    /// Cuts a rectangle along lines across the whole of it, again and again.
    fn cut(size: [usize; 2], cuts: &[(usize, usize)]) -> Vec<[usize; 2]> {
        cuts.iter().fold(vec![size], |mut pieces, (axis, share)| {
            pieces.sort_by_key(|piece| piece[0] * piece[1]);
            let Some(mut piece) = pieces.pop() else { return pieces };
            let side = piece[*axis];
            if side > 1 {
                let at = 1 + share % (side - 1);
                let mut other = piece;
                other[*axis] = at;
                pieces.push(other);
                piece[*axis] = side - at;
            }
            pieces.push(piece);
            pieces
        })
    }

    fn search(boxes: &Boxes, seed: u64, heats: usize) -> Option<Arrangement> {
        let mut meter = Meter::new(Budget { seed, effort: 1, time: None }, &());
        let mut perfect = Perfect::new(boxes, seed)?;
        (0..heats).find_map(|_| perfect.heat(&mut meter))
    }

    proptest! {
        #![proptest_config(ProptestConfig { cases: 60, ..ProptestConfig::default() })]

        /// What was cut from one rectangle is put together again, on real cloth with sides in tenths.
        #[test]
        fn what_was_cut_apart_is_put_together(
            cuts in proptest::collection::vec((0..2usize, 0..1000usize), 3..11),
            turns in any::<u32>(),
            seed in any::<u64>(),
        ) {
            let turned = |(k, [a, b]): (usize, [usize; 2])| if turns >> k & 1 == 1 { [b, a] } else { [a, b] };
            let pieces = cut([50, 60], &cuts).into_iter().enumerate().map(turned);
            let sizes: Vec<[f64; 2]> = pieces.map(|piece| piece.map(|side| side as f64 / 10.0)).collect();
            let boxes = boxes(&sizes, 6.0);
            let found = search(&boxes, seed, 2000).expect("there is a layout without waste");
            let corners: Vec<[[f64; 2]; 2]> = found.iter().enumerate().map(|(item, lying)| {
                let half = boxes.ways_of(item as u32)[lying.way].1.map(|side| side / 2.0);
                [[lying.at[0] - half[0], lying.at[1] - half[1]], [lying.at[0] + half[0], lying.at[1] + half[1]]]
            }).collect();
            for (k, [low, high]) in corners.iter().enumerate() {
                prop_assert!(low[0] > -1e-9 && low[1] > -1e-9 && high[0] < 5.0 + 1e-9 && high[1] < 6.0 + 1e-9);
                for [other_low, other_high] in &corners[..k] {
                    let apart = (0..2).any(|axis| high[axis] <= other_low[axis] + 1e-9 || other_high[axis] <= low[axis] + 1e-9);
                    prop_assert!(apart, "{low:?} {high:?} on {other_low:?} {other_high:?}");
                }
            }
        }
    }

    /// The area is that of 4 by 6, but two squares of 3 do not lie beside each other on a width of 4.
    #[test]
    fn the_search_ends_where_there_is_none() {
        let boxes = boxes(&[[3.0, 3.0], [3.0, 3.0], [3.0, 2.0]], 4.0);
        let mut meter = Meter::new(Budget { seed: 1, effort: 1, time: None }, &());
        let mut perfect = Perfect::new(&boxes, 1).expect("whole units");
        assert_eq!(perfect.heat(&mut meter), None);
        assert!(!perfect.may_be_found());
    }

    #[test]
    fn sides_without_a_common_unit_are_not_searched() {
        assert!(Perfect::new(&boxes(&[[1.0, 2.0], [1.0, std::f64::consts::E]], 3.0), 1).is_none());
        let too_fine = boxes(&[[1000.1, 2000.0], [999.9, 2000.0]], 2000.0);
        assert!(Perfect::new(&too_fine, 1).is_none());
        let coarse = boxes(&[[1001.0, 2000.0], [999.0, 2000.0]], 2000.0);
        assert!(Perfect::new(&coarse, 1).is_some());
    }

    #[test]
    fn a_box_longer_than_all_area_is_not_searched() {
        assert!(Perfect::new(&boxes(&[[8.0, 1.0], [2.0, 4.0]], 4.0), 1).is_none());
    }

    #[test]
    fn a_box_raises_what_it_lies_on() {
        let steps = [[0, 5], [3, 2], [6, 4]];
        assert_eq!(raised(&steps, 1, [2, 3], 10), [[0, 5], [3, 4]]);
        assert_eq!(raised(&steps, 1, [3, 1], 10), [[0, 5], [4, 2], [6, 4]]);
        assert_eq!(raised(&steps, 1, [7, 2], 10), [[0, 5], [3, 9], [5, 2], [6, 4]]);
        let widths: Vec<usize> = dents(&steps, 10).iter().map(|dent| dent.width).collect();
        assert_eq!(widths, [3]);
    }

    #[test]
    fn attempts_last_longer_by_and_by() {
        let lasts: Vec<u64> = (1..=15).map(luby).collect();
        assert_eq!(lasts, [1, 1, 2, 1, 1, 2, 4, 1, 1, 2, 1, 1, 2, 4, 8]);
    }
}
