//! Small templates laid together on sheets by the engine that lays cloth. Paper has no grain, so they are turned freely.

use std::collections::BTreeMap;

use geo::{BoundingRect, MapCoords};
use geo_types::Coord;
use rayon::iter::{IntoParallelRefIterator, ParallelIterator};

use super::carried_on;
use super::sheet::Layout;
use crate::nest::{Budget, Cloth, Piece, Task, TaskFault, Turns, lay};
use crate::plan::Template;
use crate::shape::{Outline, Pose};

/// Free paper between two templates, in millimetres: enough for scissors.
const BETWEEN: f64 = 2.0;
/// Templates that are laid in one go: laying takes much more than twice as long for twice as many.
const AT_ONCE: usize = 32;
/// Templates up to which every turn that the engine knows is tried, and the free room of other sheets; beyond, a few turns
/// and empty sheets have to do.
const FREELY: usize = 64;
/// What a template must be smaller than the drawing of a sheet, in millimetres.
const HAIR: f64 = 0.5;
/// Least share of a sheet's drawing that must be free for other templates to be tried there, and on how many sheets.
const ROOMY: f64 = 0.35;
const ROOMY_SHEETS: usize = 12;
/// Shares of an empty sheet and of other free room that templates can be hoped to take.
const HOPED_DENSITY: f64 = 0.74;
const HOPED_SHARE: f64 = 0.5;

/// A sheet with small templates.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct SmallSheet {
    /// Which templates lie on it, by their places in the list, and where on the page.
    pub placed: Vec<(usize, Pose)>,
    /// How far down the sheet they reach, in millimetres.
    pub height: f64,
}

/// Small templates on their sheets.
#[derive(Debug, Default)]
pub(super) struct Laid {
    /// What lies in the free room of sheets that are printed anyway, by their places in the list of those.
    pub guests: BTreeMap<usize, SmallSheet>,
    /// The sheets that are printed for small templates alone.
    pub sheets: Vec<SmallSheet>,
}

/// The turn, of those that are tried, at which a template lies within the drawing of a sheet, with a hair to spare.
pub(super) fn fitting_turn(template: &Template, layout: &Layout) -> Option<f64> {
    let hull = template.cut.convex_hull();
    let room = [layout.drawing.width(), layout.drawing.height()].map(|side| side - HAIR);
    // Half a turn changes nothing.
    [0.0, 90.0, 45.0, 135.0].into_iter().find(|turn| {
        let turned = Pose { turn: *turn, ..Pose::unmoved() };
        let bounds = hull.map_coords(|point| turned.apply(point)).bounding_rect();
        bounds.is_some_and(|bounds| bounds.width() <= room[0] && bounds.height() <= room[1])
    })
}

/// Lays some of the templates together on as few sheets as it can, the free room of sheets that are printed anyway
/// among them; `taken` is what no template may lie on there, in page coordinates.
///
/// # Errors
/// [`TaskFault`] where a template cannot keep its distance.
pub(super) fn lay_small(
    templates: &[Template],
    mut some: Vec<usize>,
    taken: &[Vec<Outline>],
    layout: &Layout,
) -> Result<Laid, TaskFault> {
    // Every heap has its share of large and of small ones, and of the sheets that are printed anyway.
    some.sort_by(|one, other| templates[*other].cut.area().total_cmp(&templates[*one].cut.area()).then(one.cmp(other)));
    // With many templates, what that saves is little, and trying it takes long.
    let roomy = if some.len() <= FREELY { roomy(taken, layout) } else { Vec::new() };
    let count = some.len().div_ceil(AT_ONCE).max(1);
    let paper = Paper { templates, taken, layout, turns: turns(some.len()) };
    let heaps: Vec<usize> = (0..count).collect();
    let share = |all: &[usize], heap: usize| all.iter().copied().skip(heap).step_by(count).collect::<Vec<usize>>();
    let answers: Vec<Laid> = heaps
        .par_iter()
        .map(|heap| paper.lay_heap(&share(&some, *heap), &share(&roomy, *heap)))
        .collect::<Result<_, _>>()?;
    let (mut laid, mut again) = (Laid::default(), Vec::new());
    for mut answer in answers {
        if count > 1 {
            again.extend(answer.sheets.pop().into_iter().flat_map(|last| last.placed).map(|(index, _)| index));
        }
        laid.guests.extend(answer.guests);
        laid.sheets.extend(answer.sheets);
    }
    // What is on the last sheet of each heap is laid once more, all together.
    again.sort_unstable();
    for heap in again.chunks(AT_ONCE) {
        laid.sheets.extend(paper.lay_heap(heap, &[])?.sheets);
    }
    Ok(laid)
}

/// The sheets with the most free room, in their order.
fn roomy(taken: &[Vec<Outline>], layout: &Layout) -> Vec<usize> {
    let share = |sheet: usize| free_share(&taken[sheet], layout);
    let mut roomy: Vec<usize> = (0..taken.len()).filter(|sheet| share(*sheet) >= ROOMY).collect();
    roomy.sort_by(|one, other| share(*other).total_cmp(&share(*one)).then(one.cmp(other)));
    roomy.truncate(ROOMY_SHEETS);
    roomy.sort_unstable();
    roomy
}

/// The share of a sheet's drawing that is free.
fn free_share(taken: &[Outline], layout: &Layout) -> f64 {
    1.0 - taken.iter().map(Outline::area).sum::<f64>() / (layout.drawing.width() * layout.drawing.height())
}

