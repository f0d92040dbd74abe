//! No-fit polygons as Minkowski sums, by convolution.
//!
//! B placed at displacement `t` overlaps A exactly when `t` lies inside `A ⊕ (−B)`. The boundary of that sum is part
//! of the convolution of the two boundaries (Guibas, Ramshaw and Stolfi, "A kinetic framework for computational
//! geometry", 1983), and the points inside are those round which the convolution winds. So: trace the convolution in
//! exact integers, then let a polygon overlay keep what has a winding number other than zero.
//!
//! With holes the winding number counts components less holes of the overlap. It could only be zero for a real
//! overlap if one shape filled a hole of the other completely; a hole is therefore kept only where the other shape is
//! smaller than the hole, and filled where it is not.

use i_overlay::core::fill_rule::FillRule;
use i_overlay::core::overlay::Overlay;
use i_overlay::core::overlay_rule::OverlayRule;
use i_overlay::i_float::int::point::IntPoint;

/// Width, in steps of the grid, up to which a slit is rounding. A notch as wide as a piece is wider once both have been
/// [eroded].
const SLIT: f64 = 3.0;

/// A point on the integer grid.
pub type GridPoint = [i32; 2];

/// Rings on the integer grid; the first is the outer one and runs counter-clockwise, holes run clockwise.
pub type GridRings = Vec<Vec<GridPoint>>;

/// The rings of `a ⊕ (−b)`, outer ones counter-clockwise, holes clockwise, in no promised order.
pub fn no_fit_rings(a: &GridRings, b: &GridRings) -> GridRings {
    let reflected: GridRings = b.iter().map(|ring| ring.iter().map(|p| [-p[0], -p[1]]).collect()).collect();
    let kept_a = with_useful_holes(a, &reflected);
    let kept_b = with_useful_holes(&reflected, a);
    if kept_a.len() == 1 && kept_b.len() == 1 && is_convex(kept_a[0]) && is_convex(kept_b[0]) {
        return vec![convex_sum(kept_a[0], kept_b[0])];
    }
    let contours: Vec<Vec<IntPoint>> = kept_a
        .iter()
        .flat_map(|ring_a| kept_b.iter().map(move |ring_b| (ring_a, ring_b)))
        .flat_map(|(ring_a, ring_b)| convolution(ring_a, ring_b))
        .map(|cycle| cycle.into_iter().map(|p| IntPoint::new(p[0], p[1])).collect())
        .collect();
    Overlay::with_contours(&contours, &[])
        .overlay(OverlayRule::Subject, FillRule::NonZero)
        .into_iter()
        .flatten()
        .filter_map(|ring| without_slits(ring.into_iter().map(|p| [p.x, p.y]).collect()))
        .collect()
}

/// A ring without the slits and spikes that rounding leaves where one shape has no room to spare in the other; `None`
/// where nothing else is left of it.
fn without_slits(mut ring: Vec<GridPoint>) -> Option<Vec<GridPoint>> {
    let mut sound = 0;
    let mut at = 0;
    // Every corner must pass once more after the last one was taken out.
    while ring.len() > 2 && sound < ring.len() {
        let n = ring.len();
        let [before, here, after] = [ring[(at + n - 1) % n], ring[at % n], ring[(at + 1) % n]];
        if turns_back(before, here, after) {
            ring.remove(at % n);
            sound = 0;
            at = (at + n - 1) % n;
        } else {
            sound += 1;
            at = (at + 1) % n;
        }
    }
    (ring.len() > 2).then_some(ring)
}

/// Whether a path comes back along itself at a corner, give or take some steps of the grid, or stands still there.
fn turns_back(before: GridPoint, here: GridPoint, after: GridPoint) -> bool {
    let vector = |from: GridPoint, to: GridPoint| [0, 1].map(|axis| i64::from(to[axis]) - i64::from(from[axis]));
    let (there, back) = (vector(before, here), vector(here, after));
    let length = |v: [i64; 2]| (dot(v, v) as f64).sqrt();
    let (shorter, longer) = (length(there).min(length(back)), length(there).max(length(back)));
    // The end of the shorter leg lies this far from the line of the longer one.
    let apart = cross(there, back).unsigned_abs() as f64 / longer.max(1.0);
    shorter < 1.0 || (dot(there, back) < 0 && apart <= SLIT)
}

