//! Removes overlaps on a length of cloth: one item at a time goes to its least-overlap place, and where overlaps have
//! become small all of them move at once.
//!
//! The frame is that of Gardeyn, Vanden Berghe and Wauters (2025): items in conflict move, in random order, to the best place
//! that is found from some samples; pairs that stay in conflict weigh more from pass to pass (guided local search), and after too
//! many passes without progress the best arrangement so far is taken up again with the weights as they are. Another is the measure
//! of overlap: penetration depth by no-fit polygons (Imamichi, Yagiura and Nagamochi, 2009), which is exact, so that items can come
//! to touch. Its slope leads from a sample downhill (`descend`).

mod around;
mod conflicts;
mod descend;
mod owners;
mod part;
mod seek;
mod slide;

use super::bands::Bands;
use super::random::Random;
use super::strip::{Arrangement, Lying, Strip};
use conflicts::Conflicts;
use owners::Owners;
use seek::Sample;

/// Grid steps below which a depth is rounding and no overlap.
const TOUCH_STEPS: f64 = 5.0;

/// The depth up to which two items touch and do not overlap.
pub fn touch_of(strip: &Strip) -> f64 {
    TOUCH_STEPS * strip.shapes.unit()
}

/// Whether a search for an arrangement without overlap has come to an end.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum State {
    /// No two items overlap.
    Solved,
    /// There is more to try.
    Working,
    /// It has struck too often.
    Stuck,
}

/// How long to try before giving up.
#[derive(Clone, Copy, Debug)]
pub struct Patience {
    /// Passes without a better arrangement that make a strike.
    pub passes: u32,
    /// Strikes without progress that end the search.
    pub strikes: u32,
}

/// A search for an arrangement without overlap.
pub struct Separator<'a> {
    strip: &'a Strip<'a>,
    length: f64,
    arrangement: Arrangement,
    /// Shape, middle and half box with gap of each item, then of each obstacle.
    things: Vec<Thing>,
    bands: Bands,
    conflicts: Conflicts,
    touch: f64,
    random: Random,
    work: u64,
    patience: Patience,
    passes: u32,
    strikes: u32,
    strike_start: f64,
    best: Arrangement,
    best_total: f64,
    together: part::Together,
    descent: descend::Descent<'a>,
    owners: Owners,
    samples: Vec<Sample>,
}

#[derive(Clone, Copy, Debug)]
struct Thing {
    shape: u32,
    bulk: f32,
    at: [f64; 2],
    half: [f64; 2],
}

/// A place under trial.
#[derive(Clone, Copy, Debug)]
struct Place {
    way: usize,
    at: [f64; 2],
    cost: f64,
}

impl<'a> Separator<'a> {
    /// A search that starts from an arrangement on a length.
    pub fn new(strip: &'a Strip<'a>, random: Random) -> Self {
        let count = strip.items.len() + strip.obstacles.len();
        Self {
            strip,
            length: 0.0,
            arrangement: Vec::new(),
            things: Vec::new(),
            bands: Bands::new(0, [0.0; 2], [1.0; 2], [1, 1]),
            conflicts: Conflicts::new(strip.items.len(), count),
            touch: touch_of(strip),
            random,
            work: 0,
            patience: Patience { passes: 0, strikes: 0 },
            passes: 0,
            strikes: 0,
            strike_start: 0.0,
            best: Vec::new(),
            best_total: f64::INFINITY,
            together: part::Together::default(),
            descent: descend::Descent::default(),
            owners: Owners::default(),
            samples: Vec::new(),
        }
    }

    /// Takes up an arrangement on a length, with all weights at one.
    pub fn load(&mut self, arrangement: &[Lying], length: f64, patience: Patience) {
        self.length = length;
        self.conflicts.reset();
        self.patience = patience;
        self.passes = 0;
        self.strikes = 0;
        self.place_all(arrangement);
        self.best = self.arrangement.clone();
        self.best_total = self.conflicts.total();
        self.strike_start = self.best_total;
        self.together = part::Together::default();
    }

