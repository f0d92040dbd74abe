//! Several cloths: which is filled first, what goes on each, and what finds no place.
//!
//! Cloth from the shelf costs nothing and is filled before a roll is cut; a roll of which there is enough comes last and
//! is made as short as may be, so that what is left of it stays in one clean piece.

use std::collections::BTreeSet;

use geo::{Area, BooleanOps, unary_union};
use geo_types::{Coord, MultiPolygon, Rect};

use super::all_boxes;
use super::first::{Grid, best_fill};
use super::insert::Filled;
use super::large_first::tighten_large_first;
use super::meter::{Meter, Span};
use super::shapes::{Shapes, longest_side};
use super::strip::{Arrangement, Strip};
use super::task::{Cloth, ClothLay, Ending, Lay, Placed, Task, TaskFault, Unplaced};
use crate::shape::Outline;

/// Share of a cloth that pieces can be hoped to cover, for sharing out the budget.
const HOPED_DENSITY: f64 = 0.85;

/// Share of the budget, where all pieces are boxes, for the searches that only boxes have.
const FOR_BOXES: f64 = 0.9;

/// Least share of the budget that a cloth gets.
const LEAST_SHARE: f64 = 0.01;

/// How far what is no cloth reaches beyond the box round an outline, in millimetres, at most: far enough that the way out of it
/// leads onto the cloth and not round the outside, and no farther, since the grid of shapes is the coarser the longer they are.
const WIDEST_MARGIN: f64 = 20_000.0;

/// One cloth of the stock.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Stock {
    cloth: usize,
    number: u32,
}

/// Lays all pieces of a sound task.
///
/// # Errors
/// [`TaskFault::Growth`] for a piece that cannot keep the gap.
pub fn lay_on_all(task: &Task, meter: &mut Meter, seed: u64) -> Result<Lay, TaskFault> {
    let task = &Task { cloths: task.cloths.iter().map(within_region).collect(), ..task.clone() };
    let ground: Vec<Vec<Outline>> = task.cloths.iter().map(no_go).collect();
    let may_flip = task.cloths.iter().any(|cloth| cloth.faces_alike);
    let shapes = Shapes::new(&task.pieces, &ground.concat(), may_flip, task.gap)?;
    let room = task.cloths.iter().zip(&ground).map(|(cloth, no_go)| room_on(cloth, no_go)).collect();
    let copies = vec![0; task.pieces.len()];
    let mut laying = Laying { task, shapes: &shapes, room, order: in_filling_order(task), copies, cloths: Vec::new() };
    let mut waiting: Vec<usize> =
        task.pieces.iter().enumerate().flat_map(|(k, p)| std::iter::repeat_n(k, p.quantity as usize)).collect();
    let mut obstacles = Vec::new();
    let mut next = task.pieces.len();
    for outlines in &ground {
        obstacles.push(next..next + outlines.len());
        next += outlines.len();
    }
    for stock in laying.order.clone() {
        if waiting.is_empty() {
            break;
        }
        let span = laying.share_of_budget(stock, &waiting, meter);
        waiting = laying.lay_on(stock, waiting, obstacles[stock.cloth].clone(), seed, span, meter);
    }
    Ok(laying.finish(waiting, meter))
}

/// The stock in the order of filling: least price for the usable area first, then the smaller cloth.
fn in_filling_order(task: &Task) -> Vec<Stock> {
    let width = |cloth: usize| task.cloths[cloth].usable[1] - task.cloths[cloth].usable[0];
    let length = |cloth: usize| task.cloths[cloth].length.unwrap_or(f64::INFINITY);
    let mut cloths: Vec<usize> = (0..task.cloths.len()).collect();
    cloths.sort_by(|&a, &b| {
        let price = |cloth: usize| task.cloths[cloth].price / width(cloth);
        price(a).total_cmp(&price(b)).then((length(a) * width(a)).total_cmp(&(length(b) * width(b)))).then(a.cmp(&b))
    });
    cloths
        .into_iter()
        .flat_map(|cloth| {
            // One cloth without an end is as good as many.
            let count = if task.cloths[cloth].length.is_none() { 1 } else { task.cloths[cloth].count };
            (1..=count).map(move |number| Stock { cloth, number })
        })
        .collect()
}

