//! Outlines from drawing files: SVG and DXF, made by any program, read into lines, lines into closed shapes in
//! millimetres.
//!
//! Nothing is guessed in silence. A drawing that does not say how large it is asks for it; what is closed, doubled or left
//! out is told. The y axis runs up, as in a job: an SVG, whose y runs down the page, is turned over so that a piece looks
//! as it does on the screen.

mod chain;
mod dxf;
mod dxf_entities;
mod dxf_layers;
mod dxf_sections;
mod dxf_spline;
pub mod limits;
mod names;
mod nest;
mod silence;
mod svg;
mod svg_guard;
mod svg_shapes;
mod svg_size;
mod taken;

use std::collections::BTreeMap;
use std::sync::Arc;

use kurbo::Rect;
use thiserror::Error;

use super::segment::Segment;
use names::Names;

pub use taken::{Taken, TakenShape};

/// The lines of a drawing.
#[derive(Clone, Debug, Default)]
pub struct Drawing {
    name: String,
    lines: Vec<DrawnLine>,
    /// Millimetres in one unit of the drawing, where it says so.
    unit: Option<f64>,
    left_out: LeftOut,
    remarks: Vec<String>,
}

/// One line of a drawing, open or closed, in the drawing's units.
#[derive(Clone, Debug)]
struct DrawnLine {
    segments: Vec<Segment>,
    /// What the line itself is called.
    name: Option<Arc<str>>,
    /// Names by which it may be asked for: its own and those of the groups around it.
    ids: Names,
    /// The layers that it is on, in an SVG its classes and those of the groups around it too; the innermost last.
    layers: Names,
    /// What hides it, if anything does.
    hidden: Option<Arc<str>>,
}

/// What a drawing has besides lines: how often, by kind and layer.
#[derive(Clone, Debug, Default)]
struct LeftOut(BTreeMap<(String, String), usize>);

/// Which lines are wanted.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Pick {
    /// All that is not hidden.
    All,
    /// The shape or the group with this id (SVG), the entity with this handle or the block with this name (DXF).
    Id(String),
    /// Everything on the layers, in the groups or of the classes of these names.
    Layers(Vec<String>),
}

/// How large the drawing is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Size {
    /// As the file says.
    AsDrawn,
    /// Millimetres in one unit of the drawing.
    Unit(f64),
    /// Millimetres from the left to the right end of what is picked.
    Width(f64),
}

/// What to take from a drawing, and how.
#[derive(Clone, Debug, PartialEq)]
pub struct Wish {
    /// Which lines.
    pub pick: Pick,
    /// How large.
    pub size: Size,
    /// Ends that lie no farther apart than this, in millimetres, are joined.
    pub join: f64,
    /// Whether hidden lines are taken too.
    pub hidden: bool,
}

/// The distance within which ends are joined where nobody says another, in millimetres: a fifth of a pencil line.
pub const USUAL_JOIN: f64 = 0.1;

/// Why a drawing, or what was asked of it, cannot be used.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
#[error("{message}; {hint}")]
pub struct DrawingFault {
    /// What is wrong.
    pub message: String,
    /// What would be right.
    pub hint: String,
}

impl DrawingFault {
    fn new(message: impl Into<String>, hint: impl Into<String>) -> Self {
        Self { message: message.into(), hint: hint.into() }
    }
}

impl Drawing {
    /// Reads a drawing; whether it is SVG or DXF is told by the ending of its `name`.
    ///
    /// ```
    /// use clothwright::shape::drawing::{Drawing, Pick, Size, Wish, USUAL_JOIN};
    /// let text = r#"<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="50mm" viewBox="0 0 200 100">
    ///   <rect id="door" x="10" y="10" width="120" height="80"/></svg>"#;
    /// let wish = Wish { pick: Pick::All, size: Size::AsDrawn, join: USUAL_JOIN, hidden: false };
    /// let taken = Drawing::read("door.svg", text.as_bytes())?.take(&wish)?;
    /// assert_eq!((taken.shapes[0].name.as_str(), taken.shapes[0].size), ("door", [60.0, 40.0]));
    /// # Ok::<(), clothwright::shape::drawing::DrawingFault>(())
    /// ```
    ///
    /// # Errors
    /// [`DrawingFault`] where it is neither, is malformed, or goes beyond the [`limits`].
    pub fn read(name: &str, bytes: &[u8]) -> Result<Self, DrawingFault> {
        if bytes.len() as u64 > limits::FILE_BYTES {
            let most = limits::FILE_BYTES / 1024 / 1024;
            return Err(DrawingFault::new(
                format!("the drawing has more than {most} MB"),
                "save only the pieces that you need",
            ));
        }
        let ending = name.rsplit('.').next().map(str::to_ascii_lowercase);
        let mut drawing = match ending.as_deref() {
            Some("svg") => svg::read(bytes)?,
            Some("dxf") => dxf::read(bytes)?,
            _ => {
                return Err(DrawingFault::new(
                    "the name of a drawing ends in .svg or .dxf",
                    "save the drawing as plain SVG or as ASCII DXF",
                ));
            }
        };
        drawing.name = name.to_owned();
        Ok(drawing)
    }
}

impl DrawnLine {
    fn bounds(&self) -> Option<Rect> {
        self.segments.iter().map(Segment::bounds).reduce(|all, next| all.union(next))
    }
}

impl LeftOut {
    fn add(&mut self, kind: impl Into<String>, layer: Option<&str>) {
        *self.0.entry((kind.into(), layer.unwrap_or_default().to_owned())).or_default() += 1;
    }

    /// `text ×2 on layer “NOTES”`, one entry for each kind and layer.
    fn words(&self) -> Vec<String> {
        let words = |((kind, layer), count): (&(String, String), &usize)| match layer.as_str() {
            "" => format!("{kind} ×{count}"),
            layer => format!("{kind} ×{count} on layer “{layer}”"),
        };
        self.0.iter().map(words).collect()
    }
}
