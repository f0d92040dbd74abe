//! A template: the lines of a piece by what they are, and what is written on it.

use geo_types::Coord;

use crate::job::{Edge, Grain};
use crate::plan::{edge_words, grain_words, size};
use crate::shape::{Outline, Path, Pose};
use crate::units::Units;
use crate::wording::counted;

/// What a line of a template is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum LineKind {
    /// Where the cloth is cut; for a pinked edge, from tip to tip.
    Cut,
    /// What pinking shears leave.
    Teeth,
    /// A hole, which is cut when the cloth is on and shrunk: cut before, it would grow.
    CutAfterShrinking,
    /// The outline of what is covered.
    Finished,
    /// Where the wrap round the edge ends and cloth lies on cloth.
    Wrap,
    /// Where the lap ends: what is cut beyond it is to hold on to, and trimmed in place.
    Lap,
    /// A line about which the piece is the same on both sides.
    Centre,
    /// A member under the cloth.
    Member,
    /// A seam.
    Seam,
    /// The hinge line.
    Hinge,
}

/// A line of a template.
#[derive(Clone, Debug, PartialEq)]
pub struct TemplateLine {
    /// What it is.
    pub kind: LineKind,
    /// Where it runs.
    pub path: Path,
    /// What is written along it, such as the class of a member.
    pub word: Option<&'static str>,
}

/// A piece that is cut by a template.
#[derive(Clone, Debug, PartialEq)]
pub struct Use {
    /// Name of the piece.
    pub piece: String,
    /// Name of its part, where the piece is a panel.
    pub part: Option<String>,
    /// Where it goes.
    pub goes: Option<String>,
    /// How many are cut.
    pub copies: u32,
    /// Whether the template is turned over for it.
    pub turned_over: bool,
    /// The figures that it was made from.
    pub figures: Vec<String>,
}

/// A full-size template.
#[derive(Clone, Debug, PartialEq)]
pub struct Template {
    /// From 1; zero before it has one.
    pub number: usize,
    /// What is cut by it, the piece that gave it its lines first.
    pub uses: Vec<Use>,
    /// What is cut, as a polygon.
    pub cut: Outline,
    /// Its lines.
    pub lines: Vec<TemplateLine>,
    /// Length and width of the cut outline along and across the grain line, in millimetres.
    pub size: [f64; 2],
    /// How the edge is cut.
    pub edge: Edge,
    /// Which way the warp runs.
    pub grain: Grain,
    /// The direction of the piece's x axis, in degrees.
    pub grain_line: f64,
    /// What lies on its sides.
    pub bearings: Vec<Bearing>,
    /// Whether it is drawn as its own mirror image.
    pub mirrored: bool,
}

impl LineKind {
    /// Every kind, from the edge inwards.
    pub const ALL: [Self; 10] = [
        Self::Cut,
        Self::Teeth,
        Self::CutAfterShrinking,
        Self::Lap,
        Self::Wrap,
        Self::Finished,
        Self::Centre,
        Self::Member,
        Self::Seam,
        Self::Hinge,
    ];

    /// What the line is, in the words of the trade.
    pub fn words(self) -> &'static str {
        match self {
            Self::Cut => "cut line",
            Self::Teeth => "pinked edge",
            Self::CutAfterShrinking => "cut after shrinking",
            Self::Finished => "finished edge",
            Self::Wrap => "end of the wrap",
            Self::Lap => "end of the lap",
            Self::Centre => "centre line",
            Self::Member => "member",
            Self::Seam => "seam",
            Self::Hinge => "hinge line",
        }
    }
}

impl Template {
    /// Its number and its name, as it is headed everywhere.
    pub fn title(&self) -> String {
        format!("{}  {}", self.number, self.name())
    }

    /// The name of the piece that gave it its lines.
    pub fn name(&self) -> &str {
        self.uses.first().map_or("", |first| first.piece.as_str())
    }

    /// How many copies are cut by it in all.
    pub fn copies(&self) -> u32 {
        self.uses.iter().map(|one| one.copies).sum()
    }

