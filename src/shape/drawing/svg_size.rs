//! How large an SVG is: lengths with units, the view box, and the map from it to its viewport (W3C SVG 1.1 chapter 7; one
//! px is 1/96 in, CSS Values and Units 3 §5.2).

use kurbo::{Affine, Rect, Vec2};
use roxmltree::Node;
use svgtypes::{Align, AspectRatio, Length, LengthUnit, ViewBox};

/// Millimetres in a px.
pub(super) const PX: f64 = 25.4 / 96.0;

/// A length in px; nothing for lengths that depend on a font or on a viewport.
pub(super) fn px(text: &str) -> Option<f64> {
    let length: Length = text.trim().parse().ok()?;
    let factor = match length.unit {
        LengthUnit::None | LengthUnit::Px => 1.0,
        LengthUnit::In => 96.0,
        LengthUnit::Cm => 96.0 / 2.54,
        LengthUnit::Mm => 96.0 / 25.4,
        LengthUnit::Pt => 96.0 / 72.0,
        LengthUnit::Pc => 16.0,
        LengthUnit::Em | LengthUnit::Ex | LengthUnit::Percent => return None,
    };
    Some(length.number * factor).filter(|px| px.is_finite())
}

/// Whether a length is written in a unit that a rule could measure.
fn is_physical(text: &str) -> bool {
    let Ok(length) = text.trim().parse::<Length>() else { return false };
    !matches!(length.unit, LengthUnit::None | LengthUnit::Px | LengthUnit::Em | LengthUnit::Ex | LengthUnit::Percent)
}

/// The view box of an element, where it has a sound one.
fn view_box(node: Node) -> Option<Rect> {
    let bounds: ViewBox = node.attribute("viewBox")?.parse().ok()?;
    let sound =
        bounds.w > 0.0 && bounds.h > 0.0 && [bounds.x, bounds.y, bounds.w, bounds.h].iter().all(|v| v.is_finite());
    sound.then(|| Rect::new(bounds.x, bounds.y, bounds.x + bounds.w, bounds.y + bounds.h))
}

/// Millimetres in one unit of the whole drawing, how its x and y differ from that, and what is to be said about it.
pub(super) fn root_size(root: Node) -> (Option<f64>, Affine, Vec<String>) {
    let sides = ["width", "height"].map(|side| root.attribute(side).filter(|text| is_physical(text)).and_then(px));
    let Some(bounds) = view_box(root) else {
        let said = sides.iter().any(Option::is_some);
        let remark = "the drawing gives its size but no viewBox: its units were taken as 1/96 in; if it comes out too small or \
                      too large, say the unit (older drawings meant 1/90 or 1/72 in)";
        return match said {
            true => (Some(PX), Affine::IDENTITY, vec![remark.to_owned()]),
            false => (None, Affine::IDENTITY, Vec::new()),
        };
    };
    let scales = [sides[0].map(|px| px / bounds.width()), sides[1].map(|px| px / bounds.height())];
    let (x, y) = match scales {
        [Some(x), Some(y)] => (x, y),
        [Some(one), None] | [None, Some(one)] => (one, one),
        [None, None] => return (None, Affine::IDENTITY, Vec::new()),
    };
    let aspect = aspect(root);
    let (x, y) = even(x, y, aspect);
    if !(x > 0.0 && y > 0.0) {
        return (None, Affine::IDENTITY, Vec::new());
    }
    let mut remarks = Vec::new();
    if (x / y - 1.0).abs() > 1e-3 {
        remarks.push("the drawing is stretched: its viewBox and its size have different proportions".to_owned());
    }
    (Some(x * PX), Affine::scale_non_uniform(1.0, y / x), remarks)
}

/// The map from the content of an inner `svg` or `symbol` to the space around it.
pub(super) fn viewport(node: Node, size: [Option<f64>; 2]) -> Affine {
    let place = |name: &str| node.attribute(name).and_then(px).unwrap_or(0.0);
    let moved = if node.has_tag_name("symbol") || node.tag_name().name() == "symbol" {
        Affine::IDENTITY
    } else {
        Affine::translate((place("x"), place("y")))
    };
    let Some(bounds) = view_box(node) else { return moved };
    let size = [size[0].unwrap_or(bounds.width()), size[1].unwrap_or(bounds.height())];
    let aspect = aspect(node);
    let (x, y) = even(size[0] / bounds.width(), size[1] / bounds.height(), aspect);
    let room = Vec2::new(size[0] - x * bounds.width(), size[1] - y * bounds.height());
    let (across, down) = shares(aspect.align);
    moved
        * Affine::translate((room.x * across, room.y * down))
        * Affine::scale_non_uniform(x, y)
        * Affine::translate((-bounds.x0, -bounds.y0))
}

fn aspect(node: Node) -> AspectRatio {
    node.attribute("preserveAspectRatio").and_then(|text| text.parse().ok()).unwrap_or_default()
}

/// Equal scales along x and y, unless the drawing wants to be stretched.
fn even(x: f64, y: f64, aspect: AspectRatio) -> (f64, f64) {
    match (aspect.align, aspect.slice) {
        (Align::None, _) => (x, y),
        (_, true) => (x.max(y), x.max(y)),
        _ => (x.min(y), x.min(y)),
    }
}

fn shares(align: Align) -> (f64, f64) {
    let across = match align {
        Align::XMinYMin | Align::XMinYMid | Align::XMinYMax | Align::None => 0.0,
        Align::XMidYMin | Align::XMidYMid | Align::XMidYMax => 0.5,
        _ => 1.0,
    };
    let down = match align {
        Align::XMinYMin | Align::XMidYMin | Align::XMaxYMin | Align::None => 0.0,
        Align::XMinYMid | Align::XMidYMid | Align::XMaxYMid => 0.5,
        _ => 1.0,
    };
    (across, down)
}
