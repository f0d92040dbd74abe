//! How deep one shape lies in another: a no-fit polygon with an index that answers in a few nanoseconds.
//!
//! The depth at a displacement `t` is the distance from `t` to the boundary of the no-fit polygon where `t` lies
//! inside, and zero elsewhere: the shortest push that parts the two shapes (penetration depth, as Imamichi, Yagiura and
//! Nagamochi use it in "An iterated local search algorithm based on nonlinear programming for the irregular strip
//! packing problem", 2009). The index leaves out edges that cannot be nearest; in cells that the boundary crosses the depth is
//! exact, so that shapes can come to touch, and in cells inside, where it only guides a search, it may be off by a part of a
//! cell.

mod edge;
mod half_plane;
mod index;
mod region;
mod wedge;

use super::minkowski::GridRings;
use crate::nest::vector::length;
use edge::{Edge, edges_of};
pub use half_plane::HalfPlane;
use index::{Cell, Index};

/// Depth of one shape in another as a function of their displacement.
#[derive(Debug)]
pub struct NoFit {
    low: [f64; 2],
    high: [f64; 2],
    index: Index,
    edges: Vec<Edge>,
}

/// What the index knows of one displacement, looked up apart from the depth there so that several can be looked up at
/// once.
#[derive(Clone, Copy, Debug)]
pub struct Spot {
    t: [f64; 2],
    cell: Cell,
}

/// The nearest way out.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WayOut {
    /// Distance.
    pub depth: f64,
    /// The push on the second shape that parts the two.
    pub push: [f64; 2],
}

/// How deep one shape lies in another, and how that changes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Slope {
    /// Depth; below zero outside, where it is true close to the boundary only.
    pub depth: f64,
    /// Unit way of the second shape along which the depth grows fastest.
    pub inwards: [f64; 2],
}

/// A direction along an axis: 0 for x, 1 for y.
#[derive(Clone, Copy, Debug)]
pub struct Towards {
    /// The axis.
    pub axis: usize,
    /// Whether towards greater values.
    pub ahead: bool,
}

impl NoFit {
    /// Builds the index, of at most so many cells; `unit` is the length of one step of the grid.
    pub fn new(rings: &GridRings, unit: f64, most_cells: usize) -> Self {
        let edges = edges_of(rings, unit);
        let mut low = [f64::INFINITY; 2];
        let mut high = [f64::NEG_INFINITY; 2];
        for edge in &edges {
            for axis in 0..2 {
                low[axis] = low[axis].min(edge.from[axis]);
                high[axis] = high[axis].max(edge.from[axis]);
            }
        }
        Self { low, high, index: Index::new(&edges, low, high, most_cells), edges }
    }

    /// Looks a displacement up in the index.
    #[inline(always)]
    pub fn spot(&self, t: [f64; 2]) -> Spot {
        Spot { t, cell: self.index.cell(t) }
    }

    /// Depth at a displacement of the second shape against the first.
    #[inline]
    pub fn depth(&self, t: [f64; 2]) -> f64 {
        let cell = self.index.cell(t);
        if cell.is_list() { self.depth_by_list(cell, t) } else { self.index.wedge(cell).depth(t) }
    }

    /// Depth, and the way along which it grows fastest, at a displacement that was looked up here.
    #[inline(always)]
    pub fn slope_at(&self, spot: &Spot) -> Slope {
        let Spot { t, cell } = *spot;
        if cell.is_list() { self.slope_by_list(cell, t) } else { self.index.wedge(cell).slope(t) }
    }

    #[inline(never)]
    fn depth_by_list(&self, cell: Cell, t: [f64; 2]) -> f64 {
        let (inside, foot, _) = self.foot_by_list(cell, t);
        if inside { length(foot) } else { 0.0 }
    }

    #[inline(never)]
    fn slope_by_list(&self, cell: Cell, t: [f64; 2]) -> Slope {
        let (inside, foot, nearest) = self.foot_by_list(cell, t);
        let sign = if inside { 1.0 } else { -1.0 };
        let distance = length(foot);
        // On the boundary the way to it is nothing but rounding: there the edge tells.
        let edge = &self.edges[nearest];
        let inwards = if edge.faces(t) { edge.normal() } else { foot.map(|c| -sign * c / distance) };
        Slope { depth: sign * distance, inwards }
    }

    /// Whether a displacement in a cell that is a list lies inside, the way from it to the nearest place of the boundary,
    /// and the edge that this is on.
    #[inline(always)]
    fn foot_by_list(&self, cell: Cell, t: [f64; 2]) -> (bool, [f64; 2], usize) {
        let (candidates, all_inside) = self.index.list(cell);
        let mut nearest = f64::INFINITY;
        let mut inside = f64::from(u8::from(all_inside));
        let mut foot = [0.0; 2];
        let mut on = 0;
        for &k in candidates {
            let edge = &self.edges[k as usize];
            let (share, off) = edge.foot(t);
            let squared = off[0] * off[0] + off[1] * off[1];
            let side = if all_inside { inside } else { edge.side(t, share, off) };
            // Without a branch, which is taken irregularly.
            let is_nearer = squared < nearest;
            inside = if is_nearer { side } else { inside };
            foot = if is_nearer { off } else { foot };
            on = if is_nearer { k as usize } else { on };
            nearest = nearest.min(squared);
        }
        (inside > 0.0, foot, on)
    }