/// The turns that are tried for so many templates.
fn turns(count: usize) -> Turns {
    if count <= FREELY {
        return Turns::Any;
    }
    Turns::These { angles: (0..8).map(|eighth| 45.0 * f64::from(eighth)).collect(), tilt: 0.0 }
}

/// Paper as cloth: x runs down the sheet, y across it.
struct Paper<'p> {
    templates: &'p [Template],
    taken: &'p [Vec<Outline>],
    layout: &'p Layout,
    turns: Turns,
}

impl Paper<'_> {
    /// Lays a heap of templates on some of the sheets that are printed anyway, and on as few others as it can.
    fn lay_heap(&self, heap: &[usize], printed: &[usize]) -> Result<Laid, TaskFault> {
        if printed.is_empty() {
            return Ok(self.lay_on(heap, printed, heap.len())?.0);
        }
        let hoped = self.hoped_for(heap, printed);
        let (laid, complete) = self.lay_on(heap, printed, hoped)?;
        let mut best = complete.then_some(laid);
        // Fewer while that goes; where not even the hoped ones do, more.
        for fewer in (0..hoped).rev().take_while(|_| complete) {
            match self.lay_on(heap, printed, fewer)? {
                (laid, true) => best = Some(laid),
                _ => break,
            }
        }
        let mut empty = hoped;
        loop {
            if let Some(best) = best {
                return Ok(best);
            }
            empty += 1;
            let (laid, complete) = self.lay_on(heap, printed, empty)?;
            best = (complete || empty >= heap.len()).then_some(laid);
        }
    }

    /// How many empty sheets a heap can be hoped to need beside the free room of others.
    fn hoped_for(&self, heap: &[usize], printed: &[usize]) -> usize {
        let free: f64 = printed.iter().map(|sheet| free_share(&self.taken[*sheet], self.layout)).sum();
        let area: f64 = heap.iter().map(|index| self.templates[*index].cut.area()).sum();
        let sheet = self.layout.drawing.width() * self.layout.drawing.height();
        (area / (HOPED_DENSITY * sheet) - HOPED_SHARE * free).max(0.0) as usize
    }

    /// Lays a heap on so many empty sheets, and what is left on some that are printed anyway; and whether that is all.
    fn lay_on(&self, heap: &[usize], printed: &[usize], empty: usize) -> Result<(Laid, bool), TaskFault> {
        if heap.is_empty() {
            return Ok((Laid::default(), true));
        }
        // What has a price is filled last.
        let mut cloths: Vec<Cloth> = printed.iter().map(|sheet| self.cloth(&self.taken[*sheet], 1, 1.0)).collect();
        if empty > 0 {
            cloths.push(self.cloth(&[], empty as u32, 0.0));
        }
        let piece = |index: &usize| Piece {
            outline: self.templates[*index].cut.clone(),
            quantity: 1,
            turns: self.turns.clone(),
            flip: false,
            cloths: None,
        };
        let task = Task { cloths, pieces: heap.iter().map(piece).collect(), gap: BETWEEN };
        // The first lay is as good as any: paper is cheap, and a minute spent on it is not.
        let answer = lay(&task, &Budget { seed: 1, effort: 0, time: None }, &())?;
        let mut laid = Laid::default();
        for cloth in &answer.cloths {
            let placed = cloth.placed.iter().map(|placed| (heap[placed.piece], carried_on(&placed.pose, &self.page())));
            let sheet = SmallSheet { placed: placed.collect(), height: cloth.length_used };
            match printed.get(cloth.cloth) {
                Some(guest_of) => {
                    laid.guests.insert(*guest_of, sheet);
                }
                None => laid.sheets.push(sheet),
            }
        }
        let left: Vec<usize> = answer.unplaced.iter().map(|unplaced| heap[unplaced.piece]).collect();
        if empty >= heap.len() {
            laid.sheets.extend(left.iter().map(|index| self.alone(*index)));
        }
        Ok((laid, left.is_empty()))
    }

    /// A template on a sheet of its own: one that the engine found too tight.
    fn alone(&self, index: usize) -> SmallSheet {
        let template = &self.templates[index];
        let turned = Pose { turn: fitting_turn(template, self.layout).unwrap_or(0.0), ..Pose::unmoved() };
        let bounds = turned.apply_to(&template.cut).bounds();
        let drawing = self.layout.drawing;
        let corner = Coord { x: drawing.min().x - bounds.min().x, y: drawing.max().y - bounds.max().y };
        SmallSheet { placed: vec![(index, Pose { at: corner, ..turned })], height: bounds.height() }
    }

    /// A sheet as cloth; nothing may lie on what is taken, nor on the upright check length.
    fn cloth(&self, taken: &[Outline], count: u32, price: f64) -> Cloth {
        let corner = self.page().inverse_point(Coord { x: 0.0, y: 0.0 });
        let back = Pose { turn: 90.0, flipped: false, at: corner };
        let upright = Outline::new(self.layout.upright.to_polygon()).ok();
        let flaws = upright.iter().chain(taken).map(|taken| back.apply_to(taken)).collect();
        Cloth {
            usable: [0.0, self.layout.drawing.width()],
            length: Some(self.layout.drawing.height()),
            region: None,
            flaws,
            count,
            price,
            faces_alike: false,
        }
    }

    /// From the paper as cloth to the page.
    fn page(&self) -> Pose {
        let drawing = self.layout.drawing;
        Pose { turn: 270.0, flipped: false, at: Coord { x: drawing.min().x, y: drawing.max().y } }
    }
}
