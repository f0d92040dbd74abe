//! Ribbed parts: wings, ailerons, flaps. The girth of the section, rib by rib, gives the panel; it goes round the nose in
//! one piece, or covers top and bottom.

mod aft_edge;
mod edges;
mod faces;
mod roll;
mod shape;

use geo_types::Coord;

use super::balance::{Balance, balance};
use super::cautions::{balance_caution, notch_caution};
use super::desk::Desk;
use super::marks::{Marks, Way, edge_names};
use super::seams::Ground;
use super::{CoveredPart, Dressed, EdgeFigures, Figure, Panel, PanelPlan, SeamKind};
use crate::job::{Grain, GrainDirection, Location, Method, Part, RibbedCover, RibbedPart, RuleFigure, Surface};
use crate::shape::{Join, SAME_POINT, Side};
use aft_edge::InsideCorner;
use edges::{Edges, place};
pub(super) use faces::{place_in_space, whole_skin};
use roll::choose;
use shape::{Border, Face, PENCIL_LINE, Shape, nose_width, shape};

/// A sewn seam nearer to the nose than this part of the girth is one at the leading edge.
const AT_THE_NOSE: f64 = 0.05;

/// The panels of a ribbed part.
pub(super) fn cover(desk: &mut Desk, part: &Part, wing: &RibbedPart) -> Option<CoveredPart> {
    let edges = Edges::new(desk, part, wing)?;
    let faces: &[Face] = match wing.cover {
        RibbedCover::OnePiece => &[Face::Whole],
        RibbedCover::TopAndBottom => &[Face::Top, Face::Bottom],
    };
    let shapes: Vec<(Face, Shape)> = faces.iter().map(|face| (*face, shape(wing, *face))).collect();
    let alike = !part.mirrored || desk.faces_alike(part);
    let quantity = if part.mirrored && alike { 2 } else { 1 };
    let plans: Vec<PanelPlan> =
        shapes.iter().map(|(face, shape)| plan(part, wing, &edges, *face, shape, quantity)).collect();
    let grounds: Vec<Vec<_>> = shapes.iter().map(|(_, shape)| shape.nose.iter().cloned().collect()).collect();
    let choice = choose(desk, part, wing, &plans, &grounds);

    let mut panels = Vec::new();
    let mut area = 0.0;
    for (plan, ground) in plans.into_iter().zip(&grounds) {
        let panel = desk.panel(choice.applied_to(plan), part, wing.surface, &Ground::new(ground))?;
        area += panel.trimmed.area();
        let mirrored = (!alike).then(|| panel.for_other_hand());
        panels.push(panel);
        panels.extend(mirrored);
    }
    cautions(desk, part, wing, &edges, &shapes, &panels);
    let (balance, hinge) = balance_of(desk, part, wing, &edges, area)?;
    let faces = desk.faces(part, faces::faces(part, wing), false)?;
    Some(CoveredPart {
        name: part.name.clone(),
        panels,
        balance: Some(balance),
        hinge,
        faces,
        dressed: Dressed::default(),
    })
}

fn plan(part: &Part, wing: &RibbedPart, edges: &Edges, face: Face, shape: &Shape, quantity: u32) -> PanelPlan {
    let hands = if quantity == 2 { ", left and right" } else { "" };
    let mut figures = girths(wing, face);
    figures.extend(edges.figures(face));
    let added: Vec<EdgeFigures> = shape.borders.iter().map(|border| edges.edge(*border)).collect();
    PanelPlan {
        name: format!("{}, {}", part.name, face.words()),
        part: part.name.clone(),
        goes: format!("{}: {}{hands}; x runs from butt to tip", part.name, face.words()),
        faces: face.faces().iter().map(|name| ((*name).to_owned(), quantity)).collect(),
        finished: shape.finished.clone(),
        marks: marks(edges, face, shape, &added),
        edges: added,
        join: Join::Mitred,
        members: shape.members.clone(),
        figures,
        grain: grain(GrainDirection::Along),
        cloth: part.cloth.clone(),
        quantity,
        source: part.source.clone(),
    }
}

/// The names of the edges, and what is cut and folded at a recess.
fn marks(edges: &Edges, face: Face, shape: &Shape, added: &[EdgeFigures]) -> Marks {
    let words: Vec<String> = shape.borders.iter().map(|border| edges::words(*border, face)).collect();
    let up = |towards: f64| Way { word: "front", towards: Coord { x: 0.0, y: towards } };
    let front = match face {
        Face::Top => Some(up(1.0)),
        Face::Bottom => Some(up(-1.0)),
        Face::Whole => None,
    };
    let tip = Way { word: "tip", towards: Coord { x: 1.0, y: 0.0 } };
    let relief_cut = |corner: &InsideCorner| {
        let EdgeFigures { wrap, handling, .. } = edges.edge(Border::Recess(Side::Top));
        [corner.at + corner.inwards * (wrap + handling), corner.at]
    };
    let folded = shape.finished.edge_lines().into_iter().zip(&shape.borders);
    let folded = folded.filter(|(_, border)| matches!(border, Border::Recess(_)));
    Marks {
        edges: edge_names(&shape.finished, &words, added),
        corners: Vec::new(),
        ways: front.into_iter().chain([tip]).collect(),
        relief_cuts: shape.inside_corners.iter().map(relief_cut).collect(),
        folds: folded.filter_map(|(line, _)| Some([*line.first()?, *line.last()?])).collect(),
    }
}

