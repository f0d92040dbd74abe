//! Reads a piece: what to cut, how often, and how it must lie.

use jsonc_parser::ast::Value;
use jsonc_parser::common::Ranged;

use super::keys::{GRAIN, PIECE, PINKED, PINKING};
use super::kinds::{EDGES, GRAINS, JOINS};
use super::limits;
use super::model::{Edge, Grain, GrainDirection, Piece, Pinking};
use super::nearest::{nearest, one_of};
use super::read_outline::outline;
use super::reader::{Fields, Reader, Sort};
use crate::shape::{Allowance, Curve, Join};
use crate::wording::counted;

const ALLOWANCE: Sort = Sort {
    what: "an allowance",
    hint: "write how far the cut line lies outside the finished outline, for example \"1 in\"; 0 for none",
};
const PITCH: Sort =
    Sort { what: "the pitch of the teeth", hint: "measure your shears from tip to tip, for example \"5 mm\"" };
const DEPTH: Sort =
    Sort { what: "the depth of the teeth", hint: "measure your shears from tip to nip, for example \"2.5 mm\"" };

/// Degrees off the grain that need no plans: what careful hands are off by. Common practice, no source.
const HANDS: f64 = 5.0;

/// The names that a piece may refer to.
pub(super) struct ClothNames<'n> {
    pub names: &'n [String],
    /// Whether every cloth's name could be read.
    pub complete: bool,
}

/// A piece whose cut outline is sound.
pub(super) fn piece(reader: &mut Reader, value: &Value, cloths: &ClothNames) -> Option<Piece> {
    let fields = reader.object(value, &PIECE)?;
    let name = fields.get("name").and_then(|value| reader.name(value));
    let outline = fields.get("outline").and_then(|value| outline(reader, value));
    let quantity = fields.get("quantity").map_or(Some(1), |value| reader.quantity(value, "a quantity", limits::COPIES));
    let join = fields.get("join").map_or(Some(Join::Mitred), |value| join(reader, value));
    let by_edge = fields.get("allowance").map_or(Some(Vec::new()), |value| allowance(reader, value, outline.as_ref()));
    let edge = fields.get("edge").map_or(Some(Edge::Plain), |value| edge(reader, value));
    let grain = fields.get("grain").map_or(Some(USUAL_GRAIN), |value| grain(reader, value));
    let flip = fields.get("flip").map_or(Some(true), |value| reader.yes_or_no(value));
    let cloth = fields.get("cloth").map_or(Some(Vec::new()), |value| cloth_names(reader, value, cloths));
    let goes = fields.get("goes").map_or(Some(None), |value| reader.text(value, "the place it goes").map(Some));
    let source = fields.get("source").map_or(Some(None), |value| reader.text(value, "a source").map(Some));

    let outline = outline?;
    let allowance = Allowance { by_edge: by_edge?, join: join? };
    let cut = cut(reader, &fields, &outline, &allowance)?;
    let piece = Piece {
        name: name?,
        size: outline.cut_size(&allowance, &cut),
        outline,
        quantity: quantity?,
        cut,
        edge: edge?,
        grain: grain?,
        flip: flip?,
        cloth: cloth?,
        goes: goes?.map(str::to_owned),
        source: source?.map(str::to_owned),
    };
    teeth_fit(reader, &fields, &piece);
    off_grain(reader, &fields, &piece);
    Some(piece)
}

fn cut(reader: &mut Reader, fields: &Fields, outline: &Curve, allowance: &Allowance) -> Option<crate::shape::Outline> {
    match outline.cut_outline(allowance) {
        Ok(cut) => Some(cut),
        Err(fault) => {
            if let Some(at) = fields.get("allowance").or(fields.get("outline")) {
                let message = format!("with its allowance, the outline cannot be cut: {fault}");
                reader.fault(&at.range(), message, "make the allowance smaller, or join it \"round\"");
            }
            None
        }
    }
}

fn join(reader: &mut Reader, value: &Value) -> Option<Join> {
    Some(match reader.word(value, "a way to turn a corner", &JOINS)? {
        "round" => Join::Round,
        _ => Join::Mitred,
    })
}

fn allowance(reader: &mut Reader, value: &Value, outline: Option<&Curve>) -> Option<Vec<f64>> {
    let Value::Array(list) = value else {
        return reader.length_or_zero(value, ALLOWANCE).map(|all_round| vec![all_round]);
    };
    let by_edge: Vec<_> = list.elements.iter().map(|value| reader.length_or_zero(value, ALLOWANCE)).collect();
    let edges = outline?.edge_count();
    if by_edge.len() != edges {
        let has = counted(edges, "edge", "edges");
        let message =
            format!("the outline has {has}, this list has {}", counted(by_edge.len(), "allowance", "allowances"));
        reader.fault(
            &value.range(),
            message,
            "write one allowance for each edge in order, or one length for all round",
        );
        return None;
    }
    by_edge.into_iter().collect()
}

fn edge(reader: &mut Reader, value: &Value) -> Option<Edge> {
    if let Value::StringLit(_) = value {
        return Some(match reader.word(value, "an edge", &EDGES)? {
            "pinked" => Edge::Pinked(Pinking::USUAL),
            _ => Edge::Plain,
        });
    }
    let fields = reader.object(value, &PINKED)?;
    let teeth = reader.object(fields.get("pinked")?, &PINKING)?;
    let pitch = teeth.get("pitch").map_or(Some(Pinking::USUAL.pitch), |value| reader.size(value, PITCH));
    let depth = teeth.get("depth").map_or(Some(None), |value| reader.size(value, DEPTH).map(Some));
    let (pitch, depth) = (pitch?, depth?);
    Some(Edge::Pinked(Pinking { pitch, depth: depth.unwrap_or(pitch * Pinking::USUAL.depth / Pinking::USUAL.pitch) }))
}

