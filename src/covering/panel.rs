//! A panel: the finished outline of a covered face, and what is added to it all round before it is cut.

use geo_types::Coord;

use super::marks::Marks;
use super::seam::{Seam, Strip};
use crate::job::{Edge, Grain, Member, MemberClass, Piece, Words};
use crate::shape::{Allowance, Curve, Join, Outline, OutlineFault, Pose, length_of};
use crate::units::Units;

/// What is added along one edge of the finished outline, in millimetres.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct EdgeFigures {
    /// Cloth that follows a surface out of the plane of the face, such as round a tube.
    pub wrap: f64,
    /// Cloth over other cloth, or past the line of a sewn seam.
    pub lap: f64,
    /// Cloth to hold on to, trimmed off in place.
    pub handling: f64,
}

/// A figure of a panel with its source.
#[derive(Clone, Debug, PartialEq)]
pub struct Figure {
    /// What it is, such as `wrap round a 19 mm tube`.
    pub what: String,
    /// In millimetres.
    pub value: f64,
    /// Where it comes from.
    pub source: String,
}

/// A straight line of a member under the cloth, as it is drawn; a bent member is several, each after the other.
#[derive(Clone, Debug, PartialEq)]
pub struct MemberLine {
    /// What it is.
    pub class: MemberClass,
    /// Where it begins and ends.
    pub ends: [Coord<f64>; 2],
}
/// What a panel is made from.
#[derive(Clone, Debug, PartialEq)]
pub struct PanelPlan {
    /// Name of the panel, unique in the job.
    pub name: String,
    /// Name of its part.
    pub part: String,
    /// Where it goes on the aircraft.
    pub goes: String,
    /// The faces that it lies on, each with how many of its copies do; empty where no faces are known.
    pub faces: Vec<(String, u32)>,
    /// The finished outline, seen from outside, its x axis the grain line.
    pub finished: Curve,
    /// What is added along each edge of the finished outline, in order.
    pub edges: Vec<EdgeFigures>,
    /// How what is added turns a corner.
    pub join: Join,
    /// The members under it.
    pub members: Vec<MemberLine>,
    /// What is written beside its lines.
    pub marks: Marks,
    /// The figures that it was made from, without its own sizes.
    pub figures: Vec<Figure>,
    /// Which way the warp runs.
    pub grain: Grain,
    /// Names of the cloths that it may be cut from; empty for all.
    pub cloth: Vec<String>,
    /// How many are cut.
    pub quantity: u32,
    /// Where its shape comes from, such as a drawing.
    pub source: Option<String>,
}

/// A panel that is worked out.
#[derive(Clone, Debug, PartialEq)]
pub struct Panel {
    /// What it is made from.
    pub plan: PanelPlan,
    /// Whether it is the mirror image of the part as it is drawn.
    pub mirrored: bool,
    /// The finished outline grown by the wraps: the middle of the edge that the cloth goes round.
    pub wrapped: Outline,
    /// The finished outline grown by wraps and laps: what stays on the aircraft.
    pub trimmed: Outline,
    /// The whole panel as it is cut where no seam divides it.
    pub cut: Outline,
    /// The seams that divide it.
    pub seams: Vec<Seam>,
    /// What is cut: the panel, or its strips, each with its lap at the seams.
    pub strips: Vec<Strip>,
}

impl Panel {
    /// A panel in one strip.
    ///
    /// # Errors
    /// [`OutlineFault`] where the finished outline is not sound, or there are not as many edge figures as edges.
    pub fn new(plan: PanelPlan) -> Result<Self, OutlineFault> {
        let grown = |by: fn(&EdgeFigures) -> f64| {
            let by_edge = plan.edges.iter().map(by).collect();
            plan.finished.cut_outline(&Allowance { by_edge, join: plan.join })
        };
        let wrapped = grown(|edge| edge.wrap)?;
        let trimmed = grown(|edge| edge.wrap + edge.lap)?;
        let cut = grown(|edge| edge.wrap + edge.lap + edge.handling)?;
        let whole = Strip { cut: cut.clone(), finished: plan.finished.clone() };
        Ok(Self { plan, mirrored: false, wrapped, trimmed, cut, seams: Vec::new(), strips: vec![whole] })
    }

