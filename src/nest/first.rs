//! The first lay: large pieces first, each as far back on the cloth as it goes, on a raster (bottom-left fill, after Burke,
//! Hellier, Kendall and Whitwell, "A new bottom-left-fill heuristic algorithm for the two-dimensional irregular packing
//! problem", 2006).

use std::cmp::Reverse;
use std::collections::BTreeSet;

use rayon::prelude::*;

use super::boxes::{Choice, fill_by_boxes};
use super::meter::Meter;
use super::raster::{Mask, Raster, Spot};
use super::strip::{Arrangement, Lying, Strip};

/// Sorts items in several ways that tend to make a good order; the first is by area.
pub fn orders(strip: &Strip) -> Vec<Vec<usize>> {
    let key = |measure: &dyn Fn([f64; 2]) -> f64| {
        let mut order: Vec<usize> = (0..strip.items.len()).collect();
        order.sort_by(|&a, &b| {
            let [a_measure, b_measure] = [a, b].map(|item| measure(strip.half(item, 0)));
            b_measure.total_cmp(&a_measure).then(strip.items[a].cmp(&strip.items[b])).then(a.cmp(&b))
        });
        order
    };
    vec![key(&|half| half[0] * half[1]), key(&|half| half[0].max(half[1])), key(&|half| half[0]), key(&|half| half[1])]
}

/// Columns that the longest item takes, at most.
const MOST_COLUMNS: f64 = 2000.0;

/// How fine the raster is, and the gap that it keeps.
#[derive(Clone, Copy, Debug)]
pub struct Grid {
    /// Free distance between cut lines.
    pub gap: f64,
    /// Sides of a cell along and across the cloth, in millimetres.
    pub sides: [f64; 2],
}

impl Grid {
    /// A grid as fine as the number of items and of kinds lets it be.
    pub fn suited(strip: &Strip, gap: f64) -> Self {
        let kinds: BTreeSet<usize> = strip.items.iter().copied().collect();
        let rows = match (strip.items.len(), kinds.len()) {
            (..=2000, ..=500) => 600.0,
            (_, ..=500) => 320.0,
            _ => 200.0,
        };
        let across = strip.width() / rows;
        // On narrow cloth long pieces would take very many columns, each of which is looked at.
        let longest = (0..strip.items.len()).map(|item| 2.0 * strip.half(item, 0)[0]).fold(0.0, f64::max);
        Self { gap, sides: [across.max(longest / MOST_COLUMNS), across] }
    }
}

/// The best of several fillings: the one that lays the most, and then the shortest.
pub fn best_fill(strip: &Strip, length: Option<f64>, grid: Grid, meter: &Meter) -> Vec<Option<Lying>> {
    let mut orders = orders(strip);
    if strip.items.len() > 2000 {
        orders.truncate(1);
    }
    let mut fills: Vec<Vec<Option<Lying>>> =
        orders.par_iter().map(|order| fill(strip, order, length, grid, Some(meter))).collect();
    if strip.obstacles.is_empty() {
        let by_boxes = |order: &Vec<usize>| {
            [Choice::Any, Choice::BestRows].map(|choice| fill_by_boxes(strip, order, length, grid.gap, choice))
        };
        fills.extend(orders.iter().flat_map(by_boxes));
    }
    let worth = |laid: &[Option<Lying>]| {
        let on_cloth = laid.iter().enumerate().filter_map(|(item, lying)| Some((item, (*lying)?)));
        on_cloth.fold((0.0, 0.0), |(area, end), (item, lying)| {
            (area + strip.area(item), f64::max(end, lying.at[0] + strip.half(item, lying.way)[0]))
        })
    };
    fills
        .into_iter()
        .map(|laid| (worth(&laid), laid))
        .min_by(|((area, end), _), ((other_area, other_end), _)| {
            let same = (area - other_area).abs() <= 1e-9 * area;
            if same { end.total_cmp(other_end) } else { other_area.total_cmp(area) }
        })
        .map_or_else(Vec::new, |(_, laid)| laid)
}

