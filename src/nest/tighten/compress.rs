//! Compression: takes ever smaller slivers from the best lay (the second phase of Gardeyn, Vanden Berghe and Wauters, 2025).

use super::{Lay, Search, Span};
use crate::nest::meter::Meter;
use crate::nest::separate::{Patience, State};

const PATIENCE: Patience = Patience { passes: 100, strikes: 5 };
/// Shares of the length that are cut off at a time, at the start and at the end.
const SLIVERS: [f64; 2] = [0.0005, 0.000_01];

impl Search<'_> {
    /// Turns from exploration to compression of a lay, the shortest of all searches.
    pub(super) fn start_compressing(&mut self, shortest: Lay) {
        self.take_over(shortest);
        self.start(SLIVERS[0], PATIENCE);
    }

    /// Makes some trials to shorten the best lay by slivers.
    pub(super) fn compress(&mut self, trials: u64, span: Span, meter: &Meter) {
        let step = || SLIVERS[0] + (SLIVERS[1] - SLIVERS[0]) * span.progress(meter.spent());
        if let Some(rival) = self.rival.take() {
            self.take_over(rival);
            self.start(step(), PATIENCE);
        }
        let end = self.trials() + trials;
        while self.trials() < end && !meter.over(span) && !self.at_floor() {
            match self.run() {
                State::Working => continue,
                State::Solved => self.adopt(),
                State::Stuck => {
                    self.adopt_spare(step());
                }
            }
            self.start(step(), PATIENCE);
        }
    }
}
