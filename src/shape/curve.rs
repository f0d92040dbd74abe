//! What a person describes: an outline whose arcs and curves are still arcs and curves.

use geo_types::{Coord, LineString, Polygon, Rect};
use kurbo::{Point, Vec2};

use super::fault::PathFault;
use super::flatten::{Vertex, VertexKind, about_vertices, flatten_ring};
use super::grow::{Allowance, grow_outer_ring};
use super::join::Join;
use super::rings::coord;
use super::segment::{Arc, Segment, double_area};
use super::{CORNERS, FAR_AWAY, FLATTENING, Outline, OutlineFault, RingRole, SAME_POINT, svg_path};

/// A closed curve with holes, in millimetres, before it becomes a polygon.
///
/// Circles, ellipses and Bézier curves are kept as such; they become polygons in [`Curve::flatten`] and not before. A
/// curve is taken as it is given: what is wrong with it is found when it is flattened.
///
/// A `rect` and a `strip` have their lower left corner at the origin, the length along x; a `circle` and a `ring` have
/// their centre there.
#[derive(Clone, Debug, PartialEq)]
pub struct Curve {
    outer: Vec<Segment>,
    holes: Vec<Vec<Segment>>,
}

impl Curve {
    /// A rectangle from the origin to (`width`, `height`).
    ///
    /// ```
    /// use clothwright::shape::Curve;
    /// assert_eq!(Curve::rect(1000.0, 500.0).flatten()?.area(), 500_000.0);
    /// # Ok::<(), clothwright::shape::OutlineFault>(())
    /// ```
    pub fn rect(width: f64, height: f64) -> Self {
        Self::polygon(&[[0.0, 0.0], [width, 0.0], [width, height], [0.0, height]], &[])
    }

    /// A circle round the origin.
    ///
    /// ```
    /// use clothwright::shape::Curve;
    /// let doily = Curve::circle(165.0);
    /// assert!((doily.area() - 21_382.46).abs() < 0.01);
    /// assert!(doily.flatten()?.area() > doily.area());
    /// # Ok::<(), clothwright::shape::OutlineFault>(())
    /// ```
    pub fn circle(diameter: f64) -> Self {
        Self { outer: circle_ring(diameter), holes: Vec::new() }
    }

    /// A ring round the origin.
    pub fn ring(outer_diameter: f64, inner_diameter: f64) -> Self {
        Self { outer: circle_ring(outer_diameter), holes: vec![circle_ring(inner_diameter)] }
    }

    /// A straight strip, its length along x, from the origin.
    pub fn strip(length: f64, width: f64) -> Self {
        Self::rect(length, width)
    }

    /// A polygon; the first point may or may not be repeated at the end of a ring.
    ///
    /// ```
    /// use clothwright::shape::Curve;
    /// let gusset = Curve::polygon(&[[0.0, 0.0], [120.0, 0.0], [0.0, 90.0]], &[]);
    /// assert_eq!(gusset.edge_count(), 3);
    /// ```
    pub fn polygon(points: &[[f64; 2]], holes: &[Vec<[f64; 2]>]) -> Self {
        Self { outer: polygon_ring(points), holes: holes.iter().map(|hole| polygon_ring(hole)).collect() }
    }

    /// SVG path data (W3C SVG 1.1 §8.3); `unit` is the millimetres in one unit of the path.
    ///
    /// The subpath with the largest area is the outer ring, the others are its holes. Numbers are taken as they stand:
    /// where the drawing's y runs down the page, the piece is its mirror image. Lines and curves without length are left
    /// out.
    ///
    /// ```
    /// use clothwright::shape::Curve;
    /// // A strip with a round end, in inches.
    /// let tab = Curve::from_svg_path("M 0 0 H 4 A 1 1 0 0 1 4 2 H 0 Z", 25.4)?;
    /// assert_eq!(tab.edge_count(), 4);
    ///
    /// let fault = Curve::from_svg_path("M 0 0 L 30 0 L 30 20", 1.0).unwrap_err();
    /// assert!(fault.to_string().contains("close it with Z"));
    /// # Ok::<(), clothwright::shape::PathFault>(())
    /// ```
    ///
    /// # Errors
    /// [`PathFault`] where the text is no path data, where a number is not finite, and where a subpath is left open.
    pub fn from_svg_path(data: &str, unit: f64) -> Result<Self, PathFault> {
        let mut rings = svg_path::read(data, SAME_POINT / unit)?;
        let area = |ring: &[Segment]| double_area(ring).abs();
        let largest = (0..rings.len()).fold(0, |best, i| if area(&rings[i]) > area(&rings[best]) { i } else { best });
        for segment in rings.iter_mut().flatten() {
            *segment = segment.moved(unit, Vec2::ZERO);
        }
        let outer = rings.remove(largest);
        Ok(Self { outer, holes: rings })
    }

