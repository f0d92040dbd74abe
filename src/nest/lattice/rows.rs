//! One lattice: from a few numbers to places on the cloth, by contact.

use crate::nest::strip::{Lying, Strip};

/// Copies that are laid out in the time of a trial of the search.
const PER_TRIAL: u64 = 4;

/// One of the pieces that a lattice repeats.
#[derive(Clone, Copy, Debug)]
struct Member {
    way: usize,
    shape: usize,
    /// Half its box, without and with half the gap.
    half: [f64; 2],
    half_with_gap: [f64; 2],
    /// Where it lies, seen from the first member.
    at: [f64; 2],
}

/// The numbers that tell a lattice of given members.
#[derive(Clone, Copy, Debug)]
pub struct Numbers {
    /// How far the second member lies beside the first, across the row: from −1 to 1 while their boxes meet.
    pub beside: f64,
    /// How much further along the row than contact asks, as a share of half its box.
    pub apart: f64,
    /// How far rows lie from each other as a share of their height; below zero where the next row comes from the other
    /// side.
    pub rise: f64,
    /// How far from the edge that it meets the first row begins, as a share of the pitch.
    pub phase: f64,
}

/// Members that repeat along a row, and rows that repeat.
#[derive(Clone, Debug)]
pub struct Lattice {
    /// The axis that rows follow: 0 along the cloth, 1 across.
    axis: usize,
    members: Vec<Member>,
    /// From one repetition to the next in a row.
    pitch: f64,
    /// From one row to the next, along the row and across.
    next: [f64; 2],
    phase: f64,
}

impl Lattice {
    /// The cloth that one piece takes, where there is no end of it.
    pub fn area_of_one(&self) -> f64 {
        self.pitch * self.next[1] / self.members.len() as f64
    }

    /// How far its members reach along an axis.
    fn extent(&self, axis: usize) -> f64 {
        extent(&self.members, axis, |member| member.half)
    }

    /// A length of cloth of a width that is enough for so many pieces.
    fn enough_for(&self, count: usize, width: f64) -> f64 {
        let steps = [self.pitch, self.next[1]];
        let [along, across] = [steps[self.axis], steps[1 - self.axis]];
        let lines = ((width - self.extent(1)) / across).floor().max(1.0);
        let each = (count as f64 / (lines * self.members.len() as f64)).ceil();
        (each + 2.0) * along + self.extent(0)
    }
}

/// How far members reach along an axis, by half their boxes.
fn extent(members: &[Member], axis: usize, half: impl Fn(&Member) -> [f64; 2]) -> f64 {
    let high = members.iter().map(|member| member.at[axis] + half(member)[axis]).fold(f64::MIN, f64::max);
    let low = members.iter().map(|member| member.at[axis] - half(member)[axis]).fold(f64::MAX, f64::min);
    high - low
}

/// The copies of one piece, which are to lie on a lattice.
pub struct Copies<'a> {
    /// The cloth.
    pub strip: &'a Strip<'a>,
    /// One of them, which stands for all.
    pub item: usize,
    /// How many there are.
    pub count: usize,
    /// Length of cloth that they may take.
    pub room: f64,
    /// Trials that it took and that are not yet reckoned: contacts that were looked up, and copies that were laid out.
    pub work: u64,
}