/// The cloth cut down to the box round its outline, so that nothing can lie beside that.
fn within_region(cloth: &Cloth) -> Cloth {
    let Some(region) = &cloth.region else { return cloth.clone() };
    let bounds = region.bounds();
    let usable = [cloth.usable[0].max(bounds.min().y), cloth.usable[1].min(bounds.max().y)];
    let length = cloth.length.map_or(bounds.max().x, |length| length.min(bounds.max().x));
    Cloth { usable, length: Some(length), ..cloth.clone() }
}

/// Where on a cloth nothing may lie: its flaws, and what its own outline leaves of the rectangle round it.
fn no_go(cloth: &Cloth) -> Vec<Outline> {
    let mut areas = cloth.flaws.clone();
    if let Some(region) = &cloth.region {
        let bounds = region.bounds();
        let margin = longest_side(region).min(WIDEST_MARGIN);
        // The outline may begin beyond the start of the cloth.
        let frame = Rect::new(
            Coord { x: bounds.min().x.min(0.0) - margin, y: bounds.min().y - margin },
            Coord { x: bounds.max().x + margin, y: bounds.max().y + margin },
        );
        let outside = frame.to_polygon().difference(region.polygon());
        areas.extend(outside.0.into_iter().map(Outline::trusted));
    }
    areas
}

/// The area of a cloth on which pieces may lie, in square millimetres; without end where the cloth has none.
fn room_on(cloth: &Cloth, no_go: &[Outline]) -> f64 {
    let Some(length) = cloth.length else { return f64::INFINITY };
    let [low, high] = cloth.usable;
    let rectangle = Rect::new(Coord { x: 0.0, y: low }, Coord { x: length, y: high }).to_polygon();
    let barred = unary_union(no_go.iter().map(Outline::polygon));
    MultiPolygon::from(rectangle).difference(&barred).unsigned_area()
}

/// The work in hand.
struct Laying<'a> {
    task: &'a Task,
    shapes: &'a Shapes,
    /// The area of each cloth on which pieces may lie.
    room: Vec<f64>,
    /// All cloths as they are filled.
    order: Vec<Stock>,
    copies: Vec<u32>,
    cloths: Vec<ClothLay>,
}

