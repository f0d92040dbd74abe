//! The inside of a no-fit polygon as it is to all of a small cell: what lies to the left of two lines.
//!
//! Most cells see one edge, or two that meet at a convex corner. There the depth is the distance to the nearer line, which
//! needs neither the foot of a point on an edge nor a root, and no question whether the point is inside: where it is not,
//! one of the distances is negative.

use super::edge::{Edge, distance};

/// How much the depth told by a wedge may be off deep inside, and how deep that is at least, as shares of a cell's side.
const SLACK: f64 = 0.1;
const DEEP: f64 = 0.5;

/// What lies to the left of two lines.
#[derive(Clone, Copy, Debug)]
pub(super) struct Wedge {
    /// Unit normals inwards, by axis and line.
    normals: [[f64; 2]; 2],
    /// How far the origin lies inwards of each line.
    offsets: [f64; 2],
}

impl Wedge {
    /// Nothing lies in it.
    pub(super) const EMPTY: Self = Self { normals: [[0.0; 2]; 2], offsets: [-1.0; 2] };

    /// What lies to the left of two edges, which may be the same.
    pub(super) fn between(a: &Edge, b: &Edge) -> Self {
        let line = |edge: &Edge| {
            let length = edge.along[0].hypot(edge.along[1]);
            let normal = [-edge.along[1] / length, edge.along[0] / length];
            (normal, -(normal[0] * edge.from[0] + normal[1] * edge.from[1]))
        };
        let ((a, offset_a), (b, offset_b)) = (line(a), line(b));
        Self { normals: [[a[0], b[0]], [a[1], b[1]]], offsets: [offset_a, offset_b] }
    }

    /// How far inside a point lies; zero outside.
    #[inline(always)]
    pub(super) fn depth(&self, t: [f64; 2]) -> f64 {
        let [a, b] = [0, 1].map(|k| self.normals[0][k] * t[0] + self.normals[1][k] * t[1] + self.offsets[k]);
        a.min(b).max(0.0)
    }
}

/// A cell of the index, by its least and its greatest corner.
#[derive(Clone, Copy, Debug)]
pub(super) struct Cell {
    pub(super) low: [f64; 2],
    pub(super) high: [f64; 2],
}

impl Cell {
    fn corners(&self) -> [[f64; 2]; 4] {
        let Self { low, high } = *self;
        [low, [high[0], low[1]], high, [low[0], high[1]]]
    }

    /// Its corners, the middles of its sides, and its centre.
    pub(super) fn places(&self) -> [[f64; 2]; 9] {
        std::array::from_fn(|k| {
            let shares = [(k % 3) as f64 / 2.0, (k / 3) as f64 / 2.0];
            [0, 1].map(|axis| self.low[axis] + shares[axis] * (self.high[axis] - self.low[axis]))
        })
    }

    fn side(&self) -> f64 {
        (self.high[0] - self.low[0]).min(self.high[1] - self.low[1])
    }

    /// Least and greatest share of an edge at which points of the cell have their foot: at corners they are furthest.
    fn feet(&self, edge: &Edge) -> [f64; 2] {
        let shares = self.corners().map(|t| edge.foot(t).0);
        [shares.into_iter().fold(f64::INFINITY, f64::min), shares.into_iter().fold(f64::NEG_INFINITY, f64::max)]
    }
}

/// The two edges whose wedge is the inside to all of a cell, where there are two such; the same edge twice where one is
/// enough. `candidates` are all edges that may be nearest to some point of the cell.
pub(super) fn exact_bounds(edges: &[Edge], candidates: &[u32], cell: &Cell, all_inside: bool) -> Option<[u32; 2]> {
    let begins_before = |k: u32| cell.feet(&edges[k as usize])[0] >= 0.0;
    let ends_after = |k: u32| cell.feet(&edges[k as usize])[1] <= 1.0;
    match *candidates {
        [only] => (begins_before(only) && ends_after(only)).then_some([only; 2]),
        [a, b] => {
            // Both are seen from inside and nowhere beyond an end.
            let faces_both = || {
                let wedge = Wedge::between(&edges[a as usize], &edges[b as usize]);
                let beside = [a, b].into_iter().all(|k| begins_before(k) && ends_after(k));
                beside && cell.corners().iter().all(|&t| wedge.depth(t) > 0.0)
            };
            // The second goes on from the first to the left. Beyond the corner where they meet, the other one is nearer
            // or the point is outside; their other ends are beyond the cell.
            let turns_inwards = |a: u32, b: u32| {
                let (first, second) = (&edges[a as usize], &edges[b as usize]);
                let left = first.along[0] * second.along[1] > first.along[1] * second.along[0];
                first.next == b && left && begins_before(a) && ends_after(b)
            };
            (turns_inwards(a, b) || turns_inwards(b, a) || all_inside && faces_both()).then_some([a, b])
        }
        _ => None,
    }
}

/// Two edges whose wedge is nearly the inside to all of a cell that lies deep inside, where the depth only guides a search.
pub(super) fn near_bounds(edges: &[Edge], candidates: &[u32], cell: &Cell) -> Option<[u32; 2]> {
    let depths = cell.places().map(|t| (t, distance(edges, candidates, t)));
    if depths.iter().any(|(_, depth)| *depth < DEEP * cell.side()) {
        return None;
    }
    let slack = SLACK * cell.side();
    let most_off = |bounds: [u32; 2]| {
        let [a, b] = bounds.map(|k| &edges[k as usize]);
        let wedge = Wedge::between(a, b);
        depths.iter().map(|&(t, depth)| (wedge.depth(t) - depth).abs()).fold(0.0, f64::max)
    };
    let pairs = candidates.iter().enumerate().flat_map(|(k, &a)| candidates[k..].iter().map(move |&b| [a, b]));
    let nearest = pairs.map(|bounds| (most_off(bounds), bounds)).min_by(|a, b| a.0.total_cmp(&b.0))?;
    (nearest.0 <= slack).then_some(nearest.1)
}