    /// A curve from rings that are known to be closed.
    pub(super) fn from_rings(outer: Vec<Segment>, holes: Vec<Vec<Segment>>) -> Self {
        Self { outer, holes }
    }

    /// The curve as SVG path data in millimetres, arcs as arcs; it reads back as the same curve.
    ///
    /// ```
    /// use clothwright::shape::Curve;
    /// assert_eq!(Curve::rect(30.0, 20.0).to_svg_path_data(), "M 0 0 L 30 0 L 30 20 L 0 20 L 0 0 Z");
    /// ```
    pub fn to_svg_path_data(&self) -> String {
        let rings: Vec<String> = self.rings().map(|(_, ring)| svg_path::write(ring)).collect();
        rings.join(" ")
    }

    /// The same curve, moved.
    pub fn shifted(&self, by: Coord<f64>) -> Self {
        let moved = |ring: &Vec<Segment>| ring.iter().map(|s| s.moved(1.0, Vec2::new(by.x, by.y))).collect();
        Self { outer: moved(&self.outer), holes: self.holes.iter().map(moved).collect() }
    }

    /// The same curve, every length multiplied.
    pub fn scaled(&self, by: f64) -> Self {
        let scaled = |ring: &Vec<Segment>| ring.iter().map(|segment| segment.moved(by, Vec2::ZERO)).collect();
        Self { outer: scaled(&self.outer), holes: self.holes.iter().map(scaled).collect() }
    }

    /// The same curve seen from the other side: `y` becomes `-y`. Its edges keep their order.
    ///
    /// ```
    /// use clothwright::shape::Curve;
    /// let corner = Curve::polygon(&[[0.0, 0.0], [120.0, 0.0], [0.0, 90.0]], &[]).mirrored();
    /// assert_eq!(corner.to_svg_path_data(), "M 0 0 L 120 0 L 0 -90 L 0 0 Z");
    /// ```
    pub fn mirrored(&self) -> Self {
        let mirrored = |ring: &Vec<Segment>| ring.iter().map(Segment::mirrored).collect();
        Self { outer: mirrored(&self.outer), holes: self.holes.iter().map(mirrored).collect() }
    }

    /// The same curve turned by 180° about the origin.
    pub fn half_turned(&self) -> Self {
        let turned = |ring: &Vec<Segment>| ring.iter().map(|segment| segment.moved(-1.0, Vec2::ZERO)).collect();
        Self { outer: turned(&self.outer), holes: self.holes.iter().map(turned).collect() }
    }

    /// The edges of the outer ring in order, each as the points of its polygon with the piece on its left.
    pub fn edge_lines(&self) -> Vec<Vec<Coord<f64>>> {
        let vertices = flatten_ring(&self.outer, true, FLATTENING);
        let mut lines = vec![Vec::new(); self.edge_count()];
        for (index, vertex) in vertices.iter().enumerate() {
            let line: &mut Vec<Coord<f64>> = &mut lines[vertex.segment];
            let next = &vertices[(index + 1) % vertices.len()];
            // The ring may begin in the middle of an edge: then the rest of it comes before what is there.
            if line.last().is_some_and(|last| *last != coord(vertex.at)) {
                line.clear();
            }
            if line.is_empty() {
                line.push(coord(vertex.at));
            }
            line.push(coord(next.at));
        }
        if double_area(&self.outer) < 0.0 {
            lines.iter_mut().for_each(|line| line.reverse());
        }
        lines
    }

    /// Area in square millimetres of the curve itself, holes left out.
    pub fn area(&self) -> f64 {
        let holes: f64 = self.holes.iter().map(|hole| double_area(hole).abs()).sum();
        (double_area(&self.outer).abs() - holes) / 2.0
    }

