//! Boxes only: what the searches know of them, and which search gets how much of the budget.
//!
//! A few boxes may fill a rectangle without waste, which an exhaustive search can find; else, and for more of them, the
//! order in which they are laid is changed. Both lay boxes edge to edge, which a search by overlaps never does as well.

use super::meter::{Meter, Span};
use super::perfect::Perfect;
use super::skyline::ByOrder;
use super::strip::{Arrangement, Lying, Strip};

/// Boxes up to which orders are tried; the cost of one grows with the square of their number.
const MOST_BOXES: usize = 300;
/// Share of what boxes get of the budget for a layout without waste, where there may be one.
const PERFECT: f64 = 0.4;

/// What the searches for boxes come to.
pub struct Shortened {
    /// The shortest that was found.
    pub arrangement: Arrangement,
    /// Whether none is shorter.
    pub is_shortest: bool,
}

/// Shortens an arrangement of boxes while its part of the budget lasts; `None` where not all items are boxes, or there
/// are obstacles or too many items.
pub fn shortened(
    strip: &Strip,
    first: &Arrangement,
    gap: f64,
    seed: u64,
    span: Span,
    meter: &mut Meter,
) -> Option<Shortened> {
    let boxes = Boxes::of(strip, gap)?;
    let is_shortest = |arrangement: &Arrangement| strip.length_of(arrangement) <= boxes.floor + boxes.slack;
    let arrangement = if is_shortest(first) {
        first.clone()
    } else {
        without_waste(strip, &boxes, seed, span.part(0.0, PERFECT), meter)
            .unwrap_or_else(|| by_order(strip, &boxes, first, seed, span, meter))
    };
    Some(Shortened { is_shortest: is_shortest(&arrangement), arrangement })
}

fn without_waste(strip: &Strip, boxes: &Boxes, seed: u64, span: Span, meter: &mut Meter) -> Option<Arrangement> {
    let mut perfect = Perfect::new(boxes, seed)?;
    while perfect.may_be_found() && !meter.over(span) {
        if let Some(found) = perfect.heat(meter) {
            meter.report(strip.length_of(&found), strip.density(&found));
            return Some(found);
        }
    }
    None
}

fn by_order(
    strip: &Strip,
    boxes: &Boxes,
    first: &Arrangement,
    seed: u64,
    span: Span,
    meter: &mut Meter,
) -> Arrangement {
    let mut best = first.clone();
    let mut length = strip.length_of(first);
    let mut racers = ByOrder::new(boxes, strip, first, seed);
    while length > boxes.floor + boxes.slack && !meter.over(span) {
        if let Some(shorter) = racers.heat(length, meter) {
            best = shorter;
            length = strip.length_of(&best);
            meter.report(length, strip.density(&best));
        }
    }
    best
}

/// The boxes of a strip, gap included, on cloth that is half a gap wider on every side.
pub struct Boxes {
    /// The ways of all items that fit the cloth, item by item, with the sizes along and across.
    ways: Vec<(usize, [f64; 2])>,
    /// For each item, where its ways start and end.
    runs: Vec<[u32; 2]>,
    low: f64,
    /// Of the widened cloth.
    pub width: f64,
    half_gap: f64,
    /// Of all boxes, gap included.
    pub area: f64,
    /// No arrangement is shorter; without the gap.
    pub floor: f64,
    /// Lengths that differ by less are equal.
    pub slack: f64,
}

impl Boxes {
    /// `None` where not all items are boxes that fit the cloth, or there are obstacles or too many items.
    pub fn of(strip: &Strip, gap: f64) -> Option<Self> {
        let count = strip.items.len();
        if !strip.obstacles.is_empty() || !(2..=MOST_BOXES).contains(&count) {
            return None;
        }
        let is_box = |item: usize| strip.ways(item).iter().all(|way| strip.shapes.shape(way.shape).fills_box);
        if !(0..count).all(is_box) {
            return None;
        }
        let sizes = |item: usize| {
            let fitting = (0..strip.ways(item).len()).filter(|&way| strip.admits(item, way, f64::INFINITY));
            fitting.map(|way| (way, strip.half(item, way).map(|half| 2.0 * half + gap))).collect::<Vec<_>>()
        };
        let each: Vec<_> = (0..count).map(sizes).collect();
        if each.iter().any(Vec::is_empty) {
            return None;
        }
        Some(Self::new(&each, strip.usable[0], strip.width(), gap))
    }

    /// Boxes by their ways that fit the cloth, each with its size, gap included; low and width are of the usable cloth.
    pub fn new(each: &[Vec<(usize, [f64; 2])>], low: f64, width: f64, gap: f64) -> Self {
        let area = each.iter().map(|ways| ways.first().map_or(0.0, |(_, size)| size[0] * size[1])).sum::<f64>();
        let mut end = 0;
        let mut run = |ways: &Vec<_>| {
            let start = end;
            end += ways.len() as u32;
            [start, end]
        };
        let width = width + gap;
        let shortest =
            |ways: &Vec<(usize, [f64; 2])>| ways.iter().map(|(_, size)| size[0]).fold(f64::INFINITY, f64::min);
        Self {
            runs: each.iter().map(&mut run).collect(),
            ways: each.concat(),
            low: low - gap / 2.0,
            width,
            half_gap: gap / 2.0,
            area,
            floor: each.iter().map(shortest).fold(area / width, f64::max) - gap,
            slack: 1e-9 * width,
        }
    }

    /// Number of boxes.
    pub fn count(&self) -> usize {
        self.runs.len()
    }

    /// The ways of a box, with the sizes along and across.
    #[inline]
    pub fn ways_of(&self, item: u32) -> &[(usize, [f64; 2])] {
        let [start, end] = self.runs[item as usize];
        &self.ways[start as usize..end as usize]
    }

    /// How a box lies whose middle is at a point of the widened cloth.
    pub fn lying(&self, way: usize, middle: [f64; 2]) -> Lying {
        Lying { way, at: [middle[0] - self.half_gap, self.low + middle[1]] }
    }

    /// The length that the boxes would take without any waste, on the widened cloth.
    pub fn length_without_waste(&self) -> f64 {
        self.area / self.width
    }

    /// A length on the widened cloth, as it counts on the real one.
    pub fn without_gap(&self, length: f64) -> f64 {
        length - 2.0 * self.half_gap
    }
}

/// Boxes that may lie both ways where the cloth is wide enough.
#[cfg(test)]
pub fn both_ways(sizes: &[[f64; 2]], width: f64) -> Boxes {
    let ways = |[a, b]: &[f64; 2]| {
        let both = [(0, [*a, *b]), (1, [*b, *a])];
        both.into_iter().filter(|(_, size)| size[1] <= width).collect::<Vec<_>>()
    };
    Boxes::new(&sizes.iter().map(ways).collect::<Vec<_>>(), 0.0, width, 0.0)
}
