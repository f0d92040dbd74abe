//! Where a face is bent over a tube across it: outwards, the cloth runs round the tube; inwards, tight cloth leaves it.

use super::sheet::{Across, Sheet};
use crate::job::Truss;
use crate::shape::{SpacePoint, dot, double_area_vector, length, minus};

/// A bend over a tube, as far as it matters.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Fold {
    /// Names of the nodes that the tube joins.
    pub nodes: [String; 2],
    /// By how many degrees the face bends there.
    pub degrees: f64,
    /// Millimetres by which the way over the tube is longer than from centre line to centre line: the arc of the bend;
    /// `None` where the face is bent inwards.
    pub longer: Option<f64>,
}

/// The bends of a face that lengthen it by `least` millimetres or more, or are hollow by as much.
pub(super) fn folds(truss: &Truss, sheet: &Sheet, least: f64) -> Vec<Fold> {
    sheet.across.iter().filter_map(|across| fold(truss, sheet, across, least)).collect()
}

fn fold(truss: &Truss, sheet: &Sheet, across: &Across, least: f64) -> Option<Fold> {
    let place = |at: &usize| truss.nodes[sheet.ring[*at]].place;
    let mut beside = sheet.bays.iter().filter(|bay| across.ends.iter().all(|end| bay.contains(end)));
    let bays: [Vec<SpacePoint>; 2] = [beside.next()?, beside.next()?].map(|bay| bay.iter().map(place).collect());
    let [one, other] = [&bays[0], &bays[1]].map(|bay| unit(double_area_vector(bay)));
    let cosine: f64 = dot(one, other).clamp(-1.0, 1.0);
    let angle = libm::acos(cosine);
    let arc = angle * across.tube.diameter / 2.0;
    if arc < least {
        return None;
    }
    // The nodes of the second bay lie below the plane of the first where the bend is outwards.
    let foot = place(&across.ends[0]);
    let below: f64 = bays[1].iter().map(|node| dot(one, minus(*node, foot))).sum();
    Some(Fold {
        nodes: sheet.names(truss, across.ends),
        degrees: angle.to_degrees(),
        longer: (below < 0.0).then_some(arc),
    })
}

fn unit(a: SpacePoint) -> SpacePoint {
    let size = length(a);
    a.map(|value| value / size)
}
