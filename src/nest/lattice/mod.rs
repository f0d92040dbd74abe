//! A first lay of many equal pieces: a lattice of single pieces or of pairs, with rows along the cloth or across it.
//!
//! In a pair one piece mostly lies half turned beside the other (the double lattices of Kuperberg and Kuperberg, "Double-lattice
//! packings of convex bodies in the plane", 1990). A search that moves one piece at a time hardly ever finds so much order.
//!
//! A lattice is told by few numbers: how far the second of a pair lies beside the first, and how far each row lies from
//! the last. All else follows from contact: the second of a pair comes as near to the first as the no-fit polygon lets it,
//! the next row as near to the last, and so do repetitions in a row. A coarse grid of these numbers and a climb from its
//! best points find the lattice that needs the least cloth.

mod find;
mod rows;

use std::collections::BTreeMap;

use super::compact::is_sound;
use super::first::{Grid, filled_around};
use super::meter::{Meter, Span};
use super::random::Random;
use super::strip::{Arrangement, Lying, Strip};
use rows::Copies;

/// Copies of a piece that are worth a lattice.
const FEWEST: usize = 12;
/// Share of the area of all items that the copies of one piece must have: fewer would leave a row across the cloth half
/// empty.
const WORTH_ROWS: f64 = 0.05;
/// Share of the area of all items that those in lattices must have together.
const MOST_OF_ALL: f64 = 0.6;

/// Lays the pieces of which there are many in lattices, one behind the other, and the others round them; `None` where that is
/// no shorter than `bound`, or no way to lay these pieces, or where its part of the budget is over before any of them has
/// a lattice.
pub fn in_lattices(
    strip: &Strip,
    grid: Grid,
    bound: f64,
    seed: u64,
    span: Span,
    meter: &mut Meter,
) -> Option<Arrangement> {
    let (many, mut few) = many_and_few(strip)?;
    let mut random = Random::new(seed, u64::MAX);
    let mut laid: Vec<(usize, Lying)> = Vec::new();
    let mut end = 0.0;
    for (k, copies) in many.iter().enumerate() {
        let spent = meter.spent();
        let span = Span { from: spent, to: spent + (span.to - spent) / (many.len() - k) as f64 };
        let mut alike = Copies { strip, item: copies[0], count: copies.len(), room: bound - end, work: 0 };
        let Some(block) = alike.shortest(&mut random, span, meter) else {
            few.extend(copies);
            continue;
        };
        laid.extend(copies.iter().zip(block).map(|(&item, l)| (item, Lying { at: [l.at[0] + end, l.at[1]], ..l })));
        let far = |(item, lying): &(usize, Lying)| lying.at[0] + strip.box_with_gap(*item, lying.way)[0] / 2.0;
        // The next lattice keeps the other half of the gap.
        let gap = strip.box_with_gap(copies[0], 0)[0] / 2.0 - strip.half(copies[0], 0)[0];
        end = laid.iter().map(far).fold(0.0, f64::max) + gap;
    }
    if laid.is_empty() {
        return None;
    }
    let laid = filled_around(strip, laid, &few, grid)?;
    (strip.length_of(&laid) < bound && is_sound(strip, &laid)).then_some(laid)
}

