//! What is written on a template, as much of it as has room, and marks beside the words.

use geo::Area;
use geo_types::{Coord, Line, Polygon, Rect};

use super::marks::{draw_grain, draw_kept, upright};
use super::sheet::layer;
use super::towards;
use crate::draw::label::{BoxShape, Room, Spot};
use crate::draw::lettering::LINE_STEP;
use crate::draw::pdf::{Page, text_width};
use crate::draw::title_block::wrapped;
use crate::plan::{Bearing, LineKind, Template, TemplateLine, kept_marks};
use crate::shape::Path;
use crate::units::Units;

/// The largest letters, those that are read with ease, and the smallest, in millimetres.
const SIZES: [f64; 3] = [3.5, 2.2, 1.7];
/// The name is larger than the words below it by this.
const NAME: f64 = 1.25;
/// Widths that a block of words is tried in, in letter sizes.
const WIDTHS: [f64; 4] = [44.0, 30.0, 20.0, 13.0];
/// Size of the words at edges and along lines, in millimetres.
const BESIDE: f64 = 2.5;

/// Writes on a template that is in page coordinates already, on those parts of it that are within a part of the page: all
/// of a small template, or what of a large one is on a sheet.
pub(super) fn write(page: &mut Page, template: &Template, parts: &[Polygon<f64>], within: Rect<f64>, units: Units) {
    let largest = (0..parts.len()).max_by(|one, other| {
        parts[*one].unsigned_area().total_cmp(&parts[*other].unsigned_area()).then(other.cmp(one))
    });
    page.on(layer::TEXT, |page| {
        for (index, part) in parts.iter().enumerate() {
            let mut room = room_in(template, part);
            if Some(index) == largest {
                for bearing in &template.bearings {
                    bearing_words(page, template, bearing, &mut room, within);
                }
            }
            draw_grain(page, template, &mut room);
            block(page, template, &mut room, units);
        }
        template.lines.iter().for_each(|line| line_word(page, line, within));
    });
    page.on(layer::CUT, |page| {
        kept_marks(template).iter().filter(|mark| inside(mark.at, within)).for_each(|mark| draw_kept(page, mark));
    });
}

/// A part of a template without its lines.
fn room_in<'p>(template: &Template, part: &'p Polygon<f64>) -> Room<'p> {
    let mut room = Room::new(part);
    for line in template.lines.iter().filter(|line| keeps_words_off(line.kind)) {
        let points = line.path.points(0.5);
        points.windows(2).for_each(|ends| room.keep_off(Line::new(ends[0], ends[1])));
    }
    room
}

/// Cut lines are edges of the part that is written on; words over a centre line blot it out.
fn keeps_words_off(kind: LineKind) -> bool {
    !matches!(kind, LineKind::Cut | LineKind::CutAfterShrinking | LineKind::Centre)
}

fn inside(point: Coord<f64>, frame: Rect<f64>) -> bool {
    (frame.min().x..=frame.max().x).contains(&point.x) && (frame.min().y..=frame.max().y).contains(&point.y)
}

/// What may be written, the most first, each with the least size that it is worth.
fn choices(template: &Template, units: Units) -> Vec<(Vec<String>, f64)> {
    let words = template.words(units);
    let all = words.iter().cloned().chain(template.figures().into_iter().map(str::to_owned)).collect();
    let copies = vec![template.copies_words()];
    vec![(all, SIZES[1]), (words, SIZES[1]), (copies.clone(), SIZES[2]), (vec![], SIZES[2])]
}

/// Name, copies and figures in one block; of a template too small for that, its number.
fn block(page: &mut Page, template: &Template, room: &mut Room, units: Units) {
    let name = template.title();
    for (words, least) in choices(template, units) {
        let tried = WIDTHS.iter().filter_map(|width| placed(&name, &words, *width, room));
        // The largest letters win, and of equal ones the widest block.
        let best = tried.reduce(|best, next| if next.0.size > best.0.size + 0.05 { next } else { best });
        if let Some((spot, lines, shape)) = best.filter(|(spot, ..)| spot.size >= least) {
            room.take(spot, shape);
            blot_out(page, template, spot, shape);
            return write_lines(page, spot, &lines);
        }
    }
    let number = template.number.to_string();
    let shape = BoxShape { width: text_width(&number) + 0.4, height: 1.0 };
    if let Some(spot) = room.for_text(shape, SIZES[0]) {
        write_lines(page, spot, &[(number, 1.0)]);
    }
}

/// Clears the paper below words that lie over a centre line.
fn blot_out(page: &mut Page, template: &Template, spot: Spot, shape: BoxShape) {
    if template.lines.iter().any(|line| line.kind == LineKind::Centre)
        && let Some(ground) = Path::ring(spot.covers(shape).exterior())
    {
        page.fill(&[ground], [1.0; 3]);
    }
}

type Placed = (Spot, Vec<(String, f64)>, BoxShape);

