//! Which tags a face has, and what each of them may stand at.

use geo_types::{Coord, LineString, Rect};

use super::super::frame::Frame;
use super::super::lettering::text_width;
use super::pen::Pen;
use super::tags::{Ground, Spot, TagLook, Wish};
use crate::covering::dressing::WantedShape;
use crate::covering::{Datum, Dressed, Face};
use crate::plan::MapFlag;

/// Height of the letters on a tag, in millimetres of paper: a size of ISO 3098-1:2015 whose capitals are more than 2.2 mm
/// high in any usual font.
pub(super) const TAG: f64 = 3.5;
/// Least extent of a mark on paper, in millimetres.
pub(super) const LEAST_MARK: f64 = 2.4;
/// The widest name of a corner that a flag has, in letter sizes.
const LONGEST_CORNER: f64 = 8.0;
/// Length of the arrow at a corner and half its width, in millimetres of paper.
pub(super) const ARROW: f64 = 7.0;
const ARROW_HALF_WIDTH: f64 = 1.0;
/// How far past the end of a tape its tag may stand, and how much worse that is than in its middle; millimetres of paper.
const PAST_AN_END: f64 = 3.2;
const WORSE_AT_AN_END: f64 = 1.5;
/// How far apart the places along a tape are tried, in millimetres of paper.
const ALONG: f64 = 3.0;

/// The tags of a face and what they share it with; flags first, then what has one place only, tapes last.
pub(super) fn wishes(
    dressed: &Dressed,
    index: usize,
    datums: &[(&MapFlag, &Datum)],
    frame: &Frame,
    room: Rect<f64>,
    pen: Pen,
) -> (Vec<Wish>, Ground) {
    let mut wishes = Vec::new();
    let mut ground = Ground { room, marks: Vec::new(), bands: Vec::new(), laces: laces(dressed, index, frame) };
    for (flag, datum) in datums {
        let mark = Some(ground.marks.len());
        ground.marks.push(arrow_area(datum, frame, pen));
        // A long name stands in the list alone.
        let short = text_width(&datum.corner) <= LONGEST_CORNER;
        let words = if short { format!("{} {}", flag.letter, datum.corner) } else { flag.letter.clone() };
        let spots = vec![spot(frame.point(datum.at), pen.mm(0.6), pen.mm(0.6))];
        wishes.push(Wish { mark, ..wish(words, TagLook::Flag, spots, pen) });
    }
    for (number, at, [width, height]) in marks(dressed, index, pen) {
        let spot = spot(frame.point(at), width / 2.0, height / 2.0);
        let half = Coord { x: width / 2.0, y: height / 2.0 };
        let mark = Some(ground.marks.len());
        ground.marks.push(Rect::new(spot.at - half, spot.at + half));
        wishes.push(Wish { mark, ..wish(number, TagLook::Mark, vec![spot], pen) });
    }
    for tape in &dressed.tapes {
        let legs: Vec<_> = tape.lines().filter(|leg| leg.face == index).collect();
        let band = ground.bands.len();
        let mut spots = Vec::new();
        for leg in legs {
            let run: Vec<Coord<f64>> = leg.run.iter().map(|point| frame.point(*point)).collect();
            spots.extend(along(&run, pen));
            spots.extend(past_the_ends(&run, half_of(&tape.number, pen), pen));
            ground.bands.push((LineString(run), tape.width / 2.0));
        }
        if !spots.is_empty() {
            wishes.push(Wish { band: Some(band), ..wish(tape.number.clone(), TagLook::Tape, spots, pen) });
        }
    }
    (wishes, ground)
}

/// Where the arrow at a corner lies.
fn arrow_area(datum: &Datum, frame: &Frame, pen: Pen) -> Rect<f64> {
    let half = Coord { x: pen.mm(ARROW_HALF_WIDTH), y: pen.mm(ARROW_HALF_WIDTH) };
    let ends = [datum.at, datum.at + datum.along * pen.mm(ARROW)].map(|end| frame.point(end));
    let arrow = Rect::new(ends[0], ends[1]);
    Rect::new(arrow.min() - half, arrow.max() + half)
}

