//! Dresses every part of a job and numbers what it takes.

use super::laced::laced;
use super::patches::{Cut, PatchChoice, drains, patches, rings, sizes};
use super::quantities::quantities;
use super::tapes::tapes;
use crate::covering::CoveredPart;
use crate::covering::desk::Desk;
use crate::covering::dressing::patch_margin;
use crate::job::Piece;

/// The next number of each kind.
#[derive(Default)]
struct Numbers {
    tapes: u32,
    patches: u32,
    rings: u32,
    drains: u32,
}

/// Puts everything onto the parts, and gives the pieces that are cut for it.
pub(in crate::covering) fn dress(desk: &mut Desk, parts: &mut [CoveredPart]) -> (Vec<Piece>, PatchChoice) {
    let mut cut = Cut::default();
    let margin = match patch_margin(&desk.book) {
        Ok(margin) => margin,
        // Every set of rules has it; without one no patch has a size.
        Err(_) => return (Vec::new(), PatchChoice::default()),
    };
    let (sizes, choice) = sizes(margin.used, parts);
    let mut numbers = Numbers::default();
    let mut fitting = 0;
    for covered in parts.iter_mut() {
        let Some(part) = desk.job.airframe.iter().find(|part| part.name == covered.name) else { continue };
        if covered.faces.iter().any(|face| !face.fittings.is_empty()) {
            desk.note(&margin);
        }
        let mut dressed = super::Dressed {
            tapes: tapes(desk, part, &covered.faces, &covered.panels),
            patches: patches(desk, covered, &sizes, &margin, fitting, &mut cut),
            rings: rings(desk, part, covered, &mut cut).unwrap_or_default(),
            drains: drains(desk, part, covered, &mut cut).unwrap_or_default(),
            ribs: laced(desk, part, &covered.faces),
            quantities: Vec::new(),
        };
        fitting += dressed.patches.len();
        number(&mut dressed, &mut numbers);
        dressed.quantities = quantities(desk, part, covered, &dressed);
        covered.dressed = dressed;
    }
    (cut.pieces, choice)
}

fn number(dressed: &mut super::Dressed, numbers: &mut Numbers) {
    let next = |count: &mut u32, letter: char| {
        *count += 1;
        format!("{letter}{count}")
    };
    dressed.patches.iter_mut().for_each(|patch| patch.number = next(&mut numbers.patches, 'P'));
    dressed.tapes.iter_mut().for_each(|tape| tape.number = next(&mut numbers.tapes, 'T'));
    dressed.rings.iter_mut().for_each(|ring| ring.number = next(&mut numbers.rings, 'R'));
    dressed.drains.iter_mut().for_each(|drain| drain.number = next(&mut numbers.drains, 'D'));
}
