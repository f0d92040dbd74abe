//! The engine's answer as the file that others read.

use std::collections::BTreeMap;

use geo_types::LineString;

use crate::job::{Cloth, Job, Piece};
use crate::nest::{Budget, ClothLay, Lay, Placed};
use crate::shape::Pose;

use super::{LaidCloth, LaidPiece, LayFile, UnplacedPiece};

/// Coordinates are written to this many millimetres: a hundredth of what the independent check tolerates, and far
/// finer than scissors.
pub const COORDINATE_STEP: f64 = 1e-4;

/// Turns are written to this many degrees: over ten metres of cloth that is less than two ten-thousandths of a
/// millimetre.
const TURN_STEP: f64 = 1e-6;

/// Shares are written to a millionth.
const SHARE_STEP: f64 = 1e-6;

/// Turns the engine's answer into a lay file, its copies numbered in the order of cutting; `pieces` are those that the engine's task was made from.
pub fn record(
    job: &Job,
    pieces: &[Piece],
    lay: &Lay,
    job_path: &str,
    budget: &Budget,
    cautions: Vec<String>,
) -> LayFile {
    let unplaced = lay.unplaced.iter().map(|unplaced| UnplacedPiece {
        piece: pieces[unplaced.piece].name.clone(),
        copy: unplaced.copy,
        why: unplaced.why.clone(),
    });
    let mut file = LayFile {
        format: 1,
        job: job_path.to_owned(),
        seed: budget.seed,
        effort: budget.effort,
        cloths: lay.cloths.iter().map(|cloth| laid_cloth(job, pieces, cloth)).collect(),
        unplaced: unplaced.collect(),
        tape: None,
        cautions,
        rest: None,
        take_off: Vec::new(),
    };
    number_copies(&mut file);
    file
}

/// Numbers the copies of each piece as they are met while cutting: cloth after cloth, from the roll's end on, from the
/// lower edge up. Copies without a place come last.
fn number_copies(file: &mut LayFile) {
    let mut next: BTreeMap<String, u32> = BTreeMap::new();
    let mut number = |piece: &str| {
        let copy = next.entry(piece.to_owned()).or_default();
        *copy += 1;
        *copy
    };
    for cloth in &mut file.cloths {
        let mut order: Vec<&mut LaidPiece> = cloth.pieces.iter_mut().collect();
        order.sort_by(|one, other| {
            let lowest = |piece: &LaidPiece, axis: usize| piece.span(axis)[0];
            lowest(one, 0).total_cmp(&lowest(other, 0)).then(lowest(one, 1).total_cmp(&lowest(other, 1)))
        });
        for laid in order {
            laid.copy = number(&laid.piece);
        }
    }
    for unplaced in &mut file.unplaced {
        unplaced.copy = number(&unplaced.piece);
    }
}

fn laid_cloth(job: &Job, pieces: &[Piece], lay: &ClothLay) -> LaidCloth {
    let cloth = &job.cloth[lay.cloth];
    let placed = lay.placed.iter().map(|placed| laid_piece(&pieces[placed.piece], placed));
    let mut laid = LaidCloth { number: lay.number, pieces: placed.collect(), ..LaidCloth::empty(cloth) };
    laid.measure(cloth, pieces);
    laid
}

impl LaidCloth {
    /// A cloth with nothing on it yet.
    pub(super) fn empty(cloth: &Cloth) -> Self {
        Self {
            cloth: cloth.name.clone(),
            number: 1,
            width: round(cloth.width, COORDINATE_STEP),
            usable: cloth.usable().map(|y| round(y, COORDINATE_STEP)),
            length_used: 0.0,
            waste: 1.0,
            density: 0.0,
            pieces: Vec::new(),
        }
    }

