//! What a person calls the ends and the edges of a flat part: by how it lies in the aircraft where that is known, else by how
//! its map is drawn.

use geo_types::Coord;

use crate::job::{Direction, FlatPart, Part};

/// What lies towards the small and the great end of x and of y.
pub(super) struct EndWords {
    words: [[&'static str; 2]; 2],
    /// From the face to the part as it is drawn in the job.
    signs: [f64; 2],
    /// Whether the words are those of the aircraft.
    known: bool,
}

impl EndWords {
    /// The words for a face whose coordinates are those of the job times `signs`.
    pub fn of(part: &Part, flat: &FlatPart, signs: [f64; 2]) -> Self {
        let bounds = flat.outline.bounds();
        let middle = bounds.center();
        match flat.axes {
            Some([x, y]) => {
                Self { words: [ends(x, part.mirrored, middle.x), ends(y, part.mirrored, middle.y)], signs, known: true }
            }
            None => Self { words: [["left", "right"], ["lower", "upper"]], signs: [1.0, 1.0], known: false },
        }
    }

    /// What the end `at` of a line is called.
    pub fn end(&self, at: Coord<f64>, other: Coord<f64>) -> String {
        let word = self.towards(at - other);
        if self.known { format!("the {word} end") } else { format!("the {word} end on the map") }
    }

    /// On which side of the part a straight edge lies that has the face on its left; `None` where nobody knows how the part
    /// lies, or the edge is bent.
    pub fn outside_of(&self, run: &[Coord<f64>]) -> Option<&'static str> {
        let [from, to] = run else { return None };
        let way = *to - *from;
        self.known.then(|| self.towards(Coord { x: way.y, y: -way.x }))
    }

    fn towards(&self, way: Coord<f64>) -> &'static str {
        let [x, y] = [way.x * self.signs[0], way.y * self.signs[1]];
        let (words, along) = if x.abs() > y.abs() { (self.words[0], x) } else { (self.words[1], y) };
        words[usize::from(along > 0.0)]
    }
}

/// The words for the ends of an axis. A part that is built left and right has an inner and an outer end: `middle` is on which
/// side of the aircraft's middle it is drawn.
fn ends(axis: Direction, mirrored: bool, middle: f64) -> [&'static str; 2] {
    match axis {
        Direction::Left | Direction::Right if mirrored && middle > 0.0 => ["inner", "outer"],
        Direction::Left | Direction::Right if mirrored => ["outer", "inner"],
        Direction::Aft => ["front", "rear"],
        Direction::Forward => ["rear", "front"],
        Direction::Right => ["left", "right"],
        Direction::Left => ["right", "left"],
        Direction::Up => ["lower", "upper"],
        Direction::Down => ["upper", "lower"],
    }
}
