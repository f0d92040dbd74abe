//! A few large pieces and many small ones: the small ones go into the gaps of the large ones and cost no length.

mod support;

use clothwright::nest::Piece;
use clothwright::shape::Curve;
use support::{effort, length, piece, quarter_turns, rect, roll, sound_lay, task, unturned};

/// Two circles of 1000 on cloth of 1100 lie with their middles 100 apart across, so 995 apart along (by Pythagoras):
/// 1995 in all. The corners that they leave are room for the patches many times over.
#[test]
fn patches_in_the_gaps_of_panels_cost_no_length() {
    let panels = piece(Curve::circle(1000.0).flatten().expect("a circle is sound"), 2, unturned());
    // Sixty patches with a twentieth of all area, and with a tenth of it.
    let with_patches = |length: f64, width: f64| -> Vec<Piece> {
        let patch = |k: u32| piece(rect(length + f64::from(k), width), 6, quarter_turns());
        std::iter::once(panels.clone()).chain((0..10).map(patch)).collect()
    };
    let least = 1000.0 + (1000.0f64.powi(2) - 100.0f64.powi(2)).sqrt();
    for pieces in [vec![panels.clone()], with_patches(30.0, 40.0), with_patches(50.0, 54.0)] {
        let count: u32 = pieces.iter().map(|piece| piece.quantity).sum();
        let lay = sound_lay(&task(vec![roll(1100.0)], pieces), &effort(2, 1));
        assert!(lay.unplaced.is_empty(), "{:?}", lay.unplaced);
        // A flattened circle is a little larger than the circle.
        let found = length(&lay);
        assert!(found >= least - 0.1 && found <= least + 1.0, "{count} pieces: {found} where {least} is enough");
    }
}