/// Rings made smaller by some steps of the grid on every side: material lies to the left of every edge, of holes too.
pub fn eroded(rings: &GridRings, steps: f64) -> GridRings {
    rings.iter().map(|ring| (0..ring.len()).map(|k| eroded_corner(ring, k, steps)).collect()).collect()
}

fn eroded_corner(ring: &[GridPoint], k: usize, steps: f64) -> GridPoint {
    let inward = |edge: [i64; 2]| {
        let [x, y] = edge.map(|c| c as f64);
        let length = (x * x + y * y).sqrt().max(1.0);
        [-y / length, x / length]
    };
    let (before, after) = (inward(edge(ring, (k + ring.len() - 1) % ring.len())), inward(edge(ring, k)));
    // Where the two sides moved inwards meet; at a sharp corner not quite so far.
    let share = steps / (1.0 + before[0] * after[0] + before[1] * after[1]).max(0.25);
    [0, 1].map(|axis| ring[k][axis] + (share * (before[axis] + after[axis])).round() as i32)
}

/// The outer ring, and the holes that `other` is small enough to lie in.
fn with_useful_holes<'a>(rings: &'a GridRings, other: &GridRings) -> Vec<&'a [GridPoint]> {
    let [width, height] = extent(&other[0]);
    rings
        .iter()
        .enumerate()
        .filter(|(k, ring)| {
            let [hole_width, hole_height] = extent(ring);
            *k == 0 || (hole_width >= width && hole_height >= height && [hole_width, hole_height] != [width, height])
        })
        .map(|(_, ring)| ring.as_slice())
        .collect()
}

fn extent(ring: &[GridPoint]) -> [i64; 2] {
    [0, 1].map(|axis| {
        let values = ring.iter().map(|p| i64::from(p[axis]));
        values.clone().max().unwrap_or(0) - values.min().unwrap_or(0)
    })
}

fn edge(ring: &[GridPoint], k: usize) -> [i64; 2] {
    let from = ring[k];
    let to = ring[if k + 1 == ring.len() { 0 } else { k + 1 }];
    [i64::from(to[0]) - i64::from(from[0]), i64::from(to[1]) - i64::from(from[1])]
}

fn cross(u: [i64; 2], v: [i64; 2]) -> i64 {
    u[0] * v[1] - u[1] * v[0]
}

fn dot(u: [i64; 2], v: [i64; 2]) -> i64 {
    u[0] * v[0] + u[1] * v[1]
}

fn is_convex(ring: &[GridPoint]) -> bool {
    let n = ring.len();
    (0..n).all(|k| cross(edge(ring, (k + n - 1) % n), edge(ring, k)) >= 0)
}

/// The sum of two convex rings: their edges merged by direction.
fn convex_sum(a: &[GridPoint], b: &[GridPoint]) -> Vec<GridPoint> {
    let (start_a, start_b) = (lowest(a), lowest(b));
    let (mut i, mut j) = (0, 0);
    let mut ring = Vec::with_capacity(a.len() + b.len());
    while i < a.len() || j < b.len() {
        let p = a[(start_a + i) % a.len()];
        let q = b[(start_b + j) % b.len()];
        ring.push([p[0] + q[0], p[1] + q[1]]);
        let ahead = cross(edge(a, (start_a + i) % a.len()), edge(b, (start_b + j) % b.len()));
        let step_a = j == b.len() || (i < a.len() && ahead >= 0);
        let step_b = i == a.len() || (j < b.len() && ahead <= 0);
        i += usize::from(step_a);
        j += usize::from(step_b);
    }
    ring
}

fn lowest(ring: &[GridPoint]) -> usize {
    (0..ring.len()).min_by_key(|&k| (ring[k][1], ring[k][0])).unwrap_or(0)
}

