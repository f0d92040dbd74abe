//! Exploration: looks far and wide for shorter lays.
//!
//! A failed attempt is disrupted and tried again at the same length, as Gardeyn, Vanden Berghe and Wauters (2025) do, but
//! mostly by a change of an item or two: after a great one few attempts come near again. Where a length resists all the
//! same, the cloth is made a little longer and a part of the lay thrown into disorder (iterated local search); from there
//! it becomes shorter by another course. Detours and the course that they leave get about the same time: which of the
//! two does better differs from job to job.

use super::pool::Pool;
use super::{Lay, Race, WORTH};
use crate::nest::disrupt::{disrupt, disrupt_much};
use crate::nest::meter::{Meter, Span};
use crate::nest::race::RACERS;
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

/// One way from a longer lay to shorter ones.
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
    /// Trials that it gets at least, and at most.
    granted: [u64; 2],
}

impl Course {
    fn new(step: f64, target: f64, most: u64) -> Self {
        Self { step, target, pool: Pool::default(), failures: 0, trials: 0, fruitful: 0, granted: [0, most] }
    }

    fn note_gain(&mut self) {
        self.pool.clear();
        self.failures = 0;
        self.fruitful = self.trials;
    }

    fn leads_nowhere(&self) -> bool {
        let in_vain = (self.trials - self.fruitful) as f64 > IN_VAIN * self.fruitful as f64;
        let fails = self.failures >= FAILURES && in_vain && self.trials >= self.granted[0];
        fails || self.trials > self.granted[1]
    }
}

/// The course that led to the champion, and a detour that may lead further.
struct Courses {
    main: Course,
    detour: Option<Course>,
    /// The length that a detour has to get below.
    reached: f64,
}

impl Courses {
    fn current(&mut self) -> &mut Course {
        self.detour.as_mut().unwrap_or(&mut self.main)
    }
}

impl Race<'_> {
    /// Looks for shorter lays while this part of the budget lasts.
    pub(super) fn explore(&mut self, span: Span, meter: &mut Meter) {
        let main = Course::new(FIRST_STEP, self.target(FIRST_STEP), u64::MAX);
        let mut courses = Courses { main, detour: None, reached: 0.0 };
        self.start_all(FIRST_STEP, PATIENCE);
        while !meter.over(span) && !self.at_floor() {
            let before = meter.trials();
            let states = self.heat(meter);
            courses.current().trials += meter.trials() - before;
            if let Some(winner) = states.iter().position(|state| *state == State::Solved) {
                let easy = self.heats <= 2;
                self.adopt(winner, meter);
                let step = courses.current().step * if easy { 1.5 } else { 0.7 };
                self.gain(&mut courses, step.clamp(LEAST_STEP, GREATEST_STEP));
                continue;
            }
            for (racer, _) in states.iter().enumerate().filter(|(_, state)| **state == State::Stuck) {
                if self.fail(racer, &mut courses, meter) {
                    break;
                }
            }
        }
    }

    /// Goes on from a lay that is shorter than what the course had.
    fn gain(&mut self, courses: &mut Courses, step: f64) {
        if self.best.length < courses.reached
            && let Some(better) = courses.detour.take()
        {
            courses.main = Course { granted: [0, u64::MAX], ..better };
        }
        let course = courses.current();
        course.note_gain();
        self.try_shorter(course, step);
    }

    /// Sets all racers on the best lay of the course, a share shorter.
    fn try_shorter(&mut self, course: &mut Course, step: f64) {
        course.step = step;
        course.target = self.target(step);
        self.start_all(step, PATIENCE);
    }

    /// What follows from a failed attempt; tells whether all racers have started anew.
    fn fail(&mut self, racer: usize, courses: &mut Courses, meter: &Meter) -> bool {
        let step = courses.current().step;
        if self.adopt_spare(racer, step, meter) {
            self.gain(courses, step);
            return true;
        }
        let course = courses.current();
        if course.step > LEAST_STEP {
            // Too greedy: a smaller bite first.
            self.try_shorter(course, LEAST_STEP);
            return true;
        }
        course.failures += 1;
        self.put_aside(racer, course);
        let turn_off = course.leads_nowhere();
        if turn_off {
            match courses.detour.take() {
                None => {
                    courses.reached = self.champion.length * (1.0 - WORTH * LEAST_STEP);
                    courses.detour = Some(self.detour(courses.main.trials));
                }
                Some(detour) => self.back_to(&mut courses.main, detour.trials),
            }
        } else {
            self.restart(racer, course);
        }
        turn_off
    }

    fn put_aside(&mut self, racer: usize, course: &mut Course) {
        let (arrangement, overlap) = self.racers.get(racer).best();
        course.pool.add(overlap, arrangement);
    }

    /// Starts from a failed attempt of the course, with some disorder.
    fn restart(&mut self, racer: usize, course: &Course) {
        let separator = self.racers.get(racer);
        let random = separator.random();
        let mut next = course.pool.draw(random).unwrap_or(&self.best.arrangement).clone();
        disrupt(self.strip, &mut next, course.target, random);
        separator.load(&next, course.target, PATIENCE);
    }

    /// Makes the cloth longer at a random line of the shortest lay, and sets all racers on it with much disorder.
    fn detour(&mut self, most_trials: u64) -> Course {
        let random = self.racers.get(0).random();
        let room = self.champion.length * random.between(LONGER[0], LONGER[1]);
        let line = random.between(0.0, self.champion.length);
        let longer = Lay { arrangement: self.champion.moved_beyond(line, room), length: self.champion.length + room };
        for racer in 0..RACERS {
            let separator = self.racers.get(racer);
            let mut next = longer.arrangement.clone();
            disrupt_much(self.strip, &mut next, longer.length, separator.random());
            separator.load(&next, longer.length, PATIENCE);
        }
        let course = Course::new(LEAST_STEP, longer.length, most_trials);
        self.heats = 0;
        // Pieces that lie into each other may overlap at the line; nothing goes on from here before a racer has parted them.
        self.best = longer;
        course
    }

    /// Returns to the course that was left, for as long as the detour took at least.
    fn back_to(&mut self, main: &mut Course, detour_trials: u64) {
        main.granted[0] = main.trials + detour_trials;
        self.best = self.champion.clone();
        self.heats = 0;
        for racer in 0..RACERS {
            self.restart(racer, main);
        }
    }
}

