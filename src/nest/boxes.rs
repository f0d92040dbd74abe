//! A first lay of boxes: for pieces that fill their boxes it is exact where the raster rounds.
//!
//! The front of what is laid is kept as steps across the cloth (a skyline, as in Burke, Kendall and Whitwell, "A new
//! placement heuristic for the orthogonal stock-cutting problem", 2004); each item goes where its far end comes out
//! least, and of equal places to the lowest.

use super::strip::{Lying, Strip};

/// Which ways of an item are tried.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Choice {
    /// All.
    Any,
    /// The one of whose boxes whole rows fill the width of the cloth best.
    BestRows,
}

/// A stretch of the front: from this y on, up to the next step, the cloth is free from this x on.
#[derive(Clone, Copy, Debug)]
pub(super) struct Step {
    pub y: f64,
    pub x: f64,
}

/// Lays items in an order by their boxes with half the gap all round; `None` for one that finds no place. Obstacles are
/// not looked at.
pub fn fill_by_boxes(
    strip: &Strip,
    order: &[usize],
    length: Option<f64>,
    gap: f64,
    choice: Choice,
) -> Vec<Option<Lying>> {
    let half_gap = gap / 2.0;
    let [low, high] = [strip.usable[0] - half_gap, strip.usable[1] + half_gap];
    let end = length.map_or(f64::INFINITY, |length| length + half_gap);
    let slack = 1e-9 * (high - low);
    let mut front = vec![Step { y: low, x: -half_gap }];
    let mut laid = vec![None; strip.items.len()];
    for &item in order {
        let mut best: Option<(f64, f64, usize)> = None;
        for way in ways_to_try(strip, item, high - low, choice) {
            let size = strip.box_with_gap(item, way);
            let place = lowest_end(&front, size, high + slack).filter(|(far, _)| *far <= end + slack);
            if let Some((far, y)) = place
                && best
                    .is_none_or(|(best_far, best_y, _)| far < best_far - slack || far < best_far + slack && y < best_y)
            {
                best = Some((far, y, way));
            }
        }
        if let Some((far, y, way)) = best {
            let size = strip.box_with_gap(item, way);
            raise(&mut front, y, y + size[1], far, slack);
            laid[item] = Some(Lying { way, at: [far - size[0] / 2.0, y + size[1] / 2.0] });
        }
    }
    laid
}

fn ways_to_try(strip: &Strip, item: usize, width: f64, choice: Choice) -> Vec<usize> {
    let all = 0..strip.ways(item).len();
    let filled = |way: usize| {
        let across = strip.box_with_gap(item, way)[1];
        ((width / across) * (1.0 + 1e-9)).floor() * across
    };
    match choice {
        Choice::Any => all.collect(),
        Choice::BestRows => all.max_by(|&a, &b| filled(a).total_cmp(&filled(b)).then(b.cmp(&a))).into_iter().collect(),
    }
}

/// The far end and the y of the place on the front where a box ends first.
fn lowest_end(front: &[Step], size: [f64; 2], high: f64) -> Option<(f64, f64)> {
    let end_at = |first: usize| {
        let top = front[first].y + size[1];
        let under = front[first..].iter().take_while(|step| step.y < top - 1e-9 * size[1]);
        (under.map(|step| step.x).fold(f64::NEG_INFINITY, f64::max) + size[0], front[first].y)
    };
    (0..front.len())
        .filter(|&first| front[first].y + size[1] <= high)
        .map(end_at)
        .min_by(|a, b| a.0.total_cmp(&b.0).then(a.1.total_cmp(&b.1)))
}

/// Moves the front between two y to an x.
fn raise(front: &mut Vec<Step>, from: f64, to: f64, x: f64, slack: f64) {
    let first = front.partition_point(|step| step.y < from);
    let after = front.partition_point(|step| step.y < to - slack);
    // What was free before the end of the box stays so beyond it.
    let beyond = front[..after].last().map(|step| Step { y: to, x: step.x });
    let ends_on_step = front.get(after).is_some_and(|step| step.y <= to + slack);
    let replacement = std::iter::once(Step { y: from, x }).chain(beyond.filter(|_| !ends_on_step));
    front.splice(first..after, replacement);
}

#[cfg(test)]
mod tests {
    use super::*;

    fn steps(front: &[Step]) -> Vec<[f64; 2]> {
        front.iter().map(|step| [step.y, step.x]).collect()
    }

    #[test]
    fn the_front_rises_where_a_box_is_laid() {
        let mut front = vec![Step { y: 0.0, x: 0.0 }];
        raise(&mut front, 0.0, 3.0, 5.0, 1e-9);
        assert_eq!(steps(&front), [[0.0, 5.0], [3.0, 0.0]]);
        raise(&mut front, 3.0, 6.0, 2.0, 1e-9);
        assert_eq!(steps(&front), [[0.0, 5.0], [3.0, 2.0], [6.0, 0.0]]);
        raise(&mut front, 0.0, 6.0, 7.0, 1e-9);
        assert_eq!(steps(&front), [[0.0, 7.0], [6.0, 0.0]]);
    }

    #[test]
    fn a_box_goes_where_it_ends_first() {
        let front = [Step { y: 0.0, x: 5.0 }, Step { y: 3.0, x: 2.0 }, Step { y: 6.0, x: 0.0 }];
        assert_eq!(lowest_end(&front, [1.0, 4.0], 10.0), Some((1.0, 6.0)));
        assert_eq!(lowest_end(&front, [1.0, 5.0], 10.0), Some((3.0, 3.0)));
        assert_eq!(lowest_end(&front, [1.0, 10.0], 10.0), Some((6.0, 0.0)));
        assert_eq!(lowest_end(&front, [1.0, 11.0], 10.0), None);
    }
}
