//! A face of a part as a drawing within the page.

use crate::covering::CoveredPart;
use crate::draw::frame::number;
use crate::draw::map::{FaceDrawing, face_alone};

use super::lays::view_box;

/// The room of a face on a page of A4 or Letter, in millimetres: what is left beside margins, heading and words.
const ROOM: [f64; 2] = [174.0, 190.0];

/// A face.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct FaceView {
    /// What it is called.
    pub name: String,
    /// Its marks, for the inside of an `svg` element.
    pub marks: String,
    /// The box that holds all of it, as `viewBox` has it.
    pub all: String,
    /// Its width on paper, in millimetres.
    pub paper_width: String,
    /// Width over height.
    pub shape: String,
}

/// Draws a face, the one at this place among those of its part.
pub(super) fn face_view(part: &CoveredPart, index: usize) -> FaceView {
    let FaceDrawing { drawing, size, scale } = face_alone(part, index, ROOM);
    FaceView {
        name: part.faces[index].name.clone(),
        marks: drawing.to_string(),
        all: view_box([0.0, 0.0, size[0], size[1]]),
        paper_width: number((size[0] / scale * 10.0).round() / 10.0),
        shape: number(size[0] / size[1]),
    }
}
