//! Elliptical arcs as SVG writes them (by their end points) and as a [`super::segment::Arc`] (by their centre).

use std::f64::consts::TAU;

use kurbo::{Point, Vec2};

use super::segment::Arc;

/// The arc between two points; nothing where SVG asks for a straight line.
///
/// Source: W3C SVG 1.1 appendix F.6.5 (from end points to centre) and F.6.6 (radii that are negative or too small).
pub(super) fn arc_between(
    from: Point,
    to: Point,
    radii: Vec2,
    degrees: f64,
    large_arc: bool,
    sweep: bool,
) -> Option<Arc> {
    let radii = Vec2::new(radii.x.abs(), radii.y.abs());
    if from == to || radii.x == 0.0 || radii.y == 0.0 {
        return None;
    }
    // With the ellipse stretched to a circle of radius one, the centre lies square to the middle of the chord.
    let (along_x, along_y) = Arc::axes(Vec2::new(1.0, 1.0), degrees);
    let half_chord = (from - to) * 0.5;
    let half = Vec2::new(half_chord.dot(along_x) / radii.x, half_chord.dot(along_y) / radii.y);
    let half_length = half.hypot();
    // A chord as long as the ellipse is wide halves it, whatever the last digits say: the root would make a millionth of
    // a millimetre out of them.
    let halved = half_length > 1.0 - 1e-12;
    let (radii, half) = if halved { (radii * half_length, half / half_length) } else { (radii, half) };
    let reach = if halved { 0.0 } else { ((1.0 - half.hypot2()) / half.hypot2()).sqrt() };
    let side = if large_arc == sweep { -reach } else { reach };
    let centre_from_middle = Vec2::new(half.y, -half.x) * side;

    let (first, last) = (half - centre_from_middle, -half - centre_from_middle);
    let angle = libm::atan2(first.cross(last), first.dot(last));
    let sweep_angle = match (sweep, angle) {
        (true, angle) if angle < 0.0 => angle + TAU,
        (false, angle) if angle > 0.0 => angle - TAU,
        (_, angle) => angle,
    };
    let (across, along) = Arc::axes(radii, degrees);
    Some(Arc {
        centre: from.midpoint(to) + across * centre_from_middle.x + along * centre_from_middle.y,
        across,
        along,
        from: libm::atan2(first.y, first.x),
        sweep: sweep_angle,
        ends: [from, to],
    })
}

/// The radii of an arc's ellipse and the degrees by which the first of them is turned from x.
pub(super) fn radii_and_turn(arc: &Arc) -> (Vec2, f64) {
    let radii = Vec2::new(arc.across.hypot(), arc.along.hypot());
    (radii, libm::atan2(arc.across.y, arc.across.x).to_degrees())
}
