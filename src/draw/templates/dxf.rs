//! One template as a DXF file, which plotters and lasers read: release 12, the plainest there is, with a layer for each
//! kind of line. Arcs are bulges of polylines, other curves are short straight lines.

use std::fmt::Write;

use geo_types::Coord;

use super::file::grain_arrow;
use crate::draw::frame::number;
use crate::job::Job;
use crate::plan::{LineKind, PLANNING_AID, Template};
use crate::shape::{Path, Pose, Stretch};

/// Size of letters and distance of lines of text, in millimetres.
const LETTERS: f64 = 3.5;
const STEP: f64 = 5.5;
/// How far straight lines may lie from the curve that they stand for, in millimetres: together with rounded corners less
/// than the tolerance of the whole program.
const CLOSENESS: f64 = 0.002;
/// The unit of the drawing in the header: millimetres.
const MILLIMETRES: u8 = 4;
const TEXT: &str = "TEXT";
const GRAIN: &str = "GRAIN";

/// Writes group codes, each with its value.
#[derive(Default)]
struct Groups(String);

impl Groups {
    fn put(&mut self, code: u16, value: impl std::fmt::Display) -> &mut Self {
        // Writing to a text cannot fail.
        let _ = write!(self.0, "{code}\r\n{value}\r\n");
        self
    }

    fn point(&mut self, at: Coord<f64>) -> &mut Self {
        self.put(10, number(at.x)).put(20, number(at.y)).put(30, 0)
    }

    /// A polyline with its bulges.
    fn polyline(&mut self, layer: &str, path: &Path) {
        let vertices = vertices(path);
        let closed = u8::from(path.closed);
        self.put(0, "POLYLINE").put(8, layer).put(66, 1).point(Coord { x: 0.0, y: 0.0 }).put(70, closed);
        for (at, bulge) in vertices {
            self.put(0, "VERTEX").put(8, layer).point(at);
            if bulge != 0.0 {
                self.put(42, format!("{bulge:.9}"));
            }
        }
        self.put(0, "SEQEND").put(8, layer);
    }

    fn text(&mut self, words: &str, at: Coord<f64>) {
        self.put(0, "TEXT").put(8, TEXT).point(at).put(40, LETTERS).put(1, plain(words));
    }
}

/// A template as a DXF file in millimetres, its lower left corner at the origin.
pub fn template_dxf(job: &Job, template: &Template) -> String {
    let [low, high] = template.corners();
    let shift = Pose { at: Coord { x: 0.0, y: 0.0 } - low, ..Pose::unmoved() };
    let mut groups = Groups::default();
    header(&mut groups, high - low);
    let mut layers: Vec<String> = LineKind::ALL
        .into_iter()
        .filter(|kind| template.lines.iter().any(|line| line.kind == *kind))
        .map(layer_name)
        .collect();
    layers.extend([GRAIN.to_owned(), TEXT.to_owned()]);
    tables(&mut groups, &layers);
    groups.put(0, "SECTION").put(2, "ENTITIES");
    for line in &template.lines {
        groups.polyline(&layer_name(line.kind), &line.path.carried(&shift));
    }
    if let Some(arrow) = grain_arrow(template) {
        groups.polyline(GRAIN, &arrow.carried(&shift));
    }
    let title = template.title();
    let figures = template.figures().into_iter().map(str::to_owned);
    let bearings = template.bearings.iter().map(|bearing| format!("{}° edge {}", bearing.degrees, bearing.towards));
    let words = [title, job.name.clone()].into_iter().chain(template.words(job.units)).chain(bearings).chain(figures);
    for (index, words) in words.chain([PLANNING_AID.to_owned()]).enumerate() {
        groups.text(&words, Coord { x: 0.0, y: -2.0 * STEP - STEP * index as f64 });
    }
    groups.put(0, "ENDSEC").put(0, "EOF");
    groups.0
}

fn header(groups: &mut Groups, size: Coord<f64>) {
    groups.put(0, "SECTION").put(2, "HEADER").put(9, "$ACADVER").put(1, "AC1009");
    groups.put(9, "$INSUNITS").put(70, MILLIMETRES).put(9, "$MEASUREMENT").put(70, 1);
    groups.put(9, "$EXTMIN").point(Coord { x: 0.0, y: 0.0 }).put(9, "$EXTMAX").point(size).put(0, "ENDSEC");
}

fn tables(groups: &mut Groups, layers: &[String]) {
    groups.put(0, "SECTION").put(2, "TABLES").put(0, "TABLE").put(2, "LAYER").put(70, layers.len());
    for (index, layer) in layers.iter().enumerate() {
        groups.put(0, "LAYER").put(2, layer).put(70, 0).put(62, index + 1).put(6, "CONTINUOUS");
    }
    groups.put(0, "ENDTAB").put(0, "ENDSEC");
}

/// Layer names of release 12 have capitals and underscores.
fn layer_name(kind: LineKind) -> String {
    kind.words().to_uppercase().replace(' ', "_")
}

/// Corners of a path, each with the bulge of the stretch that leaves it.
fn vertices(path: &Path) -> Vec<(Coord<f64>, f64)> {
    let mut vertices = vec![(path.start, 0.0)];
    let mut from = path.start;
    for stretch in &path.stretches {
        match stretch {
            Stretch::Line(to) => vertices.push((*to, 0.0)),
            Stretch::Arc { to, bulge } => {
                if let Some(last) = vertices.last_mut() {
                    last.1 = *bulge;
                }
                vertices.push((*to, 0.0));
            }
            Stretch::Cubic(..) => {
                let curve = Path { start: from, stretches: vec![*stretch], closed: false };
                vertices.extend(curve.points(CLOSENESS).into_iter().skip(1).map(|point| (point, 0.0)));
            }
        }
        from = stretch.end();
    }
    if path.closed {
        vertices.pop();
    }
    vertices
}

/// A text in the letters of release 12: others by their numbers, no line breaks.
fn plain(words: &str) -> String {
    let mut plain = String::new();
    for letter in words.chars() {
        match letter {
            ' '..='~' => plain.push(letter),
            '\u{80}'..='\u{ffff}' if !letter.is_control() => plain.push_str(&format!("\\U+{:04X}", u32::from(letter))),
            _ => plain.push(' '),
        }
    }
    plain
}
