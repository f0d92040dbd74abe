//! Reads a cloth: a roll, a bolt or an offcut.

use geo::{Area, BooleanOps, unary_union};
use geo_types::{MultiPolygon, Polygon, Rect};
use jsonc_parser::ast::Value;
use jsonc_parser::common::{Range, Ranged};

use super::keys::{CLOTH, FLAW};
use super::limits;
use super::model::{Cloth, Flaw};
use super::read_outline::outline;
use super::reader::{Reader, Sort};
use crate::shape::{Curve, FLATTENING, TOLERANCE};

const WIDTH: Sort = Sort {
    what: "the width of a cloth",
    hint: "write the full width, selvage included, for example \"1.78 m\" or \"70 in\"",
};
const LENGTH: Sort = Sort {
    what: "the length of a cloth",
    hint: "write what there is, or leave \"length\" out for as much as is needed",
};
const SELVAGE: Sort =
    Sort { what: "a selvage", hint: "write what is trimmed off, one length for both edges or [lower, upper]" };
const MASS_HINT: &str = "write grams a square metre, for example 92; 1 oz/yd² is 33.9 g/m²";
const PRICE_HINT: &str = "write the price of a metre of its length, a plain number, for example 14.50";
const SOLD_BY: Sort =
    Sort { what: "the step in which a cloth is sold", hint: "write for example \"1 yd\" or \"0.5 m\"" };

/// A cloth that has an area to lay pieces on.
pub(super) fn cloth(reader: &mut Reader, value: &Value) -> Option<Cloth> {
    let fields = reader.object(value, &CLOTH)?;
    let name = fields.get("name").and_then(|value| reader.name(value));
    let width = fields.get("width").and_then(|value| reader.size(value, WIDTH));
    let length = fields.get("length").map_or(Some(None), |value| reader.size(value, LENGTH).map(Some));
    let count =
        fields.get("count").map_or(Some(1), |value| reader.quantity(value, "a count of cloths", limits::COPIES));
    let selvage = fields.get("selvage").map_or(Some([0.0; 2]), |value| selvage(reader, value, width));
    let region = fields.get("outline").map_or(Some(None), |value| outline(reader, value).map(Some));
    let flaws = fields.get("flaws").map_or(Some(Vec::new()), |value| flaws(reader, value));
    let mass = fields.get("mass").map_or(Some(None), |value| mass(reader, value, MASS_HINT).map(Some));
    let price = fields.get("price").map_or(Some(None), |value| price(reader, value, PRICE_HINT).map(Some));
    let sold_by = fields.get("sold_by").map_or(Some(None), |value| reader.size(value, SOLD_BY).map(Some));
    let faces_alike = fields.get("faces_alike").map_or(Some(false), |value| reader.yes_or_no(value));
    let note = fields.get("note").map_or(Some(None), |value| reader.text(value, "a note").map(Some));
    let mut cloth = Cloth {
        name: name?,
        width: width?,
        selvage: selvage?,
        length: length?,
        count: count?,
        outline: region?,
        flaws: flaws?,
        mass: mass?,
        price: price?,
        sold_by: sold_by?,
        faces_alike: faces_alike?,
        note: note?.map(str::to_owned),
    };
    if let (Some(region), Some(at)) = (&cloth.outline, fields.get("outline")) {
        let bounds = bounds(region);
        region_inside(reader, at, bounds, &cloth);
        cloth.length = cloth.length.or(Some(bounds.max().x));
    }
    if let Some(Value::Array(list)) = fields.get("flaws") {
        for (flaw, at) in cloth.flaws.iter().zip(&list.elements) {
            flaw_on_cloth(reader, at, &flaw.outline, &cloth);
            flaw_across(reader, at, &flaw.outline, &cloth);
        }
        flaws_leave_some(reader, &list.range, &cloth);
    }
    Some(cloth)
}

fn selvage(reader: &mut Reader, value: &Value, width: Option<f64>) -> Option<[f64; 2]> {
    let selvage = match value {
        Value::Array(_) => {
            let list = reader.list(value, "a pair of selvages", (2, 2), SELVAGE.hint)?;
            let lower = reader.length_or_zero(&list[0], SELVAGE);
            let upper = reader.length_or_zero(&list[1], SELVAGE);
            [lower?, upper?]
        }
        _ => [reader.length_or_zero(value, SELVAGE)?; 2],
    };
    let both = selvage[0] + selvage[1];
    match width {
        Some(width) if both > width - limits::SMALLEST => {
            let [both, width] = [both, width].map(|length| reader.units.show(length));
            let message = format!("the selvages, {both} together, leave nothing of the width of {width}");
            reader.fault(&value.range(), message, "write what is trimmed off each edge, for example \"10 mm\"");
            None
        }
        _ => Some(selvage),
    }
}

/// A mass greater than 0; the hint says of what.
pub(super) fn mass(reader: &mut Reader, value: &Value, hint: &str) -> Option<f64> {
    let mass = reader.number(value, "a mass", hint)?;
    if mass > 0.0 {
        return Some(mass);
    }
    reader.fault(&value.range(), format!("a mass must be greater than 0, this is {}", reader.seen(value)), hint);
    None
}

