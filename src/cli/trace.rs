//! `clothwright trace`: the closed shapes of a drawing as pieces of a job.

use std::fs;
use std::io::{self, Write};
use std::path::{Path, PathBuf};

use clap::ValueEnum;
use serde_json::json;

use crate::draw::{is_trace_sheet, trace_sheet};
use crate::job::read_drawing_file;
use crate::plan::{Outputs, Replace, size};
use crate::shape::drawing::{Pick, Size, Taken, TakenShape, USUAL_JOIN, Wish};
use crate::units::{Units, parse_length};
use crate::wording::counted;

use super::exit::{Exit, Stop};
use super::force::Force;
use super::messages;
use super::table::{Align, Table};

/// Flags of `trace`.
#[derive(Debug, clap::Args)]
pub(super) struct Args {
    /// The drawing: SVG or ASCII DXF.
    pub drawing: PathBuf,
    /// Only the shape or group with this id (SVG), or the entity or block with this handle or name (DXF).
    #[arg(long, value_name = "ID", conflicts_with = "layer")]
    pub id: Option<String>,
    /// Only what is on this layer (DXF), or in the group or of the class of this name (SVG); may be given several times.
    #[arg(long, value_name = "NAME")]
    pub layer: Vec<String>,
    /// How long one unit of the drawing is, such as "1 mm" or "1 in" [default: what the drawing says].
    #[arg(long, value_name = "LENGTH", value_parser = length, conflicts_with = "width")]
    pub unit: Option<f64>,
    /// How wide all that is taken is from left to right, in place of a unit.
    #[arg(long, value_name = "LENGTH", value_parser = length)]
    pub width: Option<f64>,
    /// The widest gap between ends of lines that is closed [default: 0.1 mm].
    #[arg(long, value_name = "LENGTH", value_parser = length)]
    pub join: Option<f64>,
    /// Take hidden shapes too.
    #[arg(long)]
    pub hidden: bool,
    /// The unit of the job that the pieces are for.
    #[arg(long, value_enum, default_value_t = Unit::Mm)]
    pub units: Unit,
    /// Draw what was taken into this SVG.
    #[arg(long, value_name = "FILE")]
    pub preview: Option<PathBuf>,
    /// Whether the preview may take the place of any file.
    #[command(flatten)]
    pub force: Force,
}

/// Units of a job.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(super) enum Unit {
    /// Millimetres.
    Mm,
    /// Centimetres.
    Cm,
    /// Metres.
    M,
    /// Inches.
    In,
    /// Feet.
    Ft,
}

fn length(text: &str) -> Result<f64, String> {
    let length = parse_length(text).map_err(|fault| format!("{}; {}", fault.message, fault.hint))?;
    if length > 0.0 { Ok(length) } else { Err("write a length greater than 0, such as \"1 mm\"".to_owned()) }
}

/// Traces a drawing.
pub(super) fn run(args: &Args) -> Result<Exit, Stop> {
    let units = match args.units {
        Unit::Mm => Units::Mm,
        Unit::Cm => Units::Cm,
        Unit::M => Units::M,
        Unit::In => Units::In,
        Unit::Ft => Units::Ft,
    };
    let name = args.drawing.file_name().map_or_else(String::new, |name| name.to_string_lossy().into_owned());
    let wrong = |fault| Stop::fault(Exit::JobWrong, format!("{}: {fault}", args.drawing.display()));
    if let Some(preview) = &args.preview {
        may_be_replaced(preview, &args.drawing, args.force.into())?;
    }
    let taken = read_drawing_file(&args.drawing, &name).and_then(|drawing| drawing.take(&wish(args))).map_err(wrong)?;
    report(&name, &taken, units)?;
    if taken.shapes.is_empty() {
        return Err(Stop::fault(
            Exit::JobWrong,
            format!("{}: no closed shape was found; see above what was left out and why", args.drawing.display()),
        ));
    }
    if let Some(preview) = &args.preview {
        write_preview(preview, &name, &taken, units)?;
    }
    let mut out = io::BufWriter::new(io::stdout().lock());
    print(&mut out, &name, &taken, units)?;
    out.flush()?;
    Ok(Exit::Done)
}

fn wish(args: &Args) -> Wish {
    let pick = match (&args.id, &args.layer[..]) {
        (Some(id), _) => Pick::Id(id.clone()),
        (None, []) => Pick::All,
        (None, layers) => Pick::Layers(layers.to_vec()),
    };
    let size = match (args.unit, args.width) {
        (Some(unit), _) => Size::Unit(unit),
        (None, Some(width)) => Size::Width(width),
        (None, None) => Size::AsDrawn,
    };
    Wish { pick, size, join: args.join.unwrap_or(USUAL_JOIN), hidden: args.hidden }
}