    /// The same panel for the other hand: `y` becomes `-y`.
    pub fn mirrored(&self) -> Self {
        self.mirrored_by(&Pose { flipped: true, ..Pose::unmoved() }, Curve::mirrored)
    }

    /// The same panel for the other hand with its top still up: `x` becomes `-x`.
    pub fn mirrored_upright(&self) -> Self {
        let flip = Pose { flipped: true, turn: 180.0, ..Pose::unmoved() };
        self.mirrored_by(&flip, |curve| curve.mirrored().half_turned())
    }

    fn mirrored_by(&self, flip: &Pose, curve: fn(&Curve) -> Curve) -> Self {
        let ends = |ends: [Coord<f64>; 2]| ends.map(|end| flip.apply(end));
        let mut plan = self.plan.clone();
        plan.finished = curve(&plan.finished);
        plan.marks = plan.marks.moved(flip);
        for member in &mut plan.members {
            member.ends = ends(member.ends);
        }
        let strip = |strip: &Strip| Strip { cut: flip.apply_to(&strip.cut), finished: curve(&strip.finished) };
        Self {
            plan,
            mirrored: !self.mirrored,
            wrapped: flip.apply_to(&self.wrapped),
            trimmed: flip.apply_to(&self.trimmed),
            cut: flip.apply_to(&self.cut),
            seams: self.seams.iter().map(|seam| Seam { ends: ends(seam.ends), ..seam.clone() }).collect(),
            strips: self.strips.iter().map(strip).collect(),
        }
    }

    /// The panel of the other hand, where the cloth's faces differ.
    pub(super) fn for_other_hand(&self) -> Self {
        let mut mirrored = self.mirrored();
        mirrored.plan.name.push_str(" of its mirror image");
        mirrored.plan.goes.push_str(", for the other hand");
        mirrored
    }

    /// The pieces that the panel is cut as.
    pub fn pieces(&self, units: Units) -> Vec<Piece> {
        let count = self.strips.len();
        let piece = |(index, strip): (usize, &Strip)| Piece {
            name: if count == 1 {
                self.plan.name.clone()
            } else {
                format!("{}, strip {} of {count}", self.plan.name, index + 1)
            },
            outline: strip.finished.clone(),
            quantity: self.plan.quantity,
            size: [strip.cut.bounds().width(), strip.cut.bounds().height()],
            cut: strip.cut.clone(),
            edge: Edge::Plain,
            grain: self.plan.grain,
            flip: true,
            cloth: self.plan.cloth.clone(),
            goes: Some(self.plan.goes.clone()),
            source: Some(self.figure_lines(units).join("; ")),
        };
        self.strips.iter().enumerate().map(piece).collect()
    }

    /// Every figure that the panel was made from, each apart from the others, with its source.
    pub fn figure_lines(&self, units: Units) -> Vec<String> {
        let finished = self.plan.finished.flatten().map(|flat| flat.bounds());
        let finished =
            finished.map(|bounds| format!("finished {} × {}", units.show(bounds.width()), units.show(bounds.height())));
        let figure = |figure: &Figure| format!("{} {} ({})", figure.what, units.show(figure.value), figure.source);
        let mut lines: Vec<String> = self.plan.source.iter().cloned().chain(finished).collect();
        lines.extend(self.plan.figures.iter().map(figure));
        lines.extend(self.seams.iter().map(|seam| seam.in_words(units)));
        lines.push("not enlarged for shrinkage".to_owned());
        lines
    }
}

impl MemberLine {
    /// The line of a member of the job.
    pub(super) fn of(member: &Member) -> Self {
        Self { class: member.class, ends: [member.from, member.to].map(|[x, y]| Coord { x, y }) }
    }

    /// What the member is, in the words of the trade.
    pub fn class_word(&self) -> &'static str {
        self.class.word()
    }

    /// Length in millimetres.
    pub fn length(&self) -> f64 {
        length_of(&self.ends)
    }

    /// Whether it goes on where another line of the same member ends.
    pub fn continues(&self, before: &Self) -> bool {
        self.class == before.class && self.ends[0] == before.ends[1]
    }
}