/// The items of each piece of which there are many, the largest first, and all other items.
fn many_and_few(strip: &Strip) -> Option<(Vec<Vec<usize>>, Vec<usize>)> {
    if !strip.obstacles.is_empty() || strip.shapes.too_many() {
        return None;
    }
    let mut copies: BTreeMap<usize, Vec<usize>> = BTreeMap::new();
    for (item, piece) in strip.items.iter().enumerate() {
        copies.entry(*piece).or_default().push(item);
    }
    let area = |items: &[usize]| items.iter().map(|&item| strip.area(item)).sum::<f64>();
    let all = area(&(0..strip.items.len()).collect::<Vec<_>>());
    let is_many = |items: &Vec<usize>| items.len() >= FEWEST && area(items) >= WORTH_ROWS * all;
    let (mut many, few): (Vec<_>, Vec<_>) = copies.into_values().partition(is_many);
    let in_many: f64 = many.iter().map(|items| area(items)).sum();
    many.sort_by(|a, b| strip.area(b[0]).total_cmp(&strip.area(a[0])).then(a[0].cmp(&b[0])));
    (in_many > 0.0 && in_many >= MOST_OF_ALL * all).then_some((many, few.concat()))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::nest::shapes::Shapes;
    use crate::nest::task::{Budget, Piece};
    use crate::nest::test_pieces::piece;

    pub(super) fn regular(corners: usize, radius: f64) -> Vec<[f64; 2]> {
        let angle = |k: usize| std::f64::consts::TAU * k as f64 / corners as f64;
        (0..corners).map(|k| [radius * libm::cos(angle(k)), radius * libm::sin(angle(k))]).collect()
    }

    /// All copies of some pieces as items of a strip of a width.
    pub(super) fn with_strip<T>(pieces: &[Piece], width: f64, gap: f64, see: impl FnOnce(&Strip) -> T) -> T {
        let shapes = Shapes::new(pieces, &[], false, gap).expect("the gap can be kept");
        let copies = pieces.iter().enumerate().flat_map(|(k, piece)| std::iter::repeat_n(k, piece.quantity as usize));
        see(&Strip::new(&shapes, copies.collect(), [10.0, 10.0 + width], pieces.len()..pieces.len(), false))
    }

    fn laid(strip: &Strip, bound: f64, gap: f64) -> Option<Arrangement> {
        let mut meter = Meter::new(Budget { seed: 1, effort: 1, time: None }, &());
        in_lattices(strip, Grid::suited(strip, gap), bound, 1, Span { from: 0.0, to: 1.0 }, &mut meter)
    }

    #[test]
    fn triangles_lie_in_straight_rows() {
        let triangle = piece(&[[0.0, 0.0], [120.0, 0.0], [40.0, 100.0]], 120, &[0.0, 180.0]);
        with_strip(&[triangle], 1000.0, 0.0, |strip| {
            // Ten rows of twelve: six pairs with a base of 120 each, and what the last one leans over.
            let lay = laid(strip, 1e4, 0.0).expect("there is a lattice");
            let length = strip.length_of(&lay);
            assert!((length - 760.0).abs() < 0.01, "{length}");
            assert!(laid(strip, 700.0, 0.0).is_none(), "it must be shorter than what there is");
        });
    }

    #[test]
    fn other_pieces_lie_around_lattices_of_two_kinds_and_all_are_there() {
        let triangle = piece(&[[0.0, 0.0], [120.0, 0.0], [40.0, 100.0]], 30, &[0.0, 180.0]);
        let kite = piece(&[[0.0, 30.0], [40.0, 0.0], [110.0, 30.0], [40.0, 60.0]], 40, &[0.0, 180.0]);
        let odd = piece(&[[0.0, 0.0], [20.0, 0.0], [15.0, 12.0], [3.0, 14.0]], 3, &[0.0]);
        let gap = 3.0;
        with_strip(&[odd, triangle, kite], 1000.0, gap, |strip| {
            let lay = laid(strip, 1e4, gap).expect("there are lattices");
            assert_eq!(lay.len(), 73);
            assert!(is_sound(strip, &lay));
            let with_gap = (0..lay.len()).map(|item| strip.area(item)).sum::<f64>();
            let density = with_gap / (strip.length_of(&lay) * strip.width());
            assert!(density > 0.7, "{density}");
        });
    }

    #[test]
    fn few_copies_are_no_lattice() {
        let triangle = piece(&[[0.0, 0.0], [120.0, 0.0], [40.0, 100.0]], 11, &[0.0, 180.0]);
        with_strip(&[triangle], 1000.0, 0.0, |strip| assert!(many_and_few(strip).is_none()));
    }
}
