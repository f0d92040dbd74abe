//! The corners that places on a part are measured from, each with a letter.

use geo_types::Coord;

use crate::covering::{CoveredPart, Measure};

/// A corner with the edge that is measured along, and the letter that stands for it in the table and on the map of its part.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct MapFlag {
    /// `A` for the first one of a part; after `Z` comes `A2`.
    pub letter: String,
    /// Which face, as a place among those of the part.
    pub face: usize,
    /// Which datum of that face.
    pub datum: usize,
}

/// The flags of a part that something is measured from, in the order of its faces and their datums.
pub fn map_flags(part: &CoveredPart) -> Vec<MapFlag> {
    let dressed = &part.dressed;
    let patches = dressed.patches.iter().map(|patch| (patch.face, patch.at));
    let rings = dressed.rings.iter().map(|ring| (ring.face, ring.at));
    let drains = dressed.drains.iter().map(|drain| (drain.face, drain.at));
    let laces = dressed.ribs.iter().flat_map(|rib| &rib.places);
    let laces = laces.filter_map(|laces| Some((laces.face, *laces.at.first()?)));
    let all = patches.chain(rings).chain(drains).chain(laces);
    let mut used: Vec<(usize, usize)> =
        all.filter_map(|(face, at)| Some((face, measured_from(part, face, at)?.0))).collect();
    used.sort_unstable();
    used.dedup();
    let flag = |(index, (face, datum)): (usize, (usize, usize))| MapFlag { letter: letter(index), face, datum };
    used.into_iter().enumerate().map(flag).collect()
}

/// Which datum of a face a place is measured from, and where it is; two datums may go by the same names.
pub(super) fn measured_from(part: &CoveredPart, face: usize, at: Coord<f64>) -> Option<(usize, Measure)> {
    let face = part.faces.get(face)?;
    let measure = face.measure(at)?;
    let datum = face.datums.iter().position(|datum| datum.measure(at) == measure)?;
    Some((datum, measure))
}

fn letter(index: usize) -> String {
    let letters = 'A'..='Z';
    let round = index / letters.clone().count();
    let letter = letters.clone().nth(index % letters.count()).unwrap_or('A');
    if round == 0 { letter.to_string() } else { format!("{letter}{}", round + 1) }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn letters_do_not_run_out() {
        assert_eq!([0, 25, 26, 53].map(letter), ["A", "Z", "A2", "B3"]);
    }
}
