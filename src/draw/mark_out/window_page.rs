//! What lies on the table at a time: every piece in it, and what goes on into the next stretch of cloth.

use geo::BooleanOps;
use geo_types::{Coord, Rect};

use super::flow::{SMALL, TEXT};
use super::ground::{Ends, draw_ground, scale_and_height, within};
use super::view::View;
use super::{MarkOutSheets, layer};
use crate::draw::geometry::laid_polygon;
use crate::draw::label::{BoxShape, Room};
use crate::draw::pdf::{Page, Pen, text_width};
use crate::plan::Crossing;
use crate::shape::Path;

/// Share of the page's height that drawings of the cloth may take.
const SHARE: f64 = 0.72;
/// Most bands into which a stretch is broken.
const BANDS: usize = 6;
/// Largest letters of a number on a piece, and the smallest.
const NUMBER: [f64; 2] = [5.0, 1.3];

const LARGE: Pen = Pen { width: 0.35, dash: &[], ink: [0.0; 3] };
const LITTLE: Pen = Pen { width: 0.2, dash: &[], ink: [0.0; 3] };
const TICK: Pen = Pen { width: 0.5, dash: &[], ink: [0.0; 3] };

/// Draws a window of the table.
pub(super) fn pages(sheets: &MarkOutSheets, index: usize) -> Vec<Page> {
    let windows = &sheets.marked.windows;
    let window = &windows[index];
    let coming: &[Crossing] = if index > 0 { &windows[index - 1].crossing } else { &[] };
    let mut flow = sheets.flow(&heading(sheets, index));
    let [from, to] = window.span;
    if from > 0.0 {
        let words = format!(
            "The line across the cloth at {0} from its end lies at the beginning of the table: measure from it, and take {0} \
             off every length from the end.",
            sheets.show(from)
        );
        flow.words(&words, TEXT);
    }
    let steps = shown(coming.iter().map(|crossing| crossing.step), window);
    let (bands, height) = bands(to - from, sheets.laid.width, [flow.width(), SHARE * flow.height()]);
    let band = (to - from) / bands as f64;
    for number in 0..bands {
        let span = [from + band * number as f64, from + band * (number as f64 + 1.0)];
        let part = Rect::new(Coord { x: span[0], y: 0.0 }, Coord { x: span[1], y: sheets.laid.width });
        flow.drawing(height, |page, room| {
            let view = View::fitted(part, within(room));
            let ends = Ends { left: sheets.show(span[0]), right: sheets.show(span[1]), ..Ends::default() };
            draw_ground(page, &view, sheets, &ends);
            draw_pieces(page, &view, sheets, &steps);
            if number == 0 {
                draw_crossings(page, &view, from, coming);
            }
            if number + 1 == bands {
                draw_crossings(page, &view, to, &window.crossing);
            }
        });
    }
    let keys = |steps: &[usize]| steps.iter().map(|step| sheets.key(*step)).collect::<Vec<_>>().join(", ");
    if windows.len() > 1 && !window.whole.is_empty() {
        flow.words(&format!("Wholly here, in the order of cutting: {}.", keys(&window.whole)), TEXT);
    }
    if !coming.is_empty() {
        flow.words(&format!("Begun on the stretch before: {}.", crossing_words(sheets, coming)), TEXT);
    }
    if !window.crossing.is_empty() {
        let words = format!(
            "Goes on into the next stretch: {}. Draw a line square across the cloth at {} from its end, mark on it where each \
             edge crosses it, and draw the cloth on until that line lies at the beginning of the table.",
            crossing_words(sheets, &window.crossing),
            sheets.show(to)
        );
        flow.words(&words, TEXT);
    }
    flow.finish()
}

fn heading(sheets: &MarkOutSheets, index: usize) -> String {
    let windows = &sheets.marked.windows;
    let [from, to] = windows[index].span.map(|at| sheets.show(at));
    match windows.len() {
        1 => format!("The whole cloth: {to}"),
        count => format!("On the table, {} of {count}: from {from} to {to}", index + 1),
    }
}

