//! The faces of flat parts: the first side as it is drawn, the second as its mirror image; up stays up in the drawing where
//! the part stands upright.

use geo_types::{Coord, Rect};

use super::ends::EndWords;
use super::{Datum, EdgeClass, Face, FaceEdge, FaceMember, Skin, smooth_runs};
use crate::covering::MemberLine;
use crate::job::{Direction, FlatPart, Hand, Location, MeasuredTo, Part, Sides, Words};
use crate::shape::{Curve, OutlineFault, SpacePoint};

/// The faces of a flat part; `location` is where its perimeter is for the rules.
///
/// # Errors
/// [`OutlineFault`] where the outline is not sound.
pub(in crate::covering) fn faces(part: &Part, flat: &FlatPart, location: Location) -> Result<Vec<Face>, OutlineFault> {
    let mut faces = vec![face(part, flat, location, false)?];
    if flat.sides == Sides::Both {
        faces.push(face(part, flat, location, true)?);
    }
    Ok(faces)
}

fn face(part: &Part, flat: &FlatPart, location: Location, second: bool) -> Result<Face, OutlineFault> {
    let upright = flat.axes.is_some_and(|[_, y]| matches!(y, Direction::Up | Direction::Down));
    let (curve, signs) = match (second, upright) {
        (false, _) => (flat.outline.clone(), [1.0, 1.0]),
        (true, false) => (flat.outline.mirrored(), [1.0, -1.0]),
        (true, true) => (flat.outline.mirrored().half_turned(), [-1.0, 1.0]),
    };
    let outline = curve.flatten()?;
    let seen = |at: Coord<f64>| Coord { x: signs[0] * at.x, y: signs[1] * at.y };
    let mut counted = std::collections::BTreeMap::new();
    let members = flat.members.iter().map(|member| {
        let number = counted.entry(member.class).and_modify(|count| *count += 1).or_insert(1);
        let line = MemberLine::of(member);
        let line = MemberLine { class: line.class, ends: line.ends.map(seen) };
        let alone = flat.members.iter().filter(|other| other.class == member.class).count() == 1;
        let name = if alone { member.class.word().to_owned() } else { format!("{} {number}", member.class.word()) };
        FaceMember::straight(name, &line, member.width)
    });
    let members = members.collect();
    let hinge = flat.hinge.map(|ends| ends.map(|[x, y]| seen(Coord { x, y })));
    let words = EndWords::of(part, flat, signs);
    let edges = edges(flat, &curve, location, second, &words);
    Ok(Face {
        part: part.name.clone(),
        name: if second { "second side" } else { "first side" }.to_owned(),
        hands: if part.mirrored { 2 } else { 1 },
        drawn: drawn_hand(part, flat),
        signs,
        surface: flat.surface,
        datums: datums(hinge, &edges, signs, &words),
        edges,
        members,
        skin: flat.axes.map(|axes| skin(outline.bounds(), axes, signs)),
        outline,
        ways: flat.axes.map_or(Vec::new(), |axes| ways(axes, signs, drawn_hand(part, flat))),
        bays: Vec::new(),
        drains: Vec::new(),
        fittings: Vec::new(),
        openings: Vec::new(),
        controls: Vec::new(),
    })
}

/// Which hand is drawn: that on whose side of the aircraft's middle the outline lies.
fn drawn_hand(part: &Part, flat: &FlatPart) -> Option<Hand> {
    let [x, y] = flat.axes.filter(|_| part.mirrored)?;
    let middle = flat.outline.bounds().center();
    let out = x.vector()[1] * middle.x + y.vector()[1] * middle.y;
    Hand::on_the_side_of(out)
}

