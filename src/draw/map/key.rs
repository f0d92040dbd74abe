//! The marks of a map, and what they mean; only those that are on it.

use geo_types::Coord;
use svg::node::element::{Circle, Group, Rectangle};

use super::super::frame::{line, number};
use super::super::ink::{group, path};
use super::super::scale_bar::bar;
use super::LETTERS;
use super::bands::{band, tint};
use super::pen::Pen;
use super::tags::TagLook;
use super::wishes::LEAST_MARK;
use crate::covering::dressing::WantedShape;
use crate::covering::{CoveredPart, TapeOrder, TapeRun};
use crate::plan::{MapKind, MapRow, cut_after_shrinking};
use crate::units::Units;

/// Width and height of a sample, in millimetres of paper.
const WIDTH: f64 = 11.0;
const HEIGHT: f64 = 2.6;

/// A mark that the key explains.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Sample {
    /// A line of a class.
    Line(&'static str),
    /// A band of tape, on the bias or not.
    Tape(TapeOrder, bool),
    /// A patch with what it must cover.
    Patch,
    /// A ring with its doily.
    Ring,
    /// A drain hole.
    Drain,
    /// Laces on a rib.
    Laces,
    /// What is cut after shrinking.
    Later,
    /// A tag.
    Tag(TagLook),
}

/// The marks on some faces of a part with what they mean.
pub(super) fn samples(part: &CoveredPart, faces: &[usize], rows: &[&MapRow]) -> Vec<(Sample, &'static str)> {
    let dressed = &part.dressed;
    let has = |kind: MapKind| rows.iter().any(|row| row.kind == kind);
    let on = |tape: &&TapeRun| tape.lines().any(|leg| faces.contains(&leg.face));
    let tape = |order: TapeOrder| dressed.tapes.iter().filter(on).any(|tape| tape.order == order);
    let bias = dressed.tapes.iter().filter(on).find(|tape| tape.is_bias()).map(|tape| tape.order);
    let seams = dressed.tapes.iter().filter(on).any(TapeRun::is_over_a_seam);
    let here = |face: usize| faces.contains(&face);
    let numbered = "number of a patch or doily, as on lay and template";
    let marked = has(MapKind::Patch) || has(MapKind::Ring);
    let later = dressed.patches.iter().any(|patch| here(patch.face) && cut_after_shrinking(&patch.notes));
    let all = [
        (marked, Sample::Tag(TagLook::Mark), numbered),
        (has(MapKind::Tape), Sample::Tag(TagLook::Tape), "number of a tape, in the order of the work"),
        (
            rows.iter().any(|row| row.corner.is_some()),
            Sample::Tag(TagLook::Flag),
            "measured from here, along the arrow",
        ),
        (has(MapKind::Patch), Sample::Patch, "patch; dashed: what it must cover at least"),
        (later, Sample::Later, "cut after shrinking"),
        (has(MapKind::Ring), Sample::Ring, "inspection ring and doily; opened when needed"),
        (has(MapKind::Drain), Sample::Drain, "drain hole D…, drawn larger; dotted: its patch"),
        (tape(TapeOrder::Chordwise), Sample::Tape(TapeOrder::Chordwise, false), "tape along the chord, or across"),
        (tape(TapeOrder::Spanwise), Sample::Tape(TapeOrder::Spanwise, false), "tape along the span, or lengthwise"),
        (tape(TapeOrder::TipBow), Sample::Tape(TapeOrder::TipBow, false), "tape round the tip"),
        (bias.is_some(), Sample::Tape(bias.unwrap_or(TapeOrder::TipBow), true), "the same, of bias tape"),
        (has(MapKind::Laces), Sample::Laces, "laces on a rib"),
        (
            faces.iter().any(|face| !part.faces[*face].members.is_empty()),
            Sample::Line("under"),
            "member under the cloth",
        ),
        (seams, Sample::Line("map-seam"), "seam"),
    ];
    all.into_iter().filter(|(there, ..)| *there).map(|(_, sample, words)| (sample, words)).collect()
}

