//! Makes a lay shorter and shorter: cut a sliver out of the cloth, remove the overlaps, and again.
//!
//! The two phases and the way to start anew are those of Gardeyn, Vanden Berghe and Wauters (2025): exploration disrupts a
//! failed attempt and tries again at the same length; compression takes ever smaller slivers from the best lay. Several
//! searches race for each length; all go on from the first, by number, that gets there.

use super::compact::compacted;
use super::disrupt::disrupt;
use super::meter::{Meter, Span};
use super::race::{RACERS, Racers};
use super::separate::{Patience, State};
use super::strip::{Arrangement, Strip};

/// Share of the budget after which exploration gives way to compression.
const EXPLORATION: f64 = 0.8;
const EXPLORING: Patience = Patience { passes: 200, strikes: 3 };
const COMPRESSING: Patience = Patience { passes: 100, strikes: 5 };

/// Heats for one length after which all items are moved at once too; before, it is not worth the time.
const COMPACT_AFTER: u32 = 10;

/// Shortens an arrangement without overlap while its part of the budget lasts.
pub fn tighten(strip: &Strip, first: Arrangement, seed: u64, span: Span, meter: &mut Meter) -> Arrangement {
    let racers = Racers::new(strip, seed, 0);
    let length = strip.length_of(&first);
    let mut race = Race { strip, racers, best: first, length, floor: floor(strip), heats: 0 };
    race.explore(span.part(0.0, EXPLORATION), meter);
    race.compress(span.part(EXPLORATION, 1.0), meter);
    race.best
}

/// A length below which no arrangement can be: the area, or the shortest side of the longest item.
fn floor(strip: &Strip) -> f64 {
    let items = 0..strip.items.len();
    // Areas have half the gap all round, and so may reach beyond the cloth by as much.
    let gap =
        items.clone().map(|item| strip.box_with_gap(item, 0)[0] - 2.0 * strip.half(item, 0)[0]).fold(0.0, f64::max);
    let by_area = items.clone().map(|item| strip.area(item)).sum::<f64>() / (strip.width() + gap) - gap;
    let shortest = |item: usize| {
        let ways = (0..strip.ways(item).len()).filter(|&way| strip.admits(item, way, f64::INFINITY));
        ways.map(|way| 2.0 * strip.half(item, way)[0]).fold(f64::INFINITY, f64::min)
    };
    items.map(shortest).fold(by_area, f64::max)
}

struct Race<'a> {
    strip: &'a Strip<'a>,
    racers: Racers<'a>,
    best: Arrangement,
    length: f64,
    floor: f64,
    /// Heats since the length was last made shorter.
    heats: u32,
}

impl Race<'_> {
    /// Takes over the arrangement of the first racer that got there.
    fn adopt(&mut self, winner: usize, meter: &Meter) {
        let separator = self.racers.get(winner);
        separator.slide_back();
        self.best = separator.arrangement().clone();
        if self.heats >= COMPACT_AFTER
            && let Some(shorter) = compacted(self.strip, &self.best)
        {
            self.best = shorter;
        }
        self.length = self.strip.length_of(&self.best);
        meter.report(self.length, self.strip.density(&self.best));
    }

    fn heat(&mut self, meter: &mut Meter) -> Vec<State> {
        self.heats += 1;
        self.racers.heat(meter)
    }

    fn at_floor(&self) -> bool {
        self.length <= self.floor * (1.0 + 1e-9)
    }

    fn explore(&mut self, span: Span, meter: &mut Meter) {
        let mut step = 0.005;
        let mut failed: Vec<(f64, Arrangement)> = Vec::new();
        let mut target = self.start_all(step, EXPLORING);
        while !meter.over(span) && !self.at_floor() {
            let states = self.heat(meter);
            if let Some(winner) = states.iter().position(|state| *state == State::Solved) {
                let heats = self.heats;
                self.adopt(winner, meter);
                failed.clear();
                step = if heats <= 2 { f64::min(step * 1.5, 0.02) } else { f64::max(step * 0.7, 0.001) };
                target = self.start_all(step, EXPLORING);
                continue;
            }
            for (racer, state) in states.into_iter().enumerate() {
                if state == State::Stuck {
                    if step > 0.001 {
                        // Too greedy: a smaller bite first.
                        step = 0.001;
                        target = self.start_all(step, EXPLORING);
                        break;
                    }
                    self.restart(racer, &mut failed, target);
                }
            }
        }
    }

    fn compress(&mut self, span: Span, meter: &mut Meter) {
        let mut step = 0.0005;
        self.start_all(step, COMPRESSING);
        while !meter.over(span) && !self.at_floor() {
            let states = self.heat(meter);
            step = 0.0005 + (0.000_01 - 0.0005) * span.progress(meter.spent());
            if let Some(winner) = states.iter().position(|state| *state == State::Solved) {
                self.adopt(winner, meter);
                self.start_all(step, COMPRESSING);
                continue;
            }
            for (racer, state) in states.into_iter().enumerate() {
                if state == State::Stuck {
                    self.start(racer, step, COMPRESSING);
                }
            }
        }
    }

    /// Sets all racers on the best arrangement, a share shorter; tells the new length.
    fn start_all(&mut self, step: f64, patience: Patience) -> f64 {
        self.heats = 0;
        for racer in 0..RACERS {
            self.start(racer, step, patience);
        }
        self.target(step)
    }

    fn target(&self, step: f64) -> f64 {
        (self.length * (1.0 - step)).max(self.floor)
    }

    /// Cuts a sliver out of the best arrangement at a random line and moves what lies beyond it.
    fn start(&mut self, racer: usize, step: f64, patience: Patience) {
        let target = self.target(step);
        let sliver = self.length - target;
        let separator = self.racers.get(racer);
        let line = separator.random().between(0.0, self.length);
        let mut shorter = self.best.clone();
        for lying in shorter.iter_mut().filter(|lying| lying.at[0] > line) {
            lying.at[0] -= sliver;
        }
        separator.load(&shorter, target, patience);
    }

    /// Puts a failed attempt aside and starts from one of those put aside, the nearer to success the likelier, with some
    /// disorder.
    fn restart(&mut self, racer: usize, failed: &mut Vec<(f64, Arrangement)>, target: f64) {
        let separator = self.racers.get(racer);
        let (arrangement, total) = separator.best();
        let rank = failed.partition_point(|(other, _)| *other <= total);
        failed.insert(rank, (total, arrangement.clone()));
        failed.truncate(50);
        let random = separator.random();
        // The lesser of two shares leans towards the front of the list.
        let share = random.share().min(random.share()).min(random.share());
        let mut next = failed[(share * failed.len() as f64) as usize].1.clone();
        disrupt(self.strip, &mut next, target, random);
        separator.load(&next, target, EXPLORING);
    }
}
