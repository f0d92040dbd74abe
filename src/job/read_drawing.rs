//! Reads an outline from a drawing file that lies in the job's folder.

use std::collections::BTreeMap;
use std::fs;
use std::io::Read;
use std::path::{Path, PathBuf};
use std::rc::Rc;

use jsonc_parser::ast::Value;
use jsonc_parser::common::Ranged;

use super::limits as job_limits;
use super::reader::{Fields, Reader, Sort};
use crate::shape::Curve;
use crate::shape::drawing::{Drawing, DrawingFault, Pick, Size, TakenShape, USUAL_JOIN, Wish, limits};
use crate::units::Units;
use crate::wording::counted;

const UNIT: Sort = Sort { what: "a unit", hint: "write how long one unit of the drawing is, for example \"1 mm\"" };
const WIDTH: Sort = Sort { what: "a width", hint: "write how wide the shape is from left to right" };
const JOIN: Sort = Sort { what: "a distance to join", hint: "write the widest gap to close, for example \"0.1 mm\"" };

/// The keys that say how a file is to be read.
pub(super) const OF_FILE: [&str; 5] = ["id", "layer", "unit", "width", "join"];

/// Which files a job may name.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Reach {
    /// Those in its own folder and in the folders there.
    #[default]
    Folder,
    /// Any.
    Anywhere,
}

/// The drawings of a job, each read once.
#[derive(Debug, Default)]
pub(super) struct Drawings {
    folder: Option<PathBuf>,
    reach: Reach,
    read: BTreeMap<String, Result<Rc<Drawing>, DrawingFault>>,
}

impl Drawings {
    /// Those of a job file.
    pub fn of(job: &Path, reach: Reach) -> Self {
        let folder = job.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."));
        Self { folder: Some(folder.to_owned()), reach, read: BTreeMap::new() }
    }

    fn get(&mut self, name: &str) -> Result<Rc<Drawing>, DrawingFault> {
        if let Some(known) = self.read.get(name) {
            return known.clone();
        }
        let drawing = self.load(name).map(Rc::new);
        self.read.insert(name.to_owned(), drawing.clone());
        drawing
    }

    fn load(&self, name: &str) -> Result<Drawing, DrawingFault> {
        let Some(folder) = &self.folder else {
            return Err(fault("this job is a text without a folder, so it can name no file", "save it as a file"));
        };
        let path = folder.join(name);
        let real = fs::canonicalize(&path).map_err(|error| no_file(name, &error))?;
        let home = fs::canonicalize(folder).map_err(|error| no_file(name, &error))?;
        if self.reach == Reach::Folder && !real.starts_with(&home) {
            return Err(fault(
                &format!("{name:?} lies outside the job's folder"),
                "copy the drawing beside the job; with --allow-outside, files elsewhere are read too",
            ));
        }
        read_drawing_file(&real, name)
    }
}

/// Reads a drawing file, which messages call `name`.
///
/// # Errors
/// [`DrawingFault`] where it cannot be read, is no file, or is no drawing.
pub fn read_drawing_file(path: &Path, name: &str) -> Result<Drawing, DrawingFault> {
    let failed = |error: std::io::Error| no_file(name, &error);
    if !fs::metadata(path).map_err(failed)?.is_file() {
        return Err(fault(&format!("{name:?} is no file"), "name a drawing that ends in .svg or .dxf"));
    }
    let mut bytes = Vec::new();
    fs::File::open(path).map_err(failed)?.take(limits::FILE_BYTES + 1).read_to_end(&mut bytes).map_err(failed)?;
    Drawing::read(name, &bytes)
}

fn fault(message: &str, hint: &str) -> DrawingFault {
    DrawingFault { message: message.to_owned(), hint: hint.to_owned() }
}

fn no_file(name: &str, error: &std::io::Error) -> DrawingFault {
    match error.kind() {
        std::io::ErrorKind::NotFound => {
            fault(&format!("there is no file {name:?}"), "look at the spelling; a job looks from its own folder")
        }
        _ => fault(&format!("{name:?} cannot be read: {error}"), "look at its permissions"),
    }
}

