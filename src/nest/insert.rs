//! Puts more pieces on cloth that has an end: one at a time, for as long as the others can make room.

use std::collections::BTreeSet;

use super::meter::{Meter, Span};
use super::race::{RACERS, Racers};
use super::separate::{Patience, State};
use super::strip::{Arrangement, Lying, Strip};

const PATIENCE: Patience = Patience { passes: 60, strikes: 2 };

/// Items on a cloth up to which others are asked to make room.
const MOST_ON_CLOTH: usize = 400;

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

    /// Tries to lay what is left, the largest first, while its part of the budget lasts.
    pub fn filled_up(mut self, strip: &Strip, length: f64, seed: u64, span: Span, meter: &mut Meter) -> Self {
        let all = strip.with_items(self.left.iter().chain(&self.items).copied().collect());
        let area_of: Vec<(usize, f64)> = all.items.iter().enumerate().map(|(k, &piece)| (piece, all.area(k))).collect();
        let blocked: f64 = strip.obstacle_area(length);
        let mut free =
            length * strip.width() - blocked - area_of[self.left.len()..].iter().map(|(_, a)| a).sum::<f64>();
        let mut waiting = area_of[..self.left.len()].to_vec();
        waiting.sort_by(|a, b| b.1.total_cmp(&a.1).then(a.0.cmp(&b.0)));
        let mut refused = BTreeSet::new();
        let mut goal = 0;
        // Room for all pairs would be more than there is.
        let few = self.items.len() <= MOST_ON_CLOTH && !strip.shapes.too_many();
        while few && !meter.over(span) {
            let next = waiting.iter().position(|(piece, area)| *area <= free && !refused.contains(piece));
            let Some(next) = next else { break };
            let (piece, area) = waiting[next];
            goal += 1;
            match self.with_one_more(strip, piece, length, (seed, goal), span, meter) {
                Some(arrangement) => {
                    self.items.push(piece);
                    self.arrangement = arrangement;
                    waiting.remove(next);
                    free -= area;
                    refused.clear();
                }
                None => {
                    refused.insert(piece);
                }
            }
        }
        self.left = waiting.into_iter().map(|(piece, _)| piece).collect();
        self
    }

    fn with_one_more(
        &self,
        strip: &Strip,
        piece: usize,
        length: f64,
        (seed, goal): (u64, u64),
        span: Span,
        meter: &mut Meter,
    ) -> Option<Arrangement> {
        let mut items = self.items.clone();
        items.push(piece);
        let strip = strip.with_items(items);
        let newcomer = self.items.len();
        let ways: Vec<usize> = (0..strip.ways(newcomer).len()).filter(|&w| strip.admits(newcomer, w, length)).collect();
        let mut racers = Racers::new(&strip, seed, goal);
        for racer in 0..RACERS {
            let separator = racers.get(racer);
            let random = separator.random();
            let at = [random.between(0.0, length), random.between(strip.usable[0], strip.usable[1])];
            let way = ways[random.index(ways.len())];
            let mut start = self.arrangement.clone();
            start.push(Lying { way, at });
            separator.load(&start, length, PATIENCE);
        }
        let mut ended = [false; RACERS];
        while !meter.over(span) && ended.contains(&false) {
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
