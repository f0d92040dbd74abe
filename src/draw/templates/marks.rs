//! Marks on a template that are neither lines nor words: which side of the line is kept, which way the warp runs.

use geo_types::Coord;

use super::towards;
use crate::draw::label::{BoxShape, Room, Spot};
use crate::draw::pdf::{Page, Pen};
use crate::job::{Grain, GrainDirection};
use crate::plan::{KeptMark, Template};
use crate::shape::Path;

/// Length and half the width of the triangle that points to the kept side, in millimetres.
const KEPT: [f64; 2] = [2.2, 1.1];
/// Length and width of a grain arrow of size 1, its word among them.
const ARROW: BoxShape = BoxShape { width: 6.0, height: 1.0 };
/// The largest grain arrow, and the smallest that can be told from a speck, by their size.
const ARROW_SIZES: [f64; 2] = [6.0, 1.2];
const PEN: Pen = Pen { width: 0.3, dash: &[], ink: [0.0; 3] };

/// Draws the triangle of a mark; its foot is on the cut line, and it points to what is kept.
pub(super) fn draw_kept(page: &mut Page, mark: &KeptMark) {
    if let Some(triangle) = kept_triangle(mark) {
        page.fill(&[Path { closed: true, ..triangle }], [0.0; 3]);
    }
}

/// The triangle of a mark, back to where it began.
pub(super) fn kept_triangle(mark: &KeptMark) -> Option<Path> {
    let aside = Coord { x: -mark.towards.y, y: mark.towards.x } * KEPT[1];
    Path::through(&[mark.at + aside, mark.at + mark.towards * KEPT[0], mark.at - aside, mark.at + aside])
}

/// The direction of the warp on a template, in degrees; `None` where any will do.
pub(super) fn warp(template: &Template) -> Option<f64> {
    let from_grain_line = match template.grain.direction {
        GrainDirection::Along | GrainDirection::Either => 0.0,
        GrainDirection::Across => 90.0,
        GrainDirection::Bias => 45.0,
        GrainDirection::Free => return None,
    };
    let hand = if template.mirrored { -1.0 } else { 1.0 };
    Some((template.grain_line + hand * from_grain_line).rem_euclid(360.0))
}

/// The word beside a grain arrow.
fn warp_word(grain: Grain) -> &'static str {
    if grain.direction == GrainDirection::Either { "warp or fill" } else { "warp" }
}

/// Draws the grain arrow where there is room for it, and keeps that free.
pub(super) fn draw_grain(page: &mut Page, template: &Template, room: &mut Room) {
    let Some(angle) = warp(template) else { return };
    let Some(spot) = room.at_angle(ARROW, angle, ARROW_SIZES[0], None) else { return };
    if spot.size < ARROW_SIZES[1] {
        return;
    }
    room.take(spot, ARROW);
    arrow(page, spot, !template.grain.one_way);
    let word = warp_word(template.grain);
    let size = (0.45 * spot.size).min(2.5);
    if size >= 1.5 {
        let reading = upright(angle);
        let from = spot.at - towards(reading) * (crate::draw::pdf::text_width(word) * size / 2.0)
            + towards(reading + 90.0) * (0.3 * size);
        page.text(word, from, size, reading);
    }
}

fn arrow(page: &mut Page, spot: Spot, both_ways: bool) {
    let (ahead, aside) = (towards(spot.angle), towards(spot.angle + 90.0));
    let end = ahead * (ARROW.width / 2.0 - 0.2) * spot.size;
    page.stroke(&Path::line(spot.at - end, spot.at + end), &PEN);
    let heads = if both_ways { &[1.0, -1.0][..] } else { &[1.0][..] };
    for way in heads {
        let tip = spot.at + end * *way;
        let back = ahead * (-0.7 * way * spot.size);
        let side = aside * (0.25 * spot.size);
        if let Some(head) = Path::through(&[tip + back + side, tip, tip + back - side]) {
            page.stroke(&head, &PEN);
        }
    }
}

/// The angle of a line as a text along it is read from the foot of the page: more than −90° and up to 90°.
pub(super) fn upright(angle: f64) -> f64 {
    let half = angle.rem_euclid(180.0);
    if half > 90.0 { half - 180.0 } else { half }
}