/// The one shape that the keys of an outline pick from a file; a caution says what it is.
pub(super) fn from_file(reader: &mut Reader, value: &Value, fields: &Fields) -> Option<Curve> {
    let name = reader.text(value, "the name of a file")?;
    let wish = wish(reader, fields)?;
    let taken = reader.drawings.get(name).and_then(|drawing| drawing.take(&wish));
    let taken = match taken {
        Ok(taken) => taken,
        Err(DrawingFault { message, hint }) => {
            reader.fault(&value.range(), message, hint);
            return None;
        }
    };
    if let Some((shape, fault)) = taken.refused.first() {
        let message = format!("the shape “{shape}” in {name:?} cannot be cut: {fault}");
        reader.fault(&value.range(), message, "mend it in the drawing; the figures there are millimetres, y up");
        return None;
    }
    let [shape] = &taken.shapes[..] else {
        let (message, hint) = not_one(reader, name, &taken.shapes);
        let message = taken.left_out.first().map_or(message.clone(), |first| format!("{message}; left out: {first}"));
        reader.fault(&value.range(), message, hint);
        return None;
    };
    let mut said = format!("outline from {name:?}, “{}”: {}", shape.name, told(reader, shape));
    for mended in &taken.mended {
        said.push_str(&format!("; {mended}"));
    }
    if !taken.left_out.is_empty() {
        said.push_str(&format!("; left out: {}", taken.left_out.join(", ")));
    }
    reader.findings.caution(value.range(), said);
    Some(shape.curve.clone())
}

fn told(reader: &Reader, shape: &TakenShape) -> String {
    let told = |units: Units| {
        let [length, width] = shape.size.map(|size| units.show(size));
        format!("{length} × {width}")
    };
    let both = format!("{} ({})", told(reader.units), told(reader.units.other()));
    match shape.holes {
        0 => both,
        holes => format!("{both} with {}", counted(holes, "hole", "holes")),
    }
}

fn not_one(reader: &Reader, name: &str, shapes: &[TakenShape]) -> (String, &'static str) {
    if shapes.is_empty() {
        return (format!("{name:?} has no closed shape there"), "close its lines, or raise \"join\"");
    }
    let first: Vec<String> =
        shapes.iter().take(5).map(|shape| format!("“{}” {}", shape.name, told(reader, shape))).collect();
    let more = if shapes.len() > 5 { " and others" } else { "" };
    let message = format!("{name:?} has {} shapes there: {}{more}", shapes.len(), first.join(", "));
    (message, "an outline is one shape: pick it by \"id\" or \"layer\"; `clothwright trace` makes a piece of each")
}

fn wish(reader: &mut Reader, fields: &Fields) -> Option<Wish> {
    let id = fields.get("id").map(|value| reader.text(value, "an id").map(str::to_owned));
    let layers = fields.get("layer").map(|value| layers(reader, value));
    let unit = fields.get("unit").map(|value| positive(reader, value, UNIT));
    let width = fields.get("width").map(|value| reader.size(value, WIDTH));
    let join = fields.get("join").map_or(Some(USUAL_JOIN), |value| reader.length_or_zero(value, JOIN));
    let pick = match (id, layers) {
        (Some(id), None) => Pick::Id(id?),
        (None, Some(layers)) => Pick::Layers(layers?),
        (None, None) => Pick::All,
        (Some(_), Some(_)) => return two_of(reader, fields, ["id", "layer"]),
    };
    let size = match (unit, width) {
        (Some(unit), None) => Size::Unit(unit?),
        (None, Some(width)) => Size::Width(width?),
        (None, None) => Size::AsDrawn,
        (Some(_), Some(_)) => return two_of(reader, fields, ["unit", "width"]),
    };
    Some(Wish { pick, size, join: join?, hidden: false })
}

fn layers(reader: &mut Reader, value: &Value) -> Option<Vec<String>> {
    let Value::Array(_) = value else {
        return Some(vec![reader.text(value, "a layer")?.to_owned()]);
    };
    let hint = "write their names between [ and ]";
    let list = reader.list(value, "a list of layers", (1, job_limits::DRAWING_LAYERS), hint)?;
    list.iter().map(|layer| reader.text(layer, "a layer").map(str::to_owned)).collect()
}

fn two_of(reader: &mut Reader, fields: &Fields, [first, second]: [&'static str; 2]) -> Option<Wish> {
    if let Some(value) = fields.get(second) {
        let message = format!("this outline has both {first:?} and {second:?}");
        reader.fault(&value.range(), message, "keep one of the two");
    }
    None
}

fn positive(reader: &mut Reader, value: &Value, sort: Sort) -> Option<f64> {
    let length = reader.length(value, sort)?;
    if length > 0.0 {
        return Some(length);
    }
    let seen = reader.seen(value);
    reader.fault(&value.range(), format!("{} must be greater than 0, this is {seen}", sort.what), sort.hint);
    None
}
