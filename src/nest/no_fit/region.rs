//! Displacements free of overlap around one: half planes for a linear programme, the convex region of Li and Milenkovic,
//! "Compaction and separation algorithms for non-convex polygons and their applications" (1995).

use super::NoFit;
use super::edge::Edge;
use super::half_plane::HalfPlane;
use crate::nest::vector::length;

impl NoFit {
    /// Half planes, each with `t` on its free side, that together keep every displacement within `reach` of `t` along
    /// both axes free of overlap. From the nearest edge outwards: each cuts off the boundary beyond it, until nothing of
    /// the boundary is left. A `t` that lies a little inside is taken to lie on the boundary, and may stay.
    pub fn free_region(&self, t: [f64; 2], reach: f64, touch: f64) -> Vec<HalfPlane> {
        let beside = |axis: usize| t[axis] < self.low[axis] - reach || t[axis] > self.high[axis] + reach;
        if beside(0) || beside(1) {
            return Vec::new();
        }
        let walls = [([1.0, 0.0], t[0]), ([-1.0, 0.0], -t[0]), ([0.0, 1.0], t[1]), ([0.0, -1.0], -t[1])];
        let window = walls.map(|(normal, at)| HalfPlane { normal, offset: at - reach });
        let within = |edge: &Edge| {
            let whole = [edge.from, [edge.from[0] + edge.along[0], edge.from[1] + edge.along[1]]];
            let part = window.iter().try_fold(whole, |part, wall| wall.part_ahead(part, 0.0))?;
            Some((part, edge.along))
        };
        let mut boundary: Vec<([[f64; 2]; 2], [f64; 2])> = self.edges.iter().filter_map(within).collect();
        let mut region = Vec::new();
        let distance = |part: [[f64; 2]; 2]| {
            let near = nearest_of(part, t);
            length([near[0] - t[0], near[1] - t[1]])
        };
        // From inside, the way away from the nearest edge leads further in.
        let on_edge = touch.max(1.01 * self.depth(t));
        while let Some(&(part, along)) = boundary.iter().min_by(|a, b| distance(a.0).total_cmp(&distance(b.0))) {
            let near = nearest_of(part, t);
            let away = [t[0] - near[0], t[1] - near[1]];
            let (apart, edge_length) = (length(away), length(along));
            // The free side of an edge is on its right.
            let normal = if apart > on_edge {
                away.map(|c| c / apart)
            } else {
                [along[1] / edge_length, -along[0] / edge_length]
            };
            let offset = normal[0] * near[0] + normal[1] * near[1];
            let plane = HalfPlane { normal, offset };
            boundary = boundary
                .into_iter()
                .filter_map(|(part, along)| Some((plane.part_ahead(part, touch)?, along)))
                .collect();
            // Where it lies now is allowed, whatever rounding says.
            region.push(HalfPlane { offset: offset + plane.ahead(t).min(0.0), normal });
        }
        region
    }
}

/// The nearest point of a stretch.
fn nearest_of([a, b]: [[f64; 2]; 2], t: [f64; 2]) -> [f64; 2] {
    let along = [b[0] - a[0], b[1] - a[1]];
    let squared = along[0] * along[0] + along[1] * along[1];
    let share = ((t[0] - a[0]) * along[0] + (t[1] - a[1]) * along[1]) / squared.max(f64::MIN_POSITIVE);
    let share = share.clamp(0.0, 1.0);
    [a[0] + share * along[0], a[1] + share * along[1]]
}
