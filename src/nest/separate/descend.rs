//! Lets an item slide downhill from contact to contact, until what it overlaps holds it where it is.
//!
//! The slope is that of penetration depths, which Imamichi, Yagiura and Nagamochi (2009) follow for all items at once. Near a
//! place the depth in each neighbour is the distance to a line. So the weighted sum of depths falls evenly along a way until
//! the first of them ends, and where it is least along that way is known without a trial. There the item touches
//! something, and goes on along it.

use super::around::{Around, Overlap};
use super::{Place, Separator, Thing};

/// Steps of a descent, at most.
const STEPS: usize = 6;
/// How far around a place neighbours are noted, as a share of the item's size.
const REACH: f64 = 0.5;
/// Runs up to this share of the item's size are none: what ends them is touched already.
const LEAST_RUN: f64 = 1e-4;
/// Cosine up to which a way leads along a line, neither off it nor across.
const ALONG: f64 = 1e-6;
/// Share of the strength of a pull that is rounding.
const ROUNDING: f64 = 1e-9;

/// A line that an item lies on.
#[derive(Clone, Copy, Debug)]
struct Contact {
    /// Unit way off it.
    off: [f64; 2],
    /// How fast the overlap beyond it grows; infinite at an edge of the cloth.
    weight: f64,
}

impl Contact {
    /// How much of a pull the line holds: nothing where the pull leads off it, or is strong enough to cross it.
    fn held(&self, pull: [f64; 2]) -> f64 {
        let into = -dot(pull, self.off);
        if into > ALONG * length(pull) && into < self.weight { into } else { 0.0 }
    }
}

/// A way of length one, and how fast overlaps fall along it.
#[derive(Clone, Copy, Debug)]
struct Way {
    unit: [f64; 2],
    fall: f64,
}

/// Where the sum of overlaps begins to fall less along a way.
#[derive(Clone, Copy, Debug)]
struct Stop {
    run: f64,
    /// By how much less.
    less: f64,
    contact: Contact,
}

/// One step of a descent: the place where it ends, if it leads away at all, and what is touched there.
struct Step {
    place: Option<Place>,
    contact: Contact,
}

/// What a descent works with; kept for the next one.
#[derive(Default)]
pub(super) struct Descent<'a> {
    around: Around<'a>,
    /// What is overlapped where the item lies, and where it was last tried.
    here: Vec<Overlap>,
    there: Vec<Overlap>,
    contacts: Vec<Contact>,
    stops: Vec<Stop>,
    /// The least and the greatest middle on the cloth.
    room: [[f64; 2]; 2],
    least_run: f64,
}

impl<'a> Separator<'a> {
    /// The place to which an item comes from another when it slides downhill.
    pub(super) fn descended(&mut self, item: usize, start: Place) -> Place {
        if start.cost <= 0.0 {
            return start;
        }
        let half = self.strip.half(item, start.way);
        let size = 2.0 * half[0].min(half[1]);
        let mut descent = std::mem::take(&mut self.descent);
        descent.around.forget(REACH * size);
        descent.contacts.clear();
        descent.room = self.strip.middles(half, self.length);
        descent.least_run = LEAST_RUN * size;
        let place = self.slide(item, start, &mut descent);
        self.descent = descent;
        place
    }

    fn slide(&mut self, item: usize, start: Place, descent: &mut Descent<'a>) -> Place {
        let me = self.as_lying(item, start.way);
        let mut place = Place { cost: self.look(item, &me, start.at, descent), ..start };
        descent.arrive();
        for _ in 0..STEPS {
            let Some(way) = descent.way() else { break };
            let Some(step) = self.step(item, &me, &place, way, descent) else { break };
            if let Some(better) = step.place {
                place = better;
                descent.arrive();
                descent.contacts.retain(|contact| dot(contact.off, way.unit).abs() <= ALONG);
            }
            descent.contacts.push(step.contact);
        }
        place
    }

    /// The next step along a way; none where nothing better is found along it.
    fn step(&mut self, item: usize, me: &Thing, from: &Place, way: Way, descent: &mut Descent<'a>) -> Option<Step> {
        let mut stop = descent.stop(from.at, way)?;
        for _ in 0..2 {
            if stop.run <= descent.least_run {
                return Some(Step { place: None, contact: stop.contact });
            }
            let at = [from.at[0] + stop.run * way.unit[0], from.at[1] + stop.run * way.unit[1]];
            let at = [0, 1].map(|axis| at[axis].min(descent.room[1][axis]).max(descent.room[0][axis]));
            let cost = self.look(item, me, at, descent);
            if cost < from.cost {
                return Some(Step { place: Some(Place { at, cost, ..*from }), contact: stop.contact });
            }
            // Something else was in the way, and it goes no further than there.
            stop = descent.first_met(way, stop.run)?;
        }
        None
    }

