//! A first lay of many equal pieces: a lattice of single pieces or of pairs, with rows along the cloth or across it.
//!
//! In a pair one piece mostly lies half turned beside the other (the double lattices of Kuperberg and Kuperberg, "Double-lattice
//! packings of convex bodies in the plane", 1990). A search that moves one piece at a time hardly ever finds so much order.
//!
//! A lattice is told by few numbers: how far the second of a pair lies beside the first, and how far each row lies from
//! the last. All else follows from contact: the second of a pair comes as near to the first as the no-fit polygon lets it,
//! the next row as near to the last, and so do repetitions in a row. A coarse grid of these numbers and a climb from its
//! best points find the lattice that needs the least cloth.

use std::collections::BTreeMap;

use super::compact::is_sound;
use super::first::{self, Grid, fill};
use super::meter::{Meter, Span};
use super::random::Random;
use super::strip::{Arrangement, Lying, Strip};

/// Copies of a piece that are worth a lattice.
const FEWEST: usize = 12;
/// Share of the area of all items that the copies of one piece must have, so that a row of them across the cloth is no
/// waste, and all that lie in lattices together.
const WORTH_ROWS: f64 = 0.05;
const MOST_OF_ALL: f64 = 0.6;
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
/// Copies that are laid out in the time of a trial of the search.
const PER_TRIAL: u64 = 4;

/// Lays the pieces of which there are many in lattices, one behind the other, and the others round them; `None` where that is
/// no shorter than `bound`, or no way to lay these pieces. When its part of the budget is over it goes on with what it has.
pub fn in_lattices(
    strip: &Strip,
    grid: Grid,
    bound: f64,
    seed: u64,
    span: Span,
    meter: &mut Meter,
) -> Option<Arrangement> {
    let (many, few) = many_and_few(strip)?;
    let mut random = Random::new(seed, u64::MAX);
    let mut laid: Vec<(usize, Lying)> = Vec::new();
    let mut end = 0.0;
    for copies in &many {
        let mut finder = Finder { strip, item: copies[0], count: copies.len(), room: bound - end, work: 0 };
        let block = finder.shortest(&mut random, span, meter)?;
        laid.extend(copies.iter().zip(block).map(|(&item, l)| (item, Lying { at: [l.at[0] + end, l.at[1]], ..l })));
        let far = |(item, lying): &(usize, Lying)| lying.at[0] + strip.box_with_gap(*item, lying.way)[0] / 2.0;
        // The next lattice keeps the other half of the gap.
        let gap = strip.box_with_gap(copies[0], 0)[0] / 2.0 - strip.half(copies[0], 0)[0];
        end = laid.iter().map(far).fold(0.0, f64::max) + gap;
    }
    let laid = with_others(strip, laid, &few, grid, meter)?;
    (strip.length_of(&laid) < bound && is_sound(strip, &laid)).then_some(laid)
}

/// The items of each piece of which there are many, the largest first, and all other items.
fn many_and_few(strip: &Strip) -> Option<(Vec<Vec<usize>>, Vec<usize>)> {
    if !strip.obstacles.is_empty() || strip.shapes.too_many() {
        return None;
    }
    let mut copies: BTreeMap<usize, Vec<usize>> = BTreeMap::new();
    for (item, piece) in strip.items.iter().enumerate() {
        copies.entry(*piece).or_default().push(item);
    }
    let area = |items: &[usize]| items.iter().map(|&item| strip.area(item)).sum::<f64>();
    let all = area(&(0..strip.items.len()).collect::<Vec<_>>());
    let is_many = |items: &Vec<usize>| items.len() >= FEWEST && area(items) >= WORTH_ROWS * all;
    let (mut many, few): (Vec<_>, Vec<_>) = copies.into_values().partition(is_many);
    let in_many: f64 = many.iter().map(|items| area(items)).sum();
    many.sort_by(|a, b| strip.area(b[0]).total_cmp(&strip.area(a[0])).then(a[0].cmp(&b[0])));
    (in_many > 0.0 && in_many >= MOST_OF_ALL * all).then_some((many, few.concat()))
}

