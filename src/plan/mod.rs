//! The whole job worked out: pieces to cut, the lay, and the file that records it.

mod lay_file;

pub use lay_file::{LaidCloth, LaidPiece, LayFile, UnplacedPiece};