/// Warp or fill parallel to the line of flight: AC 43.13-1B paragraph 2-8 allows both.
const USUAL_GRAIN: Grain = Grain { direction: GrainDirection::Either, tolerance: 0.0, one_way: false };

fn grain(reader: &mut Reader, value: &Value) -> Option<Grain> {
    if let Value::StringLit(_) = value {
        return grain_direction(reader, value).map(|direction| Grain { direction, ..USUAL_GRAIN });
    }
    let fields = reader.object(value, &GRAIN)?;
    let direction = fields.get("direction").map_or(Some(USUAL_GRAIN.direction), |value| grain_direction(reader, value));
    let tolerance = fields.get("tolerance").map_or(Some(0.0), |value| tolerance(reader, value));
    let one_way = fields.get("one_way").map_or(Some(false), |value| reader.yes_or_no(value));
    let grain = Grain { direction: direction?, tolerance: tolerance?, one_way: one_way? };
    if grain.direction == GrainDirection::Free && (grain.one_way || grain.tolerance > 0.0) {
        let hint = "keep \"free\" alone, or write the direction that matters";
        reader.fault(&value.range(), "a piece whose grain is \"free\" has neither a tolerance nor one way", hint);
        return None;
    }
    Some(grain)
}

fn grain_direction(reader: &mut Reader, value: &Value) -> Option<GrainDirection> {
    Some(match reader.word(value, "a direction of the grain", &GRAINS)? {
        "along" => GrainDirection::Along,
        "across" => GrainDirection::Across,
        "bias" => GrainDirection::Bias,
        "free" => GrainDirection::Free,
        _ => GrainDirection::Either,
    })
}

fn tolerance(reader: &mut Reader, value: &Value) -> Option<f64> {
    let hint = "write degrees from 0 to 45, for example 3; where any angle will do, the grain is \"free\"";
    let degrees = reader.number(value, "a tolerance", hint)?;
    if (0.0..=f64::from(limits::GRAIN_TOLERANCE)).contains(&degrees) {
        return Some(degrees);
    }
    let most = limits::GRAIN_TOLERANCE;
    reader.fault(&value.range(), format!("a tolerance is 0 to {most} degrees, this is {}", reader.seen(value)), hint);
    None
}

/// The cloths that something may be cut from.
pub(super) fn cloth_names(reader: &mut Reader, value: &Value, cloths: &ClothNames) -> Option<Vec<String>> {
    let hint = "write the name of a cloth, or a list of names; leave \"cloth\" out where any cloth will do";
    let written = match value {
        Value::StringLit(_) => std::slice::from_ref(value),
        _ => reader.list(value, "a name or a list of names", (1, limits::CLOTHS), hint)?,
    };
    let mut names: Vec<String> = Vec::new();
    for value in written {
        let name = reader.name(value)?;
        if names.contains(&name) {
            reader.fault(&value.range(), format!("the cloth {name:?} is named twice"), "name it once");
        } else if !cloths.names.contains(&name) && cloths.complete {
            let known = cloths.names.iter().map(String::as_str);
            let hint = match nearest(&name, known.clone()) {
                Some(right) => format!("did you mean {right:?}?"),
                None => format!("the cloths of this job are {}", one_of(known.take(10))),
            };
            reader.fault(&value.range(), format!("no cloth is called {name:?}"), hint);
        }
        names.push(name);
    }
    Some(names)
}

fn teeth_fit(reader: &mut Reader, fields: &Fields, piece: &Piece) {
    let (Edge::Pinked(teeth), Some(at)) = (piece.edge, fields.get("edge")) else { return };
    let bounds = piece.cut.bounds();
    let narrow = bounds.width().min(bounds.height());
    if 2.0 * teeth.depth >= narrow || teeth.pitch >= narrow {
        let [pitch, depth, narrow] = [teeth.pitch, teeth.depth, narrow].map(|length| reader.units.show(length));
        let message = format!("teeth of {pitch} by {depth} do not fit a piece that is {narrow} across");
        reader.fault(&at.range(), message, "make the edge \"plain\", or look at the size of the piece");
    }
}

/// Off-grain cutting is for bias tape round curves, or where the aircraft's plans call for it (approved covering-process
/// manual p. 41, and common practice, no source).
fn off_grain(reader: &mut Reader, fields: &Fields, piece: &Piece) {
    let Some(at) = fields.get("grain") else { return };
    // A circle has no angle.
    if piece.outline.is_round() {
        return;
    }
    let how = match piece.grain.direction {
        GrainDirection::Bias => "is cut on the bias".to_owned(),
        GrainDirection::Free => "may be cut at any angle to the warp".to_owned(),
        _ if piece.grain.tolerance > HANDS => format!("may be cut {}° off the grain", piece.grain.tolerance),
        _ => return,
    };
    let needs = "off the grain, all but tape round curves needs the maker's plans or approval";
    let message = format!("piece {:?} {how}: {needs}", piece.name);
    reader.findings.caution(at.range(), message);
}
