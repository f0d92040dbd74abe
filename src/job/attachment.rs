//! How the cloth is held to the ribs besides by dope or cement.

/// What fastens the cloth to ribs.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Attachment {
    /// Cord through the wing, knotted at each loop.
    Lacing,
    /// Screws into the rib cap.
    Screws,
    /// Blind rivets into the rib cap.
    Rivets,
    /// Metal clips or wire on the rib cap.
    Clips,
    /// Nothing: only where the maker's manual has it so.
    None,
}