impl Copies<'_> {
    /// How far along an axis, at least, shape `b` must lie from shape `a`, where it lies so far from it along the other axis
    /// and comes from afar; none where it passes by.
    fn contact(&mut self, a: &Member, b: &Member, axis: usize, beside: f64) -> Option<f64> {
        self.work += 1;
        let far = 2.0 * (a.half_with_gap[axis] + b.half_with_gap[axis]);
        let mut apart = [beside; 2];
        apart[axis] = far;
        let run = self.strip.shapes.pairs().free_run(a.shape, b.shape, apart, axis, 0.0);
        run.is_finite().then_some(far - run)
    }

    fn member(&self, way: usize) -> Member {
        let shape = self.strip.shape_of(self.item, way);
        let known = self.strip.shapes.shape(shape);
        Member { way, shape, half: known.half, half_with_gap: known.half_with_gap, at: [0.0; 2] }
    }

    /// The lattice with these members and numbers.
    pub fn lattice(&mut self, ways: &[usize], axis: usize, numbers: Numbers) -> Option<Lattice> {
        let across = 1 - axis;
        let mut members: Vec<Member> = ways.iter().map(|&way| self.member(way)).collect();
        if let [a, b] = &mut members[..] {
            b.at[across] = numbers.beside * (a.half_with_gap[across] + b.half_with_gap[across]);
            b.at[axis] = self.contact(a, b, axis, b.at[across])? + numbers.apart * b.half_with_gap[axis];
        }
        let height = extent(&members, across, |member| member.half_with_gap);
        let rise = numbers.rise * height;
        let rows_met = (height / rise.abs()) as i64;
        // Rows that lie deep in each other meet the next but one too; where they pass each other freely, any shift will do.
        let shifts =
            (1..=rows_met).filter_map(|row| Some(self.least_shift(&members, axis, row as f64 * rise)? / row as f64));
        let shift = shifts.max_by(f64::total_cmp).unwrap_or(0.0);
        let pitches = (-rows_met..=0)
            .filter_map(|row| Some(self.least_shift(&members, axis, row as f64 * rise)? - row as f64 * shift));
        let pitch = pitches.fold(f64::NEG_INFINITY, f64::max);
        let next = if rise < 0.0 { [-shift, -rise] } else { [shift, rise] };
        Some(Lattice { axis, members, pitch, next, phase: numbers.phase * pitch })
    }

    /// How far along a row, at least, members must lie from the same members, so far across from them; none where they pass
    /// by.
    fn least_shift(&mut self, members: &[Member], axis: usize, away: f64) -> Option<f64> {
        let mut least: Option<f64> = None;
        for a in members {
            for b in members {
                let [along, beside] = [axis, 1 - axis].map(|axis| b.at[axis] - a.at[axis]);
                if let Some(contact) = self.contact(a, b, axis, away + beside) {
                    least = Some(least.unwrap_or(f64::NEG_INFINITY).max(contact - along));
                }
            }
        }
        least
    }

    /// The shortest lay of the copies on a lattice, whichever member lies at an edge, and its length.
    pub fn laid(&mut self, lattice: &Lattice) -> Option<(f64, Vec<Lying>)> {
        let across = 1 - lattice.axis;
        // The far end of the cloth is no edge that something could lie at.
        let far_edge = (across == 1).then_some(self.strip.width());
        let edges = lattice.members.iter().flat_map(|member| {
            let (half, at) = (member.half[across], member.at[across]);
            [Some(half - at), far_edge.map(|edge| edge - half - at)]
        });
        edges.flatten().filter_map(|edge| self.laid_from(lattice, edge)).min_by(|a, b| a.0.total_cmp(&b.0))
    }

    /// The copies that end first, where a row lies at a distance from the edge that rows follow.
    fn laid_from(&mut self, lattice: &Lattice, edge: f64) -> Option<(f64, Vec<Lying>)> {
        let room = self.room.min(lattice.enough_for(self.count, self.strip.width()));
        let size = [room, self.strip.width()];
        let Lattice { axis, pitch, next: [shift, rise], .. } = *lattice;
        let across = 1 - axis;
        let begin = lattice.members[0].half[axis] + lattice.phase;
        let mut lay: Vec<Lying> = Vec::new();
        for member in &lattice.members {
            let limits = |axis: usize| [member.half[axis], size[axis] - member.half[axis]];
            for row in repetitions(limits(across), edge + member.at[across], rise, size[across]) {
                let start = begin + row * shift + member.at[axis];
                for repetition in repetitions(limits(axis), start, pitch, size[axis]) {
                    let mut at = [0.0; 2];
                    at[axis] = start + repetition * pitch;
                    at[across] = edge + member.at[across] + row * rise;
                    at[1] += self.strip.usable[0];
                    lay.push(Lying { way: member.way, at: self.strip.onto_cloth(member.half, at, room) });
                }
            }
        }
        self.work += lay.len() as u64 / PER_TRIAL;
        if lay.len() < self.count {
            return None;
        }
        let half = |lying: &Lying| self.strip.half(self.item, lying.way)[0];
        let [low, high] = [-1.0, 1.0].map(|side| move |lying: &Lying| lying.at[0] + side * half(lying));
        lay.sort_by(|a, b| high(a).total_cmp(&high(b)).then(a.at[1].total_cmp(&b.at[1])));
        lay.truncate(self.count);
        let begin = lay.iter().map(low).fold(f64::INFINITY, f64::min);
        let end = high(lay.last()?);
        lay.iter_mut().for_each(|lying| lying.at[0] -= begin);
        Some((end - begin, lay))
    }
}

