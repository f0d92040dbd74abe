//! The engine's answer against its question.

use super::cloth::length_used;
use super::counts::{check_cloths, check_copies};
use super::edges::Shape;
use super::{Fault, Finding, Laid, Named, TOLERANCE, check_cloth};
use crate::nest::{ClothLay, Lay, Task};

/// Checks the answer of [`crate::nest::lay`] against the task that it was asked.
///
/// Pieces and cloths go by `piece` and `cloth` with their index in the task, since a task has no names.
pub fn verify_task(task: &Task, lay: &Lay) -> Vec<Finding> {
    let cloth_name = |index: usize| format!("cloth {index}, number");
    let piece_name = |index: usize| format!("piece {index}, copy");
    let wanted: Vec<_> =
        task.pieces.iter().enumerate().map(|(i, piece)| (piece_name(i), (1..=piece.quantity).collect())).collect();
    let known: Vec<_> = task.cloths.iter().enumerate().map(|(i, cloth)| (cloth_name(i), cloth.count)).collect();
    let laid = lay.cloths.iter().flat_map(|cloth| &cloth.placed).map(|placed| (placed.piece, placed.copy));
    let unplaced = lay.unplaced.iter().map(|unplaced| (unplaced.piece, unplaced.copy));
    let copies: Vec<_> = laid.chain(unplaced).collect();

    let whole = |fault| Finding { cloth: None, fault };
    let mut findings = Vec::new();
    for (piece, _) in copies.iter().filter(|(piece, _)| *piece >= task.pieces.len()) {
        findings.push(whole(Fault::UnknownPiece { name: format!("piece {piece}") }));
    }
    let named = copies.iter().map(|(piece, copy)| Named::new(piece_name(*piece), *copy));
    findings.extend(check_copies(&wanted, named).into_iter().map(whole));
    for unplaced in lay.unplaced.iter().filter(|unplaced| unplaced.why.trim().is_empty()) {
        let piece = Named::new(piece_name(unplaced.piece), unplaced.copy);
        findings.push(whole(Fault::NoReason { piece }));
    }
    let cloths: Vec<_> = lay.cloths.iter().map(|cloth| Named::new(cloth_name(cloth.cloth), cloth.number)).collect();
    let faulty = check_cloths(&known, &cloths).into_iter();
    findings.extend(faulty.map(|(cloth, fault)| Finding { cloth: Some(cloth), fault }));
    for (name, cloth) in cloths.iter().zip(&lay.cloths) {
        findings.extend(check_answer(task, name, cloth, piece_name));
    }
    findings
}

fn check_answer(task: &Task, name: &Named, lay: &ClothLay, piece_name: impl Fn(usize) -> String) -> Vec<Finding> {
    let Some(cloth) = task.cloths.get(lay.cloth) else {
        return vec![Finding { cloth: None, fault: Fault::UnknownCloth { name: format!("cloth {}", lay.cloth) } }];
    };
    let known = || lay.placed.iter().filter_map(|placed| Some((placed, task.pieces.get(placed.piece)?)));
    let laid: Vec<_> = known()
        .map(|(placed, piece)| Laid {
            name: Named::new(piece_name(placed.piece), placed.copy),
            cut: &piece.outline,
            pose: placed.pose,
            turns: &piece.turns,
            flip: piece.flip,
        })
        .collect();
    let on_cloth = |fault| Finding { cloth: Some(name.clone()), fault };
    let mut findings = check_cloth(name, cloth, task.gap, &laid);
    for ((_, piece), laid) in known().zip(&laid) {
        if piece.cloths.as_ref().is_some_and(|allowed| !allowed.contains(&lay.cloth)) {
            findings.push(on_cloth(Fault::WrongCloth { piece: laid.name.clone() }));
        }
    }
    let lying: Vec<_> = laid.iter().map(|laid| (laid.name.clone(), Shape::of(&laid.pose.apply_to(laid.cut)))).collect();
    let found = length_used(&lying);
    let agrees = (lay.length_used - found).abs() <= TOLERANCE;
    if !agrees {
        findings.push(on_cloth(Fault::WrongFigure { what: "the length used", given: lay.length_used, found }));
    }
    findings
}