    /// The polygon that holds the curve, no more than [`FLATTENING`] away from it.
    ///
    /// Straight edges stay as they are. Where the piece bulges outwards the polygon's edges touch the curve, where it is
    /// hollow its vertices do; there are as few as the tolerance permits.
    ///
    /// # Errors
    /// [`OutlineFault`] where the curve is no sound outline; its edges are counted as in [`Curve::edge_count`].
    pub fn flatten(&self) -> Result<Outline, OutlineFault> {
        self.check_points()?;
        let rings: Vec<Vec<Vertex>> = self.rings().map(|(role, ring)| flattened(role, ring)).collect();
        let mut polygons = rings.iter().map(|ring| closed(ring.iter().map(|vertex| coord(vertex.at)).collect()));
        let outer = polygons.next().unwrap_or_else(|| closed(Vec::new()));
        Outline::new(Polygon::new(outer, polygons.collect())).map_err(|fault| {
            fault.renumbered(|role, number| {
                let ring = match role {
                    RingRole::Outer => &rings[0],
                    RingRole::Hole(hole) => &rings[hole],
                };
                ring[number - 1].segment + 1
            })
        })
    }

    /// Number of segments of the outer ring, which is how many entries a by-edge allowance needs: four for a rectangle,
    /// one for a circle, one for each side of a polygon, and for a path one for each line, curve and arc that is drawn,
    /// with the line that Z draws where the ends are apart.
    pub fn edge_count(&self) -> usize {
        self.outer.len()
    }

    /// The cut outline: flattened and grown by the allowance. Holes are left as they are.
    ///
    /// Nowhere is the allowance less than asked, save past the [`MITRE_LIMIT`](super::MITRE_LIMIT) of a corner; round
    /// corners and bends exceed it by [`FLATTENING`] at most. A notch that the allowance closes is cut as if it were
    /// not there.
    ///
    /// ```
    /// use clothwright::shape::{Allowance, Curve, Join};
    /// let lap = Allowance { by_edge: vec![25.0], join: Join::Mitred };
    /// assert_eq!(Curve::rect(1000.0, 500.0).cut_outline(&lap)?.area(), 1050.0 * 550.0);
    /// # Ok::<(), clothwright::shape::OutlineFault>(())
    /// ```
    ///
    /// # Errors
    /// As [`Curve::flatten`]; and where an allowance is negative or not finite, or there are as many as fit no rule.
    pub fn cut_outline(&self, allowance: &Allowance) -> Result<Outline, OutlineFault> {
        let by_segment = allowance.for_edges(self.edge_count())?;
        let finished = self.flatten()?;
        if by_segment.iter().all(|distance| *distance == 0.0) {
            return Ok(finished);
        }
        let mut vertices = flatten_ring(&self.outer, true, FLATTENING);
        if double_area(&self.outer) < 0.0 {
            reverse(&mut vertices);
        }
        let outer = grow_outer_ring(&vertices, &by_segment, allowance.join);
        Outline::new(Polygon::new(outer, finished.polygon().interiors().to_vec()))
    }

    /// The smallest upright rectangle round the curve itself, its arcs taken as arcs.
    ///
    /// ```
    /// use clothwright::shape::Curve;
    /// assert_eq!(Curve::circle(165.0).bounds().width(), 165.0);
    /// // The polygon that stands for it is a hair larger where its corners lie.
    /// assert!(Curve::circle(82.0).flatten()?.bounds().height() > 82.0);
    /// # Ok::<(), clothwright::shape::OutlineFault>(())
    /// ```
    pub fn bounds(&self) -> Rect<f64> {
        let mut boxes = self.outer.iter().map(Segment::bounds);
        let first = boxes.next().unwrap_or(kurbo::Rect::ZERO);
        let all = boxes.fold(first, |all, next| all.union(next));
        Rect::new((all.x0, all.y0), (all.x1, all.y1))
    }

