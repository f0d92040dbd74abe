//! Boxes only: the best order in which to lay them against a skyline.
//!
//! What is laid so far shows as steps across the cloth. The stretch that lies furthest back is filled next, with the box
//! that fits it best: one that fills its whole width and ends level with a neighbour comes before one that does less
//! (the scores of Leung, Zhang and Sim, "A two-stage intelligent search algorithm for the two-dimensional strip packing
//! problem", 2011); among equals the order decides, and that is what annealing changes. Boxes come to lie edge to edge,
//! which a search by overlaps never does as well.

use rayon::prelude::*;

use super::all_boxes::Boxes;
use super::boxes::Step;
use super::meter::Meter;
use super::race::RACERS;
use super::random::Random;
use super::strip::{Arrangement, Lying, Strip};

/// Orders tried by one racer between two looks at the race.
const HEAT: usize = 2_000;
/// Orders of one cooling down, for each box.
const COOLING: usize = 2_000;
/// Lengths by which an order may be worse, at the start and at the end of a cooling, as shares of the least length.
const LENGTH_TEMPERATURES: [f64; 2] = [0.02, 0.001];
/// The same for areas beyond the least length, as shares of all area.
const AREA_TEMPERATURES: [f64; 2] = [0.01, 0.0005];

/// Orders of boxes that race for the shortest lay.
pub struct ByOrder<'a> {
    boxes: &'a Boxes,
    racers: Vec<Annealing<'a>>,
}

impl<'a> ByOrder<'a> {
    /// Starts from the order in which the boxes lie along the cloth.
    pub fn new(boxes: &'a Boxes, strip: &Strip, first: &Arrangement, seed: u64) -> Self {
        let start = by_place(strip, first);
        let racer =
            |racer: usize| Annealing::new(boxes, start.clone(), Aim::of(racer), Random::new(seed, racer as u64));
        Self { boxes, racers: (0..RACERS).map(racer).collect() }
    }

    /// Searches for a while; tells of a lay shorter than `length`.
    pub fn heat(&mut self, length: f64, meter: &mut Meter) -> Option<Arrangement> {
        self.racers.par_iter_mut().for_each(Annealing::heat);
        meter.add((HEAT * RACERS * self.boxes.count()) as u64);
        let best = self.racers.iter().min_by(|a, b| a.best_length.total_cmp(&b.best_length))?;
        let shorter = self.boxes.without_gap(best.best_length) < length - self.boxes.slack;
        shorter.then(|| laid(self.boxes, &best.best, best.best_limit))
    }
}

/// Where the boxes come to lie in an order within a limit.
fn laid(boxes: &Boxes, order: &[u32], limit: Worth) -> Arrangement {
    let mut laid = vec![Lying { way: 0, at: [0.0; 2] }; boxes.count()];
    let place = |item: u32, way: usize, middle: [f64; 2]| laid[item as usize] = boxes.lying(way, middle);
    Skyline::default().lay(boxes, order, limit, place);
    laid
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

/// What an order comes to.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Worth {
    /// Gap included.
    length: f64,
    /// Area of the boxes that lies beyond the least length that there could be.
    beyond: f64,
}

impl Worth {
    const WORST: Self = Self { length: f64::INFINITY, beyond: f64::INFINITY };
}

/// What an annealing makes less. Neither is better everywhere, so racers differ in it: length finds perfect layouts of few
/// boxes, area tells more of the many orders that have the same length.
#[derive(Clone, Copy, Debug)]
enum Aim {
    Length,
    AreaBeyond,
}

impl Aim {
    fn of(racer: usize) -> Self {
        if racer.is_multiple_of(2) { Self::Length } else { Self::AreaBeyond }
    }

