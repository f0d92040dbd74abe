//! Every copy once, and no cloth that is not there.

use std::collections::BTreeMap;

use super::{Fault, Named};

/// What the lay says of the copies of all pieces: every copy that is laid or listed as unplaced.
///
/// `wanted` are names and the copies to be laid, in rising order; copies of unknown names are left out, since they are found elsewhere.
pub(super) fn check_copies(wanted: &[(String, Vec<u32>)], seen: impl Iterator<Item = Named>) -> Vec<Fault> {
    let mut times: BTreeMap<Named, usize> = BTreeMap::new();
    for copy in seen {
        *times.entry(copy).or_default() += 1;
    }
    wanted.iter().flat_map(|(name, copies)| check_piece(name, copies, &times)).collect()
}

fn check_piece(name: &str, copies: &[u32], times: &BTreeMap<Named, usize>) -> Vec<Fault> {
    let all = Named::new(name, 0)..=Named::new(name, u32::MAX);
    let found = times.range(all).filter_map(|(piece, &times)| {
        if copies.binary_search(&piece.number).is_err() {
            Some(one_too_many(piece, copies))
        } else {
            (times > 1).then(|| Fault::Repeated { piece: piece.clone(), times })
        }
    });
    let missing = copies.iter().map(|copy| Named::new(name, *copy)).filter(|piece| !times.contains_key(piece));
    found.chain(missing.map(|piece| Fault::Missing { piece })).collect()
}

fn one_too_many(piece: &Named, copies: &[u32]) -> Fault {
    let highest = copies.last().copied().unwrap_or(0);
    let piece = piece.clone();
    // Below the highest number of those to be laid, a copy can only be one that is there already.
    if piece.number == 0 || piece.number > highest {
        Fault::TooMany { piece, quantity: highest }
    } else {
        Fault::NotLeft { piece }
    }
}

/// Checks that each cloth is there and is listed once; `known` are names and counts. Unknown names are left out.
pub(super) fn check_cloths(known: &[(String, u32)], seen: &[Named]) -> Vec<(Named, Fault)> {
    let mut times: BTreeMap<&Named, usize> = BTreeMap::new();
    for cloth in seen {
        *times.entry(cloth).or_default() += 1;
    }
    let check = |(cloth, times): (&Named, usize)| {
        let count = known.iter().find(|(name, _)| *name == cloth.name)?.1;
        if cloth.number == 0 || cloth.number > count {
            Some((cloth.clone(), Fault::NoSuchCloth { count }))
        } else {
            (times > 1).then(|| (cloth.clone(), Fault::ClothRepeated { times }))
        }
    };
    times.into_iter().filter_map(check).collect()
}
