//! Few templates for many patches: wanted sizes rounded up to a small set, with the least extra cloth.
//!
//! Dozens of patches that differ by millimetres want dozens of templates. Cut a little larger, many share one. Circles and
//! rectangles have templates of their own; a rectangle may be turned by a quarter.

use std::f64::consts::PI;

use super::circles::Circles;
use super::rectangles::{Grouping, Wanted, group};

/// The share of extra cloth up to which sizes are joined where the person says nothing: a tenth. Patches are cut from the
/// gaps between large panels, where a little more costs next to nothing. Common practice, no source.
pub const SPARE_SHARE: f64 = 0.1;

/// A shape of patch, in millimetres.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum WantedShape {
    /// A rectangle: its sides.
    Rect([f64; 2]),
    /// A circle: its diameter.
    Circle(f64),
}

/// A patch that is wanted.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WantedPatch {
    /// Its least size.
    pub shape: WantedShape,
    /// How many.
    pub quantity: u32,
}

/// How many sizes there may be.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum SizeCount {
    /// This many at most; where there are circles and rectangles, at least one of each.
    AtMost(usize),
    /// As few as keep the extra cloth within a share of the wanted area, such as [`SPARE_SHARE`].
    Fewest {
        /// The share, 0.1 for a tenth.
        spare: f64,
    },
}

/// A size that is cut.
#[derive(Clone, Debug, PartialEq)]
pub struct PatchSize {
    /// The template; the longer side of a rectangle comes first.
    pub shape: WantedShape,
    /// How many are cut.
    pub quantity: u32,
    /// Which of the wanted patches it serves, by their places in the list.
    pub serves: Vec<usize>,
}

/// The sizes to cut. Areas in square millimetres.
#[derive(Clone, Debug, PartialEq)]
pub struct PatchSizes {
    /// The sizes: circles from the smallest on, then rectangles from the longest on.
    pub sizes: Vec<PatchSize>,
    /// How many fewer templates there are than sizes wanted.
    pub templates_saved: usize,
    /// Area of all patches as wanted.
    pub wanted: f64,
    /// Cloth that they take more.
    pub extra: f64,
    /// Whether no other choice of as many sizes takes less; untrue only where the search had to be cut short.
    pub proven: bool,
}

/// Rounds wanted patches up to few sizes, with the least extra cloth for their number.
///
/// Circles by dynamic programming over their diameters, rectangles by branch and bound.
pub fn patch_sizes(wanted: &[WantedPatch], count: SizeCount) -> PatchSizes {
    let circles = Circles::new(wanted);
    let mut rectangles = Rectangles::new(wanted);
    let kinds = circles.sizes.len() + rectangles.sizes.len();
    let area = wanted.iter().map(|patch| area_of(patch.shape) * f64::from(patch.quantity)).sum();
    let fewest = usize::from(!circles.sizes.is_empty()) + usize::from(!rectangles.sizes.is_empty());
    let choice = match count {
        SizeCount::AtMost(most) => split(&circles, &mut rectangles, most.clamp(fewest, kinds.max(fewest))),
        SizeCount::Fewest { spare } => {
            let within = |cloth: f64| cloth - area <= spare * area * (1.0 + 1e-12);
            let mut choice = split(&circles, &mut rectangles, fewest);
            for number in fewest + 1..=kinds {
                if within(choice.cloth) {
                    break;
                }
                choice = split(&circles, &mut rectangles, number);
            }
            choice
        }
    };
    let (of_rectangles, proven) = rectangles.sizes_of(choice.rectangles);
    let sizes: Vec<PatchSize> = circles.sizes_of(choice.circles).into_iter().chain(of_rectangles).collect();
    PatchSizes {
        templates_saved: kinds - sizes.len(),
        wanted: area,
        extra: (choice.cloth - area).max(0.0),
        proven,
        sizes,
    }
}

/// Gives each wanted patch the smallest of some sizes that covers it; one that none covers keeps its own size.
pub fn given_sizes(wanted: &[WantedPatch], given: &[WantedShape]) -> PatchSizes {
    let mut sizes: Vec<PatchSize> = Vec::new();
    for (index, patch) in wanted.iter().enumerate() {
        let covering = given.iter().copied().filter(|size| covers(*size, patch.shape));
        let smallest = covering.min_by(|one, other| area_of(*one).total_cmp(&area_of(*other)));
        let shape = long_side_first(smallest.unwrap_or(patch.shape));
        match sizes.iter_mut().find(|size| size.shape == shape) {
            Some(size) => {
                size.quantity += patch.quantity;
                size.serves.push(index);
            }
            None => sizes.push(PatchSize { shape, quantity: patch.quantity, serves: vec![index] }),
        }
    }
    let mut kinds: Vec<WantedShape> = Vec::new();
    for shape in wanted.iter().map(|patch| long_side_first(patch.shape)) {
        if !kinds.contains(&shape) {
            kinds.push(shape);
        }
    }
    let wanted = wanted.iter().map(|patch| area_of(patch.shape) * f64::from(patch.quantity)).sum();
    let cut: f64 = sizes.iter().map(|size| area_of(size.shape) * f64::from(size.quantity)).sum();
    PatchSizes {
        templates_saved: kinds.len().saturating_sub(sizes.len()),
        wanted,
        extra: cut - wanted,
        proven: true,
        sizes,
    }
}

