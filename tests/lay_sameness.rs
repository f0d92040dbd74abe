//! The same question, seed and effort get the same answer, to the last bit, with any number of threads; and a search that
//! is stopped gives a sound lay.

mod support;

use std::sync::Mutex;
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::{Duration, Instant};

use clothwright::nest::{Budget, Cloth, Ending, Lay, Piece, Progress, Task, Turns, Watch, lay};
use support::{
    along, assert_sound, disc, effort, ell, piece, polygon, quarter_turns, rect, ring, roll, task, unturned,
};

/// Some of everything: an offcut, a roll with a flaw, pieces of all sorts.
fn mixed() -> Task {
    let offcut = Cloth { length: Some(700.0), price: 0.0, ..roll(300.0) };
    let flaw = polygon(&[[300.0, 200.0], [340.0, 200.0], [340.0, 260.0]], &[]);
    let roll = Cloth { flaws: vec![flaw], faces_alike: true, ..roll(900.0) };
    let bias = Turns::These { angles: vec![45.0, 135.0, 225.0, 315.0], tilt: 2.0 };
    let fin = polygon(&[[0.0, 0.0], [410.0, 20.0], [380.0, 160.0], [150.0, 220.0], [0.0, 300.0]], &[]);
    let pieces = vec![
        piece(fin, 4, along()),
        piece(ell(160.0), 5, quarter_turns()),
        piece(disc(165.0, 40), 9, Turns::Any),
        Piece { flip: true, ..piece(polygon(&[[0.0, 0.0], [200.0, 0.0], [0.0, 90.0]], &[]), 6, along()) },
        piece(ring(180.0, 110.0, 36), 3, Turns::Any),
        piece(rect(500.0, 40.0), 4, bias),
        piece(disc(60.0, 24), 12, Turns::Any),
    ];
    Task { gap: 1.5, ..task(vec![offcut, roll], pieces) }
}

fn with_threads(threads: usize, question: &Task, budget: &Budget) -> Lay {
    let pool = rayon::ThreadPoolBuilder::new().num_threads(threads).build().expect("threads can be started");
    pool.install(|| lay(question, budget, &())).expect("the task makes sense")
}

#[test]
fn one_two_and_eight_threads_give_the_same_lay() {
    for (seed, spend) in [(1, 1), (7, 0)] {
        assert_same_with_any_threads(&mixed(), &effort(spend, seed));
    }
}

/// Boxes have searches of their own: these fill 1100 of the roll without waste, and with a small one more they do not.
#[test]
fn boxes_are_the_same_with_any_number_of_threads() {
    let sizes = [[500.0, 300.0], [500.0, 600.0], [300.0, 400.0], [300.0, 500.0], [200.0, 900.0], [100.0, 900.0]];
    let fits = sizes.map(|[length, width]| piece(rect(length, width), 1, quarter_turns())).to_vec();
    let one_more = vec![piece(rect(70.0, 50.0), 1, quarter_turns())];
    for pieces in [fits.clone(), [fits, one_more].concat()] {
        assert_same_with_any_threads(&task(vec![roll(900.0)], pieces), &effort(1, 3));
    }
}

/// A few large pieces and many small ones, and so many that they are tightened section by section.
#[test]
fn many_pieces_are_the_same_with_any_number_of_threads() {
    let tri = |size: f64, quantity: u32| {
        piece(polygon(&[[0.0, 0.0], [size, 0.0], [0.3 * size, 1.4 * size]], &[]), quantity, along())
    };
    let small = (0..5).map(|k| piece(rect(20.0 + f64::from(k), 30.0), 6, quarter_turns()));
    let large_and_small = (0..6).map(|k| tri(300.0 + 20.0 * f64::from(k), 1)).chain(small).collect();
    let sections = (0..42).map(|k| tri(40.0 + f64::from(k), 10)).collect();
    for pieces in [large_and_small, sections] {
        assert_same_with_any_threads(&Task { gap: 2.0, ..task(vec![roll(900.0)], pieces) }, &effort(1, 5));
    }
}