    /// The worst that is taken in place of `worth` where the random number is `share`; hot at a progress of zero.
    fn limit(self, worth: Worth, boxes: &Boxes, progress: f64, share: f64) -> Worth {
        let worse = |[hot, cold]: [f64; 2], whole: f64| {
            let (hot, cold) = (hot * whole, cold * whole);
            -hot * libm::pow(cold / hot, progress) * libm::log(1.0 - share)
        };
        match self {
            Self::Length => Worth { length: worth.length + worse(LENGTH_TEMPERATURES, boxes.floor), ..Worth::WORST },
            Self::AreaBeyond => Worth { beyond: worth.beyond + worse(AREA_TEMPERATURES, boxes.area), ..Worth::WORST },
        }
    }
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
    /// Lays boxes in an order and tells what it comes to; `None` once it is sure to be worse than `limit`.
    fn lay(
        &mut self,
        boxes: &Boxes,
        order: &[u32],
        limit: Worth,
        mut place: impl FnMut(u32, usize, [f64; 2]),
    ) -> Option<Worth> {
        self.waiting.clear();
        self.waiting.extend_from_slice(order);
        self.steps.clear();
        self.steps.push(Step { y: 0.0, x: 0.0 });
        let may_be_lost = limit.length * boxes.width - boxes.area + boxes.slack * boxes.width;
        let least = boxes.length_without_waste();
        let mut lost = 0.0;
        let mut worth = Worth { length: 0.0, beyond: 0.0 };
        while !self.waiting.is_empty() {
            let gap = self.furthest_back(boxes.width);
            let Some((at, way, size)) = self.best_fit(boxes, &gap, limit.length) else {
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
            worth.length = worth.length.max(far);
            worth.beyond += size[1] * (far - x.max(least)).max(0.0);
            if worth.beyond > limit.beyond {
                return None;
            }
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
        Some(worth)
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
            for &(way, size) in boxes.ways_of(item) {
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
    aim: Aim,
    order: Vec<u32>,
    worth: Worth,
    best: Vec<u32>,
    best_length: f64,
    /// What the best order was held to: boxes that would pass it were not looked at.
    best_limit: Worth,
    tried: usize,
    random: Random,
}

impl<'a> Annealing<'a> {
    fn new(boxes: &'a Boxes, order: Vec<u32>, aim: Aim, random: Random) -> Self {
        let skyline = Skyline::default();
        let best = order.clone();
        let best_length = f64::INFINITY;
        let [worth, best_limit] = [Worth::WORST; 2];
        let mut annealing = Self { boxes, skyline, aim, best, order, worth, best_length, best_limit, tried: 0, random };
        annealing.take_up();
        annealing
    }

    /// Works out what the order comes to.
    fn take_up(&mut self) {
        if let Some(worth) = self.skyline.lay(self.boxes, &self.order, Worth::WORST, |_, _, _| {}) {
            self.note(worth, Worth::WORST);
        }
    }

    fn note(&mut self, worth: Worth, limit: Worth) {
        self.worth = worth;
        if worth.length < self.best_length {
            self.best_length = worth.length;
            self.best_limit = limit;
            self.best.clone_from(&self.order);
        }
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
        if self.tried > 0 && self.tried.is_multiple_of(cooling) {
            self.random.shuffle(&mut self.order);
            self.take_up();
        }
        self.tried += 1;
        let (from, to) = (self.random.index(count), self.random.index(count));
        let swaps = self.random.index(2) == 0;
        self.change(from, to, swaps);
        let limit = self.aim.limit(self.worth, self.boxes, progress, self.random.share());
        match self.skyline.lay(self.boxes, &self.order, limit, |_, _, _| {}) {
            Some(worth) if worth.length <= limit.length => self.note(worth, limit),
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
    use crate::nest::all_boxes::both_ways as boxes;

    /// Low and high corner of each box of an order, and the length.
    fn laid(boxes: &Boxes, order: &[u32]) -> (Vec<[[f64; 2]; 2]>, f64) {
        let mut corners = vec![[[f64::NAN; 2]; 2]; order.len()];
        let worth = Skyline::default().lay(boxes, order, Worth::WORST, |item, way, middle| {
            let half = boxes.ways_of(item)[way].1.map(|side| side / 2.0);
            corners[item as usize] =
                [[middle[0] - half[0], middle[1] - half[1]], [middle[0] + half[0], middle[1] + half[1]]];
        });
        (corners, worth.expect("no limit").length)
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
            let within = |length: f64| {
                let limit = Worth { length, ..Worth::WORST };
                Skyline::default().lay(&boxes, &order, limit, none).map(|worth| worth.length)
            };
            prop_assert_eq!(within(length), Some(length));
            prop_assert!(within(length - 0.5).is_none_or(|other| other <= length - 0.5));
        }

        /// What annealing says of its best order is what that order comes to.
        #[test]
        fn the_best_order_can_be_laid_again(sizes in proptest::collection::vec((1..40u8, 1..40u8), 2..12), seed in any::<u64>()) {
            let sizes: Vec<[f64; 2]> = sizes.iter().map(|(a, b)| [f64::from(*a), f64::from(*b)]).collect();
            let boxes = boxes(&sizes, 41.0);
            for aim in [Aim::Length, Aim::AreaBeyond] {
                let mut annealing = Annealing::new(&boxes, (0..sizes.len() as u32).collect(), aim, Random::new(seed, 0));
                (0..300).for_each(|_| annealing.step());
                let again = Skyline::default().lay(&boxes, &annealing.best, annealing.best_limit, |_, _, _| {});
                prop_assert_eq!(again.map(|worth| worth.length), Some(annealing.best_length));
            }
        }

        #[test]
        fn a_change_undone_leaves_the_order_as_it_was(from in 0..9usize, to in 0..9usize, swaps in any::<bool>()) {
            let boxes = boxes(&[[1.0, 2.0]; 9], 5.0);
            let order: Vec<u32> = (0..9).collect();
            let mut annealing = Annealing::new(&boxes, order.clone(), Aim::Length, Random::new(1, 0));
            annealing.change(from, to, swaps);
            annealing.change(to, from, swaps);
            prop_assert_eq!(annealing.order, order);
        }
    }
}
