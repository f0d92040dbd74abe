//! Makes a lay shorter and shorter: cut a sliver out of the cloth, remove the overlaps, and again.
//!
//! The two phases are those of Gardeyn, Vanden Berghe and Wauters (2025): exploration looks far and wide, compression
//! takes ever smaller slivers from the best lay. Searches go side by side, each on its own way: which way leads far shows
//! late, and the better of two is worth about as much as twice the time. One that has come to an end, or compresses,
//! takes over what another has found.

mod anew;
mod compress;
mod explore;
mod pool;

use rayon::prelude::*;

use super::compact::compacted;
use super::meter::{Meter, Span};
use super::random::Random;
use super::separate::{Patience, Separator, State};
use super::strip::{Arrangement, Strip};
use anew::{Diary, NewWay};
use explore::Courses;

/// Searches side by side. The number is fixed, so that the outcome does not depend on the machine.
const SEARCHES: u64 = 2;

/// Share of the budget after which exploration gives way to compression.
const EXPLORATION: f64 = 0.8;

/// Trials of a search between two looks at what has come of them, and at the clock.
const RUN: u64 = 4_000;
/// Trials of a search between two looks at what the others have found: at most, and as a share of what is left of the
/// phase for each.
const MOST_ALONE: u64 = 500_000;
const ALONE: f64 = 0.01;

/// Runs for one length after which all items are moved at once too; before, it is not worth the time.
const COMPACT_AFTER: u32 = 10;

/// Share of what was to be cut off that is worth going on from.
const WORTH: f64 = 0.25;

/// Shortens an arrangement without overlap while its part of the budget lasts. The last search starts from `other`, where
/// there is one.
pub fn tighten(
    strip: &Strip,
    first: Arrangement,
    other: Option<Arrangement>,
    seed: u64,
    span: Span,
    meter: &mut Meter,
) -> Arrangement {
    let lay = |arrangement: Arrangement| Lay { length: strip.length_of(&arrangement), arrangement };
    let mut contest = Contest::new(strip, lay(first), other.map(lay), floor(strip), seed);
    contest.share(meter);
    contest.run(span.part(0.0, EXPLORATION), meter, Search::explore);
    for search in &mut contest.searches {
        search.start_compressing(contest.champion.clone());
    }
    contest.run(span.part(EXPLORATION, 1.0), meter, Search::compress);
    contest.champion.arrangement
}

/// A length below which no arrangement can be: the area, or the shortest side of the longest item.
fn floor(strip: &Strip) -> f64 {
    let items = 0..strip.items.len();
    // Areas have half the gap all round, and so may reach beyond the cloth by as much.
    let gap =
        items.clone().map(|item| strip.box_with_gap(item, 0)[0] - 2.0 * strip.half(item, 0)[0]).fold(0.0, f64::max);
    let by_area = items.clone().map(|item| strip.area(item)).sum::<f64>() / (strip.width() + gap) - gap;
    let shortest = |item: usize| {
        let ways = (0..strip.ways(item).len()).filter(|&way| strip.admits(item, way, f64::INFINITY));
        ways.map(|way| 2.0 * strip.half(item, way)[0]).fold(f64::INFINITY, f64::min)
    };
    items.map(shortest).fold(by_area, f64::max)
}

/// An arrangement and its length.
#[derive(Clone)]
struct Lay {
    arrangement: Arrangement,
    length: f64,
}

impl Lay {
    /// Where all would lie if what lies beyond a line were moved ahead.
    fn moved_beyond(&self, line: f64, ahead: f64) -> Arrangement {
        let mut moved = self.arrangement.clone();
        for lying in moved.iter_mut().filter(|lying| lying.at[0] > line) {
            lying.at[0] += ahead;
        }
        moved
    }
}

/// Searches for the same, side by side.
struct Contest<'a> {
    searches: Vec<Search<'a>>,
    /// The shortest of all.
    champion: Lay,
}

impl<'a> Contest<'a> {
    fn new(strip: &'a Strip<'a>, first: Lay, other: Option<Lay>, floor: f64, seed: u64) -> Self {
        let search = |number| {
            let own = other.as_ref().filter(|_| number + 1 == SEARCHES).unwrap_or(&first);
            Search::new(strip, first.clone(), own.clone(), floor, Random::new(seed, number))
        };
        Self { searches: (0..SEARCHES).map(search).collect(), champion: first }
    }

