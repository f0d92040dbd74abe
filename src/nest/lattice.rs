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
use super::meter::Meter;
use super::random::Random;
use super::strip::{Arrangement, Lying, Strip};

/// Copies of a piece that are worth a lattice.
const FEWEST: usize = 12;
/// Share of the area of all items that such pieces must have.
const MOST_OF_ALL: f64 = 0.6;
/// Pairs of ways that are tried, at most; where there are more, only single pieces and half turns are.
const MOST_PAIRS: usize = 12;
/// Pieces and pairs that are tried, at most, spread over all of them.
const MOST_CLUSTERS: usize = 32;
/// Points of the grid: how far beside the first the second of a pair lies, and how far rows lie apart.
const BESIDE: usize = 24;
const RISES: usize = 48;
/// Rows are never nearer than this share of their height.
const LEAST_RISE: f64 = 0.08;
/// Points of the grid that are laid out, for each choice of members and axis: those where a piece takes the least cloth.
const DENSEST: usize = 100;
/// How many of them are improved.
const CLIMBS: usize = 16;
/// Steps of a climb.
const STEPS: usize = 150;
/// Copies that are put into place for these points and for the steps of a climb, at most.
const PLACED: [usize; 2] = [20_000, 60_000];
/// How much a number changes in the first step of a climb and in the last, at most.
const CHANGES: [f64; 2] = [0.2, 0.002];

/// Lays the pieces of which there are many in lattices, one behind the other, and the others round them; `None` where that is
/// no shorter than `bound`, or no way to lay these pieces.
pub fn in_lattices(strip: &Strip, grid: Grid, bound: f64, seed: u64, meter: &mut Meter) -> Option<Arrangement> {
    let (many, few) = many_and_few(strip)?;
    let mut random = Random::new(seed, u64::MAX);
    let mut laid: Vec<(usize, Lying)> = Vec::new();
    let mut end = 0.0;
    for copies in &many {
        let mut finder = Finder { strip, item: copies[0], count: copies.len(), room: bound - end, contacts: 0 };
        let block = finder.shortest(&mut random);
        meter.add(finder.contacts);
        for (&item, mut lying) in copies.iter().zip(block?) {
            lying.at[0] += end;
            laid.push((item, lying));
        }
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
    let (mut many, few): (Vec<_>, Vec<_>) = copies.into_values().partition(|items| items.len() >= FEWEST);
    let few = few.concat();
    let area = |items: &[usize]| items.iter().map(|&item| strip.area(item)).sum::<f64>();
    let in_many: f64 = many.iter().map(|items| area(items)).sum();
    many.sort_by(|a, b| strip.area(b[0]).total_cmp(&strip.area(a[0])).then(a[0].cmp(&b[0])));
    (in_many > 0.0 && in_many >= MOST_OF_ALL * (in_many + area(&few))).then_some((many, few))
}

/// The whole arrangement: what is laid, and the other items where they find room first.
fn with_others(
    strip: &Strip,
    mut laid: Vec<(usize, Lying)>,
    others: &[usize],
    grid: Grid,
    meter: &Meter,
) -> Option<Arrangement> {
    let mut around = strip.with_items(others.iter().map(|&item| strip.items[item]).collect());
    around.obstacles.extend(laid.iter().map(|(item, lying)| (strip.shape_of(*item, lying.way), lying.at)));
    let mut order: Vec<usize> = (0..others.len()).collect();
    around.sort_largest_first(&mut order);
    let filled = first::complete(fill(&around, &order, None, grid, meter))?;
    laid.extend(others.iter().copied().zip(filled));
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
    /// How much further along the row than contact asks, as a share of its box.
    apart: f64,
    /// How far rows lie from each other as a share of their height; below zero where the next row comes from the other
    /// side.
    rise: f64,
    /// Where the first row begins, as a share of the pitch.
    phase: f64,
}

/// A lattice and what comes of it.
struct Guess {
    ways: Vec<usize>,
    axis: usize,
    numbers: Numbers,
    length: f64,
    lay: Vec<Lying>,
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
}

/// Finds the lattice for the copies of one piece.
struct Finder<'a> {
    strip: &'a Strip<'a>,
    item: usize,
    count: usize,
    /// Length of cloth that they may take.
    room: f64,
    /// Contacts that were looked up.
    contacts: u64,
}

