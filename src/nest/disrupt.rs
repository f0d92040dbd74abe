//! Ways out of a dead end: an arrangement changed so much that the search for one without overlap takes another course.

use super::random::Random;
use super::strip::{Lying, Strip};

/// Shares of the cloth's length that are thrown into disorder, at least and at most.
const SCATTERED: [f64; 2] = [0.1, 0.4];

/// Swaps two large items, or throws a part of the cloth into disorder.
pub fn disrupt(strip: &Strip, arrangement: &mut [Lying], length: f64, random: &mut Random) {
    if random.index(2) == 0 {
        swap_large(strip, arrangement, random);
    } else {
        scatter(strip, arrangement, length, random);
    }
}

/// Puts every item of some part of the cloth at a random place of that part, in a random way.
fn scatter(strip: &Strip, arrangement: &mut [Lying], length: f64, random: &mut Random) {
    let size = length * random.between(SCATTERED[0], SCATTERED[1]);
    let from = random.between(0.0, length - size);
    for (item, lying) in arrangement.iter_mut().enumerate() {
        if lying.at[0] < from || lying.at[0] > from + size {
            continue;
        }
        let way = random.index(strip.ways(item).len());
        if strip.admits(item, way, length) {
            lying.way = way;
        }
        let at = [random.between(from, from + size), random.between(strip.usable[0], strip.usable[1])];
        lying.at = strip.onto_cloth(strip.half(item, lying.way), at, length);
    }
}

/// Swaps two of the larger items that differ in shape.
fn swap_large(strip: &Strip, arrangement: &mut [Lying], random: &mut Random) {
    let mut by_bulk: Vec<usize> = (0..strip.items.len()).collect();
    by_bulk.sort_by(|&a, &b| strip.bulk(b).total_cmp(&strip.bulk(a)).then(a.cmp(&b)));
    let area = |item: usize| strip.bulk(item) * strip.bulk(item);
    let all: f64 = by_bulk.iter().map(|&item| area(item)).sum();
    let mut sum = 0.0;
    let large: Vec<usize> = by_bulk
        .into_iter()
        .take_while(|&item| {
            let before = sum;
            sum += area(item);
            before < 0.75 * all
        })
        .collect();
    let first = large[random.index(large.len())];
    let others: Vec<usize> = large.into_iter().filter(|&item| strip.items[item] != strip.items[first]).collect();
    if others.is_empty() {
        return;
    }
    let second = others[random.index(others.len())];
    let at = arrangement[first].at;
    arrangement[first].at = arrangement[second].at;
    arrangement[second].at = at;
}
