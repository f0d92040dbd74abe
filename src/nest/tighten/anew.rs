//! Beginning anew: where no detour leads further, the search goes back to the very first lay and takes another way, with
//! detours of its own.
//!
//! How short a lay becomes hangs on the course that was taken early: on small jobs one search stands still after a few
//! seconds where another with other random numbers goes on. So a new way gets as much time as the champion took, or a
//! part of all time where that is more; then the search goes back to the champion for as long. A new way that gets below
//! the champion is the one that it keeps to.

use super::explore::Courses;
use super::{Lay, Search};

/// Detours in a row that have failed before the search begins anew.
const DETOURS_FAILED: u32 = 3;
/// Share of all trials so far that a new way gets at least.
const LEAST_OF_ALL: f64 = 0.125;

/// A way that was begun anew.
pub(super) struct NewWay {
    /// The shortest lay on it.
    shortest: Lay,
    /// The courses that led to the champion.
    left: Courses,
    /// Trials at which it began, and at which it ends.
    began: u64,
    ends: u64,
}

/// When the search has been on which way, in trials.
#[derive(Default)]
pub(super) struct Diary {
    /// When the champion was found.
    gained: u64,
    /// When the search came back from the last new way.
    came_back: u64,
    /// How long it was on that.
    last_way: u64,
}

impl Search<'_> {
    /// The shortest lay on the present way: the champion, but for one that was begun anew.
    pub(super) fn shortest(&self) -> &Lay {
        self.new_way.as_ref().map_or(&self.champion, |way| &way.shortest)
    }

    /// Takes note of a lay that the search has come to.
    pub(super) fn note_shortest(&mut self) {
        if self.best.length < self.champion.length {
            self.champion = self.best.clone();
            self.keep_to_champion();
        } else if let Some(way) = self.new_way.as_mut().filter(|way| self.best.length < way.shortest.length) {
            way.shortest = self.best.clone();
        }
    }

    /// Makes the way that led to the champion, which has just been found, the only one.
    pub(super) fn keep_to_champion(&mut self) {
        self.diary.gained = self.trials();
        self.new_way = None;
    }

    /// Whether it is time to begin anew: detours have failed, and for as long as the last new way took.
    pub(super) fn wants_to_begin_anew(&self) -> bool {
        let Diary { came_back, last_way, .. } = self.diary;
        self.new_way.is_none() && self.courses.detours_failed >= DETOURS_FAILED && self.trials() - came_back >= last_way
    }

    /// Starts from the very first lay, with much disorder.
    pub(super) fn begin_anew(&mut self) {
        let began = self.trials();
        let time = self.diary.gained.max((LEAST_OF_ALL * began as f64) as u64);
        let courses = self.courses.for_new_way(self.first.length);
        let left = std::mem::replace(&mut self.courses, courses);
        self.new_way = Some(NewWay { shortest: self.first.clone(), left, began, ends: began + time });
        self.start_in_disorder(self.first.clone());
    }

    /// Goes back to the champion if the time of a new way is over.
    pub(super) fn give_up_new_way(&mut self) {
        let now = self.trials();
        if let Some(way) = self.new_way.take_if(|way| now >= way.ends) {
            self.diary.came_back = now;
            self.diary.last_way = now - way.began;
            self.courses = way.left;
            self.courses.detours_failed = 0;
            self.best = self.champion.clone();
            self.leave_course();
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::tests::with_search;
    use super::*;
    use crate::nest::compact::is_sound;
    use crate::nest::meter::Span;

    const ALL: Span = Span { from: 0.0, to: 1.0 };

    #[test]
    fn it_begins_anew_when_detours_have_failed_for_as_long_as_the_last_new_way_took() {
        with_search(|search, _| {
            search.courses.detours_failed = DETOURS_FAILED - 1;
            assert!(!search.wants_to_begin_anew());
            search.courses.detours_failed += 1;
            assert!(search.wants_to_begin_anew());
            search.diary = Diary { came_back: search.trials(), last_way: 1, ..Diary::default() };
            assert!(!search.wants_to_begin_anew());
            search.diary.last_way = 0;
            search.begin_anew();
            search.courses.detours_failed = DETOURS_FAILED;
            assert!(!search.wants_to_begin_anew(), "not on a way that was begun anew");
        });
    }

    #[test]
    fn a_new_way_starts_from_the_first_lay_and_leads_back_to_the_champion() {
        with_search(|search, meter| {
            search.explore(200_000, ALL, meter);
            let (champion, detours) = (search.champion.clone(), search.courses.detours);
            assert!(champion.length < 0.9 * search.first.length);
            search.diary.gained = 100_000;
            search.begin_anew();
            assert_eq!(search.shortest().length, search.first.length);
            search.explore(20_000, ALL, meter);
            assert!(search.shortest().length < search.first.length && search.new_way.is_some());
            assert!(is_sound(search.strip, &search.shortest().arrangement));
            assert!(search.champion.arrangement == champion.arrangement);
            search.explore(100_000, ALL, meter);
            assert!(search.new_way.is_none());
            assert!((100_000..110_000).contains(&search.diary.last_way), "{}", search.diary.last_way);
            assert!(search.champion.length <= champion.length && search.courses.detours > detours);
        });
    }

    #[test]
    fn a_new_way_that_gets_below_the_champion_is_kept_to() {
        with_search(|search, meter| {
            search.champion = search.first.clone();
            search.diary.gained = u64::MAX / 4;
            search.courses.detours = 7;
            search.begin_anew();
            search.explore(50_000, ALL, meter);
            assert!(search.new_way.is_none() && search.courses.detours < 7);
            assert!(search.champion.length < search.first.length);
            assert!(search.diary.gained <= search.trials());
        });
    }
}
