//! Whose each piece is: a patch of one size may go onto several parts.

use std::collections::BTreeMap;

use crate::covering::{CoveredPart, Covering};
use crate::job::{Job, Piece};
use crate::plan::is_tape_strip;

/// Name of those pieces that belong to no part.
pub(super) const GIVEN: &str = "pieces of the job";
/// Name of strips that finishing tape is cut from.
pub(super) const TAPE: &str = "tape strips";
/// Name of the patches of repairs.
pub(super) const REPAIRS: &str = "repairs";

/// For each piece by its name, the owners and how many copies each has.
pub(super) type Owners = BTreeMap<String, Vec<(String, u32)>>;

/// Who owns the copies of each piece.
pub(super) fn owners(job: &Job, covering: &Covering, pieces: &[Piece]) -> Owners {
    let mut owners = Owners::new();
    let mut own = |piece: &str, owner: &str, copies: u32| {
        let shares = owners.entry(piece.to_owned()).or_default();
        match shares.iter_mut().find(|(known, _)| known == owner) {
            Some((_, sum)) => *sum += copies,
            None => shares.push((owner.to_owned(), copies)),
        }
    };
    for part in &covering.parts {
        for piece in part.panels.iter().flat_map(|panel| panel.pieces(job.units)) {
            own(&piece.name, &part.name, piece.quantity);
        }
        for (piece, copies) in dressed(part) {
            own(piece, &part.name, copies);
        }
    }
    for piece in covering.repairs.iter().filter_map(|repair| repair.patch.as_ref()) {
        own(&piece.name, REPAIRS, piece.quantity);
    }
    for piece in pieces {
        let owner = if is_tape_strip(piece) { TAPE } else { GIVEN };
        owners.entry(piece.name.clone()).or_insert_with(|| vec![(owner.to_owned(), piece.quantity)]);
    }
    owners
}

/// Small pieces that go onto a part, with how many copies.
fn dressed(part: &CoveredPart) -> impl Iterator<Item = (&str, u32)> {
    let patches = part.dressed.patches.iter().map(|patch| (patch.piece.as_str(), patch.hands * patch.layers));
    let rings = part.dressed.rings.iter().map(|ring| (ring.piece.as_str(), ring.hands));
    let drains = part.dressed.drains.iter().filter_map(|drain| Some((drain.piece.as_deref()?, drain.hands)));
    patches.chain(rings).chain(drains)
}
