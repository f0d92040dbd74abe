//! Tags find places where none lies on another, near what they name, off the marks where that can be had.

use geo::Intersects;
use geo::{Distance, Euclidean};
use geo_types::{Coord, Line, LineString, Point, Rect};

use super::pen::Pen;
use crate::shape::sin_cos_degrees;

/// How far apart places round a point are tried, in millimetres of paper, and how many of them outwards.
const OUTWARDS: f64 = 2.0;
const STEPS: usize = 90;
const WAYS: usize = 24;
/// Free room round a tag, in millimetres of paper.
const APART: f64 = 0.7;
/// What places that hide something cost, in millimetres of paper that a tag would rather go to the side.
const ON_A_MARK: f64 = 80.0;
const ON_A_LEADER: f64 = 60.0;
const LEADER_OVER_A_MARK: f64 = 40.0;
/// The same for what can still be seen.
const ON_ANOTHER_BAND: f64 = 7.0;
const ON_A_LACE: f64 = 2.5;

/// What a tag belongs to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum TagLook {
    /// A corner that places are measured from.
    Flag,
    /// A patch, ring or drain.
    Mark,
    /// A tape.
    Tape,
}

/// A point that a tag may name.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Spot {
    /// Where it is on the sheet.
    pub at: Coord<f64>,
    /// Half the extent of what is there; `None` where the tag may stand on it.
    pub clear: Option<Coord<f64>>,
    /// How much worse it is than others, in millimetres of paper.
    pub worse: f64,
}

/// A tag without a place.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Wish {
    /// What stands on it.
    pub words: String,
    /// What it belongs to.
    pub look: TagLook,
    /// Half its width and half its height.
    pub half: Coord<f64>,
    /// What it may name.
    pub spots: Vec<Spot>,
    /// The band that it belongs to.
    pub band: Option<usize>,
    /// The mark that it belongs to.
    pub mark: Option<usize>,
}

/// A tag in its place.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Tag {
    /// What stands on it.
    pub words: String,
    /// What it belongs to.
    pub look: TagLook,
    /// Where it stands.
    pub area: Rect<f64>,
    /// The line to what it names, where it stands off it.
    pub leader: Option<Line<f64>>,
    /// Whether it or its leader hides a mark, or a leader crosses another or a tag.
    pub hides: bool,
}

/// What tags share the face with.
pub(super) struct Ground {
    /// The room of the face on the sheet.
    pub room: Rect<f64>,
    /// Marks that are better not hidden.
    pub marks: Vec<Rect<f64>>,
    /// The middles of tapes with half their widths.
    pub bands: Vec<(LineString<f64>, f64)>,
    /// Laces.
    pub laces: Vec<Coord<f64>>,
}

/// Places tags one after the other; one that finds no place at all stands on its spot.
pub(super) fn placed(wishes: Vec<Wish>, ground: &Ground, pen: Pen) -> Vec<Tag> {
    let mut tags: Vec<Tag> = Vec::new();
    for wish in wishes {
        let mut best: Option<(f64, Tag)> = None;
        for spot in &wish.spots {
            for place in candidates(&wish, *spot, pen) {
                let limit = best.as_ref().map_or(f64::INFINITY, |(cost, _)| *cost);
                // Places come with growing cost.
                if place.cost >= limit {
                    break;
                }
                let tag = tag(&wish, place.middle, place.leader);
                if !free(&tag, &tags, ground, pen) {
                    continue;
                }
                let hidden = hidden(&tag, &wish, &tags, ground);
                let cost = place.cost + hidden + covered(&tag, &wish, ground);
                if cost < limit {
                    best = Some((cost, Tag { words: wish.words.clone(), hides: hidden > 0.0, ..tag }));
                }
            }
        }
        let anywhere = || anywhere(&wish, &tags, ground, pen);
        let at_the_spot =
            || wish.spots.first().map(|spot| Tag { words: wish.words.clone(), ..tag(&wish, spot.at, None) });
        let found = best.map(|(_, tag)| tag).or_else(anywhere).or_else(at_the_spot);
        tags.extend(found);
    }
    tags
}

/// The free place in the room of the face that is nearest to the first spot, where a crowd leaves none round any of them.
fn anywhere(wish: &Wish, tags: &[Tag], ground: &Ground, pen: Pen) -> Option<Tag> {
    let spot = wish.spots.first()?;
    let step = pen.mm(OUTWARDS);
    let (low, high) = (ground.room.min(), ground.room.max());
    let count = |length: f64| (length / step) as usize;
    let places =
        (0..=count(high.y - low.y)).flat_map(|row| (0..=count(high.x - low.x)).map(move |column| (column, row)));
    let middles = places.map(|(column, row)| low + Coord { x: column as f64 * step, y: row as f64 * step });
    let crowded = |middle| Tag { hides: true, words: wish.words.clone(), ..tag(wish, middle, Some(spot.at)) };
    let all = middles.map(crowded).filter(|tag| free(tag, tags, ground, pen));
    let far = |tag: &Tag| Euclidean.distance(&Point(tag.area.center()), &Point(spot.at));
    all.min_by(|one, other| far(one).total_cmp(&far(other)))
}