#[cfg(test)]
mod tests {
    use geo_types::{LineString, Polygon};

    use super::*;
    use crate::nest::compact::is_sound;
    use crate::nest::race::Racers;
    use crate::nest::shapes::Shapes;
    use crate::nest::strip::{Lying, Strip};
    use crate::nest::task::{Budget, Piece, Turns};
    use crate::shape::Outline;

    const BUDGET: Budget = Budget { seed: 1, effort: 10, time: None };

    /// A race of twelve triangles, each of another size, that lie one behind the other.
    fn with_race<T>(see: impl FnOnce(&mut Race, &mut Meter) -> T) -> T {
        let triangle = |k: usize| {
            let size = 30.0 + 3.0 * k as f64;
            let corners = vec![[0.0, 0.0], [size, 0.0], [0.0, 1.4 * size]];
            let outline = Outline::new(Polygon::new(LineString::from(corners), Vec::new())).expect("sound");
            let turns = Turns::These { angles: vec![0.0, 180.0], tilt: 0.0 };
            Piece { outline, quantity: 1, turns, flip: false, cloths: None }
        };
        let pieces: Vec<Piece> = (0..12).map(triangle).collect();
        let shapes = Shapes::new(&pieces, &[], false, 0.0).expect("no gap");
        let strip = Strip::new(&shapes, (0..12).collect(), [0.0, 100.0], 12..12, false);
        let mut end = 0.0;
        let mut lie = |item: usize| {
            let half = strip.half(item, 0);
            end += 2.0 * half[0];
            Lying { way: 0, at: [end - half[0], half[1]] }
        };
        let arrangement: Vec<Lying> = (0..12).map(&mut lie).collect();
        let first = Lay { length: strip.length_of(&arrangement), arrangement };
        let racers = Racers::new(&strip, 1, 0);
        let mut race = Race { strip: &strip, racers, champion: first.clone(), best: first, floor: 0.0, heats: 0 };
        see(&mut race, &mut Meter::new(BUDGET, &()))
    }

    #[test]
    fn a_detour_starts_from_a_longer_lay_and_leaves_the_champion_alone() {
        with_race(|race, meter| {
            let champion = race.champion.clone();
            let course = race.detour(7);
            let longer = course.target / champion.length - 1.0;
            assert!((LONGER[0]..=LONGER[1]).contains(&longer), "{longer}");
            let winner = (0..200).find_map(|_| {
                let states = race.heat(meter);
                states.iter().position(|state| *state == State::Solved)
            });
            race.adopt(winner.expect("there is much room"), meter);
            assert!(is_sound(race.strip, &race.best.arrangement));
            assert!(race.best.arrangement != champion.arrangement);
            assert!(race.champion.length <= champion.length);
            let mut main = Course::new(LEAST_STEP, champion.length, u64::MAX);
            race.back_to(&mut main, 5);
            assert_eq!((race.best.length, main.granted[0]), (race.champion.length, 5));
        });
    }

    #[test]
    fn exploration_ends_sound_and_far_shorter() {
        with_race(|race, meter| {
            let first = race.champion.length;
            let area: f64 = (0..12).map(|item| race.strip.area(item)).sum();
            race.explore(Span { from: 0.0, to: 1.0 }, meter);
            assert!(is_sound(race.strip, &race.champion.arrangement));
            assert!(race.champion.length < 0.6 * first, "{}", race.champion.length);
            assert!(race.champion.length * 100.0 > area);
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
        course.granted[0] = 1400;
        assert!(!course.leads_nowhere());
        course.trials = 1400;
        assert!(course.leads_nowhere());
        course.note_gain();
        assert!(!course.leads_nowhere());
        course.granted[1] = 1399;
        assert!(course.leads_nowhere());
    }
}
