//! A lay of the rest against the log that it starts from.

use std::collections::BTreeMap;

use super::cloth::{check_places, coordinates};
use super::edges::Shape;
use super::written::{ground, verify_pieces};
use super::{Fault, Finding, Named};
use crate::nest::Cloth;
use crate::plan::ledger::{Rest, Standing, stock_name};
use crate::plan::{LaidCloth, LaidPiece, LayFile};

/// Checks a lay of the rest: all that [`verify_lay`](super::verify_lay) checks, for the pieces and copies that are still to
/// be cut and the cloths that are there; and, from the lines of the log alone, that nothing lies where something was cut
/// before or nearer to it than the gap, or where cloth was thrown away.
pub fn verify_rest(lay: &LayFile, rest: &Rest, standing: &Standing) -> Vec<Finding> {
    let copies: &BTreeMap<String, Vec<u32>> = &rest.copies;
    let left = |piece: &crate::job::Piece| copies.get(&piece.name).cloned().unwrap_or_default();
    let mut findings = verify_pieces(lay, &rest.job, &rest.pieces, left);
    for cloth in &lay.cloths {
        let name = Named::new(&cloth.cloth, cloth.number);
        let faults = on_cut_cloth(cloth, rest, standing).into_iter();
        findings.extend(faults.map(|fault| Finding { cloth: Some(name.clone()), fault }));
    }
    findings
}

/// Faults between what lies on a cloth and what was cut out of it.
fn on_cut_cloth(cloth: &LaidCloth, rest: &Rest, standing: &Standing) -> Vec<Fault> {
    let name = stock_name(&cloth.cloth, cloth.number);
    let Some(of_rest) = rest.job.cloth.iter().find(|there| there.name == name) else { return Vec::new() };
    let Ok(ground) = ground(of_rest) else { return Vec::new() };
    // An endless table without edges and flaws: those have been checked.
    let far = f64::MAX / 4.0;
    let table = Cloth { usable: [-far, far], length: None, region: None, flaws: Vec::new(), ..ground };
    let shape = |outline: &[[f64; 2]], holes: &[Vec<[f64; 2]>]| {
        let holes: Vec<_> = holes.iter().map(|hole| coordinates(hole)).collect();
        Shape::from_rings(&coordinates(outline), holes.iter().map(Vec::as_slice))
    };
    let named = |laid: &LaidPiece| Named::new(&laid.piece, laid.copy);
    let new = cloth.pieces.iter().map(|laid| (named(laid), shape(&laid.outline, &laid.holes)));
    let mut lying: Vec<(Named, Shape)> = new.collect();
    let mut cut = Vec::new();
    for before in standing.cuts.iter().filter(|before| before.cloth.as_ref() == Some(&name)) {
        let Some(laid) = &before.laid else { continue };
        let called = Named::new(format!("(cut before) {}", before.piece), before.copy);
        // What fell out of a hole is scrap, but a hole that is still to be cut may lie round what was cut before.
        lying.push((called.clone(), shape(&laid.outline, &[])));
        cut.push(called);
    }
    let gone = standing.gone_up_to.get(&name).copied().unwrap_or(0.0);
    let is_gone = |laid: &&LaidPiece| laid.span(0)[0] < gone - super::TOLERANCE;
    let on_gone = cloth.pieces.iter().filter(is_gone).map(|laid| Fault::ClothGone { piece: named(laid) });
    let between = check_places(&table, rest.job.gap, &lying).into_iter().filter(|fault| match fault {
        Fault::Overlap { one, other, .. } | Fault::GapNotKept { one, other, .. } => {
            cut.contains(one) != cut.contains(other)
        }
        Fault::More { .. } => true,
        _ => false,
    });
    between.chain(on_gone).collect()
}
