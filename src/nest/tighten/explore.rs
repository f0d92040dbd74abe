//! Exploration: looks far and wide for shorter lays.
//!
//! A failed attempt is disrupted and tried again at the same length, as Gardeyn, Vanden Berghe and Wauters (2025) do, but
//! mostly by a change of an item or two: after a great one few attempts come near again. Where a length resists all the
//! same, the cloth is made a little longer and a part of the lay thrown into disorder (iterated local search); from there
//! it becomes shorter by another course. Which does better, detours or the course that they leave, differs from job to job
//! and from lay to lay: at first they get the same time, then the course less and less as long as nothing comes of it, and
//! more where something does. What was learnt of one course is kept for the next. Where detours fail too, the search begins
//! anew (`anew`).

use super::pool::Pool;
use super::{Lay, Search, WORTH};
use crate::nest::disrupt::{disrupt, disrupt_much};
use crate::nest::meter::{Meter, Span};
use crate::nest::separate::{Patience, State};

const PATIENCE: Patience = Patience { passes: 200, strikes: 3 };

/// Shares of the length that are cut off at a time: the first, the least and the greatest.
const FIRST_STEP: f64 = 0.005;
const LEAST_STEP: f64 = 0.001;
const GREATEST_STEP: f64 = 0.02;

/// A course seems to lead nowhere after so many failures in a row …
const FAILURES: u32 = 30;
/// … that took this share of the trials that it took to get there.
const IN_VAIN: f64 = 0.3;
/// Shares of the length by which the cloth is then made longer, at least and at most.
const LONGER: [f64; 2] = [0.004, 0.02];
/// What the course gets after a detour that led nowhere, as a share of the trials of the detour: at least, and at most.
const SHARE_OF_MAIN: [f64; 2] = [0.125, 1.0];

/// One way from a longer lay to shorter ones.
#[derive(Default)]
struct Course {
    /// Share of the length that is cut off next.
    step: f64,
    /// The length that is tried.
    target: f64,
    pool: Pool,
    failures: u32,
    /// Trials made on it.
    trials: u64,
    /// How many of them it took to the shortest lay.
    fruitful: u64,
    /// Trials that it gets, at least …
    at_least: u64,
    /// … and at most.
    at_most: u64,
}

impl Course {
    fn new(step: f64, target: f64, most: u64) -> Self {
        Self { step, target, at_most: most, ..Self::default() }
    }

    fn note_gain(&mut self) {
        self.pool.clear();
        self.failures = 0;
        self.fruitful = self.trials;
    }

    fn leads_nowhere(&self) -> bool {
        let in_vain = (self.trials - self.fruitful) as f64 > IN_VAIN * self.fruitful as f64;
        let fails = self.failures >= FAILURES && in_vain && self.trials >= self.at_least;
        fails || self.trials > self.at_most
    }
}

/// The course that led to the champion, and a detour that may lead further.
pub(super) struct Courses {
    main: Course,
    detour: Option<Course>,
    /// Detours so far, and how many of them have failed since one led further.
    pub(super) detours: u32,
    pub(super) detours_failed: u32,
    /// The length that a detour has to get below.
    reached: f64,
    /// What the course that was left gets after a detour that led nowhere, as a share of the trials that it took.
    share_of_main: f64,
    /// Trials on the course when it was taken up again.
    taken_up: Option<u64>,
}

impl Courses {
    /// Those of a search that begins with a lay of this length.
    pub(super) fn new(length: f64) -> Self {
        Self {
            main: Course::new(FIRST_STEP, length, u64::MAX),
            detour: None,
            detours: 0,
            detours_failed: 0,
            reached: 0.0,
            share_of_main: SHARE_OF_MAIN[1],
            taken_up: None,
        }
    }

    /// Those of a way that begins anew with a lay of this length.
    pub(super) fn for_new_way(&self, length: f64) -> Self {
        Self { share_of_main: self.share_of_main, ..Self::new(length) }
    }

    fn current(&mut self) -> &mut Course {
        self.detour.as_mut().unwrap_or(&mut self.main)
    }

    /// Takes note of whether taking up the course again was worth its trials.
    fn learn_from_main(&mut self) {
        if let Some(taken_up) = self.taken_up.take() {
            let factor = if self.main.fruitful > taken_up { 2.0 } else { 0.5 };
            self.share_of_main = (factor * self.share_of_main).clamp(SHARE_OF_MAIN[0], SHARE_OF_MAIN[1]);
        }
    }

