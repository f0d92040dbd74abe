//! An edge of a no-fit polygon: how far a point is from it, and on which side of the boundary.

use crate::nest::minkowski::GridRings;
use crate::nest::vector::length;

/// An edge of the no-fit polygon; the inside lies to its left.
#[derive(Clone, Copy, Debug)]
pub(super) struct Edge {
    pub(super) from: [f64; 2],
    pub(super) along: [f64; 2],
    inverse_length_squared: f64,
    /// The edge that begins where this one ends.
    pub(super) next: u32,
    /// The way inwards at the corner at the start and at the end: between the normals of the two edges that meet there.
    inwards: [[f32; 2]; 2],
}

impl Edge {
    /// How far along the edge the nearest point lies as a share of it, unlimited and limited to the edge, and the way
    /// there.
    #[inline(always)]
    pub(super) fn foot(&self, t: [f64; 2]) -> (f64, [f64; 2]) {
        let rel = [t[0] - self.from[0], t[1] - self.from[1]];
        let share = (rel[0] * self.along[0] + rel[1] * self.along[1]) * self.inverse_length_squared;
        let clamped = share.clamp(0.0, 1.0);
        (share, [clamped * self.along[0] - rel[0], clamped * self.along[1] - rel[1]])
    }

    /// Squared distance of a point.
    #[inline(always)]
    pub(super) fn squared_distance(&self, t: [f64; 2]) -> f64 {
        let (_, off) = self.foot(t);
        off[0] * off[0] + off[1] * off[1]
    }

    /// The unit normal inwards.
    pub(super) fn normal(&self) -> [f64; 2] {
        let length = length(self.along);
        [-self.along[1] / length, self.along[0] / length]
    }

    /// Whether the edge faces a point, or the point is at one of its ends.
    pub(super) fn faces(&self, t: [f64; 2]) -> bool {
        let (share, off) = self.foot(t);
        (0.0..=1.0).contains(&share) || length(off) < 1e-9 * length(self.along)
    }

    /// Above zero where a point whose nearest edge this is lies inside; `share` and `off` are those of its foot.
    ///
    /// Beyond a corner the normal between the two edges decides (after Bærentzen and Aanæs, "Signed distance computation
    /// using the angle weighted pseudonormal", 2005). That a corner is convex would not do: where it is all but straight,
    /// rounding puts the foot of a point far inside beyond it.
    #[inline(always)]
    pub(super) fn side(&self, t: [f64; 2], share: f64, off: [f64; 2]) -> f64 {
        let rel = [t[0] - self.from[0], t[1] - self.from[1]];
        let beside = self.along[0] * rel[1] - self.along[1] * rel[0];
        let inwards = if share < 0.0 { self.inwards[0] } else { self.inwards[1] };
        let beyond = -(f64::from(inwards[0]) * off[0] + f64::from(inwards[1]) * off[1]);
        if (0.0..=1.0).contains(&share) { beside } else { beyond }
    }
}

/// The edges of all rings; `unit` is the length of one step of the grid.
pub(super) fn edges_of(rings: &GridRings, unit: f64) -> Vec<Edge> {
    let mut edges = Vec::new();
    for ring in rings {
        let first = edges.len();
        edges.extend(ring_edges(ring, unit));
        let count = edges.len() - first;
        for (k, edge) in edges[first..].iter_mut().enumerate() {
            edge.next = (first + (k + 1) % count) as u32;
        }
    }
    edges
}

fn ring_edges(ring: &[[i32; 2]], unit: f64) -> impl Iterator<Item = Edge> {
    let n = ring.len();
    let inwards: Vec<[f32; 2]> =
        (0..n).map(|k| inwards_at(ring[(k + n - 1) % n], ring[k], ring[(k + 1) % n])).collect();
    (0..n).filter_map(move |k| {
        let end = (k + 1) % n;
        let from = ring[k].map(|c| f64::from(c) * unit);
        let to = ring[end].map(|c| f64::from(c) * unit);
        let along = [to[0] - from[0], to[1] - from[1]];
        let squared = along[0] * along[0] + along[1] * along[1];
        (squared > 0.0).then(|| Edge {
            from,
            along,
            inverse_length_squared: 1.0 / squared,
            next: 0,
            inwards: [inwards[k], inwards[end]],
        })
    })
}

/// The way inwards at a corner of a ring, whose inside is on its left.
fn inwards_at(before: [i32; 2], here: [i32; 2], after: [i32; 2]) -> [f32; 2] {
    let direction = |from: [i32; 2], to: [i32; 2]| {
        let [x, y] = [0, 1].map(|axis| f64::from(to[axis]) - f64::from(from[axis]));
        let length = length([x, y]).max(f64::MIN_POSITIVE);
        [x / length, y / length]
    };
    let (to_here, from_here) = (direction(before, here), direction(here, after));
    let between_normals = [-to_here[1] - from_here[1], to_here[0] + from_here[0]];
    if length(between_normals) > 1e-6 {
        return between_normals.map(|c| c as f32);
    }
    // The normals cancel out: inwards is back along a needle, and on from the end of a slit.
    let is_slit = to_here[0] * from_here[1] < to_here[1] * from_here[0];
    let on = if is_slit { 1.0 } else { -1.0 };
    to_here.map(|c| (on * c) as f32)
}

/// Whether a point lies inside, by the nearest of some edges.
pub(super) fn is_inside(edges: &[Edge], candidates: &[u32], t: [f64; 2]) -> bool {
    let nearest = candidates.iter().min_by(|a, b| {
        let [a, b] = [a, b].map(|&&k| edges[k as usize].squared_distance(t));
        a.total_cmp(&b)
    });
    nearest.is_some_and(|&k| {
        let edge = &edges[k as usize];
        let (share, off) = edge.foot(t);
        edge.side(t, share, off) > 0.0
    })
}

/// The distance of a point from the nearest of some edges.
pub(super) fn distance(edges: &[Edge], candidates: &[u32], t: [f64; 2]) -> f64 {
    let squares = candidates.iter().map(|&k| edges[k as usize].squared_distance(t));
    squares.fold(f64::INFINITY, f64::min).sqrt()
}