impl Finder<'_> {
    /// The shortest lay that was found.
    fn shortest(&mut self, random: &mut Random) -> Option<Vec<Lying>> {
        let mut starts: Vec<Guess> = Vec::new();
        for ways in self.clusters() {
            starts.extend([0, 1].into_iter().flat_map(|axis| self.promising(&ways, axis)));
        }
        starts.sort_by(|a, b| a.length.total_cmp(&b.length));
        starts.truncate(CLIMBS);
        let climbed = starts.into_iter().map(|start| self.climb(start, random));
        climbed.min_by(|a, b| a.length.total_cmp(&b.length)).map(|best| best.lay)
    }

    /// The densest points of the grid for some members and an axis.
    fn promising(&mut self, ways: &[usize], axis: usize) -> Vec<Guess> {
        let mut points: Vec<(f64, Numbers)> =
            grid_of(ways.len()).filter_map(|n| Some((self.lattice(ways, axis, n)?.area_of_one(), n))).collect();
        points.sort_by(|a, b| a.0.total_cmp(&b.0));
        points.truncate((PLACED[0] / self.count).clamp(1, DENSEST));
        points.into_iter().filter_map(|(_, numbers)| self.guess(ways, axis, numbers)).collect()
    }

    /// Single pieces and pairs of them, by their ways; ways that come to the same shape count once.
    fn clusters(&self) -> Vec<Vec<usize>> {
        let ways = self.strip.ways(self.item);
        let first_of_shape = |way: usize| !ways[..way].iter().any(|other| other.shape == ways[way].shape);
        let distinct: Vec<usize> = (0..ways.len())
            .filter(|&way| first_of_shape(way) && self.strip.admits(self.item, way, self.room))
            .collect();
        let pairs = || distinct.iter().enumerate().flat_map(|(k, &a)| distinct[..k].iter().map(move |&b| vec![b, a]));
        let all = pairs().count() <= MOST_PAIRS;
        let is_wanted = |pair: &Vec<usize>| all || ways[pair[1]].is_half_turn_of(&ways[pair[0]]);
        let clusters: Vec<Vec<usize>> =
            distinct.iter().map(|&way| vec![way]).chain(pairs().filter(is_wanted)).collect();
        let every = clusters.len().div_ceil(MOST_CLUSTERS).max(1);
        clusters.into_iter().step_by(every).collect()
    }

    /// Changes the numbers a little, again and again, and keeps what makes the lay shorter.
    fn climb(&mut self, start: Guess, random: &mut Random) -> Guess {
        let mut best = start;
        let steps = (PLACED[1] / self.count).clamp(1, STEPS);
        for step in 0..steps {
            let change = CHANGES[0] * (CHANGES[1] / CHANGES[0]).powf(step as f64 / steps as f64);
            let numbers = nearby(best.numbers, change, random);
            best = self.guess(&best.ways, best.axis, numbers).filter(|it| it.length <= best.length).unwrap_or(best);
        }
        best
    }

    fn guess(&mut self, ways: &[usize], axis: usize, numbers: Numbers) -> Option<Guess> {
        let lattice = self.lattice(ways, axis, numbers)?;
        let (length, lay) = self.laid(&lattice)?;
        Some(Guess { ways: ways.to_vec(), axis, numbers, length, lay })
    }

    /// How far along an axis, at least, shape `b` must lie from shape `a`, where it lies so far from it along the other axis
    /// and comes from afar; none where it passes by.
    fn contact(&mut self, a: &Member, b: &Member, axis: usize, beside: f64) -> Option<f64> {
        self.contacts += 1;
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
        let top = members.iter().map(|m| m.at[across] + m.half_with_gap[across]).fold(f64::MIN, f64::max);
        let bottom = members.iter().map(|m| m.at[across] - m.half_with_gap[across]).fold(f64::MAX, f64::min);
        let height = top - bottom;
        let rise = numbers.rise * height;
        // Where rows pass each other freely, any shift will do.
        let shift = self.least_shift(&members, axis, rise).unwrap_or(0.0);
        let rows_met = (height / rise.abs()) as i64;
        let pitch = (-rows_met..=rows_met).filter_map(|row| {
            let row = row as f64;
            Some(self.least_shift(&members, axis, row * rise)? - row * shift)
        });
        let pitch = pitch.fold(f64::NEG_INFINITY, f64::max);
        let next = if rise < 0.0 { [-shift, -rise] } else { [shift, rise] };
        Some(Lattice { axis, members, pitch, next, phase: numbers.phase * pitch })
    }

    /// How far along a row, at least, members must lie from the same members, so far across from them; none where they pass
    /// by.
    fn least_shift(&mut self, members: &[Member], axis: usize, across: f64) -> Option<f64> {
        let mut least: Option<f64> = None;
        for a in members {
            for b in members {
                let [along, beside] = [axis, 1 - axis].map(|axis| b.at[axis] - a.at[axis]);
                if let Some(contact) = self.contact(a, b, axis, across + beside) {
                    least = Some(least.unwrap_or(f64::NEG_INFINITY).max(contact - along));
                }
            }
        }
        least
    }

    /// The shortest lay of the copies on a lattice, whichever member lies at an edge, and its length.
    fn laid(&self, lattice: &Lattice) -> Option<(f64, Vec<Lying>)> {
        let across = 1 - lattice.axis;
        let size = self.size(across);
        let edges = lattice.members.iter().flat_map(|member| {
            let at = member.at[across];
            [member.half[across] - at, size - member.half[across] - at]
        });
        edges.filter_map(|edge| self.laid_from(lattice, edge)).min_by(|a, b| a.0.total_cmp(&b.0))
    }

    /// The size of the cloth along an axis.
    fn size(&self, axis: usize) -> f64 {
        if axis == 0 { self.room } else { self.strip.width() }
    }

    /// The copies that end first, where a row lies at a distance from the edge that rows follow.
    fn laid_from(&self, lattice: &Lattice, edge: f64) -> Option<(f64, Vec<Lying>)> {
        let Lattice { axis, pitch, next: [shift, rise], .. } = *lattice;
        let across = 1 - axis;
        let mut places: Vec<(f64, Lying, f64)> = Vec::new();
        for member in &lattice.members {
            let (low, high) = (member.half, [0, 1].map(|axis| self.size(axis) - member.half[axis]));
            for row in repetitions([low[across], high[across]], edge + member.at[across], rise) {
                let start = lattice.phase + row * shift + member.at[axis];
                for repetition in repetitions([low[axis], high[axis]], start, pitch) {
                    let mut at = [0.0; 2];
                    at[axis] = start + repetition * pitch;
                    at[across] = edge + member.at[across] + row * rise;
                    at[1] += self.strip.usable[0];
                    let half = member.half[0];
                    places.push((at[0] + half, Lying { way: member.way, at }, at[0] - half));
                }
            }
        }
        if places.len() < self.count {
            return None;
        }
        places.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.at[1].total_cmp(&b.1.at[1])));
        places.truncate(self.count);
        let begin = places.iter().map(|place| place.2).fold(f64::INFINITY, f64::min);
        let end = places.last()?.0;
        let moved = |lying: Lying| Lying { at: [lying.at[0] - begin, lying.at[1]], ..lying };
        Some((end - begin, places.into_iter().map(|(_, lying, _)| moved(lying)).collect()))
    }
}

