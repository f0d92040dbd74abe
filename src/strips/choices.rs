//! Which rolls to buy: every choice that is long enough, the cheapest first, and of those that cost the same the shortest.

use std::cmp::Ordering;
use std::collections::BinaryHeap;

use super::Ticks;
use super::task::Roll;

/// Choices that are looked at before the search gives up; thousands of rolls of one kind take fewer.
const MOST: usize = 200_000;

/// How many of each kind are bought.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Choice {
    pub cost: f64,
    pub length: Ticks,
    pub counts: Vec<u32>,
    /// Only this kind and later ones may be added, so that each choice is made once.
    last: usize,
}

/// The choices among some rolls that are long enough.
pub(super) struct Choices<'r> {
    rolls: &'r [Roll],
    need: Ticks,
    heap: BinaryHeap<Choice>,
    seen: usize,
}

impl<'r> Choices<'r> {
    /// `rolls` are those that cost something; `need` is what must be bought at least.
    pub fn new(rolls: &'r [Roll], need: Ticks) -> Self {
        let none = Choice { cost: 0.0, length: 0, counts: vec![0; rolls.len()], last: 0 };
        Self { rolls, need, heap: BinaryHeap::from([none]), seen: 0 }
    }

    fn add_larger(&mut self, choice: &Choice) {
        for kind in choice.last..self.rolls.len() {
            let roll = &self.rolls[kind];
            if roll.count.is_some_and(|count| choice.counts[kind] >= count) {
                continue;
            }
            let mut counts = choice.counts.clone();
            counts[kind] += 1;
            let cost = counts.iter().zip(self.rolls).map(|(count, roll)| f64::from(*count) * roll.price).sum();
            self.heap.push(Choice { cost, length: choice.length + roll.ticks(), counts, last: kind });
        }
    }
}

impl Iterator for Choices<'_> {
    type Item = Choice;

    fn next(&mut self) -> Option<Choice> {
        while let Some(choice) = self.heap.pop() {
            self.seen += 1;
            if self.seen > MOST {
                return None;
            }
            self.add_larger(&choice);
            if choice.length >= self.need {
                return Some(choice);
            }
        }
        None
    }
}

impl Eq for Choice {}

impl PartialOrd for Choice {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

/// The greatest of a heap is the cheapest choice.
impl Ord for Choice {
    fn cmp(&self, other: &Self) -> Ordering {
        let by_cost = other.cost.total_cmp(&self.cost);
        by_cost.then(other.length.cmp(&self.length)).then_with(|| other.counts.cmp(&self.counts))
    }
}
