//! Dressing out: what goes onto the cloth once the panels are on, by rule.
//!
//! Half of the work of covering comes after the big panels: finishing tape, laces and the tape under them, rings and
//! their doilies, drains, coats. Each rule here is a pure function of lengths in millimetres and a [`RuleBook`]; where on
//! the aircraft a thing goes is asked elsewhere. A figure comes back with its default, its source and the person's own
//! reason, as [`super::RuleUsed`].
//!
//! [`RuleBook`]: super::RuleBook

mod bias;
mod chart;
mod circles;
mod laces;
mod liquids;
mod openings;
mod patch_sizes;
mod rectangles;
mod reinforcing;
mod spacing;
mod tapes;

pub use bias::{Ease, TAKE_UP, TapeCut, tape_round};
pub use chart::{Airflow, BeyondChart, figure_2_12};
pub use laces::{Laces, RibCord, attachment_caution, cord_of_rib, laces};
pub use liquids::{Liquid, Litres, NoAreaFigure, cement_for_cloth, litres};
pub use openings::{
    DoilySize, Drain, Protrusion, RingMaterial, doily, drain, inspection_ring, patch_margin, protrusion,
};
pub(in crate::covering) use patch_sizes::covers;
pub use patch_sizes::{
    PatchSize, PatchSizes, SPARE_SHARE, SizeCount, WantedPatch, WantedShape, given_sizes, patch_sizes,
};
pub use reinforcing::{
    AntiTearStrip, ReinforcedRib, anti_chafe_length, anti_tear_strip, inter_rib_bracing, isolated_tape, reinforced_rib,
};
pub use spacing::{NoSpacing, lace_spacing};
pub use tapes::{TapeOver, TapeTooNarrow, bonds_beside, tape_over};
