//! Reads an SVG (W3C SVG 1.1): every shape with the transforms around it, `use` followed, nothing fetched from anywhere.
//! A line is where its middle is, however wide its stroke; fills, masks and clips change no outline.

use kurbo::{Affine, Point, Vec2};
use roxmltree::{Document, Node, ParsingOptions};
use svgtypes::PointsParser;

use super::svg_size::{px, root_size, viewport};
use super::{Drawing, DrawingFault, DrawnLine, limits};
use crate::shape::segment::{Arc, Segment};
use crate::shape::svg_path::read_lines;

/// Elements whose content is drawn only where another element refers to it, or not at all.
const NOT_DRAWN: [&str; 12] = [
    "defs",
    "symbol",
    "clipPath",
    "mask",
    "marker",
    "pattern",
    "linearGradient",
    "radialGradient",
    "filter",
    "metadata",
    "title",
    "desc",
];

/// Reads the text of an SVG.
pub(super) fn read(bytes: &[u8]) -> Result<Drawing, DrawingFault> {
    let text = std::str::from_utf8(bytes).map_err(|_| {
        DrawingFault::new("the drawing is not UTF-8 text", "save it as plain SVG, uncompressed, in UTF-8")
    })?;
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    entities(text)?;
    depth(text)?;
    let options =
        ParsingOptions { allow_dtd: true, nodes_limit: 4 * limits::ELEMENTS as u32, ..ParsingOptions::default() };
    let document = Document::parse_with_options(text, options).map_err(|error| {
        DrawingFault::new(format!("the drawing is no sound XML: {error}"), "save it again as plain SVG")
    })?;
    let root = document.root_element();
    if root.tag_name().name() != "svg" {
        return Err(DrawingFault::new(
            format!("the drawing begins with <{}>", root.tag_name().name()),
            "an SVG begins with <svg>",
        ));
    }
    let (unit, uneven, remarks) = root_size(root);
    let mut walk =
        Walk { drawing: Drawing { unit, remarks, ..Drawing::default() }, elements: 0, stretches: 0, style: false };
    let place = Place { map: Affine::FLIP_Y * uneven, ids: Vec::new(), name: None, hidden: false, depth: 0 };
    walk.children(root, &place)?;
    if walk.style {
        let remark = "style sheets in it were not read: what only they hide was taken too";
        walk.drawing.remarks.push(remark.to_owned());
    }
    Ok(walk.drawing)
}

/// Entities may blow a small file up to any size: only few and short ones are let in.
fn entities(text: &str) -> Result<(), DrawingFault> {
    if !text.contains("<!ENTITY") {
        return Ok(());
    }
    let head = text.split_once("]>").map_or(text, |(head, _)| head);
    let declared: usize = head.split("<!ENTITY").skip(1).map(str::len).sum();
    let nested = head.split("<!ENTITY").skip(1).any(|entity| entity.contains('&') || entity.contains("<!DOCTYPE"));
    let outside = head.split("<!ENTITY").skip(1).any(|entity| entity.contains("SYSTEM") || entity.contains("PUBLIC"));
    let known = ["&lt;", "&gt;", "&amp;", "&quot;", "&apos;", "&#"];
    let used = text.matches('&').count() - known.iter().map(|known| text.matches(known).count()).sum::<usize>();
    if outside {
        return Err(DrawingFault::new(
            "the drawing declares entities that lie outside it, and nothing outside is read",
            "save it as plain SVG",
        ));
    }
    if nested || declared > limits::ENTITY_BYTES || used > limits::ENTITY_BYTES {
        return Err(DrawingFault::new("the drawing declares entities that would swell it", "save it as plain SVG"));
    }
    Ok(())
}

