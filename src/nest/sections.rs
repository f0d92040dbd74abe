//! Long lays, section by section, so that the cost grows with the number of pieces and not with its square.
//!
//! The pieces are taken in the order in which they lie along the first lay. A section is tightened against what has been
//! settled before it; then the part of it that lies well behind its end is settled, and the rest goes on into the next.

use std::collections::BTreeSet;

use super::first::{self, Grid};
use super::lattice::in_lattices;
use super::meter::{Meter, Span};
use super::strip::{Arrangement, Lying, Strip};
use super::tighten::tighten;

/// Items up to which a lay is tightened as a whole.
const WHOLE: usize = 400;
/// Items of a section.
const SECTION: usize = 160;
/// Shapes of a section, where there are so many in all that their pairs are not kept.
const SECTION_SHAPES: usize = 300;
/// Shares of the budget for lattices of equal pieces, and for the end of a long one.
const FOR_LATTICES: f64 = 0.1;
const FOR_THEIR_END: f64 = 0.2;
/// What a no-fit polygon costs to make, in trials; all pairs of a section are reckoned, so that the sum does not depend
/// on which thread meets a pair first.
const TRIALS_PER_PAIR: u64 = 100;
/// Share of a section's length, at its end, that is not settled with it.
const UNSETTLED: f64 = 0.3;

/// Shortens an arrangement without overlap, as a whole or in sections.
pub fn tighten_all(
    strip: &Strip,
    first: Arrangement,
    grid: Grid,
    seed: u64,
    span: Span,
    meter: &mut Meter,
) -> Arrangement {
    let part = span.part(0.0, FOR_LATTICES);
    let in_order = in_lattices(strip, grid, strip.length_of(&first), seed, part, meter);
    if strip.items.len() <= WHOLE && !strip.shapes.too_many() {
        return tighten(strip, first, in_order, seed, span, meter);
    }
    match in_order {
        Some(in_order) => {
            let part = span.part(FOR_LATTICES, FOR_LATTICES + FOR_THEIR_END);
            let in_order = with_end_tightened(strip, in_order, grid, seed, part, meter);
            meter.report(strip.length_of(&in_order), strip.density(&in_order));
            in_sections(strip, &first, in_order, grid, seed, Span { from: meter.spent(), ..span }, meter)
        }
        None => in_sections(strip, &first, first.clone(), grid, seed, span, meter),
    }
}

/// Shortens a lay of which all but the end is as it should be.
fn with_end_tightened(
    strip: &Strip,
    lay: Arrangement,
    grid: Grid,
    seed: u64,
    span: Span,
    meter: &mut Meter,
) -> Arrangement {
    meter.report(strip.length_of(&lay), strip.density(&lay));
    let mut rolling = Rolling::new(strip, &lay, grid);
    let section = rolling.queue.drain(..SECTION.min(rolling.queue.len())).collect::<Vec<_>>();
    let lying = |item: usize| (item, lay[item]);
    rolling.section = section.into_iter().map(lying).collect();
    rolling.settled = std::mem::take(&mut rolling.queue).into_iter().map(lying).collect();
    let was_quiet = meter.set_quiet(true);
    rolling.tighten(seed, span, meter);
    meter.set_quiet(was_quiet);
    rolling.finished().unwrap_or(lay)
}

/// Lays everything in the order of a first lay, section by section; `shortest` where that is shorter all the same.
fn in_sections(
    strip: &Strip,
    first: &Arrangement,
    shortest: Arrangement,
    grid: Grid,
    seed: u64,
    span: Span,
    meter: &mut Meter,
) -> Arrangement {
    let length = strip.length_of(&shortest);
    let mut rolling = Rolling::new(strip, first, grid);
    let count = rolling.queue.len() as f64;
    let was_quiet = meter.set_quiet(true);
    while !rolling.queue.is_empty() && !meter.over(span) {
        let taken = |left: usize| 1.0 - left as f64 / count;
        let before = taken(rolling.queue.len());
        let new = rolling.take_in();
        let part = span.part(before, taken(rolling.queue.len()));
        if !new || meter.over(span) {
            break;
        }
        rolling.tighten(seed, Span { from: meter.spent(), ..part }, meter);
        rolling.settle();
        meter.report_spent();
    }
    meter.set_quiet(was_quiet);
    if rolling.section.is_empty() && rolling.settled.is_empty() {
        return shortest;
    }
    match rolling.finished() {
        Some(shorter) if strip.length_of(&shorter) < length => {
            meter.report(strip.length_of(&shorter), strip.density(&shorter));
            shorter
        }
        _ => shortest,
    }
}