/// Says what was taken, what was mended and what was left out, beside the pieces and not among them.
fn report(name: &str, taken: &Taken, units: Units) -> io::Result<()> {
    let mut table = Table::new(&[
        ("shape", Align::Left),
        ("size", Align::Right),
        ("that is", Align::Right),
        ("area", Align::Right),
        ("holes", Align::Right),
    ]);
    for shape in &taken.shapes {
        let holes = if shape.holes > 0 { shape.holes.to_string() } else { String::new() };
        let [own, other] = [units, units.other()].map(|units| size(shape.size, units));
        table.line([shape.name.clone(), own, other, small_area(shape.curve.area(), units), holes]);
    }
    let mut lines = Vec::new();
    table.print(&mut lines)?;
    messages::say(String::from_utf8_lossy(&lines).trim_end());
    let count = counted(taken.shapes.len(), "shape", "shapes");
    let unit = crate::units::trimmed(taken.unit, 6);
    messages::say(&format!("\n{count} taken from {name}; one unit of the drawing is {unit} mm"));
    for mended in &taken.mended {
        messages::say(&format!("note: {mended}"));
    }
    for left_out in &taken.left_out {
        messages::say(&format!("left out: {left_out}"));
    }
    for (shape, fault) in &taken.refused {
        messages::say(&format!("left out: “{shape}”, which cannot be cut: {fault}"));
    }
    messages::say("measure one of the sizes on the real thing before you cut");
    Ok(())
}

/// The area of a small piece, which square metres would round away.
fn small_area(square_mm: f64, units: Units) -> String {
    match units {
        Units::Mm | Units::Cm | Units::M => format!("{:.2} cm²", square_mm / 100.0),
        Units::In | Units::Ft => format!("{:.3} sq in", square_mm / (25.4 * 25.4)),
    }
}

/// The pieces as they stand in a job.
fn print(out: &mut impl Write, name: &str, taken: &Taken, units: Units) -> io::Result<()> {
    writeln!(out, "\"pieces\": [")?;
    for (index, shape) in taken.shapes.iter().enumerate() {
        let comma = if index + 1 < taken.shapes.len() { "," } else { "" };
        let source = format!("{name}: {}, {}", size(shape.size, units), small_area(shape.curve.area(), units));
        let data = data(shape, units);
        let [piece, data, source] = [shape.name.as_str(), &data, &source].map(|text| json!(text).to_string());
        writeln!(out, "  {{ \"name\": {piece}, \"outline\": {{ \"path\": {data} }}, \"source\": {source} }}{comma}")?;
    }
    writeln!(out, "]")
}

/// Path data in the unit of the job, to a hundred thousandth of it.
fn data(shape: &TakenShape, units: Units) -> String {
    let data = shape.curve.scaled(units.from_mm(1.0)).to_svg_path_data();
    let short = |word: &str| {
        word.parse::<f64>().map_or(word.to_owned(), |number| format!("{}", (number * 1e5).round() / 1e5 + 0.0))
    };
    data.split(' ').map(short).collect::<Vec<_>>().join(" ")
}

/// A preview may take the place of a preview, and of nothing else; least of all of the drawing that is traced.
fn may_be_replaced(preview: &Path, drawing: &Path, replace: Replace) -> Result<(), Stop> {
    let drawing = drawing.canonicalize().ok();
    let itself = || drawing.is_some() && preview.canonicalize().ok() == drawing;
    let ours = || fs::read_to_string(preview).is_ok_and(|text| is_trace_sheet(&text));
    if replace == Replace::Any || preview.symlink_metadata().is_err() || (ours() && !itself()) {
        return Ok(());
    }
    Err(Stop::fault(
        Exit::CommandWrong,
        format!("{} is there and is no preview; name another file, or add --force", preview.display()),
    ))
}

fn write_preview(preview: &Path, name: &str, taken: &Taken, units: Units) -> Result<(), Stop> {
    let file = preview
        .file_name()
        .and_then(|name| name.to_str())
        .ok_or_else(|| Stop::fault(Exit::CommandWrong, format!("{} is no name for a preview", preview.display())))?;
    let folder = preview.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."));
    let mut outputs = Outputs::default();
    outputs.add(file, trace_sheet(name, taken, units));
    outputs.write(folder, Replace::Any)?;
    messages::say(&format!("wrote {}", preview.display()));
    Ok(())
}
