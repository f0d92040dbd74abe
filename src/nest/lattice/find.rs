//! Finds the lattice that needs the least cloth: a coarse grid of its numbers, and a climb from the best points.

use super::rows::{Copies, Numbers};
use crate::nest::meter::{Meter, Span};
use crate::nest::random::Random;
use crate::nest::strip::Lying;

/// Pairs of ways that are tried, at most; where there are more, only single pieces and half turns are.
const MOST_PAIRS: usize = 12;
/// Single pieces and pairs that are tried, at most, spread over all of them.
const MOST_CLUSTERS: usize = 32;
/// Points of the grid: how far beside the first the second of a pair lies, and how far rows lie apart.
const BESIDE: usize = 24;
const RISES: usize = 24;
/// Rows are never nearer than this share of their height.
const LEAST_RISE: f64 = 0.08;
/// Points of the grid that are laid out, for each choice of members and axis: those where a piece takes the least cloth.
const DENSEST: usize = 100;
/// How many of them are improved.
const CLIMBS: usize = 16;
/// Steps of a climb.
const STEPS: usize = 150;
/// Copies that are laid out for these points and for the steps of a climb, about, at most.
const LAID_OUT: [usize; 2] = [20_000, 60_000];
/// How much a number changes in the first step of a climb and in the last, at most.
const CHANGES: [f64; 2] = [0.2, 0.002];

/// Numbers of a lattice and the length that comes of them.
struct Guess {
    ways: Vec<usize>,
    axis: usize,
    numbers: Numbers,
    length: f64,
}

impl Copies<'_> {
    /// The shortest lay that was found.
    pub fn shortest(&mut self, random: &mut Random, span: Span, meter: &mut Meter) -> Option<Vec<Lying>> {
        let mut starts: Vec<Guess> = Vec::new();
        for (ways, axis) in self.clusters().iter().flat_map(|ways| [0, 1].map(|axis| (ways, axis))) {
            if meter.over(span) {
                break;
            }
            starts.extend(self.promising(ways, axis));
            meter.add(std::mem::take(&mut self.work));
        }
        starts.sort_by(|a, b| a.length.total_cmp(&b.length));
        starts.truncate(CLIMBS);
        for start in &mut starts {
            if meter.over(span) {
                break;
            }
            self.climb(start, random);
            meter.add(std::mem::take(&mut self.work));
        }
        let best = starts.into_iter().min_by(|a, b| a.length.total_cmp(&b.length))?;
        let lattice = self.lattice(&best.ways, best.axis, best.numbers)?;
        self.laid(&lattice).map(|(_, lay)| lay)
    }

    /// The densest points of the grid for some members and an axis.
    fn promising(&mut self, ways: &[usize], axis: usize) -> Vec<Guess> {
        let mut points: Vec<(f64, Numbers)> =
            grid_of(ways.len()).filter_map(|n| Some((self.lattice(ways, axis, n)?.area_of_one(), n))).collect();
        points.sort_by(|a, b| a.0.total_cmp(&b.0));
        points.truncate((LAID_OUT[0] / self.count).clamp(1, DENSEST));
        let guess = |(_, numbers)| {
            let length = self.length(ways, axis, numbers)?;
            Some(Guess { ways: ways.to_vec(), axis, numbers, length })
        };
        points.into_iter().filter_map(guess).collect()
    }

    /// Single pieces and pairs of them, by their ways.
    fn clusters(&self) -> Vec<Vec<usize>> {
        let ways = self.strip.ways(self.item);
        let admitted: Vec<usize> =
            (0..ways.len()).filter(|&way| self.strip.admits(self.item, way, self.room)).collect();
        let pairs = || admitted.iter().enumerate().flat_map(|(k, &a)| admitted[..k].iter().map(move |&b| vec![b, a]));
        let all = pairs().count() <= MOST_PAIRS;
        let is_wanted = |pair: &Vec<usize>| all || ways[pair[1]].is_half_turn_of(&ways[pair[0]]);
        let clusters: Vec<Vec<usize>> =
            admitted.iter().map(|&way| vec![way]).chain(pairs().filter(is_wanted)).collect();
        let every = clusters.len().div_ceil(MOST_CLUSTERS).max(1);
        clusters.into_iter().step_by(every).collect()
    }

    /// Changes the numbers a little, again and again, and keeps what makes the lay shorter.
    fn climb(&mut self, guess: &mut Guess, random: &mut Random) {
        let steps = (LAID_OUT[1] / self.count).clamp(1, STEPS);
        for step in 0..steps {
            let change = CHANGES[0] * libm::pow(CHANGES[1] / CHANGES[0], step as f64 / steps as f64);
            let numbers = nearby(guess.numbers, change, random);
            if let Some(length) = self.length(&guess.ways, guess.axis, numbers).filter(|new| *new <= guess.length) {
                guess.numbers = numbers;
                guess.length = length;
            }
        }
    }

    /// The length of the lay that comes of some numbers.
    fn length(&mut self, ways: &[usize], axis: usize, numbers: Numbers) -> Option<f64> {
        let lattice = self.lattice(ways, axis, numbers)?;
        self.laid(&lattice).map(|(length, _)| length)
    }
}

