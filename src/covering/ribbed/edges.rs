//! What is added along the edges of a ribbed part's panels, by the rules of each edge.
//!
//! Where two edges lap, one of them lies on top (approved covering manual pp. 15, 18 to 23):
//!
//! - leading edge: each panel reaches half of the lap past the middle of the nose;
//! - trailing edge: the bottom is turned up round the edge and holds the whole lap, the top is laid over it to the edge;
//! - butt, and a tip without a bow: the bottom covers the whole face of the rib, the top is turned down by the lap;
//! - tip bow: both are turned round it, each by the lap.
//!
//! A sewn seam needs its margin on each side instead. Along a recess cloth is folded down inside (pp. 20, 21).

use super::shape::{Border, Face};
use crate::covering::desk::Desk;
use crate::covering::place_figures::PlaceFigures;
use crate::covering::rules::RuleUsed;
use crate::covering::{EdgeFigures, Figure};
use crate::job::{Location, Part, RibbedPart, RuleFigure, Surface};
use crate::shape::Side;

/// Where the shares of a lap come from.
const SHARES: &str = "manual pp. 18-23";

/// The figures of the rules round a part.
pub(super) struct Edges<'w> {
    wing: &'w RibbedPart,
    leading_edge: PlaceFigures,
    trailing_edge: PlaceFigures,
    butt: PlaceFigures,
    tip: PlaceFigures,
    /// Only where there is a recess.
    recess: Option<Fold>,
}

/// The figures along the edges of a recess.
struct Fold {
    fold: RuleUsed,
    handling: RuleUsed,
}

impl<'w> Edges<'w> {
    /// The figures of every edge, or a fault for each that the rules do not have.
    pub fn new(desk: &mut Desk, part: &Part, wing: &'w RibbedPart) -> Option<Self> {
        let [leading_edge, trailing_edge, butt, tip] =
            [Location::WingLeadingEdge, Location::WingTrailingEdge, Location::WingButt, Location::WingTip]
                .map(|location| PlaceFigures::ask(desk, place(wing.surface, location), &part.at));
        let recess = if wing.recesses.is_empty() { Some(None) } else { Fold::new(desk, part).map(Some) };
        Some(Self {
            wing,
            leading_edge: leading_edge?,
            trailing_edge: trailing_edge?,
            butt: butt?,
            tip: tip?,
            recess: recess?,
        })
    }

    /// The lap, or margin, at the leading edge.
    pub fn leading_edge_joint(&self) -> &RuleUsed {
        &self.leading_edge.joint
    }

    /// What is added along an edge.
    pub fn edge(&self, border: Border) -> EdgeFigures {
        match self.at(border) {
            Some(at) => {
                EdgeFigures { wrap: self.wrap(border), lap: self.share(border, &at.joint), handling: at.handling.used }
            }
            None => self.recess.as_ref().map_or(EdgeFigures::default(), |recess| EdgeFigures {
                wrap: recess.fold.used,
                lap: 0.0,
                handling: recess.handling.used,
            }),
        }
    }

    /// Every figure that a panel has along its edges.
    pub fn figures(&self, face: Face) -> Vec<Figure> {
        let side = |border: fn(Side) -> Border| match face {
            Face::Top => vec![border(Side::Top)],
            Face::Bottom => vec![border(Side::Bottom)],
            Face::Whole => vec![border(Side::Top), border(Side::Bottom)],
        };
        let leading_edge = if face == Face::Whole { vec![] } else { vec![Border::LeadingEdge] };
        let borders =
            [leading_edge, side(Border::TrailingEdge), side(Border::Butt), side(Border::Tip)].into_iter().flatten();
        let mut figures: Vec<Figure> = Vec::new();
        for figure in borders.flat_map(|border| self.figures_of(border, face)) {
            // The handling of an edge is the same on top and bottom.
            if !figures.contains(&figure) {
                figures.push(figure);
            }
        }
        figures.extend(self.recess.iter().flat_map(Fold::figures));
        figures
    }

