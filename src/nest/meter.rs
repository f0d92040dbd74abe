//! How much of the budget is spent, and whether the search must end.

use std::time::Instant;

use super::task::{Budget, Ending, Progress, Watch};

/// Trials that one unit of effort pays for.
const TRIALS_PER_EFFORT: u64 = 1_000_000;

/// Watches the budget of a search.
pub struct Meter<'a> {
    budget: Budget,
    started: Instant,
    watch: &'a dyn Watch,
    work: u64,
}

impl<'a> Meter<'a> {
    /// Starts the clock.
    pub fn new(budget: Budget, watch: &'a dyn Watch) -> Self {
        Self { budget, started: Instant::now(), watch, work: 0 }
    }

    /// Notes trials that were made.
    pub fn add(&mut self, work: u64) {
        self.work += work;
    }

    /// Share of the budget that is spent, by trials or by time, whichever is further; above one when it is overdrawn.
    pub fn spent(&self) -> f64 {
        let by_work = self.work as f64 / (self.budget.effort as f64 * TRIALS_PER_EFFORT as f64).max(1.0);
        let by_time = self
            .budget
            .time
            .map_or(0.0, |time| self.started.elapsed().as_secs_f64() / time.as_secs_f64().max(f64::MIN_POSITIVE));
        by_work.max(by_time)
    }

    /// Why the search must end now, if it must.
    pub fn ended(&self) -> Option<Ending> {
        if self.watch.interrupted() {
            Some(Ending::Interrupted)
        } else if self.budget.time.is_some_and(|time| self.started.elapsed() >= time) {
            Some(Ending::TimeUp)
        } else if self.work >= self.budget.effort.saturating_mul(TRIALS_PER_EFFORT) {
            Some(Ending::EffortSpent)
        } else {
            None
        }
    }

    /// Tells the watcher how far the search has come.
    pub fn report(&self, length: f64, density: f64) {
        let progress = Progress { spent: self.spent().min(1.0), length: Some(length), density: Some(density) };
        self.watch.report(progress);
    }
}