/// `3·1 at 0 and 743 mm from the lower edge`.
fn crossing_words(sheets: &MarkOutSheets, crossings: &[Crossing]) -> String {
    let one = |crossing: &Crossing| {
        let marks: Vec<String> = crossing.marks.iter().map(|mark| sheets.number(*mark)).collect();
        format!("{} at {} {}", sheets.key(crossing.step), marks.join(" and "), sheets.units().symbol())
    };
    let words: Vec<String> = crossings.iter().map(one).collect();
    format!("{} from the lower edge", words.join("; "))
}

/// Every piece that is in a window, once.
fn shown(coming: impl Iterator<Item = usize>, window: &crate::plan::Window) -> Vec<usize> {
    let going = window.crossing.iter().map(|crossing| crossing.step);
    let mut steps: Vec<usize> = coming.chain(window.whole.iter().copied()).chain(going).collect();
    steps.sort_unstable();
    steps.dedup();
    steps
}

/// Into how many bands a stretch is broken so that it is drawn as large as it can be, and the height of each on the page.
fn bands(length: f64, width: f64, room: [f64; 2]) -> (usize, f64) {
    let drawn = |bands: usize| scale_and_height([length / bands as f64, width], [room[0], room[1] / bands as f64]);
    let larger = |one: &usize, other: &usize| drawn(*one)[0].total_cmp(&drawn(*other)[0]).then(other.cmp(one));
    let count = (1..=BANDS).max_by(larger).unwrap_or(1);
    (count, drawn(count)[1])
}

fn draw_pieces(page: &mut Page, view: &View, sheets: &MarkOutSheets, steps: &[usize]) {
    let (from, to) = (view.part.min().x, view.part.max().x);
    let stretch = view.part.to_polygon();
    for step in steps {
        let laid = sheets.laid_at(*step);
        let [least, most] = laid.span(0);
        if most <= from || least >= to {
            continue;
        }
        let pen = if sheets.marked.steps[*step].marks.is_some() { LARGE } else { LITTLE };
        let rings: Vec<Path> =
            std::iter::once(&laid.outline).chain(&laid.holes).filter_map(|ring| view.ring(ring)).collect();
        page.on(layer::DRAWING, |page| {
            page.within(view.frame(), |page| rings.iter().for_each(|ring| page.stroke(ring, &pen)));
        });
        let number = sheets.key(*step);
        let there = laid_polygon(laid).intersection(&stretch);
        let shape = BoxShape { width: text_width(&number) + 0.3, height: 1.1 };
        let spots = there.0.iter().filter_map(|part| Room::new(part).for_text(shape, NUMBER[0] / view.scale));
        // The largest part has the number; of a piece too small for it, it stands over the edge.
        let Some(spot) = spots.reduce(|best, next| if next.size > best.size { next } else { best }) else { continue };
        let size = (spot.size * view.scale).clamp(NUMBER[1], NUMBER[0]);
        let back = Coord { x: text_width(&number) / 2.0, y: 0.36 } * size;
        let angle = if size > NUMBER[1] { spot.angle } else { 0.0 };
        let back = turned(back, angle);
        page.on(layer::TEXT, |page| page.text(&number, view.at(spot.at) - back, size, angle));
    }
}

fn turned(by: Coord<f64>, degrees: f64) -> Coord<f64> {
    let (sin, cos) = crate::shape::sin_cos_degrees(degrees);
    Coord { x: cos * by.x - sin * by.y, y: sin * by.x + cos * by.y }
}

/// Marks where edges cross the line at an end of the table.
fn draw_crossings(page: &mut Page, view: &View, x: f64, crossings: &[Crossing]) {
    page.on(layer::DRAWING, |page| {
        for y in crossings.iter().flat_map(|crossing| &crossing.marks) {
            let at = view.at(Coord { x, y: *y });
            let arm = Coord { x: SMALL / 2.0, y: 0.0 };
            page.stroke(&Path::line(at - arm, at + arm), &TICK);
        }
    });
}
