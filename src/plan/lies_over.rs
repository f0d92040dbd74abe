//! What each copy of a patch, doily or drain patch lies over: the tie between the cut list and the covering map.

use std::collections::BTreeMap;

use crate::covering::{CoveredPart, Covering};

/// What lies under each copy of each piece that goes onto the panels, by the name of the piece and the copy, from 1: `rudder
/// hinge 1 (fin, first side)`, `D12 (wing, bottom)`. Copies are counted as the numbers of the map count them.
pub fn lies_over(covering: &Covering) -> BTreeMap<(&str, u32), String> {
    let mut next: BTreeMap<&str, u32> = BTreeMap::new();
    let mut over = BTreeMap::new();
    for part in &covering.parts {
        for (piece, copies, words) in things(part) {
            let count = next.entry(piece).or_default();
            for copy in *count + 1..=*count + copies {
                over.insert((piece, copy), words.clone());
            }
            *count += copies;
        }
    }
    over
}

/// Everything with a piece on a part, in the order in which the map counts.
fn things(part: &CoveredPart) -> Vec<(&str, u32, String)> {
    let dressed = &part.dressed;
    let on = |what: &str, face: usize| {
        let face = part.faces.get(face).map_or("", |face| face.name.as_str());
        format!("{what} ({}, {face})", part.name)
    };
    let patches = dressed
        .patches
        .iter()
        .map(|patch| (patch.piece.as_str(), patch.hands * patch.layers, on(&patch.over, patch.face)));
    let rings = dressed.rings.iter().map(|ring| (ring.piece.as_str(), ring.hands, on(&ring.name, ring.face)));
    let drains = dressed
        .drains
        .iter()
        .filter_map(|drain| Some((drain.piece.as_deref()?, drain.hands, on(&drain.number, drain.face))));
    patches.chain(rings).chain(drains).collect()
}
