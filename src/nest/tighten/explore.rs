//! Exploration: looks far and wide for shorter lays.
//!
//! A failed attempt is disrupted and tried again at the same length, as Gardeyn, Vanden Berghe and Wauters (2025) do, but
//! mostly by a change of an item or two: after a great one few attempts come near again. Where a length resists all the
//! same, the cloth is made a little longer and a part of the lay thrown into disorder (iterated local search); from there
//! it becomes shorter by another course. Such a detour takes no more time than the search that it leaves: which of the two
//! does better differs from job to job.

use super::pool::Pool;
use super::{Lay, Race};
use crate::nest::disrupt::{disrupt, disrupt_much};
use crate::nest::meter::{Meter, Span};
use crate::nest::race::RACERS;
use crate::nest::separate::{Patience, State};

const PATIENCE: Patience = Patience { passes: 200, strikes: 3 };

/// Shares of the length that are cut off at a time: the first, the least and the greatest.
const FIRST_STEP: f64 = 0.005;
const LEAST_STEP: f64 = 0.001;
const GREATEST_STEP: f64 = 0.02;

/// A course is at its end after so many failures in a row …
const FAILURES: u32 = 30;
/// … that took this share of the trials that it took to get there.
const IN_VAIN: f64 = 0.5;
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
    /// Trials made when it began.
    began: u64,
    /// Trials made when it last came to a shorter lay.
    gained: u64,
    /// Trials before which it is not left.
    not_before: u64,
}

impl Course {
    fn new(step: f64, target: f64, meter: &Meter) -> Self {
        let now = meter.trials();
        Self { step, target, pool: Pool::default(), failures: 0, began: now, gained: now, not_before: 0 }
    }

    fn note_gain(&mut self, meter: &Meter) {
        self.pool.clear();
        self.failures = 0;
        self.gained = meter.trials();
    }

    fn leads_nowhere(&self, meter: &Meter) -> bool {
        let in_vain = (meter.trials() - self.gained) as f64;
        self.failures >= FAILURES
            && in_vain > IN_VAIN * (self.gained - self.began) as f64
            && meter.trials() >= self.not_before
    }
}

/// The course that leads to the champion, and a detour that may lead further.
struct Courses {
    main: Course,
    detour: Option<Course>,
}

impl Courses {
    fn current(&mut self) -> &mut Course {
        self.detour.as_mut().unwrap_or(&mut self.main)
    }
}

impl Race<'_> {
    /// Looks for shorter lays while this part of the budget lasts.
    pub(super) fn explore(&mut self, span: Span, meter: &mut Meter) {
        let main = Course::new(FIRST_STEP, self.target(FIRST_STEP), meter);
        let mut courses = Courses { main, detour: None };
        self.start_all(FIRST_STEP, PATIENCE);
        while !meter.over(span) && !self.at_floor() {
            let states = self.heat(meter);
            if let Some(winner) = states.iter().position(|state| *state == State::Solved) {
                let easy = self.heats <= 2;
                self.adopt(winner, meter);
                let step = courses.current().step * if easy { 1.5 } else { 0.7 };
                self.gain(&mut courses, step.clamp(LEAST_STEP, GREATEST_STEP), meter);
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
    fn gain(&mut self, courses: &mut Courses, step: f64, meter: &Meter) {
        if self.best.length <= self.champion.length
            && let Some(better) = courses.detour.take()
        {
            courses.main = better;
        }
        let course = courses.current();
        course.note_gain(meter);
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
            self.gain(courses, step, meter);
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
        let turn_off = course.leads_nowhere(meter);
        if turn_off {
            match courses.detour.take() {
                None => courses.detour = Some(self.detour(meter)),
                Some(detour) => self.back_to(&mut courses.main, &detour, meter),
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
    fn detour(&mut self, meter: &Meter) -> Course {
        let random = self.racers.get(0).random();
        let room = self.champion.length * random.between(LONGER[0], LONGER[1]);
        let line = random.between(0.0, self.champion.length);
        let mut longer = self.champion.arrangement.clone();
        for lying in longer.iter_mut().filter(|lying| lying.at[0] > line) {
            lying.at[0] += room;
        }
        let length = self.champion.length + room;
        for racer in 0..RACERS {
            let separator = self.racers.get(racer);
            let mut next = longer.clone();
            disrupt_much(self.strip, &mut next, length, separator.random());
            separator.load(&next, length, PATIENCE);
        }
        self.heats = 0;
        self.best = Lay { arrangement: longer, length };
        Course::new(LEAST_STEP, length, meter)
    }

    /// Returns to the course that was left, for as long as the detour took at least.
    fn back_to(&mut self, main: &mut Course, detour: &Course, meter: &Meter) {
        let now = meter.trials();
        main.not_before = now + (now - detour.began);
        self.best = self.champion.clone();
        self.heats = 0;
        for racer in 0..RACERS {
            self.restart(racer, main);
        }
    }
}
