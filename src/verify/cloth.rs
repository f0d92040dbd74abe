//! One cloth and what lies on it.

use geo_types::Coord;
use rayon::prelude::*;

use super::edges::{Measured, Shape};
use super::measure;
use super::{Fault, Finding, Named, TOLERANCE};
use crate::nest::{Cloth, Turns};
use crate::shape::{Outline, Pose};

/// Faults between pieces that are shown for a cloth; a lay with more is broken as a whole.
const MOST_SHOWN: usize = 200;
/// Pieces whose neighbours are looked at before the count of faults is.
const BATCH: usize = 256;

/// One copy of a piece as it lies on cloth.
#[derive(Clone, Debug, PartialEq)]
pub struct Laid<'a> {
    /// Its name and copy number.
    pub name: Named,
    /// The cut outline in the piece's own coordinates.
    pub cut: &'a Outline,
    /// Where it lies.
    pub pose: Pose,
    /// The turns that its grain allows.
    pub turns: &'a Turns,
    /// Whether the piece may be laid face down.
    pub flip: bool,
}

/// Checks one cloth: all pieces inside the usable width, the length and the region; off the flaws; turns and flips as
/// allowed; the gap kept, and no overlap.
///
/// A rule may be missed by [`TOLERANCE`] millimetres. The gap holds between pieces; the edges of the cloth and of its
/// flaws may be touched. A turn may miss the allowed ones by as much as moves no point of the piece by more than that.
///
/// # Example
/// ```
/// use clothwright::nest::{Cloth, Turns};
/// use clothwright::shape::{Outline, Pose};
/// use clothwright::verify::{Laid, Named, check_cloth};
/// use geo_types::{Coord, polygon};
///
/// let square = Outline::new(polygon![(x: 0., y: 0.), (x: 50., y: 0.), (x: 50., y: 50.), (x: 0., y: 50.)])?;
/// let along = Turns::These { angles: vec![0., 180.], tilt: 0. };
/// let roll = Cloth {
///     usable: [0., 100.], length: None, region: None, flaws: vec![], count: 1, price: 1., faces_alike: false,
/// };
/// let laid = |copy, x| Laid {
///     name: Named::new("patch", copy),
///     cut: &square,
///     pose: Pose { turn: 0., flipped: false, at: Coord { x, y: 0. } },
///     turns: &along,
///     flip: false,
/// };
/// let found = check_cloth(&Named::new("roll", 1), &roll, 0., &[laid(1, 0.), laid(2, 49.)]);
/// assert_eq!(found.len(), 1);
/// assert!(found[0].to_string().starts_with("roll 1: patch 1 overlaps patch 2 by 1 mm"));
/// assert!(check_cloth(&Named::new("roll", 1), &roll, 0., &[laid(1, 0.), laid(2, 50.)]).is_empty());
/// # Ok::<(), clothwright::shape::OutlineFault>(())
/// ```
pub fn check_cloth(name: &Named, cloth: &Cloth, gap: f64, laid: &[Laid]) -> Vec<Finding> {
    let mut faults = Vec::new();
    let mut lying = Vec::new();
    for piece in laid {
        if is_finite(&piece.pose) {
            faults.extend(check_turn(&piece.name, piece.turns, &piece.pose, farthest(piece.cut)));
            faults.extend(check_flip(&piece.name, piece.flip, cloth, &piece.pose));
            lying.push((piece.name.clone(), Shape::of(&piece.pose.apply_to(piece.cut))));
        } else {
            faults.push(not_finite(&piece.name));
        }
    }
    faults.extend(check_places(cloth, gap, &lying));
    faults.into_iter().map(|fault| Finding { cloth: Some(name.clone()), fault }).collect()
}

/// Checks where shapes lie on a cloth and to each other.
pub(super) fn check_places(cloth: &Cloth, gap: f64, lying: &[(Named, Shape)]) -> Vec<Fault> {
    let mut faults: Vec<Fault> = lying.iter().flat_map(|(name, shape)| check_edges(name, shape, cloth)).collect();
    faults.extend(check_area(cloth, lying));
    faults.extend(check_neighbours(gap, lying));
    faults
}

pub(super) fn is_finite(pose: &Pose) -> bool {
    pose.turn.is_finite() && pose.at.x.is_finite() && pose.at.y.is_finite()
}

pub(super) fn not_finite(piece: &Named) -> Fault {
    Fault::NotFinite { what: format!("the place of {piece}") }
}

/// Distance of the farthest point of a piece from its own origin.
pub(super) fn farthest(cut: &Outline) -> f64 {
    cut.polygon().exterior().0.iter().map(|point| point.x.hypot(point.y)).fold(0.0, f64::max)
}

/// Checks a turn against those that the grain allows; `farthest` is the distance of the piece's farthest point from its
/// origin.
pub(super) fn check_turn(piece: &Named, turns: &Turns, pose: &Pose, farthest: f64) -> Option<Fault> {
    let Turns::These { angles, tilt } = turns else { return None };
    let off_from = |angle: f64| {
        let apart = (pose.turn - angle).rem_euclid(360.0);
        apart.min(360.0 - apart) - tilt
    };
    let off = angles.iter().map(|angle| off_from(*angle)).fold(f64::INFINITY, f64::min);
    let allowed = (TOLERANCE / farthest.max(TOLERANCE)).to_degrees();
    (off > allowed).then(|| Fault::WrongTurn { piece: piece.clone(), turn: pose.turn, off })
}

