//! Lets an item slide downhill from contact to contact, until what it overlaps and touches holds it where it is.
//!
//! The slope is that of penetration depths, which Imamichi, Yagiura and Nagamochi (2009) follow for all items at once. Near a
//! place the depth in each neighbour is the distance to a line, so that the weighted sum of depths is, as far as these lines tell,
//! known all around: how fast it falls along each heading, and how far along it is least, where enough of the depths have
//! ended. There the item touches something, and goes on along it.

use super::around::{Around, Line};
use super::{Place, Separator, Thing};
use crate::nest::vector::{dot, length, plus};

/// Steps of a descent, at most.
const STEPS: usize = 6;
/// How far around a place neighbours are noted, as a share of the item's size.
const REACH: f64 = 0.5;
/// Gaps up to this share of the item's size are none.
const TOUCHING: f64 = 1e-6;
/// Headings across what is touched that are tried: the pull, then each mended for what the last one crosses.
const ACROSS: usize = 3;
/// Cosine up to which a heading leads along a line, neither off it nor across.
const ALONG: f64 = 1e-9;
/// Share of all that pulls an item that is rounding.
const ROUNDING: f64 = 1e-9;

/// A direction of length one, and how fast overlaps fall along it.
#[derive(Clone, Copy, Debug)]
struct Heading {
    unit: [f64; 2],
    fall: f64,
}

/// Where the sum of overlaps begins to fall less, or to rise more, along a heading.
#[derive(Clone, Copy, Debug)]
struct Kink {
    run: f64,
    /// By how much.
    less: f64,
}

/// A line on which an item lies.
#[derive(Clone, Copy, Debug)]
struct Contact {
    out: [f64; 2],
    /// How fast the overlap beyond it grows; infinite at an edge of the cloth.
    weight: f64,
}

impl Contact {
    /// How fast the overlap beyond it grows along a unit way; zero along it and off it.
    fn rise(&self, unit: [f64; 2]) -> f64 {
        let into = -dot(unit, self.out);
        if into > ALONG { self.weight * into } else { 0.0 }
    }
}

/// What a descent works with; kept for the next one.
#[derive(Default)]
pub(super) struct Descent<'a> {
    around: Around<'a>,
    /// What is overlapped or touched where the item lies, and where it was last tried.
    here: Vec<Line>,
    there: Vec<Line>,
    contacts: Vec<Contact>,
    kinks: Vec<Kink>,
    /// The least and the greatest middle on the cloth.
    room: [[f64; 2]; 2],
    /// Depths up to which a line is touched and nothing is overlapped.
    touch: f64,
    /// Gaps up to which a line is touched.
    gap: f64,
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
        descent.room = self.strip.middles(half, self.length);
        descent.touch = self.touch;
        descent.gap = (TOUCHING * size).max(self.touch);
        let place = self.slide(item, start, &mut descent);
        self.descent = descent;
        place
    }

    fn slide(&mut self, item: usize, start: Place, descent: &mut Descent<'a>) -> Place {
        let me = self.as_lying(item, start.way);
        let mut place = Place { cost: self.look(item, &me, start.at, descent), ..start };
        for _ in 0..STEPS {
            std::mem::swap(&mut descent.here, &mut descent.there);
            if place.cost <= 0.0 {
                break;
            }
            let Some(heading) = descent.heading(place.at) else { break };
            let Some(better) = self.step(item, &me, &place, heading, descent) else { break };
            place = better;
        }
        place
    }

    /// A better place along a heading; none where two trials find none.
    fn step(
        &mut self,
        item: usize,
        me: &Thing,
        from: &Place,
        heading: Heading,
        descent: &mut Descent<'a>,
    ) -> Option<Place> {
        descent.note_kinks(from.at, heading);
        let run = descent.least(heading)?;
        let there = self.tried(item, me, from, heading, run, descent);
        if there.is_some() {
            return there;
        }
        // Something was in the way that is not seen from where the item lies.
        descent.note_kinks_met(heading, run);
        let nearer = descent.least(heading).filter(|nearer| *nearer < run)?;
        self.tried(item, me, from, heading, nearer, descent)
    }

    /// The place so far along a heading, if it is better.
    fn tried(
        &mut self,
        item: usize,
        me: &Thing,
        from: &Place,
        heading: Heading,
        run: f64,
        descent: &mut Descent<'a>,
    ) -> Option<Place> {
        let at = [0, 1].map(|axis| {
            let at = from.at[axis] + run * heading.unit[axis];
            at.min(descent.room[1][axis]).max(descent.room[0][axis])
        });
        let cost = self.look(item, me, at, descent);
        (cost < from.cost).then_some(Place { at, cost, ..*from })
    }

    /// Notes what an item overlaps and touches at a place, and tells what that costs.
    fn look(&mut self, item: usize, me: &Thing, at: [f64; 2], descent: &mut Descent<'a>) -> f64 {
        let Descent { around, there, gap, .. } = descent;
        self.lines(item, me, at, *gap, around, there)
    }
}

