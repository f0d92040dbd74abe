//! The edges of faces: which tube each lies on, and whose cloth is already there when it is covered.

use std::collections::BTreeMap;

use super::fault;
use crate::covering::{CoveringFault, lap_over};
use crate::job::{Face, Method, Surface, Truss, Tube};

/// An edge of a face.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Border<'t> {
    /// The tube that it lies on.
    pub tube: &'t Tube,
    /// The face whose cloth is already there, the last of them if there are several; `None` where this face is the first.
    pub under: Option<&'t Face>,
    /// Whether another face, or the face's own mirror image, ends at the same tube.
    pub shared: bool,
    /// Whether the face meets its own mirror image here, so that one of the two is the first and the other laps over it.
    pub meets_own_image: bool,
}

/// A face that ends at a tube.
#[derive(Clone, Copy)]
struct Use {
    face: usize,
    image: bool,
}

/// Every edge of every face, in the order of the faces and of their `rings`.
pub(super) fn borders<'t>(
    truss: &'t Truss,
    rings: &[Vec<usize>],
    method: Method,
) -> Result<Vec<Vec<Border<'t>>>, Vec<CoveringFault>> {
    let mut faults = Vec::new();
    let uses = uses(truss, rings);
    faults.extend(equal_orders(truss, &uses));
    faults.extend(covered_twice(truss));
    let mut all = Vec::new();
    for (index, ring) in rings.iter().enumerate() {
        let mut borders = Vec::new();
        for ends in edges(ring) {
            match tube_under(truss, &truss.faces[index], ends, method) {
                Ok(tube) => borders.push(border(truss, tube, index, &uses[&key(ends)])),
                Err(fault) => faults.push(fault),
            }
        }
        all.push(borders);
    }
    if faults.is_empty() { Ok(all) } else { Err(faults) }
}

/// The edges of a ring: each node with the next.
pub(super) fn edges(ring: &[usize]) -> impl Iterator<Item = [usize; 2]> {
    ring.iter().zip(ring.iter().cycle().skip(1)).map(|(from, to)| [*from, *to])
}

/// The tube between two nodes; in a truss with mirrored faces it may be written for the other side alone.
pub(super) fn tube_between(truss: &Truss, ends: [usize; 2]) -> Option<&Tube> {
    truss.tube(ends).or_else(|| {
        let [from, to] = ends.map(|end| truss.mirror_image(end));
        truss.has_mirrored_faces().then(|| truss.tube([from?, to?])).flatten()
    })
}

pub(super) fn key([a, b]: [usize; 2]) -> [usize; 2] {
    [a.min(b), a.max(b)]
}

/// Who ends at each edge.
fn uses(truss: &Truss, rings: &[Vec<usize>]) -> BTreeMap<[usize; 2], Vec<Use>> {
    let mut uses: BTreeMap<[usize; 2], Vec<Use>> = BTreeMap::new();
    for (face, ring) in rings.iter().enumerate() {
        for ends in edges(ring) {
            uses.entry(key(ends)).or_default().push(Use { face, image: false });
            if truss.faces[face].mirrored {
                uses.entry(key(ends.map(|node| image_of(truss, node)))).or_default().push(Use { face, image: true });
            }
        }
    }
    uses
}

/// Faces that lie where another face or its mirror image lies already.
fn covered_twice(truss: &Truss) -> Vec<CoveringFault> {
    let mut faults = Vec::new();
    let mut taken: BTreeMap<Vec<usize>, &Face> = BTreeMap::new();
    for face in &truss.faces {
        let mut nodes = face.ring.clone();
        nodes.sort_unstable();
        let mut image: Vec<usize> = face.ring.iter().map(|node| image_of(truss, *node)).collect();
        image.sort_unstable();
        let both = if face.mirrored { vec![nodes, image] } else { vec![nodes] };
        for nodes in both {
            let Some(earlier) = taken.insert(nodes, face) else { continue };
            if std::ptr::eq(earlier, face) {
                let message = format!("face {:?} is its own mirror image", face.name);
                faults.push(fault(&face.at, message, "leave \"mirrored\" out"));
            } else {
                let message =
                    format!("face {:?} lies where face {:?} or its mirror image lies", face.name, earlier.name);
                faults.push(fault(&face.at, message, "leave one of them out"));
            }
        }
    }
    faults
}

/// The mirror image of a node. One that is not among the nodes gets a number behind all of them.
pub(super) fn image_of(truss: &Truss, node: usize) -> usize {
    truss.mirror_image(node).unwrap_or(node + truss.nodes.len())
}

/// Faces that meet at a tube and do not say which of them comes first.
fn equal_orders(truss: &Truss, uses: &BTreeMap<[usize; 2], Vec<Use>>) -> Vec<CoveringFault> {
    let mut pairs = std::collections::BTreeSet::new();
    for met in uses.values() {
        for (i, one) in met.iter().enumerate() {
            for other in &met[i + 1..] {
                let alike = truss.faces[one.face].order == truss.faces[other.face].order;
                if alike && one.face != other.face {
                    pairs.insert(key([one.face, other.face]));
                }
            }
        }
    }
    let told = |[one, other]: [usize; 2]| {
        let [first, second] = [&truss.faces[one], &truss.faces[other]];
        let message = format!(
            "faces {:?} and {:?} meet at a tube and both have order {}: neither laps over the other",
            first.name, second.name, second.order
        );
        fault(&second.at, message, "give the one that is covered later the higher \"order\"")
    };
    pairs.into_iter().map(told).collect()
}

fn tube_under<'t>(truss: &'t Truss, face: &Face, ends: [usize; 2], method: Method) -> Result<&'t Tube, CoveringFault> {
    let [from, to] = ends.map(|end| &truss.nodes[end].name);
    let Some(tube) = tube_between(truss, ends) else {
        let message = format!("the ring of face {:?} is not closed: no tube runs from {from:?} to {to:?}", face.name);
        return Err(fault(
            &face.at,
            message,
            "add the tube to \"tubes\", or name the nodes of the ring in their order",
        ));
    };
    if method == Method::Sewn {
        return Ok(tube);
    }
    match lap_over(method, Surface::Fuselage, tube.class) {
        Ok(_) => Ok(tube),
        Err(refused) => {
            let message = format!("face {:?} ends at the tube from {from:?} to {to:?}: {refused}", face.name);
            Err(fault(&face.at, message, "end the face at a longeron or a cross tube"))
        }
    }
}

fn border<'t>(truss: &'t Truss, tube: &'t Tube, face: usize, met: &[Use]) -> Border<'t> {
    let own = truss.faces[face].order;
    let faces = met.iter().map(|other| &truss.faces[other.face]);
    Border {
        tube,
        under: faces.filter(|other| other.order < own).max_by_key(|other| other.order),
        shared: met.len() > 1,
        meets_own_image: met.iter().any(|other| other.face == face && other.image)
            && met.iter().any(|other| other.face == face && !other.image),
    }
}