    /// Lets all searches work in a way while this part of the budget lasts, and tells each what the others have found.
    fn run(&mut self, span: Span, meter: &mut Meter, work: fn(&mut Search<'a>, u64, Span, &Meter)) {
        while !meter.over(span) && !self.searches.iter().any(Search::at_floor) {
            let share = ALONE * meter.trials_left(span) as f64 / SEARCHES as f64;
            let trials = (share as u64).clamp(RUN, MOST_ALONE);
            let before = self.trials();
            self.searches.par_iter_mut().for_each(|search| work(search, trials, span, meter));
            meter.add(self.trials() - before);
            self.share(meter);
        }
    }

    fn trials(&self) -> u64 {
        self.searches.iter().map(Search::trials).sum()
    }

    fn share(&mut self, meter: &Meter) {
        let lays = self.searches.iter().map(|search| &search.champion);
        let Some(shortest) = lays.min_by(|a, b| a.length.total_cmp(&b.length)) else { return };
        if shortest.length < self.champion.length {
            self.champion = shortest.clone();
            meter.report(self.champion.length, self.searches[0].strip.density(&self.champion.arrangement));
        }
        for search in &mut self.searches {
            let is_news = self.champion.length < search.champion.length;
            search.rival = is_news.then(|| self.champion.clone());
        }
    }
}

/// One search: what it has, and what it tries.
struct Search<'a> {
    strip: &'a Strip<'a>,
    separator: Separator<'a>,
    /// What it all began with.
    first: Lay,
    /// The shortest that it has.
    champion: Lay,
    /// The one that it goes on from.
    best: Lay,
    /// A shorter one than its own, of another search.
    rival: Option<Lay>,
    floor: f64,
    courses: Courses,
    new_way: Option<NewWay>,
    diary: Diary,
    /// Runs since it last started from its best lay.
    runs: u32,
    /// Trials that the separator has not made.
    beside: u64,
}

impl<'a> Search<'a> {
    /// A search that starts from its own lay, and now and then anew from the very first.
    fn new(strip: &'a Strip<'a>, first: Lay, own: Lay, floor: f64, random: Random) -> Self {
        let (separator, courses) = (Separator::new(strip, random), Courses::new(own.length));
        let [champion, best] = [own.clone(), own];
        let mut search = Self {
            strip,
            separator,
            first,
            champion,
            best,
            rival: None,
            floor,
            courses,
            new_way: None,
            diary: Diary::default(),
            runs: 0,
            beside: 0,
        };
        search.start_exploring();
        search
    }

    fn trials(&self) -> u64 {
        self.separator.work() + self.beside
    }

    fn at_floor(&self) -> bool {
        self.champion.length <= self.floor * (1.0 + 1e-9)
    }

    fn run(&mut self) -> State {
        self.runs += 1;
        self.separator.run(RUN)
    }

    /// Goes on from the arrangement without overlap that the separator has come to.
    fn adopt(&mut self) {
        self.separator.slide_back();
        let mut arrangement = self.separator.arrangement().clone();
        if self.runs >= COMPACT_AFTER {
            arrangement = compacted(self.strip, &arrangement, &mut self.beside).unwrap_or(arrangement);
        }
        self.go_on_from(arrangement);
    }

    /// Goes on from what the separator found by the way, if that is enough of what was asked of it.
    fn adopt_spare(&mut self, step: f64) -> bool {
        let enough = self.best.length * (1.0 - WORTH * step);
        let spare = self.separator.take_spare().filter(|spare| self.strip.length_of(spare) <= enough);
        let found = spare.is_some();
        if let Some(arrangement) = spare {
            self.go_on_from(arrangement);
        }
        found
    }

    fn go_on_from(&mut self, arrangement: Arrangement) {
        self.best = Lay { length: self.strip.length_of(&arrangement), arrangement };
        self.note_shortest();
    }

    /// Goes on from a lay that another search may have found.
    fn take_over(&mut self, lay: Lay) {
        self.best = lay.clone();
        self.champion = lay;
        self.rival = None;
        self.keep_to_champion();
    }

    fn target(&self, step: f64) -> f64 {
        (self.best.length * (1.0 - step)).max(self.floor)
    }