impl Sample {
    /// The sample on the base line of its words, in millimetres of paper.
    pub fn drawn(self, (x, y): (f64, f64), pen: Pen) -> Group {
        let y = y - LETTERS * 0.35;
        let across = line(pen.at(x, y), pen.at(x + WIDTH, y));
        let middle = Coord { x: pen.mm(x + WIDTH / 2.0), y: pen.mm(y) };
        let inside = pen.mm(HEIGHT * 0.5);
        match self {
            Self::Line(class) => Group::new().add(path(class, across)),
            Self::Tape(order, bias) => band(&across, tint(order), pen.mm(HEIGHT), bias, pen),
            Self::Patch => {
                let sides = [WIDTH * 0.8, HEIGHT].map(|side| pen.mm(side));
                let least = sides.map(|side| side - pen.mm(1.0));
                patch(middle, WantedShape::Rect(sides), Some(WantedShape::Rect(least)))
            }
            Self::Later => patch(middle, WantedShape::Circle(pen.mm(HEIGHT)), None).add(later(middle, pen)),
            Self::Ring => ring(middle, pen.mm(HEIGHT), inside),
            Self::Drain => drain(middle, Some(pen.mm(HEIGHT)), pen),
            Self::Laces => (1..8).fold(Group::new().add(path("under", across)), |drawing, tick| {
                let at = x + WIDTH * f64::from(tick) / 8.0;
                drawing.add(path("lace", line(pen.at(at, y - 1.1), pen.at(at, y + 1.1))))
            }),
            Self::Tag(look) => plate(look, middle, pen),
        }
    }
}

fn plate(look: TagLook, middle: Coord<f64>, pen: Pen) -> Group {
    let (class, round) = match look {
        TagLook::Flag => ("flag", 0.0),
        TagLook::Mark => ("tag", 0.0),
        TagLook::Tape => ("tag", HEIGHT / 2.0),
    };
    let [width, height] = [WIDTH * 0.7, HEIGHT].map(|side| pen.mm(side));
    let plate = Rectangle::new()
        .set("class", class)
        .set("x", number(middle.x - width / 2.0))
        .set("y", number(middle.y - height / 2.0))
        .set("width", number(width))
        .set("height", number(height))
        .set("rx", number(pen.mm(round)));
    Group::new().add(plate)
}

/// A patch, and inside it what it must cover at least.
pub(super) fn patch(at: Coord<f64>, shape: WantedShape, least: Option<WantedShape>) -> Group {
    let outer = Group::new().add(path("patch", shape_path(at, shape)));
    least.into_iter().fold(outer, |drawing, least| drawing.add(path("least", shape_path(at, least))))
}

fn shape_path(at: Coord<f64>, shape: WantedShape) -> String {
    match shape {
        WantedShape::Rect([width, height]) => {
            let (left, top) = (number(at.x - width / 2.0), number(at.y - height / 2.0));
            let (right, foot) = (number(at.x + width / 2.0), number(at.y + height / 2.0));
            format!("M{left} {top}L{right} {top}L{right} {foot}L{left} {foot}Z")
        }
        WantedShape::Circle(diameter) => {
            let radius = number(diameter / 2.0);
            let (left, right, y) = (number(at.x - diameter / 2.0), number(at.x + diameter / 2.0), number(at.y));
            format!("M{left} {y}A{radius} {radius} 0 0 0 {right} {y}A{radius} {radius} 0 0 0 {left} {y}Z")
        }
    }
}

/// A cross in the middle of what is cut after shrinking.
pub(super) fn later(at: Coord<f64>, pen: Pen) -> Group {
    let arm = pen.mm(1.0);
    let one = line((at.x - arm, at.y - arm), (at.x + arm, at.y + arm));
    Group::new().add(path("later", one + &line((at.x - arm, at.y + arm), (at.x + arm, at.y - arm))))
}

/// A doily and the opening of its ring.
pub(super) fn ring(at: Coord<f64>, doily: f64, inside: f64) -> Group {
    let circle = |diameter: f64| {
        let circle = Circle::new().set("class", "ring").set("cx", number(at.x)).set("cy", number(at.y));
        circle.set("r", number(diameter / 2.0))
    };
    Group::new().add(circle(doily)).add(circle(inside))
}

/// A drop, its point upwards, larger than the hole so that it can be seen; with the patch round it.
pub(super) fn drain(at: Coord<f64>, patch: Option<f64>, pen: Pen) -> Group {
    let half = pen.mm(LEAST_MARK / 2.0);
    let (low, side) = (number(at.y + half * 0.9), number(half * 0.62));
    let (top, middle) = (number(at.y - half), number(at.y + half * 0.25));
    let (left, right) = (number(at.x - half * 0.62), number(at.x + half * 0.62));
    let x = number(at.x);
    let drop =
        format!("M{x} {top}L{right} {middle}A{side} {side} 0 0 1 {x} {low}A{side} {side} 0 0 1 {left} {middle}Z");
    let round = patch.map(|diameter| path("drain-patch", shape_path(at, WantedShape::Circle(diameter))));
    round.into_iter().fold(Group::new().add(path("drain", drop)), Group::add)
}

/// A bar that shows how large the face is drawn.
pub(super) fn scale((x, y): (f64, f64), units: Units, pen: Pen) -> Group {
    let block = bar(units, pen.mm(LETTERS), "Scale", "on the aircraft");
    let (x, y) = pen.at(x, y - LETTERS);
    group("scale").set("transform", format!("translate({} {})", number(x), number(y))).add(block.drawing)
}
