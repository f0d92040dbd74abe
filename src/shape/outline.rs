//! A polygon with holes that is known to be sound.

use geo::convex_hull::graham_hull;
use geo::{Area, BoundingRect, Winding};
use geo_types::{Coord, LineString, Polygon, Rect};

use super::rings::{closed_pairs, double_area, open_points};
use super::soundness::first_fault;
use super::{OutlineFault, RingRole};

/// A simple polygon with holes, in millimetres.
///
/// The outer ring runs counter-clockwise, holes run clockwise, no ring crosses or touches itself or another, no point
/// is repeated, all numbers are finite, and the area is greater than zero.
#[derive(Clone, Debug, PartialEq)]
pub struct Outline(Polygon<f64>);

impl Outline {
    /// Checks a polygon and turns its rings the right way round. Points in the middle of a straight edge are welcome.
    ///
    /// ```
    /// use clothwright::shape::Outline;
    /// use geo_types::polygon;
    ///
    /// let clockwise = polygon![(x: 0.0, y: 0.0), (x: 0.0, y: 40.0), (x: 30.0, y: 0.0)];
    /// assert_eq!(Outline::new(clockwise)?.area(), 600.0);
    ///
    /// let bow_tie = polygon![(x: 0.0, y: 0.0), (x: 40.0, y: 40.0), (x: 40.0, y: 0.0), (x: 0.0, y: 30.0)];
    /// let fault = Outline::new(bow_tie).unwrap_err();
    /// assert_eq!(fault.to_string(), "the outer ring crosses itself at (17.143, 17.143), where edge 1 meets edge 3");
    /// # Ok::<(), clothwright::shape::OutlineFault>(())
    /// ```
    ///
    /// # Errors
    /// [`OutlineFault`] names the first fault that is found: faults of single points before faults of whole rings,
    /// crossings from left to right.
    pub fn new(polygon: Polygon<f64>) -> Result<Self, OutlineFault> {
        let (exterior, interiors) = polygon.into_inner();
        let mut rings: Vec<LineString<f64>> = std::iter::once(exterior).chain(interiors).collect();
        let open: Vec<&[Coord<f64>]> = rings.iter().map(open_points).collect();
        if let Some(fault) = first_fault(&open) {
            return Err(fault);
        }
        let turned: Vec<bool> =
            open.iter().enumerate().map(|(i, ring)| (double_area(ring) > 0.0) != (i == 0)).collect();
        for (ring, turned) in rings.iter_mut().zip(turned) {
            if turned {
                ring.0.reverse();
            }
        }
        let exterior = rings.remove(0);
        Ok(Self(Polygon::new(exterior, rings)))
    }

    /// Wraps a polygon that is already known to keep the promises above, such as a moved [`Outline`].
    pub(crate) fn trusted(polygon: Polygon<f64>) -> Self {
        Self(polygon)
    }

    /// The polygon itself.
    pub fn polygon(&self) -> &Polygon<f64> {
        &self.0
    }

    /// The rings with their roles, the outer one first, without the repeated point at the end.
    pub fn rings(&self) -> impl Iterator<Item = (RingRole, &[Coord<f64>])> {
        let holes = self.0.interiors().iter().enumerate().map(|(i, ring)| (RingRole::Hole(i + 1), ring));
        std::iter::once((RingRole::Outer, self.0.exterior())).chain(holes).map(|(role, ring)| (role, open_points(ring)))
    }

    /// Area in square millimetres, holes left out.
    pub fn area(&self) -> f64 {
        self.0.unsigned_area()
    }

    /// Length of all edges in millimetres, those of holes included.
    pub fn perimeter(&self) -> f64 {
        let length = |(a, b): (Coord<f64>, Coord<f64>)| {
            let along = b - a;
            (along.x * along.x + along.y * along.y).sqrt()
        };
        self.rings().flat_map(|(_, ring)| closed_pairs(ring).map(length)).sum()
    }

    /// The smallest upright rectangle that holds the outline.
    pub fn bounds(&self) -> Rect<f64> {
        self.0.bounding_rect().unwrap_or_else(|| Rect::new(Coord::zero(), Coord::zero()))
    }

    /// The smallest convex polygon that holds the outline, counter-clockwise.
    ///
    /// By Graham's scan (Information Processing Letters 1, 1972) with exact orientation: a quick hull loops back on itself
    /// where corners lie in line but for rounding.
    pub fn convex_hull(&self) -> Polygon<f64> {
        let mut points = open_points(self.0.exterior()).to_vec();
        let mut ring = graham_hull(&mut points, false);
        ring.make_ccw_winding();
        Polygon::new(ring, Vec::new())
    }
}
