//! Reads places on a part: fittings, openings, controls, and how its drains are made.

use jsonc_parser::ast::Value;
use jsonc_parser::common::Ranged;

use super::airframe::PartKind;
use super::keys::Table;
use super::keys_places::{CONTROL, DRAINS, FITTING, FITTING_CIRCLE, INSPECTION_OPENING};
use super::kinds_airframe::Kind;
use super::limits;
use super::nearest::{nearest, one_of, quoted};
use super::places::{
    Control, DrainStyle, Fitting, FittingSize, Grommet, InspectionOpening, JobPlace, OneHand, PlaceAt, Places, RingKind,
};
use super::read_job::{names, unlike_names};
use super::read_outline::point;
use super::reader::{Fields, Reader, Sort};

const SIZE: Sort = Sort { what: "the size of a fitting", hint: "write [60, 25] or { \"circle\": 30 }" };
const HEIGHT: Sort =
    Sort { what: "the height of a fitting", hint: "write how far it stands out of the cloth, for example \"1 in\"" };
const DIAMETER: Sort = Sort { what: "the diameter of a ring", hint: "write what you measured, for example \"114 mm\"" };
const PLACE: Sort = Sort { what: "a coordinate of a place", hint: "write a length, for example 1200 or \"1.2 m\"" };
const PLANE_HINT: &str = "write [x, y] of the part's outline, for example [0, 250]";
const CHORDWISE_HINT: &str =
    "write [place along the span, per cent of the chord from the nose], for example [1200, 65]";
const SPACE_HINT: &str = "write [x, y, z], x aft, y to the right, z up, for example [1500, -310, 200]";

/// What a place on a part is read with.
struct OnPart<'p> {
    kind: Kind,
    /// Names of the faces; `None` where the part could not be read.
    faces: Option<Vec<&'p str>>,
    path: &'p str,
}

/// Every place of a part, whose kind is `kind` and which was read as `read` where it could be.
pub(super) fn places(
    reader: &mut Reader,
    fields: &Fields,
    path: &str,
    kind: Kind,
    read: Option<&PartKind>,
) -> Option<Places> {
    // A panel that is given finished has no faces, and neither it nor a repair has any of these keys.
    if matches!(kind, Kind::Panel | Kind::Repair) {
        return Some(Places::default());
    }
    let part = OnPart { kind, faces: read.map(PartKind::face_names), path };
    let fittings = all(reader, fields, "fittings", "fitting", &part, fitting);
    let openings = all(reader, fields, "openings", "opening", &part, opening);
    let controls = all(reader, fields, "controls", "control", &part, control);
    let drains = fields.get("drains").map_or(Some(None), |value| drains(reader, value).map(Some));
    Some(Places { fittings: fittings?, openings: openings?, controls: controls?, drains: drains? })
}

/// The entries of one of the lists, no two of one name.
fn all<T>(
    reader: &mut Reader,
    fields: &Fields,
    key: &str,
    what: &str,
    part: &OnPart,
    read: impl Fn(&mut Reader, &Value, &OnPart, &str) -> Option<T>,
) -> Option<Vec<T>> {
    let Some(value) = fields.get(key) else { return Some(Vec::new()) };
    let hint = format!("write the {key} in [ ], each an object in {{ }} with \"name\", \"face\" and \"at\"");
    let list = reader.list(value, &format!("the list of {key}"), (0, limits::PLACES), &hint)?;
    let entries: Vec<Option<T>> = list
        .iter()
        .enumerate()
        .map(|(index, value)| read(reader, value, part, &format!("{}.{key}[{index}]", part.path)))
        .collect();
    unlike_names(reader, &names(list), what, "give each its own name");
    entries.into_iter().collect()
}

/// The name and the place that an entry of every list has.
fn named_place<'t>(
    reader: &mut Reader,
    value: &'t Value<'t>,
    table: &'static Table,
    part: &OnPart,
    path: &str,
) -> Option<(Fields<'t>, Option<(String, JobPlace)>)> {
    let fields = reader.object(value, table)?;
    let name = fields.get("name").and_then(|value| reader.name(value));
    let faces = fields.get("face").and_then(|value| faces(reader, value, part));
    let at = fields.get("at").and_then(|value| at(reader, value, part.kind));
    let spot = fields.get("at").map(|value| reader.spot(value, format!("{path}.at")));
    let hand = match fields.get("hand") {
        None => Some(None),
        Some(value) => {
            let spot = reader.spot(value, format!("{path}.hand"));
            reader.choice(value, "a hand of the aircraft").map(|hand| Some(OneHand { hand, spot }))
        }
    };
    let place = faces.zip(at).zip(spot).zip(hand);
    let place = place.map(|(((faces, at), spot), hand)| JobPlace { faces, at, spot, hand });
    Some((fields, name.zip(place)))
}

fn fitting(reader: &mut Reader, value: &Value, part: &OnPart, path: &str) -> Option<Fitting> {
    let (fields, named) = named_place(reader, value, &FITTING, part, path)?;
    let kind = fields.get("kind").and_then(|value| reader.choice(value, "a kind of fitting"));
    let size = fields.get("size").and_then(|value| fitting_size(reader, value, SIZE));
    let height = fields.get("height").map_or(Some(0.0), |value| reader.size(value, HEIGHT));
    let layers =
        fields.get("layers").map_or(Some(1), |value| reader.quantity(value, "the number of layers", limits::LAYERS));
    let ring = fields.get("ring").map_or(Some(false), |value| reader.yes_or_no(value));
    let (name, place) = named?;
    Some(Fitting { name, place, kind: kind?, size: size?, height: height?, layers: layers?, ring: ring? })
}

