//! A short name for a lay, so that ticks made on one are not taken for ticks on another.

use crate::plan::{LayFile, lay_json};

/// Sixteen hexadecimal digits that differ for lays that differ: FNV-1a, 64 bits (Fowler, Noll, Vo; IETF draft-eastlake-fnv).
/// It keeps nothing secret, so a short public function does.
pub(super) fn digest(lay: &LayFile) -> String {
    const BASIS: u64 = 0xcbf2_9ce4_8422_2325;
    const PRIME: u64 = 0x0000_0100_0000_01b3;
    let text = lay_json(lay).unwrap_or_default();
    let hash = text.iter().fold(BASIS, |hash, byte| (hash ^ u64::from(*byte)).wrapping_mul(PRIME));
    format!("{hash:016x}")
}
