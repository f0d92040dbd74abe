//! The desk at which parts are worked out: the job, its rules, and what is noted on the way.

use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Display;

use super::rules::{RuleBook, RuleUsed, class_needed};
use super::seams::{Ground, divided};
use super::{ClassNeeded, CoveredPart, Covering, CoveringFault, Face, Panel, PanelPlan, RepairWork};
use crate::job::{Cloth, Job, Location, Part, Piece, RuleFigure, Rules, Spot, Surface, Words, least_miss};
use crate::shape::OutlineFault;

/// What to do where a rule for things on the cloth has no figure.
pub(super) const GIVE_FIGURE: &str = "give the figure and say why in \"figures\" of \"rules\"";

/// What a piece may be too large by through rounding, in millimetres.
const ROUNDING: f64 = 1e-6;

/// What the kinds of parts share while they are worked out.
pub(super) struct Desk<'j> {
    pub job: &'j Job,
    pub rules: &'j Rules,
    pub book: RuleBook<'j>,
    used: BTreeMap<(RuleFigure, Location), RuleUsed>,
    cautions: Vec<String>,
    /// The same, to find them again.
    cautioned: BTreeSet<String>,
    faults: Vec<CoveringFault>,
    class: ClassNeeded,
}

impl<'j> Desk<'j> {
    pub fn new(job: &'j Job, rules: &'j Rules) -> Self {
        Self {
            job,
            rules,
            book: RuleBook::new(rules),
            used: BTreeMap::new(),
            cautions: Vec::new(),
            cautioned: BTreeSet::new(),
            faults: Vec::new(),
            class: class_needed(rules),
        }
    }

    /// A figure of the rules, noted as used; a fault where there is none.
    pub fn figure(&mut self, figure: RuleFigure, location: Location, at: &Spot) -> Option<RuleUsed> {
        let hint = "choose another method, or give the figure and say why in \"figures\" of \"rules\"";
        let found = self.answer(self.book.figure(figure, location), at, hint)?;
        self.note(&found);
        Some(found)
    }

    /// What a rule answers; a fault at a place of the job where it has no answer.
    pub fn answer<T>(&mut self, asked: Result<T, impl Display>, at: &Spot, hint: &str) -> Option<T> {
        asked.map_err(|none| self.fault(at, none.to_string(), hint)).ok()
    }

    /// Notes a figure as used.
    pub fn note(&mut self, used: &RuleUsed) {
        self.used.insert((used.figure, used.location), used.clone());
    }

    /// Notes a figure of a repair: as used where it is the person's own, with a caution where the rules had a gap.
    pub fn note_repair(&mut self, used: &RuleUsed, repair: &str) {
        if self.book.own(used.figure, used.location).is_some() {
            self.used.insert((used.figure, used.location), used.clone());
        } else if let Some(gap) = &used.why {
            self.caution(format!("{repair}: {} {}: {gap}", used.figure.word(), self.job.units.show(used.used)));
        }
    }

    pub fn fault(&mut self, at: &Spot, message: impl Into<String>, hint: impl Into<String>) {
        self.faults.push(CoveringFault { at: at.clone(), message: message.into(), hint: hint.into() });
    }

    /// Notes a caution, each once.
    pub fn caution(&mut self, message: String) {
        if self.cautioned.insert(message.clone()) {
            self.cautions.push(message);
        }
    }