/// Checks whether a piece may lie face down.
pub(super) fn check_flip(piece: &Named, may_flip: bool, cloth: &Cloth, pose: &Pose) -> Option<Fault> {
    let why = match (pose.flipped, may_flip, cloth.faces_alike) {
        (false, ..) | (true, true, true) => return None,
        (true, false, _) => "the piece may not be flipped",
        (true, true, false) => "the faces of the cloth are not alike",
    };
    Some(Fault::WrongFlip { piece: piece.clone(), why })
}

/// Checks a shape against the usable width and the length.
fn check_edges(name: &Named, shape: &Shape, cloth: &Cloth) -> Vec<Fault> {
    let bounds = shape.bounds();
    let over_edge = |edge, by, limit| Fault::OverEdge { piece: name.clone(), edge, by, limit };
    let over_end = |end, by, limit| Fault::OverEnd { piece: name.clone(), end, by, limit };
    let [low, high] = cloth.usable;
    let mut faults = Vec::new();
    if low - bounds.min.y > TOLERANCE {
        faults.push(over_edge("lower", low - bounds.min.y, low));
    }
    if bounds.max.y - high > TOLERANCE {
        faults.push(over_edge("upper", bounds.max.y - high, high));
    }
    if -bounds.min.x > TOLERANCE {
        faults.push(over_end("start", -bounds.min.x, 0.0));
    }
    if let Some(length) = cloth.length
        && bounds.max.x - length > TOLERANCE
    {
        faults.push(over_end("end", bounds.max.x - length, length));
    }
    faults
}

/// Checks shapes against the outline of the cloth and its flaws.
fn check_area(cloth: &Cloth, lying: &[(Named, Shape)]) -> Vec<Fault> {
    let region = cloth.region.as_ref().map(Shape::of);
    let flaws: Vec<Shape> = cloth.flaws.iter().map(Shape::of).collect();
    let check = |(name, shape): &(Named, Shape)| {
        let off = region.as_ref().and_then(|region| measure::outside(shape, region));
        let off = off.map(|found| Fault::OffCloth { piece: name.clone(), by: found.mm, at: found.at });
        let on = flaws.iter().enumerate().filter_map(|(index, flaw)| {
            let found = measure::overlap(shape, flaw)?;
            Some(Fault::OnFlaw { piece: name.clone(), flaw: index + 1, depth: found.mm, at: found.at })
        });
        off.into_iter().chain(on).collect::<Vec<_>>()
    };
    lying.par_iter().map(check).collect::<Vec<_>>().concat()
}

/// Checks every two shapes whose boxes come near each other, swept along the roll.
fn check_neighbours(gap: f64, lying: &[(Named, Shape)]) -> Vec<Fault> {
    let mut order: Vec<usize> = (0..lying.len()).collect();
    order.sort_by(|a, b| lying[*a].1.bounds().min.x.total_cmp(&lying[*b].1.bounds().min.x));
    let check_one = |position: &usize| {
        let (first, rest) = (order[*position], &order[position + 1..]);
        let reach = lying[first].1.bounds().max.x + gap;
        rest.iter()
            .take_while(|second| lying[**second].1.bounds().min.x <= reach)
            .filter_map(|second| check_pair(gap, lying, first.min(*second), first.max(*second)))
            .take(MOST_SHOWN + 1)
            .collect::<Vec<_>>()
    };
    let mut faults = Vec::new();
    let positions: Vec<usize> = (0..order.len()).collect();
    for batch in positions.chunks(BATCH) {
        faults.extend(batch.par_iter().map(check_one).collect::<Vec<_>>().concat());
        if faults.len() > MOST_SHOWN {
            faults.truncate(MOST_SHOWN);
            faults.push(Fault::More { shown: MOST_SHOWN });
            break;
        }
    }
    faults
}

fn check_pair(gap: f64, lying: &[(Named, Shape)], first: usize, second: usize) -> Option<Fault> {
    let ((one, shape), (other, facing)) = (&lying[first], &lying[second]);
    if !shape.bounds().near(facing.bounds(), gap) {
        return None;
    }
    let pair = || (one.clone(), other.clone());
    if let Some(Measured { mm: depth, at }) = measure::overlap(shape, facing) {
        let (one, other) = pair();
        return Some(Fault::Overlap { one, other, depth, at });
    }
    if gap <= TOLERANCE {
        return None;
    }
    let found = measure::nearer_than(shape, facing, gap - TOLERANCE)?;
    let (one, other) = pair();
    Some(Fault::GapNotKept { one, other, distance: found.mm, gap, at: found.at })
}

/// Greatest x that the shapes reach, zero for none.
pub(super) fn length_used(lying: &[(Named, Shape)]) -> f64 {
    lying.iter().map(|(_, shape)| shape.bounds().max.x).fold(0.0, f64::max)
}

/// Points as coordinates.
pub(super) fn coordinates(points: &[[f64; 2]]) -> Vec<Coord<f64>> {
    points.iter().map(|[x, y]| Coord { x: *x, y: *y }).collect()
}
