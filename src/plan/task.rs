//! The job in the words of the engine: outlines, allowed turns, indices instead of names.

use crate::job::{self, Grain, Job};
use crate::nest::{Cloth, Piece, Task, Turns};
use crate::shape::Outline;

use super::PlanFault;

/// What the engine is asked for these pieces on the cloths of the job.
///
/// # Errors
/// [`PlanFault`] where an outline of a cloth or a flaw cannot become a polygon, or a piece asks for a cloth that the
/// job does not have.
pub fn task(job: &Job, pieces: &[job::Piece]) -> Result<Task, PlanFault> {
    Ok(Task {
        cloths: job.cloth.iter().map(cloth).collect::<Result<_, _>>()?,
        pieces: pieces.iter().map(|piece| asked_piece(job, piece)).collect::<Result<_, _>>()?,
        gap: job.gap,
    })
}

fn cloth(cloth: &job::Cloth) -> Result<Cloth, PlanFault> {
    let flatten = |curve: &crate::shape::Curve| -> Result<Outline, PlanFault> {
        curve.flatten().map_err(|fault| PlanFault::ClothOutline { cloth: cloth.name.clone(), fault })
    };
    Ok(Cloth {
        usable: cloth.usable(),
        length: cloth.length,
        region: cloth.outline.as_ref().map(flatten).transpose()?,
        flaws: cloth.flaws.iter().map(|flaw| flatten(&flaw.outline)).collect::<Result<_, _>>()?,
        count: cloth.count,
        price: cloth.price.unwrap_or(0.0) / 1000.0,
        faces_alike: cloth.faces_alike,
    })
}

fn asked_piece(job: &Job, piece: &job::Piece) -> Result<Piece, PlanFault> {
    Ok(Piece {
        outline: piece.cut.clone(),
        quantity: piece.quantity,
        turns: turns(piece.grain),
        flip: piece.flip,
        cloths: allowed_cloths(job, piece)?,
    })
}

fn allowed_cloths(job: &Job, piece: &job::Piece) -> Result<Option<Vec<usize>>, PlanFault> {
    if piece.cloth.is_empty() {
        return Ok(None);
    }
    let index = |name: &String| {
        job.cloth
            .iter()
            .position(|cloth| cloth.name == *name)
            .ok_or_else(|| PlanFault::UnknownCloth { piece: piece.name.clone(), cloth: name.clone() })
    };
    piece.cloth.iter().map(index).collect::<Result<_, _>>().map(Some)
}

fn turns(grain: Grain) -> Turns {
    match grain.turns() {
        Some(angles) => Turns::These { angles, tilt: grain.tolerance },
        None => Turns::Any,
    }
}
