//! Seeks a better place for one item: samples anywhere and nearby (as Gardeyn, Vanden Berghe and Wauters, 2025, take them),
//! some of which touch something, and the best of which slide downhill.

use super::{Place, Separator, Thing};

/// How a search for a better place spends its trials.
#[derive(Clone, Copy, Debug)]
struct Sampling {
    /// Places anywhere on the cloth.
    anywhere: usize,
    /// How many of these are places where it touches another thing.
    touching: usize,
    /// Places near the present one.
    nearby: usize,
    /// How many of the best slide downhill.
    best: usize,
}

const SAMPLING: Sampling = Sampling { anywhere: 20, touching: 10, nearby: 10, best: 2 };

/// A place to be tried.
#[derive(Clone, Copy, Debug)]
pub(super) struct Sample {
    way: usize,
    /// The item as it would lie there.
    me: Thing,
    /// What the place costs at least.
    at_least: f64,
}

impl Separator<'_> {
    pub(super) fn as_lying(&self, item: usize, way: usize) -> Thing {
        let shape = self.strip.shape_of(item, way);
        Thing { shape: shape as u32, half: self.strip.shapes.shape(shape).half_with_gap, ..self.things[item] }
    }

    /// The best place found for an item; at worst the one where it lies.
    pub(super) fn better_place(&mut self, item: usize) -> Place {
        let here = self.arrangement[item];
        let me = self.as_lying(item, here.way);
        let now = Place { way: here.way, at: here.at, cost: self.cost(item, &me, here.at, f64::INFINITY) };
        let mut kept: Vec<Place> = Vec::with_capacity(SAMPLING.best + 1);
        kept.push(now);
        let mut samples = std::mem::take(&mut self.samples);
        self.draw_samples(item, &mut samples);
        for sample in &samples {
            let bound = if kept.len() < SAMPLING.best { f64::INFINITY } else { kept[kept.len() - 1].cost };
            if kept[0].cost == 0.0 {
                break;
            }
            if sample.at_least >= bound {
                self.work += 1;
                continue;
            }
            let cost = self.cost(item, &sample.me, sample.me.at, bound);
            if cost < bound {
                let rank = kept.partition_point(|place| place.cost <= cost);
                kept.insert(rank, Place { way: sample.way, at: sample.me.at, cost });
                kept.truncate(SAMPLING.best);
            }
        }
        self.samples = samples;
        let mut best = now;
        for place in kept {
            let place = self.descended(item, place);
            if place.cost < best.cost {
                best = place;
            }
            if best.cost == 0.0 {
                break;
            }
        }
        best
    }

    /// Draws places for an item, and reckons what each costs at least. Those nearby come first: they are better mostly,
    /// and what is worse is known to be so the sooner.
    fn draw_samples(&mut self, item: usize, samples: &mut Vec<Sample>) {
        samples.clear();
        let strip = self.strip;
        let here = self.arrangement[item];
        let ways = strip.ways(item).len();
        let half = self.things[item].half;
        let spread = [0, 1].map(|axis| 0.5 * half[axis].max(half[1 - axis] * 0.2));
        for trial in 0..SAMPLING.nearby + SAMPLING.anywhere {
            let nearby = trial < SAMPLING.nearby;
            let way = if nearby && ways > 1 && trial % 2 == 0 { here.way } else { self.random.index(ways) };
            if !strip.admits(item, way, self.length) {
                continue;
            }
            let half = strip.half(item, way);
            let at = if nearby {
                [0, 1].map(|axis| here.at[axis] + self.random.between(-spread[axis], spread[axis]))
            } else if trial < SAMPLING.nearby + SAMPLING.touching {
                self.touching_some(item, strip.shape_of(item, way))
            } else {
                [
                    self.random.between(half[0], self.length - half[0]),
                    self.random.between(strip.usable[0] + half[1], strip.usable[1] - half[1]),
                ]
            };
            let at = strip.onto_cloth(half, at, self.length);
            samples.push(Sample { way, me: Thing { at, ..self.as_lying(item, way) }, at_least: 0.0 });
        }
        let weights = self.conflicts.weights_of(item);
        for sample in samples.iter_mut() {
            let owner = self.owners.at(sample.me.at);
            if owner != item {
                let depth = self.depth(&sample.me, sample.me.at, owner);
                sample.at_least = depth * f64::from(weights[owner]);
            }
        }
    }

    /// A place where a shape touches some other thing, or where the item lies.
    fn touching_some(&mut self, item: usize, shape: usize) -> [f64; 2] {
        let other = self.random.index(self.things.len());
        let (which, share) = (self.random.share(), self.random.share());
        if other == item {
            return self.things[item].at;
        }
        let it = &self.things[other];
        let apart = self.strip.shapes.pairs().touching(it.shape as usize, shape, which, share);
        [it.at[0] + apart[0], it.at[1] + apart[1]]
    }
}
