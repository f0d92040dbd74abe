//! Boxes only: the best order in which to lay them against a skyline.
//!
//! What is laid so far shows as steps across the cloth. The stretch that lies furthest back is filled next, with the box
//! that fits it best: one that fills its whole width and ends level with a neighbour comes before one that does less
//! (the scores of Leung, Zhang and Sim, "A two-stage intelligent search algorithm for the two-dimensional strip packing
//! problem", 2011); among equals the order decides, and that is what annealing changes. Boxes come to lie edge to edge,
//! which a search by overlaps never does as well.

use rayon::prelude::*;

use super::meter::{Meter, Span};
use super::race::RACERS;
use super::random::Random;
use super::strip::{Arrangement, Lying, Strip};

/// Boxes up to which orders are tried; the cost of one grows with the square of their number.
const MOST_BOXES: usize = 300;
/// Orders tried by one racer between two looks at the race.
const HEAT: usize = 2_000;
/// Orders of one cooling down, for each box.
const COOLING: usize = 2_000;
/// Lengths by which an order may be worse, at the start and at the end of a cooling, as shares of the least length.
const TEMPERATURES: [f64; 2] = [0.02, 0.001];

/// Shortens an arrangement of boxes while its part of the budget lasts; `None` where not all items are boxes, or there
/// are obstacles or too many items.
pub fn shortened(
    strip: &Strip,
    first: &Arrangement,
    gap: f64,
    seed: u64,
    span: Span,
    meter: &mut Meter,
) -> Option<Arrangement> {
    let boxes = Boxes::of(strip, gap)?;
    let start = by_place(strip, first);
    let mut racers: Vec<Annealing> =
        (0..RACERS as u64).map(|racer| Annealing::new(&boxes, start.clone(), Random::new(seed, racer))).collect();
    let mut best = first.clone();
    let mut length = strip.length_of(first);
    while !meter.over(span) && length > boxes.floor + boxes.slack {
        racers.par_iter_mut().for_each(Annealing::heat);
        meter.add((HEAT * RACERS * boxes.count()) as u64);
        for racer in &racers {
            let found = racer.best_length - gap;
            if found < length - boxes.slack {
                length = found;
                best = boxes.laid(&racer.best);
                meter.report(length, strip.density(&best));
            }
        }
    }
    Some(best)
}

/// Items in the order in which they lie along the cloth.
fn by_place(strip: &Strip, arrangement: &Arrangement) -> Vec<u32> {
    let low = |item: u32| {
        let lying = &arrangement[item as usize];
        let half = strip.half(item as usize, lying.way);
        [lying.at[0] - half[0], lying.at[1] - half[1]]
    };
    let mut order: Vec<u32> = (0..arrangement.len() as u32).collect();
    order.sort_by(|&a, &b| {
        let ([ax, ay], [bx, by]) = (low(a), low(b));
        ax.total_cmp(&bx).then(ay.total_cmp(&by)).then(a.cmp(&b))
    });
    order
}

/// The boxes of a strip, gap included, on cloth that is half a gap wider on every side.
struct Boxes {
    /// For each item, its sizes along and across in each way that fits the cloth.
    ways: Vec<Vec<(usize, [f64; 2])>>,
    low: f64,
    width: f64,
    half_gap: f64,
    area: f64,
    /// No arrangement is shorter; without the gap.
    floor: f64,
    /// Lengths that differ by less are equal.
    slack: f64,
}

impl Boxes {
    fn of(strip: &Strip, gap: f64) -> Option<Self> {
        let count = strip.items.len();
        if !strip.obstacles.is_empty() || !(2..=MOST_BOXES).contains(&count) {
            return None;
        }
        let is_box = |item: usize| strip.ways(item).iter().all(|way| strip.shapes.shape(way.shape).is_box());
        if !(0..count).all(is_box) {
            return None;
        }
        let sizes = |item: usize| {
            let fitting = (0..strip.ways(item).len()).filter(|&way| strip.admits(item, way, f64::INFINITY));
            fitting.map(|way| (way, strip.half(item, way).map(|half| 2.0 * half + gap))).collect::<Vec<_>>()
        };
        let ways: Vec<_> = (0..count).map(sizes).collect();
        let area = ways.iter().map(|ways| ways.first().map_or(0.0, |(_, size)| size[0] * size[1])).sum::<f64>();
        let width = strip.width() + gap;
        Some(Self {
            ways,
            low: strip.usable[0] - gap / 2.0,
            width,
            half_gap: gap / 2.0,
            area,
            floor: area / width - gap,
            slack: 1e-9 * width,
        })
    }

    fn count(&self) -> usize {
        self.ways.len()
    }

    /// Where the boxes come to lie in an order.
    fn laid(&self, order: &[u32]) -> Arrangement {
        let mut laid = vec![Lying { way: 0, at: [0.0; 2] }; self.count()];
        let place = |item: u32, way: usize, middle: [f64; 2]| {
            laid[item as usize] = Lying { way, at: [middle[0] - self.half_gap, self.low + middle[1]] };
        };
        Skyline::default().lay(self, order, f64::INFINITY, place);
        laid
    }
}