/// The convolution of two rings as closed cycles.
///
/// Between an edge of one ring and the next the direction sweeps through an angle; each edge of the other ring whose
/// direction lies in that sweep belongs to the convolution, forwards where the ring turns left and backwards where it
/// turns right. Equal directions are told apart by taking every edge of `a` as turned a hair further than its equal in
/// `b`.
fn convolution(a: &[GridPoint], b: &[GridPoint]) -> Vec<Vec<GridPoint>> {
    let mut steps: Vec<(u32, u32)> = Vec::with_capacity(2 * (a.len() + b.len()));
    let node = |i: usize, j: usize| ((i % a.len()) * b.len() + j % b.len()) as u32;
    for i in 0..a.len() {
        let sweep = Sweep { from: edge(a, (i + a.len() - 1) % a.len()), to: edge(a, i) };
        for j in 0..b.len() {
            match sweep.passes(edge(b, j), Tie::First) {
                Passing::Forwards => steps.push((node(i, j), node(i, j + 1))),
                Passing::Backwards => steps.push((node(i, j + 1), node(i, j))),
                Passing::No => {}
            }
        }
    }
    for j in 0..b.len() {
        let sweep = Sweep { from: edge(b, (j + b.len() - 1) % b.len()), to: edge(b, j) };
        for i in 0..a.len() {
            match sweep.passes(edge(a, i), Tie::Second) {
                Passing::Forwards => steps.push((node(i, j), node(i + 1, j))),
                Passing::Backwards => steps.push((node(i + 1, j), node(i, j))),
                Passing::No => {}
            }
        }
    }
    closed_cycles(steps)
        .into_iter()
        .map(|cycle| {
            cycle
                .into_iter()
                .map(|node| {
                    let (p, q) = (a[node as usize / b.len()], b[node as usize % b.len()]);
                    [p[0] + q[0], p[1] + q[1]]
                })
                .collect()
        })
        .collect()
}

/// The angle through which a ring turns at a vertex.
struct Sweep {
    from: [i64; 2],
    to: [i64; 2],
}

/// Which end of a sweep includes an equal direction.
#[derive(Clone, Copy, PartialEq)]
enum Tie {
    /// The sweep is a hair further on: it has passed its last direction, but not its first.
    First,
    /// The direction is a hair further on: the sweep has passed its first direction, but not its last.
    Second,
}

enum Passing {
    Forwards,
    Backwards,
    No,
}

impl Sweep {
    fn passes(&self, direction: [i64; 2], tie: Tie) -> Passing {
        let turn = cross(self.from, self.to);
        let (low, high) = if tie == Tie::First { (false, true) } else { (true, false) };
        if turn > 0 {
            if within(self.from, self.to, direction, low, high) { Passing::Forwards } else { Passing::No }
        } else if turn < 0 {
            if within(self.to, self.from, direction, low, high) { Passing::Backwards } else { Passing::No }
        } else {
            Passing::No
        }
    }
}

/// Whether a direction lies in the counter-clockwise sweep, less than a half turn, from `low` to `high`.
fn within(low: [i64; 2], high: [i64; 2], direction: [i64; 2], with_low: bool, with_high: bool) -> bool {
    let after_low = cross(low, direction);
    let before_high = cross(direction, high);
    if after_low == 0 && dot(low, direction) > 0 {
        return with_low;
    }
    if before_high == 0 && dot(high, direction) > 0 {
        return with_high;
    }
    after_low > 0 && before_high > 0
}

/// Joins steps, of which as many leave each node as arrive there, into closed walks.
fn closed_cycles(mut steps: Vec<(u32, u32)>) -> Vec<Vec<u32>> {
    steps.sort_unstable();
    let mut used = vec![false; steps.len()];
    let mut cycles = Vec::new();
    for start in 0..steps.len() {
        if used[start] {
            continue;
        }
        let mut cycle = Vec::new();
        let mut at = start;
        loop {
            used[at] = true;
            cycle.push(steps[at].0);
            let next = steps[at].1;
            let first = steps.partition_point(|step| step.0 < next);
            let free = (first..steps.len()).take_while(|&k| steps[k].0 == next).find(|&k| !used[k]);
            match free {
                Some(k) => at = k,
                None => break,
            }
        }
        cycles.push(cycle);
    }
    cycles
}

