//! Pieces for the tests of these modules, and somebody who interrupts.

use std::sync::atomic::{AtomicU32, Ordering};

use geo_types::{LineString, Polygon};

use super::strip::{Arrangement, Lying, Strip};
use super::task::{Piece, Progress, Turns, Watch};
use crate::shape::Outline;

/// So many copies of an outline, which may lie at some angles, in degrees.
pub fn piece(corners: &[[f64; 2]], quantity: u32, angles: &[f64]) -> Piece {
    let outline = Outline::new(Polygon::new(LineString::from(corners.to_vec()), Vec::new())).expect("sound");
    Piece { outline, quantity, turns: Turns::These { angles: angles.to_vec(), tilt: 0.0 }, flip: false, cloths: None }
}

/// Interrupts when it has been asked so many times whether to.
pub struct Impatient {
    /// How many times it still says no.
    pub patience: AtomicU32,
}

impl Watch for Impatient {
    fn report(&self, _: Progress) {}

    fn interrupted(&self) -> bool {
        let less = |left: u32| left.checked_sub(1);
        self.patience.fetch_update(Ordering::Relaxed, Ordering::Relaxed, less).is_err()
    }
}

/// All items of a strip one behind the other.
pub fn in_a_row(strip: &Strip) -> Arrangement {
    let mut end = 0.0;
    let mut lie = |item: usize| {
        let half = strip.half(item, 0);
        end += 2.0 * half[0];
        Lying { way: 0, at: [end - half[0], strip.usable[0] + half[1]] }
    };
    (0..strip.items.len()).map(&mut lie).collect()
}