/// The whole arrangement: what is laid, and the other items where they find room first.
fn with_others(
    strip: &Strip,
    mut laid: Vec<(usize, Lying)>,
    others: &[usize],
    grid: Grid,
    meter: &Meter,
) -> Option<Arrangement> {
    if !others.is_empty() {
        let mut around = strip.with_items(others.iter().map(|&item| strip.items[item]).collect());
        around.obstacles.extend(laid.iter().map(|(item, lying)| (strip.shape_of(*item, lying.way), lying.at)));
        let mut order: Vec<usize> = (0..others.len()).collect();
        around.sort_largest_first(&mut order);
        let filled = first::complete(fill(&around, &order, None, grid, meter))?;
        laid.extend(others.iter().copied().zip(filled));
    }
    laid.sort_by_key(|(item, _)| *item);
    Some(laid.into_iter().map(|(_, lying)| lying).collect())
}

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
struct Numbers {
    /// How far the second member lies beside the first, across the row: from −1 to 1 while their boxes meet.
    beside: f64,
    /// How much further along the row than contact asks, as a share of half its box.
    apart: f64,
    /// How far rows lie from each other as a share of their height; below zero where the next row comes from the other
    /// side.
    rise: f64,
    /// How far from the edge that it meets the first row begins, as a share of the pitch.
    phase: f64,
}

/// Numbers of a lattice and the length that comes of them.
struct Guess {
    ways: Vec<usize>,
    axis: usize,
    numbers: Numbers,
    length: f64,
}