/// A lay that is being settled from its start to its end.
struct Rolling<'a> {
    strip: &'a Strip<'a>,
    grid: Grid,
    settled: Vec<(usize, Lying)>,
    /// Items of the section at work, where they lie.
    section: Vec<(usize, Lying)>,
    /// Items still to come, the next one last.
    queue: Vec<usize>,
}

impl<'a> Rolling<'a> {
    fn new(strip: &'a Strip<'a>, first: &Arrangement, grid: Grid) -> Self {
        let left = |item: usize| first[item].at[0] - strip.half(item, first[item].way)[0];
        let mut queue: Vec<usize> = (0..strip.items.len()).collect();
        queue.sort_by(|&a, &b| left(b).total_cmp(&left(a)).then(b.cmp(&a)));
        Self { strip, grid, settled: Vec::new(), section: Vec::new(), queue }
    }

    fn reach(&self, (item, lying): &(usize, Lying)) -> [f64; 2] {
        let half = self.strip.half(*item, lying.way)[0];
        [lying.at[0] - half, lying.at[0] + half]
    }

    /// Where the section starts: nothing of it will go further back.
    fn start(&self) -> f64 {
        let settled = self.settled.iter().map(|entry| self.reach(entry)[1]).fold(0.0, f64::max);
        self.section.iter().map(|entry| self.reach(entry)[0]).fold(settled, f64::min).max(0.0)
    }

    /// The cloth from a point on, with what is settled there or less than the gap before it, and with more if wanted, as
    /// obstacles.
    fn cloth_from(&self, start: f64, more: &[(usize, Lying)], items: &[usize]) -> Strip<'a> {
        let pieces = items.iter().map(|&item| self.strip.items[item]).collect();
        let mut strip = self.strip.with_items(pieces).with_obstacles_between(start - self.grid.gap, f64::INFINITY);
        for (_, at) in &mut strip.obstacles {
            at[0] -= start;
        }
        let in_the_way = self.settled.iter().filter(|entry| self.reach(entry)[1] + self.grid.gap > start).chain(more);
        strip.obstacles.extend(
            in_the_way.map(|(item, lying)| (self.strip.shape_of(*item, lying.way), [lying.at[0] - start, lying.at[1]])),
        );
        strip
    }

    /// Takes the next items into the section, on the raster; false if they find no place.
    fn take_in(&mut self) -> bool {
        let size = self.section_size();
        let room = size.saturating_sub(self.section.len()).max(size / 4).min(self.queue.len());
        let new = self.queue.split_off(self.queue.len() - room);
        self.lay_on_raster(new)
    }

    /// Items of a section: fewer where the next ones are of many shapes.
    fn section_size(&self) -> usize {
        let next = self.queue.iter().rev().take(SECTION);
        let mut kinds = BTreeSet::new();
        let mut shapes = 0;
        let few = next.take_while(|&&item| {
            if kinds.insert(self.strip.items[item]) {
                shapes += self.strip.ways(item).len();
            }
            shapes <= SECTION_SHAPES
        });
        few.count().max(SECTION / 8)
    }

    fn lay_on_raster(&mut self, mut new: Vec<usize>) -> bool {
        self.strip.sort_largest_first(&mut new);
        let start = self.start();
        let strip = self.cloth_from(start, &self.section, &new);
        let order: Vec<usize> = (0..new.len()).collect();
        let Some(laid) = first::complete(first::fill(&strip, &order, None, self.grid, None)) else { return false };
        self.section
            .extend(new.into_iter().zip(laid).map(|(item, l)| (item, Lying { at: [l.at[0] + start, l.at[1]], ..l })));
        true
    }

    fn tighten(&mut self, seed: u64, span: Span, meter: &mut Meter) {
        let start = self.start();
        let items: Vec<usize> = self.section.iter().map(|(item, _)| *item).collect();
        let end = self.section.iter().map(|entry| self.reach(entry)[1]).fold(start, f64::max);
        let beyond = end - start + self.grid.gap;
        let mut strip = self.cloth_from(start, &[], &items).with_obstacles_between(f64::NEG_INFINITY, beyond);
        let few;
        if strip.shapes.too_many() {
            let (shapes, renumbered) = strip.shapes.some(&strip.own_shapes());
            meter.add(shapes.pairs().count() as u64 * TRIALS_PER_PAIR);
            few = shapes;
            strip = strip.on_shapes(&few, &renumbered);
        }
        let here = self.section.iter().map(|(_, l)| Lying { at: [l.at[0] - start, l.at[1]], ..*l }).collect();
        let section_seed = seed.wrapping_add(self.settled.len() as u64);
        let shorter = tighten(&strip, here, None, section_seed, span, meter);
        for ((_, lying), new) in self.section.iter_mut().zip(shorter) {
            *lying = Lying { at: [new.at[0] + start, new.at[1]], ..new };
        }
    }

    fn settle(&mut self) {
        let start = self.start();
        let end = self.section.iter().map(|entry| self.reach(entry)[1]).fold(start, f64::max);
        let line = end - UNSETTLED * (end - start);
        let (settled, open) =
            std::mem::take(&mut self.section).into_iter().partition(|entry| self.reach(entry)[1] <= line);
        self.section = open;
        self.settled.extend::<Vec<_>>(settled);
    }

    /// The whole lay, with what is still to come laid on the raster. No interruption ends that: what is settled would be
    /// lost.
    fn finished(mut self) -> Option<Arrangement> {
        let rest = std::mem::take(&mut self.queue);
        if !rest.is_empty() && !self.lay_on_raster(rest) {
            return None;
        }
        let mut all = self.settled;
        all.extend(self.section);
        all.sort_by_key(|(item, _)| *item);
        (all.len() == self.strip.items.len()).then(|| all.into_iter().map(|(_, lying)| lying).collect())
    }
}

