//! The points of an edge that are measured: its corners, where straight lines turn into curves, and as many more as let
//! each curve be drawn from its chord.

use geo_types::Coord;

use super::curves::{STRAIGHT, bulge};
use crate::shape::{distance, turn};

/// A turn of the edge that is a corner and not part of a flattened curve, in degrees. A curve flattened to a tenth of a
/// millimetre turns by less from a radius of 15 mm on; what is rounder still is drawn by hand.
const CORNER: f64 = 14.0;
/// A straight line at least so long beside a curve is drawn as one, in millimetres.
const LINE: f64 = 80.0;
/// Two lines of that length that meet at more degrees than this meet at a corner: a curve so large that its flattened
/// pieces are as long (radius 8 m and more) turns by less from one to the next.
const SLIGHT: f64 = 1.2;
/// How steep a curve may be against its chord, in degrees: offsets from steeper ones cannot be measured well.
const STEEP: f64 = 50.0;

/// Places in the ring of the points that are measured, counter-clockwise from the one nearest to the origin.
///
/// A ring without any corner is measured at its outermost points.
pub(super) fn corners(ring: &[Coord<f64>]) -> Vec<usize> {
    let count = ring.len();
    let mut found: Vec<usize> = (0..count).filter(|place| is_corner(ring, *place)).collect();
    if found.len() < 2 {
        found.extend(outermost(ring));
        found.sort_unstable();
        found.dedup();
    }
    let mut all = Vec::new();
    for (index, from) in found.iter().enumerate() {
        let to = found[(index + 1) % found.len()];
        let to = if to > *from { to } else { to + count };
        all.push(*from);
        split(ring, *from, to, &mut all);
    }
    let mut all: Vec<usize> = all.into_iter().map(|place| place % count).collect();
    without_needless(ring, &mut all);
    let nearest = |place: &usize| ring[*place].x + ring[*place].y;
    let first = (0..all.len()).min_by(|one, other| nearest(&all[*one]).total_cmp(&nearest(&all[*other])));
    all.rotate_left(first.unwrap_or(0));
    all
}

/// Takes out points that lie on a straight line with their neighbours, all between them too: the figures of one of two
/// points 3 mm apart say all that there is to say.
fn without_needless(ring: &[Coord<f64>], all: &mut Vec<usize>) {
    let mut index = 0;
    while index < all.len() && all.len() > 3 {
        let before = all[(index + all.len() - 1) % all.len()];
        let after = all[(index + 1) % all.len()];
        if bulge(&stretch(ring, before, after)) <= STRAIGHT {
            all.remove(index);
        } else {
            index += 1;
        }
    }
}

/// The points of a ring from one to another, both with it.
pub(super) fn stretch(ring: &[Coord<f64>], from: usize, to: usize) -> Vec<Coord<f64>> {
    let count = if to > from { to - from } else { to + ring.len() - from };
    (0..=count).map(|step| ring[(from + step) % ring.len()]).collect()
}

fn is_corner(ring: &[Coord<f64>], place: usize) -> bool {
    let count = ring.len();
    let [before, here, after] = [place + count - 1, place, place + 1].map(|at| ring[at % count]);
    let long = distance(before, here) >= LINE;
    let long_after = distance(here, after) >= LINE;
    let turns = turn(here - before, after - here).abs().to_degrees();
    // Where a line turns into a curve there is no corner to see, but the line ends there.
    long != long_after || turns > if long { SLIGHT } else { CORNER }
}

/// The points that reach farthest to each side.
fn outermost(ring: &[Coord<f64>]) -> [usize; 4] {
    let farthest = |reach: fn(&Coord<f64>) -> f64| {
        let by_reach = |one: &usize, other: &usize| reach(&ring[*one]).total_cmp(&reach(&ring[*other]));
        (0..ring.len()).max_by(by_reach).unwrap_or(0)
    };
    [farthest(|p| -p.x), farthest(|p| -p.y), farthest(|p| p.x), farthest(|p| p.y)]
}

/// Adds points between two, `to` counted on past the end of the ring, until no part is too steep against its chord.
fn split(ring: &[Coord<f64>], from: usize, to: usize, all: &mut Vec<usize>) {
    let at = |place: usize| ring[place % ring.len()];
    let (start, chord) = (at(from), at(to) - at(from));
    let steep = (from..to).any(|place| {
        let step = at(place + 1) - at(place);
        turn(chord, step).abs().to_degrees() > STEEP
    });
    if !steep || to - from < 2 {
        return;
    }
    let offset = |place: &usize| {
        let arm = at(*place) - start;
        (chord.x * arm.y - chord.y * arm.x).abs()
    };
    let Some(farthest) = (from + 1..to).max_by(|one, other| offset(one).total_cmp(&offset(other))) else { return };
    split(ring, from, farthest, all);
    all.push(farthest);
    split(ring, farthest, to, all);
}