fn edges(flat: &FlatPart, curve: &Curve, location: Location, second: bool, words: &EndWords) -> Vec<FaceEdge> {
    let mut lines: Vec<(usize, Vec<Coord<f64>>)> = curve.edge_lines().into_iter().enumerate().collect();
    // Its edges keep their order, and so the mirror image of an outline runs the other way round.
    if curve_runs_clockwise(&lines) {
        lines.reverse();
    }
    let (of_outline, lines): (Vec<usize>, Vec<Vec<Coord<f64>>>) = lines.into_iter().unzip();
    let tubes: Vec<f64> = of_outline.iter().map(|index| flat.tube[*index]).collect();
    let runs = smooth_runs(&lines, &tubes);
    let reaches_in = |tube: f64| match flat.measured_to {
        MeasuredTo::TubeOutside => tube,
        MeasuredTo::TubeCentre => tube / 2.0,
    };
    // Counted along the outline as it is written, so that both sides call an edge the same.
    let firsts: Vec<usize> = runs.iter().map(|(_, of)| first_of(of, &of_outline)).collect();
    let number = |first: usize| firsts.iter().filter(|other| **other < first).count() + 1;
    let name = |first: usize, run: &[Coord<f64>]| match (firsts.len(), words.outside_of(run)) {
        (1, _) => "perimeter".to_owned(),
        (_, Some(word)) => format!("perimeter, edge {} ({word})", number(first)),
        (_, None) => format!("perimeter, edge {}", number(first)),
    };
    let edge = |((run, of), first): (&(Vec<Coord<f64>>, Vec<usize>), &usize)| FaceEdge {
        name: name(*first, run),
        class: EdgeClass::Perimeter,
        location,
        run: run.clone(),
        lines: of.iter().map(|index| [of_outline[*index]; 2]).collect(),
        tube: Some(tubes[of[0]]),
        reaches_in: Some(reaches_in(tubes[of[0]])),
        own: !second,
        joins_hands: false,
    };
    runs.iter().zip(&firsts).map(edge).collect()
}

/// The edge of the outline at which a run begins, whichever way round it is walked: of a run that goes over the end of
/// the list the one after the gap.
fn first_of(run: &[usize], of_outline: &[usize]) -> usize {
    let mut edges: Vec<usize> = run.iter().map(|index| of_outline[*index]).collect();
    edges.sort_unstable();
    let gap = edges.windows(2).position(|pair| pair[1] > pair[0] + 1);
    gap.map_or(edges[0], |before| edges[before + 1])
}

/// Whether each edge ends where the one before it begins.
fn curve_runs_clockwise(lines: &[(usize, Vec<Coord<f64>>)]) -> bool {
    lines.len() > 1 && lines[0].1.last() != lines[1].1.first()
}

/// The hinge line, from which x counts, else the straight edges.
fn datums(hinge: Option<[Coord<f64>; 2]>, edges: &[FaceEdge], signs: [f64; 2], words: &EndWords) -> Vec<Datum> {
    if let Some([from, to]) = hinge {
        let (low, high) = if from.y <= to.y { (from, to) } else { (to, from) };
        return Datum::along(&words.end(low, high), "the hinge line", low, high, -signs[0]).into_iter().collect();
    }
    let straight = edges.iter().filter(|edge| edge.run.len() == 2);
    straight
        .filter_map(|edge| {
            let [from, to] = [edge.run[0], edge.run[1]];
            Datum::along(&words.end(from, to), &edge.name, from, to, 1.0)
        })
        .collect()
}

/// Two triangles over all of the face.
fn skin(bounds: Rect<f64>, axes: [Direction; 2], signs: [f64; 2]) -> Skin {
    let (low, high) = (bounds.min(), bounds.max());
    let flat = vec![low, Coord { x: high.x, y: low.y }, high, Coord { x: low.x, y: high.y }];
    let [x_axis, y_axis] = axes.map(Direction::vector);
    let place = |at: &Coord<f64>| -> SpacePoint {
        std::array::from_fn(|axis| signs[0] * at.x * x_axis[axis] + signs[1] * at.y * y_axis[axis])
    };
    Skin { space: flat.iter().map(place).collect(), flat, triangles: vec![[0, 1, 2], [0, 2, 3]] }
}

/// What lies along x and y. Of a part that is built left and right, what is right of one is left of the other: outboard is the
/// same on both.
fn ways(axes: [Direction; 2], signs: [f64; 2], drawn: Option<Hand>) -> Vec<(&'static str, Coord<f64>)> {
    let steps = [Coord { x: signs[0], y: 0.0 }, Coord { x: 0.0, y: signs[1] }];
    let way = |(axis, step): (Direction, Coord<f64>)| match (axis, drawn) {
        (Direction::Right, Some(Hand::Right)) | (Direction::Left, Some(Hand::Left)) => ("outboard", step),
        (Direction::Right, Some(Hand::Left)) | (Direction::Left, Some(Hand::Right)) => ("outboard", -step),
        _ => (axis.way_word(), step),
    };
    axes.into_iter().zip(steps).map(way).collect()
}