    fn place_all(&mut self, arrangement: &[Lying]) {
        let strip = self.strip;
        let count = strip.items.len() + strip.obstacles.len();
        self.arrangement = arrangement.to_vec();
        let thing = |shape: usize, at: [f64; 2], bulk: f64| Thing {
            shape: shape as u32,
            bulk: bulk.sqrt() as f32,
            at,
            half: strip.shapes.shape(shape).half_with_gap,
        };
        self.things.clear();
        for (item, lying) in self.arrangement.iter_mut().enumerate() {
            if !strip.admits(item, lying.way, self.length) {
                // The cloth has become too short for this way; another will do, or the length would not be asked for.
                let ways = 0..strip.ways(item).len();
                lying.way = ways.into_iter().find(|&way| strip.admits(item, way, self.length)).unwrap_or(lying.way);
            }
            lying.at = strip.onto_cloth(strip.half(item, lying.way), lying.at, self.length);
            self.things.push(thing(strip.ways(item)[lying.way].shape, lying.at, strip.bulk(item)));
        }
        for &(shape, at) in &strip.obstacles {
            let half = strip.shapes.shape(shape).half;
            self.things.push(thing(shape, at, (4.0 * half[0] * half[1]).sqrt()));
        }
        let width = strip.usable[1] - strip.usable[0];
        let across = ((count as f64).sqrt() as usize * 2).clamp(8, 32);
        let along = ((across as f64 * self.length / width) as usize).clamp(8, 128);
        self.bands = Bands::new(count, [0.0, strip.usable[0]], [self.length, strip.usable[1]], [along, across]);
        self.owners.cover([0.0, strip.usable[0]], [self.length, strip.usable[1]], count);
        for (k, thing) in self.things.iter().enumerate() {
            self.bands.insert(k, thing.at, thing.half);
        }
        self.conflicts.clear_all();
        for item in 0..strip.items.len() {
            self.measure(item);
        }
    }

    /// Trials so far: places looked at, and what linear programmes take in their stead.
    pub fn work(&self) -> u64 {
        self.work
    }

    /// The arrangement as it stands.
    pub fn arrangement(&self) -> &Arrangement {
        &self.arrangement
    }

    /// The best arrangement since the last load and the sum of its overlaps.
    pub fn best(&self) -> (&Arrangement, f64) {
        (&self.best, self.best_total)
    }

    /// Random numbers of this search.
    pub fn random(&mut self) -> &mut Random {
        &mut self.random
    }

    /// Works for about `quantum` trials, or until the search ends.
    pub fn run(&mut self, quantum: u64) -> State {
        let end = self.work + quantum;
        while self.work < end {
            if self.best_total == 0.0 {
                return State::Solved;
            }
            self.pass();
            self.conflicts.raise_weights();
            let total = self.conflicts.total();
            if total < self.best_total {
                // Only real progress buys more passes; creeping does not.
                if total < 0.98 * self.best_total {
                    self.passes = 0;
                }
                self.best_total = total;
                self.best.clone_from(&self.arrangement);
            }
            self.passes += 1;
            if self.passes.is_multiple_of(part::EVERY) {
                self.part_together();
            }
            if self.passes > self.patience.passes {
                self.strikes = if self.best_total < 0.98 * self.strike_start { 1 } else { self.strikes + 1 };
                if self.strikes >= self.patience.strikes {
                    return State::Stuck;
                }
                self.passes = 0;
                self.strike_start = self.best_total;
                let best = std::mem::take(&mut self.best);
                self.place_all(&best);
                self.best = best;
            }
        }
        if self.best_total == 0.0 { State::Solved } else { State::Working }
    }

    /// Each item in conflict, in random order, goes to a better place.
    fn pass(&mut self) {
        let mut conflicting = self.conflicts.items();
        self.random.shuffle(&mut conflicting);
        self.owners.keep_up(&self.things);
        for item in conflicting {
            if self.conflicts.has(item) {
                let place = self.better_place(item);
                self.put(item, place);
            }
        }
    }