#[cfg(test)]
mod tests {
    use std::sync::atomic::AtomicU32;

    use super::*;
    use crate::nest::compact::is_sound;
    use crate::nest::shapes::Shapes;
    use crate::nest::task::{Budget, Piece};
    use crate::nest::test_pieces::{Impatient, in_a_row, piece};

    /// The length of a lay of 450 triangles that lie one behind the other at first, and of what an interruption leaves.
    fn interrupted_after(patience: u32) -> [f64; 2] {
        let triangle = |k: usize| {
            let size = 30.0 + k as f64;
            piece(&[[0.0, 0.0], [size, 0.0], [0.0, 1.4 * size]], 10, &[0.0, 180.0])
        };
        let pieces: Vec<Piece> = (0..45).map(triangle).collect();
        let shapes = Shapes::new(&pieces, &[], false, 0.0).expect("no gap");
        let items = (0..450).map(|item| item / 10).collect();
        let strip = Strip::new(&shapes, items, [0.0, 300.0], pieces.len()..pieces.len(), false);
        let watch = Impatient { patience: AtomicU32::new(patience) };
        let mut meter = Meter::new(Budget { seed: 1, effort: 100, time: None }, &watch);
        let (first, span) = (in_a_row(&strip), Span { from: 0.0, to: 1.0 });
        let lay = tighten_all(&strip, first.clone(), Grid::suited(&strip, 0.0), 1, span, &mut meter);
        assert!(meter.interrupted() && is_sound(&strip, &lay));
        [strip.length_of(&first), strip.length_of(&lay)]
    }

    #[test]
    fn what_is_settled_is_not_lost_by_an_interruption() {
        let [first, left] = interrupted_after(100);
        assert!(left < 0.3 * first, "{left}, {first} at first");
    }

    /// One square is settled 1 mm before the section, and another reaches into it.
    #[test]
    fn what_is_settled_keeps_the_gap_to_what_comes_after() {
        let gap = 3.0;
        let square = piece(&[[0.0, 0.0], [40.0, 0.0], [40.0, 40.0], [0.0, 40.0]], 4, &[0.0]);
        let shapes = Shapes::new(&[square], &[], false, gap).expect("the gap can be kept");
        let strip = Strip::new(&shapes, vec![0; 4], [0.0, 150.0], 1..1, false);
        let lying = |x: f64, y: f64| Lying { way: 0, at: [x + 20.0, y + 20.0] };
        let rolling = Rolling {
            strip: &strip,
            grid: Grid::suited(&strip, gap),
            settled: vec![(0, lying(0.0, 0.0)), (1, lying(10.0, 50.0))],
            section: vec![(2, lying(41.0, 100.0))],
            queue: vec![3],
        };
        assert_eq!(rolling.start(), 41.0);
        let lay = rolling.finished().expect("there is room");
        assert!(is_sound(&strip, &lay), "{lay:?}");
        assert!(lay[3].at[0] >= 43.0 + 20.0, "beside the first it would be too near: {:?}", lay[3]);
    }

    #[test]
    fn where_nothing_is_settled_the_first_lay_stays() {
        let [first, left] = interrupted_after(0);
        assert_eq!(first, left);
    }
}