    /// Notes what an item overlaps at a place, and tells what that costs.
    fn look(&mut self, item: usize, me: &Thing, at: [f64; 2], descent: &mut Descent<'a>) -> f64 {
        self.overlaps(item, me, at, &mut descent.around, &mut descent.there)
    }
}

impl Descent<'_> {
    /// The item goes where it was last tried.
    fn arrive(&mut self) {
        std::mem::swap(&mut self.here, &mut self.there);
    }

    /// The way along which overlaps fall fastest and that crosses no contact; none from a hollow.
    fn way(&self) -> Option<Way> {
        let pull = self.here.iter().fold([0.0; 2], |pull, overlap| plus(pull, overlap.weight, overlap.out));
        let is_free = |way: &[f64; 2]| self.contacts.iter().all(|contact| contact.held(*way) == 0.0);
        let along = |contact: &Contact| plus(pull, contact.held(pull), contact.off);
        let way = if is_free(&pull) {
            pull
        } else {
            let held = self.contacts.iter().filter(|contact| contact.held(pull) > 0.0);
            held.map(along).filter(is_free).max_by(|a, b| length(*a).total_cmp(&length(*b)))?
        };
        let fall = length(way);
        (fall > ROUNDING * length(pull)).then(|| Way { unit: way.map(|c| c / fall), fall })
    }

    /// Where overlaps are least along a way, as far as those here tell, or where the cloth ends.
    fn stop(&mut self, from: [f64; 2], way: Way) -> Option<Stop> {
        self.stops.clear();
        for overlap in &self.here {
            let along = dot(overlap.out, way.unit);
            if along > ALONG {
                let contact = Contact { off: overlap.out, weight: overlap.weight };
                self.stops.push(Stop { run: overlap.depth / along, less: overlap.weight * along, contact });
            }
        }
        for axis in (0..2).filter(|&axis| way.unit[axis].abs() > ALONG) {
            let edge = self.room[usize::from(way.unit[axis] > 0.0)][axis];
            let mut contact = Contact { off: [0.0; 2], weight: f64::INFINITY };
            contact.off[axis] = -way.unit[axis].signum();
            self.stops.push(Stop { run: (edge - from[axis]) / way.unit[axis], less: f64::INFINITY, contact });
        }
        self.stops.sort_unstable_by(|a, b| a.run.total_cmp(&b.run));
        let mut fall = way.fall;
        let last = self.stops.iter().find(|stop| {
            fall -= stop.less;
            fall <= ROUNDING * way.fall
        });
        last.or(self.stops.last()).copied()
    }

    /// Where, on a run along a way, the first of those things was met that are overlapped at its end and not here.
    fn first_met(&self, way: Way, run: f64) -> Option<Stop> {
        let met = self.there.iter().filter_map(|overlap| {
            let against = -dot(overlap.out, way.unit);
            let is_new = || self.here.iter().all(|here| here.other != overlap.other);
            let contact = Contact { off: overlap.out, weight: overlap.weight };
            let stop = Stop { run: run - overlap.depth / against, less: overlap.weight * against, contact };
            (against > ALONG && is_new()).then_some(stop)
        });
        met.min_by(|a, b| a.run.total_cmp(&b.run))
    }
}

fn dot(a: [f64; 2], b: [f64; 2]) -> f64 {
    a[0] * b[0] + a[1] * b[1]
}

fn length(way: [f64; 2]) -> f64 {
    dot(way, way).sqrt()
}

/// `a` and so many times `b`.
fn plus(a: [f64; 2], times: f64, b: [f64; 2]) -> [f64; 2] {
    [a[0] + times * b[0], a[1] + times * b[1]]
}

#[cfg(test)]
mod tests {
    use geo_types::{LineString, Polygon};
    use proptest::prelude::*;

    use super::*;
    use crate::nest::random::Random;
    use crate::nest::separate::Patience;
    use crate::nest::shapes::Shapes;
    use crate::nest::strip::{Lying, Strip};
    use crate::nest::task::{Piece, Turns};
    use crate::shape::Outline;

    const LENGTH: f64 = 300.0;
    const WIDTH: f64 = 100.0;