/// Members that repeat along a row, and rows that repeat.
#[derive(Clone, Debug)]
struct Lattice {
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
    fn area_of_one(&self) -> f64 {
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

/// Finds the lattice for the copies of one piece.
struct Finder<'a> {
    strip: &'a Strip<'a>,
    item: usize,
    count: usize,
    /// Length of cloth that they may take.
    room: f64,
    /// Trials that it took and that are not yet reckoned: contacts that were looked up, and copies that were laid out.
    work: u64,
}

impl Finder<'_> {
    /// The shortest lay that was found.
    fn shortest(&mut self, random: &mut Random, span: Span, meter: &mut Meter) -> Option<Vec<Lying>> {
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
    fn lattice(&mut self, ways: &[usize], axis: usize, numbers: Numbers) -> Option<Lattice> {
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
    fn laid(&mut self, lattice: &Lattice) -> Option<(f64, Vec<Lying>)> {
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

/// The grid of numbers for so many members.
fn grid_of(members: usize) -> impl Iterator<Item = Numbers> {
    let beside = if members == 1 { 1 } else { BESIDE - 1 };
    (1..=beside).flat_map(|beside| {
        let rises = (1..=RISES).flat_map(|rise| [-1.0, 1.0].map(|side| side * rise as f64 / RISES as f64));
        rises.map(move |rise| Numbers {
            // Side by side is one of them, and rows that do not meet: for many a piece it is the best.
            beside: 2.0 * beside as f64 / BESIDE as f64 - 1.0,
            apart: 0.0,
            rise: allowed_rise(rise),
            phase: 0.0,
        })
    })
}

/// The nearest rise to this one that keeps rows far enough apart.
fn allowed_rise(rise: f64) -> f64 {
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
    use geo_types::{LineString, Polygon};
    use proptest::prelude::*;

    use super::*;
    use crate::nest::shapes::Shapes;
    use crate::nest::task::{Budget, Piece, Turns};
    use crate::shape::{Curve, Outline};

    fn piece(corners: &[[f64; 2]], quantity: u32, angles: &[f64]) -> Piece {
        let outline = Outline::new(Polygon::new(LineString::from(corners.to_vec()), Vec::new())).expect("sound");
        let turns = Turns::These { angles: angles.to_vec(), tilt: 0.0 };
        Piece { outline, quantity, turns, flip: false, cloths: None }
    }

    fn regular(corners: usize, radius: f64) -> Vec<[f64; 2]> {
        let angle = |k: usize| std::f64::consts::TAU * k as f64 / corners as f64;
        (0..corners).map(|k| [radius * libm::cos(angle(k)), radius * libm::sin(angle(k))]).collect()
    }

    /// All copies of some pieces as items of a strip of a width.
    fn with_strip<T>(pieces: &[Piece], width: f64, gap: f64, see: impl FnOnce(&Strip) -> T) -> T {
        let shapes = Shapes::new(pieces, &[], false, gap).expect("the gap can be kept");
        let copies = pieces.iter().enumerate().flat_map(|(k, piece)| std::iter::repeat_n(k, piece.quantity as usize));
        see(&Strip::new(&shapes, copies.collect(), [10.0, 10.0 + width], pieces.len()..pieces.len(), false))
    }

    fn laid(strip: &Strip, bound: f64, gap: f64) -> Option<Arrangement> {
        let mut meter = Meter::new(Budget { seed: 1, effort: 1, time: None }, &());
        in_lattices(strip, Grid::suited(strip, gap), bound, 1, Span { from: 0.0, to: 1.0 }, &mut meter)
    }

    /// The greatest share of the plane that lattices of a piece cover, by the grid alone.
    fn share_of_the_plane(piece: Piece) -> f64 {
        let room = 1e6;
        with_strip(&[piece], 1e4, 0.0, |strip| {
            let mut finder = Finder { strip, item: 0, count: 12, room, work: 0 };
            let clusters = finder.clusters();
            let points = |ways: &Vec<usize>, axis: usize, finder: &mut Finder| {
                let areas = grid_of(ways.len()).filter_map(|n| Some(finder.lattice(ways, axis, n)?.area_of_one()));
                areas.fold(f64::INFINITY, f64::min)
            };
            let least = clusters.iter().flat_map(|ways| [0, 1].map(|axis| points(ways, axis, &mut finder)));
            strip.area(0) / least.fold(f64::INFINITY, f64::min)
        })
    }

    #[test]
    fn triangles_lie_in_straight_rows() {
        let triangle = piece(&[[0.0, 0.0], [120.0, 0.0], [40.0, 100.0]], 120, &[0.0, 180.0]);
        with_strip(&[triangle], 1000.0, 0.0, |strip| {
            // Ten rows of twelve: six pairs with a base of 120 each, and what the last one leans over.
            let lay = laid(strip, 1e4, 0.0).expect("there is a lattice");
            let length = strip.length_of(&lay);
            assert!((length - 760.0).abs() < 0.01, "{length}");
            assert!(laid(strip, 700.0, 0.0).is_none(), "it must be shorter than what there is");
        });
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

    #[test]
    fn other_pieces_lie_around_lattices_of_two_kinds_and_all_are_there() {
        let triangle = piece(&[[0.0, 0.0], [120.0, 0.0], [40.0, 100.0]], 30, &[0.0, 180.0]);
        let kite = piece(&[[0.0, 30.0], [40.0, 0.0], [110.0, 30.0], [40.0, 60.0]], 40, &[0.0, 180.0]);
        let odd = piece(&[[0.0, 0.0], [20.0, 0.0], [15.0, 12.0], [3.0, 14.0]], 3, &[0.0]);
        let gap = 3.0;
        with_strip(&[odd, triangle, kite], 1000.0, gap, |strip| {
            let lay = laid(strip, 1e4, gap).expect("there are lattices");
            assert_eq!(lay.len(), 73);
            assert!(is_sound(strip, &lay));
            let density = strip.density(&lay);
            assert!(density > 0.7, "{density}");
        });
    }

    #[test]
    fn few_copies_are_no_lattice() {
        let triangle = piece(&[[0.0, 0.0], [120.0, 0.0], [40.0, 100.0]], 11, &[0.0, 180.0]);
        with_strip(&[triangle], 1000.0, 0.0, |strip| assert!(many_and_few(strip).is_none()));
    }

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
                let mut finder = Finder { strip, item: 0, count: 20, room: 1e5, work: 0 };
                prop_assume!(strip.ways(0).len() == 4);
                let lattice = finder.lattice(&ways, axis, numbers);
                if let Some((length, lay)) = lattice.and_then(|lattice| finder.laid(&lattice)) {
                    prop_assert_eq!(lay.len(), 20);
                    prop_assert!(is_sound(strip, &lay), "{:?}", lay);
                    prop_assert!((strip.length_of(&lay) - length).abs() < 1e-6);
                }
                Ok(())
            })?;
        }
    }
}