    /// Ends a detour that took so many trials, and takes up the course that it left.
    fn take_up_main(&mut self, detour_trials: u64) {
        let granted = (self.share_of_main * detour_trials as f64) as u64;
        self.main.at_least = self.main.trials + granted;
        self.taken_up = Some(self.main.trials);
    }
}

impl Search<'_> {
    /// Takes the first steps from the very first lay.
    pub(super) fn start_exploring(&mut self) {
        self.try_shorter(FIRST_STEP);
    }

    /// Makes some trials to find shorter lays.
    pub(super) fn explore(&mut self, trials: u64, span: Span, meter: &Meter) {
        let end = self.trials() + trials;
        while self.trials() < end && !meter.over(span) && !self.at_floor() {
            self.give_up_new_way();
            let before = self.trials();
            let state = self.run();
            if state == State::Solved {
                self.adopt();
            }
            let spent = self.trials() - before;
            self.courses.current().trials += spent;
            match state {
                State::Working => {}
                State::Solved => {
                    let easy = self.runs <= 2;
                    let step = self.courses.current().step * if easy { 1.5 } else { 0.7 };
                    self.gain(step.clamp(LEAST_STEP, GREATEST_STEP));
                }
                State::Stuck => self.fail(),
            }
        }
    }

    /// Goes on from a lay that is shorter than what the course had.
    fn gain(&mut self, step: f64) {
        let courses = &mut self.courses;
        if self.best.length < courses.reached
            && let Some(better) = courses.detour.take()
        {
            courses.main = Course { at_least: 0, at_most: u64::MAX, ..better };
            courses.taken_up = None;
            courses.detours_failed = 0;
        }
        courses.current().note_gain();
        self.try_shorter(step);
    }

    /// Starts from the best lay of the course, a share shorter.
    fn try_shorter(&mut self, step: f64) {
        let target = self.target(step);
        let course = self.courses.current();
        course.step = step;
        course.target = target;
        self.start(step, PATIENCE);
    }

    /// What follows from a failed attempt.
    fn fail(&mut self) {
        let step = self.courses.current().step;
        if self.adopt_spare(step) {
            self.gain(step);
        } else if step > LEAST_STEP && self.courses.current().target < self.best.length {
            // Too greedy: a smaller bite first.
            self.try_shorter(LEAST_STEP);
        } else {
            let (arrangement, overlap) = self.separator.best();
            let course = self.courses.current();
            course.failures += 1;
            course.pool.add(overlap, arrangement);
            if course.leads_nowhere() { self.leave_course() } else { self.restart() }
        }
    }

    /// Starts from a failed attempt of the course, with some disorder.
    fn restart(&mut self) {
        let course = self.courses.current();
        let random = self.separator.random();
        let mut next = course.pool.draw(random).unwrap_or(&self.best.arrangement).clone();
        disrupt(self.strip, &mut next, course.target, random);
        self.separator.load(&next, course.target, PATIENCE);
    }

    /// Goes on from what another search has found, if that is much better; if not, ends a detour, turns off to one or
    /// begins anew. A new way is not left for a rival.
    pub(super) fn leave_course(&mut self) {
        let enough = self.champion.length * (1.0 - LEAST_STEP);
        let much_better = self.rival.take_if(|rival| self.new_way.is_none() && rival.length < enough);
        if let Some(rival) = much_better {
            self.take_over(rival);
            self.courses.detour = None;
            self.courses.taken_up = None;
            self.courses.main.note_gain();
            self.try_shorter(LEAST_STEP);
        } else if let Some(detour) = self.courses.detour.take() {
            self.courses.detours_failed += 1;
            self.back_to_main(detour.trials);
        } else {
            self.courses.learn_from_main();
            if self.wants_to_begin_anew() { self.begin_anew() } else { self.turn_off() }
        }
    }

    fn turn_off(&mut self) {
        let shortest = self.shortest().length;
        let courses = &mut self.courses;
        courses.detours += 1;
        courses.reached = shortest * (1.0 - WORTH * LEAST_STEP);
        let most_trials = courses.main.trials;
        self.courses.detour = Some(self.detour(most_trials));
    }

    /// Makes the cloth longer at a random line of the shortest lay, and starts from it with much disorder.
    fn detour(&mut self, most_trials: u64) -> Course {
        let random = self.separator.random();
        let [share, at] = [random.between(LONGER[0], LONGER[1]), random.share()];
        let shortest = self.shortest();
        let room = shortest.length * share;
        let line = shortest.length * at;
        let longer = Lay { arrangement: shortest.moved_beyond(line, room), length: shortest.length + room };
        // Pieces that lie into each other may overlap at the line; nothing goes on from here before they are parted.
        self.start_in_disorder(longer);
        Course::new(LEAST_STEP, self.best.length, most_trials)
    }

    pub(super) fn start_in_disorder(&mut self, lay: Lay) {
        self.runs = 0;
        let mut next = lay.arrangement.clone();
        disrupt_much(self.strip, &mut next, lay.length, self.separator.random());
        self.separator.load(&next, lay.length, PATIENCE);
        self.best = lay;
    }

    /// Returns to the course that was left, for a share at least of the time that the detour took.
    fn back_to_main(&mut self, detour_trials: u64) {
        self.courses.take_up_main(detour_trials);
        self.best = self.shortest().clone();
        self.runs = 0;
        self.restart();
    }
}

