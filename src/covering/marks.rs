//! What is written beside the lines of a panel, so that a stranger knows which edge is which and how the panel lies.

use geo_types::Coord;

use super::panel::EdgeFigures;
use crate::shape::{Curve, Pose, length_of, point_along};

/// The marks of a panel, in its own coordinates.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Marks {
    /// What its edges are.
    pub edges: Vec<EdgeName>,
    /// What its corners are called.
    pub corners: Vec<CornerName>,
    /// Which way things lie.
    pub ways: Vec<Way>,
    /// Relief cuts, each from the edge of the cloth to the finished outline.
    pub relief_cuts: Vec<[Coord<f64>; 2]>,
    /// Finished edges along which the cloth is folded down inside.
    pub folds: Vec<[Coord<f64>; 2]>,
}

/// The name of an edge, or of several that follow each other.
#[derive(Clone, Debug, PartialEq)]
pub struct EdgeName {
    /// What it is.
    pub words: String,
    /// The middle of its longest piece.
    pub at: Coord<f64>,
    /// The way that this piece runs there, of length one; the panel lies to the left.
    pub along: Coord<f64>,
    /// Millimetres along this piece.
    pub length: f64,
    /// Millimetres from the finished edge to the cut line.
    pub out: f64,
}

/// The name of a corner of the finished outline.
#[derive(Clone, Debug, PartialEq)]
pub struct CornerName {
    /// What it is called.
    pub words: String,
    /// Where it is.
    pub at: Coord<f64>,
    /// From there to the corner of the cut line, or as far along the same way.
    pub outwards: Coord<f64>,
}

/// A direction that has a name.
#[derive(Clone, Debug, PartialEq)]
pub struct Way {
    /// What lies that way, such as `front`.
    pub word: &'static str,
    /// A vector of length one.
    pub towards: Coord<f64>,
}

/// Names of the edges of an outline: one word for each edge, neighbours of one name are named together.
pub(super) fn edge_names(finished: &Curve, words: &[String], figures: &[EdgeFigures]) -> Vec<EdgeName> {
    let lines = finished.edge_lines();
    let count = lines.len().min(words.len()).min(figures.len());
    let Some(start) = (0..count).find(|i| words[*i] != words[(*i + count - 1) % count]) else {
        return (0..count.min(1)).map(|i| named(&words[i], &(0..count).collect::<Vec<_>>(), &lines, figures)).collect();
    };
    let order: Vec<usize> = (0..count).map(|step| (start + step) % count).collect();
    let runs = order.chunk_by(|one, next| words[*one] == words[*next]);
    runs.map(|run| named(&words[run[0]], run, &lines, figures)).collect()
}

/// Names of the corners of a polygon, counter-clockwise; each edge leaves the corner of its number.
pub(super) fn corner_names(points: &[Coord<f64>], words: &[&str], figures: &[EdgeFigures]) -> Vec<CornerName> {
    let count = points.len().min(words.len()).min(figures.len());
    let leaving = |i: usize| {
        let run = points[(i + 1) % count] - points[i];
        run / run.x.hypot(run.y)
    };
    let out = |i: usize| figures[i].wrap + figures[i].lap + figures[i].handling;
    let corner = |i: usize| {
        let before = (i + count - 1) % count;
        let [one, other] = [leaving(before), leaving(i)].map(|way| Coord { x: way.y, y: -way.x });
        let middle = one + other;
        // Where both edges move out by the same, their lines meet this far out.
        let far = out(before).max(out(i)) * 2.0 / (middle.x * middle.x + middle.y * middle.y).max(0.5);
        CornerName { words: words[i].to_owned(), at: points[i], outwards: middle * far }
    };
    (0..count).map(corner).collect()
}

fn named(words: &str, run: &[usize], lines: &[Vec<Coord<f64>>], figures: &[EdgeFigures]) -> EdgeName {
    let longest =
        run.iter().copied().reduce(|best, i| if length_of(&lines[i]) > length_of(&lines[best]) { i } else { best });
    let longest = longest.unwrap_or(0);
    let (at, along) = middle(&lines[longest]);
    let EdgeFigures { wrap, lap, handling } = figures[longest];
    EdgeName { words: words.to_owned(), at, along, length: length_of(&lines[longest]), out: wrap + lap + handling }
}

/// The place half way along a line, and the way that it runs there.
fn middle(line: &[Coord<f64>]) -> (Coord<f64>, Coord<f64>) {
    let start = || (line.first().copied().unwrap_or_default(), Coord { x: 1.0, y: 0.0 });
    point_along(line, length_of(line) / 2.0).unwrap_or_else(start)
}

impl Marks {
    /// The marks of a panel that is moved as a whole.
    pub(super) fn moved(&self, pose: &Pose) -> Self {
        let direction = |way: Coord<f64>| pose.apply(way) - pose.at;
        let both = |ends: &[Coord<f64>; 2]| ends.map(|end| pose.apply(end));
        let edge = |edge: &EdgeName| {
            let along = direction(edge.along);
            // The panel stays to the left of its edges.
            let along = if pose.flipped { Coord { x: -along.x, y: -along.y } } else { along };
            EdgeName { at: pose.apply(edge.at), along, ..edge.clone() }
        };
        let corner = |corner: &CornerName| CornerName {
            at: pose.apply(corner.at),
            outwards: direction(corner.outwards),
            ..corner.clone()
        };
        Self {
            edges: self.edges.iter().map(edge).collect(),
            corners: self.corners.iter().map(corner).collect(),
            ways: self.ways.iter().map(|way| Way { towards: direction(way.towards), ..way.clone() }).collect(),
            relief_cuts: self.relief_cuts.iter().map(both).collect(),
            folds: self.folds.iter().map(both).collect(),
        }
    }
}