    /// Cuts a sliver out of the best lay at a random line and moves what lies beyond it.
    fn start(&mut self, step: f64, patience: Patience) {
        self.runs = 0;
        let target = self.target(step);
        let sliver = self.best.length - target;
        let line = self.separator.random().between(0.0, self.best.length);
        self.separator.load(&self.best.moved_beyond(line, -sliver), target, patience);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::nest::compact::is_sound;
    use crate::nest::shapes::Shapes;
    use crate::nest::task::{Budget, Piece};
    use crate::nest::test_pieces::{in_a_row, piece};

    const EFFORT: u64 = 2;
    const BUDGET: Budget = Budget { seed: 1, effort: EFFORT, time: None };

    /// Triangles, each of another size, that lie one behind the other.
    fn with_first<T>(count: usize, see: impl FnOnce(&Strip, Lay) -> T) -> T {
        let triangle = |k: usize| {
            let size = 30.0 + 3.0 * k as f64;
            piece(&[[0.0, 0.0], [size, 0.0], [0.0, 1.4 * size]], 1, &[0.0, 180.0])
        };
        let pieces: Vec<Piece> = (0..count).map(triangle).collect();
        let shapes = Shapes::new(&pieces, &[], false, 0.0).expect("no gap");
        let strip = Strip::new(&shapes, (0..count).collect(), [0.0, 100.0], count..count, false);
        let arrangement = in_a_row(&strip);
        see(&strip, Lay { length: strip.length_of(&arrangement), arrangement })
    }

    /// A search that starts from twelve of these triangles.
    pub(super) fn with_search<T>(see: impl FnOnce(&mut Search, &Meter) -> T) -> T {
        with_first(12, |strip, first| {
            see(&mut Search::new(strip, first.clone(), first, 0.0, Random::new(1, 0)), &Meter::new(BUDGET, &()))
        })
    }

    #[test]
    fn one_search_starts_from_the_other_lay_and_anew_from_the_first() {
        with_first(12, |strip, first| {
            let shorter = Lay { length: 0.8 * first.length, arrangement: first.moved_beyond(1.0, -1.0) };
            let contest = Contest::new(strip, first.clone(), Some(shorter.clone()), 0.0, 1);
            let starts: Vec<f64> = contest.searches.iter().map(|search| search.champion.length).collect();
            assert_eq!(starts, [first.length, shorter.length]);
            assert!(contest.searches[1].best.arrangement == shorter.arrangement);
            assert!(contest.searches.iter().all(|search| search.first.length == first.length));
        });
    }

    #[test]
    fn what_one_search_has_found_the_others_hear_of() {
        with_first(12, |strip, first| {
            let mut contest = Contest::new(strip, first.clone(), None, 0.0, 1);
            let meter = Meter::new(BUDGET, &());
            contest.share(&meter);
            assert!(contest.searches.iter().all(|search| search.rival.is_none()));
            contest.searches[1].champion.length *= 0.9;
            contest.share(&meter);
            let heard: Vec<_> = contest.searches.iter().map(|s| s.rival.as_ref().map(|lay| lay.length)).collect();
            assert_eq!(heard, [Some(0.9 * first.length), None]);
            assert_eq!(contest.champion.length, 0.9 * first.length);
        });
    }

    #[test]
    fn searches_end_the_same_with_one_thread_and_with_more_detours_and_all() {
        with_first(5, |strip, first| {
            let explored = |threads: usize| {
                let mut contest = Contest::new(strip, first.clone(), None, 0.0, 1);
                let pool = rayon::ThreadPoolBuilder::new().num_threads(threads).build().expect("there are threads");
                let budget = Budget { effort: 2 * EFFORT, ..BUDGET };
                let mut meter = Meter::new(budget, &());
                pool.install(|| contest.run(Span { from: 0.0, to: 1.0 }, &mut meter, Search::explore));
                let detours: Vec<u32> = contest.searches.iter().map(|search| search.courses.detours).collect();
                assert!(detours.iter().all(|count| *count > 0), "{detours:?}");
                (contest.champion.arrangement, meter.trials())
            };
            assert_eq!(explored(1), explored(3));
        });
    }

    #[test]
    fn a_search_that_compresses_goes_on_from_a_shorter_lay_of_another() {
        with_first(12, |strip, first| {
            let meter = Meter::new(BUDGET, &());
            let all_of_it = Span { from: 0.0, to: 1.0 };
            let [mut ahead, mut behind] =
                [0, 1].map(|n| Search::new(strip, first.clone(), first.clone(), 0.0, Random::new(1, n)));
            ahead.explore(200_000, all_of_it, &meter);
            behind.start_compressing(first.clone());
            behind.rival = Some(ahead.champion.clone());
            behind.compress(1, all_of_it, &meter);
            assert!(behind.champion.length <= ahead.champion.length && behind.rival.is_none());
        });
    }

    #[test]
    fn the_effort_is_kept_to_and_compression_shortens_what_exploration_leaves() {
        with_first(12, |strip, first| {
            let mut meter = Meter::new(BUDGET, &());
            let all_of_it = Span { from: 0.0, to: 1.0 };
            let shortened = tighten(strip, first.arrangement.clone(), None, 1, all_of_it, &mut meter);
            assert!(is_sound(strip, &shortened));
            let made = meter.trials() as f64 / (EFFORT as f64 * 5e6);
            assert!((1.0..1.05).contains(&made), "{made}");
            let mut search = Search::new(strip, first.clone(), first.clone(), 0.0, Random::new(1, 0));
            let meter = Meter::new(BUDGET, &());
            search.explore(20_000, all_of_it, &meter);
            let explored = search.champion.length;
            search.start_compressing(search.champion.clone());
            search.compress(400_000, all_of_it, &meter);
            assert!(search.champion.length < explored && is_sound(strip, &search.champion.arrangement));
        });
    }
}
