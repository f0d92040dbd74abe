//! Seeks a better place for one item: samples, coordinate descent, and pushes that make it just touch.

use super::{Place, Separator, Thing};
use crate::nest::no_fit::WayOut;

/// How a search for a better place spends its trials.
#[derive(Clone, Copy, Debug)]
struct Sampling {
    /// Places anywhere on the cloth.
    anywhere: usize,
    /// How many of these are places where it touches another thing.
    touching: usize,
    /// Places near the present one.
    nearby: usize,
    /// How many of the best are refined.
    refined: usize,
}

const SAMPLING: Sampling = Sampling { anywhere: 30, touching: 10, nearby: 15, refined: 3 };

/// How often an item is pushed out of what it overlaps, at most.
const PUSHES: usize = 6;
/// How many pushes are tried each time, at most.
const MOST_PUSHES: usize = 12;

/// How far around a place neighbours are noted, as a multiple of the first step.
const REACH: f64 = 2.0;

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
    fn as_lying(&self, item: usize, way: usize) -> Thing {
        let shape = self.strip.shape_of(item, way);
        Thing { shape: shape as u32, half: self.strip.shapes.shape(shape).half_with_gap, ..self.things[item] }
    }

    /// The best place found for an item; at worst the one where it lies.
    pub(super) fn better_place(&mut self, item: usize) -> Place {
        let here = self.arrangement[item];
        let me = self.as_lying(item, here.way);
        let now = Place { way: here.way, at: here.at, cost: self.cost(item, &me, here.at, f64::INFINITY) };
        let mut kept: Vec<Place> = Vec::with_capacity(SAMPLING.refined + 1);
        kept.push(now);
        let mut samples = std::mem::take(&mut self.samples);
        self.draw_samples(item, &mut samples);
        for sample in &samples {
            let bound = if kept.len() < SAMPLING.refined { f64::INFINITY } else { kept[kept.len() - 1].cost };
            if sample.at_least >= bound {
                self.work += 1;
                continue;
            }
            let cost = self.cost(item, &sample.me, sample.me.at, bound);
            if cost < bound {
                let rank = kept.partition_point(|place| place.cost <= cost);
                kept.insert(rank, Place { way: sample.way, at: sample.me.at, cost });
                kept.truncate(SAMPLING.refined);
            }
        }
        self.samples = samples;
        let mut best = now;
        for place in kept {
            let place = self.refined(item, place, 0.25, 0.01);
            if place.cost < best.cost {
                best = place;
            }
        }
        let best = self.refined(item, best, 0.01, 0.001);
        self.pushed_out(item, best)
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

    /// Moves an item from a place just so far that it touches what it overlaps, one or two neighbours at a time, while
    /// that makes its overlaps less.
    fn pushed_out(&mut self, item: usize, start: Place) -> Place {
        let mut place = start;
        let me = self.as_lying(item, place.way);
        let half = self.strip.half(item, place.way);
        for _ in 0..PUSHES {
            if place.cost == 0.0 {
                break;
            }
            let ways_out = self.ways_out(item, &me, place.at);
            let single = ways_out.iter().map(|out| out.push);
            let double = ways_out
                .iter()
                .enumerate()
                .flat_map(|(k, a)| ways_out[..k].iter().filter_map(move |b| out_of_both(a, b)));
            let pushes: Vec<[f64; 2]> = single.chain(double).take(MOST_PUSHES).collect();
            let before = place.cost;
            for push in pushes {
                let at = [place.at[0] + push[0], place.at[1] + push[1]];
                let at = self.strip.onto_cloth(half, at, self.length);
                let cost = self.cost(item, &me, at, place.cost);
                if cost < place.cost {
                    place = Place { at, cost, ..place };
                    break;
                }
            }
            if place.cost >= before {
                break;
            }
        }
        place
    }

    /// The shortest push on an item out of each thing that it overlaps.
    fn ways_out(&self, item: usize, me: &Thing, at: [f64; 2]) -> Vec<WayOut> {
        let near = self.near(item, at, me.half).filter(|&other| self.depth(me, at, other) > 0.0);
        near.filter_map(|other| {
            let it = &self.things[other];
            let apart = [at[0] - it.at[0], at[1] - it.at[1]];
            self.strip.shapes.pairs().way_out(it.shape as usize, me.shape as usize, apart)
        })
        .collect()
    }

    /// Coordinate descent (after Loshchilov, Schoenauer and Sebag, 2011): a step along an axis or a diagonal that helps
    /// is kept and the next one is longer, one that does not makes the next one shorter. Steps are given as shares of
    /// the item's size.
    fn refined(&mut self, item: usize, start: Place, first_step: f64, last_step: f64) -> Place {
        let mut place = start;
        let me = self.as_lying(item, place.way);
        let half = self.strip.half(item, place.way);
        let size = half[0].min(half[1]) * 2.0;
        let mut step = first_step * size;
        let mut around = std::mem::take(&mut self.around);
        around.forget(REACH * step);
        while step > last_step * size && place.cost > 0.0 {
            let [dx, dy] = match self.random.index(4) {
                0 => [step, 0.0],
                1 => [0.0, step],
                2 => [step, step],
                _ => [step, -step],
            };
            let mut moved = false;
            for sign in [1.0, -1.0] {
                let at = [place.at[0] + sign * dx, place.at[1] + sign * dy];
                let at = self.strip.onto_cloth(half, at, self.length);
                let cost = self.cost_near(item, &me, at, place.cost, &mut around);
                if cost < place.cost {
                    place = Place { at, cost, ..place };
                    moved = true;
                    break;
                }
            }
            step *= if moved { 1.1 } else { 0.5 };
        }
        self.around = around;
        place
    }
}

/// The push that ends both of two overlaps, by moving onto the two nearest edges at once.
fn out_of_both(a: &WayOut, b: &WayOut) -> Option<[f64; 2]> {
    // Each push points straight at its edge: a move m reaches the edge when m · push = push · push.
    let [target_a, target_b] = [a, b].map(|out| out.depth * out.depth);
    let determinant = a.push[0] * b.push[1] - a.push[1] * b.push[0];
    let steep = determinant.abs() > 0.05 * a.depth * b.depth;
    steep.then(|| {
        [
            (target_a * b.push[1] - target_b * a.push[1]) / determinant,
            (target_b * a.push[0] - target_a * b.push[0]) / determinant,
        ]
    })
}