/// A stretch of the front: from this y on, up to the next step, the cloth is free from this x on.
#[derive(Clone, Copy, Debug)]
struct Step {
    y: f64,
    x: f64,
}

/// The stretch that lies furthest back.
struct Gap {
    step: usize,
    top: f64,
    /// How far its neighbours below and above reach beyond it.
    walls: [f64; 2],
}

/// Room for laying one order after another without asking for memory.
#[derive(Default)]
struct Skyline {
    steps: Vec<Step>,
    waiting: Vec<u32>,
}

impl Skyline {
    /// Lays boxes in an order and tells the length, gap included; `None` once it is sure to pass `limit`.
    fn lay(
        &mut self,
        boxes: &Boxes,
        order: &[u32],
        limit: f64,
        mut place: impl FnMut(u32, usize, [f64; 2]),
    ) -> Option<f64> {
        self.waiting.clear();
        self.waiting.extend_from_slice(order);
        self.steps.clear();
        self.steps.push(Step { y: 0.0, x: 0.0 });
        let may_be_lost = limit * boxes.width - boxes.area + boxes.slack * boxes.width;
        let (mut lost, mut length) = (0.0, 0.0f64);
        while !self.waiting.is_empty() {
            let gap = self.furthest_back(boxes.width);
            let Some((at, way, size)) = self.best_fit(boxes, &gap, limit) else {
                let rise = gap.walls[0].min(gap.walls[1]);
                lost += rise * (gap.top - self.steps[gap.step].y);
                if !rise.is_finite() || lost > may_be_lost {
                    return None;
                }
                self.raise(gap.step, self.steps[gap.step].x + rise, boxes.slack);
                continue;
            };
            let item = self.waiting.remove(at);
            let Step { y, x } = self.steps[gap.step];
            let far = x + size[0];
            length = length.max(far);
            // It lies against the higher of the two walls.
            let below = gap.walls[0] >= gap.walls[1];
            let from = if below { y } else { gap.top - size[1] };
            place(item, way, [x + size[0] / 2.0, from + size[1] / 2.0]);
            if (gap.top - y - size[1]).abs() <= boxes.slack {
                self.raise(gap.step, far, boxes.slack);
            } else if below {
                self.steps.insert(gap.step + 1, Step { y: y + size[1], x });
                self.raise(gap.step, far, boxes.slack);
            } else {
                self.steps.insert(gap.step + 1, Step { y: from, x });
                self.raise(gap.step + 1, far, boxes.slack);
            }
        }
        Some(length)
    }

    fn furthest_back(&self, width: f64) -> Gap {
        let mut step = 0;
        for (k, candidate) in self.steps.iter().enumerate() {
            if candidate.x < self.steps[step].x {
                step = k;
            }
        }
        let x = self.steps[step].x;
        let above = self.steps.get(step + 1);
        let below = step.checked_sub(1).map(|k| &self.steps[k]);
        Gap {
            step,
            top: above.map_or(width, |next| next.y),
            walls: [below, above].map(|wall| wall.map_or(f64::INFINITY, |wall| wall.x - x)),
        }
    }

    /// The first of the waiting boxes with the best score, by its place among them, with its way and size.
    fn best_fit(&self, boxes: &Boxes, gap: &Gap, limit: f64) -> Option<(usize, usize, [f64; 2])> {
        let Step { y, x } = self.steps[gap.step];
        let (room, slack) = (gap.top - y, boxes.slack);
        let [lower, higher] = if gap.walls[0] <= gap.walls[1] { gap.walls } else { [gap.walls[1], gap.walls[0]] };
        let longest = limit - x + slack;
        let mut best = None;
        let mut best_score = -1;
        for (at, &item) in self.waiting.iter().enumerate() {
            for &(way, size) in &boxes.ways[item as usize] {
                if size[1] > room + slack || size[0] > longest {
                    continue;
                }
                let fills = room - size[1] <= slack;
                let level = |wall: f64| (size[0] - wall).abs() <= slack;
                let score = match (fills, level(higher), level(lower)) {
                    (true, true, _) => 5,
                    (true, _, true) => 4,
                    (true, ..) if size[0] < lower => 3,
                    (true, ..) => 2,
                    (false, true, _) => 1,
                    (false, ..) => 0,
                };
                if score > best_score {
                    best_score = score;
                    best = Some((at, way, size));
                }
            }
            if best_score == 5 {
                break;
            }
        }
        best
    }

    /// Moves a step to an x and joins it with neighbours that end level with it.
    fn raise(&mut self, step: usize, x: f64, slack: f64) {
        self.steps[step].x = x;
        let level = |other: Option<&Step>| other.is_some_and(|other| (other.x - x).abs() <= slack);
        if level(self.steps.get(step + 1)) {
            self.steps.remove(step + 1);
        }
        if step > 0 && level(self.steps.get(step - 1)) {
            self.steps[step - 1].x = x;
            self.steps.remove(step);
        }
    }
}

/// One search over orders: annealing that cools down again and again.
struct Annealing<'a> {
    boxes: &'a Boxes,
    skyline: Skyline,
    order: Vec<u32>,
    length: f64,
    best: Vec<u32>,
    best_length: f64,
    tried: usize,
    random: Random,
}