impl Descent<'_> {
    /// The heading along which overlaps fall fastest; none from a hollow.
    fn heading(&mut self, at: [f64; 2]) -> Option<Heading> {
        self.contacts.clear();
        let mut pull = [0.0; 2];
        let mut strength = 0.0;
        for line in &self.here {
            if line.depth > self.touch {
                pull = plus(pull, line.weight, line.out);
                strength += line.weight;
            } else {
                self.contacts.push(Contact { out: line.out, weight: line.weight });
            }
        }
        for axis in 0..2 {
            for (edge, inwards) in [(self.room[0][axis], 1.0), (self.room[1][axis], -1.0)] {
                if (at[axis] - edge) * inwards <= self.gap {
                    let mut out = [0.0; 2];
                    out[axis] = inwards;
                    self.contacts.push(Contact { out, weight: f64::INFINITY });
                }
            }
        }
        let falling = |unit: [f64; 2]| {
            let rise: f64 = self.contacts.iter().map(|contact| contact.rise(unit)).sum();
            Heading { unit, fall: dot(pull, unit) - rise }
        };
        // Nearby the sum is convex in the way gone: it falls fastest where what pulls and what is crossed lead, or along a
        // contact.
        let along = self.contacts.iter().flat_map(|Contact { out: [x, y], .. }| [[-y, *x], [*y, -x]]);
        let across = (0..ACROSS).scan(pull, |way, _| {
            let unit = way.map(|c| c / length(*way).max(f64::MIN_POSITIVE));
            *way = self
                .contacts
                .iter()
                .filter(|contact| contact.rise(unit) > 0.0 && contact.weight.is_finite())
                .fold(pull, |way, contact| plus(way, contact.weight, contact.out));
            Some(unit)
        });
        let steepest = along.chain(across).map(falling).max_by(|a, b| a.fall.total_cmp(&b.fall));
        steepest.filter(|heading| heading.fall > ROUNDING * strength)
    }

    /// Notes where overlaps begin to fall less along a heading, as far as the lines here tell, and where the cloth ends.
    fn note_kinks(&mut self, from: [f64; 2], heading: Heading) {
        self.kinks.clear();
        for line in self.here.iter().filter(|line| line.depth > self.touch) {
            let along = dot(line.out, heading.unit);
            if along > ALONG {
                self.kinks.push(Kink { run: line.depth / along, less: line.weight * along });
            }
        }
        for axis in (0..2).filter(|&axis| heading.unit[axis].abs() > ALONG) {
            let edge = self.room[usize::from(heading.unit[axis] > 0.0)][axis];
            self.kinks.push(Kink { run: (edge - from[axis]) / heading.unit[axis], less: f64::INFINITY });
        }
    }

    /// Notes where things were met that are overlapped at the end of a run and not here.
    fn note_kinks_met(&mut self, heading: Heading, run: f64) {
        for line in self.there.iter().filter(|line| line.depth > self.touch) {
            let against = -dot(line.out, heading.unit);
            let is_new = || self.here.iter().all(|here| here.other != line.other || here.depth <= self.touch);
            if against > ALONG && is_new() {
                self.kinks.push(Kink { run: (run - line.depth / against).max(0.0), less: line.weight * against });
            }
        }
    }

    /// How far along a heading overlaps are least by what has been noted; none where that is here.
    fn least(&mut self, heading: Heading) -> Option<f64> {
        self.kinks.sort_unstable_by(|a, b| a.run.total_cmp(&b.run));
        let mut fall = heading.fall;
        let kink = self.kinks.iter().find(|kink| {
            fall -= kink.less;
            fall <= ROUNDING * heading.fall
        });
        kink.map(|kink| kink.run).filter(|run| *run > self.touch)
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::nest::separate::tests::{rectangle, with_pieces};
    use crate::nest::strip::Lying;

    const LENGTH: f64 = 300.0;
    const WIDTH: f64 = 100.0;

    fn with_separator(pieces: &[Vec<[f64; 2]>], start: &[[f64; 2]], see: impl FnOnce(&mut Separator)) {
        with_pieces(pieces, start, [LENGTH, WIDTH], see);
    }

    fn start(separator: &mut Separator, item: usize) -> Place {
        let Lying { way, at } = separator.arrangement[item];
        let me = separator.as_lying(item, way);
        Place { way, at, cost: separator.cost(item, &me, at, f64::INFINITY) }
    }

    /// Pushed out of one rectangle it would still lie in the other.
    #[test]
    fn an_item_goes_where_it_overlaps_neither_of_two() {
        let pieces = [rectangle(40.0, 30.0), rectangle(80.0, 40.0), rectangle(30.0, 70.0)];
        // The second fills the lower left of the cloth, the third stands behind it and reaches higher.
        with_separator(&pieces, &[[62.0, 54.0], [40.0, 20.0], [95.0, 35.0]], |separator| {
            let from = start(separator, 0);
            let me = separator.as_lying(0, 0);
            let pushed = [[60.0, 54.0], [62.0, 55.0]].map(|at| separator.cost(0, &me, at, f64::INFINITY));
            assert!(pushed.iter().all(|cost| *cost > 0.0), "{pushed:?}");
            let to = separator.descended(0, from);
            assert_eq!(to.cost, 0.0);
            assert!((to.at[0] - 60.0).abs() < 1e-3 && to.at[1] > 55.0 - 1e-3, "it touches the third: {to:?}");
        });
    }

    /// Overlaps of any size are ended, small ones too.
    #[test]
    fn one_overlap_ends_where_the_two_touch() {
        for depth in [1e-4, 1e-2, 1.0, 9.0] {
            let pieces = [rectangle(40.0, 30.0), rectangle(60.0, 50.0)];
            with_separator(&pieces, &[[50.0, 65.0 - depth], [50.0, 25.0]], |separator| {
                let from = start(separator, 0);
                assert!(from.cost > 0.0);
                let to = separator.descended(0, from);
                assert!(to.cost == 0.0 && (to.at[1] - 65.0).abs() < 1e-4, "{depth}: {to:?}");
            });
        }
    }

    /// In a slot that is too narrow an item lies as well here as there; it does not go from where it overlaps least.
    #[test]
    fn in_a_slot_too_narrow_the_sum_of_overlaps_is_what_is_missing() {
        let pieces = [rectangle(20.0, 22.0), rectangle(90.0, 40.0), rectangle(90.0, 40.0)];
        with_separator(&pieces, &[[50.0, 60.0], [45.0, 20.0], [45.0, 80.0]], |separator| {
            let (me, other) = (separator.things[0], separator.things[1]);
            let from = start(separator, 0);
            let to = separator.descended(0, from);
            let missing = to.cost / f64::from(me.bulk * other.bulk);
            assert!(from.cost > 1.5 * to.cost && (missing - 2.0).abs() < 1e-3, "{missing}");
        });
    }

    fn line(depth: f64, out: [f64; 2], weight: f64) -> Line {
        let size = length(out);
        Line { other: 0, depth, out: out.map(|c| c / size), weight }
    }

    /// The heading from the middle of a large cloth, and how fast overlaps fall.
    fn heading(lines: &[Line]) -> Option<([f64; 2], f64)> {
        let room = [[-1e3; 2], [1e3; 2]];
        let mut descent = Descent { here: lines.to_vec(), room, touch: 1e-6, gap: 1e-6, ..Descent::default() };
        descent.heading([0.0; 2]).map(|heading| (heading.unit, heading.fall))
    }

    fn leads(lines: &[Line], unit: [f64; 2], fall: f64) -> bool {
        heading(lines)
            .is_some_and(|(found, falls)| length(plus(found, -1.0, unit)) < 1e-6 && (falls - fall).abs() < 1e-6)
    }

    #[test]
    fn what_is_touched_holds_as_much_as_it_weighs_and_no_more() {
        let down = line(3.0, [0.0, -1.0], 1.0);
        assert!(leads(&[down], [0.0, -1.0], 1.0));
        // Straight against a line: it holds, or is crossed at its price.
        assert_eq!(heading(&[down, line(0.0, [0.0, 1.0], 2.0)]), None);
        assert!(leads(&[down, line(0.0, [0.0, 1.0], 0.4)], [0.0, -1.0], 0.6));
        // Along a line that holds.
        let half = 0.5f64.sqrt();
        let slanted = line(3.0, [1.0, -1.0], 1.0);
        assert!(leads(&[slanted, line(0.0, [0.0, 1.0], 2.0)], [1.0, 0.0], half));
        assert!(leads(&[slanted, line(0.0, [0.0, -1.0], 2.0)], [half, -half], 1.0));
        // Two lines that would hold one by one, but are too steep to hold together.
        let steep = [line(0.0, [6.0, 1.0], 1.0), line(0.0, [-6.0, 1.0], 1.0)];
        let held = 2.0 / 37f64.sqrt();
        assert!(leads(&[down, steep[0], steep[1]], [0.0, -1.0], 1.0 - held));
        // Two that hold together, a narrow wedge too.
        let narrow = [line(0.0, [6.0, 1.0], 10.0), line(0.0, [-6.0, 1.0], 10.0)];
        assert_eq!(heading(&[down, narrow[0], narrow[1]]), None);
        assert_eq!(heading(&[down, line(0.0, [1.0, 1.0], 1.0), line(0.0, [-1.0, 1.0], 1.0)]), None);
    }

    #[test]
    fn a_run_ends_where_enough_of_the_overlaps_have_ended_or_the_cloth_does() {
        let least = |lines: &[Line], room: f64| {
            let room = [[-room; 2], [room; 2]];
            let mut descent = Descent { here: lines.to_vec(), room, touch: 1e-6, gap: 1e-6, ..Descent::default() };
            let heading = descent.heading([0.0; 2]).expect("it falls");
            descent.note_kinks([0.0; 2], heading);
            descent.least(heading)
        };
        let left = |depth: f64, weight: f64| line(depth, [-1.0, 0.0], weight);
        let right = |depth: f64, weight: f64| line(depth, [1.0, 0.0], weight);
        assert_eq!(least(&[right(3.0, 1.0)], 1e3), Some(3.0));
        // The first to end is lighter than what pulls on, the second is not.
        assert_eq!(least(&[right(2.0, 1.0), right(5.0, 3.0), right(9.0, 1.0), left(4.0, 1.5)], 1e3), Some(5.0));
        assert_eq!(least(&[right(3.0, 1.0)], 2.0), Some(2.0));
    }

    #[test]
    fn what_is_met_on_a_run_ends_it_where_it_weighs_enough() {
        let met = |weight: f64| {
            let here = vec![line(8.0, [1.0, 0.0], 1.0)];
            let there = vec![Line { other: 7, ..line(2.0, [-1.0, 0.0], weight) }];
            let room = [[-1e3; 2], [1e3; 2]];
            let mut descent = Descent { here, there, room, touch: 1e-6, gap: 1e-6, ..Descent::default() };
            let heading = descent.heading([0.0; 2]).expect("it falls");
            descent.note_kinks([0.0; 2], heading);
            descent.note_kinks_met(heading, 8.0);
            descent.least(heading)
        };
        assert_eq!((met(1.5), met(0.5)), (Some(6.0), Some(8.0)));
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
