//! One template as an SVG file at full size, for a plotter, a laser or a screen.

use geo_types::Coord;
use svg::Document;
use svg::node::element::{Group, Style};

use super::lines::pen;
use super::marks::{kept_triangle, warp};
use super::towards;
use crate::draw::frame::number;
use crate::draw::ink::{Anchor, classed, path, text, tooltip};
use crate::draw::lettering::{LINE_STEP, block_width};
use crate::draw::title_block::wrapped;
use crate::job::{Edge, Job};
use crate::plan::{LineKind, PLANNING_AID, Template, kept_marks};
use crate::shape::{Path, Pose, Stretch};

/// Free paper round the drawing, in millimetres.
const MARGIN: f64 = 5.0;
/// Size of letters, and least width of the block below the drawing, in millimetres.
const LETTERS: f64 = 3.5;
const LEAST_WIDTH: f64 = 120.0;

/// Draws a template as an SVG document in true size: one user unit is one millimetre, and each layer is a group.
pub fn template_svg(job: &Job, template: &Template) -> String {
    let [low, high] = template.corners();
    let size = high - low;
    let on_paper = Pose { turn: 0.0, flipped: true, at: Coord { x: MARGIN - low.x, y: MARGIN + high.y } };
    let pinked = matches!(template.edge, Edge::Pinked(_));
    let mut groups = Layers::default();
    for kind in LineKind::ALL.into_iter().rev() {
        for line in template.lines.iter().filter(|line| line.kind == kind) {
            let data = path_data(&line.path.carried(&on_paper));
            groups.add(kind.words(), path(class_of(line.kind, pinked), data));
        }
    }
    for triangle in kept_marks(template).iter().filter_map(kept_triangle) {
        groups.add("kept side", path("kept", path_data(&triangle.carried(&on_paper))));
    }
    if let Some(arrow) = grain_arrow(template) {
        groups.add("grain", path("warp", path_data(&arrow.carried(&on_paper))));
    }
    let width = size.x.max(LEAST_WIDTH);
    let title = template.title();
    let mut down = size.y + 2.0 * MARGIN + LETTERS;
    groups.add("text", classed("strong", text(&title, (MARGIN, down), LETTERS, Anchor::Start)));
    let mut lines: Vec<String> = Vec::new();
    for words in words_of(job, template) {
        lines.extend(wrapped(&words, width / LETTERS));
    }
    for line in &lines {
        down += LINE_STEP * LETTERS;
        groups.add("text", text(line, (MARGIN, down), LETTERS, Anchor::Start));
    }
    down += 4.0 * LETTERS;
    groups.add("check", path("check", format!("M{0} {1}h100m-100 -1.5v3m100 -3v3", number(MARGIN), number(down))));
    let told = "100 mm: measure before you cut";
    groups.add("check", text(told, (MARGIN, down - 2.0), LETTERS, Anchor::Start));
    let width = size.x.max(block_width(&lines) * LETTERS).max(LEAST_WIDTH) + 2.0 * MARGIN;
    let height = down + MARGIN;
    let document = Document::new()
        .set("width", format!("{}mm", number(width)))
        .set("height", format!("{}mm", number(height)))
        .set("viewBox", format!("0 0 {} {}", number(width), number(height)))
        .add(tooltip(&format!("{}: {}", job.name, template.name())))
        .add(look());
    let document = groups.0.into_iter().fold(document, |document, (_, group)| document.add(group));
    format!("{document}\n")
}

