//! Places that the person wrote, found on a face.

use geo::{Distance, Euclidean};
use geo_types::{Coord, Point};

use super::Face;
use crate::covering::desk::Desk;
use crate::job::{Control, Fitting, InspectionOpening, JobPlace, Part, PartKind, PlaceAt, RibbedPart};
use crate::shape::{Chord, SAME_POINT, Side, SpacePoint};

/// How far off a face a place may be written, in millimetres, beside half of its thickest tube: fittings stand out, and
/// are measured to their bolts. Common practice, no source.
const OFF_THE_FACE: f64 = 50.0;

/// Something of the job with its place on a face.
#[derive(Clone, Debug, PartialEq)]
pub struct Placed<T> {
    /// What it is.
    pub what: T,
    /// Where it is.
    pub at: Coord<f64>,
}

/// Something that the job has at a place.
pub(super) trait AtPlace: Clone {
    /// What the person calls it.
    fn name(&self) -> &str;
    /// Where it is.
    fn place(&self) -> &JobPlace;
}

impl AtPlace for Fitting {
    fn name(&self) -> &str {
        &self.name
    }
    fn place(&self) -> &JobPlace {
        &self.place
    }
}

impl AtPlace for InspectionOpening {
    fn name(&self) -> &str {
        &self.name
    }
    fn place(&self) -> &JobPlace {
        &self.place
    }
}

impl AtPlace for Control {
    fn name(&self) -> &str {
        &self.name
    }
    fn place(&self) -> &JobPlace {
        &self.place
    }
}

/// What of a list is on a face, with a fault for each that lies off it.
pub(super) fn placed<T: AtPlace>(desk: &mut Desk, part: &Part, face: &Face, sort: &str, all: &[T]) -> Vec<Placed<T>> {
    let mut found = Vec::new();
    for what in all.iter().filter(|what| what.place().faces.contains(&face.name)) {
        match face.place(part, what.place().at) {
            Ok(at) => found.push(Placed { what: what.clone(), at }),
            Err(off) => {
                let units = desk.job.units;
                let (name, face_name) = (what.name(), &face.name);
                let (message, hint) = match off {
                    Off::Face { by, most } => {
                        let [by, most] = [by, most].map(|length| units.show(length));
                        (
                            format!("{sort} {name:?} lies {by} off the face {face_name:?}"),
                            format!(
                                "look at \"at\" and at \"face\"; a place lies on the face, or {most} off it at most"
                            ),
                        )
                    }
                    Off::Span { from, to } => {
                        let [from, to] = [from, to].map(|length| units.show(length));
                        (
                            format!("{sort} {name:?} lies beyond the planform, which goes from {from} to {to}"),
                            "write where along the span it is, measured as the planform".to_owned(),
                        )
                    }
                };
                desk.fault(&what.place().spot, message, hint);
            }
        }
    }
    found
}

/// Why a place is not on a face; lengths in millimetres.
enum Off {
    /// It lies too far off.
    Face {
        /// How far.
        by: f64,
        /// How far it may.
        most: f64,
    },
    /// It lies beyond the span.
    Span {
        /// Where the span begins.
        from: f64,
        /// Where it ends.
        to: f64,
    },
}

impl Face {
    /// Where on the face a place of the job is: the nearest point of it.
    fn place(&self, part: &Part, at: PlaceAt) -> Result<Coord<f64>, Off> {
        let thickest = self.edges.iter().filter_map(|edge| edge.tube).fold(0.0, f64::max);
        let most = OFF_THE_FACE + thickest / 2.0;
        let found = match (at, &self.skin) {
            (PlaceAt::Plane([x, y]), _) => Some((self.seen(Coord { x, y }), 0.0)),
            (_, None) => None,
            (_, Some(skin)) => {
                let places = in_space(part, &self.name, at)?;
                let found = places.into_iter().filter_map(|place| skin.nearest(place));
                found.min_by(|one, other| one.1.total_cmp(&other.1))
            }
        };
        let Some((on_face, away)) = found else { return Err(Off::Face { by: f64::INFINITY, most }) };
        let beside = Euclidean.distance(&Point(on_face), self.outline.polygon());
        let by = away.max(beside);
        if by <= most { Ok(on_face) } else { Err(Off::Face { by, most }) }
    }

    /// A point of a flat part's outline as this face has it.
    fn seen(&self, at: Coord<f64>) -> Coord<f64> {
        let [x, y] = self.signs;
        Coord { x: x * at.x, y: y * at.y }
    }
}

/// A place in the aircraft; of a face that is there on both sides, either of them.
fn in_space(part: &Part, face: &str, at: PlaceAt) -> Result<Vec<SpacePoint>, Off> {
    match (at, &part.kind) {
        (PlaceAt::Chordwise { span, chord }, PartKind::Ribbed(wing)) => {
            let side = if face == "top" { Side::Top } else { Side::Bottom };
            Ok(vec![crate::covering::ribbed::place_in_space(wing, &chord_at(wing, span)?, side, chord)])
        }
        (PlaceAt::Space([x, y, z]), PartKind::Truss(truss))
            if truss.faces.iter().any(|known| known.name == face && known.mirrored) =>
        {
            Ok(vec![[x, y, z], [x, -y, z]])
        }
        (PlaceAt::Space(point), _) => Ok(vec![point]),
        _ => Ok(Vec::new()),
    }
}

/// The chord at a place of the span; beyond the last one as the tip bow goes.
fn chord_at(wing: &RibbedPart, span: f64) -> Result<Chord, Off> {
    let (first, last) = (wing.planform[0], wing.planform[wing.planform.len() - 1]);
    let to = last.span + wing.tip_bow.unwrap_or(0.0);
    if span < first.span - SAME_POINT || span > to + SAME_POINT {
        return Err(Off::Span { from: first.span, to });
    }
    let bays: Vec<&[Chord]> = wing.planform.windows(2).collect();
    let bay = bays.iter().find(|bay| span <= bay[1].span).or(bays.last());
    Ok(bay.map_or(first, |bay| bay[0].between(bay[1], span)))
}
