//! Reads the repairs: what is damaged, where, and what is attached nearby.

use jsonc_parser::ast::Value;
use jsonc_parser::common::{Range, Ranged};

use super::keys_repair::{NEAR_MEMBER, OPENING, OPENINGS};
use super::nearest::one_of;
use super::read_outline::two_sizes;
use super::read_piece::{ClothNames, cloth_names};
use super::reader::{Fields, Reader, Sort};
use super::repair::{NearMember, Opening, Repair, RepairKind, Side};
use super::words::Words;

const RECT_HINT: &str = "write [length, width] of the trimmed opening, for example [\"6 in\", \"4 in\"]";
const DIAMETER: Sort = Sort {
    what: "the diameter of an opening",
    hint: "write the diameter of the trimmed opening, for example \"3 in\"",
};
const TEAR: Sort = Sort { what: "the length of a tear", hint: "measure it from end to end, for example \"10 in\"" };
const DISTANCE: Sort = Sort {
    what: "the distance to a member",
    hint: "write how far the member's centre line is from that side of the opening, for example \"3 in\"",
};
const MEMBERS_HINT: &str = "write for example [{ \"side\": \"right\", \"distance\": \"3 in\" }]";

/// A repair whose opening suits its method; `fields` are those of `value`, which stands at `path`.
pub(super) fn repair(
    reader: &mut Reader,
    value: &Value,
    fields: &Fields,
    path: String,
    cloths: &ClothNames,
) -> Option<Repair> {
    let name = fields.get("name").and_then(|value| reader.name(value));
    let kind = fields.get("method").and_then(|value| reader.choice(value, "a way to repair"));
    let opening = fields.get("opening").and_then(|value| opening(reader, value));
    let place = fields.get("at").and_then(|value| reader.choice(value, "a place of repairs"));
    let members = fields.get("members").map_or(Some(Vec::new()), |value| members(reader, value, &path));
    let spans = fields.get("spans_two_ribs").map_or(Some(false), |value| reader.yes_or_no(value));
    let cloth = fields.get("cloth").map_or(Some(Vec::new()), |value| cloth_names(reader, value, cloths));
    let source = fields.get("source").map_or(Some(None), |value| reader.text(value, "a source").map(Some));
    let repair = Repair {
        name: name?,
        kind: kind?,
        opening: opening?,
        place: place?,
        members: members?,
        spans_two_ribs: spans?,
        cloth: cloth?,
        source: source?.map(str::to_owned),
        at: reader.spot(value, path),
    };
    (opening_suits(reader, fields, &repair) && members_have_sides(reader, fields, &repair)).then_some(repair)
}

fn opening(reader: &mut Reader, value: &Value) -> Option<Opening> {
    let fields = reader.object(value, &OPENING)?;
    let given: Vec<_> = OPENINGS.iter().filter_map(|name| Some((*name, fields.get(name)?))).collect();
    match given[..] {
        [("rect", value)] => {
            let what = ["the length of an opening", "the width of an opening"];
            two_sizes(reader, value, what, RECT_HINT).map(Opening::Rect)
        }
        [("circle", value)] => reader.size(value, DIAMETER).map(Opening::Circle),
        [(_, value)] => reader.size(value, TEAR).map(Opening::Tear),
        [] if fields.strangers => None,
        [] => {
            let brace = Range { start: value.start(), end: value.start() + 1 };
            reader.fault(&brace, "this opening has no shape", format!("give it {}", one_of(OPENINGS)));
            None
        }
        [(first, _), (second, value), ..] => {
            let message = format!("this opening has two shapes, {first:?} and {second:?}");
            reader.fault(&value.range(), message, "keep one; two holes are two repairs");
            None
        }
    }
}

/// A tear is sewn up, a patch closes a hole, and a sewn-in patch has straight sides (AC 43.13-1B 2-44).
fn opening_suits(reader: &mut Reader, fields: &Fields, repair: &Repair) -> bool {
    let Some(at) = fields.get("opening") else { return false };
    let kind = repair.kind.word();
    let (message, hint) = match (repair.kind, repair.opening) {
        (RepairKind::SewnTear, Opening::Tear(_)) => return true,
        (RepairKind::SewnTear, _) => ("a sewn tear has a \"tear\" for its opening".to_owned(), "give its length"),
        (_, Opening::Tear(_)) => {
            (format!("a {kind} closes an opening, not a tear"), "give the \"rect\" or \"circle\" that is cut out")
        }
        (RepairKind::SewnPatch, Opening::Circle(_)) => (
            "a sewn patch has four straight sides".to_owned(),
            "trim the opening straight on four sides and give its \"rect\" (AC 43.13-1B 2-44)",
        ),
        _ => return true,
    };
    reader.fault(&at.range(), message, hint);
    false
}

fn members_have_sides(reader: &mut Reader, fields: &Fields, repair: &Repair) -> bool {
    let Some(at) = fields.get("members") else { return true };
    let has_sides = repair.members.is_empty() || matches!(repair.opening, Opening::Rect(_));
    if !has_sides {
        let hint =
            "trim the opening to a rectangle and give its \"rect\", so that a side can be carried past the member";
        reader.fault(&at.range(), "only a \"rect\" has sides that members can lie along", hint);
    }
    has_sides
}

fn members(reader: &mut Reader, value: &Value, path: &str) -> Option<Vec<NearMember>> {
    let list = reader.list(value, "the list of members near a repair", (0, Side::ALL.len()), MEMBERS_HINT)?;
    let read: Vec<_> = list
        .iter()
        .enumerate()
        .map(|(index, value)| near_member(reader, value, format!("{path}.members[{index}]")))
        .collect();
    let read = read.into_iter().collect::<Option<Vec<_>>>()?;
    for (index, member) in read.iter().enumerate() {
        if let Some(earlier) = read[..index].iter().position(|other| other.side == member.side) {
            let message = format!("the {} side has two members", member.side.word());
            let first = (list[earlier].range(), "the first one");
            reader.fault_with(list[index].range(), message, "keep the one that is nearer to the opening", first);
        }
    }
    Some(read)
}

fn near_member(reader: &mut Reader, value: &Value, path: String) -> Option<NearMember> {
    let fields = reader.object(value, &NEAR_MEMBER)?;
    let side = fields.get("side").and_then(|value| reader.choice(value, "a side of an opening"));
    let distance = fields.get("distance").and_then(|value| reader.length_or_zero(value, DISTANCE));
    Some(NearMember { side: side?, distance: distance?, at: reader.spot(value, path) })
}