    /// The cloths that the panels of a part may be cut from.
    pub fn cloths(&self, part: &Part) -> Vec<&'j Cloth> {
        let may_use = |cloth: &&Cloth| part.cloth.is_empty() || part.cloth.contains(&cloth.name);
        self.job.cloth.iter().filter(may_use).collect()
    }

    /// Whether a panel and its mirror image are the same piece, since either face of every cloth may be outside.
    pub fn faces_alike(&self, part: &Part) -> bool {
        self.cloths(part).iter().all(|cloth| cloth.faces_alike)
    }

    /// A panel that can be cut from a cloth of its part, divided by seams where it is too wide; a fault where it cannot.
    pub fn panel(&mut self, plan: PanelPlan, part: &Part, surface: Surface, ground: &Ground) -> Option<Panel> {
        let name = plan.name.clone();
        let panel = match Panel::new(plan) {
            Ok(panel) => panel,
            Err(fault) => {
                let hint = "make wraps, laps or handling smaller, or look at the outline";
                self.fault(&part.at, format!("panel {name:?} cannot be grown by its laps: {fault}"), hint);
                return None;
            }
        };
        let cloths = self.cloths(part);
        match divided(&panel, &cloths, self.book, surface, ground) {
            Ok(divided) => {
                for used in divided.rules_used {
                    self.used.insert((used.figure, used.location), used);
                }
                Some(divided.panel)
            }
            Err(why) => {
                let message = format!("panel {name:?} fits no cloth: {}", why.in_words(self.job.units));
                self.fault(&part.at, message, "use wider or longer cloth, or add structure that a seam may lie on");
                None
            }
        }
    }

    /// The faces of a part with their bays and drains; a fault where one is not sound. `upright_too` where the first face
    /// drains the part although it stands upright.
    pub fn faces(
        &mut self,
        part: &Part,
        faces: Result<Vec<Face>, OutlineFault>,
        upright_too: bool,
    ) -> Option<Vec<Face>> {
        match faces {
            Ok(faces) => {
                let drained = part.places.drains.is_some();
                let name = &part.name;
                if drained && self.job.parked.is_none() {
                    self.caution(format!(
                        "{name}: where its drains go is not known; say in \"parked\" how the aircraft stands"
                    ));
                }
                let parked = self.job.parked.filter(|_| drained);
                if parked.is_some() && faces.iter().any(|face| face.skin.is_none()) {
                    self.caution(format!(
                        "{name}: where its drains go is not known; say in its \"axes\" how it lies in the aircraft"
                    ));
                }
                let mut complete = Vec::new();
                for (index, face) in faces.into_iter().enumerate() {
                    let face = face.with_bays(parked.as_ref(), upright_too && index == 0);
                    complete.push(face.with_places(self, part));
                }
                Some(complete)
            }
            Err(fault) => {
                self.fault(
                    &part.at,
                    format!("part {:?} cannot be laid flat: {fault}", part.name),
                    "look at its outline",
                );
                None
            }
        }
    }

    /// Says so where the cloth is weaker than the aircraft needs.
    pub fn check_class(&mut self) {
        let Some(class) = self.rules.cloth_class else { return };
        let ClassNeeded { class: needed, new, source, .. } = self.class;
        if class < needed {
            let (class, needed) = (class.word(), needed.word());
            self.caution(format!(
                "the cloth is of the {class} class, and this aircraft needs {needed} cloth, {new} lb/in when new ({source})"
            ));
        }
    }

    /// Names of panels must be the job's alone.
    pub fn check_names(&mut self, parts: &[CoveredPart], dressing: &[Piece], repairs: &[RepairWork]) {
        let mut taken: BTreeSet<String> = self.job.pieces.iter().map(|piece| piece.name.clone()).collect();
        for covered in parts {
            let Some(part) = self.job.airframe.iter().find(|part| part.name == covered.name) else { continue };
            for piece in covered.panels.iter().flat_map(|panel| panel.pieces(self.job.units)) {
                if !taken.insert(piece.name.clone()) {
                    let message = format!("two pieces are called {:?}, one of them a panel of this part", piece.name);
                    self.fault(&part.at, message, "give the part or the piece another name");
                }
            }
        }
        for piece in dressing {
            let Some(part) = self.job.airframe.first() else { break };
            if !taken.insert(piece.name.clone()) {
                let message =
                    format!("two pieces are called {:?}, one of them goes onto the panels of the airframe", piece.name);
                self.fault(&part.at, message, "give your own piece or panel another name");
            }
        }
        for repair in &self.job.repairs {
            let patch =
                repairs.iter().find(|worked| worked.name == repair.name).and_then(|worked| worked.patch.as_ref());
            if let Some(piece) = patch.filter(|piece| !taken.insert(piece.name.clone())) {
                let message = format!("two pieces are called {:?}, one of them the patch of this repair", piece.name);
                self.fault(&repair.at, message, "give the repair or the piece another name");
            }
        }
    }

    /// What goes onto the panels, and what repairs are made with, must fit a cloth as panels do.
    pub fn check_fit(&mut self, parts: &[CoveredPart], dressing: &[Piece], repairs: &[RepairWork]) {
        let job = self.job;
        for piece in dressing {
            let goes = |part: &&CoveredPart| part.dressed.pieces().any(|name| name == piece.name);
            let part = parts.iter().find(goes).and_then(|covered| self.part(&covered.name)).or(job.airframe.first());
            if let Some(part) = part {
                self.fits(piece, &part.at);
            }
        }
        for repair in &job.repairs {
            let patch =
                repairs.iter().find(|worked| worked.name == repair.name).and_then(|worked| worked.patch.as_ref());
            if let Some(piece) = patch {
                self.fits(piece, &repair.at);
            }
        }
    }

    fn part(&self, name: &str) -> Option<&'j Part> {
        self.job.airframe.iter().find(|part| part.name == name)
    }

    /// A fault where a piece fits no cloth that it may be cut from.
    fn fits(&mut self, piece: &Piece, at: &Spot) {
        let may_use = |cloth: &&Cloth| piece.cloth.is_empty() || piece.cloth.contains(&cloth.name);
        let cloths: Vec<&Cloth> = self.job.cloth.iter().filter(may_use).collect();
        let Some((nearest, miss)) = least_miss(&piece.cut, &piece.grain, &cloths) else { return };
        if miss.by() <= ROUNDING {
            return;
        }
        let units = self.job.units;
        let [across, along, wide] = [miss.across, miss.along, miss.room[0]].map(|length| units.show(length));
        let room = if miss.room[1].is_finite() { format!("{wide} × {}", units.show(miss.room[1])) } else { wide };
        let message = format!(
            "{:?} fits no cloth: it needs {across} across and {along} along, and on {:?}, where it comes nearest, there is \
             {room}",
            piece.name, cloths[nearest].name
        );
        self.fault(at, message, "use wider or longer cloth, or look at the size of what it goes over");
    }

    /// Figures of the person's own that nothing uses, and those below the rule's minimum.
    pub fn check_own_figures(&mut self) {
        for own in &self.rules.figures {
            let what = format!("your own {} at the {}", own.figure.word(), own.location.word());
            match self.used.get(&(own.figure, own.location)) {
                None => self.caution(format!(
                    "{what} is used by no part and no repair ({}, line {})",
                    own.at.path, own.at.line
                )),
                Some(used) => {
                    if let Some(least) = used.default.filter(|least| own.value < *least) {
                        let [value, least] = [own.value, least].map(|length| self.job.units.show(length));
                        let source = used.source.clone();
                        self.caution(format!(
                            "{what} is {value}, less than {least} ({source}); your reason: {}",
                            own.why
                        ));
                    }
                }
            }
        }
    }

    /// The covering, or all that keeps it from being worked out.
    pub fn finish(self, parts: Vec<CoveredPart>, repairs: Vec<RepairWork>) -> Result<Covering, Vec<CoveringFault>> {
        if !self.faults.is_empty() {
            return Err(self.faults);
        }
        let mut cautions = self.cautions;
        let units = self.job.units;
        cautions.extend(self.used.values().filter_map(|used| {
            let default = used.default.filter(|default| used.used > *default)?;
            let own = self.rules.figures.iter().any(|own| (own.figure, own.location) == (used.figure, used.location));
            let why = used.why.as_deref().filter(|_| !own)?;
            let (used_words, default) = (units.show(used.used), units.show(default));
            let place = format!("the {} at the {}", used.figure.word(), used.location.word());
            Some(format!("{place} is {used_words} and not {default} ({}): {why}", used.source))
        }));
        Ok(Covering {
            parts,
            repairs,
            rules_used: self.used.into_values().collect(),
            class_needed: Some(self.class),
            cautions,
            ..Covering::default()
        })
    }
}
