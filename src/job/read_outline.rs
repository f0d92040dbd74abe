//! Reads an outline and says where on the page a bad one goes wrong.

use geo_types::Coord;
use jsonc_parser::ast::Value;
use jsonc_parser::common::{Range, Ranged};

use super::keys::{OUTLINE, SHAPES};
use super::limits;
use super::nearest::one_of;
use super::outline_fault::outline_fault;
use super::read_drawing::{OF_FILE, from_file};
use super::reader::{Fields, Reader, Sort};
use crate::shape::Curve;

const COORDINATE: Sort =
    Sort { what: "a coordinate", hint: "write [x, y], each a number in the job's unit or a text such as \"3/8 in\"" };
const POINTS_HINT: &str = "write the corners in order, for example [[0, 0], [300, 0], [300, 200]]";

/// An outline that can be cut: every ring is simple, holes lie inside.
pub(super) fn outline(reader: &mut Reader, value: &Value) -> Option<Curve> {
    let fields = reader.object(value, &OUTLINE)?;
    let shape = shape(reader, value, &fields);
    let at = fields.get("at").map_or(Some([0.0; 2]), |at| point(reader, at));
    let (curve, written) = shape?;
    // Looked at before the shift, so that messages name the places that the person wrote.
    let flat = match curve.flatten() {
        Ok(flat) => flat,
        Err(fault) => {
            outline_fault(reader, &fields, written, &fault);
            return None;
        }
    };
    if too_many_points(reader, written, flat.rings().map(|(_, ring)| ring.len()).sum()) {
        return None;
    }
    let [x, y] = at?;
    Some(curve.shifted(Coord { x, y }))
}

/// The one shape that an outline has, and where it is written.
fn shape(reader: &mut Reader, value: &Value, fields: &Fields) -> Option<(Curve, Range)> {
    let brace = Range { start: value.start(), end: value.start() + 1 };
    let given: Vec<_> = SHAPES.iter().filter_map(|name| Some((*name, fields.get(name)?))).collect();
    if let Some(holes) = fields.get("holes")
        && fields.get("polygon").is_none()
    {
        reader.fault(&holes.range(), "only a polygon has \"holes\"", "a \"path\" has its holes among its rings");
    }
    for name in OF_FILE {
        if let Some(value) = fields.get(name)
            && fields.get("file").is_none()
        {
            let message = format!("only a \"file\" has {name:?}");
            reader.fault(&value.range(), message, "name the drawing that it is about, or take it away");
        }
    }
    match given[..] {
        [(name, given)] => Some((named_shape(reader, name, given, fields)?, given.range())),
        [] if fields.strangers => None,
        [] => {
            reader.fault(&brace, "this outline has no shape", format!("give it {}", one_of(SHAPES)));
            None
        }
        [(first, _), (second, given), ..] => {
            let message = format!("this outline has two shapes, {first:?} and {second:?}");
            reader.fault(&given.range(), message, "keep one; a piece of two parts is a \"path\" or two pieces");
            None
        }
    }
}

fn named_shape(reader: &mut Reader, name: &str, value: &Value, fields: &Fields) -> Option<Curve> {
    match name {
        "rect" => rect(reader, value),
        "circle" => circle(reader, value),
        "ring" => ring(reader, value),
        "strip" => strip(reader, value),
        "polygon" => polygon(reader, value, fields.get("holes")),
        "file" => from_file(reader, value, fields),
        _ => path(reader, value),
    }
}

fn rect(reader: &mut Reader, value: &Value) -> Option<Curve> {
    let hint = "write [length along x, width along y], for example [300, 200]";
    let [width, height] = two_sizes(reader, value, ["the length of a rectangle", "the width of a rectangle"], hint)?;
    Some(Curve::rect(width, height))
}

fn circle(reader: &mut Reader, value: &Value) -> Option<Curve> {
    let hint = "write the diameter of the finished circle, for example \"165 mm\" or \"6-1/2 in\"";
    Some(Curve::circle(reader.size(value, Sort { what: "a diameter", hint })?))
}

fn ring(reader: &mut Reader, value: &Value) -> Option<Curve> {
    let hint = "write [outer diameter, inner diameter], for example [\"130 mm\", \"95 mm\"]";
    let [outer, inner] =
        two_sizes(reader, value, ["the outer diameter of a ring", "the inner diameter of a ring"], hint)?;
    if inner >= outer {
        let [outer, inner] = [outer, inner].map(|size| reader.units.show(size));
        let message = format!("the inner diameter of the ring, {inner}, must be less than the outer one, {outer}");
        reader.fault(&value.range(), message, hint);
        return None;
    }
    Some(Curve::ring(outer, inner))
}

