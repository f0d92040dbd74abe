//! The faces of flat parts: the first side as it is drawn, the second as its mirror image; up stays up in the drawing where
//! the part stands upright.

use geo_types::{Coord, Rect};

use super::{Datum, EdgeClass, Face, FaceEdge, FaceMember, Skin, smooth_runs};
use crate::covering::MemberLine;
use crate::job::{Direction, FlatPart, Location, MeasuredTo, Part, Sides, Words};
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
    let edges = edges(flat, &curve, location, second);
    Ok(Face {
        part: part.name.clone(),
        name: if second { "second side" } else { "first side" }.to_owned(),
        hands: if part.mirrored { 2 } else { 1 },
        signs,
        surface: flat.surface,
        datums: datums(hinge, &edges, signs),
        edges,
        members,
        skin: flat.axes.map(|axes| skin(outline.bounds(), axes, signs)),
        outline,
        ways: flat.axes.map_or(Vec::new(), |axes| ways(axes, signs)),
        bays: Vec::new(),
        drains: Vec::new(),
        fittings: Vec::new(),
        openings: Vec::new(),
        controls: Vec::new(),
    })
}

fn edges(flat: &FlatPart, curve: &Curve, location: Location, second: bool) -> Vec<FaceEdge> {
    let (mut lines, mut tubes) = (curve.edge_lines(), flat.tube.clone());
    // Its edges keep their order, and so the mirror image of an outline runs the other way round.
    if curve_runs_clockwise(&lines) {
        lines.reverse();
        tubes.reverse();
    }
    let runs = smooth_runs(&lines, &tubes);
    let reaches_in = |tube: f64| match flat.measured_to {
        MeasuredTo::TubeOutside => tube,
        MeasuredTo::TubeCentre => tube / 2.0,
    };
    let many = runs.len() > 1;
    let edge = |(number, (run, of)): (usize, (Vec<Coord<f64>>, Vec<usize>))| FaceEdge {
        name: if many { format!("perimeter, edge {}", number + 1) } else { "perimeter".to_owned() },
        class: EdgeClass::Perimeter,
        location,
        run,
        tube: Some(tubes[of[0]]),
        reaches_in: Some(reaches_in(tubes[of[0]])),
        own: !second,
        joins_hands: false,
    };
    runs.into_iter().enumerate().map(edge).collect()
}

/// Whether each edge ends where the one before it begins.
fn curve_runs_clockwise(lines: &[Vec<Coord<f64>>]) -> bool {
    lines.len() > 1 && lines[0].last() != lines[1].first()
}

/// The hinge line, from which x counts, else the straight edges.
fn datums(hinge: Option<[Coord<f64>; 2]>, edges: &[FaceEdge], signs: [f64; 2]) -> Vec<Datum> {
    if let Some([from, to]) = hinge {
        let (low, high) = if from.y <= to.y { (from, to) } else { (to, from) };
        return Datum::along("its lower end in the drawing", "the hinge line", low, high, -signs[0])
            .into_iter()
            .collect();
    }
    let straight = edges.iter().filter(|edge| edge.run.len() == 2);
    straight.filter_map(|edge| Datum::along("its first end", &edge.name, edge.run[0], edge.run[1], 1.0)).collect()
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

fn ways(axes: [Direction; 2], signs: [f64; 2]) -> Vec<(&'static str, Coord<f64>)> {
    let [x, y] = axes;
    vec![(x.way_word(), Coord { x: signs[0], y: 0.0 }), (y.way_word(), Coord { x: 0.0, y: signs[1] })]
}