/// How often a step must be made from a start, forwards or backwards, to stay within limits.
fn repetitions([low, high]: [f64; 2], start: f64, step: f64) -> impl Iterator<Item = f64> {
    // What fits just so must not fail by the last bit of a number.
    let slack = 1e-9 * (high - low).abs();
    let [from, to] = [((low - slack - start) / step).ceil() as i64, ((high + slack - start) / step).floor() as i64];
    (from..=to).map(|times| times as f64)
}

/// The grid of numbers for so many members.
fn grid_of(members: usize) -> impl Iterator<Item = Numbers> {
    let beside = if members == 1 { 1 } else { BESIDE };
    (0..beside).flat_map(|beside| {
        (0..=RISES).map(move |rise| Numbers {
            // Side by side is one of them, and rows that do not meet: for many a piece it is the best.
            beside: 2.0 * beside as f64 / BESIDE as f64 - 1.0,
            apart: 0.0,
            rise: allowed_rise(2.0 * rise as f64 / RISES as f64 - 1.0),
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
        in_lattices(strip, Grid::suited(strip, gap), bound, 1, &mut meter)
    }

    /// The greatest share of the plane that lattices of a piece cover, by the grid alone.
    fn share_of_the_plane(piece: Piece) -> f64 {
        let room = 1e6;
        with_strip(&[piece], 1e4, 0.0, |strip| {
            let mut finder = Finder { strip, item: 0, count: 12, room, contacts: 0 };
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
                let mut finder = Finder { strip, item: 0, count: 20, room: 1e5, contacts: 0 };
                if let Some(guess) = finder.guess(&ways, axis, numbers) {
                    prop_assert_eq!(guess.lay.len(), 20);
                    prop_assert!(is_sound(strip, &guess.lay), "{:?}", guess.lay);
                    prop_assert!((strip.length_of(&guess.lay) - guess.length).abs() < 1e-6);
                }
                Ok(())
            })?;
        }
    }
}
