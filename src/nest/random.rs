//! Random numbers that are the same on every machine.

use rand_xoshiro::Xoshiro256PlusPlus;
use rand_xoshiro::rand_core::{Rng, SeedableRng};

/// A stream of random numbers, one for each numbered task of a search.
#[derive(Clone, Debug)]
pub struct Random(Xoshiro256PlusPlus);

impl Random {
    /// The stream of a task.
    pub fn new(seed: u64, task: u64) -> Self {
        let mixed = seed.wrapping_mul(0x9E37_79B9_7F4A_7C15).wrapping_add(task.wrapping_mul(0xD1B5_4A32_D192_ED03));
        Self(Xoshiro256PlusPlus::seed_from_u64(mixed))
    }

    /// From 0 up to, but not including, 1.
    #[inline]
    pub fn share(&mut self) -> f64 {
        (self.0.next_u64() >> 11) as f64 / (1u64 << 53) as f64
    }

    /// Between two numbers.
    #[inline]
    pub fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.share()
    }

    /// One of `0 … count − 1`.
    #[inline]
    pub fn index(&mut self, count: usize) -> usize {
        ((u128::from(self.0.next_u64()) * count as u128) >> 64) as usize
    }

    /// Puts a list into a random order.
    pub fn shuffle<T>(&mut self, list: &mut [T]) {
        for k in (1..list.len()).rev() {
            list.swap(k, self.index(k + 1));
        }
    }
}
