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
