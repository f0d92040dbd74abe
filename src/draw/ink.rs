//! The few marks that every layer of a sheet is made of, and the look they share.

use svg::node::element::{Element, Group, Path, Style};

use super::frame::number;

/// Where a text hangs on its point.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Anchor {
    /// The text begins there.
    Start,
    /// The text's middle is there.
    Middle,
    /// The text ends there.
    End,
}

/// A line of text; the point is on its base line.
pub(super) fn text(content: &str, at: (f64, f64), size: f64, anchor: Anchor) -> Element {
    let anchor = match anchor {
        Anchor::Start => "start",
        Anchor::Middle => "middle",
        Anchor::End => "end",
    };
    let mut text = worded("text", content);
    svg::Node::assign(&mut text, "x", number(at.0));
    svg::Node::assign(&mut text, "y", number(at.1));
    svg::Node::assign(&mut text, "font-size", number(size));
    svg::Node::assign(&mut text, "text-anchor", anchor);
    text
}

/// The same element in a class.
pub(super) fn classed(class: &str, mut element: Element) -> Element {
    svg::Node::assign(&mut element, "class", class);
    element
}

/// A path of a class; numbers in `data` are millimetres on the sheet.
pub(super) fn path(class: &str, data: String) -> Path {
    Path::new().set("class", class).set("d", data)
}

/// A group of a class.
pub(super) fn group(class: &str) -> Group {
    Group::new().set("class", class)
}

/// A tooltip.
pub(super) fn tooltip(content: &str) -> Element {
    worded("title", content)
}

/// An element around a text and nothing else, not even a line break.
fn worded(name: &str, content: &str) -> Element {
    let mut element = Element::new(name);
    svg::Node::append(&mut element, svg::node::Text::new(printable(content)));
    element
}

/// XML has no way to write most control characters (W3C XML 1.0, production 2).
fn printable(content: &str) -> String {
    content.chars().map(|letter| if letter.is_control() { ' ' } else { letter }).collect()
}

/// The look. Lines keep their width on a screen at any zoom; a reader that does not know how draws them in
/// millimetres. Tints differ in lightness as well as in hue, and every meaning has a line or a pattern of its own.
pub(super) fn style() -> Style {
    Style::new(
        "text{font-family:sans-serif;fill:#1d2429}\
         path{fill:none;stroke:none;vector-effect:non-scaling-stroke}\
         .cloth{fill:#f1ece1;stroke:#1d2429;stroke-width:1}\
         .unseen{stroke:#1d2429;stroke-width:1;stroke-dasharray:2 2}\
         .usable{stroke:#6b6458;stroke-width:.7;stroke-dasharray:7 3}\
         .roll-end{stroke:#1d2429;stroke-width:2}\
         .cut-off{stroke:#1d2429;stroke-width:1.4;stroke-dasharray:12 3 2 3}\
         .flaw{stroke:#1d2429;stroke-width:1}\
         .gap{stroke:#ffffff;stroke-linejoin:round;vector-effect:none}\
         .plain{fill:#cfdfe6;stroke:#1d2429;stroke-width:1}\
         .nominal{fill:#f6dfb4;stroke:#8a6a2a;stroke-width:.5;stroke-dasharray:1 2}\
         .teeth{fill:#f6dfb4;stroke:#1d2429;stroke-width:1}\
         .grain{stroke:#1d2429;stroke-width:1.2;stroke-linejoin:round;stroke-linecap:round}\
         .tick{stroke:#1d2429;stroke-width:.7}\
         .tick-major{stroke:#1d2429;stroke-width:1.2}\
         .cross{stroke:#6b6458;stroke-width:.7}\
         .crosses text,.again text{fill:#565f66}\
         .frame{stroke:#1d2429;stroke-width:1}\
         .rule{stroke:#9aa1a5;stroke-width:.5}\
         .bar{fill:#1d2429}\
         .on-hatching text,.over-hatching,.over-lines{stroke:#ffffff;stroke-width:.2em;stroke-linejoin:round;paint-order:stroke}\
         .strong{font-weight:bold}\
         .faint{fill:#565f66}",
    )
}