    fn put(&mut self, item: usize, place: Place) {
        let old = self.things[item];
        self.bands.remove(item, old.at, old.half);
        let shape = self.strip.ways(item)[place.way].shape;
        self.arrangement[item] = Lying { way: place.way, at: place.at };
        let thing = &mut self.things[item];
        thing.shape = shape as u32;
        thing.at = place.at;
        thing.half = self.strip.shapes.shape(shape).half_with_gap;
        let new = *thing;
        self.bands.insert(item, new.at, new.half);
        self.conflicts.clear(item);
        self.measure(item);
    }

    /// Fills in the depths of one item against everything near it.
    fn measure(&mut self, item: usize) {
        let me = self.things[item];
        for other in self.bands.under(self.bands.reach(me.at, me.half)).filter(|&other| other != item) {
            let depth = self.depth(&me, me.at, other) as f32;
            self.conflicts.note(item, other, depth);
        }
    }

    /// Depth, weighed by bulk, of a thing put at a point in another.
    #[inline(always)]
    fn depth(&self, me: &Thing, at: [f64; 2], other: usize) -> f64 {
        let it = &self.things[other];
        let apart = [it.at[0] - at[0], it.at[1] - at[1]];
        let boxes_meet = apart[0].abs() < me.half[0] + it.half[0] && apart[1].abs() < me.half[1] + it.half[1];
        if boxes_meet { self.depth_by_no_fit(me, it, apart) } else { 0.0 }
    }

    fn depth_by_no_fit(&self, me: &Thing, it: &Thing, apart: [f64; 2]) -> f64 {
        let depth = self.strip.shapes.pairs().depth(me.shape as usize, it.shape as usize, apart);
        if depth <= self.touch { 0.0 } else { depth * f64::from(me.bulk * it.bulk) }
    }

    /// The weighed overlap of an item at a place; once it passes `bound` it is only known to be above it.
    #[inline]
    fn cost(&mut self, item: usize, me: &Thing, at: [f64; 2], bound: f64) -> f64 {
        self.work += 1;
        let weights = self.conflicts.weights_of(item);
        let mut total = 0.0;
        for other in self.near(item, at, me.half) {
            let depth = self.depth(me, at, other);
            if depth > 0.0 {
                total += depth * f64::from(weights[other]);
                if total >= bound {
                    return total;
                }
            }
        }
        total
    }

    /// What may lie under a box, but for the item itself.
    #[inline(always)]
    fn near(&self, item: usize, at: [f64; 2], half: [f64; 2]) -> impl Iterator<Item = usize> {
        self.bands.under(self.bands.reach(at, half)).filter(move |&other| other != item)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::nest::shapes::Shapes;
    use crate::nest::task::Piece;
    use crate::nest::test_pieces::piece;

    /// A separator of pieces that lie on cloth of a length and a width with their middles at some places.
    pub(super) fn with_pieces(
        pieces: &[Vec<[f64; 2]>],
        middles: &[[f64; 2]],
        [length, width]: [f64; 2],
        see: impl FnOnce(&mut Separator),
    ) {
        let pieces: Vec<Piece> = pieces.iter().map(|corners| piece(corners, 1, &[0.0])).collect();
        let shapes = Shapes::new(&pieces, &[], false, 0.0).expect("no gap");
        let strip = Strip::new(&shapes, (0..pieces.len()).collect(), [0.0, width], pieces.len()..pieces.len(), false);
        let lying: Vec<Lying> = middles.iter().map(|&at| Lying { way: 0, at }).collect();
        let mut separator = Separator::new(&strip, Random::new(1, 0));
        separator.load(&lying, length, Patience { passes: 1, strikes: 1 });
        see(&mut separator);
    }

    pub(super) fn rectangle(length: f64, width: f64) -> Vec<[f64; 2]> {
        vec![[0.0, 0.0], [length, 0.0], [length, width], [0.0, width]]
    }
}
