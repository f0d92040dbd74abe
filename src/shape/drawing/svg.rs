//! Reads an SVG (W3C SVG 1.1): every shape with the transforms around it, `use` followed, nothing fetched from anywhere.
//! A line is where its middle is, however wide its stroke; fills, masks and clips change no outline.

use std::collections::HashMap;
use std::sync::Arc;

use kurbo::Affine;
use roxmltree::{Document, Node, ParsingOptions};

use super::names::Names;
use super::svg_guard;
use super::svg_shapes::drawn;
use super::svg_size::{px, root_size, viewport};
use super::{Drawing, DrawingFault, DrawnLine, limits};
use crate::shape::segment::Segment;

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
    svg_guard::check(text)?;
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
    let drawing = Drawing { unit, remarks, ..Drawing::default() };
    let mut walk = Walk { drawing, ids: ids(&document), elements: 0, looked_at: 0, stretches: 0, style: false };
    let place = Place { map: Affine::FLIP_Y * uneven, ..Place::default() };
    walk.children(root, &place)?;
    if walk.style {
        let remark = "style sheets in it were not read: what only they hide was taken too";
        walk.drawing.remarks.push(remark.to_owned());
    }
    Ok(walk.drawing)
}

/// Elements by their ids, the first of each.
fn ids<'a, 'i>(document: &'a Document<'i>) -> HashMap<&'a str, Node<'a, 'i>> {
    let mut ids = HashMap::new();
    for node in document.descendants() {
        if let Some(id) = node.attribute("id") {
            ids.entry(id).or_insert(node);
        }
    }
    ids
}

/// Where an element is: the map to the drawing, and the names around it.
#[derive(Clone, Default)]
struct Place {
    map: Affine,
    ids: Names,
    /// The same with the classes around it.
    layers: Names,
    /// What a reference calls all that it puts here.
    name: Option<Arc<str>>,
    /// What hides it, if anything does.
    hidden: Option<Arc<str>>,
    depth: usize,
}

struct Walk<'a, 'i> {
    drawing: Drawing,
    ids: HashMap<&'a str, Node<'a, 'i>>,
    elements: usize,
    /// Bytes of attributes, and nodes, that were gone through, each time they were.
    looked_at: usize,
    stretches: usize,
    style: bool,
}

impl<'a, 'i> Walk<'a, 'i> {
    fn children(&mut self, parent: Node<'a, 'i>, place: &Place) -> Result<(), DrawingFault> {
        for child in parent.children() {
            self.looked_at += 1;
            if child.is_element() {
                self.element(child, place)?;
            }
        }
        self.not_too_much()
    }

    /// What is small and repeated by references a hundred thousand times is large.
    fn not_too_much(&self) -> Result<(), DrawingFault> {
        if self.elements > limits::ELEMENTS {
            return Err(too_much(format!("more than {} elements, repetitions counted", limits::ELEMENTS)));
        }
        if self.looked_at > limits::LOOKED_AT {
            let most = limits::LOOKED_AT / 1024 / 1024;
            return Err(too_much(format!("more than {most} MB, repetitions counted")));
        }
        Ok(())
    }

    fn element(&mut self, node: Node<'a, 'i>, around: &Place) -> Result<(), DrawingFault> {
        self.elements += 1;
        self.looked_at +=
            node.attributes().map(|attribute| attribute.name().len() + attribute.value().len()).sum::<usize>();
        self.not_too_much()?;
        if around.depth >= limits::NESTING {
            return Err(too_much(format!("groups or references nested more than {} deep", limits::NESTING)));
        }
        let tag = node.tag_name().name();
        if NOT_DRAWN.contains(&tag) {
            return Ok(());
        }
        if tag == "style" {
            let text = node.text().unwrap_or_default();
            self.looked_at += text.len();
            self.style |= text.contains("display") || text.contains("visibility");
            return Ok(());
        }
        let foreign = node.tag_name().namespace().is_some_and(|space| space != "http://www.w3.org/2000/svg");
        if foreign {
            return Ok(());
        }
        let place = self.inside(node, around)?;
        match tag {
            "g" | "a" => self.children(node, &place),
            "switch" => node.first_element_child().map_or(Ok(()), |first| self.element(first, &place)),
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
    fn inside(&self, node: Node, around: &Place) -> Result<Place, DrawingFault> {
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
        let names = || node.attribute("id").into_iter().chain(label);
        let classes = node.attribute("class").into_iter().flat_map(str::split_whitespace);
        place.ids = around.ids.with(names());
        place.layers = around.layers.with(classes.chain(names()));
        if place.hidden.is_none() && is_hidden(node) {
            let name = names().next().filter(|name| name.len() <= limits::NAME_BYTES);
            let what = if node.has_children() { "group" } else { "shape" };
            place.hidden = Some(name.map_or(format!("a {what}"), |name| format!("the {what} “{name}”")).into());
        }
        Ok(place)
    }

    fn reference(&mut self, node: Node<'a, 'i>, place: &Place) -> Result<(), DrawingFault> {
        let link = node.attribute("href").or_else(|| node.attribute(("http://www.w3.org/1999/xlink", "href")));
        let target = link.and_then(|link| link.strip_prefix('#'));
        let Some(id) = target else {
            self.drawing.left_out.add("reference to another file", None);
            return Ok(());
        };
        let Some(target) = self.ids.get(id).copied() else {
            self.drawing.left_out.add("reference to nothing", None);
            return Ok(());
        };
        let shift = ["x", "y"].map(|name| node.attribute(name).and_then(px).unwrap_or(0.0));
        let name = place.name.clone().or_else(|| own_name(node, place));
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
        let name = place.name.clone().or_else(|| own_name(node, place));
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
                layers: place.layers.clone(),
                hidden: place.hidden.clone(),
            });
        }
        Ok(())
    }
}

fn too_much(what: String) -> DrawingFault {
    DrawingFault::new(format!("the drawing has {what}"), "save only the pieces that you need")
}

/// The innermost name of what is around, where it is the element's own.
fn own_name(node: Node, place: &Place) -> Option<Arc<str>> {
    let has_one = node.attributes().any(|attribute| attribute.name() == "id" || attribute.name() == "label");
    place.ids.iter().next().filter(|_| has_one).map(Arc::from)
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
