//! Reads the whole job: its own keys, its cloths, its rules and parts, its pieces, and what must hold between them.

use std::path::Path;

use jsonc_parser::ast::Value;
use jsonc_parser::common::{Range, Ranged};

use super::airframe::Part;
use super::fits::{Hull, room};
use super::keys::JOB;
use super::limits;
use super::model::{Cloth, Job, Piece};
use super::nearest::one_of;
use super::read_airframe::{Entry, entry};
use super::read_cloth::cloth;
use super::read_parked::parked;
use super::read_piece::{ClothNames, piece};
use super::read_rules::rules;
use super::read_spares::{prices, rates, spares};
use super::read_tape::{tape, tape_cutting};
use super::reader::{Fields, Reader, Sort};
use super::repair::Repair;
use super::spares::{Prices, Rates, Spares};
use super::tape::{TapeCutting, TapeFromCloth, TapeStock};
use crate::shape::TOLERANCE;
use crate::units::Units;

const GAP: Sort = Sort {
    what: "the gap",
    hint: "write the free distance between cut lines, for example \"5 mm\"; 0 lets them touch",
};
const CLOTHS_HINT: &str = "write for example [{ \"name\": \"roll\", \"width\": 1780 }]";
const PARTS_HINT: &str = "write for example [{ \"name\": \"rudder\", \"kind\": \"flat\", … }]";
const TAPES_HINT: &str =
    "write for example [{ \"name\": \"2 in\", \"width\": \"2 in\", \"length\": \"50 yd\", \"price\": 42 }]";
const PIECES_HINT: &str =
    "write for example [{ \"name\": \"doily\", \"outline\": { \"circle\": 165 }, \"quantity\": 24 }]";

/// The job of a syntax tree; `None` after faults that leave too little of it.
pub(super) fn job(reader: &mut Reader, tree: &Value) -> Option<Job> {
    let fields = reader.object(tree, &JOB)?;
    let format = fields.get("format").and_then(|value| format(reader, value));
    let units = fields.get("units").and_then(|value| units(reader, value));
    reader.units = units.unwrap_or(Units::Mm);
    let name = fields.get("name").map_or_else(|| Some(file_stem(reader.source.name)), |value| reader.name(value));
    let note = fields.get("note").map_or(Some(None), |value| reader.text(value, "a note").map(Some));
    let gap = fields.get("gap").map_or(Some(0.0), |value| gap(reader, value));

    let cloth = cloths(reader, &fields);
    let rules = fields.get("rules").map_or(Some(None), |value| rules(reader, value).map(Some));
    let airframe = airframe(reader, opening(tree), &fields, &cloth);
    let parked = fields.get("parked").map_or(Some(None), |value| parked(reader, value).map(Some));
    let spares = fields.get("spares").map_or(Some(Spares::default()), |value| spares(reader, value));
    let prices = fields.get("prices").map_or(Some(Prices::default()), |value| prices(reader, value));
    let rates = fields.get("rates").map_or(Some(Rates::default()), |value| rates(reader, value));
    let tape = tapes(reader, &fields);
    let tape_cutting = fields
        .get("tape_cutting")
        .map_or_else(|| Some(TapeCutting::default()), |value| tape_cutting(reader, value, &cloth.known()));
    let pieces = pieces(reader, opening(tree), &fields, &cloth);
    if let (Some(_), Some(cloths)) = (units, cloth.read.iter().map(Option::as_ref).collect::<Option<Vec<_>>>()) {
        let cloths: Vec<_> = cloths.into_iter().map(|cloth| (cloth, room(cloth))).collect();
        for (value, piece) in entries(&fields, "pieces").iter().zip(&pieces) {
            if let Some(piece) = piece {
                fits_some_cloth(reader, value, piece, &cloths);
            }
        }
    }
    names_of_strips(reader, &fields, &pieces, tape_cutting.as_ref());
    format?;
    let (parts, repairs) = airframe?;
    Some(Job {
        name: name?,
        units: units?,
        gap: gap?,
        cloth: cloth.read.into_iter().collect::<Option<_>>()?,
        pieces: pieces.into_iter().collect::<Option<_>>()?,
        rules: rules?,
        airframe: parts,
        parked: parked?,
        repairs,
        spares: spares?,
        prices: prices?,
        rates: rates?,
        tape: tape?,
        tape_cutting: tape_cutting?,
        note: note?.map(str::to_owned),
    })
}

