//! One face: its outline, members and seams, all that goes onto it, and the tags.

use geo_types::{Coord, Rect};
use svg::node::element::{Circle, Group, Rectangle};

use super::super::frame::{Frame, line, number};
use super::super::ink::{Anchor, classed, group, path, text, tooltip};
use super::super::lettering::text_width;
use super::super::part_marks::arrow;
use super::LETTERS;
use super::bands::{bands, polyline};
use super::key::{drain, later, patch, ring};
use super::layout::{BESIDE, HEAD};
use super::pen::Pen;
use super::tags::{Tag, TagLook, placed};
use super::wishes::{ARROW, TAG, used, wishes};
use crate::covering::{CoveredPart, Datum, Face};
use crate::plan::{MapFlag, cut_after_shrinking};

/// Height of a face's name, in millimetres of paper.
const NAME: f64 = 3.5;
/// Half the length of a lace, in millimetres of paper.
const LACE: f64 = 1.1;

/// A face with its room's upper left corner at `place`, in millimetres of paper, and how much of it its tags hide.
pub(super) fn face(part: &CoveredPart, index: usize, flags: &[MapFlag], place: [f64; 2], pen: Pen) -> (Group, usize) {
    let face = &part.faces[index];
    let bounds = face.outline.bounds();
    let [x, y] = place.map(|length| pen.mm(length));
    let (beside, head) = (pen.mm(BESIDE), pen.mm(HEAD));
    let frame =
        Frame { left: x + beside - bounds.min().x, top: y + head + beside, width: bounds.height() + bounds.min().y };
    let corner = Coord { x, y: y + head };
    let room =
        Rect::new(corner, corner + Coord { x: bounds.width() + 2.0 * beside, y: bounds.height() + 2.0 * beside });
    let datums = used(face, index, flags);
    let (wishes, ground) = wishes(&part.dressed, index, &datums, &frame, room, pen);
    let tags = placed(wishes, &ground, pen);
    let hidden = tags.iter().filter(|tag| tag.hides).count();
    let drawing = group("face")
        .add(tooltip(&format!("{}, {}", part.name, face.name)))
        .add(path("edge", frame.path(face.outline.polygon())))
        .add(bands(&part.dressed.tapes, index, &frame, pen))
        .add(structure(part, index, face, &frame))
        .add(laces(part, index, face, &frame, pen))
        .add(marks(part, index, &frame, pen))
        .add(datum_arrows(&datums, &frame, pen))
        .add(leaders(&tags, pen))
        .add(tags_drawn(&tags, pen))
        .add(name_and_ways(face, (x, y + pen.mm(NAME)), pen));
    (drawing, hidden)
}

fn structure(part: &CoveredPart, index: usize, face: &Face, frame: &Frame) -> Group {
    let members = face.members.iter().fold(group("members"), |drawing, member| {
        drawing.add(path("under", polyline(&member.run, frame)).add(tooltip(&member.name)))
    });
    let tapes = part.dressed.tapes.iter().filter(|tape| tape.is_over_a_seam()).flat_map(|tape| &tape.legs);
    let seams = tapes.filter(|leg| leg.face == index);
    seams.fold(members, |drawing, seam| drawing.add(path("map-seam", polyline(&seam.run, frame))))
}

/// A tick across its rib for each lace.
fn laces(part: &CoveredPart, index: usize, face: &Face, frame: &Frame, pen: Pen) -> Group {
    let mut drawing = group("laces");
    for rib in &part.dressed.ribs {
        let run = face.members.iter().find(|member| member.name == rib.rib).map(|member| &member.run);
        let along = run.and_then(|run| Some(*run.last()? - *run.first()?)).unwrap_or(Coord { x: 0.0, y: 1.0 });
        let length = along.x.hypot(along.y).max(f64::MIN_POSITIVE);
        let across = Coord { x: -along.y, y: along.x } * (pen.mm(LACE) / length);
        for at in rib.places.iter().filter(|laces| laces.face == index).flat_map(|laces| &laces.at) {
            drawing = drawing.add(path("lace", polyline(&[*at - across, *at + across], frame)));
        }
    }
    drawing
}

