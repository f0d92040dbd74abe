//! A block of words and marks that is set beneath the cloth.

use svg::node::element::Group;

/// A block with its upper left corner at the origin.
pub(super) struct Block {
    /// What it shows.
    pub drawing: Group,
    /// Its width.
    pub width: f64,
    /// Its height.
    pub height: f64,
}
