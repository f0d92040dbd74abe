//! Places that the person wrote, found on a face.

use geo::{Distance, Euclidean};
use geo_types::{Coord, Point};

use super::Face;
use crate::covering::desk::Desk;
use crate::job::{Control, Fitting, Hand, InspectionOpening, JobPlace, Part, PartKind, PlaceAt, RibbedPart, Words};
use crate::shape::{Chord, SAME_POINT, Side, SpacePoint};
use crate::units::{Units, trimmed};

/// How far off a face a place may be written, in millimetres, beside half of its thickest tube: fittings stand out, and
/// are measured to their bolts. Common practice, no source.
const OFF_THE_FACE: f64 = 50.0;
/// Parts of the chord that look like a share of it and not like per cent.
const TINY_PER_CENT: f64 = 1e-6;
const ONE_PER_CENT: f64 = 0.01;
/// How far outside the outline it may lie without a word, in millimetres: about what an outline is measured to.
const BESIDE: f64 = 2.0;

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

/// What of a list is on a face, with a fault for each that lies off it or on a hand that is not there.
pub(super) fn placed<T: AtPlace>(desk: &mut Desk, part: &Part, face: &Face, sort: &str, all: &[T]) -> Vec<Placed<T>> {
    let mut found = Vec::new();
    for what in all.iter().filter(|what| what.place().faces.contains(&face.name)) {
        let (name, place) = (what.name(), what.place());
        if let Some(one) = &place.hand
            && let Err((message, hint)) = face.has_hand(one.hand, place.at)
        {
            desk.fault(&one.spot, format!("{sort} {name:?}: {message}"), hint);
            continue;
        }
        match face.place(part, place.at) {
            Ok(on) => {
                if let PlaceAt::Chordwise { chord, .. } = place.at
                    && (TINY_PER_CENT..ONE_PER_CENT).contains(&chord)
                {
                    let [written, meant] = [100.0 * chord, 10_000.0 * chord].map(|per_cent| trimmed(per_cent, 2));
                    desk.caution(format!(
                        "{}, {}: the {sort} {name:?} lies at {written} per cent of the chord, all but on the nose; per cent \
                         go from 0 to 100: write {meant} if that is what you mean",
                        part.name, face.name
                    ));
                }
                if on.beside > BESIDE {
                    let beside = desk.job.units.show(on.beside);
                    desk.caution(format!(
                        "{}, {}: the middle of the {sort} {name:?} lies {beside} outside the outline; look at its \"at\"",
                        part.name, face.name
                    ));
                }
                found.push(Placed { what: what.clone(), at: on.at });
            }
            Err(off) => {
                let (message, hint) = off.in_words(desk.job.units, &face.name);
                desk.fault(&place.spot, format!("{sort} {name:?} {message}"), hint);
            }
        }
    }
    found
}

/// A place on a face, in millimetres.
struct OnFace {
    at: Coord<f64>,
    /// How far outside the outline it lies along the face.
    beside: f64,
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

impl Off {
    /// What is wrong, and what would be right.
    fn in_words(&self, units: Units, face: &str) -> (String, String) {
        match *self {
            Self::Face { by, most } => {
                let [by, most] = [by, most].map(|length| units.show(length));
                (
                    format!("lies {by} off the face {face:?}"),
                    format!("look at \"at\" and at \"face\"; a place lies on the face, or {most} off it at most"),
                )
            }
            Self::Span { from, to } => {
                let [from, to] = [from, to].map(|length| units.show(length));
                (
                    format!("lies beyond the planform, which goes from {from} to {to}"),
                    "write where along the span it is, measured as the planform".to_owned(),
                )
            }
        }
    }
}

impl Face {
    /// Whether it is built for a hand; what is wrong and what would be right where it is not, or where nobody can tell.
    fn has_hand(&self, hand: Hand, at: PlaceAt) -> Result<(), (String, &'static str)> {
        let word = hand.word();
        if self.hands < 2 {
            let message = format!("the face {:?} is built once, and has no {word} hand", self.name);
            return Err((
                message,
                "leave \"hand\" out, or write \"mirrored\": true where there are a left and a right one",
            ));
        }
        if self.drawn.is_none() {
            let message = format!("which hand of {:?} is drawn is not known", self.part);
            return Err((message, "say in \"axes\" which way is left or right, or make two parts of left and right"));
        }
        match at {
            PlaceAt::Space([_, y, _]) if Hand::on_the_side_of(y).is_some_and(|side| side != hand) => Err((
                format!("it is to be on the {word} hand, and its y lies on the other side of the aircraft"),
                "y is greater than 0 on the right and less than 0 on the left",
            )),
            _ => Ok(()),
        }
    }

    /// Where on the face a place of the job is: the nearest point of it.
    fn place(&self, part: &Part, at: PlaceAt) -> Result<OnFace, Off> {
        let thickest = self.edges.iter().filter_map(|edge| edge.tube).fold(0.0, f64::max);
        let most = OFF_THE_FACE + thickest / 2.0;
        let found = match (at, &self.skin) {
            (PlaceAt::Plane([x, y]), _) => Some((self.seen(Coord { x, y }), 0.0, 0.0)),
            (_, None) => None,
            (_, Some(skin)) => {
                let places = in_space(part, &self.name, at)?;
                let found = places.into_iter().filter_map(|place| {
                    let (on_face, away) = skin.nearest(place)?;
                    Some((on_face, away, skin.along(on_face, place) - thickest / 2.0))
                });
                found.min_by(|one, other| one.1.total_cmp(&other.1))
            }
        };
        let Some((on_face, away, along)) = found else { return Err(Off::Face { by: f64::INFINITY, most }) };
        let beside = Euclidean.distance(&Point(on_face), self.outline.polygon());
        let by = away.max(beside);
        if by <= most { Ok(OnFace { at: on_face, beside: beside.max(along) }) } else { Err(Off::Face { by, most }) }
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