/// Elements nested deeper than any drawing needs would exhaust the parser; counted before it sees them.
fn depth(text: &str) -> Result<(), DrawingFault> {
    const DEEPEST: usize = 256;
    let (mut depth, mut most) = (0_usize, 0_usize);
    for (at, _) in text.match_indices('<') {
        let rest = &text.as_bytes()[at + 1..];
        match rest.first() {
            Some(b'/') => depth = depth.saturating_sub(1),
            Some(b'!' | b'?') | None => {}
            Some(_) => {
                let end = rest.iter().position(|byte| *byte == b'>').unwrap_or(0);
                if end == 0 || rest[end - 1] != b'/' {
                    depth += 1;
                    most = most.max(depth);
                }
            }
        }
    }
    if most > DEEPEST {
        return Err(DrawingFault::new(
            format!("the drawing nests its elements {most} deep, {DEEPEST} is the most"),
            "ungroup it and save it again",
        ));
    }
    Ok(())
}

/// Where an element is: the map to the drawing, and the names around it.
#[derive(Clone)]
struct Place {
    map: Affine,
    ids: Vec<String>,
    /// What a reference calls all that it puts here.
    name: Option<String>,
    hidden: bool,
    depth: usize,
}

struct Walk {
    drawing: Drawing,
    elements: usize,
    stretches: usize,
    style: bool,
}

impl Walk {
    fn children(&mut self, parent: Node, place: &Place) -> Result<(), DrawingFault> {
        for child in parent.children().filter(Node::is_element) {
            self.element(child, place)?;
        }
        Ok(())
    }

    fn element(&mut self, node: Node, around: &Place) -> Result<(), DrawingFault> {
        self.elements += 1;
        if self.elements > limits::ELEMENTS {
            return Err(too_much(format!("more than {} elements, repetitions counted", limits::ELEMENTS)));
        }
        if around.depth >= limits::NESTING {
            return Err(too_much(format!("groups or references nested more than {} deep", limits::NESTING)));
        }
        let tag = node.tag_name().name();
        if NOT_DRAWN.contains(&tag) {
            return Ok(());
        }
        if tag == "style" {
            self.style |= node.text().is_some_and(|text| text.contains("display") || text.contains("visibility"));
            return Ok(());
        }
        let foreign = node.tag_name().namespace().is_some_and(|space| space != "http://www.w3.org/2000/svg");
        if foreign {
            return Ok(());
        }
        let place = self.inside(node, around)?;
        match tag {
            "g" | "a" => self.children(node, &place),
            "switch" => node.children().find(Node::is_element).map_or(Ok(()), |first| self.element(first, &place)),
            "svg" => {
                let size = ["width", "height"].map(|side| node.attribute(side).and_then(px));
                let place = Place { map: place.map * viewport(node, size), ..place };
                self.children(node, &place)
            }
            "use" => self.reference(node, &place),
            "path" | "rect" | "circle" | "ellipse" | "polygon" | "polyline" | "line" => self.shape(node, tag, &place),
            _ => {
                self.drawing.left_out.add(tag, None);
                Ok(())
            }
        }
    }

    /// The place within an element: its transform and its names added.
    fn inside(&mut self, node: Node, around: &Place) -> Result<Place, DrawingFault> {
        let mut place = Place { depth: around.depth + 1, ..around.clone() };
        if let Some(text) = node.attribute("transform") {
            let own: svgtypes::Transform = text.parse().map_err(|error| {
                DrawingFault::new(
                    format!("{}: the transform is wrong: {error}", place_of(node)),
                    "save the drawing again",
                )
            })?;
            place.map *= Affine::new([own.a, own.b, own.c, own.d, own.e, own.f]);
        }
        let label = node.attributes().find(|attribute| attribute.name() == "label").map(|attribute| attribute.value());
        place.ids.extend(node.attribute("id").into_iter().chain(label).map(str::to_owned));
        place.hidden |= is_hidden(node);
        Ok(place)
    }

