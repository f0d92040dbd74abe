//! From the airframe and the rules to the panels that are cut.
//!
//! The builder knows the airframe; this floor works out what cloth covers it. Each part becomes [`Panel`]s: a finished
//! outline, and round it what wraps, laps and is held on to, every figure with its source. Panels wider than the cloth
//! are divided with a seam where the rules allow one. A panel then becomes one or more pieces, which are laid, checked
//! and drawn like any other; nothing here knows how that is done.
//!
//! Panels are never made larger for shrinkage: the slack that heat takes up is not cut into the cloth (approved covering
//! manual pp. 19-20; AC 43.13-1B 2-3d).

mod balance;
mod cautions;
mod desk;
mod dressed;
pub mod dressing;
mod faces;
mod fault;
mod flat;
mod given;
mod marks;
mod member_ends;
mod panel;
mod place_figures;
mod repairs;
mod ribbed;
mod rules;
mod seam;
mod seams;
mod split;
mod truss;

use geo_types::Coord;

use crate::job::{Job, Part, PartKind, Piece};

pub use balance::Balance;
use desk::Desk;
pub use dressed::{
    DrainHole, Dressed, LacedRib, LacesOnFace, Leg, Patch, PatchChoice, Quantity, Ring, TapeOrder, TapeRun, Unit,
};
pub use faces::{
    Bay, Datum, Drain, EdgeClass, Face, FaceEdge, FaceMember, Measure, Placed, RibSize, Skin, bays, drains, height,
    low_points,
};
pub use fault::CoveringFault;
pub use marks::{CornerName, EdgeName, Marks, Way};
pub use panel::{EdgeFigures, Figure, MemberLine, Panel, PanelPlan};
pub use repairs::RepairWork;
pub use rules::{
    ClassNeeded, NoRule, NotStructure, Notches, RuleBook, RuleUsed, WorkedOut, class_needed, lap_over, notches,
};
pub use seam::{Seam, SeamKind, Strip};

/// What covers the airframe.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Covering {
    /// The parts, in the order of the job.
    pub parts: Vec<CoveredPart>,
    /// The repairs, in the order of the job.
    pub repairs: Vec<RepairWork>,
    /// Patches, doilies and other small pieces that go onto the panels.
    pub dressing: Vec<Piece>,
    /// What it saves and costs to cut patches in few sizes.
    pub patch_choice: PatchChoice,
    /// Every figure that was asked of the rules, each once, in the order of figures and places.
    pub rules_used: Vec<RuleUsed>,
    /// The class of cloth that the aircraft needs; `None` without rules.
    pub class_needed: Option<ClassNeeded>,
    /// What the person should think about.
    pub cautions: Vec<String>,
}

/// A part with what covers it.
#[derive(Clone, Debug, PartialEq)]
pub struct CoveredPart {
    /// Name of the part in the job.
    pub name: String,
    /// Its panels.
    pub panels: Vec<Panel>,
    /// Mass and moment of its covering, where the masses are known.
    pub balance: Option<Balance>,
    /// The hinge line in the coordinates of the panels that are not mirrored.
    pub hinge: Option<[[f64; 2]; 2]>,
    /// Its faces, for all that goes on the cloth; none where only a finished panel is given.
    pub faces: Vec<Face>,
    /// What goes onto its panels.
    pub dressed: Dressed,
}

/// Works out what covers the airframe of a job.
///
/// A job without rules has neither airframe nor repairs, and nothing covers it.
///
/// # Errors
/// Every fault that is found, each with its place in the job file: a place for which the rules have no figure, a panel
/// that no cloth is wide enough for and no seam may divide, two pieces of one name.
pub fn cover(job: &Job) -> Result<Covering, Vec<CoveringFault>> {
    let Some(rules) = &job.rules else { return Ok(Covering::default()) };
    let mut desk = Desk::new(job, rules);
    desk.check_class();
    let parts: Vec<Option<CoveredPart>> = job.airframe.iter().map(|part| cover_part(&mut desk, part)).collect();
    let mut parts: Vec<CoveredPart> = parts.into_iter().flatten().collect();
    let (dressing, patch_choice) = dressed::dress(&mut desk, &mut parts);
    if let Some(caution) = dressing::attachment_caution(&desk.book).filter(|_| !parts.is_empty()) {
        desk.caution(caution);
    }
    let repairs: Vec<Option<RepairWork>> = job.repairs.iter().map(|repair| repairs::work(&mut desk, repair)).collect();
    let repairs: Vec<RepairWork> = repairs.into_iter().flatten().collect();
    desk.check_names(&parts, &dressing, &repairs);
    desk.check_fit(&parts, &dressing, &repairs);
    desk.check_own_figures();
    let covering = desk.finish(parts, repairs)?;
    Ok(Covering { dressing, patch_choice, ..covering })
}

fn cover_part(desk: &mut Desk, part: &Part) -> Option<CoveredPart> {
    match &part.kind {
        PartKind::Flat(flat) => flat::cover(desk, part, flat),
        PartKind::Ribbed(wing) => ribbed::cover(desk, part, wing),
        PartKind::Truss(truss) => truss::cover(desk, part, truss),
        PartKind::Panel(given) => given::cover(desk, part, given),
    }
}

impl Covering {
    /// What all parts use up beside cloth, each thing once.
    pub fn quantities(&self) -> Vec<Quantity> {
        let mut all: Vec<Quantity> = Vec::new();
        for quantity in self.parts.iter().flat_map(|part| &part.dressed.quantities) {
            match all.iter_mut().find(|known| known.what == quantity.what) {
                Some(known) => known.amount += quantity.amount,
                None => all.push(quantity.clone()),
            }
        }
        all
    }
}

impl CoveredPart {
    /// The hinge line as it runs on a panel of the part: mirrored where the panel is.
    pub fn hinge_on(&self, panel: &Panel) -> Option<[Coord<f64>; 2]> {
        let hand = if panel.mirrored { -1.0 } else { 1.0 };
        self.hinge.map(|ends| ends.map(|[x, y]| Coord { x, y: hand * y }))
    }
}

impl Covering {
    /// The pieces to cut: panels in the order of parts, patches and doilies that go onto them, then the patches of repairs.
    pub fn pieces(&self, job: &Job) -> Vec<Piece> {
        let panels = self.parts.iter().flat_map(|part| &part.panels);
        let patches = self.repairs.iter().filter_map(|repair| repair.patch.clone());
        let dressing = self.dressing.iter().cloned();
        panels.flat_map(|panel| panel.pieces(job.units)).chain(dressing).chain(patches).collect()
    }
}