fn grain(direction: GrainDirection) -> Grain {
    Grain { direction, tolerance: 0.0, one_way: false }
}

/// The girth where the planform is given.
fn girths(wing: &RibbedPart, face: Face) -> Vec<Figure> {
    let girth = face.girth(&wing.section);
    let last = wing.planform.len() - 1;
    let figure = |index: usize| Figure {
        what: match index {
            0 => "girth at the butt".to_owned(),
            _ if index == last => "girth at the last chord".to_owned(),
            _ => format!("girth at chord {}", index + 1),
        },
        value: girth * wing.planform[index].length,
        source: "arc length of the section".to_owned(),
    };
    (0..=last).map(figure).collect()
}

/// Mass and moment of one hand's covering. The hinge lies under the top, on whose flat outline the arm is measured.
fn balance_of(
    desk: &mut Desk,
    part: &Part,
    wing: &RibbedPart,
    edges: &Edges,
    area: f64,
) -> Option<(Balance, Option<[[f64; 2]; 2]>)> {
    let top = shape(wing, Face::Top);
    let mut plan = plan(part, wing, edges, Face::Top, &top, 1);
    plan.edges.fill(EdgeFigures::default());
    let panel = match Panel::new(plan) {
        Ok(panel) => panel,
        Err(fault) => {
            let hint = "look at the planform and the section";
            desk.fault(&part.at, format!("the top of {:?} cannot be laid flat: {fault}", part.name), hint);
            return None;
        }
    };
    let balance = balance(desk.rules, &desk.cloths(part), area, &panel, top.hinge);
    Some((balance, top.hinge.filter(|_| wing.cover == RibbedCover::TopAndBottom)))
}

fn cautions(
    desk: &mut Desk,
    part: &Part,
    wing: &RibbedPart,
    edges: &Edges,
    shapes: &[(Face, Shape)],
    panels: &[Panel],
) {
    let (units, name) = (desk.job.units, &part.name);
    for (face, shape) in shapes {
        let worst = shape.misfits.iter().fold((0.0, 0.0), |worst, at| if at.1 > worst.1 { *at } else { worst });
        if worst.1 > PENCIL_LINE {
            let [at, gap] = [worst.0, worst.1].map(|length| units.show(length));
            desk.caution(format!(
                "{name}, {}: at {at} the taper changes, and flat cloth misses the skin by up to {gap} there; ease it \
                 in before it is shrunk",
                face.words()
            ));
        }
    }
    let joint = edges.leading_edge_joint();
    if wing.cover == RibbedCover::TopAndBottom && joint.figure == RuleFigure::Lap {
        let width = nose_width(wing);
        if width.is_none_or(|width| width < joint.used - SAME_POINT) {
            let nose = width.map_or("not known".to_owned(), |width| units.show(width));
            desk.caution(format!(
                "{name}: the lap at the leading edge is {}, and the nose under it must be as wide (AC 2-8 NOTE); the \
                 width of its nose sheet is {nose}",
                units.show(joint.used)
            ));
        }
    }
    seam_cautions(desk, part, wing, panels);
    if wing.surface == Surface::ControlSurface || wing.hinge.is_some() {
        balance_caution(desk, part);
    }
    if desk.book.method() == Method::Sewn && wing.surface == Surface::ControlSurface {
        let span = wing.planform[wing.planform.len() - 1].span - wing.planform[0].span;
        notch_caution(desk, part, place(wing.surface, Location::WingTrailingEdge), span);
    }
}

/// A thick seam at the nose of a thin section may act as a stall strip.
fn seam_cautions(desk: &mut Desk, part: &Part, wing: &RibbedPart, panels: &[Panel]) {
    if wing.cover != RibbedCover::OnePiece {
        return;
    }
    let whole = wing.section.whole_girth();
    let nose = wing.section.girth(Side::Top, 0.0, 1.0);
    let longest = wing.planform.iter().map(|chord| chord.length).fold(0.0, f64::max);
    for panel in panels {
        let spanwise =
            |ends: &[geo_types::Coord<f64>; 2]| (ends[0].y - ends[1].y).abs() < (ends[0].x - ends[1].x).abs();
        let near = |y: f64| (y.abs() - nose * longest).abs() < AT_THE_NOSE * whole * longest;
        let at_nose = |seam: &super::Seam| seam.kind == SeamKind::Sewn && spanwise(&seam.ends) && near(seam.ends[0].y);
        if panel.seams.iter().any(at_nose) {
            desk.caution(format!(
                "{}: a sewn seam lies at the leading edge; on a thin, sharp-nosed section it may act as a stall strip \
                 (AC 2-7a(1))",
                part.name
            ));
        }
    }
}