    fn reference(&mut self, node: Node, place: &Place) -> Result<(), DrawingFault> {
        let link = node.attribute("href").or_else(|| node.attribute(("http://www.w3.org/1999/xlink", "href")));
        let target = link.and_then(|link| link.strip_prefix('#'));
        let Some(id) = target else {
            self.drawing.left_out.add("reference to another file", None);
            return Ok(());
        };
        let Some(target) = find(node, id) else {
            self.drawing.left_out.add("reference to nothing", None);
            return Ok(());
        };
        let shift = ["x", "y"].map(|name| node.attribute(name).and_then(px).unwrap_or(0.0));
        let own = place.ids.last().filter(|_| own_name(node)).cloned();
        let name = place.name.clone().or(own);
        let place = Place { map: place.map * Affine::translate((shift[0], shift[1])), name, ..place.clone() };
        if target.tag_name().name() != "symbol" {
            return self.element(target, &place);
        }
        let size = ["width", "height"].map(|side| node.attribute(side).and_then(px));
        let map = place.map * viewport(target, size);
        self.children(target, &Place { map, depth: place.depth + 1, ..place })
    }

    fn shape(&mut self, node: Node, tag: &str, place: &Place) -> Result<(), DrawingFault> {
        let lines = match drawn(node, tag) {
            Ok(Some(lines)) => lines,
            Ok(None) => {
                self.drawing.left_out.add(format!("{tag} whose size is no length"), None);
                return Ok(());
            }
            Err(message) => {
                return Err(DrawingFault::new(format!("{}: {message}", place_of(node)), "save the drawing again"));
            }
        };
        let own = place.ids.last().filter(|_| own_name(node)).cloned();
        let name = place.name.clone().or(own);
        for segments in lines.into_iter().filter(|segments| !segments.is_empty()) {
            let segments: Vec<Segment> = segments.iter().map(|segment| segment.carried(place.map)).collect();
            if segments.iter().flat_map(Segment::defining_points).any(|point| !point.is_finite()) {
                return Err(DrawingFault::new(format!("{}: a number is not finite", place_of(node)), "save it again"));
            }
            self.stretches += segments.len();
            if self.stretches > limits::STRETCHES || self.drawing.lines.len() >= limits::LINES {
                return Err(too_much(format!("more than {} lines or {} stretches", limits::LINES, limits::STRETCHES)));
            }
            self.drawing.lines.push(DrawnLine {
                segments,
                name: name.clone(),
                ids: place.ids.clone(),
                layers: place.ids.clone(),
                hidden: place.hidden,
            });
        }
        Ok(())
    }
}

fn too_much(what: String) -> DrawingFault {
    DrawingFault::new(format!("the drawing has {what}"), "save only the pieces that you need")
}

fn own_name(node: Node) -> bool {
    node.attributes().any(|attribute| attribute.name() == "id" || attribute.name() == "label")
}

fn find<'a, 'i>(node: Node<'a, 'i>, id: &str) -> Option<Node<'a, 'i>> {
    node.document().descendants().find(|other| other.attribute("id") == Some(id))
}

/// `line 12, path “horn-left”`.
fn place_of(node: Node) -> String {
    let line = node.document().text_pos_at(node.range().start).row;
    match node.attribute("id") {
        Some(id) => format!("line {line}, {} “{id}”", node.tag_name().name()),
        None => format!("line {line}, {}", node.tag_name().name()),
    }
}

fn is_hidden(node: Node) -> bool {
    let style = node.attribute("style").unwrap_or_default();
    let says = |property: &str, values: &[&str]| {
        let in_style = style.split(';').filter_map(|rule| rule.split_once(':')).find(|rule| rule.0.trim() == property);
        let value = in_style.map(|rule| rule.1.trim()).or_else(|| node.attribute(property));
        value.is_some_and(|value| values.contains(&value))
    };
    says("display", &["none"]) || says("visibility", &["hidden", "collapse"])
}