/// Whether a patch of one size covers what another has to.
pub(in crate::covering) fn covers(size: WantedShape, wanted: WantedShape) -> bool {
    match (long_side_first(size), long_side_first(wanted)) {
        (WantedShape::Rect([length, width]), WantedShape::Rect([long, wide])) => length >= long && width >= wide,
        (WantedShape::Circle(diameter), WantedShape::Circle(least)) => diameter >= least,
        _ => false,
    }
}

fn long_side_first(shape: WantedShape) -> WantedShape {
    match shape {
        WantedShape::Rect([a, b]) => WantedShape::Rect([a.max(b), a.min(b)]),
        round => round,
    }
}

/// How many sizes the circles have and how many the rectangles, and the cloth that all take.
struct Choice {
    circles: usize,
    rectangles: usize,
    cloth: f64,
}

/// The best way to share a number of sizes between circles and rectangles.
fn split(circles: &Circles, rectangles: &mut Rectangles, number: usize) -> Choice {
    let (few, many) = (usize::from(!circles.sizes.is_empty()), circles.sizes.len());
    let mut best = Choice { circles: 0, rectangles: 0, cloth: f64::INFINITY };
    for round in few..=many.min(number) {
        let others = (number - round).min(rectangles.sizes.len());
        if others == 0 && !rectangles.sizes.is_empty() {
            continue;
        }
        let cloth = circles.cloth(round) + rectangles.cloth(others);
        if cloth < best.cloth {
            best = Choice { circles: round, rectangles: others, cloth };
        }
    }
    best
}

pub(super) fn area_of(shape: WantedShape) -> f64 {
    match shape {
        WantedShape::Rect([length, width]) => length * width,
        WantedShape::Circle(diameter) => PI / 4.0 * diameter * diameter,
    }
}

/// The rectangles with their groupings, worked out when they are asked for.
struct Rectangles {
    sizes: Vec<Wanted>,
    serves: Vec<Vec<usize>>,
    groupings: Vec<Option<Grouping>>,
}

impl Rectangles {
    fn new(wanted: &[WantedPatch]) -> Self {
        let (mut sizes, mut serves): (Vec<Wanted>, Vec<Vec<usize>>) = (Vec::new(), Vec::new());
        for (index, patch) in wanted.iter().enumerate() {
            let WantedShape::Rect([a, b]) = patch.shape else { continue };
            let (length, width, count) = (a.max(b), a.min(b), f64::from(patch.quantity));
            match sizes.iter().position(|size| (size.length, size.width) == (length, width)) {
                Some(same) => {
                    sizes[same].count += count;
                    serves[same].push(index);
                }
                None => {
                    sizes.push(Wanted { length, width, count });
                    serves.push(vec![index]);
                }
            }
        }
        let groupings = vec![None; sizes.len() + 1];
        Self { sizes, serves, groupings }
    }

    fn grouping(&mut self, number: usize) -> Grouping {
        self.groupings[number].get_or_insert_with(|| group(&self.sizes, number)).clone()
    }

    fn cloth(&mut self, number: usize) -> f64 {
        self.grouping(number).cloth
    }

    fn sizes_of(&mut self, number: usize) -> (Vec<PatchSize>, bool) {
        let Grouping { group_of, proven, .. } = self.grouping(number);
        let size = |group: usize| {
            let members: Vec<usize> = (0..self.sizes.len()).filter(|index| group_of[*index] == group).collect();
            let most = |of: fn(&Wanted) -> f64| members.iter().map(|index| of(&self.sizes[*index])).fold(0.0, f64::max);
            let mut serves: Vec<usize> = members.iter().flat_map(|index| self.serves[*index].clone()).collect();
            serves.sort_unstable();
            PatchSize {
                shape: WantedShape::Rect([most(|size| size.length), most(|size| size.width)]),
                quantity: members.iter().map(|index| self.sizes[*index].count as u32).sum(),
                serves,
            }
        };
        let groups = group_of.iter().max().map_or(0, |last| last + 1);
        ((0..groups).map(size).collect(), proven)
    }
}