    /// `cut 12`, `cut 4, 2 of them with the template turned over`.
    pub fn copies_words(&self) -> String {
        let over: u32 = self.uses.iter().filter(|one| one.turned_over).map(|one| one.copies).sum();
        match (self.copies(), over) {
            (all, 0) => format!("cut {all}"),
            (all, over) if all == over => format!("cut {all}, with the template turned over"),
            (all, over) => format!("cut {all}, {over} of them with the template turned over"),
        }
    }

    /// What is written on the template below its name: copies, size, edge, grain, where each piece goes.
    pub fn words(&self, units: Units) -> Vec<String> {
        let mut words = vec![self.copies_words()];
        if self.mirrored {
            words.push("drawn mirrored: its other face is the outside".to_owned());
        }
        if self.uses.len() > 1 {
            words.push(counted(self.uses.len(), "piece", "pieces") + " of this shape:");
            for one in &self.uses {
                let over = if one.turned_over { ", turned over" } else { "" };
                words.push(format!("{} × {}{over}", one.copies, one.piece));
            }
        }
        words.push(format!("{}, {}", size(self.size, units), edge_words(self.edge, units)));
        words.push(format!("grain {}", grain_words(self.grain)));
        let mut parts: Vec<&str> = self.uses.iter().filter_map(|one| one.part.as_deref()).collect();
        parts.dedup();
        words.extend(parts.iter().map(|part| format!("part: {part}")));
        words.extend(self.uses.iter().filter_map(|one| one.goes.clone()));
        words
    }

    /// The figures that its pieces were made from, none twice.
    pub fn figures(&self) -> Vec<&str> {
        let mut figures: Vec<&str> = Vec::new();
        for figure in self.uses.iter().flat_map(|one| &one.figures) {
            if !figures.contains(&figure.as_str()) {
                figures.push(figure);
            }
        }
        figures
    }

    /// Whether its cut line is a rectangle without holes.
    pub fn is_rectangle(&self) -> bool {
        let ring = self.cut.polygon().exterior();
        let square = |corner: &[Coord<f64>]| {
            let (one, other) = (corner[1] - corner[0], corner[2] - corner[1]);
            let sizes = libm::hypot(one.x, one.y) * libm::hypot(other.x, other.y);
            (one.x * other.x + one.y * other.y).abs() <= 1e-6 * sizes
        };
        self.cut.polygon().interiors().is_empty() && ring.0.len() == 5 && ring.0.windows(3).all(square)
    }

    /// The template carried to another place.
    pub fn carried(&self, pose: &Pose) -> Self {
        let line = |line: &TemplateLine| TemplateLine { path: line.path.carried(pose), ..line.clone() };
        Self {
            cut: pose.apply_to(&self.cut),
            lines: self.lines.iter().map(line).collect(),
            grain_line: carried(self.grain_line, pose),
            bearings: self.bearings.iter().map(|bearing| bearing.carried(pose)).collect(),
            mirrored: self.mirrored != pose.flipped,
            ..self.clone()
        }
    }

    /// The lower left and the upper right corner of all lines' box: that of the cut outline, which holds them all.
    pub fn corners(&self) -> [Coord<f64>; 2] {
        let bounds = self.cut.bounds();
        [bounds.min(), bounds.max()]
    }
}

/// Which way an edge of a template faces.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bearing {
    /// Degrees counter-clockwise from the x axis.
    pub degrees: f64,
    /// What lies that way, such as `forward` or `up`.
    pub towards: &'static str,
}

impl Bearing {
    /// The bearing of what is carried to another place.
    pub fn carried(&self, pose: &Pose) -> Self {
        Self { degrees: carried(self.degrees, pose), ..*self }
    }
}

/// A direction in degrees, turned over and turned as a pose does.
fn carried(degrees: f64, pose: &Pose) -> f64 {
    (if pose.flipped { -degrees } else { degrees } + pose.turn).rem_euclid(360.0)
}
