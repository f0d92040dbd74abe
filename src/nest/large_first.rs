//! Jobs of a few large pieces and many small ones: the large ones decide the length, and the small ones go into the gaps
//! that these leave.
//!
//! A search over all of them at once spends most of its trials on small pieces, which hardly matter for the length. So
//! the large ones are tightened alone first; then the small ones are laid on what they leave free, and all of them go
//! into the search together from there.

use super::first::{self, Grid, best_fill, filled_around};
use super::meter::{Meter, Span};
use super::sections::tighten_all;
use super::strip::{Arrangement, Strip};

/// An item is small if its box is no larger than this share of the largest one.
const SMALL: f64 = 0.01;
/// Share of the area of all items up to which small ones can be hoped to find room in the gaps of the large ones.
const IN_GAPS: f64 = 0.12;
/// Small items below which it makes no difference.
const FEWEST_SMALL: usize = 8;
/// Share of the budget that the large items get for themselves.
const LARGE_ALONE: f64 = 0.5;

/// Shortens an arrangement without overlap: the large items alone first, where there are many small ones.
pub fn tighten_large_first(
    strip: &Strip,
    first: Arrangement,
    grid: Grid,
    seed: u64,
    span: Span,
    meter: &mut Meter,
) -> Arrangement {
    let Some((large, small)) = large_and_small(strip) else {
        return tighten_all(strip, first, grid, seed, span, meter);
    };
    let was_quiet = meter.set_quiet(true);
    let around = around_large(strip, [&large, &small], grid, seed, span.part(0.0, LARGE_ALONE), meter);
    meter.set_quiet(was_quiet);
    let shorter = |other: &Arrangement| strip.length_of(other) < strip.length_of(&first);
    let start = around.filter(shorter).unwrap_or(first);
    meter.report(strip.length_of(&start), strip.density(&start));
    tighten_all(strip, start, grid, seed, Span { from: meter.spent(), ..span }, meter)
}

/// The large and the small items, where there are enough small ones to matter and few enough to find room.
fn large_and_small(strip: &Strip) -> Option<(Vec<usize>, Vec<usize>)> {
    let box_area = |item: usize| strip.bulk(item) * strip.bulk(item);
    let items = 0..strip.items.len();
    let largest = items.clone().map(box_area).fold(0.0, f64::max);
    let (small, large): (Vec<usize>, Vec<usize>) = items.partition(|&item| box_area(item) <= SMALL * largest);
    let area = |items: &[usize]| items.iter().map(|&item| strip.area(item)).sum::<f64>();
    let matter = small.len() >= FEWEST_SMALL && large.len() > 1;
    (matter && area(&small) <= IN_GAPS * (area(&small) + area(&large))).then_some((large, small))
}

/// The large items as short as they come, and the small ones on what they leave free.
fn around_large(
    strip: &Strip,
    [large, small]: [&Vec<usize>; 2],
    grid: Grid,
    seed: u64,
    span: Span,
    meter: &mut Meter,
) -> Option<Arrangement> {
    let large_strip = strip.with_items(large.iter().map(|&item| strip.items[item]).collect());
    let alone = first::complete(best_fill(&large_strip, None, grid, meter))?;
    let alone = tighten_all(&large_strip, alone, grid, seed, span, meter);
    filled_around(strip, large.iter().copied().zip(alone).collect(), small, grid)
}

#[cfg(test)]
mod tests {
    use std::sync::atomic::AtomicU32;

    use super::*;
    use crate::nest::compact::is_sound;
    use crate::nest::shapes::Shapes;
    use crate::nest::task::{Budget, Piece};
    use crate::nest::test_pieces::{Impatient, in_a_row, piece};

    /// Interrupted while the large ones are at work, it lays the small ones around them all the same.
    #[test]
    fn what_the_large_ones_have_gained_is_not_lost_by_an_interruption() {
        let triangle = |k: usize| {
            let size = 60.0 + 5.0 * k as f64;
            piece(&[[0.0, 0.0], [size, 0.0], [0.0, 1.4 * size]], 1, &[0.0, 180.0])
        };
        let patch = piece(&[[0.0, 0.0], [6.0, 0.0], [6.0, 5.0], [0.0, 5.0]], 10, &[0.0]);
        let pieces: Vec<Piece> = (0..6).map(triangle).chain([patch]).collect();
        let items = pieces.iter().enumerate().flat_map(|(k, piece)| std::iter::repeat_n(k, piece.quantity as usize));
        let shapes = Shapes::new(&pieces, &[], false, 0.0).expect("no gap");
        let strip = Strip::new(&shapes, items.collect(), [0.0, 150.0], pieces.len()..pieces.len(), false);
        assert_eq!(large_and_small(&strip).map(|(large, small)| [large.len(), small.len()]), Some([6, 10]));
        let watch = Impatient { patience: AtomicU32::new(300) };
        let mut meter = Meter::new(Budget { seed: 1, effort: 100, time: None }, &watch);
        let (first, span) = (in_a_row(&strip), Span { from: 0.0, to: 1.0 });
        let lay = tighten_large_first(&strip, first.clone(), Grid::suited(&strip, 0.0), 1, span, &mut meter);
        assert!(meter.interrupted() && meter.spent() < LARGE_ALONE);
        assert!(is_sound(&strip, &lay));
        assert!(strip.length_of(&lay) < 0.8 * strip.length_of(&first));
    }
}