fn marks(part: &CoveredPart, index: usize, frame: &Frame, pen: Pen) -> Group {
    let dressed = &part.dressed;
    let mut drawing = group("marks");
    for found in dressed.patches.iter().filter(|patch| patch.face == index) {
        let at = frame.point(found.at);
        drawing = drawing.add(patch(at, found.shape, Some(found.least)));
        if cut_after_shrinking(&found.notes) {
            drawing = drawing.add(later(at, pen));
        }
    }
    for found in dressed.rings.iter().filter(|ring| ring.face == index) {
        drawing = drawing.add(ring(frame.point(found.at), found.doily, found.inside));
    }
    for found in dressed.drains.iter().filter(|drain| drain.face == index) {
        let patched = found.piece.is_some().then_some(found.patch);
        drawing = drawing.add(drain(frame.point(found.at), patched, pen));
    }
    drawing
}

/// A point at each corner that is measured from, with an arrow along the edge.
fn datum_arrows(datums: &[(&MapFlag, &Datum)], frame: &Frame, pen: Pen) -> Group {
    datums.iter().fold(group("datums"), |drawing, (_, datum)| {
        let at = frame.point(datum.at);
        let way = Coord { x: datum.along.x, y: datum.along.y };
        let middle = at + Coord { x: way.x, y: -way.y } * pen.mm(ARROW / 2.0);
        let point = Circle::new().set("class", "datum-point").set("cx", number(at.x)).set("cy", number(at.y));
        drawing
            .add(point.set("r", number(pen.mm(1.0))))
            .add(path("datum", arrow((middle.x, middle.y), way, pen.mm(ARROW / 2.2), false)))
    })
}

fn leaders(tags: &[Tag], pen: Pen) -> Group {
    tags.iter().filter_map(|tag| tag.leader).fold(group("leaders"), |drawing, leader| {
        let (from, to) = (leader.start, leader.end);
        let end = Circle::new().set("class", "leader-end").set("cx", number(from.x)).set("cy", number(from.y));
        drawing.add(path("leader", line((from.x, from.y), (to.x, to.y)))).add(end.set("r", number(pen.mm(0.35))))
    })
}

fn tags_drawn(tags: &[Tag], pen: Pen) -> Group {
    tags.iter().fold(group("tags"), |drawing, tag| {
        let (round, class, words) = match tag.look {
            TagLook::Flag => (0.0, "flag", "on-flag"),
            TagLook::Mark => (0.0, "tag", "tag-words"),
            TagLook::Tape => (pen.mm(TAG * 0.6), "tag", "tag-words"),
        };
        let (min, middle) = (tag.area.min(), tag.area.center());
        let plate = Rectangle::new()
            .set("class", class)
            .set("x", number(min.x))
            .set("y", number(min.y))
            .set("width", number(tag.area.width()))
            .set("height", number(tag.area.height()))
            .set("rx", number(round));
        let at = (middle.x, middle.y + 0.36 * pen.mm(TAG));
        drawing.add(plate).add(classed(words, text(&tag.words, at, pen.mm(TAG), Anchor::Middle)))
    })
}

/// The name of a face, how often it is built, and arrows that say how it lies.
fn name_and_ways(face: &Face, (x, y): (f64, f64), pen: Pen) -> Group {
    let hands = if face.hands > 1 { "built twice: left and right mirrored" } else { "" };
    let name = classed("strong", text(&face.name, (x, y), pen.mm(NAME), Anchor::Start));
    let start = x + pen.mm((text_width(&face.name) + 1.0) * NAME);
    let mut right = start;
    let mut drawing = group("face-name").add(name).add(text(hands, (right, y), pen.mm(LETTERS), Anchor::Start));
    right += pen.mm((text_width(hands) + 2.0) * LETTERS);
    let ways: f64 = face.ways.iter().map(|(word, _)| pen.mm((4.7 + text_width(word)) * LETTERS)).sum();
    // Beside a narrow face stands the next one.
    let room = face.outline.bounds().width() + 2.0 * pen.mm(BESIDE);
    let y = if right + ways > x + room {
        right = start;
        y + pen.mm(2.0 * LETTERS)
    } else {
        y
    };
    for (word, towards) in &face.ways {
        let middle = (right + pen.mm(LETTERS * 1.1), y - pen.mm(LETTERS * 0.35));
        let at = (right + pen.mm(LETTERS * 2.7), y);
        drawing = drawing.add(path("grain", arrow(middle, *towards, pen.mm(LETTERS), false))).add(text(
            word,
            at,
            pen.mm(LETTERS),
            Anchor::Start,
        ));
        right += pen.mm((4.7 + text_width(word)) * LETTERS);
    }
    drawing
}
