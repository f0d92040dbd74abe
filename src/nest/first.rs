//! The first lay: large pieces first, each as far back on the cloth as it goes, on a raster.

use std::cmp::Reverse;

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

/// Lays items in an order; `None` where one finds no place. `side` is the size of a cell in millimetres.
pub fn fill(strip: &Strip, order: &[usize], length: Option<f64>, gap: f64, side: f64) -> Vec<Option<Lying>> {
    let shapes = strip.shapes;
    let half_gap = gap / 2.0;
    let mut raster = Raster::new(
        -half_gap,
        length.map(|length| length + gap),
        strip.usable[0] - half_gap,
        strip.usable[1] + half_gap,
        side,
    );
    for &(shape, at) in &strip.obstacles {
        raster.block(&shapes.shape(shape).rings, shapes.unit(), at);
    }
    let mut masks: Vec<Option<(Mask, usize)>> = Vec::new();
    let mut laid: Vec<Option<Lying>> = vec![None; strip.items.len()];
    for &item in order {
        let mut found: Option<(Reverse<usize>, Spot, usize)> = None;
        for (way, details) in strip.ways(item).iter().enumerate() {
            if masks.len() <= details.shape {
                masks.resize_with(details.shape + 1, || None);
            }
            let shape = shapes.shape(details.shape);
            let (mask, from) = masks[details.shape]
                .get_or_insert_with(|| (raster.mask(&shape.rings, shapes.unit(), shape.half_with_gap), 0));
            if let Some(spot) = raster.first_free(mask, *from) {
                *from = spot[0];
                let end = Reverse(spot[0] + mask.columns());
                let better =
                    found.is_none_or(|(best_end, best, _)| end > best_end || end == best_end && spot[1] < best[1]);
                if better {
                    found = Some((end, spot, way));
                }
            } else {
                *from = usize::MAX / 2;
            }
        }
        if let Some((_, spot, way)) = found {
            let index = strip.ways(item)[way].shape;
            if let Some((mask, _)) = &masks[index] {
                raster.take(mask, spot);
            }
            let corner = raster.corner(spot);
            let half = shapes.shape(index).half_with_gap;
            laid[item] = Some(Lying { way, at: [corner[0] + half[0], corner[1] + half[1]] });
        }
    }
    laid
}

/// The whole of a filled strip, if every item found a place.
pub fn complete(laid: Vec<Option<Lying>>) -> Option<Arrangement> {
    laid.into_iter().collect()
}
