//! From millimetres of paper to millimetres of the face.

/// How the sheet is scaled.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Pen {
    /// Millimetres of the face in a millimetre of paper.
    pub scale: f64,
}

impl Pen {
    /// A length of paper.
    pub fn mm(self, paper: f64) -> f64 {
        paper * self.scale
    }

    /// A point of the paper.
    pub fn at(self, x: f64, y: f64) -> (f64, f64) {
        (self.mm(x), self.mm(y))
    }
}