    /// Works out its figures from what lies on it.
    pub(super) fn measure(&mut self, cloth: &Cloth, pieces: &[Piece]) {
        let areas: BTreeMap<&str, f64> = pieces.iter().map(|piece| (piece.name.as_str(), piece.cut.area())).collect();
        let length = self.pieces.iter().flat_map(|piece| &piece.outline).map(|point| point[0]).fold(0.0, f64::max);
        let area: f64 = self.pieces.iter().filter_map(|laid| areas.get(laid.piece.as_str())).sum();
        let share = |width: f64| if length > 0.0 { area / (width * length) } else { 0.0 };
        let [low, high] = cloth.usable();
        self.length_used = length;
        self.waste = round(1.0 - share(cloth.width), SHARE_STEP);
        self.density = round(share(high - low), SHARE_STEP);
    }
}

fn laid_piece(piece: &Piece, placed: &Placed) -> LaidPiece {
    let pose = Pose {
        turn: round(placed.pose.turn.rem_euclid(360.0), TURN_STEP).rem_euclid(360.0),
        flipped: placed.pose.flipped,
        at: geo_types::coord! {
            x: round(placed.pose.at.x, COORDINATE_STEP),
            y: round(placed.pose.at.y, COORDINATE_STEP),
        },
    };
    let laid = pose.apply_to(&piece.cut);
    let polygon = laid.polygon();
    LaidPiece {
        piece: piece.name.clone(),
        copy: placed.copy,
        turn: pose.turn,
        flipped: pose.flipped,
        at: [pose.at.x, pose.at.y],
        outline: ring(polygon.exterior()),
        holes: polygon.interiors().iter().map(ring).collect(),
    }
}

fn ring(closed: &LineString<f64>) -> Vec<[f64; 2]> {
    let open = closed.0.len().saturating_sub(1);
    closed.0[..open].iter().map(|p| [round(p.x, COORDINATE_STEP), round(p.y, COORDINATE_STEP)]).collect()
}

/// Rounds to the nearest multiple of a step that is a negative power of ten; never gives −0.
pub(super) fn round(value: f64, step: f64) -> f64 {
    let scale = libm::round(1.0 / step);
    libm::round(value * scale) / scale + 0.0
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn copies_are_numbered_along_the_roll_and_those_without_a_place_last() {
        let laid = |piece: &str, x: f64, y: f64| LaidPiece {
            piece: piece.into(),
            copy: 9,
            turn: 0.0,
            flipped: false,
            at: [x, y],
            outline: vec![[x, y], [x + 5.0, y], [x, y + 5.0]],
            holes: Vec::new(),
        };
        let cloth = |pieces| LaidCloth {
            cloth: "roll".into(),
            number: 1,
            width: 100.0,
            usable: [0.0, 100.0],
            length_used: 50.0,
            waste: 0.5,
            density: 0.5,
            pieces,
        };
        let mut file = LayFile {
            format: 1,
            job: "job.json".into(),
            seed: 1,
            effort: 1,
            cloths: vec![
                cloth(vec![laid("doily", 30.0, 0.0), laid("gusset", 20.0, 0.0), laid("doily", 0.0, 40.0)]),
                cloth(vec![laid("doily", 7.0, 60.0), laid("doily", 7.0, 20.0)]),
            ],
            unplaced: vec![UnplacedPiece { piece: "doily".into(), copy: 1, why: "too large".into() }],
            tape: None,
            cautions: Vec::new(),
            rest: None,
            take_off: Vec::new(),
        };
        number_copies(&mut file);
        let copies: Vec<Vec<u32>> =
            file.cloths.iter().map(|cloth| cloth.pieces.iter().map(|laid| laid.copy).collect()).collect();
        assert_eq!(copies, [vec![2, 1, 1], vec![4, 3]]);
        assert_eq!(file.unplaced[0].copy, 5);
    }

    #[test]
    fn rounding_gives_short_numbers_and_no_negative_zero() {
        assert_eq!(round(1.234_56, COORDINATE_STEP), 1.2346);
        assert_eq!(round(-0.000_01, COORDINATE_STEP).to_string(), "0");
        assert_eq!(round(0.1 + 0.2, COORDINATE_STEP).to_string(), "0.3");
    }
}
