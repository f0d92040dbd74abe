//! Tape over the seams within panels, with its line on each face that it crosses.

use geo::Simplify;
use geo_types::{Coord, LineString};

use super::{Leg, OVER_A_SEAM, TapeOrder, TapeRun};
use crate::covering::dressing::TapeCut;
use crate::covering::faces::{Face, Skin};
use crate::covering::{Panel, Seam, ribbed};
use crate::job::{Part, PartKind};

/// How far apart points of a seam are looked for on the faces, and what its line there may be straightened by; millimetres.
const STEP: f64 = 20.0;
const STRAIGHT: f64 = 0.5;

/// The runs over the seams of a panel. A panel that is cut several times for different faces has a run for each face; one that
/// goes round the nose has one run with a leg on either side.
pub(super) fn over_seams(part: &Part, faces: &[Face], panels: &[Panel], panel: &Panel) -> Vec<TapeRun> {
    // The mirror image of a panel has its seams where the drawn one has them.
    let of_faces = |other: &&Panel| !other.mirrored && other.plan.faces == panel.plan.faces;
    let drawn = panels.iter().find(of_faces).unwrap_or(panel);
    let mut runs = Vec::new();
    for (seam, ends) in panel.seams.iter().zip(drawn.seams.iter().map(|seam| seam.ends)) {
        match (&part.kind, &panel.plan.faces[..]) {
            (PartKind::Flat(_), on) => runs.extend(on.iter().map(|(name, copies)| {
                let ends = if drawn.mirrored { ends.map(|end| Coord { x: end.x, y: -end.y }) } else { ends };
                let leg = position(faces, name).map(|face| {
                    let [x, y] = faces[face].signs;
                    Leg { face, run: ends.map(|end| Coord { x: x * end.x, y: y * end.y }).to_vec() }
                });
                run(seam, &format!("{}, {name}", part.name), *copies, leg.into_iter().collect())
            })),
            (PartKind::Ribbed(wing), [_, _]) => {
                let legs = on_both_sides(faces, &ribbed::whole_skin(wing), ends);
                runs.push(run(seam, &panel.plan.name, panel.plan.quantity, legs));
            }
            (_, on) => {
                let leg = on.first().and_then(|(name, _)| position(faces, name));
                let legs = leg.map(|face| Leg { face, run: ends.to_vec() }).into_iter().collect();
                runs.push(run(seam, &panel.plan.name, panel.plan.quantity, legs));
            }
        }
    }
    runs
}

fn position(faces: &[Face], name: &str) -> Option<usize> {
    faces.iter().position(|face| face.name == name)
}

fn run(seam: &Seam, within: &str, quantity: u32, legs: Vec<Leg>) -> TapeRun {
    TapeRun {
        number: String::new(),
        over: format!("{OVER_A_SEAM}{within}"),
        order: TapeOrder::Spanwise,
        width: seam.tape,
        cut: TapeCut::Straight,
        length: seam.tape_length(),
        quantity,
        legs,
        round: Vec::new(),
        joined: true,
        source: seam.source.clone(),
        notes: Vec::new(),
    }
}

/// A line of a panel that goes round the nose, as it runs on top and bottom.
fn on_both_sides(faces: &[Face], whole: &Skin, [from, to]: [Coord<f64>; 2]) -> Vec<Leg> {
    let way = to - from;
    let steps = (way.x.hypot(way.y) / STEP).ceil().max(1.0);
    let mut legs: Vec<Leg> = Vec::new();
    for step in 0..=steps as usize {
        let place = whole.in_space(from + way * (step as f64 / steps));
        let found = faces.iter().enumerate().filter_map(|(face, known)| {
            let (at, away) = known.skin.as_ref()?.nearest(place)?;
            Some((face, at, away))
        });
        let Some((face, at, _)) = found.min_by(|one, other| one.2.total_cmp(&other.2)) else { continue };
        match legs.last_mut().filter(|leg| leg.face == face) {
            Some(leg) => leg.run.push(at),
            None => legs.push(Leg { face, run: vec![at] }),
        }
    }
    legs.retain(|leg| leg.run.len() > 1);
    for leg in &mut legs {
        leg.run = LineString::new(std::mem::take(&mut leg.run)).simplify(STRAIGHT).into_inner();
    }
    legs
}
