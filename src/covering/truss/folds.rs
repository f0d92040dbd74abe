//! Where a face is bent over a tube across it: outwards, the cloth runs round the tube; inwards, tight cloth leaves it.

use super::sheet::{Across, Sheet};
use crate::job::Truss;
use crate::shape::SpacePoint;

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
    let [one, other] = [&bays[0], &bays[1]].map(|bay| unit(outward(bay)));
    let cosine: f64 = dot(one, other).clamp(-1.0, 1.0);
    let angle = libm::acos(cosine);
    let arc = angle * across.tube.diameter / 2.0;
    if arc < least {
        return None;
    }
    // The nodes of the second bay lie below the plane of the first where the bend is outwards.
    let foot = place(&across.ends[0]);
    let below: f64 = bays[1].iter().map(|node| dot(one, std::array::from_fn(|k| node[k] - foot[k]))).sum();
    Some(Fold {
        nodes: sheet.names(truss, across.ends),
        degrees: angle.to_degrees(),
        longer: (below < 0.0).then_some(arc),
    })
}

/// Square to a bay on the side from which its nodes run counter-clockwise.
pub(super) fn outward(nodes: &[SpacePoint]) -> SpacePoint {
    let mut normal = [0.0; 3];
    for (i, point) in nodes.iter().enumerate() {
        let next = nodes[(i + 1) % nodes.len()];
        let [a, b]: [SpacePoint; 2] = [*point, next].map(|place| std::array::from_fn(|k| place[k] - nodes[0][k]));
        for (k, sum) in normal.iter_mut().enumerate() {
            let (l, m) = ((k + 1) % 3, (k + 2) % 3);
            *sum += a[l] * b[m] - a[m] * b[l];
        }
    }
    normal
}

fn unit(a: SpacePoint) -> SpacePoint {
    let length = dot(a, a).sqrt();
    a.map(|value| value / length)
}

fn dot(a: SpacePoint, b: SpacePoint) -> f64 {
    a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
}