/// A price of 0 or more; the hint says of what.
pub(super) fn price(reader: &mut Reader, value: &Value, hint: &str) -> Option<f64> {
    let price = reader.number(value, "a price", hint)?;
    if price >= 0.0 {
        return Some(price);
    }
    reader.fault(&value.range(), format!("a price must be 0 or more, this is {}", reader.seen(value)), hint);
    None
}

fn flaws(reader: &mut Reader, value: &Value) -> Option<Vec<Flaw>> {
    let hint = "write for example [{ \"outline\": { \"circle\": 50, \"at\": [1200, 300] }, \"note\": \"oil stain\" }]";
    let list = reader.list(value, "the list of flaws", (0, limits::FLAWS), hint)?;
    let flaws: Vec<_> = list.iter().map(|value| flaw(reader, value)).collect();
    flaws.into_iter().collect()
}

fn flaw(reader: &mut Reader, value: &Value) -> Option<Flaw> {
    let fields = reader.object(value, &FLAW)?;
    let outline = fields.get("outline").and_then(|value| outline(reader, value));
    let note = fields.get("note").map_or(Some(None), |value| reader.text(value, "a note").map(Some));
    Some(Flaw { outline: outline?, note: note?.map(str::to_owned) })
}

fn region_inside(reader: &mut Reader, at: &Value, bounds: Rect<f64>, cloth: &Cloth) {
    let length = cloth.length.unwrap_or(f64::INFINITY);
    let beyond = [
        (-bounds.min().x, "before the end of the cloth, x = 0"),
        (-bounds.min().y, "below its lower edge, y = 0"),
        (bounds.max().x - length, "beyond its length"),
        (bounds.max().y - cloth.width, "above its width"),
    ];
    for (by, side) in beyond {
        // The polygon that stands for a curve may reach that much farther than the curve.
        if by > FLATTENING + TOLERANCE {
            let message = format!("the outline of the cloth reaches {} {side}", reader.units.show(by));
            let hint =
                "measure from the lower left corner of the smallest rectangle that holds the offcut; \"at\" shifts";
            reader.fault(&at.range(), message, hint);
        }
    }
}

fn flaw_on_cloth(reader: &mut Reader, at: &Value, flaw: &Curve, cloth: &Cloth) {
    let bounds = bounds(flaw);
    let length = cloth.length.unwrap_or(f64::INFINITY);
    let beside_width = bounds.max().y <= 0.0 || bounds.min().y >= cloth.width;
    if beside_width || bounds.max().x <= 0.0 || bounds.min().x >= length {
        let message = format!("cloth {:?}: a flaw lies wholly beside the cloth; look at its \"at\"", cloth.name);
        reader.findings.caution(at.range(), message);
    }
}

/// A flaw from one edge of the usable width to the other parts an endless cloth in two.
fn flaw_across(reader: &mut Reader, at: &Value, flaw: &Curve, cloth: &Cloth) {
    let (bounds, [low, high]) = (bounds(flaw), cloth.usable());
    if cloth.length.is_none() && bounds.min().y <= low && bounds.max().y >= high && bounds.max().x > 0.0 {
        let [from, to] = [bounds.min().x.max(0.0), bounds.max().x].map(|x| reader.units.show(x));
        let message = format!(
            "cloth {:?}: a flaw takes the whole usable width from {from} to {to}; no piece can lie across it, and what \
             lies beyond it has to be bought with all the cloth before it",
            cloth.name
        );
        reader.findings.caution(at.range(), message);
    }
}

/// Looks whether any cloth is left beside the flaws.
fn flaws_leave_some(reader: &mut Reader, at: &Range, cloth: &Cloth) {
    /// Square millimetres that are not worth cutting.
    const NOTHING: f64 = 1.0;
    let Some(length) = cloth.length else { return };
    let [low, high] = cloth.usable();
    let usable: MultiPolygon = Rect::new((0.0, low), (length, high)).to_polygon().into();
    let usable = match cloth.outline.as_ref().map(Curve::flatten) {
        Some(Ok(region)) => usable.intersection(region.polygon()),
        _ => usable,
    };
    let flaws: Vec<Polygon> =
        cloth.flaws.iter().filter_map(|flaw| Some(flaw.outline.flatten().ok()?.polygon().clone())).collect();
    let together: f64 = flaws.iter().map(Area::unsigned_area).sum();
    // Most flaws are small, and then there is no need to cut them out.
    if together + NOTHING >= usable.unsigned_area() && usable.difference(&unary_union(&flaws)).unsigned_area() < NOTHING
    {
        let message = format!("cloth {:?}: its flaws leave nothing of it to cut from", cloth.name);
        reader.findings.caution(*at, message);
    }
}

/// The smallest upright rectangle round a curve that was found sound.
fn bounds(curve: &Curve) -> Rect<f64> {
    curve.flatten().map_or_else(|_| Rect::new((0.0, 0.0), (0.0, 0.0)), |flat| flat.bounds())
}
