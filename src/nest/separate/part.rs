//! Parts all items at once where their overlaps are few and small, which one item at a time takes very long to do.

use super::Separator;
use crate::nest::compact::parted;
use crate::nest::strip::Arrangement;

/// Passes after which it is tried, where they led to smaller overlaps.
pub(super) const EVERY: u32 = 50;

/// What came of parting all items at once since the last load.
pub(super) struct Together {
    /// The sum of overlaps of the arrangement that it was last tried with.
    tried_total: f64,
    /// The shortest arrangement without overlap that it led to, if that is longer than was asked.
    spare: Option<Arrangement>,
}

impl Default for Together {
    fn default() -> Self {
        Self { tried_total: f64::INFINITY, spare: None }
    }
}

impl Separator<'_> {
    /// An arrangement without overlap, a little longer than was asked, that was found by the way.
    pub fn take_spare(&mut self) -> Option<Arrangement> {
        self.together.spare.take()
    }

    /// Tries to part all items of the best arrangement at once, if that has not been tried yet.
    pub(super) fn part_together(&mut self) {
        if self.best_total >= self.together.tried_total {
            return;
        }
        self.together.tried_total = self.best_total;
        let Some(parted) = parted(self.strip, &self.best, self.length, &mut self.work) else { return };
        let length = self.strip.length_of(&parted);
        if length <= self.length {
            self.place_all(&parted);
            self.best_total = self.conflicts.total();
            self.best.clone_from(&self.arrangement);
        } else if self.together.spare.as_ref().is_none_or(|spare| length < self.strip.length_of(spare)) {
            self.together.spare = Some(parted);
        }
    }
}
