//! Things on the cloth that lie where something else lies: a ring on a rib, a doily over a tape, a patch over another one.

use geo::{Distance, Euclidean};
use geo_types::{Coord, LineString, Point};

use super::Dressed;
use crate::covering::CoveredPart;
use crate::covering::desk::Desk;
use crate::covering::dressing::WantedShape;
use crate::covering::faces::Face;
use crate::covering::member_ends::with_article;
use crate::job::MemberClass;
use crate::units::inches;
use crate::wording::counted;

/// Half of a rib's cap of 1/2 in, where a member's width is not given. Common practice, no source.
const HALF_CAP: f64 = inches(0.25);
/// What lies nearer than this, in millimetres, only touches.
const TOUCHES: f64 = 0.5;

/// A caution for each thing on a part that lies on others.
pub(super) fn told(desk: &mut Desk, part: &CoveredPart, dressed: &Dressed) {
    let mut found = Vec::new();
    for (index, face) in part.faces.iter().enumerate() {
        let mut on_face = rings(desk, index, face, dressed);
        on_face.extend(over_each_other(index, dressed));
        found.extend(on_face.into_iter().map(|words| format!("{}, {}: {words}", part.name, face.name)));
    }
    found.into_iter().for_each(|words| desk.caution(words));
}

/// A rim needs free cloth, and a doily lies flat on free cloth only.
fn rings(desk: &Desk, index: usize, face: &Face, dressed: &Dressed) -> Vec<String> {
    let mut found = Vec::new();
    for ring in dressed.rings.iter().filter(|ring| ring.face == index) {
        let (name, number) = (&ring.name, &ring.number);
        let under = structure(face).into_iter().map(|(what, run, half)| {
            let away = Euclidean.distance(&Point(ring.at), &LineString::new(run.to_vec()));
            (what, away, half + ring.outside / 2.0)
        });
        let under = under.filter(|(_, away, needed)| away + TOUCHES < *needed);
        let mut on_structure = Vec::new();
        for (what, away, needed) in under {
            let on = with_article(what);
            let [away, needed] = [away, needed].map(|length| desk.job.units.show(length));
            found.push(format!(
                "the ring {name:?} ({number}) sits on {on}: its middle is {away} from it and must be {needed} or more"
            ));
            on_structure.push(what);
        }
        let tapes = dressed.tapes.iter().filter(|tape| {
            let off = |run: &Vec<Coord<f64>>| Euclidean.distance(&Point(ring.at), &LineString::new(run.clone()));
            let near = tape.lines().filter(|leg| leg.face == index).map(|leg| off(&leg.run));
            let away = near.fold(f64::INFINITY, f64::min);
            away + TOUCHES < (ring.doily + tape.width) / 2.0
        });
        for tape in tapes.filter(|tape| !on_structure.iter().any(|what| is_over(&tape.over, what))) {
            found.push(format!(
                "the doily {number} over the ring {name:?} lies over the tape {} ({}); move the ring, or cut the doily \
                 beside the tape",
                tape.number, tape.over
            ));
        }
    }
    found
}

/// Whether a tape lies over a thing: it is called as that is, or by that and its face.
fn is_over(tape: &str, what: &str) -> bool {
    tape.strip_prefix(what).is_some_and(|more| more.is_empty() || more.starts_with(", "))
}

/// What is under a face that a ring cannot sit on, with its line and half its width.
fn structure(face: &Face) -> Vec<(&str, &[Coord<f64>], f64)> {
    // A nose sheet lies flat against the cloth; its edge is told by the tape over it.
    let members = face.members.iter().filter(|member| member.class != MemberClass::NoseSheet);
    let members = members.map(|member| {
        let half = member.width.map_or(HALF_CAP, |width| width / 2.0);
        (member.name.as_str(), member.run.as_slice(), half)
    });
    let edges =
        face.edges.iter().map(|edge| (edge.name.as_str(), edge.run.as_slice(), edge.reaches_in.unwrap_or(HALF_CAP)));
    members.chain(edges).collect()
}

/// Patches and doilies that lie over each other.
fn over_each_other(index: usize, dressed: &Dressed) -> Vec<String> {
    let patches = dressed.patches.iter().filter(|patch| patch.face == index);
    let mut things: Vec<(String, Coord<f64>, WantedShape)> = patches
        .map(|patch| (format!("the patch {} of {:?}", patch.number, patch.over), patch.at, patch.shape))
        .collect();
    let rings = dressed.rings.iter().filter(|ring| ring.face == index);
    things.extend(rings.map(|ring| {
        (format!("the doily {} of {:?}", ring.number, ring.name), ring.at, WantedShape::Circle(ring.doily))
    }));
    let mut found = Vec::new();
    for drain in dressed.drains.iter().filter(|drain| drain.face == index) {
        let hole = (drain.at, WantedShape::Circle(drain.hole));
        found
            .extend(met(&things, hole).map(|others| {
                format!("the drain hole {} lies under {others}: open it through that too", drain.number)
            }));
    }
    for (later, (what, at, shape)) in things.iter().enumerate() {
        found.extend(met(&things[..later], (*at, *shape)).map(|others| format!("{what} lies over {others}")));
    }
    found
}

/// What a shape lies over or under, in few words: a slip may put thousands of things onto one place.
fn met(things: &[(String, Coord<f64>, WantedShape)], shape: (Coord<f64>, WantedShape)) -> Option<String> {
    let mut met = things.iter().filter(|(_, at, other)| overlap(shape, (*at, *other)));
    let (first, ..) = met.next()?;
    Some(match met.count() {
        0 => first.clone(),
        more => format!("{first} and {}", counted(more, "other", "others")),
    })
}

/// Whether two shapes, with their sides along x and y, lie over each other.
fn overlap((at, shape): (Coord<f64>, WantedShape), (other_at, other): (Coord<f64>, WantedShape)) -> bool {
    let apart = other_at - at;
    match (shape, other) {
        (WantedShape::Rect(one), WantedShape::Rect(two)) => {
            apart.x.abs() + TOUCHES < (one[0] + two[0]) / 2.0 && apart.y.abs() + TOUCHES < (one[1] + two[1]) / 2.0
        }
        (WantedShape::Circle(one), WantedShape::Circle(two)) => apart.x.hypot(apart.y) + TOUCHES < (one + two) / 2.0,
        (WantedShape::Rect(sides), WantedShape::Circle(diameter))
        | (WantedShape::Circle(diameter), WantedShape::Rect(sides)) => {
            let beside = |arm: f64, side: f64| (arm.abs() - side / 2.0).max(0.0);
            beside(apart.x, sides[0]).hypot(beside(apart.y, sides[1])) + TOUCHES < diameter / 2.0
        }
    }
}
