//! Makes a lay shorter and shorter: cut a sliver out of the cloth, remove the overlaps, and again.
//!
//! The two phases are those of Gardeyn, Vanden Berghe and Wauters (2025): exploration looks far and wide, compression
//! takes ever smaller slivers from the best lay. Several searches race for each length; all go on from the first, by
//! number, that gets there.

mod explore;
mod pool;

use super::compact::compacted;
use super::meter::{Meter, Span};
use super::race::{RACERS, Racers};
use super::separate::{Patience, State};
use super::strip::{Arrangement, Strip};

/// Share of the budget after which exploration gives way to compression.
const EXPLORATION: f64 = 0.8;
const COMPRESSING: Patience = Patience { passes: 100, strikes: 5 };
/// Shares of the length that compression cuts off at a time, at its start and at its end.
const SLIVERS: [f64; 2] = [0.0005, 0.000_01];

/// Heats for one length after which all items are moved at once too; before, it is not worth the time.
const COMPACT_AFTER: u32 = 10;

/// Share of what was to be cut off that is worth going on from.
const WORTH: f64 = 0.25;

/// Shortens an arrangement without overlap while its part of the budget lasts.
pub fn tighten(strip: &Strip, first: Arrangement, seed: u64, span: Span, meter: &mut Meter) -> Arrangement {
    let racers = Racers::new(strip, seed, 0);
    let first = Lay { length: strip.length_of(&first), arrangement: first };
    let mut race = Race { strip, racers, champion: first.clone(), best: first, floor: floor(strip), heats: 0 };
    race.explore(span.part(0.0, EXPLORATION), meter);
    race.compress(span.part(EXPLORATION, 1.0), meter);
    race.champion.arrangement
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

/// An arrangement and its length.
#[derive(Clone)]
struct Lay {
    arrangement: Arrangement,
    length: f64,
}

impl Lay {
    /// Where all would lie if what lies beyond a line were moved ahead.
    fn moved_beyond(&self, line: f64, ahead: f64) -> Arrangement {
        let mut moved = self.arrangement.clone();
        for lying in moved.iter_mut().filter(|lying| lying.at[0] > line) {
            lying.at[0] += ahead;
        }
        moved
    }
}

struct Race<'a> {
    strip: &'a Strip<'a>,
    racers: Racers<'a>,
    /// The shortest of all.
    champion: Lay,
    /// The one that the racers go on from.
    best: Lay,
    floor: f64,
    /// Heats since the racers last started together.
    heats: u32,
}

impl Race<'_> {
    /// Goes on from the arrangement of the first racer that got there.
    fn adopt(&mut self, winner: usize, meter: &mut Meter) {
        let separator = self.racers.get(winner);
        separator.slide_back();
        let mut arrangement = separator.arrangement().clone();
        if self.heats >= COMPACT_AFTER {
            let mut trials = 0;
            arrangement = compacted(self.strip, &arrangement, &mut trials).unwrap_or(arrangement);
            meter.add(trials);
        }
        self.go_on_from(arrangement, meter);
    }

    /// Goes on from what a racer that failed found by the way, if that is enough of what was asked of it.
    fn adopt_spare(&mut self, racer: usize, step: f64, meter: &Meter) -> bool {
        let enough = self.best.length * (1.0 - WORTH * step);
        let spare = self.racers.get(racer).take_spare().filter(|spare| self.strip.length_of(spare) <= enough);
        let found = spare.is_some();
        if let Some(arrangement) = spare {
            self.go_on_from(arrangement, meter);
        }
        found
    }

    fn go_on_from(&mut self, arrangement: Arrangement, meter: &Meter) {
        self.best = Lay { length: self.strip.length_of(&arrangement), arrangement };
        if self.best.length < self.champion.length {
            self.champion = self.best.clone();
            meter.report(self.champion.length, self.strip.density(&self.champion.arrangement));
        }
    }

    fn heat(&mut self, meter: &mut Meter) -> Vec<State> {
        self.heats += 1;
        self.racers.heat(meter)
    }

    fn at_floor(&self) -> bool {
        self.champion.length <= self.floor * (1.0 + 1e-9)
    }

    fn compress(&mut self, span: Span, meter: &mut Meter) {
        self.best = self.champion.clone();
        let mut step = SLIVERS[0];
        self.start_all(step, COMPRESSING);
        while !meter.over(span) && !self.at_floor() {
            let states = self.heat(meter);
            step = SLIVERS[0] + (SLIVERS[1] - SLIVERS[0]) * span.progress(meter.spent());
            if let Some(winner) = states.iter().position(|state| *state == State::Solved) {
                self.adopt(winner, meter);
                self.start_all(step, COMPRESSING);
                continue;
            }
            for (racer, _) in states.iter().enumerate().filter(|(_, state)| **state == State::Stuck) {
                if self.adopt_spare(racer, step, meter) {
                    self.start_all(step, COMPRESSING);
                    break;
                }
                self.start(racer, step, COMPRESSING);
            }
        }
    }

    /// Sets all racers on the best arrangement, a share shorter.
    fn start_all(&mut self, step: f64, patience: Patience) {
        self.heats = 0;
        for racer in 0..RACERS {
            self.start(racer, step, patience);
        }
    }

    fn target(&self, step: f64) -> f64 {
        (self.best.length * (1.0 - step)).max(self.floor)
    }

    /// Cuts a sliver out of the best arrangement at a random line and moves what lies beyond it.
    fn start(&mut self, racer: usize, step: f64, patience: Patience) {
        let target = self.target(step);
        let sliver = self.best.length - target;
        let separator = self.racers.get(racer);
        let line = separator.random().between(0.0, self.best.length);
        separator.load(&self.best.moved_beyond(line, -sliver), target, patience);
    }
}