/// Where tape is cut from cloth, its strips are pieces, and no other piece may be called as they are.
fn names_of_strips(reader: &mut Reader, fields: &Fields, pieces: &[Option<Piece>], cutting: Option<&TapeCutting>) {
    if cutting.and_then(TapeCutting::strips).is_none() {
        return;
    }
    let taken = |piece: &Piece| piece.name.starts_with(TapeFromCloth::STRIP);
    for (value, _) in
        entries(fields, "pieces").iter().zip(pieces).filter(|(_, piece)| piece.as_ref().is_some_and(taken))
    {
        let message = format!("a name that begins with {:?} is for tape that is cut from cloth", TapeFromCloth::STRIP);
        reader.fault(&opening(value), message, "give the piece another name");
    }
}

/// The opening bracket of a value.
fn opening(value: &Value) -> Range {
    Range { start: value.start(), end: value.start() + 1 }
}

fn gap(reader: &mut Reader, value: &Value) -> Option<f64> {
    let gap = reader.length_or_zero(value, GAP)?;
    if gap <= limits::GAP {
        return Some(gap);
    }
    let [gap, most] = [gap, limits::GAP].map(|length| reader.units.show(length));
    reader.fault(&value.range(), format!("the gap is {most} at most, this is {gap}"), GAP.hint);
    None
}

fn file_stem(name: &str) -> String {
    Path::new(name).file_stem().map_or_else(|| name.to_owned(), |stem| stem.to_string_lossy().into_owned())
}

fn format(reader: &mut Reader, value: &Value) -> Option<()> {
    let hint = "write \"format\": 1";
    let number = reader.number(value, "the format", hint)?;
    if number == 1.0 {
        return Some(());
    }
    let message = format!("format {} is not known, this program reads format 1", reader.seen(value));
    reader.fault(&value.range(), message, hint);
    None
}

fn units(reader: &mut Reader, value: &Value) -> Option<Units> {
    let symbols = Units::ALL.map(Units::symbol);
    reader.word(value, "a unit that a job can be written in", &symbols).and_then(Units::from_symbol)
}

/// The cloths as far as they could be read.
struct Cloths {
    read: Vec<Option<Cloth>>,
    names: Vec<String>,
    /// Whether every name could be read.
    complete: bool,
}

impl Cloths {
    fn known(&self) -> ClothNames<'_> {
        ClothNames { names: &self.names, complete: self.complete }
    }
}

fn cloths(reader: &mut Reader, fields: &Fields) -> Cloths {
    let list = fields
        .get("cloth")
        .and_then(|value| reader.list(value, "the list of cloths", (1, limits::CLOTHS), CLOTHS_HINT));
    let Some(list) = list else {
        return Cloths { read: vec![None], names: Vec::new(), complete: false };
    };
    let read = list.iter().map(|value| cloth(reader, value)).collect();
    let names = names(list);
    unlike_names(reader, &names, "cloth", "give each its own name, or use \"count\" for several alike");
    Cloths {
        read,
        complete: names.len() == list.len(),
        names: names.into_iter().map(|(name, _)| name.to_owned()).collect(),
    }
}

/// The parts and the repairs.
fn airframe(reader: &mut Reader, brace: Range, fields: &Fields, cloths: &Cloths) -> Option<(Vec<Part>, Vec<Repair>)> {
    let Some(value) = fields.get("airframe") else { return Some((Vec::new(), Vec::new())) };
    rules_are_there(reader, brace, fields, "an \"airframe\"");
    let list = reader.list(value, "the list of parts", (1, limits::PARTS), PARTS_HINT)?;
    let known = cloths.known();
    let read: Vec<_> = list.iter().enumerate().map(|(index, value)| entry(reader, value, index, &known)).collect();
    unlike_names(reader, &names(list), "part", "give each its own name, or use \"mirrored\" for left and right");
    let (mut parts, mut repairs) = (Vec::new(), Vec::new());
    for entry in read {
        match entry? {
            Entry::Part(part) => parts.push(*part),
            Entry::Repair(repair) => repairs.push(repair),
        }
    }
    Some((parts, repairs))
}

fn tapes(reader: &mut Reader, fields: &Fields) -> Option<Vec<TapeStock>> {
    let Some(value) = fields.get("tape") else { return Some(Vec::new()) };
    let list = reader.list(value, "the list of tapes", (1, limits::TAPES), TAPES_HINT)?;
    let tapes: Vec<_> = list.iter().enumerate().map(|(index, value)| tape(reader, value, index)).collect();
    unlike_names(reader, &names(list), "tape", "give each its own name, or use \"count\" for several alike");
    tapes.into_iter().collect()
}