fn assert_same_with_any_threads(question: &Task, budget: &Budget) {
    let one = with_threads(1, question, budget);
    assert_sound(question, &one);
    for threads in [2, 8] {
        let other = with_threads(threads, question, budget);
        // The debug form prints every bit that counts, and tells -0 from 0.
        assert_eq!(format!("{one:?}"), format!("{other:?}"), "{threads} threads, seed {}", budget.seed);
    }
}

/// Interrupts the search once the first lay is there.
#[derive(Default)]
struct Impatient {
    seen: AtomicBool,
    reports: Mutex<Vec<Progress>>,
}

impl Watch for Impatient {
    fn interrupted(&self) -> bool {
        self.seen.load(Ordering::Relaxed)
    }
    fn report(&self, progress: Progress) {
        self.reports.lock().expect("no other report fails").push(progress);
        if progress.length.is_some() {
            self.seen.store(true, Ordering::Relaxed);
        }
    }
}

#[test]
fn an_interrupted_search_gives_a_sound_lay() {
    let (question, watch, start) = (mixed(), Impatient::default(), Instant::now());
    let budget = Budget { time: Some(Duration::from_secs(120)), ..effort(1_000_000, 1) };
    let answer = lay(&question, &budget, &watch).expect("the task makes sense");
    assert_sound(&question, &answer);
    assert_eq!(answer.ending, Ending::Interrupted);
    assert!(start.elapsed() < Duration::from_secs(60), "{:?}", start.elapsed());
    for progress in watch.reports.lock().expect("no report failed").iter() {
        assert!((0.0..=1.0).contains(&progress.spent), "{progress:?}");
        assert!(progress.density.is_none_or(|density| (0.0..=1.0).contains(&density)), "{progress:?}");
    }
}

/// Is interrupted before it starts.
struct Unwilling;

impl Watch for Unwilling {
    fn interrupted(&self) -> bool {
        true
    }
}

#[test]
fn a_search_that_is_interrupted_at_once_still_accounts_for_every_copy() {
    let question = mixed();
    let answer = lay(&question, &effort(1_000_000, 1), &Unwilling).expect("the task makes sense");
    assert_sound(&question, &answer);
    assert_eq!(answer.ending, Ending::Interrupted);
}

#[test]
fn a_time_limit_ends_the_search() {
    let (question, limit, start) = (mixed(), Duration::from_secs(2), Instant::now());
    let answer = lay(&question, &Budget { time: Some(limit), ..effort(1_000_000, 1) }, &()).expect("it makes sense");
    let taken = start.elapsed();
    assert_sound(&question, &answer);
    assert_eq!(answer.ending, Ending::TimeUp);
    assert!(answer.unplaced.is_empty(), "{:?}", answer.unplaced);
    assert!(taken >= limit && taken < limit * 4, "{taken:?}");
}

#[test]
fn an_effort_that_is_spent_says_so() {
    assert_eq!(with_threads(2, &mixed(), &effort(0, 1)).ending, Ending::EffortSpent);
}

/// Notes what it is told.
#[derive(Default)]
struct Listener(Mutex<Vec<Progress>>);

impl Watch for Listener {
    fn report(&self, progress: Progress) {
        self.0.lock().expect("no other report fails").push(progress);
    }
}

/// Two squares and the gap between them: what half the gap all round covers is no cloth covered.
#[test]
fn the_density_that_is_told_counts_pieces_without_the_gap() {
    let squares = vec![piece(rect(100.0, 100.0), 2, unturned())];
    let (question, watch) = (Task { gap: 20.0, ..task(vec![roll(100.0)], squares) }, Listener::default());
    lay(&question, &effort(1, 1), &watch).expect("the task makes sense");
    let reports = watch.0.into_inner().expect("no report failed");
    let last = reports.iter().filter_map(|progress| progress.density).next_back().expect("a lay was told of");
    assert!((last - 200.0 / 220.0).abs() < 1e-3, "{last}");
}