    fn with_separator(pieces: &[Vec<[f64; 2]>], start: &[[f64; 2]], see: impl FnOnce(&mut Separator)) {
        let piece = |corners: &Vec<[f64; 2]>| Piece {
            outline: Outline::new(Polygon::new(LineString::from(corners.clone()), Vec::new())).expect("sound"),
            quantity: 1,
            turns: Turns::These { angles: vec![0.0], tilt: 0.0 },
            flip: false,
            cloths: None,
        };
        let pieces: Vec<Piece> = pieces.iter().map(piece).collect();
        let shapes = Shapes::new(&pieces, &[], false, 0.0).expect("no gap");
        let strip = Strip::new(&shapes, (0..start.len()).collect(), [0.0, WIDTH], start.len()..start.len(), false);
        let lying: Vec<Lying> = start.iter().map(|&at| Lying { way: 0, at }).collect();
        let mut separator = Separator::new(&strip, Random::new(1, 0));
        separator.load(&lying, LENGTH, Patience { passes: 1, strikes: 1 });
        see(&mut separator);
    }

    fn rectangle(length: f64, width: f64) -> Vec<[f64; 2]> {
        vec![[0.0, 0.0], [length, 0.0], [length, width], [0.0, width]]
    }

    fn start(separator: &mut Separator, item: usize) -> Place {
        let Lying { way, at } = separator.arrangement[item];
        let me = separator.as_lying(item, way);
        Place { way, at, cost: separator.cost(item, &me, at, f64::INFINITY) }
    }

    /// Between the end of the cloth and two rectangles there is a corner, just out of reach of a push out of either.
    #[test]
    fn an_item_slides_along_what_it_touches_into_a_corner() {
        let pieces = [rectangle(40.0, 30.0), rectangle(60.0, 40.0), rectangle(30.0, 60.0)];
        // The second fills the lower left of the cloth, the third stands on the lower edge behind it.
        with_separator(&pieces, &[[62.0, 56.0], [30.0, 20.0], [75.0, 30.0]], |separator| {
            let from = start(separator, 0);
            assert!(from.cost > 0.0);
            let to = separator.descended(0, from);
            assert_eq!(to.cost, 0.0);
            // Above the third, or left of it and above the second; it touches in any case.
            let touches = (to.at[1] - 75.0).abs() < 0.01 || (to.at[0] - 40.0).abs() < 0.01 && to.at[1] >= 54.99;
            assert!(touches, "{to:?}");
        });
    }

    #[test]
    fn an_item_in_a_slot_that_is_too_narrow_comes_to_lie_between_and_ends_at_the_edge_of_the_cloth() {
        // The way to the right is free where the slot between the two ends.
        let pieces = [rectangle(20.0, 22.0), rectangle(60.0, 40.0), rectangle(60.0, 40.0)];
        with_separator(&pieces, &[[20.0, 49.0], [30.0, 20.0], [30.0, 80.0]], |separator| {
            let from = start(separator, 0);
            let to = separator.descended(0, from);
            assert!(to.cost < from.cost, "{from:?} {to:?}");
            let touches = [51.0, 49.0].iter().any(|y| (to.at[1] - y).abs() < 0.01);
            assert!(touches, "it touches one of the two: {to:?}");
        });
    }

    proptest! {
        /// Wherever an item starts from, it ends on the cloth, no worse, and what is told of its overlaps is so.
        #[test]
        fn a_descent_leads_to_no_worse_place_on_the_cloth(
            places in proptest::collection::vec((0.0..LENGTH, 0.0..WIDTH), 12),
        ) {
            let pieces: Vec<Vec<[f64; 2]>> = (0..places.len())
                .map(|k| {
                    let size = 25.0 + 4.0 * k as f64;
                    vec![[0.0, 0.0], [size, 0.0], [0.6 * size, 0.4 * size], [0.2 * size, 0.9 * size]]
                })
                .collect();
            let places: Vec<[f64; 2]> = places.into_iter().map(|(x, y)| [x, y]).collect();
            with_separator(&pieces, &places, |separator| {
                for item in 0..places.len() {
                    let from = start(separator, item);
                    let to = separator.descended(item, from);
                    assert!(to.cost <= from.cost);
                    let half = separator.strip.half(item, 0);
                    assert_eq!(to.at, separator.strip.onto_cloth(half, to.at, LENGTH));
                    let me = separator.as_lying(item, 0);
                    let cost = separator.cost(item, &me, to.at, f64::INFINITY);
                    assert!((cost - to.cost).abs() <= 1e-9 * from.cost, "{cost} and {to:?}");
                }
            });
        }
    }
}
