//! Cloth that has an end, as full as may be: one more piece for as long as the others can make room, and then some pieces
//! in exchange for others that cover more. Pieces for which no other cloth comes after it go before all others.

use std::collections::BTreeSet;

use super::meter::{Meter, Span};
use super::race::{RACERS, Racers};
use super::random::Random;
use super::separate::{Patience, State};
use super::strip::{Arrangement, Lying, Strip};

const PATIENCE: Patience = Patience { passes: 60, strikes: 2 };

/// Items on a cloth up to which others are asked to make room.
const MOST_ON_CLOTH: usize = 400;
/// Pieces that an exchange takes off the cloth, and pieces that it lays on it, at most.
const MOST_OFF: usize = 2;
const MOST_ON: usize = 3;
/// Exchanges that come to nothing, one after another, after which the cloth is taken to be full.
const IN_VAIN: u32 = 300;
/// The task whose random numbers say which exchanges are tried.
const EXCHANGES: u64 = u64::MAX - 1;
/// Share of the room on a cloth that rounding may have taken.
const ROUNDING: f64 = 1e-6;

/// Pieces that lie on a cloth and pieces that do not.
pub struct Filled {
    /// For each item on the cloth, the piece that it is a copy of.
    pub items: Vec<usize>,
    /// Where they lie.
    pub arrangement: Arrangement,
    /// The pieces that found no place.
    pub left: Vec<usize>,
}

impl Filled {
    /// Splits the items of a strip by whether they have been laid.
    pub fn of(strip: &Strip, laid: Vec<Option<Lying>>) -> Self {
        let mut filled = Self { items: Vec::new(), arrangement: Vec::new(), left: Vec::new() };
        for (&piece, lying) in strip.items.iter().zip(laid) {
            match lying {
                Some(lying) => {
                    filled.items.push(piece);
                    filled.arrangement.push(lying);
                }
                None => filled.left.push(piece),
            }
        }
        filled
    }

    /// Covers more of a cloth of a length that has room for an area, while its part of the budget lasts; for some pieces it
    /// is the last chance.
    pub fn filled_up(
        self,
        strip: &Strip,
        [length, room]: [f64; 2],
        last_chance: &BTreeSet<usize>,
        seed: u64,
        span: Span,
        meter: &mut Meter,
    ) -> Self {
        // Room for all pairs would be more than there is.
        if self.items.len() > MOST_ON_CLOTH || strip.shapes.too_many() {
            return self;
        }
        let covered: f64 = self.items.iter().map(|&piece| strip.piece_area(piece)).sum();
        let free = (1.0 + ROUNDING) * room - covered;
        let mut filling = Filling { strip, length, free, last_chance, seed, tried: 0, span, filled: self };
        filling.add(meter);
        filling.exchange(meter);
        filling.filled
    }
}

fn sum(a: [f64; 2], b: [f64; 2]) -> [f64; 2] {
    [a[0] + b[0], a[1] + b[1]]
}

/// Whether one worth is more than another: by its first number, or, where those are the same but for rounding, by its second.
fn is_more(one: [f64; 2], other: [f64; 2]) -> bool {
    let more = |k: usize| one[k] > other[k] * (1.0 + ROUNDING);
    let no_less = one[0] >= other[0] * (1.0 - ROUNDING);
    more(0) || no_less && more(1)
}

/// A change of what lies on a cloth.
struct Change {
    /// Items that come off it.
    off: BTreeSet<usize>,
    /// Places in the list of what is left of the pieces that go onto it.
    on: BTreeSet<usize>,
}

/// A cloth that is being filled.
struct Filling<'a> {
    strip: &'a Strip<'a>,
    length: f64,
    /// Area that is not covered.
    free: f64,
    /// Pieces that no other cloth comes for.
    last_chance: &'a BTreeSet<usize>,
    seed: u64,
    /// Changes that were tried.
    tried: u64,
    span: Span,
    filled: Filled,
}

