//! How much of the budget is spent, and whether the search must end.

use std::time::Instant;

use super::task::{Budget, Ending, Progress, Watch};

/// Trials that one unit of effort pays for.
const TRIALS_PER_EFFORT: u64 = 5_000_000;

/// A part of the budget, by the shares spent at its start and at its end.
#[derive(Clone, Copy, Debug)]
pub struct Span {
    /// Share spent when it starts.
    pub from: f64,
    /// Share spent when it ends.
    pub to: f64,
}

impl Span {
    /// A part of this part.
    pub fn part(&self, from: f64, to: f64) -> Self {
        let size = self.to - self.from;
        Self { from: self.from + from * size, to: self.from + to * size }
    }

    /// How far through this part a share of the budget is: zero at its start, one at its end.
    pub fn progress(&self, spent: f64) -> f64 {
        ((spent - self.from) / (self.to - self.from).max(f64::MIN_POSITIVE)).clamp(0.0, 1.0)
    }
}

/// Watches the budget of a search.
pub struct Meter<'a> {
    budget: Budget,
    started: Instant,
    watch: &'a dyn Watch,
    work: u64,
    quiet: bool,
}

impl<'a> Meter<'a> {
    /// Starts the clock.
    pub fn new(budget: Budget, watch: &'a dyn Watch) -> Self {
        Self { budget, started: Instant::now(), watch, work: 0, quiet: false }
    }

    /// Notes trials that were made.
    pub fn add(&mut self, work: u64) {
        self.work += work;
    }

    /// Trials that were made.
    pub fn trials(&self) -> u64 {
        self.work
    }

    fn trials_paid(&self) -> u64 {
        self.budget.effort.saturating_mul(TRIALS_PER_EFFORT)
    }

    /// Share of the budget that is spent, by trials or by time, whichever is further; above one when it is overdrawn.
    pub fn spent(&self) -> f64 {
        let by_work = self.work as f64 / (self.trials_paid() as f64).max(1.0);
        let by_time = self
            .budget
            .time
            .map_or(0.0, |time| self.started.elapsed().as_secs_f64() / time.as_secs_f64().max(f64::MIN_POSITIVE));
        by_work.max(by_time)
    }

    /// Trials that are left of a part of the budget, as far as it is counted in trials.
    pub fn trials_left(&self, span: Span) -> u64 {
        ((span.to * self.trials_paid() as f64) as u64).saturating_sub(self.work)
    }

    /// Whether somebody wants the search to end at once.
    pub fn interrupted(&self) -> bool {
        self.watch.interrupted()
    }

    /// Why the search must end now, if it must.
    pub fn ended(&self) -> Option<Ending> {
        if self.watch.interrupted() {
            Some(Ending::Interrupted)
        } else if self.budget.time.is_some_and(|time| self.started.elapsed() >= time) {
            Some(Ending::TimeUp)
        } else if self.work >= self.trials_paid() {
            Some(Ending::EffortSpent)
        } else {
            None
        }
    }

    /// Whether a part of the budget, or all of it, is spent, or the search must end.
    pub fn over(&self, span: Span) -> bool {
        self.spent() >= span.to || self.ended().is_some()
    }

    /// Holds reports back while a part of a lay is at work, whose length says nothing to the person; tells whether they
    /// were held back before.
    pub fn set_quiet(&mut self, quiet: bool) -> bool {
        std::mem::replace(&mut self.quiet, quiet)
    }

    /// Tells the watcher what share of the budget is spent.
    pub fn report_spent(&self) {
        self.watch.report(Progress { spent: self.spent().min(1.0), length: None, density: None });
    }

    /// Tells the watcher how far the search has come.
    pub fn report(&self, length: f64, density: f64) {
        if self.quiet {
            return;
        }
        let progress = Progress { spent: self.spent().min(1.0), length: Some(length), density: Some(density) };
        self.watch.report(progress);
    }
}
