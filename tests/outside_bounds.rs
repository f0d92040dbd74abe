//! The engine against bounds that hold for every lay, and against layouts that are perfect because they were cut so.

mod support;

use clothwright::nest::{Lay, Task};
use clothwright::shape::Curve;
use clothwright::verify::TOLERANCE;
use rand::{RngExt, SeedableRng};
use rand_xoshiro::Xoshiro256PlusPlus;
use support::{effort, length, piece, quarter_turns, rect, ring, roll, sound_lay, task, unturned};

/// Cuts a rectangle into random smaller ones, each cut from edge to edge.
fn jigsaw(rng: &mut Xoshiro256PlusPlus, width: f64, height: f64, cuts: u32) -> Vec<[f64; 2]> {
    if cuts == 0 {
        return vec![[width, height]];
    }
    let share = rng.random_range(0.25..0.75);
    let (one, other) = if width > height {
        ([width * share, height], [width * (1.0 - share), height])
    } else {
        ([width, height * share], [width, height * (1.0 - share)])
    };
    let first = (cuts - 1) / 2;
    let mut parts = jigsaw(rng, one[0], one[1], first);
    parts.extend(jigsaw(rng, other[0], other[1], cuts - 1 - first));
    parts
}

/// The perfect layout is known because the pieces were cut from it: 800 long and as wide as the roll.
#[test]
fn no_jigsaw_gets_shorter_than_what_it_was_cut_from() {
    for seed in 1..=6 {
        let mut rng = Xoshiro256PlusPlus::seed_from_u64(seed);
        let (width, perfect) = (600.0, 800.0);
        let parts = jigsaw(&mut rng, perfect, width, 7 + 2 * seed as u32);
        let pieces = parts.iter().map(|[w, h]| piece(rect(*w, *h), 1, quarter_turns())).collect();
        let lay = sound_lay(&task(vec![roll(width)], pieces), &effort(u64::from(seed % 3 == 0), seed));
        assert!(lay.unplaced.is_empty(), "{:?}", lay.unplaced);
        let found = length(&lay);
        assert!(found >= perfect - TOLERANCE, "seed {seed}: {found} is shorter than {perfect}");
        assert!(found <= perfect * 1.4, "seed {seed}: {found} is far from {perfect}");
    }
}

/// A jigsaw of one column of strips has only one good layout, and it is easy to find.
#[test]
fn strips_that_fill_the_width_are_laid_perfectly() {
    let heights = [100.0, 150.0, 50.0, 80.0, 120.0];
    let pieces = heights.iter().map(|height| piece(rect(900.0, *height), 1, unturned())).collect();
    let found = length(&sound_lay(&task(vec![roll(500.0)], pieces), &effort(1, 1)));
    assert!((found - 900.0).abs() <= TOLERANCE, "{found}");
}

/// Squares of different sizes that fill a rectangle, with gaps and without. Sources: Z. Moron 1925, "O rozkladach
/// prostokatow na kwadraty", for nine in 33 x 32; A. J. W. Duijvestijn 1978, "Simple perfect squared square of lowest
/// order", Journal of Combinatorial Theory B 25, for 21 in 112 x 112. Sides and titles from memory; the areas add up.
#[test]
fn squares_that_fill_a_rectangle_are_laid_without_waste() {
    let nine = (vec![1, 4, 7, 8, 9, 10, 14, 15, 18], [33, 32]);
    let order_21 = (vec![2, 4, 6, 7, 8, 9, 11, 15, 16, 17, 18, 19, 24, 25, 27, 29, 33, 35, 37, 42, 50], [112, 112]);
    for (sides, [perfect, width]) in [nine, order_21] {
        assert_eq!(sides.iter().map(|side| side * side).sum::<u32>(), perfect * width);
        for gap in [0.0, 3.0] {
            let size = |units: u32| 10.0 * f64::from(units) - gap;
            let square = |side: &u32| piece(rect(size(*side), size(*side)), 1, quarter_turns());
            let question = Task { gap, ..task(vec![roll(size(width))], sides.iter().map(square).collect()) };
            let found = length(&sound_lay(&question, &effort(20, 1)));
            assert!((found - size(perfect)).abs() <= TOLERANCE, "{perfect} x {width}, gap {gap}: {found}");
        }
    }
}