impl Filling<'_> {
    /// Lays what is left, what is worth most first, until nothing of it finds room.
    fn add(&mut self, meter: &mut Meter) {
        let mut left = std::mem::take(&mut self.filled.left);
        left.sort_by(|&a, &b| {
            let (worth, other) = (self.worth(a), self.worth(b));
            other[0].total_cmp(&worth[0]).then(other[1].total_cmp(&worth[1])).then(a.cmp(&b))
        });
        self.filled.left = left;
        let mut refused = BTreeSet::new();
        while !meter.over(self.span) {
            let fits = |piece: &usize| self.strip.piece_area(*piece) <= self.free && !refused.contains(piece);
            let Some(place) = self.filled.left.iter().position(fits) else { break };
            let piece = self.filled.left[place];
            if self.makes(&Change { off: BTreeSet::new(), on: BTreeSet::from([place]) }, meter) {
                refused.clear();
            } else {
                refused.insert(piece);
            }
        }
    }

    /// Exchanges pieces for others that cover more, until that has come to nothing many times.
    fn exchange(&mut self, meter: &mut Meter) {
        let mut random = Random::new(self.seed, EXCHANGES);
        let mut in_vain = 0;
        while in_vain < IN_VAIN && !self.filled.left.is_empty() && !meter.over(self.span) {
            let change = self.some_change(&mut random);
            let made = change.is_some_and(|change| self.makes(&change, meter));
            in_vain = if made { 0 } else { in_vain + 1 };
            meter.report_spent();
        }
    }

    /// The area of a piece if this is its last chance, and its area.
    fn worth(&self, piece: usize) -> [f64; 2] {
        let area = self.strip.piece_area(piece);
        [if self.last_chance.contains(&piece) { area } else { 0.0 }, area]
    }

    /// Some items off the cloth and pieces onto it that are worth more; none where chance finds none.
    fn some_change(&self, random: &mut Random) -> Option<Change> {
        let count = self.filled.items.len();
        let draws = random.index(MOST_OFF.min(count) + 1);
        let off: BTreeSet<usize> = (0..draws).map(|_| random.index(count)).collect();
        let lost = off.iter().map(|&item| self.worth(self.filled.items[item])).fold([0.0; 2], sum);
        let mut places: Vec<usize> = (0..self.filled.left.len()).collect();
        random.shuffle(&mut places);
        let (mut on, mut gained) = (BTreeSet::new(), [0.0; 2]);
        for place in places {
            let worth = self.worth(self.filled.left[place]);
            if gained[1] + worth[1] <= self.free + lost[1] {
                on.insert(place);
                gained = sum(gained, worth);
            }
            if is_more(gained, lost) {
                return Some(Change { off, on });
            }
            if on.len() == MOST_ON {
                return None;
            }
        }
        None
    }

    /// Makes a change if room is found for it.
    fn makes(&mut self, change: &Change, meter: &mut Meter) -> bool {
        self.tried += 1;
        let Filled { items, arrangement, left } = &self.filled;
        let (off, kept): (Vec<usize>, Vec<usize>) = (0..items.len()).partition(|item| change.off.contains(item));
        let (on, still_left): (Vec<usize>, Vec<usize>) = (0..left.len()).partition(|place| change.on.contains(place));
        let pieces = |of: &[usize], which: &[usize]| which.iter().map(|&k| of[k]).collect::<Vec<usize>>();
        let (off_pieces, on_pieces) = (pieces(items, &off), pieces(left, &on));
        let items = [pieces(items, &kept), on_pieces.clone()].concat();
        let left = [pieces(left, &still_left), off_pieces.clone()].concat();
        let start: Arrangement = kept.iter().map(|&item| arrangement[item]).collect();
        let freed: Vec<[f64; 2]> = off.iter().map(|&item| arrangement[item].at).collect();
        let found = self.parted(&self.strip.with_items(items.clone()), &start, &freed, meter);
        let Some(arrangement) = found else { return false };
        let area = |pieces: &[usize]| pieces.iter().map(|&piece| self.strip.piece_area(piece)).sum::<f64>();
        self.free += area(&off_pieces) - area(&on_pieces);
        self.filled = Filled { items, arrangement, left };
        true
    }

    /// All items without overlap: those that lie there already, and newcomers, which start where places were freed or
    /// anywhere.
    fn parted(&self, strip: &Strip, there: &Arrangement, freed: &[[f64; 2]], meter: &mut Meter) -> Option<Arrangement> {
        let mut racers = Racers::new(strip, self.seed, self.tried);
        for racer in 0..RACERS {
            let separator = racers.get(racer);
            let random = separator.random();
            let mut start = there.clone();
            for item in there.len()..strip.items.len() {
                let anywhere = [random.between(0.0, self.length), random.between(strip.usable[0], strip.usable[1])];
                // One of the racers takes the places that were freed.
                let at = freed.get(item - there.len()).filter(|_| racer == 0).copied().unwrap_or(anywhere);
                let admitted = |way: &usize| strip.admits(item, *way, self.length);
                let ways: Vec<usize> = (0..strip.ways(item).len()).filter(admitted).collect();
                let way = ways[random.index(ways.len())];
                start.push(Lying { way, at: strip.onto_cloth(strip.half(item, way), at, self.length) });
            }
            separator.load(&start, self.length, PATIENCE);
        }
        let mut ended = [false; RACERS];
        while !meter.over(self.span) && ended.contains(&false) {
            let states = racers.heat(meter);
            if let Some(winner) = states.iter().position(|state| *state == State::Solved) {
                return Some(racers.get(winner).best().0.clone());
            }
            for (ended, state) in ended.iter_mut().zip(states) {
                *ended |= state == State::Stuck;
            }
        }
        None
    }
}
