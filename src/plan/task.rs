//! The job in the words of the engine: outlines, allowed turns, indices instead of names.

use crate::job::{self, Grain, GrainDirection, Job};
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
        usable: [cloth.selvage[0], cloth.width - cloth.selvage[1]],
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

/// The turns that a grain allows, in degrees counter-clockwise.
///
/// Warp and fill have no direction of their own, so a half turn keeps the grain, unless the cloth has an up and a
/// down; bias is 45° to the warp (AC 43.13-1B, paragraph 2-13c, speaks of bias-cut tape).
pub fn turns(grain: Grain) -> Turns {
    let angles: &[f64] = match (grain.direction, grain.one_way) {
        (GrainDirection::Free, _) => return Turns::Any,
        (GrainDirection::Along, false) => &[0.0, 180.0],
        (GrainDirection::Along, true) => &[0.0],
        (GrainDirection::Across, false) => &[90.0, 270.0],
        (GrainDirection::Across, true) => &[90.0],
        (GrainDirection::Either, false) => &[0.0, 90.0, 180.0, 270.0],
        (GrainDirection::Either, true) => &[0.0, 90.0],
        (GrainDirection::Bias, false) => &[45.0, 135.0, 225.0, 315.0],
        (GrainDirection::Bias, true) => &[45.0, 135.0],
    };
    Turns::These { angles: angles.to_vec(), tilt: grain.tolerance }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn angles(direction: GrainDirection, one_way: bool) -> Vec<f64> {
        match turns(Grain { direction, tolerance: 2.0, one_way }) {
            Turns::These { angles, tilt } => {
                assert_eq!(tilt, 2.0);
                angles
            }
            Turns::Any => Vec::new(),
        }
    }

    #[test]
    fn a_half_turn_keeps_the_grain_unless_the_cloth_has_one_way() {
        assert_eq!(angles(GrainDirection::Along, false), [0.0, 180.0]);
        assert_eq!(angles(GrainDirection::Along, true), [0.0]);
        assert_eq!(angles(GrainDirection::Across, false), [90.0, 270.0]);
        assert_eq!(angles(GrainDirection::Across, true), [90.0]);
        assert_eq!(angles(GrainDirection::Either, true), [0.0, 90.0]);
    }

    #[test]
    fn bias_is_at_45_degrees_to_the_warp() {
        assert_eq!(angles(GrainDirection::Bias, false), [45.0, 135.0, 225.0, 315.0]);
        assert_eq!(angles(GrainDirection::Bias, true), [45.0, 135.0]);
    }

    #[test]
    fn free_grain_allows_any_turn_even_on_one_way_cloth() {
        for one_way in [false, true] {
            let grain = Grain { direction: GrainDirection::Free, tolerance: 0.0, one_way };
            assert_eq!(turns(grain), Turns::Any);
        }
    }
}
