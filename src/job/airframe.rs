//! The airframe as the person describes it: which rules hold, and the parts that are to be covered.

use super::attachment::Attachment;
use super::given_panel::GivenPanel;
use super::model::GrainDirection;
use super::parked::Direction;
use super::places::{FittingSize, Places};
use super::ribbed::RibbedPart;
use super::rule_figure::{Location, RuleFigure};
use super::truss::Truss;
use crate::shape::Curve;
use crate::units::{Speed, WingLoading};

/// Where something stands in the job file, for what is found wrong after the file was read.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Spot {
    /// Such as `airframe[2].members[1]`.
    pub path: String,
    /// Line, from 1.
    pub line: usize,
    /// Column in characters, from 1.
    pub column: usize,
}

/// What decides laps, tapes and the class of the cloth.
#[derive(Clone, Debug, PartialEq)]
pub struct Rules {
    /// How cloth is joined to cloth.
    pub method: Method,
    /// Never-exceed speed.
    pub vne: Speed,
    /// Greatest mass over the area of the wing.
    pub wing_loading: WingLoading,
    /// Whether the aircraft is a glider, for which a lighter class of cloth may do.
    pub glider: bool,
    /// The strength class of the cloth that is used, where the person says it.
    pub cloth_class: Option<ClothClass>,
    /// How cloth is held to ribs besides by dope or cement.
    pub attachment: Attachment,
    /// Grams a square metre of all coats together.
    pub coats: Option<f64>,
    /// The sizes that patches over fittings are cut in.
    pub patch_sizes: PatchSizeWish,
    /// Figures that the maker's manual gives otherwise.
    pub figures: Vec<OwnFigure>,
    /// Where the rules stand.
    pub at: Spot,
}

/// Which sizes patches are cut in, so that many share one template.
#[derive(Clone, Debug, Default, PartialEq)]
pub enum PatchSizeWish {
    /// As few as take little more cloth.
    #[default]
    Few,
    /// This many at most.
    AtMost(u32),
    /// These, each patch in the smallest that covers it.
    These(Vec<FittingSize>),
}

/// How cloth is joined to cloth, and with it the set of rules.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Method {
    /// Lapped and doped: AC 43.13-1B paragraph 2-7b.
    Doped,
    /// Lapped and cemented: an approved covering manual.
    Cemented,
    /// Sewn: AC 43.13-1B paragraph 2-7a.
    Sewn,
}

/// Strength classes of AC 43.13-1B table 2-1, the weakest first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum ClothClass {
    /// AMS 3802, for light gliders.
    Light,
    /// TSO-C14b.
    Intermediate,
    /// TSO-C15d.
    GradeA,
}

/// A figure that the person gives in place of a rule's.
#[derive(Clone, Debug, PartialEq)]
pub struct OwnFigure {
    /// Which figure.
    pub figure: RuleFigure,
    /// Where.
    pub location: Location,
    /// Its value in millimetres.
    pub value: f64,
    /// Why it is another.
    pub why: String,
    /// Where it is written.
    pub at: Spot,
}

/// A part of the airframe that is to be covered.
#[derive(Clone, Debug, PartialEq)]
pub struct Part {
    /// Unique among the parts.
    pub name: String,
    /// Names of the cloths that its panels may be cut from; empty for all.
    pub cloth: Vec<String>,
    /// Whether it is built twice, left and right.
    pub mirrored: bool,
    /// Where its figures come from, such as a drawing.
    pub source: Option<String>,
    /// What it is like.
    pub kind: PartKind,
    /// What is on its cloth.
    pub places: Places,
    /// Where it is written.
    pub at: Spot,
}

/// The kinds of parts.
#[derive(Clone, Debug, PartialEq)]
pub enum PartKind {
    /// A planar frame with a tube all round.
    Flat(FlatPart),
    /// A surface whose ribs have a section.
    Ribbed(RibbedPart),
    /// A framework of tubes in space.
    Truss(Truss),
    /// A panel whose finished outline is given.
    Panel(GivenPanel),
}

/// A planar frame with a tube all round: a tail surface or a flat control surface.
#[derive(Clone, Debug, PartialEq)]
pub struct FlatPart {
    /// What it belongs to, which decides its rules.
    pub surface: Surface,
    /// The outline in plan, seen from the first side; it has no holes.
    pub outline: Curve,
    /// Diameter of the perimeter tube along each edge of the outline.
    pub tube: Vec<f64>,
    /// What the outline is measured to.
    pub measured_to: MeasuredTo,
    /// Whether it is covered on both sides.
    pub sides: Sides,
    /// How the sides share the lap round the tube.
    pub wrap: Wrap,
    /// Which way its x axis lies on the roll: along, across or either.
    pub grain: GrainDirection,
    /// What lies inside the perimeter.
    pub members: Vec<Member>,
    /// Two points of the hinge line.
    pub hinge: Option<[[f64; 2]; 2]>,
    /// Where the axes of the outline point in the aircraft, where the person says it.
    pub axes: Option<[Direction; 2]>,
}

/// What a covered surface belongs to.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Surface {
    /// Tail surfaces: fin, rudder, tailplane, elevators.
    Empennage,
    /// Control surfaces of the wing.
    ControlSurface,
    /// The wing itself.
    Wing,
    /// The fuselage.
    Fuselage,
}

/// What the outline of a flat part is measured to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum MeasuredTo {
    /// The outermost line of the tube.
    TubeOutside,
    /// The centre line of the tube.
    TubeCentre,
}

/// Which sides are covered.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Sides {
    /// Both.
    Both,
    /// The first one only; its cloth is turned round the tube.
    One,
}

/// How two sides share the lap round the perimeter tube.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Wrap {
    /// Each side reaches half the lap past the middle of the tube.
    Shared,
    /// The first side reaches the whole lap past the middle of the tube, the second one to the middle.
    FirstSide,
}

/// A member inside a part, as a line in the part's own plane.
#[derive(Clone, Debug, PartialEq)]
pub struct Member {
    /// What it is.
    pub class: MemberClass,
    /// Where it begins.
    pub from: [f64; 2],
    /// Where it ends.
    pub to: [f64; 2],
    /// Width of its face under the cloth.
    pub width: Option<f64>,
    /// Where it is written.
    pub at: Spot,
}

/// Classes of members; the class decides whether a lap may lie on one.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum MemberClass {
    /// Front edge member.
    LeadingEdge,
    /// Rear edge member.
    TrailingEdge,
    /// Curved outer edge member.
    TipBow,
    /// Closing rib at the root.
    ButtRib,
    /// Main or false rib.
    Rib,
    /// Aft edge of the sheet that covers the nose.
    NoseSheet,
    /// Main or false spar.
    Spar,
    /// Main lengthwise fuselage member.
    Longeron,
    /// Structural tube across the fuselage.
    CrossTube,
    /// Structural tube from corner to corner of a bay.
    Diagonal,
    /// Strip that gives shape lengthwise.
    Stringer,
    /// Frame that gives shape across.
    Former,
}