fn opening(reader: &mut Reader, value: &Value, part: &OnPart, path: &str) -> Option<InspectionOpening> {
    let (fields, named) = named_place(reader, value, &INSPECTION_OPENING, part, path)?;
    let ring = fields.get("ring").map_or(Some(RingKind::Plastic), |value| reader.choice(value, "a material of a ring"));
    let inside = fields.get("inside").map_or(Some(None), |value| reader.size(value, DIAMETER).map(Some));
    let outside = fields.get("outside").map_or(Some(None), |value| reader.size(value, DIAMETER).map(Some));
    let (inside, outside) = (inside?, outside?);
    if let (Some(inner), Some(outer)) = (inside, outside)
        && inner >= outer
    {
        let [inner, outer] = [inner, outer].map(|length| reader.units.show(length));
        let message = format!("the ring is {inner} wide inside, which must be less than outside, {outer}");
        reader.fault(&value.range(), message, "measure your ring: \"inside\" is the hole, \"outside\" the rim");
        return None;
    }
    let (name, place) = named?;
    Some(InspectionOpening { name, place, ring: ring?, inside, outside })
}

fn control(reader: &mut Reader, value: &Value, part: &OnPart, path: &str) -> Option<Control> {
    let (fields, named) = named_place(reader, value, &CONTROL, part, path)?;
    let kind = fields.get("kind").and_then(|value| reader.choice(value, "a kind of control"));
    let (name, place) = named?;
    Some(Control { name, place, kind: kind? })
}

fn drains(reader: &mut Reader, value: &Value) -> Option<DrainStyle> {
    let fields = reader.object(value, &DRAINS)?;
    let grommet = fields.get("grommet").map_or(Some(Grommet::Flat), |value| reader.choice(value, "a kind of grommet"));
    let patch = fields.get("patch").map_or(Some(true), |value| reader.yes_or_no(value));
    Some(DrainStyle { grommet: grommet?, patch: patch? })
}

/// One face or several, by their names.
fn faces(reader: &mut Reader, value: &Value, part: &OnPart) -> Option<Vec<String>> {
    let Value::Array(_) = value else { return Some(vec![face(reader, value, part)?]) };
    let hint = "write the name of the face, or a list of names";
    let list = reader.list(value, "the list of faces", (1, limits::FACES as usize), hint)?;
    let read: Vec<_> = list.iter().map(|value| face(reader, value, part)).collect();
    let faces = read.into_iter().collect::<Option<Vec<String>>>()?;
    let twice = (1..faces.len()).find(|later| faces[..*later].contains(&faces[*later]));
    if let Some(later) = twice {
        reader.fault(
            &list[later].range(),
            format!("the face {:?} is named twice", faces[later]),
            "name each face once",
        );
        return None;
    }
    Some(faces)
}

fn face(reader: &mut Reader, value: &Value, part: &OnPart) -> Option<String> {
    let name = reader.name(value)?;
    let known = part.faces.as_deref()?;
    if known.contains(&name.as_str()) {
        return Some(name);
    }
    let hint = match nearest(&name, known.iter().copied()) {
        Some(right) => format!("did you mean {right:?}?"),
        None => format!("write {}", one_of(known.iter().copied())),
    };
    reader.fault(&value.range(), format!("no face of this part is called {}", quoted(&name)), hint);
    None
}

/// A place, written as its kind of part has it.
fn at(reader: &mut Reader, value: &Value, kind: Kind) -> Option<PlaceAt> {
    match kind {
        Kind::Flat | Kind::Panel | Kind::Repair => {
            reader.list(value, "a place on a flat part", (2, 2), PLANE_HINT)?;
            point(reader, value).map(PlaceAt::Plane)
        }
        Kind::Ribbed => {
            let list = reader.list(value, "a place on a ribbed part", (2, 2), CHORDWISE_HINT)?;
            let span = reader.length(&list[0], PLACE);
            let per_cent = reader.number(&list[1], "the place on the chord", CHORDWISE_HINT)?;
            if !(0.0..=100.0).contains(&per_cent) {
                let message = format!("a place on the chord is 0 to 100 per cent of it, this is {per_cent}");
                reader.fault(&list[1].range(), message, CHORDWISE_HINT);
                return None;
            }
            Some(PlaceAt::Chordwise { span: span?, chord: per_cent / 100.0 })
        }
        Kind::Truss => {
            let list = reader.list(value, "a place on a truss", (3, 3), SPACE_HINT)?;
            let read: Vec<_> = list.iter().map(|value| reader.length(value, PLACE)).collect();
            Some(PlaceAt::Space([read[0]?, read[1]?, read[2]?]))
        }
    }
}

/// `[along, across]` or `{ "circle": diameter }`.
pub(super) fn fitting_size(reader: &mut Reader, value: &Value, sort: Sort) -> Option<FittingSize> {
    if let Value::Object(_) = value {
        let fields = reader.object(value, &FITTING_CIRCLE)?;
        return fields.get("circle").and_then(|value| reader.size(value, sort)).map(FittingSize::Circle);
    }
    let list = reader.list(value, sort.what, (2, 2), sort.hint)?;
    let [along, across] = [0, 1].map(|index| reader.size(&list[index], sort));
    Some(FittingSize::Rect([along?, across?]))
}