/// The datums of a face that something is measured from.
pub(super) fn used<'a>(face: &'a Face, index: usize, flags: &'a [MapFlag]) -> Vec<(&'a MapFlag, &'a Datum)> {
    let of_face = flags.iter().filter(|flag| flag.face == index);
    of_face.filter_map(|flag| Some((flag, face.datums.get(flag.datum)?))).collect()
}

/// Number, middle and extent of everything on a face that has a place of its own.
fn marks(dressed: &Dressed, face: usize, pen: Pen) -> Vec<(String, Coord<f64>, [f64; 2])> {
    let least = |extent: f64| extent.max(pen.mm(LEAST_MARK));
    let patches = dressed.patches.iter().filter(|patch| patch.face == face);
    let patches = patches.map(|patch| (patch.number.clone(), patch.at, extent(patch.shape).map(least)));
    let rings = dressed.rings.iter().filter(|ring| ring.face == face);
    let rings = rings.map(|ring| (ring.number.clone(), ring.at, [least(ring.doily); 2]));
    let drains = dressed.drains.iter().filter(|drain| drain.face == face);
    let drains = drains.map(|drain| (drain.number.clone(), drain.at, [least(drain.hole); 2]));
    patches.chain(rings).chain(drains).collect()
}

fn extent(shape: WantedShape) -> [f64; 2] {
    match shape {
        WantedShape::Rect(sides) => sides,
        WantedShape::Circle(diameter) => [diameter; 2],
    }
}

fn spot(at: Coord<f64>, x: f64, y: f64) -> Spot {
    Spot { at, clear: Some(Coord { x, y }), worse: 0.0 }
}

fn wish(words: String, look: TagLook, spots: Vec<Spot>, pen: Pen) -> Wish {
    let half = half_of(&words, pen);
    Wish { words, look, half, spots, band: None, mark: None }
}

/// Half the width and half the height of a tag.
fn half_of(words: &str, pen: Pen) -> Coord<f64> {
    Coord { x: pen.mm((text_width(words) * TAG + 1.4) / 2.0), y: pen.mm(TAG * 0.62) }
}

/// Places just past the ends of a line that is not closed, where a tag hides nothing of it.
fn past_the_ends(run: &[Coord<f64>], half: Coord<f64>, pen: Pen) -> Vec<Spot> {
    let [first, second, ..] = run else { return Vec::new() };
    let [.., before, last] = run else { return Vec::new() };
    if first == last {
        return Vec::new();
    }
    let past = |end: Coord<f64>, inner: Coord<f64>| {
        let way = end - inner;
        let length = way.x.hypot(way.y);
        let way = way / length.max(f64::MIN_POSITIVE);
        let reach = half.x * way.x.abs() + half.y * way.y.abs() + pen.mm(PAST_AN_END);
        Spot { at: end + way * reach, clear: None, worse: WORSE_AT_AN_END }
    };
    vec![past(*first, *second), past(*last, *before)]
}

/// The middles of the laces of a face.
fn laces(dressed: &Dressed, face: usize, frame: &Frame) -> Vec<Coord<f64>> {
    let places = dressed.ribs.iter().flat_map(|rib| &rib.places).filter(|laces| laces.face == face);
    places.flat_map(|laces| &laces.at).map(|at| frame.point(*at)).collect()
}

/// Places along a line, the better the nearer to its middle.
fn along(run: &[Coord<f64>], pen: Pen) -> Vec<Spot> {
    let distance = |from: Coord<f64>, to: Coord<f64>| (to.x - from.x).hypot(to.y - from.y);
    let length: f64 = run.windows(2).map(|pair| distance(pair[0], pair[1])).sum();
    let count = ((length / pen.mm(ALONG)) as usize).clamp(1, 60);
    let mut spots = Vec::new();
    for place in 0..count {
        let share = (place as f64 + 0.5) / count as f64;
        let mut left = share * length;
        for pair in run.windows(2) {
            let step = distance(pair[0], pair[1]);
            if left <= step && step > 0.0 {
                let at = pair[0] + (pair[1] - pair[0]) * (left / step);
                spots.push(Spot { at, clear: None, worse: 12.0 * (share - 0.5).abs() });
                break;
            }
            left -= step;
        }
    }
    spots
}