#[cfg(test)]
mod tests {
    use super::super::tests::with_search;
    use super::*;
    use crate::nest::compact::is_sound;

    const ALL: Span = Span { from: 0.0, to: 1.0 };

    #[test]
    fn a_detour_starts_from_a_longer_lay_and_leaves_the_champion_alone() {
        with_search(|search, _| {
            let champion = search.champion.clone();
            let course = search.detour(7);
            assert_eq!(course.at_most, 7);
            assert_eq!(search.champion.arrangement, champion.arrangement);
            let longer = course.target / champion.length - 1.0;
            assert!((LONGER[0]..=LONGER[1]).contains(&longer), "{longer}");
            assert!((0..200).any(|_| search.run() == State::Solved), "there is much room");
            search.adopt();
            assert!(is_sound(search.strip, &search.best.arrangement));
            assert!(search.best.arrangement != champion.arrangement);
            search.back_to_main(5);
            let main = &search.courses.main;
            assert_eq!((search.best.length, main.at_least), (search.champion.length, main.trials + 5));
        });
    }

    #[test]
    fn at_the_end_of_a_course_a_much_better_lay_of_another_search_is_taken_over_and_no_other() {
        with_search(|search, _| {
            let own = search.champion.clone();
            let better_by = |share: f64| Lay { length: own.length * (1.0 - share), ..own.clone() };
            search.rival = Some(better_by(0.5 * LEAST_STEP));
            search.leave_course();
            assert_eq!(search.champion.length, own.length);
            assert!(search.courses.detour.is_some());
            search.rival = Some(better_by(2.0 * LEAST_STEP));
            search.leave_course();
            assert_eq!(search.champion.length, better_by(2.0 * LEAST_STEP).length);
            assert!(search.courses.detour.is_none() && search.rival.is_none());
        });
    }

    #[test]
    fn a_course_of_which_nothing_comes_gets_less_time_and_one_that_gains_more() {
        let mut courses = Courses::new(1.0);
        courses.learn_from_main();
        assert_eq!(courses.share_of_main, 1.0, "it was not left yet");
        let mut granted = |gains: bool| {
            courses.take_up_main(800);
            let granted = courses.main.at_least - courses.main.trials;
            courses.main.trials += granted;
            if gains {
                courses.main.note_gain();
            }
            courses.learn_from_main();
            granted
        };
        assert_eq!([false; 5].map(&mut granted), [800, 400, 200, 100, 100]);
        assert_eq!([true, true, false, true, true, true].map(&mut granted), [100, 200, 400, 200, 400, 800]);
        assert_eq!(granted(true), 800);
    }

    #[test]
    fn exploration_ends_sound_and_far_shorter() {
        with_search(|search, meter| {
            search.explore(2_000_000, ALL, meter);
            assert!(is_sound(search.strip, &search.champion.arrangement));
            assert!(search.champion.length < 0.6 * search.first.length, "{}", search.champion.length);
        });
    }

    #[test]
    fn a_course_is_left_after_failures_in_vain_and_not_before_its_time() {
        let mut course = Course::new(LEAST_STEP, 1.0, u64::MAX);
        course.trials = 1000;
        course.note_gain();
        course.failures = FAILURES;
        assert!(!course.leads_nowhere());
        course.trials = 1301;
        assert!(course.leads_nowhere());
        course.at_least = 1400;
        assert!(!course.leads_nowhere());
        course.trials = 1400;
        assert!(course.leads_nowhere());
        course.note_gain();
        assert!(!course.leads_nowhere());
        course.at_most = 1399;
        assert!(course.leads_nowhere());
    }
}
