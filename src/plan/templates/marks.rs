//! Marks on the cut line that say which side of it is kept.

use geo_types::Coord;

use super::{LineKind, Template};
use crate::shape::SAME_POINT;

/// Distance along the cut line from one mark to the next, in millimetres, at most.
const APART: f64 = 250.0;
/// Least number of marks on a ring.
const LEAST: usize = 2;
/// Distance of a mark from a corner, in millimetres, where the edge is long enough.
const OFF_CORNERS: f64 = 3.0;
/// How finely a cut line is followed, in millimetres.
const FOLLOWED: f64 = 0.05;

/// A mark on the cut line.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct KeptMark {
    /// Where it stands on the line.
    pub at: Coord<f64>,
    /// Unit vector to the side that is kept.
    pub towards: Coord<f64>,
}

/// Marks along every line that is cut, each beside the middle of a stretch and pointing to the side that is kept.
pub fn kept_marks(template: &Template) -> Vec<KeptMark> {
    let cut = |kind: LineKind| matches!(kind, LineKind::Cut | LineKind::CutAfterShrinking);
    let rings = template.lines.iter().filter(|line| cut(line.kind) && line.path.closed);
    rings.flat_map(|line| marks_along(&line.path.points(FOLLOWED), line.kind == LineKind::Cut)).collect()
}

fn marks_along(points: &[Coord<f64>], keep_inside: bool) -> Vec<KeptMark> {
    let area: f64 = points.windows(2).map(|edge| edge[0].x * edge[1].y - edge[0].y * edge[1].x).sum();
    let left_is_inside = area > 0.0;
    let hand = if left_is_inside == keep_inside { 1.0 } else { -1.0 };
    let length = |edge: &[Coord<f64>]| {
        let along = edge[1] - edge[0];
        libm::hypot(along.x, along.y)
    };
    let whole: f64 = points.windows(2).map(length).sum();
    let count = ((whole / APART).ceil() as usize).max(LEAST);
    let (mut marks, mut passed) = (Vec::new(), 0.0);
    for edge in points.windows(2) {
        let (along, long) = (edge[1] - edge[0], length(edge));
        while marks.len() < count && long > SAME_POINT {
            let wanted = (marks.len() as f64 + 0.5) / count as f64 * whole;
            if wanted > passed + long {
                break;
            }
            let towards = Coord { x: -along.y, y: along.x } * (hand / long);
            let from_end = OFF_CORNERS.min(long / 2.0);
            let place = (wanted - passed).clamp(from_end, long - from_end);
            marks.push(KeptMark { at: edge[0] + along * (place / long), towards });
        }
        passed += long;
    }
    marks
}
