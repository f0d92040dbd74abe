//! Members of a flat part that are drawn past its frame, or end short of it.

use geo::{Contains, Distance, Euclidean};
use geo_types::{Coord, LineString, Point};

use super::desk::Desk;
use super::faces::{Face, FaceEdge, FaceMember};

/// How far past the outline a member may be drawn without a word, in millimetres: about what an outline is measured to.
const PAST: f64 = 5.0;
/// How far from what holds it a member may end, in millimetres, beside the tube there: as bays are closed by.
const SHORT: f64 = 30.0;

/// A caution for each end of a member of a face that is on nothing.
pub(super) fn told(desk: &mut Desk, face: &Face) {
    for member in &face.members {
        let ends = [member.run.first(), member.run.last()];
        for end in ends.into_iter().flatten() {
            if let Some(words) = end_in_words(desk, face, member, *end) {
                desk.caution(format!("{}: {words}", face.part));
            }
        }
    }
}

fn end_in_words(desk: &Desk, face: &Face, member: &FaceMember, end: Coord<f64>) -> Option<String> {
    let name = with_article(&member.name);
    let off = |run: &[Coord<f64>]| Euclidean.distance(&Point(end), &LineString::new(run.to_vec()));
    let edge_of = |edge: &FaceEdge| (off(&edge.run), edge.reaches_in.unwrap_or(0.0));
    let (to_edge, tube) = face.edges.iter().map(edge_of).min_by(|one, other| one.0.total_cmp(&other.0))?;
    let show = |length: f64| desk.job.units.show(length);
    if !face.outline.polygon().contains(&Point(end)) {
        let past = show(to_edge);
        return (to_edge > PAST)
            .then(|| format!("{name} is drawn {past} past the frame; look at its \"from\" and \"to\""));
    }
    let others = face.members.iter().filter(|other| other.name != member.name);
    let to_member = others.map(|other| off(&other.run)).fold(f64::INFINITY, f64::min);
    (to_edge > SHORT.max(tube + PAST) && to_member > SHORT).then(|| {
        let short = show(to_edge.min(to_member));
        format!("{name} ends {short} short of the frame, on nothing; look at its \"from\" and \"to\"")
    })
}

/// `the spar`, `rib 3`: what has a number needs no article.
pub(super) fn with_article(name: &str) -> String {
    if name.chars().any(|letter| letter.is_ascii_digit()) { name.to_owned() } else { format!("the {name}") }
}
