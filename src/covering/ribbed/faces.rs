//! The faces of a ribbed part: top and bottom, also where one panel covers both.

use geo_types::Coord;

use super::edges::place;
use super::shape::{Border, Face as Cover, ribs_of, shape, spread};
use crate::covering::faces::{Datum, EdgeClass, Face, FaceEdge, FaceMember, RibSize, Skin, smooth_runs};
use crate::job::{Hand, Location, MemberClass, Part, RibbedPart};
use crate::shape::{Chord, OutlineFault, Side, SpacePoint, SpanLine, length_of, sin_cos_degrees};

/// The top and the bottom.
///
/// # Errors
/// [`OutlineFault`] where the skin laid flat is not sound.
pub(super) fn faces(part: &Part, wing: &RibbedPart) -> Result<Vec<Face>, OutlineFault> {
    [(Cover::Top, Side::Top), (Cover::Bottom, Side::Bottom)]
        .into_iter()
        .map(|(cover, side)| face(part, wing, cover, side))
        .collect()
}

fn face(part: &Part, wing: &RibbedPart, cover: Cover, side: Side) -> Result<Face, OutlineFault> {
    let shape = shape(wing, cover);
    let (chords, lines, rows) = spread(wing, cover);
    let edges = edges(wing, &shape.finished.edge_lines(), &shape.borders, side);
    Ok(Face {
        part: part.name.clone(),
        name: cover.words().to_owned(),
        hands: if part.mirrored { 2 } else { 1 },
        // The drawn part is the right one: see [`place_in_space`].
        drawn: part.mirrored.then_some(Hand::Right),
        signs: [1.0, 1.0],
        surface: wing.surface,
        outline: shape.finished.flatten()?,
        datums: datums(&edges),
        edges,
        members: members(wing, cover, side, &chords, &lines, &rows),
        skin: Some(skin(wing, &chords, &lines, &rows)),
        ways: vec![
            ("tip", Coord { x: 1.0, y: 0.0 }),
            ("nose", Coord { x: 0.0, y: if side == Side::Top { 1.0 } else { -1.0 } }),
        ],
        bays: Vec::new(),
        drains: Vec::new(),
        fittings: Vec::new(),
        openings: Vec::new(),
        controls: Vec::new(),
    })
}

fn edges(wing: &RibbedPart, lines: &[Vec<Coord<f64>>], borders: &[Border], side: Side) -> Vec<FaceEdge> {
    let runs = smooth_runs(lines, borders);
    // Without a bow the part ends at a rib.
    let tip = if wing.tip_bow.is_some() { "tip bow" } else { "tip rib" };
    let starts: Vec<(Border, f64)> = runs.iter().map(|(run, of)| (borders[of[0]], inboard_end(run))).collect();
    // Which of several stretches of one kind it is, from the butt.
    let number = |border: Border, run: &[Coord<f64>]| {
        starts.iter().filter(|(other, x)| *other == border && *x < inboard_end(run)).count()
    };
    let edge = |(run, of): (Vec<Coord<f64>>, Vec<usize>)| {
        let (name, class, location) = match borders[of[0]] {
            Border::LeadingEdge => {
                ("leading edge", EdgeClass::Member(MemberClass::LeadingEdge), Location::WingLeadingEdge)
            }
            Border::TrailingEdge(_) => {
                ("trailing edge", EdgeClass::Member(MemberClass::TrailingEdge), Location::WingTrailingEdge)
            }
            Border::Butt(_) => ("butt", EdgeClass::Member(MemberClass::ButtRib), Location::WingButt),
            Border::Tip(_) => (tip, EdgeClass::Member(MemberClass::TipBow), Location::WingTip),
            Border::Recess(_) => ("recess", EdgeClass::Recess, Location::WingTrailingEdge),
        };
        // One tape goes over the nose, the trailing edge and the tip, from the top; butt and recess have one on each side.
        let own = side == Side::Top || matches!(borders[of[0]], Border::Butt(_) | Border::Recess(_));
        FaceEdge {
            name: name.to_owned(),
            class,
            location: place(wing.surface, location),
            lines: shared_line(borders[of[0]], number(borders[of[0]], &run)).into_iter().collect(),
            run,
            tube: None,
            reaches_in: None,
            own,
            joins_hands: false,
        }
    };
    runs.into_iter().map(edge).collect()
}

fn inboard_end(run: &[Coord<f64>]) -> f64 {
    run.iter().map(|point| point.x).fold(f64::INFINITY, f64::min)
}

/// A line at which top and bottom both end; butt and recess have edges of their own on each side.
fn shared_line(border: Border, number: usize) -> Option<[usize; 2]> {
    match border {
        Border::LeadingEdge => Some([0, number]),
        Border::TrailingEdge(_) => Some([1, number]),
        Border::Tip(_) => Some([2, number]),
        Border::Butt(_) | Border::Recess(_) => None,
    }
}