    /// The shortest push that parts the two shapes; `None` where they do not overlap.
    pub fn way_out(&self, t: [f64; 2]) -> Option<WayOut> {
        let cell = self.index.cell(t);
        if cell.is_list() {
            let (inside, push, _) = self.foot_by_list(cell, t);
            return inside.then(|| WayOut { depth: length(push), push });
        }
        if self.index.wedge(cell).depth(t) == 0.0 {
            return None;
        }
        let feet = self.index.bounds(cell).iter().map(|&k| self.edges[k as usize].foot(t).1);
        let ways_out = feet.map(|push| WayOut { depth: length(push), push });
        ways_out.min_by(|a, b| a.depth.total_cmp(&b.depth))
    }

    /// A displacement at which the two shapes touch: on the edge that a share of all edges points to, at a share of it.
    pub fn touching(&self, which: f64, share: f64) -> [f64; 2] {
        let edge = &self.edges[((which * self.edges.len() as f64) as usize).min(self.edges.len() - 1)];
        [0, 1].map(|axis| edge.from[axis] + share * edge.along[axis])
    }

    /// How far the second shape can be moved along an axis, from a displacement without overlap, before it meets the
    /// first; infinite where it never does. An overlap of up to `touch` is none.
    pub fn free_run(&self, t: [f64; 2], towards: Towards, touch: f64) -> f64 {
        let Towards { axis, ahead } = towards;
        let other = 1 - axis;
        let line = t[other];
        if line <= self.low[other] + touch || line >= self.high[other] - touch {
            // The line only grazes.
            return f64::INFINITY;
        }
        // The inside lies to the left of an edge: one that runs upwards is entered towards smaller x.
        let enters_upwards = (axis == 0) != ahead;
        let entry = |edge: &Edge| {
            let (start, end) = (edge.from[other], edge.from[other] + edge.along[other]);
            let crosses = if enters_upwards { start <= line && line < end } else { end <= line && line < start };
            let at = edge.from[axis] + (line - start) / edge.along[other] * edge.along[axis];
            let run = if ahead { at - t[axis] } else { t[axis] - at };
            (crosses && run >= -touch).then_some(run.max(0.0))
        };
        self.edges.iter().filter_map(entry).fold(f64::INFINITY, f64::min)
    }
}

#[cfg(test)]
mod tests {
    use super::edge::{distance, is_inside};
    use super::*;

    fn l_shape() -> NoFit {
        NoFit::new(&vec![vec![[0, 0], [30, 0], [30, 10], [10, 10], [10, 30], [0, 30]]], 1.0, 4096)
    }

    #[test]
    fn depth_is_the_distance_to_the_nearest_edge() {
        let no_fit = l_shape();
        assert_eq!(no_fit.depth([5.0, 20.0]), 5.0);
        assert_eq!(no_fit.depth([25.0, 4.0]), 4.0);
        assert!((no_fit.depth([7.0, 7.0]) - 18f64.sqrt()).abs() < 1e-12);
        assert_eq!(no_fit.depth([20.0, 20.0]), 0.0);
        assert_eq!(no_fit.depth([10.0, 20.0]), 0.0);
        assert_eq!(no_fit.depth([-1.0, 5.0]), 0.0);
    }

    #[test]
    fn moving_along_an_axis_ends_where_the_shapes_meet() {
        let no_fit = l_shape();
        let back = |t: [f64; 2]| no_fit.free_run(t, Towards { axis: 0, ahead: false }, 1e-6);
        assert_eq!(back([50.0, 5.0]), 20.0);
        assert_eq!(back([50.0, 20.0]), 40.0);
        assert_eq!(back([30.0, 5.0]), 0.0);
        assert_eq!(back([50.0, 30.0]), f64::INFINITY);
        assert_eq!(back([-5.0, 5.0]), f64::INFINITY);
        let ahead = |t: [f64; 2]| no_fit.free_run(t, Towards { axis: 0, ahead: true }, 1e-6);
        assert_eq!((ahead([-7.0, 5.0]), ahead([15.0, 20.0])), (7.0, f64::INFINITY));
        let down = |t: [f64; 2]| no_fit.free_run(t, Towards { axis: 1, ahead: false }, 1e-6);
        assert_eq!((down([5.0, 50.0]), down([20.0, 50.0]), down([5.0, -1.0])), (20.0, 40.0, f64::INFINITY));
        let up = |t: [f64; 2]| no_fit.free_run(t, Towards { axis: 1, ahead: true }, 1e-6);
        assert_eq!((up([20.0, -3.0]), up([20.0, 12.0])), (3.0, f64::INFINITY));
    }

