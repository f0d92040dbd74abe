//! From where places on a face are measured: a corner to hook the tape measure on, and an edge to lay it along.

use geo_types::Coord;

/// A named corner with the edge that is measured along.
#[derive(Clone, Debug, PartialEq)]
pub struct Datum {
    /// What a person calls the corner, such as `node LL1`.
    pub corner: String,
    /// What a person calls the edge, such as `the longeron to LL2`.
    pub edge: String,
    /// Where the corner is.
    pub at: Coord<f64>,
    /// The way along the edge, of length one.
    pub along: Coord<f64>,
    /// The way into the face, square to it, of length one.
    pub across: Coord<f64>,
    /// Length of the edge in millimetres.
    pub length: f64,
}

/// A place measured from a datum, in millimetres.
#[derive(Clone, Debug, PartialEq)]
pub struct Measure {
    /// Along the edge from the corner.
    pub along: f64,
    /// Into the face, square to the edge.
    pub across: f64,
    /// From where.
    pub corner: String,
    /// Along what.
    pub edge: String,
}

/// How far past the ends of its edge a datum still serves, in millimetres.
const PAST: f64 = 100.0;

impl Datum {
    /// A datum at the first end of a straight edge; `into` is 1 where the face lies to the left of the way from there, and
    /// -1 where it lies to the right. `None` for an edge without length.
    pub(in crate::covering) fn along(
        corner: &str,
        edge: &str,
        from: Coord<f64>,
        to: Coord<f64>,
        into: f64,
    ) -> Option<Self> {
        let way = to - from;
        let length = way.x.hypot(way.y);
        (length > 0.0).then(|| {
            let along = way / length;
            let across = Coord { x: -along.y, y: along.x } * into;
            Self { corner: corner.to_owned(), edge: edge.to_owned(), at: from, along, across, length }
        })
    }

    /// How far along the edge from the corner a point is, and how far into the face.
    pub fn measure(&self, at: Coord<f64>) -> Measure {
        let arm = at - self.at;
        Measure {
            along: arm.x * self.along.x + arm.y * self.along.y,
            across: arm.x * self.across.x + arm.y * self.across.y,
            corner: self.corner.clone(),
            edge: self.edge.clone(),
        }
    }
}

/// The place of a point from the edge that is nearest to it, of those that it lies beside; `None` without datums.
pub(in crate::covering) fn measured(datums: &[Datum], at: Coord<f64>) -> Option<Measure> {
    let beside = |datum: &&Datum| {
        let along = datum.measure(at).along;
        (-PAST..=datum.length + PAST).contains(&along)
    };
    let off = |datum: &&Datum| datum.measure(at).across.abs();
    let nearest = datums.iter().filter(beside).min_by(|one, other| off(one).total_cmp(&off(other)));
    nearest.or(datums.first()).map(|datum| datum.measure(at))
}
