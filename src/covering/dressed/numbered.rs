//! Dresses every part of a job and numbers what it takes.

use super::clashes;
use super::cut::Cut;
use super::laced::laced;
use super::openings::{drains, rings};
use super::patches::{PatchChoice, patches, sizes, told_uncovered};
use super::quantities::quantities;
use super::tapes::tapes;
use crate::covering::CoveredPart;
use crate::covering::desk::Desk;
use crate::covering::dressing::patch_margin;
use crate::job::Piece;

/// Puts everything onto the parts, and gives the pieces that are cut for it.
pub(in crate::covering) fn dress(desk: &mut Desk, parts: &mut [CoveredPart]) -> (Vec<Piece>, PatchChoice) {
    let mut cut = Cut::default();
    let margin = match patch_margin(&desk.book) {
        Ok(margin) => margin,
        // Every set of rules has it; without one no patch has a size.
        Err(_) => return (Vec::new(), PatchChoice::default()),
    };
    let (sizes, choice) = sizes(&desk.rules.patch_sizes, margin.used, desk.job.units, parts);
    told_uncovered(desk, margin.used, parts);
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
            ribs: laced(desk, part, &covered.faces, &mut cut),
            quantities: Vec::new(),
        };
        fitting += dressed.patches.len();
        dressed.quantities = quantities(desk, part, covered, &dressed);
        covered.dressed = dressed;
    }
    let panels = parts.iter().flat_map(|part| &part.panels).map(|panel| panel.strips.len()).sum::<usize>();
    let pieces = cut.into_pieces();
    number(parts, &pieces, desk.job.pieces.len() + panels);
    for covered in parts.iter() {
        clashes::told(desk, covered, &covered.dressed);
    }
    (pieces, choice)
}

/// Numbers tapes in the order of the work, drains as they are met, and everything that is cut from cloth as it is numbered everywhere: by its
/// piece among all pieces of the job and its copies, `12·3`, as lays, cut lists and templates have it.
fn number(parts: &mut [CoveredPart], cut: &[Piece], before: usize) {
    let mut tapes = 0;
    let mut holes = 0;
    let mut copies = vec![0; cut.len()];
    let mut next = |piece: &str, count: u32| -> Option<String> {
        let index = cut.iter().position(|known| known.name == piece)?;
        let first = copies[index] + 1;
        copies[index] += count;
        let number = before + index + 1;
        Some(match (cut[index].quantity, count) {
            (1, _) => number.to_string(),
            (_, 1) => format!("{number}·{first}"),
            _ => format!("{number}·{first}–{}", copies[index]),
        })
    };
    for dressed in parts.iter_mut().map(|part| &mut part.dressed) {
        for tape in &mut dressed.tapes {
            tapes += 1;
            tape.number = format!("T{tapes}");
        }
        for patch in &mut dressed.patches {
            patch.number = next(&patch.piece, patch.hands * patch.layers).unwrap_or_default();
        }
        for ring in &mut dressed.rings {
            ring.number = next(&ring.piece, ring.hands).unwrap_or_default();
        }
        for drain in &mut dressed.drains {
            holes += 1;
            drain.number = format!("D{holes}");
            drain.patch_number = drain.piece.as_ref().and_then(|piece| next(piece, drain.hands));
        }
    }
}