/// Source: L. Fejes Tóth 1953, "Lagerungen in der Ebene, auf der Kugel und im Raum": two or more equal circles in a
/// convex region cover less than π/√12 of it (Thue's hexagonal density). Paper and page from memory.
#[test]
fn equal_circles_never_lie_denser_than_the_hexagonal_lattice() {
    let hexagonal = std::f64::consts::PI / 12f64.sqrt();
    for (diameter, count, width) in [(50.0, 30, 173.0), (165.0, 24, 1780.0), (40.0, 25, 200.0), (90.0, 7, 91.0)] {
        let circle = Curve::circle(diameter).flatten().expect("a circle is sound");
        let lay = sound_lay(&task(vec![roll(width)], vec![piece(circle, count, unturned())]), &effort(0, 1));
        assert!(lay.unplaced.is_empty(), "{:?}", lay.unplaced);
        // Each pair may overlap by the tolerance: as if the circles were that much smaller.
        let radius = (diameter - TOLERANCE) / 2.0;
        let covered = f64::from(count) * std::f64::consts::PI * radius * radius / (width * length(&lay));
        assert!(covered < hexagonal, "{count} circles of {diameter} on {width}: {covered}");
        assert!(covered > 0.5, "{count} circles of {diameter} on {width}: only {covered}");
    }
}

/// Three rings fill the width of the roll, so that discs find room only in their holes.
#[test]
fn small_pieces_lie_in_the_holes_of_rings() {
    let pieces = vec![piece(ring(200.0, 130.0, 60), 3, unturned()), piece(support::disc(110.0, 40), 3, unturned())];
    let lay: Lay = sound_lay(&task(vec![roll(200.0)], pieces), &effort(1, 1));
    assert!(lay.unplaced.is_empty(), "{:?}", lay.unplaced);
    assert!(length(&lay) <= 601.0, "the discs should lie in the rings, and the lay be 600 long: {}", length(&lay));
}

/// Source: E. Hopper and B. C. H. Turton 2001, "An empirical investigation of meta-heuristic and heuristic algorithms for a
/// 2D packing problem", appendix, problems C1P1 to C1P3: they fill 20 by 20 without waste, and quarter turns are allowed.
#[test]
fn the_smallest_rectangles_of_hopper_and_turton_are_laid_without_waste() {
    let problems = [
        "2x12 7x12 8x6 3x6 3x5 5x5 3x12 3x7 5x7 2x6 3x2 4x2 3x4 4x4 9x2 11x2",
        "4x1 4x5 9x4 3x5 3x9 1x4 5x3 4x1 5x5 7x2 9x3 3x13 2x8 15x4 5x4 10x6 7x2",
        "4x14 5x2 2x2 9x7 5x5 2x5 7x7 3x5 6x5 3x2 6x2 4x6 6x3 10x3 6x3 10x3",
    ];
    for (k, problem) in problems.iter().enumerate() {
        let sides = |text: &str| -> [f64; 2] {
            let (width, height) = text.split_once('x').expect("two sides");
            [width, height].map(|side| 50.0 * side.parse::<f64>().expect("a number"))
        };
        let pieces = problem.split(' ').map(sides).map(|[w, h]| piece(rect(w, h), 1, quarter_turns())).collect();
        let found = length(&sound_lay(&task(vec![roll(1000.0)], pieces), &effort(3, 1)));
        assert!((found - 1000.0).abs() <= TOLERANCE, "C1P{}: {found} instead of 1000", k + 1);
    }
}
