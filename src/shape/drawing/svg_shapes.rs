//! The shapes of an SVG as lines in their own units (W3C SVG 1.1 §9).

use kurbo::{Point, Vec2};
use roxmltree::Node;
use svgtypes::PointsParser;

use super::svg_size::px;
use crate::shape::segment::{Arc, Segment};
use crate::shape::svg_path::read_lines;

/// The lines of a shape in its own units; nothing where a size is given that is no length.
pub(super) fn drawn(node: Node, tag: &str) -> Result<Option<Vec<Vec<Segment>>>, String> {
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
