//! The plan of a face's panel: what its cloth is wrapped round and laps over, edge by edge, and the figures in words.

use std::f64::consts::PI;

use super::borders::Border;
use super::sheet::{Sheet, lies};
use super::twist::Twist;
use crate::covering::marks::{Marks, Way, corner_names, edge_names};
use crate::covering::panel::{EdgeFigures, Figure, MemberLine, PanelPlan};
use crate::covering::place_figures::PlaceFigures;
use crate::covering::rules::RuleUsed;
use crate::job::{Face, Grain, GrainDirection, Part, Truss, Words};
use crate::shape::{Curve, Join};
use crate::units::Units;

/// Where the wrap comes from; the manual gives no number.
const FIRST_TUBE: &str =
    "manual p. 54: a tube with no cloth on it is wrapped as far round as it goes; once round, πD, is derived";

/// A face with all that its panel is made from.
pub(super) struct FaceCloth<'c> {
    pub part: &'c Part,
    pub truss: &'c Truss,
    pub face: &'c Face,
    pub sheet: &'c Sheet<'c>,
    pub borders: &'c [Border<'c>],
    pub grain: GrainDirection,
    pub figures: &'c PlaceFigures,
    pub units: Units,
}

/// The plan of the panel of a face as it is written, for one copy.
pub(super) fn plan(cloth: &FaceCloth, twist: &Twist) -> PanelPlan {
    let FaceCloth { part, face, sheet, .. } = cloth;
    let points: Vec<[f64; 2]> = sheet.points.iter().map(|point| [point.x, point.y]).collect();
    let finished = Curve::polygon(&points, &[]);
    let edges: Vec<EdgeFigures> = cloth.borders.iter().map(|border| edge(border, cloth.figures)).collect();
    PanelPlan {
        name: format!("{}, {}", part.name, face.name),
        part: part.name.clone(),
        goes: goes(cloth),
        faces: vec![(face.name.clone(), 1)],
        marks: marks(cloth, &finished, &edges),
        finished,
        edges,
        join: Join::Mitred,
        members: sheet
            .across
            .iter()
            .map(|across| MemberLine { class: across.tube.class, ends: across.ends.map(|end| sheet.points[end]) })
            .collect(),
        figures: figures(cloth, twist),
        grain: Grain { direction: cloth.grain, tolerance: 0.0, one_way: false },
        cloth: part.cloth.clone(),
        quantity: 1,
        source: part.source.clone(),
    }
}

/// The names of edges and nodes, and where the front and the top are.
fn marks(cloth: &FaceCloth, finished: &Curve, edges: &[EdgeFigures]) -> Marks {
    let FaceCloth { truss, sheet, borders, figures, .. } = cloth;
    let words: Vec<String> = borders.iter().map(|border| edge_words(border, figures)).collect();
    let nodes: Vec<&str> = sheet.ring.iter().map(|node| truss.nodes[*node].name.as_str()).collect();
    let up = sheet.up.map(|towards| Way { word: "top", towards });
    Marks {
        edges: edge_names(finished, &words, edges),
        corners: corner_names(&sheet.points, &nodes, edges),
        ways: [sheet.grain.way()].into_iter().chain(up).collect(),
        ..Marks::default()
    }
}

/// What an edge lies on, and how its cloth ends there.
fn edge_words(border: &Border, figures: &PlaceFigures) -> String {
    let tube = border.tube.class.word();
    match border.under {
        Some(under) if !figures.sewn() => format!("{tube}: laps over {}", under.name),
        _ if !wraps(border, figures) => format!("{tube}: sewn"),
        _ if border.meets_own_image => format!("{tube}: meets its mirror image, one laps over the other"),
        _ => format!("{tube}: wrapped once round"),
    }
}

/// Whether the cloth is wrapped round the tube, since none lies on it yet, or where two meet that none is nearer to.
fn wraps(border: &Border, figures: &PlaceFigures) -> bool {
    let closed_by_stitches = figures.sewn() && border.shared;
    border.under.is_none() && !closed_by_stitches
}

fn edge(border: &Border, figures: &PlaceFigures) -> EdgeFigures {
    let joint = figures.joint.used;
    let wrap = if wraps(border, figures) { PI * border.tube.diameter } else { 0.0 };
    // Cloth that goes once round a tube holds by its wrap, and what a thin tube lacks of the lap lies on itself.
    let lap = if figures.sewn() { joint } else { (joint - wrap).max(0.0) };
    EdgeFigures { wrap, lap, handling: figures.handling.used }
}

/// Where the panel goes, when, and what it laps over.
fn goes(cloth: &FaceCloth) -> String {
    let FaceCloth { part, face, borders, figures, .. } = cloth;
    let mut under: Vec<&str> = Vec::new();
    for border in *borders {
        if let Some(earlier) = border.under
            && !under.contains(&earlier.name.as_str())
        {
            under.push(&earlier.name);
        }
    }
    let mut words = format!("{}: {}, number {} in order", part.name, face.name, face.order);
    if !under.is_empty() && !figures.sewn() {
        words.push_str(&format!(", laps over {}", under.join(" and ")));
    }
    if face.mirrored {
        words.push_str("; on both sides");
    }
    if borders.iter().any(|border| border.meets_own_image) {
        words.push_str(", where the two meet one laps over the other");
    }
    words.push_str("; ");
    words.push_str(&lies(&cloth.sheet.grain.way()));
    words
}

fn figures(cloth: &FaceCloth, twist: &Twist) -> Vec<Figure> {
    let FaceCloth { borders, figures, units, .. } = cloth;
    let mut tubes: Vec<f64> =
        borders.iter().filter(|border| wraps(border, figures)).map(|border| border.tube.diameter).collect();
    tubes.sort_by(f64::total_cmp);
    tubes.dedup();
    let mut told: Vec<Figure> = tubes
        .iter()
        .map(|tube| Figure {
            what: format!("wrap once round the {} tube", units.show(*tube)),
            value: PI * tube,
            source: FIRST_TUBE.to_owned(),
        })
        .collect();
    let joint = &figures.joint;
    if figures.sewn() {
        told.push(rule_figure("margin past the sewn seam", joint));
    } else if borders.iter().any(|border| edge(border, figures).lap > 0.0) {
        told.push(rule_figure("lap", joint));
    }
    told.push(rule_figure("handling", &figures.handling));
    if let Some(most) = &twist.most {
        let [from, to] = &most.nodes;
        told.push(Figure {
            what: format!("twist for heat to take up, at most, between {from:?} and {to:?}"),
            value: most.give,
            source: format!(
                "{} % of the cloth there; polyester takes up 5 % at 250 °F, FAA-H-8083-31 chapter 3",
                most.percent
            ),
        });
    }
    told
}

fn rule_figure(what: &str, used: &RuleUsed) -> Figure {
    Figure { what: what.to_owned(), value: used.used, source: used.source_in_words() }
}
