//! Reads the rules: the set, what its conditions hang on, and the figures that the person gives instead.

use jsonc_parser::ast::Value;
use jsonc_parser::common::Ranged;

use super::airframe::{OwnFigure, PatchSizeWish, Rules};
use super::attachment::Attachment;
use super::keys_airframe::{OWN_FIGURE, RULES};
use super::limits;
use super::read_places::fitting_size;
use super::reader::{Reader, Sort};
use super::words::Words;
use crate::units::{LengthFault, Speed, WingLoading};

const VALUE: Sort = Sort { what: "a figure", hint: "write a length, for example \"2 in\"" };
const PATCH_SIZE: Sort = Sort { what: "the size of a patch", hint: "write [90, 60] or { \"circle\": 80 }" };
const SIZES_HINT: &str = "write how many, for example 6, or the sizes, for example [[90, 60], { \"circle\": 80 }]";
const VNE_HINT: &str = "write the never-exceed speed with its unit, for example \"120 mph\"";
const LOADING_HINT: &str = "write mass over wing area with its unit, for example \"8 lb/ft2\"";
const FIGURES_HINT: &str = "write for example [{ \"figure\": \"lap\", \"at\": \"empennage\", \"value\": \"2 in\", \"why\": \"manual p. 12\" }]";

/// A set of rules whose own figures each have a reason.
pub(super) fn rules(reader: &mut Reader, value: &Value) -> Option<Rules> {
    let fields = reader.object(value, &RULES)?;
    let method = fields.get("method").and_then(|value| reader.choice(value, "a way to join cloth"));
    let vne = fields.get("vne").and_then(|value| quantity(reader, value, "a speed", VNE_HINT, Speed::parse));
    let wing_loading = fields
        .get("wing_loading")
        .and_then(|value| quantity(reader, value, "a wing loading", LOADING_HINT, WingLoading::parse));
    let glider = fields.get("glider").map_or(Some(false), |value| reader.yes_or_no(value));
    let class =
        fields.get("cloth_class").map_or(Some(None), |value| reader.choice(value, "a class of cloth").map(Some));
    let attachment = fields
        .get("attachment")
        .map_or(Some(Attachment::Lacing), |value| reader.choice(value, "a way to hold cloth to ribs"));
    let coats = fields.get("coats").map_or(Some(None), |value| coats(reader, value).map(Some));
    let sizes = fields.get("patch_sizes").map_or(Some(PatchSizeWish::Few), |value| patch_sizes(reader, value));
    let figures = fields.get("figures").map_or(Some(Vec::new()), |value| figures(reader, value));
    Some(Rules {
        method: method?,
        vne: vne?,
        wing_loading: wing_loading?,
        glider: glider?,
        cloth_class: class?,
        attachment: attachment?,
        coats: coats?,
        patch_sizes: sizes?,
        figures: figures?,
        at: reader.spot(value, "rules".to_owned()),
    })
}

fn quantity<T>(
    reader: &mut Reader,
    value: &Value,
    what: &str,
    hint: &str,
    parse: fn(&str) -> Result<T, LengthFault>,
) -> Option<T> {
    if let Value::NumberLit(_) = value {
        reader.fault(&value.range(), format!("{what} needs its unit, this is a plain number"), hint);
        return None;
    }
    match parse(reader.text(value, what)?) {
        Ok(quantity) => Some(quantity),
        Err(fault) => {
            reader.fault(&value.range(), fault.message, fault.hint);
            None
        }
    }
}

fn coats(reader: &mut Reader, value: &Value) -> Option<f64> {
    let hint = "write the grams a square metre of all coats together, for example 180";
    let mass = reader.number(value, "the mass of the coats", hint)?;
    if mass > 0.0 {
        return Some(mass);
    }
    reader.fault(
        &value.range(),
        format!("the mass of the coats must be greater than 0, this is {}", reader.seen(value)),
        hint,
    );
    None
}

fn patch_sizes(reader: &mut Reader, value: &Value) -> Option<PatchSizeWish> {
    let most = limits::PATCH_SIZES;
    if let Value::NumberLit(_) = value {
        return reader.quantity(value, "the number of sizes", most as u32).map(PatchSizeWish::AtMost);
    }
    let list = reader.list(value, "the sizes of patches", (1, most), SIZES_HINT)?;
    let read: Vec<_> = list.iter().map(|value| fitting_size(reader, value, PATCH_SIZE)).collect();
    read.into_iter().collect::<Option<Vec<_>>>().map(PatchSizeWish::These)
}

fn figures(reader: &mut Reader, value: &Value) -> Option<Vec<OwnFigure>> {
    let list = reader.list(value, "the list of figures", (0, limits::OWN_FIGURES), FIGURES_HINT)?;
    let read: Vec<_> = list.iter().enumerate().map(|(index, value)| figure(reader, value, index)).collect();
    let read = read.into_iter().collect::<Option<Vec<_>>>()?;
    for (index, own) in read.iter().enumerate() {
        let earlier =
            read[..index].iter().position(|other| (other.figure, other.location) == (own.figure, own.location));
        if let Some(earlier) = earlier {
            let message = format!("the {} at {:?} is given twice", own.figure.word(), own.location.word());
            let first = (list[earlier].range(), "the first one");
            reader.fault_with(list[index].range(), message, "keep one of the two", first);
        }
    }
    Some(read)
}

fn figure(reader: &mut Reader, value: &Value, index: usize) -> Option<OwnFigure> {
    let fields = reader.object(value, &OWN_FIGURE)?;
    let figure = fields.get("figure").and_then(|value| reader.choice(value, "a figure that a rule gives"));
    let location = fields.get("at").and_then(|value| reader.choice(value, "a place that rules know"));
    let length = fields.get("value").and_then(|value| reader.length_or_zero(value, VALUE));
    let why = fields.get("why").and_then(|value| why(reader, value));
    Some(OwnFigure {
        figure: figure?,
        location: location?,
        value: length?,
        why: why?,
        at: reader.spot(value, format!("rules.figures[{index}]")),
    })
}

/// Nobody may change a figure that holds an aircraft together and not say why.
fn why(reader: &mut Reader, value: &Value) -> Option<String> {
    let why = reader.text(value, "a reason")?.trim();
    if why.is_empty() {
        let hint = "say why the figure is not the rule's, for example \"maker's manual p. 12\"";
        reader.fault(&value.range(), "the reason is empty", hint);
        return None;
    }
    Some(why.to_owned())
}
