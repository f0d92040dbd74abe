//! The inside of a no-fit polygon as it is to all of a small cell: what lies to the left of two lines.
//!
//! Most cells see one edge, or two that meet at a convex corner. There the depth is the distance to the nearer line, which
//! needs neither the foot of a point on an edge nor a root, and no question whether the point is inside: where it is not,
//! one of the distances is negative.

use super::Slope;
use super::edge::{Edge, distance};
use super::half_plane::HalfPlane;

/// How much the depth told by a wedge may be off deep inside, at nine places of a cell, and how deep these lie at least, as
/// shares of the cell's side. The first is less than the second: a wedge never tells that such a cell is outside.
const SLACK: f64 = 0.1;
const DEEP: f64 = 0.5;

/// What lies to the left of two lines.
#[derive(Clone, Copy, Debug)]
pub(super) struct Wedge {
    /// Unit normals inwards, by axis and line.
    normals: [[f64; 2]; 2],
    /// Where each line lies along its normal.
    offsets: [f64; 2],
}

impl Wedge {
    /// Nothing lies in it.
    pub(super) const EMPTY: Self = Self { normals: [[0.0; 2]; 2], offsets: [1.0; 2] };

    /// What lies to the left of two edges, which may be the same.
    pub(super) fn between(a: &Edge, b: &Edge) -> Self {
        let [a, b] = [a, b].map(HalfPlane::left_of);
        Self { normals: [[a.normal[0], b.normal[0]], [a.normal[1], b.normal[1]]], offsets: [a.offset, b.offset] }
    }

    /// How far a point lies on the inner side of each line.
    #[inline(always)]
    fn ahead(&self, t: [f64; 2]) -> [f64; 2] {
        let ahead = |k: usize| self.normals[0][k] * t[0] + self.normals[1][k] * t[1] - self.offsets[k];
        [ahead(0), ahead(1)]
    }

    /// How far inside a point lies; zero outside.
    #[inline(always)]
    pub(super) fn depth(&self, t: [f64; 2]) -> f64 {
        let [a, b] = self.ahead(t);
        a.min(b).max(0.0)
    }

    /// How far inside a point lies, below zero outside, and the way inwards from the nearer line.
    #[inline(always)]
    pub(super) fn slope(&self, t: [f64; 2]) -> Slope {
        let [a, b] = self.ahead(t);
        let nearer = usize::from(b < a);
        Slope { depth: a.min(b), inwards: [self.normals[0][nearer], self.normals[1][nearer]] }
    }
}

/// The box of a cell of the index, by its least and its greatest corner.
#[derive(Clone, Copy, Debug)]
pub(super) struct CellBox {
    pub(super) low: [f64; 2],
    pub(super) high: [f64; 2],
}

impl CellBox {
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
/// enough. `candidates` are all edges that may be nearest to some point of the cell. Of a cell that lies inside those that are
/// nearest at nine places will do: an edge that is left out only makes the depth told greater than it is.
pub(super) fn exact_bounds(edges: &[Edge], candidates: &[u32], cell: &CellBox, all_inside: bool) -> Option<[u32; 2]> {
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
pub(super) fn near_bounds(edges: &[Edge], candidates: &[u32], cell: &CellBox) -> Option<[u32; 2]> {
    let depths = cell.places().map(|t| (t, distance(edges, candidates, t)));
    if depths.iter().any(|(_, depth)| *depth < DEEP * cell.side()) {
        return None;
    }
    let lines: Vec<(u32, [f64; 9])> = candidates
        .iter()
        .map(|&k| {
            let inside = HalfPlane::left_of(&edges[k as usize]);
            (k, depths.map(|(t, _)| inside.ahead(t)))
        })
        .collect();
    let most_off = |a: &[f64; 9], b: &[f64; 9]| {
        let offs = (0..9).map(|k| (a[k].min(b[k]) - depths[k].1).abs());
        offs.fold(0.0, f64::max)
    };
    let pairs = lines.iter().enumerate().flat_map(|(k, a)| lines[k..].iter().map(move |b| (a, b)));
    let nearest = pairs.map(|(a, b)| (most_off(&a.1, &b.1), [a.0, b.0])).min_by(|a, b| a.0.total_cmp(&b.0))?;
    (nearest.0 <= SLACK * cell.side()).then_some(nearest.1)
}