/// A tag in a place, still without its words.
fn tag(wish: &Wish, middle: Coord<f64>, leader: Option<Coord<f64>>) -> Tag {
    let area = Rect::new(middle - wish.half, middle + wish.half);
    let leader = leader.map(|from| Line::new(from, nearest(&area, from)));
    Tag { words: String::new(), look: wish.look, area, leader, hides: false }
}

fn nearest(area: &Rect<f64>, to: Coord<f64>) -> Coord<f64> {
    Coord { x: to.x.clamp(area.min().x, area.max().x), y: to.y.clamp(area.min().y, area.max().y) }
}

/// A place for a tag, with what its distance costs.
struct Place {
    cost: f64,
    middle: Coord<f64>,
    /// Where the line to it begins, where it has one.
    leader: Option<Coord<f64>>,
}

/// The places for a tag at a spot, the nearest first.
fn candidates(wish: &Wish, spot: Spot, pen: Pen) -> impl Iterator<Item = Place> {
    let half = wish.half;
    let on_it = spot.clear.is_none().then_some(Place { cost: spot.worse, middle: spot.at, leader: None });
    // A tag that may stand on its band hardly needs a place beside it, but for the best of its spots.
    let steps = if spot.clear.is_none() && spot.worse > 1.0 { 0 } else { STEPS };
    let clear = spot.clear.unwrap_or(Coord { x: 0.0, y: 0.0 });
    let beside = move |step: usize, way: usize| {
        let (sin, cos) = sin_cos_degrees(360.0 * way as f64 / WAYS as f64);
        let reach = |half: Coord<f64>| (half.x / cos.abs()).min(half.y / sin.abs());
        let out = reach(clear + half) + pen.mm(APART + OUTWARDS * step as f64);
        let way = Coord { x: cos, y: sin };
        let from = spot.at + way * reach(clear).min(clear.x.hypot(clear.y));
        let leader = (step > 0 || spot.clear.is_none()).then_some(from);
        Place { cost: spot.worse + 1.0 + OUTWARDS * step as f64, middle: spot.at + way * out, leader }
    };
    let around = (0..steps).flat_map(move |step| (0..WAYS).map(move |way| (step, way)));
    on_it.into_iter().chain(around.map(move |(step, way)| beside(step, way)))
}

fn free(tag: &Tag, tags: &[Tag], ground: &Ground, pen: Pen) -> bool {
    let (min, max) = (tag.area.min(), tag.area.max());
    let room = (ground.room.min(), ground.room.max());
    let within = min.x >= room.0.x && min.y >= room.0.y && max.x <= room.1.x && max.y <= room.1.y;
    let margin = Coord { x: pen.mm(APART), y: pen.mm(APART) };
    let around = Rect::new(min - margin, max + margin);
    within && !tags.iter().any(|other| other.area.intersects(&around))
}

/// What a place costs for all that it hides.
fn hidden(tag: &Tag, wish: &Wish, tags: &[Tag], ground: &Ground) -> f64 {
    let marks = ground.marks.iter().enumerate();
    let others: Vec<&Rect<f64>> = marks.filter(|(index, _)| wish.mark != Some(*index)).map(|(_, mark)| mark).collect();
    let count = |test: &dyn Fn(&Rect<f64>) -> bool| others.iter().filter(|mark| test(mark)).count() as f64;
    let mut cost = ON_A_MARK * ground.marks.iter().filter(|mark| mark.intersects(&tag.area)).count() as f64;
    let leaders = tags.iter().filter_map(|other| other.leader);
    cost += ON_A_LEADER * leaders.clone().filter(|leader| tag.area.intersects(leader)).count() as f64;
    if let Some(leader) = tag.leader {
        cost += ON_A_LEADER * tags.iter().filter(|other| other.area.intersects(&leader)).count() as f64;
        cost += ON_A_LEADER * leaders.filter(|other| other.intersects(&leader)).count() as f64;
        cost += LEADER_OVER_A_MARK * count(&|mark| mark.intersects(&leader));
    }
    cost
}

/// What a place costs for what it covers that can be seen beside it all the same.
fn covered(tag: &Tag, wish: &Wish, ground: &Ground) -> f64 {
    let laces = ground.laces.iter().filter(|lace| tag.area.intersects(&Point(**lace))).count();
    let mut cost = ON_A_LACE * laces as f64;
    if let (None, Some(own)) = (tag.leader, wish.band) {
        let middle = Point(tag.area.center());
        let others = ground.bands.iter().enumerate().filter(|(index, _)| *index != own);
        let on = others.filter(|(_, (run, half))| Euclidean.distance(&middle, run) < half + wish.half.y);
        cost += ON_ANOTHER_BAND * on.count() as f64;
    }
    cost
}