impl<'a> Annealing<'a> {
    fn new(boxes: &'a Boxes, order: Vec<u32>, random: Random) -> Self {
        let mut skyline = Skyline::default();
        let length = skyline.lay(boxes, &order, f64::INFINITY, |_, _, _| {}).unwrap_or(f64::INFINITY);
        Self { boxes, skyline, best: order.clone(), order, length, best_length: length, tried: 0, random }
    }

    fn heat(&mut self) {
        for _ in 0..HEAT {
            self.step();
        }
    }

    fn step(&mut self) {
        let count = self.order.len();
        let cooling = COOLING * count;
        let progress = (self.tried % cooling) as f64 / cooling as f64;
        self.tried += 1;
        let [hot, cold] = TEMPERATURES;
        let temperature = hot * libm::pow(cold / hot, progress) * self.boxes.floor;
        let (from, to) = (self.random.index(count), self.random.index(count));
        let swaps = self.random.index(2) == 0;
        self.change(from, to, swaps);
        let limit = self.length - temperature * libm::log(1.0 - self.random.share());
        match self.skyline.lay(self.boxes, &self.order, limit, |_, _, _| {}) {
            Some(length) if length <= limit => {
                self.length = length;
                if length < self.best_length {
                    self.best_length = length;
                    self.best.clone_from(&self.order);
                }
            }
            _ => self.change(to, from, swaps),
        }
    }

    /// Swaps two boxes of the order, or moves one; the same with its ends exchanged undoes it.
    fn change(&mut self, from: usize, to: usize, swaps: bool) {
        if swaps {
            self.order.swap(from, to);
        } else if from < to {
            self.order[from..=to].rotate_left(1);
        } else {
            self.order[to..=from].rotate_right(1);
        }
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    fn boxes(sizes: &[[f64; 2]], width: f64) -> Boxes {
        let ways = |[a, b]: &[f64; 2]| vec![(0, [*a, *b]), (1, [*b, *a])];
        let area = sizes.iter().map(|size| size[0] * size[1]).sum();
        Boxes {
            ways: sizes.iter().map(ways).collect(),
            low: 0.0,
            width,
            half_gap: 0.0,
            area,
            floor: area / width,
            slack: 1e-9 * width,
        }
    }

    /// Low and high corner of each box of an order, and the length.
    fn laid(boxes: &Boxes, order: &[u32]) -> (Vec<[[f64; 2]; 2]>, f64) {
        let mut corners = vec![[[f64::NAN; 2]; 2]; order.len()];
        let length = Skyline::default().lay(boxes, order, f64::INFINITY, |item, way, middle| {
            let half = boxes.ways[item as usize][way].1.map(|side| side / 2.0);
            corners[item as usize] =
                [[middle[0] - half[0], middle[1] - half[1]], [middle[0] + half[0], middle[1] + half[1]]];
        });
        (corners, length.expect("no limit"))
    }

    proptest! {
        #[test]
        fn no_order_makes_boxes_overlap_or_leave_the_cloth(
            sizes in proptest::collection::vec((1..40u8, 1..40u8), 2..30),
            shuffle in any::<u64>(),
        ) {
            let sizes: Vec<[f64; 2]> = sizes.iter().map(|(a, b)| [f64::from(*a), f64::from(*b)]).collect();
            let boxes = boxes(&sizes, 41.0);
            let mut order: Vec<u32> = (0..sizes.len() as u32).collect();
            Random::new(shuffle, 0).shuffle(&mut order);
            let (corners, length) = laid(&boxes, &order);
            let mut far = 0.0f64;
            for (k, [low, high]) in corners.iter().enumerate() {
                prop_assert!(low[0] >= 0.0 && low[1] >= -1e-9 && high[1] <= 41.0 + 1e-9);
                far = far.max(high[0]);
                for [other_low, other_high] in &corners[..k] {
                    let apart = (0..2).any(|axis| high[axis] <= other_low[axis] + 1e-9 || other_high[axis] <= low[axis] + 1e-9);
                    prop_assert!(apart, "{low:?} {high:?} on {other_low:?} {other_high:?}");
                }
            }
            prop_assert_eq!(far, length);
            // A limit ends only what passes it.
            let none = |_: u32, _: usize, _: [f64; 2]| {};
            prop_assert_eq!(Skyline::default().lay(&boxes, &order, length, none), Some(length));
            prop_assert!(Skyline::default().lay(&boxes, &order, length - 0.5, none).is_none_or(|other| other <= length - 0.5));
        }

        #[test]
        fn a_change_undone_leaves_the_order_as_it_was(from in 0..9usize, to in 0..9usize, swaps in any::<bool>()) {
            let boxes = boxes(&[[1.0, 2.0]; 9], 5.0);
            let order: Vec<u32> = (0..9).collect();
            let mut annealing = Annealing::new(&boxes, order.clone(), Random::new(1, 0));
            annealing.change(from, to, swaps);
            annealing.change(to, from, swaps);
            prop_assert_eq!(annealing.order, order);
        }
    }
}