/// A group for each kind of line and of words, so that a plotter can be told which to follow.
#[derive(Default)]
struct Layers(Vec<(&'static str, Group)>);

impl Layers {
    fn add(&mut self, name: &'static str, element: impl Into<svg::node::element::Element>) {
        let element: svg::node::element::Element = element.into();
        match self.0.last_mut() {
            Some((last, group)) if *last == name => *group = std::mem::take(group).add(element),
            _ => {
                let group = Group::new().set("id", name.replace(' ', "-")).set("class", "layer");
                self.0.push((name, group.add(element)));
            }
        }
    }
}

/// What is written on a template: bearings, copies, figures, that it is no approved data.
fn words_of(job: &Job, template: &Template) -> Vec<String> {
    let bearings = template.bearings.iter().map(|bearing| {
        let edge = match bearing.degrees.rem_euclid(360.0) {
            angle if !(45.0..315.0).contains(&angle) => "right",
            angle if angle < 135.0 => "upper",
            angle if angle < 225.0 => "left",
            _ => "lower",
        };
        format!("{edge} edge {}", bearing.towards)
    });
    let figures = template.figures().into_iter().map(str::to_owned);
    template.words(job.units).into_iter().chain(bearings).chain(figures).chain([PLANNING_AID.to_owned()]).collect()
}

fn class_of(kind: LineKind, pinked: bool) -> &'static str {
    match kind {
        LineKind::Cut if pinked => "cut tip-to-tip",
        LineKind::Cut => "cut",
        LineKind::Teeth => "teeth",
        LineKind::CutAfterShrinking => "cut-after-shrinking",
        LineKind::Finished => "finished",
        LineKind::Wrap => "wrap",
        LineKind::Lap => "lap",
        LineKind::Centre => "centre",
        LineKind::Member => "member",
        LineKind::Seam => "seam",
        LineKind::Hinge => "hinge",
    }
}

/// An arrow along the warp through the middle of the box round the template, with both its heads unless one end of the
/// cloth is up.
pub(super) fn grain_arrow(template: &Template) -> Option<Path> {
    let along = towards(warp(template)?);
    let [low, high] = template.corners();
    let reach = 0.2 * (high - low).x.min((high - low).y);
    let (middle, head) = ((low + high) / 2.0, 0.25 * reach);
    let [from, to] = [middle - along * reach, middle + along * reach];
    let aside = Coord { x: -along.y, y: along.x } * (0.4 * head);
    let mut points = vec![to - along * head + aside, to, to - along * head - aside, to, from];
    if !template.grain.one_way {
        points.extend([from + along * head + aside, from, from + along * head - aside]);
    }
    Path::through(&points)
}

/// SVG path data: arcs as arcs, curves as curves (W3C SVG 1.1, 8.3). Arcs have a quarter turn at most: of half a turn, a
/// radius rounded to a thousandth would move the middle by a third of a millimetre.
fn path_data(path: &Path) -> String {
    let point = |at: Coord<f64>| format!("{} {}", number(at.x), number(at.y));
    let path = path.with_short_arcs();
    let mut data = format!("M{}", point(path.start));
    let mut from = path.start;
    for (index, stretch) in path.stretches.iter().enumerate() {
        let closes = path.closed && index + 1 == path.stretches.len();
        match stretch {
            Stretch::Line(_) if closes => {}
            Stretch::Line(to) => data.push_str(&format!("L{}", point(*to))),
            Stretch::Cubic([one, two], to) => {
                data.push_str(&format!("C{} {} {}", point(*one), point(*two), point(*to)));
            }
            Stretch::Arc { to, bulge } => {
                let chord = libm::hypot(to.x - from.x, to.y - from.y);
                let radius = number(chord * (1.0 + bulge * bulge) / (4.0 * bulge.abs()));
                data.push_str(&format!("A{radius} {radius} 0 0 {} {}", u8::from(*bulge > 0.0), point(*to)));
            }
        }
        from = stretch.end();
    }
    if path.closed {
        data.push('Z');
    }
    data
}

fn look() -> Style {
    let dashes = |kind: LineKind| {
        let pen = pen(kind, false);
        let dash: Vec<String> = pen.dash.iter().map(|length| number(*length)).collect();
        let dash = if dash.is_empty() { "none".to_owned() } else { dash.join(" ") };
        format!(".{}{{stroke-width:{};stroke-dasharray:{dash}}}", class_of(kind, false), number(pen.width))
    };
    let kinds: String = LineKind::ALL.into_iter().map(dashes).collect();
    Style::new(format!(
        "text{{font-family:sans-serif}}path{{fill:none;stroke:#000000}}{kinds}.cut.tip-to-tip{{stroke-width:.13;\
         stroke-dasharray:.5 .8}}.warp,.check{{stroke-width:.25}}.kept{{fill:#000000;stroke:none}}\
         .strong{{font-weight:bold}}"
    ))
}