/// Outboard along the trailing edge, and forward of it; each stretch between recesses has its own.
fn datums(edges: &[FaceEdge]) -> Vec<Datum> {
    let aft = edges.iter().filter(|edge| edge.class == EdgeClass::Member(MemberClass::TrailingEdge));
    let mut stretches: Vec<(Coord<f64>, Coord<f64>, f64)> = aft
        .filter_map(|edge| {
            let (from, to) = (*edge.run.first()?, *edge.run.last()?);
            // From butt to tip, whichever way the edge of this side runs.
            Some(if from.x <= to.x { (from, to, 1.0) } else { (to, from, -1.0) })
        })
        .collect();
    stretches.sort_by(|one, other| one.0.x.total_cmp(&other.0.x));
    let many = stretches.len() > 2;
    let stretch = |(index, (butt, tip, inwards)): (usize, (Coord<f64>, Coord<f64>, f64))| {
        let (corner, edge) = match (index, many) {
            (0, _) => ("the inboard end of the trailing edge".to_owned(), "the trailing edge".to_owned()),
            (_, false) => {
                ("the outboard end of the recess".to_owned(), "the trailing edge outboard of the recess".to_owned())
            }
            _ => {
                (format!("the outboard end of recess {index}"), format!("the trailing edge outboard of recess {index}"))
            }
        };
        Datum::along(&corner, &edge, butt, tip, inwards)
    };
    stretches.into_iter().enumerate().filter_map(stretch).collect()
}

fn members(
    wing: &RibbedPart,
    cover: Cover,
    side: Side,
    chords: &[Chord],
    lines: &[SpanLine],
    rows: &[Vec<Coord<f64>>],
) -> Vec<FaceMember> {
    let sheet = super::shape::nose_sheet(wing, side);
    let girth = |place: f64| wing.section.girth(side, 0.0, place);
    let blown = blown(wing);
    let mut members: Vec<FaceMember> = Vec::new();
    for (index, (row, mut run, aft)) in ribs_of(wing, cover, chords, lines, rows).into_iter().enumerate() {
        if side == Side::Top {
            // The lines of the top begin at the trailing edge.
            run.reverse();
        }
        let chord = chords[row];
        let butt = chord.span == wing.planform[0].span;
        members.push(FaceMember {
            name: format!("rib {}", index + 1),
            class: if butt { MemberClass::ButtRib } else { MemberClass::Rib },
            run,
            width: None,
            rib: Some(RibSize {
                index,
                span: chord.span,
                chord: chord.length * aft,
                depth: chord.length * wing.section.greatest_depth(),
                sheet: sheet.map_or(0.0, |place| chord.length * girth(place)),
                in_slipstream: blown.contains(&index),
            }),
        });
    }
    let column = |place: f64| {
        let index = lines.iter().position(|line| (line.place - place).abs() < 1e-6);
        index.map(|index| rows.iter().map(|row| row[index]).collect::<Vec<_>>())
    };
    for (index, place) in wing.spars.iter().enumerate() {
        let name = match (wing.spars.len(), index) {
            (1, _) => "spar".to_owned(),
            (2, 0) => "front spar".to_owned(),
            (2, _) => "rear spar".to_owned(),
            _ => format!("spar {}", index + 1),
        };
        members.extend(column(*place).map(|run| FaceMember {
            name,
            class: MemberClass::Spar,
            run,
            width: None,
            rib: None,
        }));
    }
    let edge_of_sheet = |run| FaceMember {
        name: "aft edge of the nose sheet".to_owned(),
        class: MemberClass::NoseSheet,
        run,
        width: None,
        rib: None,
    };
    members.extend(sheet.and_then(column).map(edge_of_sheet));
    members.retain(|member| length_of(&member.run) > 0.0);
    members
}

/// The ribs in the slipstream, and the next one on each side.
fn blown(wing: &RibbedPart) -> std::ops::Range<usize> {
    let Some([from, to]) = wing.slipstream else { return 0..0 };
    let inside = |rib: &&f64| (from..=to).contains(*rib);
    let first = wing.ribs.iter().position(|rib| inside(&rib)).unwrap_or(0);
    let count = wing.ribs.iter().filter(inside).count();
    if count == 0 { 0..0 } else { first.saturating_sub(1)..first + count + 1 }
}

/// Where a point of the surface is in the aircraft: `place` is its part of the chord. The drawn part is the right one: seen
/// from above with the nose ahead, its span runs to the right.
pub(in crate::covering) fn place_in_space(wing: &RibbedPart, chord: &Chord, side: Side, place: f64) -> SpacePoint {
    let (sin, cos) = sin_cos_degrees(wing.incidence);
    let (rise, run) = sin_cos_degrees(wing.dihedral);
    let (aft, up) = (place * chord.length, wing.section.ordinate(side, place) * chord.length);
    let out = chord.span - wing.planform[0].span;
    [chord.nose + aft * cos + up * sin, out * run, up * cos - aft * sin + out * rise]
}

/// The skin of a panel that goes round the nose.
pub(in crate::covering) fn whole_skin(wing: &RibbedPart) -> Skin {
    let (chords, lines, rows) = spread(wing, Cover::Whole);
    skin(wing, &chords, &lines, &rows)
}

fn skin(wing: &RibbedPart, chords: &[Chord], lines: &[SpanLine], rows: &[Vec<Coord<f64>>]) -> Skin {
    let place = |chord: &Chord, line: &SpanLine| place_in_space(wing, chord, line.side, line.place);
    let columns = lines.len();
    let mut triangles = Vec::new();
    for row in 1..rows.len() {
        for column in 1..columns {
            let [near, far] = [(row - 1) * columns + column - 1, row * columns + column - 1];
            triangles.extend([[near, far, far + 1], [near, far + 1, near + 1]]);
        }
    }
    Skin {
        flat: rows.iter().flatten().copied().collect(),
        space: chords.iter().flat_map(|chord| lines.iter().map(move |line| place(chord, line))).collect(),
        triangles,
    }
}