/// The lines of a shape in its own units; nothing where a size is given that is no length.
fn drawn(node: Node, tag: &str) -> Result<Option<Vec<Vec<Segment>>>, String> {
    const SAME: f64 = 1e-9;
    let length = |name: &str| match node.attribute(name) {
        None => Some(0.0),
        Some(text) => px(text),
    };
    let lengths = |names: &[&str]| names.iter().map(|name| length(name)).collect::<Option<Vec<f64>>>();
    Ok(match tag {
        "path" => {
            let data = node.attribute("d").unwrap_or_default();
            if data.trim().is_empty() || data.trim() == "none" {
                Some(Vec::new())
            } else {
                Some(read_lines(data, SAME).map_err(|fault| format!("the path data are wrong: {fault}"))?)
            }
        }
        "rect" => lengths(&["x", "y", "width", "height"]).map(|sizes| {
            let radius = |name: &str| node.attribute(name).and_then(px).filter(|radius| *radius >= 0.0);
            let (rx, ry) = (radius("rx"), radius("ry"));
            let (rx, ry) = (rx.or(ry).unwrap_or(0.0), ry.or(rx).unwrap_or(0.0));
            vec![rect(&sizes, rx.min(sizes[2] / 2.0), ry.min(sizes[3] / 2.0))]
        }),
        "circle" => lengths(&["cx", "cy", "r"]).map(|s| vec![ellipse(s[0], s[1], s[2], s[2])]),
        "ellipse" => lengths(&["cx", "cy", "rx", "ry"]).map(|s| vec![ellipse(s[0], s[1], s[2], s[3])]),
        "line" => lengths(&["x1", "y1", "x2", "y2"])
            .map(|s| vec![joined(&[Point::new(s[0], s[1]), Point::new(s[2], s[3])], false)]),
        _ => {
            let points = PointsParser::from(node.attribute("points").unwrap_or_default());
            let points: Vec<Point> = points.map(|(x, y)| Point::new(x, y)).collect();
            Some(vec![joined(&points, tag == "polygon")])
        }
    })
}

fn joined(points: &[Point], closed: bool) -> Vec<Segment> {
    let closing = points.last().zip(points.first()).filter(|_| closed);
    let pairs = points.windows(2).map(|pair| (pair[0], pair[1])).chain(closing.map(|(last, first)| (*last, *first)));
    pairs.filter(|(from, to)| from != to).map(|(from, to)| Segment::line(from, to)).collect()
}

fn ellipse(x: f64, y: f64, rx: f64, ry: f64) -> Vec<Segment> {
    if !(rx > 0.0 && ry > 0.0) {
        return Vec::new();
    }
    let circle = Arc::circle(Point::new(x, y), rx);
    vec![Segment::Arc(Arc { along: Vec2::new(0.0, ry), ..circle })]
}

fn rect(sizes: &[f64], rx: f64, ry: f64) -> Vec<Segment> {
    let [x, y, width, height] = [sizes[0], sizes[1], sizes[2], sizes[3]];
    if !(width > 0.0 && height > 0.0) {
        return Vec::new();
    }
    let (right, bottom) = (x + width, y + height);
    if rx == 0.0 || ry == 0.0 {
        let corners = [(x, y), (right, y), (right, bottom), (x, bottom)].map(|(x, y)| Point::new(x, y));
        return joined(&corners, true);
    }
    // From the end of each side round its corner to the start of the next.
    let corners = [
        ((right - rx, y), (right, y + ry), (right - rx, y + ry), -1.0),
        ((right, bottom - ry), (right - rx, bottom), (right - rx, bottom - ry), 0.0),
        ((x + rx, bottom), (x, bottom - ry), (x + rx, bottom - ry), 1.0),
        ((x, y + ry), (x + rx, y), (x + rx, y + ry), 2.0),
    ];
    let mut here = Point::new(x + rx, y);
    let mut segments = Vec::new();
    for (from, to, centre, quarter) in corners {
        if here != Point::from(from) {
            segments.push(Segment::line(here, from.into()));
        }
        segments.push(Segment::Arc(Arc {
            centre: centre.into(),
            across: Vec2::new(rx, 0.0),
            along: Vec2::new(0.0, ry),
            from: quarter * std::f64::consts::FRAC_PI_2,
            sweep: std::f64::consts::FRAC_PI_2,
            ends: [from.into(), to.into()],
        }));
        here = to.into();
    }
    segments
}