    /// Length and width of the cut outline along and across the curve's own x axis, for people to read: those of the
    /// curve and its allowance, where the polygon is larger only because it stands for a curve.
    ///
    /// That is so on a side with the same allowance all round unless a mitred corner stands out there. With an allowance
    /// for each edge, the sizes are those of the polygon.
    ///
    /// ```
    /// use clothwright::shape::{Allowance, Curve, Join};
    /// let lap = Allowance { by_edge: vec![25.0], join: Join::Mitred };
    /// let doily = Curve::circle(150.0);
    /// assert_eq!(doily.cut_size(&lap, &doily.cut_outline(&lap)?), [200.0, 200.0]);
    /// # Ok::<(), clothwright::shape::OutlineFault>(())
    /// ```
    pub fn cut_size(&self, allowance: &Allowance, cut: &Outline) -> [f64; 2] {
        let (exact, polygon) = (self.bounds(), cut.bounds());
        let curved = self.outer.iter().any(|segment| !matches!(segment, Segment::Line(_)));
        let all_round = match allowance.by_edge[..] {
            [] => 0.0,
            [all_round] => all_round,
            _ => return [polygon.width(), polygon.height()],
        };
        // Flattening adds its tolerance once for the curve and once for the arcs of its allowance.
        let rounding = if curved || allowance.join == Join::Round { 2.0 * FLATTENING } else { 0.0 };
        let side = |exact: f64, polygon: f64| {
            let exact = exact + all_round;
            if polygon - exact <= rounding { exact } else { polygon }
        };
        let size = |exact: [f64; 2], polygon: [f64; 2]| side(exact[1], polygon[1]) + side(-exact[0], -polygon[0]);
        [
            size([exact.min().x, exact.max().x], [polygon.min().x, polygon.max().x]),
            size([exact.min().y, exact.max().y], [polygon.min().y, polygon.max().y]),
        ]
    }

    /// Whether the outer ring is a circle, which looks the same at every turn.
    ///
    /// ```
    /// use clothwright::shape::Curve;
    /// assert!(Curve::ring(130.0, 95.0).is_round());
    /// assert!(!Curve::rect(30.0, 30.0).is_round());
    /// ```
    pub fn is_round(&self) -> bool {
        matches!(self.outer[..], [Segment::Arc(arc)] if arc.is_circle())
    }

    pub(super) fn rings(&self) -> impl Iterator<Item = (RingRole, &[Segment])> {
        let holes = self.holes.iter().enumerate().map(|(i, hole)| (RingRole::Hole(i + 1), hole.as_slice()));
        std::iter::once((RingRole::Outer, self.outer.as_slice())).chain(holes)
    }

    /// Numbers without end or beyond all cloth would never be done flattening.
    fn check_points(&self) -> Result<(), OutlineFault> {
        for (ring, segments) in self.rings() {
            for (index, segment) in segments.iter().enumerate() {
                let (point, points) = (index + 1, segment.defining_points());
                if !points.iter().all(|p| p.is_finite()) {
                    return Err(OutlineFault::NotFinite { ring, point });
                }
                if points.iter().any(|p| p.x.abs().max(p.y.abs()) > FAR_AWAY) {
                    return Err(OutlineFault::TooFar { ring, point });
                }
            }
        }
        let mut corners = 0;
        for segment in self.rings().flat_map(|(_, ring)| ring) {
            corners += about_vertices(segment, FLATTENING);
            if corners > CORNERS {
                return Err(OutlineFault::TooManyCorners);
            }
        }
        Ok(())
    }
}

/// The vertices of a ring that matter where every edge is treated alike.
fn flattened(role: RingRole, ring: &[Segment]) -> Vec<Vertex> {
    let mut vertices = flatten_ring(ring, role == RingRole::Outer, FLATTENING);
    vertices.retain(|vertex| vertex.kind != VertexKind::Smooth);
    vertices
}

fn circle_ring(diameter: f64) -> Vec<Segment> {
    vec![Segment::Arc(Arc::circle(Point::ZERO, diameter / 2.0))]
}

fn polygon_ring(points: &[[f64; 2]]) -> Vec<Segment> {
    let points: Vec<Point> = points.iter().map(|[x, y]| Point::new(*x, *y)).collect();
    let closed = points.len() > 1 && (points[0] - points[points.len() - 1]).hypot() <= SAME_POINT;
    let open = if closed { &points[..points.len() - 1] } else { &points[..] };
    let next = open.iter().cycle().skip(1);
    open.iter().zip(next).map(|(from, to)| Segment::line(*from, *to)).collect()
}

/// Turns a ring the other way round; each edge keeps its segment.
fn reverse(vertices: &mut [Vertex]) {
    vertices.reverse();
    let segments: Vec<usize> = vertices.iter().map(|vertex| vertex.segment).collect();
    for (index, vertex) in vertices.iter_mut().enumerate() {
        vertex.segment = segments[(index + 1) % segments.len()];
    }
}

/// Closes a ring even where its last point happens to be its first: that is a fault to be found, not the closing.
fn closed(mut points: Vec<Coord<f64>>) -> LineString<f64> {
    points.extend(points.first().copied());
    LineString::new(points)
}
