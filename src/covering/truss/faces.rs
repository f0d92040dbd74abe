//! The faces of a truss, each once also where it is there on both hands.

use std::collections::BTreeSet;

use super::borders::{Border, image_of, key};
use super::sheet::Sheet;
use crate::covering::faces::{Datum, EdgeClass, Face, FaceEdge, FaceMember, Skin, smooth_runs};
use crate::job::{self, Hand, Location, Part, Surface, Truss, Words};
use crate::shape::{Curve, OutlineFault};

/// The face of a sheet. `taped` holds the tubes over which another face has the tape already, and gains this face's.
///
/// # Errors
/// [`OutlineFault`] where the flat face is not sound.
pub(super) fn face(
    part: &Part,
    truss: &Truss,
    of: &job::Face,
    sheet: &Sheet,
    borders: &[Border],
    taped: &mut BTreeSet<[usize; 2]>,
) -> Result<Face, OutlineFault> {
    let points: Vec<[f64; 2]> = sheet.points.iter().map(|point| [point.x, point.y]).collect();
    let mut ways = vec![sheet.grain.way()];
    ways.extend(sheet.up.map(|towards| crate::covering::Way { word: "top", towards }));
    Ok(Face {
        part: part.name.clone(),
        name: of.name.clone(),
        hands: if of.mirrored || part.mirrored { 2 } else { 1 },
        drawn: drawn_hand(part, truss, of),
        signs: [1.0, 1.0],
        surface: Surface::Fuselage,
        outline: Curve::polygon(&points, &[]).flatten()?,
        edges: edges(truss, of, sheet, borders, taped),
        members: members(truss, sheet),
        datums: datums(truss, sheet, borders),
        skin: Some(skin(truss, sheet)),
        ways: ways.into_iter().map(|way| (way.word, way.towards)).collect(),
        bays: Vec::new(),
        drains: Vec::new(),
        fittings: Vec::new(),
        openings: Vec::new(),
        controls: Vec::new(),
    })
}

/// Of a face, the side of the aircraft on which its nodes lie; of a whole truss that is built twice, on which all do.
fn drawn_hand(part: &Part, truss: &Truss, of: &job::Face) -> Option<Hand> {
    let out = |nodes: &mut dyn Iterator<Item = &job::Node>| nodes.map(|node| node.place[1]).sum::<f64>();
    match (of.mirrored, part.mirrored) {
        (true, _) => Hand::on_the_side_of(out(&mut of.ring.iter().map(|node| &truss.nodes[*node]))),
        (false, true) => Hand::on_the_side_of(out(&mut truss.nodes.iter())),
        (false, false) => None,
    }
}

fn edges(
    truss: &Truss,
    of: &job::Face,
    sheet: &Sheet,
    borders: &[Border],
    taped: &mut BTreeSet<[usize; 2]>,
) -> Vec<FaceEdge> {
    let count = sheet.ring.len();
    let lines: Vec<_> = (0..count).map(|at| vec![sheet.points[at], sheet.points[(at + 1) % count]]).collect();
    // The tube of an edge may be written for the other hand alone: the nodes tell the two apart.
    let ends = |at: usize| [sheet.ring[at], sheet.ring[(at + 1) % count]];
    let mut taped_here = |at: usize| {
        let image = ends(at).map(|node| image_of(truss, node));
        let first = taped.insert(key(ends(at)));
        if of.mirrored {
            taped.insert(key(image));
        }
        first
    };
    let own: Vec<bool> = (0..count).map(&mut taped_here).collect();
    let kinds: Vec<_> = (0..count).map(|at| (borders[at].tube.class, own[at], borders[at].meets_own_image)).collect();
    let mirrored = of.mirrored;
    let edge = |(run, of): (Vec<_>, Vec<usize>)| {
        let tube = borders[of[0]].tube;
        let names = sheet.names(truss, [of[0], (of[of.len() - 1] + 1) % count]);
        FaceEdge {
            name: format!("{} {} to {}", tube.class.word(), names[0], names[1]),
            class: EdgeClass::Member(tube.class),
            location: Location::Fuselage,
            run,
            lines: of.iter().flat_map(|at| both_hands(truss, mirrored, ends(*at))).collect(),
            tube: Some(tube.diameter),
            reaches_in: Some(tube.diameter / 2.0),
            own: own[of[0]],
            joins_hands: borders[of[0]].meets_own_image,
        }
    };
    smooth_runs(&lines, &kinds).into_iter().map(edge).collect()
}

/// A tube, and its mirror image where the face is there on both hands.
fn both_hands(truss: &Truss, mirrored: bool, ends: [usize; 2]) -> impl Iterator<Item = [usize; 2]> {
    let image = mirrored.then(|| key(ends.map(|node| image_of(truss, node))));
    [key(ends)].into_iter().chain(image)
}

fn members(truss: &Truss, sheet: &Sheet) -> Vec<FaceMember> {
    let member = |across: &super::sheet::Across| {
        let [from, to] = sheet.names(truss, across.ends);
        FaceMember {
            name: format!("{} {from} to {to}", across.tube.class.word()),
            class: across.tube.class,
            run: across.ends.map(|end| sheet.points[end]).to_vec(),
            width: Some(across.tube.diameter),
            rib: None,
        }
    };
    sheet.across.iter().map(member).collect()
}

/// Along the tube between two nodes, and square to it: whichever edge is nearest.
fn datums(truss: &Truss, sheet: &Sheet, borders: &[Border]) -> Vec<Datum> {
    let count = sheet.ring.len();
    let datum = |at: usize| {
        let next = (at + 1) % count;
        let [from, to] = [at, next].map(|place| &truss.nodes[sheet.ring[place]].name);
        let edge = format!("the {} to {to}", borders[at].tube.class.word());
        Datum::along(&format!("node {from}"), &edge, sheet.points[at], sheet.points[next], 1.0)
    };
    (0..count).filter_map(datum).collect()
}

fn skin(truss: &Truss, sheet: &Sheet) -> Skin {
    let fan = |bay: &Vec<usize>| (2..bay.len()).map(|last| [bay[0], bay[last - 1], bay[last]]).collect::<Vec<_>>();
    Skin {
        flat: sheet.points.clone(),
        space: sheet.ring.iter().map(|node| truss.nodes[*node].place).collect(),
        triangles: sheet.bays.iter().flat_map(fan).collect(),
    }
}