    #[test]
    fn the_way_out_ends_the_overlap() {
        let no_fit = l_shape();
        for t in [[5.0, 20.0], [25.0, 4.0], [7.0, 7.5], [1.0, 1.5]] {
            let out = no_fit.way_out(t).expect("inside");
            let after = [t[0] + out.push[0] * 1.000_001, t[1] + out.push[1] * 1.000_001];
            assert_eq!(no_fit.depth(after), 0.0, "from {t:?}");
        }
    }

    /// On an edge and close to it the slope is that of the edge, on the box around all edges too.
    #[test]
    fn what_touches_is_told_with_the_way_off() {
        for rings in rings_of_all_kinds() {
            let edges = edges_of(&rings, 0.5);
            let no_fit = NoFit::new(&rings, 0.5, 4096);
            for (edge, share) in edges.iter().flat_map(|edge| [0.3, 0.5, 0.7].map(|share| (edge, share))) {
                let size = length(edge.along);
                let normal = [-edge.along[1] / size, edge.along[0] / size];
                for shift in [0.0, 1e-13, -1e-13, 1e-4, -1e-4] {
                    let t = [0, 1].map(|axis| edge.from[axis] + share * edge.along[axis] + shift * normal[axis]);
                    let Slope { depth, inwards } = no_fit.slope_at(&no_fit.spot(t));
                    let off = length([inwards[0] - normal[0], inwards[1] - normal[1]]);
                    assert!(
                        (depth - shift).abs() < 1e-9 && off < 1e-6,
                        "{t:?} {shift}: {depth}, {inwards:?} {normal:?}"
                    );
                }
            }
        }
    }

    /// A star, a square with a notch and a hole, and a needle: every kind of corner.
    fn rings_of_all_kinds() -> Vec<GridRings> {
        let star = |points: i32, inner: f64| -> Vec<[i32; 2]> {
            (0..2 * points)
                .map(|k| {
                    let radius = if k % 2 == 0 { 1000.0 } else { inner };
                    let (sin, cos) = crate::shape::sin_cos_degrees(180.0 / f64::from(points) * f64::from(k));
                    [(radius * cos).round() as i32, (radius * sin).round() as i32]
                })
                .collect()
        };
        let notched = vec![[-900, -800], [950, -800], [950, 700], [80, 700], [0, -100], [-70, 700], [-900, 700]];
        let hole = vec![[300, -500], [200, -200], [500, 100], [700, -400]];
        let needle = vec![[-1000, -1000], [1000, 900], [-960, -930]];
        vec![vec![star(12, 420.0)], vec![star(30, 990.0)], vec![star(4, 150.0)], vec![notched, hole], vec![needle]]
    }

    #[test]
    fn the_index_agrees_with_a_look_at_every_edge() {
        const UNIT: f64 = 0.5;
        for (rings, most_cells) in rings_of_all_kinds().iter().flat_map(|rings| [64, 4096].map(|most| (rings, most))) {
            let edges = edges_of(rings, UNIT);
            let all: Vec<u32> = (0..edges.len() as u32).collect();
            let no_fit = NoFit::new(rings, UNIT, most_cells);
            let side = no_fit.index.sides().into_iter().fold(0.0, f64::max);
            for (i, j) in (-103..103).flat_map(|i| (-103..103).map(move |j| (i, j))) {
                let t = [f64::from(i) * 5.3, f64::from(j) * 5.1];
                let nearest = distance(&edges, &all, t);
                let expected = if is_inside(&edges, &all, t) { nearest } else { 0.0 };
                let depth = no_fit.depth(t);
                let on_edge = nearest < 1e-9;
                assert!(on_edge || (depth > 0.0) == (expected > 0.0), "at {t:?}: {depth} and {expected}");
                // Further inside than any cell that touches the boundary, the depth may be off by a part of a cell.
                let slack = if nearest > 0.25 * side { 0.5 * side } else { 0.0 };
                assert!((depth - expected).abs() < slack + 1e-9, "at {t:?}: {depth} and {expected}, {side}");
                let slope = no_fit.slope_at(&no_fit.spot(t));
                assert_eq!(slope.depth.max(0.0), depth, "at {t:?}");
                if depth > 0.0 {
                    assert!((length(slope.inwards) - 1.0).abs() < 1e-9, "at {t:?}: {slope:?}");
                    let reached = [0, 1].map(|axis| t[axis] - depth * slope.inwards[axis]);
                    // The nearer line may be that of an edge that ends before.
                    assert!(distance(&edges, &all, reached) < 2.0 * slack + 1e-9, "at {t:?}: {slope:?}, {side}");
                }
                let out = no_fit.way_out(t);
                assert_eq!(out.is_some(), depth > 0.0, "at {t:?}");
                if let Some(WayOut { depth, push }) = out {
                    let reached = distance(&edges, &all, [t[0] + push[0], t[1] + push[1]]);
                    assert!(reached < 1e-9, "at {t:?}: {out:?}");
                    // A part of an edge may be further away than its line.
                    assert!((depth - expected).abs() < 2.0 * slack + 1e-9, "at {t:?}: {out:?} and {expected}, {side}");
                }
            }
        }
    }
}