impl Laying<'_> {
    /// A cloth with an end gets a share of the budget by its area, one without gets all that is left.
    fn share_of_budget(&self, stock: Stock, waiting: &[usize], meter: &Meter) -> Span {
        let from = meter.spent().min(1.0);
        let area: f64 = waiting.iter().map(|&piece| self.task.pieces[piece].outline.area()).sum();
        let hoped = self.room[stock.cloth] * HOPED_DENSITY;
        Span { from, to: from + (1.0 - from) * (hoped / area).clamp(LEAST_SHARE, 1.0) }
    }

    /// Lays what it can on one cloth and tells what still waits.
    fn lay_on(
        &mut self,
        stock: Stock,
        waiting: Vec<usize>,
        obstacles: std::ops::Range<usize>,
        seed: u64,
        span: Span,
        meter: &mut Meter,
    ) -> Vec<usize> {
        let cloth = &self.task.cloths[stock.cloth];
        let everything = Strip::new(self.shapes, Vec::new(), cloth.usable, obstacles, cloth.faces_alike);
        let (suited, mut rest): (Vec<usize>, Vec<usize>) =
            waiting.into_iter().partition(|&piece| self.suits(piece, stock.cloth));
        if suited.is_empty() {
            return rest;
        }
        let (mut own, mut own_on_cloth) = (None, None);
        let strip = everything.with_items(suited).on_own_shapes(&mut own);
        let grid = Grid::suited(&strip, self.task.gap);
        let mut filled = Filled::of(&strip, best_fill(&strip, cloth.length, grid, meter));
        if let (Some(length), false) = (cloth.length, filled.left.is_empty()) {
            let last_chance = self.last_chance(&strip.items, stock);
            filled = filled.filled_up(&strip, [length, self.room[stock.cloth]], &last_chance, seed, span, meter);
        }
        let on_cloth = strip.with_items(filled.items);
        let mut arrangement = filled.arrangement;
        let end = on_cloth.length_of(&arrangement);
        meter.report(end, on_cloth.density(&arrangement));
        // Only shorter lays are kept, and they end before these obstacles.
        let on_cloth = on_cloth.with_obstacles_between(f64::NEG_INFINITY, end).on_own_shapes(&mut own_on_cloth);
        if filled.left.is_empty() && !arrangement.is_empty() {
            arrangement = self.tightened(&on_cloth, arrangement, grid, seed, span, meter);
        }
        if !arrangement.is_empty() {
            self.note(stock, &on_cloth, &arrangement);
        }
        rest.extend(filled.left);
        rest.sort_unstable();
        rest
    }

    /// Whether a piece may be cut from a cloth and fits on it, if nothing else lies there.
    fn suits(&self, piece: usize, cloth: usize) -> bool {
        let allowed = self.task.pieces[piece].cloths.as_ref().is_none_or(|cloths| cloths.contains(&cloth));
        allowed && self.empty(cloth).fits(piece, self.task.cloths[cloth].length)
    }

    /// A cloth with nothing on it and without flaws.
    fn empty(&self, cloth: usize) -> Strip<'_> {
        let cloth = &self.task.cloths[cloth];
        Strip::new(self.shapes, Vec::new(), cloth.usable, 0..0, cloth.faces_alike)
    }

    /// Which of some pieces suit no cloth that is filled after one.
    fn last_chance(&self, pieces: &[usize], stock: Stock) -> BTreeSet<usize> {
        let later: BTreeSet<usize> =
            self.order.iter().skip_while(|other| **other != stock).skip(1).map(|later| later.cloth).collect();
        let pieces: BTreeSet<usize> = pieces.iter().copied().collect();
        pieces.into_iter().filter(|&piece| !later.iter().any(|&cloth| self.suits(piece, cloth))).collect()
    }

    /// Makes a lay of everything shorter.
    fn tightened(
        &self,
        strip: &Strip,
        first: Arrangement,
        grid: Grid,
        seed: u64,
        span: Span,
        meter: &mut Meter,
    ) -> Arrangement {
        match all_boxes::shortened(strip, &first, self.task.gap, seed, span.part(0.0, FOR_BOXES), meter) {
            Some(boxes) if boxes.is_shortest => boxes.arrangement,
            Some(boxes) => tighten_large_first(strip, boxes.arrangement, grid, seed, span.part(FOR_BOXES, 1.0), meter),
            None => tighten_large_first(strip, first, grid, seed, span, meter),
        }
    }

    fn note(&mut self, stock: Stock, strip: &Strip, arrangement: &Arrangement) {
        let placed = arrangement.iter().enumerate().map(|(item, lying)| {
            let piece = strip.items[item];
            self.copies[piece] += 1;
            Placed { piece, copy: self.copies[piece], pose: strip.pose(item, lying) }
        });
        let mut placed: Vec<Placed> = placed.collect();
        // What was laid on the cloth late came last.
        placed.sort_by_key(|placed| (placed.piece, placed.copy));
        let length_used = strip.length_of(arrangement);
        self.cloths.push(ClothLay { cloth: stock.cloth, number: stock.number, placed, length_used });
    }

    fn finish(mut self, waiting: Vec<usize>, meter: &Meter) -> Lay {
        let unplaced = waiting
            .into_iter()
            .map(|piece| {
                self.copies[piece] += 1;
                Unplaced { piece, copy: self.copies[piece], why: self.why(piece, meter.interrupted()) }
            })
            .collect();
        let ending = meter.ended().unwrap_or(Ending::EffortSpent);
        Lay { cloths: self.cloths, unplaced, ending, trials: meter.trials() }
    }

    /// Why a piece found no place, in words.
    fn why(&self, piece: usize, interrupted: bool) -> String {
        let allowed =
            |cloth: &usize| self.task.pieces[piece].cloths.as_ref().is_none_or(|cloths| cloths.contains(cloth));
        let cloths: Vec<usize> = (0..self.task.cloths.len()).filter(allowed).collect();
        if cloths.is_empty() {
            return "no cloth is given that it may be cut from".to_owned();
        }
        let excess = |cloth: usize| {
            let (strip, length) = (self.empty(cloth), self.task.cloths[cloth].length);
            (!strip.fits(piece, length)).then(|| strip.excess(piece, length))
        };
        let too_large: Option<Vec<f64>> = cloths.into_iter().map(excess).collect();
        if let Some(too_large) = too_large {
            let least = too_large.into_iter().fold(f64::INFINITY, f64::min);
            format!(
                "it is {least:.1} mm too large for every cloth that it may be cut from, at every turn that was tried"
            )
        } else if interrupted {
            "the search was interrupted before room was found for it".to_owned()
        } else {
            "no room was left on the cloth that it may be cut from".to_owned()
        }
    }
}
