//! The fullest a roll can be cut: the subset of some lengths whose sum comes nearest to a length from below.

use super::Ticks;

/// Steps of the search for one roll. With a few dozen lengths a roll is full to the last millimetre long before.
const STEPS: u32 = 5_000;

struct Search<'l> {
    lengths: &'l [Ticks],
    /// What all lengths from a place on come to.
    rest: Vec<Ticks>,
    room: Ticks,
    chosen: Vec<usize>,
    sum: Ticks,
    best: Vec<usize>,
    best_sum: Ticks,
    steps: u32,
}

/// Places of the lengths that fill `room` best; lengths are in falling order.
pub(super) fn fullest(lengths: &[Ticks], room: Ticks) -> Vec<usize> {
    let mut rest = vec![0; lengths.len() + 1];
    for place in (0..lengths.len()).rev() {
        rest[place] = rest[place + 1] + lengths[place];
    }
    let mut search =
        Search { lengths, rest, room, chosen: Vec::new(), sum: 0, best: Vec::new(), best_sum: 0, steps: STEPS };
    search.from(0);
    search.best
}

impl Search<'_> {
    /// Decides on the lengths from a place on, taking before leaving out.
    fn from(&mut self, place: usize) {
        if self.sum > self.best_sum {
            self.best_sum = self.sum;
            self.best.clone_from(&self.chosen);
        }
        let mut place = place;
        while place < self.lengths.len() {
            let hopeless = self.sum + self.rest[place] <= self.best_sum;
            if hopeless || self.best_sum == self.room || self.steps == 0 {
                return;
            }
            let length = self.lengths[place];
            if self.sum + length <= self.room {
                self.steps -= 1;
                self.chosen.push(place);
                self.sum += length;
                self.from(place + 1);
                self.sum -= length;
                self.chosen.pop();
            }
            // Without this one, the same length again leads to nothing new.
            place += self.lengths[place..].iter().take_while(|next| **next == length).count();
        }
    }
}
