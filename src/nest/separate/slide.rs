//! Slides items of a sound arrangement towards the start of the cloth.

use super::{Place, Separator, Thing};

/// Rounds of sliding items towards the start of the cloth.
const SLIDES: usize = 3;

impl Separator<'_> {
    /// Moves every item of an arrangement without overlap towards the start of the cloth until it touches something.
    pub fn slide_back(&mut self) {
        let mut order: Vec<usize> = (0..self.strip.items.len()).collect();
        let left = |thing: &Thing| thing.at[0] - thing.half[0];
        order.sort_by(|&a, &b| left(&self.things[a]).total_cmp(&left(&self.things[b])).then(a.cmp(&b)));
        for _ in 0..SLIDES {
            let mut moved = false;
            for &item in &order {
                moved |= self.slide_item_back(item);
            }
            if !moved {
                break;
            }
        }
    }

    fn slide_item_back(&mut self, item: usize) -> bool {
        let me = self.things[item];
        let lying = self.arrangement[item];
        let room = me.at[0] - self.strip.half(item, lying.way)[0];
        // Everything between the item and the start of the cloth may be in the way.
        let half_way = me.at[0] / 2.0;
        let run = self
            .near(item, [half_way, me.at[1]], [half_way + me.half[0], me.half[1]])
            .map(|other| {
                let it = &self.things[other];
                let apart = [me.at[0] - it.at[0], me.at[1] - it.at[1]];
                self.strip.shapes.pairs().free_run(it.shape as usize, me.shape as usize, apart, 0, self.touch)
            })
            .fold(room, f64::min);
        if run <= self.touch {
            return false;
        }
        let at = [me.at[0] - run, me.at[1]];
        let free = self.cost(item, &me, at, f64::INFINITY) == 0.0;
        if free {
            self.put(item, Place { way: lying.way, at, cost: 0.0 });
        }
        free
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use crate::nest::compact::is_sound;
    use crate::nest::separate::tests::{rectangle, with_pieces};

    const CLOTH: [f64; 2] = [400.0, 100.0];

    #[test]
    fn items_slide_to_the_start_and_to_each_other() {
        let pieces = [rectangle(40.0, 60.0), rectangle(30.0, 60.0), rectangle(50.0, 20.0)];
        with_pieces(&pieces, &[[50.0, 30.0], [120.0, 50.0], [200.0, 90.0]], CLOTH, |separator| {
            separator.slide_back();
            for (lying, x) in separator.arrangement().iter().zip([20.0, 55.0, 25.0]) {
                assert!((lying.at[0] - x).abs() < 1e-3, "{lying:?} instead of {x}");
            }
        });
    }

    proptest! {
        /// Rhombs that lie apart at first, each in its own part of the cloth.
        #[test]
        fn nothing_overlaps_and_nothing_goes_ahead(
            places in proptest::collection::vec((0.3..0.7f64, 0.2..0.8f64, 5.0..20.0f64), 2..10),
        ) {
            let rhomb = |size: f64| vec![[0.0, size], [size, 0.0], [2.0 * size, size], [size, 2.0 * size]];
            let pieces: Vec<_> = places.iter().map(|(_, _, size)| rhomb(*size)).collect();
            let part = 2.0 * 40.0;
            let middles: Vec<_> =
                places.iter().enumerate().map(|(k, (x, y, _))| [part * (k as f64 + x), CLOTH[1] * y]).collect();
            with_pieces(&pieces, &middles, [part * places.len() as f64, CLOTH[1]], |separator| {
                let before = separator.arrangement().clone();
                assert!(is_sound(separator.strip, &before));
                separator.slide_back();
                let after = separator.arrangement();
                assert!(is_sound(separator.strip, after));
                for (old, new) in before.iter().zip(after) {
                    assert!(new.at[0] <= old.at[0] && new.at[1] == old.at[1], "{old:?} and {new:?}");
                }
                let first = after.iter().enumerate().map(|(k, lying)| lying.at[0] - separator.strip.half(k, 0)[0]);
                assert!(first.fold(f64::INFINITY, f64::min) < 1e-3, "the first has reached the start");
            });
        }
    }
}