    fn figures_of(&self, border: Border, face: Face) -> Vec<Figure> {
        let Some(at) = self.at(border) else { return Vec::new() };
        let where_to = words(border, face);
        let EdgeFigures { wrap, lap, handling } = self.edge(border);
        let wrap = (wrap > 0.0).then(|| Figure {
            what: format!("wrap at the {where_to}"),
            value: wrap,
            source: match border {
                Border::TrailingEdge(_) => "thickness of the trailing edge".to_owned(),
                _ => "depth of the rib, whose whole face the bottom covers: manual pp. 21, 23".to_owned(),
            },
        });
        let joint = &at.joint;
        let source = joint.source_in_words();
        let (name, source) = match joint.figure {
            RuleFigure::Margin => ("margin of the sewn seam", source),
            _ if lap < joint.used => ("share of the lap", format!("{source}; {SHARES}")),
            _ => ("lap", source),
        };
        let lap = Figure { what: format!("{name} at the {where_to}"), value: lap, source };
        let handling = Figure {
            what: format!("handling at the {}", words_of_edge(border)),
            value: handling,
            source: at.handling.source_in_words(),
        };
        wrap.into_iter().chain([lap, handling]).collect()
    }

    /// The lapped edges; round a recess nothing is lapped.
    fn at(&self, border: Border) -> Option<&PlaceFigures> {
        match border {
            Border::LeadingEdge => Some(&self.leading_edge),
            Border::TrailingEdge(_) => Some(&self.trailing_edge),
            Border::Butt(_) => Some(&self.butt),
            Border::Tip(_) => Some(&self.tip),
            Border::Recess(_) => None,
        }
    }

    /// Cloth that follows a face across the surface.
    fn wrap(&self, border: Border) -> f64 {
        let section = &self.wing.section;
        let chords = &self.wing.planform;
        let depth =
            |chord: Option<&crate::shape::Chord>| chord.map_or(0.0, |chord| chord.length) * section.greatest_depth();
        match border {
            Border::TrailingEdge(Side::Bottom) => {
                let longest = chords.iter().map(|chord| chord.length).fold(0.0, f64::max);
                section.trailing_edge_thickness() * longest
            }
            Border::Butt(Side::Bottom) => depth(chords.first()),
            Border::Tip(Side::Bottom) if self.wing.tip_bow.is_none() => depth(chords.last()),
            _ => 0.0,
        }
    }

    /// What an edge has of the lap.
    fn share(&self, border: Border, joint: &RuleUsed) -> f64 {
        if joint.figure == RuleFigure::Margin {
            return joint.used;
        }
        match border {
            Border::LeadingEdge => joint.used / 2.0,
            Border::TrailingEdge(Side::Top) | Border::Butt(Side::Bottom) => 0.0,
            Border::Tip(Side::Bottom) if self.wing.tip_bow.is_none() => 0.0,
            _ => joint.used,
        }
    }
}

impl Fold {
    fn new(desk: &mut Desk, part: &Part) -> Option<Self> {
        let fold = desk.figure(RuleFigure::Fold, Location::Recess, &part.at);
        let handling = desk.figure(RuleFigure::Handling, Location::Recess, &part.at);
        Some(Self { fold: fold?, handling: handling? })
    }

    fn figures(&self) -> [Figure; 2] {
        [
            ("fold down inside the recess, with a cut at 45° in its inside corners", &self.fold),
            ("handling at the recess", &self.handling),
        ]
        .map(|(what, used)| Figure { what: what.to_owned(), value: used.used, source: used.source_in_words() })
    }
}

/// Where in the rules an edge is: a wing's edges each have their own figures, those of other surfaces all have one.
pub(super) fn place(surface: Surface, of_wing: Location) -> Location {
    match surface {
        Surface::Wing => of_wing,
        Surface::ControlSurface => Location::ControlSurface,
        Surface::Empennage => Location::Empennage,
        Surface::Fuselage => Location::Fuselage,
    }
}

fn words_of_edge(border: Border) -> &'static str {
    match border {
        Border::LeadingEdge => "leading edge",
        Border::TrailingEdge(_) => "trailing edge",
        Border::Butt(_) => "butt",
        Border::Tip(_) => "tip",
        Border::Recess(_) => "recess",
    }
}

/// What an edge is called; where a panel has it twice, with its side.
pub(super) fn words(border: Border, face: Face) -> String {
    let edge = words_of_edge(border);
    match border {
        Border::TrailingEdge(side) | Border::Butt(side) | Border::Tip(side) if face == Face::Whole => {
            format!("{edge}, {}", if side == Side::Top { "top" } else { "bottom" })
        }
        _ => edge.to_owned(),
    }
}