/// Words in a block of a width, where there is most room for it.
fn placed(name: &str, words: &[String], width: f64, room: &Room) -> Option<Placed> {
    let mut lines: Vec<(String, f64)> = wrapped(name, width / NAME).into_iter().map(|line| (line, NAME)).collect();
    lines.extend(words.iter().flat_map(|words| wrapped(words, width)).map(|line| (line, 1.0)));
    let widest = lines.iter().map(|(line, scale)| scale * text_width(line)).fold(0.0, f64::max);
    let height: f64 = lines.iter().map(|(_, scale)| scale * LINE_STEP).sum();
    let shape = BoxShape { width: widest + 0.6, height: height + 0.4 };
    room.for_text(shape, SIZES[0]).map(|spot| (spot, lines, shape))
}

fn write_lines(page: &mut Page, spot: Spot, lines: &[(String, f64)]) {
    let (along, up) = (towards(spot.angle), towards(spot.angle + 90.0));
    let widest = lines.iter().map(|(line, scale)| scale * text_width(line)).fold(0.0, f64::max);
    let height: f64 = lines.iter().map(|(_, scale)| scale * LINE_STEP).sum();
    let corner = spot.at - along * (widest * spot.size / 2.0);
    let mut down = -height / 2.0;
    for (line, scale) in lines {
        let base = down + 0.5 * scale * LINE_STEP + 0.36 * scale;
        page.text(line, corner - up * (base * spot.size), scale * spot.size, spot.angle);
        down += scale * LINE_STEP;
    }
}

/// `this edge forward`, as near to that edge as it has room.
fn bearing_words(page: &mut Page, template: &Template, bearing: &Bearing, room: &mut Room, within: Rect<f64>) {
    let degrees = bearing.degrees;
    let words = format!("this edge {}", bearing.towards);
    let shape = BoxShape { width: text_width(&words) + 3.0, height: 1.6 };
    let edge = edge_point(template, degrees);
    if !inside(edge, grown(within, 1.0)) {
        return;
    }
    let angle = upright(degrees + 90.0);
    let Some(spot) = room.at_angle(shape, angle, BESIDE, Some(edge)).filter(|spot| spot.size >= SIZES[2]) else {
        return;
    };
    room.take(spot, shape);
    let along = towards(angle);
    let from = spot.at - along * (shape.width / 2.0 * spot.size);
    let size = spot.size;
    let triangle = [
        from + towards(degrees) * (0.5 * size) + along * (0.8 * size),
        from - towards(degrees) * (0.4 * size) + along * (0.3 * size),
        from - towards(degrees) * (0.4 * size) + along * (1.3 * size),
    ];
    if let Some(path) = Path::through(&[triangle[0], triangle[1], triangle[2], triangle[0]]) {
        page.fill(&[Path { closed: true, ..path }], [0.0; 3]);
    }
    let base = towards(angle - 90.0) * (0.36 * size);
    page.text(&words, from + along * (2.2 * size) + base, size, angle);
}

fn grown(frame: Rect<f64>, by: f64) -> Rect<f64> {
    Rect::new(frame.min() - Coord { x: by, y: by }, frame.max() + Coord { x: by, y: by })
}

/// The middle of what reaches farthest in a direction.
fn edge_point(template: &Template, degrees: f64) -> Coord<f64> {
    let direction = towards(degrees);
    let reach = |point: &Coord<f64>| point.x * direction.x + point.y * direction.y;
    let points = || template.cut.polygon().exterior().coords();
    let farthest = points().map(reach).fold(f64::NEG_INFINITY, f64::max);
    let (sum, count) = points()
        .filter(|point| reach(point) > farthest - 1.0)
        .fold((Coord { x: 0.0, y: 0.0 }, 0.0), |(sum, count), point| (sum + *point, count + 1.0));
    sum / f64::max(count, 1.0)
}

/// The word of a line, beside the middle of what of it is there.
fn line_word(page: &mut Page, line: &TemplateLine, within: Rect<f64>) {
    let Some(word) = line.word else { return };
    let points = line.path.points(0.5);
    let Some(ends) = points.windows(2).filter_map(|ends| clipped(ends[0], ends[1], within)).next() else { return };
    let along = ends[1] - ends[0];
    let long = libm::hypot(along.x, along.y);
    let width = text_width(word) * BESIDE;
    if long < 1.5 * width {
        return;
    }
    let angle = upright(libm::atan2(along.y, along.x).to_degrees());
    let middle = ends[0] + along * 0.5;
    let from = middle - towards(angle) * (width / 2.0) + towards(angle + 90.0) * (0.3 * BESIDE);
    page.text(word, from, BESIDE, angle);
}

/// What of a line is within a rectangle (Liang and Barsky's parametric clipping, 1984).
fn clipped(from: Coord<f64>, to: Coord<f64>, frame: Rect<f64>) -> Option<[Coord<f64>; 2]> {
    let run = to - from;
    let (mut first, mut last) = (0.0_f64, 1.0_f64);
    let sides = [
        (-run.x, from.x - frame.min().x),
        (run.x, frame.max().x - from.x),
        (-run.y, from.y - frame.min().y),
        (run.y, frame.max().y - from.y),
    ];
    for (towards_side, room) in sides {
        if towards_side == 0.0 {
            if room < 0.0 {
                return None;
            }
        } else if towards_side < 0.0 {
            first = first.max(room / towards_side);
        } else {
            last = last.min(room / towards_side);
        }
    }
    (first <= last).then(|| [from + run * first, from + run * last])
}