#[cfg(test)]
mod tests {
    use super::*;

    fn doubled_area(rings: &GridRings) -> i64 {
        rings
            .iter()
            .map(|ring| {
                (0..ring.len())
                    .map(|k| {
                        let (p, q) = (ring[k], ring[(k + 1) % ring.len()]);
                        cross([p[0].into(), p[1].into()], [q[0].into(), q[1].into()])
                    })
                    .sum::<i64>()
            })
            .sum()
    }

    fn square(side: i32) -> GridRings {
        vec![vec![[0, 0], [side, 0], [side, side], [0, side]]]
    }

    #[test]
    fn two_squares_make_a_square_of_both_sides() {
        let rings = no_fit_rings(&square(10), &square(4));
        assert_eq!(doubled_area(&rings), 2 * 14 * 14);
        assert_eq!(rings[0].len(), 4);
    }

    #[test]
    fn a_notch_that_admits_the_other_shape_stays_open() {
        let notched = vec![vec![[0, 0], [30, 0], [30, 30], [20, 30], [20, 10], [10, 10], [10, 30], [0, 30]]];
        let rings = no_fit_rings(&notched, &square(4));
        // The notch is 10 wide: six are free to a square of four, all the way up.
        assert_eq!(doubled_area(&rings), 2 * (34 * 34 - 6 * 20));
    }

    #[test]
    fn a_hole_that_admits_the_other_shape_stays_open() {
        let ring = vec![vec![[0, 0], [30, 0], [30, 30], [0, 30]], vec![[10, 10], [10, 20], [20, 20], [20, 10]]];
        assert_eq!(doubled_area(&no_fit_rings(&ring, &square(4))), 2 * (34 * 34 - 6 * 6));
        assert_eq!(doubled_area(&no_fit_rings(&ring, &square(12))), 2 * 42 * 42);
        assert_eq!(doubled_area(&no_fit_rings(&square(4), &ring)), 2 * (34 * 34 - 6 * 6));
    }

    #[test]
    fn two_stars_agree_with_a_union_of_triangle_sums() {
        let star = |n: usize, long: f64, short: f64| -> GridRings {
            vec![
                (0..n)
                    .map(|k| {
                        let radius = if k % 2 == 0 { long } else { short };
                        let (sin, cos) = crate::shape::sin_cos_degrees(360.0 * k as f64 / n as f64);
                        [(radius * cos).round() as i32, (radius * sin).round() as i32]
                    })
                    .collect(),
            ]
        };
        for (m, n) in [(10, 14), (6, 8), (16, 10)] {
            let (a, b) = (star(m, 90_000.0, 30_000.0), star(n, 70_000.0, 41_000.0));
            let fans = |rings: &GridRings| -> Vec<GridRings> {
                let ring = &rings[0];
                (0..ring.len()).map(|k| vec![vec![[0, 0], ring[k], ring[(k + 1) % ring.len()]]]).collect()
            };
            let parts: Vec<Vec<IntPoint>> = fans(&a)
                .iter()
                .flat_map(|p| fans(&b).iter().flat_map(|q| no_fit_rings(p, q)).collect::<Vec<_>>())
                .map(|ring| ring.into_iter().map(|p| IntPoint::new(p[0], p[1])).collect())
                .collect();
            let union: GridRings = Overlay::with_contours(&parts, &[])
                .overlay(OverlayRule::Subject, FillRule::NonZero)
                .into_iter()
                .flatten()
                .map(|ring| ring.into_iter().map(|p| [p.x, p.y]).collect())
                .collect();
            let (ours, theirs) = (doubled_area(&no_fit_rings(&a, &b)), doubled_area(&union));
            let relative = (ours - theirs).abs() as f64 / theirs as f64;
            assert!(relative < 1e-4, "{m} and {n} points: {ours} against {theirs}");
        }
    }
}