fn strip(reader: &mut Reader, value: &Value) -> Option<Curve> {
    let hint = "write [length, width], for example [\"2.5 m\", \"100 mm\"]";
    let [length, width] = two_sizes(reader, value, ["the length of a strip", "the width of a strip"], hint)?;
    Some(Curve::strip(length, width))
}

pub(super) fn two_sizes(
    reader: &mut Reader,
    value: &Value,
    what: [&'static str; 2],
    hint: &'static str,
) -> Option<[f64; 2]> {
    let list = reader.list(value, "a pair of lengths", (2, 2), hint)?;
    let first = reader.size(&list[0], Sort { what: what[0], hint });
    let second = reader.size(&list[1], Sort { what: what[1], hint });
    Some([first?, second?])
}

pub(super) fn point(reader: &mut Reader, value: &Value) -> Option<[f64; 2]> {
    let list = reader.list(value, "a point", (2, 2), COORDINATE.hint)?;
    let x = reader.length(&list[0], COORDINATE);
    let y = reader.length(&list[1], COORDINATE);
    Some([x?, y?])
}

fn polygon(reader: &mut Reader, value: &Value, holes: Option<&Value>) -> Option<Curve> {
    let outer = ring_of_points(reader, value, "a polygon");
    let holes = match holes {
        None => Some(Vec::new()),
        Some(value) => {
            let list =
                reader.list(value, "the list of holes", (0, limits::POINTS), "write a list of rings of points")?;
            let rings: Vec<_> = list.iter().map(|ring| ring_of_points(reader, ring, "a hole")).collect();
            rings.into_iter().collect::<Option<Vec<_>>>()
        }
    };
    let (outer, holes) = (outer?, holes?);
    let count = outer.len() + holes.iter().map(Vec::len).sum::<usize>();
    if too_many_points(reader, value.range(), count) {
        return None;
    }
    Some(Curve::polygon(&outer, &holes))
}

/// A ring with three corners or more, none of them twice in a row.
fn ring_of_points(reader: &mut Reader, value: &Value, what: &str) -> Option<Vec<[f64; 2]>> {
    let list = reader.list(value, what, (1, limits::POINTS), POINTS_HINT)?;
    let points: Vec<_> = list.iter().map(|value| point(reader, value)).collect();
    let mut points = points.into_iter().collect::<Option<Vec<_>>>()?;
    if points.len() > 1 && points.first() == points.last() {
        points.pop();
    }
    if points.len() < 3 {
        let bracket = Range { start: value.start(), end: value.start() + 1 };
        reader.fault(&bracket, format!("{what} needs 3 corners or more, this one has {}", points.len()), POINTS_HINT);
        return None;
    }
    let mut sound = true;
    for index in 1..points.len() {
        if points[index] == points[index - 1] {
            let message = format!("this point is the same as the one before it, {}", reader.seen(&list[index - 1]));
            reader.fault(&list[index].range(), message, "take one of the two away");
            sound = false;
        }
    }
    sound.then_some(points)
}

fn too_many_points(reader: &mut Reader, written: Range, count: usize) -> bool {
    let too_many = count > limits::POINTS;
    if too_many {
        let message = format!("this outline has {count} points, {} is the most", limits::POINTS);
        reader.fault(&written, message, "leave out points that lie nearly on a straight line");
    }
    too_many
}

fn path(reader: &mut Reader, value: &Value) -> Option<Curve> {
    let data = reader.text(value, "path data")?;
    if data.len() > limits::PATH_BYTES {
        let message = format!("these path data have {} bytes, {} is the most", data.len(), limits::PATH_BYTES);
        reader.fault(&value.range(), message, "use fewer points and more curves");
        return None;
    }
    match Curve::from_svg_path(data, reader.units.to_mm(1.0)) {
        Ok(curve) => Some(curve),
        Err(fault) => {
            let range = place_in_text(reader, value, data, fault.at);
            let hint = "SVG path data are rings such as \"M 0 0 L 300 0 L 300 200 Z\"";
            reader.fault(&range, format!("the path data are wrong: {}", fault.message), hint);
            None
        }
    }
}

/// The character of a text in the file, or the whole text where escapes stand between the two.
fn place_in_text(reader: &Reader, value: &Value, text: &str, character: usize) -> Range {
    let Range { start, end } = value.range();
    if reader.source.slice(start + 1, end.saturating_sub(1)) != text {
        return value.range();
    }
    let place = |nth: usize| start + 1 + text.char_indices().nth(nth).map_or(text.len(), |(at, _)| at);
    Range { start: place(character), end: place(character + 1) }
}
