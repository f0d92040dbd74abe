//! Several searches for one goal, side by side; the first, by number, that gets there wins.

use rayon::prelude::*;

use super::meter::Meter;
use super::random::Random;
use super::separate::{Separator, State};
use super::strip::Strip;

/// Searches that race. The number is fixed, so that the outcome does not depend on the machine.
pub const RACERS: usize = 2;

/// Trials between two looks at the race.
const QUANTUM: u64 = 4_000;

/// Searches on one strip that differ in their random numbers.
pub struct Racers<'a>(Vec<Separator<'a>>);

impl<'a> Racers<'a> {
    /// Searches whose random numbers follow from the seed and the number of their goal, which is above zero: the first
    /// streams of a seed are those of `tighten`.
    pub fn new(strip: &'a Strip<'a>, seed: u64, goal: u64) -> Self {
        let random = |racer: u64| Random::new(seed, goal * RACERS as u64 + racer);
        Self((0..RACERS as u64).map(|racer| Separator::new(strip, random(racer))).collect())
    }

    /// One of the searches.
    pub fn get(&mut self, racer: usize) -> &mut Separator<'a> {
        &mut self.0[racer]
    }

    /// Runs all searches for a while and tells how each fares.
    pub fn heat(&mut self, meter: &mut Meter) -> Vec<State> {
        let before: u64 = self.0.iter().map(Separator::work).sum();
        let states = self.0.par_iter_mut().map(|racer| racer.run(QUANTUM)).collect();
        let after: u64 = self.0.iter().map(Separator::work).sum();
        meter.add(after - before);
        states
    }
}