fn rules_are_there(reader: &mut Reader, brace: Range, fields: &Fields, what: &str) {
    if fields.get("rules").is_none() && !fields.strangers {
        let message = format!("a job with {what} needs the key \"rules\"");
        let hint = "add \"rules\": { \"method\": \"doped\", \"vne\": \"120 mph\", \"wing_loading\": \"8 lb/ft2\" }";
        reader.fault(&brace, message, hint);
    }
}

fn pieces(reader: &mut Reader, brace: Range, fields: &Fields, cloths: &Cloths) -> Vec<Option<Piece>> {
    let Some(value) = fields.get("pieces") else {
        if fields.get("airframe").is_none() && !fields.strangers {
            let hint =
                "give the parts to be covered and the damaged places as \"airframe\", or what to cut as \"pieces\"";
            reader.fault(&brace, "a job needs the key \"pieces\" or \"airframe\"", hint);
        }
        return Vec::new();
    };
    let Some(list) = reader.list(value, "the list of pieces", (1, limits::PIECES), PIECES_HINT) else {
        return vec![None];
    };
    let known = cloths.known();
    let pieces: Vec<_> = list.iter().map(|value| piece(reader, value, &known)).collect();
    unlike_names(reader, &names(list), "piece", "give each its own name, or use \"quantity\" for several alike");
    let copies: u64 = pieces.iter().flatten().map(|piece| u64::from(piece.quantity)).sum();
    if copies > u64::from(limits::COPIES) {
        let message = format!("the pieces come to {copies} copies, {} is the most", limits::COPIES);
        reader.fault(&opening(value), message, "look at each \"quantity\", or split the job");
    }
    pieces
}

/// The names in a list of objects, trimmed, and where they stand; entries without a name are left out.
pub(super) fn names<'t>(list: &'t [Value<'t>]) -> Vec<(&'t str, Range)> {
    let name = |value: &'t Value<'t>| {
        let name = value.as_object()?.get("name")?.value.as_string_lit()?;
        let trimmed = name.value.trim();
        (!trimmed.is_empty()).then_some((trimmed, name.range))
    };
    list.iter().filter_map(name).collect()
}

pub(super) fn unlike_names(reader: &mut Reader, names: &[(&str, Range)], what: &str, hint: &str) {
    let mut first = std::collections::BTreeMap::new();
    for (name, range) in names {
        match first.get(name) {
            None => {
                first.insert(name, *range);
            }
            Some(earlier) => {
                let message = format!("two {what}s are called {name:?}");
                reader.fault_with(*range, message, hint, (*earlier, "the first one of that name"));
            }
        }
    }
}

fn entries<'t>(fields: &Fields<'t>, key: &str) -> &'t [Value<'t>] {
    match fields.get(key) {
        Some(Value::Array(list)) => &list.elements,
        _ => &[],
    }
}

/// Notes a fault where a piece fits no cloth that it may be cut from, at no turn that its grain allows.
fn fits_some_cloth(reader: &mut Reader, value: &Value, piece: &Piece, cloths: &[(&Cloth, [f64; 2])]) {
    let may_use = |cloth: &Cloth| piece.cloth.is_empty() || piece.cloth.contains(&cloth.name);
    let (cloths, rooms): (Vec<&Cloth>, Vec<[f64; 2]>) =
        cloths.iter().copied().filter(|(cloth, _)| may_use(cloth)).unzip();
    let Some((nearest, miss)) = Hull::of(&piece.cut).least_miss(&piece.grain, &rooms) else { return };
    if miss.by() <= TOLERANCE {
        return;
    }
    let cloth = cloths[nearest];
    let show = |length: f64| reader.units.show(length);
    let mut problems = Vec::new();
    if miss.too_wide() > TOLERANCE {
        let [across, room, over] = [miss.across, miss.room[0], miss.too_wide()].map(show);
        problems.push(format!("it needs {across} across the cloth, where {room} can be used: {over} too wide"));
    }
    if miss.too_long() > TOLERANCE {
        let [along, room, over] = [miss.along, miss.room[1], miss.too_long()].map(show);
        problems.push(format!("it needs {along} along the cloth, where there is {room}: {over} too long"));
    }
    let message = format!(
        "piece {:?} fits no cloth at any turn that its grain allows; on {:?}, where it comes nearest, {}",
        piece.name,
        cloth.name,
        problems.join(" and ")
    );
    let at =
        value.as_object().and_then(|object| object.get("outline")).map_or(value.range(), |entry| entry.value.range());
    let hint = match &piece.cloth[..] {
        [] => "use wider or longer cloth, allow another grain, or divide the piece with a seam".to_owned(),
        names => format!(
            "it may be cut from {} only; use other cloth, another grain, or a seam",
            one_of(names.iter().map(String::as_str))
        ),
    };
    reader.fault(&at, message, hint);
}