/// How often a step must be made from a start, forwards or backwards, to stay within limits on cloth of a size.
fn repetitions([low, high]: [f64; 2], start: f64, step: f64, size: f64) -> impl Iterator<Item = f64> {
    // What fits just so must not fail by the last bit of a number.
    let slack = 1e-10 * size;
    let [from, to] = [((low - slack - start) / step).ceil() as i64, ((high + slack - start) / step).floor() as i64];
    (from..=to).map(|times| times as f64)
}

#[cfg(test)]
mod tests {
    use geo_types::{LineString, Polygon};
    use proptest::prelude::*;

    use super::super::find::allowed_rise;
    use super::super::tests::{regular, with_strip};
    use super::*;
    use crate::nest::compact::is_sound;
    use crate::nest::test_pieces::piece;
    use crate::shape::Outline;

    fn numbers() -> impl Strategy<Value = Numbers> {
        (-1.0..1.0f64, 0.0..0.5f64, -1.0..1.0f64, 0.0..1.0f64).prop_map(|(beside, apart, rise, phase)| Numbers {
            beside,
            apart,
            rise: allowed_rise(rise),
            phase,
        })
    }

    proptest! {
        /// Whatever the numbers, contact keeps the pieces of a lattice apart and the cloth keeps them in.
        #[test]
        fn no_two_pieces_of_a_lattice_overlap(
            radii in proptest::collection::vec(0.2..1.0f64, 3..9),
            numbers in numbers(),
            ways in prop_oneof![Just(vec![0]), Just(vec![0, 1]), Just(vec![1, 2]), Just(vec![0, 3])],
            axis in 0..2usize,
            gap in prop_oneof![Just(0.0), Just(5.0)],
        ) {
            // A star about a point, so that many a one has hollows.
            let corners: Vec<[f64; 2]> = regular(radii.len(), 100.0)
                .iter()
                .zip(&radii)
                .map(|(corner, radius)| corner.map(|c| c * radius))
                .collect();
            let star = Outline::new(Polygon::new(LineString::from(corners.clone()), Vec::new()));
            prop_assume!(star.is_ok());
            with_strip(&[piece(&corners, 20, &[0.0, 90.0, 180.0, 270.0])], 500.0, gap, |strip| {
                let mut copies = Copies { strip, item: 0, count: 20, room: 1e5, work: 0 };
                prop_assume!(strip.ways(0).len() == 4);
                let lattice = copies.lattice(&ways, axis, numbers);
                if let Some((length, lay)) = lattice.and_then(|lattice| copies.laid(&lattice)) {
                    prop_assert_eq!(lay.len(), 20);
                    prop_assert!(is_sound(strip, &lay), "{:?}", lay);
                    prop_assert!((strip.length_of(&lay) - length).abs() < 1e-6);
                }
                Ok(())
            })?;
        }
    }
}