/// The grid of numbers for so many members.
fn grid_of(members: usize) -> impl Iterator<Item = Numbers> {
    let beside = if members == 1 { 1 } else { BESIDE - 1 };
    (1..=beside).flat_map(|beside| {
        let rises = (1..=RISES).flat_map(|rise| [-1.0, 1.0].map(|side| side * rise as f64 / RISES as f64));
        rises.map(move |rise| Numbers {
            // Pairs side by side and rows that do not reach into each other are among them: the best for many a piece.
            beside: 2.0 * beside as f64 / BESIDE as f64 - 1.0,
            apart: 0.0,
            rise: allowed_rise(rise),
            phase: 0.0,
        })
    })
}

/// The nearest rise to this one that keeps rows far enough apart.
pub fn allowed_rise(rise: f64) -> f64 {
    rise.abs().clamp(LEAST_RISE, 1.0).copysign(rise)
}

/// Numbers that differ from these by a little: all of them or one.
fn nearby(numbers: Numbers, change: f64, random: &mut Random) -> Numbers {
    let which = random.index(5);
    let mut changed = |k: usize, value: f64, size: f64| {
        let by = random.between(-change, change) * size;
        if which == 4 || which == k { value + by } else { value }
    };
    Numbers {
        beside: changed(0, numbers.beside, 1.0).clamp(-1.0, 1.0),
        apart: changed(1, numbers.apart, 0.5).max(0.0),
        rise: allowed_rise(changed(2, numbers.rise, 0.5)),
        phase: changed(3, numbers.phase, 2.0).rem_euclid(1.0),
    }
}

#[cfg(test)]
mod tests {
    use super::super::tests::{regular, with_strip};
    use super::*;
    use crate::nest::task::Piece;
    use crate::nest::test_pieces::piece;
    use crate::shape::Curve;

    /// The greatest share of the plane that lattices of a piece cover, by the grid alone.
    fn share_of_the_plane(piece: Piece) -> f64 {
        let room = 1e6;
        with_strip(&[piece], 1e4, 0.0, |strip| {
            let mut copies = Copies { strip, item: 0, count: 12, room, work: 0 };
            let clusters = copies.clusters();
            let points = |ways: &Vec<usize>, axis: usize, copies: &mut Copies| {
                let areas = grid_of(ways.len()).filter_map(|n| Some(copies.lattice(ways, axis, n)?.area_of_one()));
                areas.fold(f64::INFINITY, f64::min)
            };
            let least = clusters.iter().flat_map(|ways| [0, 1].map(|axis| points(ways, axis, &mut copies)));
            strip.area(0) / least.fold(f64::INFINITY, f64::min)
        })
    }

    /// Thue (1910): no packing of equal circles covers more than π/√12 of the plane.
    #[test]
    fn circles_come_near_the_densest_packing_and_never_beyond() {
        let circle =
            Piece { outline: Curve::circle(100.0).flatten().expect("round"), ..piece(&regular(3, 1.0), 12, &[0.0]) };
        let share = share_of_the_plane(circle);
        let densest = std::f64::consts::PI / 12f64.sqrt();
        assert!((0.98 * densest..1.001 * densest).contains(&share), "{share}");
    }

    /// Kuperberg and Kuperberg (1990): the densest double lattice of regular pentagons covers (5 − √5)/3 of the plane.
    #[test]
    fn pentagons_come_near_the_densest_double_lattice_and_never_beyond() {
        let angles: Vec<f64> = (0..20).map(|k| 18.0 * f64::from(k)).collect();
        let share = share_of_the_plane(piece(&regular(5, 80.0), 12, &angles));
        let densest = (5.0 - 5f64.sqrt()) / 3.0;
        assert!((0.97 * densest..1.001 * densest).contains(&share), "{share} of {densest}");
    }

    /// Every L with six sides tiles the plane by moves alone (common knowledge, no source).
    #[test]
    fn an_l_tiles_the_plane() {
        let ell = [[0.0, 0.0], [150.0, 0.0], [150.0, 40.0], [50.0, 40.0], [50.0, 120.0], [0.0, 120.0]];
        let share = share_of_the_plane(piece(&ell, 12, &[0.0]));
        assert!((0.99..1.001).contains(&share), "{share}");
    }
}