/// Lays items in an order; `None` for one that finds no place.
///
/// An interruption of what a meter watches ends it at once; a time limit does not, since half a lay helps nobody.
pub fn fill(
    strip: &Strip,
    order: &[usize],
    length: Option<f64>,
    grid: Grid,
    meter: Option<&Meter>,
) -> Vec<Option<Lying>> {
    let mut raster = raster_of(strip, length, grid);
    let mut masks = Masks::default();
    let mut laid: Vec<Option<Lying>> = vec![None; strip.items.len()];
    for &item in order {
        if meter.is_some_and(Meter::interrupted) {
            break;
        }
        laid[item] = masks.lay(strip, item, &mut raster);
    }
    laid
}

/// The cloth with its obstacles.
fn raster_of(strip: &Strip, length: Option<f64>, grid: Grid) -> Raster {
    let half_gap = grid.gap / 2.0;
    let mut raster = Raster::new(
        -half_gap,
        length.map(|length| length + grid.gap),
        [strip.usable[0] - half_gap, strip.usable[1] + half_gap],
        grid.sides,
        strip.shapes.unit(),
    );
    for &(index, at) in &strip.obstacles {
        let shape = strip.shapes.shape(index);
        if shape.obstacle {
            raster.bar(&shape.rings, at);
        } else {
            raster.take_shape(shape, at);
        }
    }
    raster
}

/// For each shape that was asked for, its mask and the column before which it found no room: there never will be any.
#[derive(Default)]
struct Masks(Vec<Option<(Mask, usize)>>);

impl Masks {
    /// Lays an item in the way in which it ends first.
    fn lay(&mut self, strip: &Strip, item: usize, raster: &mut Raster) -> Option<Lying> {
        let mut found: Option<(Reverse<usize>, Spot, usize)> = None;
        for (way, details) in strip.ways(item).iter().enumerate() {
            if let Some((end, spot)) = self.first_free(strip, details.shape, raster) {
                let better =
                    found.is_none_or(|(best_end, best, _)| end > best_end || end == best_end && spot[1] < best[1]);
                if better {
                    found = Some((end, spot, way));
                }
            }
        }
        let (_, spot, way) = found?;
        let index = strip.shape_of(item, way);
        if let Some((mask, _)) = &self.0[index] {
            raster.take(mask, spot);
        }
        let corner = raster.corner(spot);
        let half = strip.shapes.shape(index).half_with_gap;
        Some(Lying { way, at: [corner[0] + half[0], corner[1] + half[1]] })
    }

    /// The first spot at which a shape finds room, and the column at which it ends there.
    fn first_free(&mut self, strip: &Strip, index: usize, raster: &Raster) -> Option<(Reverse<usize>, Spot)> {
        if self.0.len() <= index {
            self.0.resize_with(index + 1, || None);
        }
        let (mask, from) = self.0[index].get_or_insert_with(|| (raster.mask(strip.shapes.shape(index)), 0));
        let spot = raster.first_free(mask, *from);
        *from = spot.map_or(usize::MAX / 2, |spot| spot[0]);
        spot.map(|spot| (Reverse(spot[0] + mask.columns()), spot))
    }
}

/// The whole of a filled strip, if every item found a place.
pub fn complete(laid: Vec<Option<Lying>>) -> Option<Arrangement> {
    laid.into_iter().collect()
}

/// Everything: what is laid, and the other items, the largest first, each where it finds room first. No interruption ends
/// it: without the others what is laid would be lost.
pub fn filled_around(
    strip: &Strip,
    mut laid: Vec<(usize, Lying)>,
    others: &[usize],
    grid: Grid,
) -> Option<Arrangement> {
    if !others.is_empty() {
        let mut around = strip.with_items(others.iter().map(|&item| strip.items[item]).collect());
        around.obstacles.extend(laid.iter().map(|(item, lying)| (strip.shape_of(*item, lying.way), lying.at)));
        let mut order: Vec<usize> = (0..others.len()).collect();
        around.sort_largest_first(&mut order);
        let filled = complete(fill(&around, &order, None, grid, None))?;
        laid.extend(others.iter().copied().zip(filled));
    }
    laid.sort_by_key(|(item, _)| *item);
    Some(laid.into_iter().map(|(_, lying)| lying).collect())
}
