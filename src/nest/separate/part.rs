//! Parts all items at once where their overlaps are few and small, which one item at a time takes very long to do: the
//! separation of Li and Milenkovic (1995) within the search for one length.

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

#[cfg(test)]
mod tests {
    use crate::nest::compact::is_sound;
    use crate::nest::separate::State;
    use crate::nest::separate::tests::{rectangle, with_pieces};

    /// Three squares that need 120 in a row and overlap a little, on cloth of a length.
    fn with_squares(length: f64, see: impl FnOnce(&mut super::Separator)) {
        let pieces = [rectangle(40.0, 40.0), rectangle(40.0, 40.0), rectangle(40.0, 40.0)];
        with_pieces(&pieces, &[[20.0, 20.0], [59.0, 20.0], [98.5, 20.0]], [length, 80.0], see);
    }

    #[test]
    fn where_there_is_room_all_items_are_parted_and_the_search_is_at_its_end() {
        with_squares(120.5, |separator| {
            assert!(separator.best().1 > 0.0);
            separator.part_together();
            assert_eq!(separator.run(1), State::Solved);
            assert!(is_sound(separator.strip, separator.arrangement()));
            assert!(separator.take_spare().is_none());
        });
    }

    #[test]
    fn where_a_little_room_is_missing_what_comes_near_is_put_aside_once() {
        with_squares(119.95, |separator| {
            separator.part_together();
            assert!(separator.best().1 > 0.0);
            let spare = separator.take_spare().expect("it misses the length by less than a thousandth");
            assert!(is_sound(separator.strip, &spare));
            assert!((separator.strip.length_of(&spare) - 120.0).abs() < 1e-3);
            separator.part_together();
            assert!(separator.take_spare().is_none(), "the same is not tried again");
        });
    }
}
