//! Where the number of each point stands: beside its point, off the others.

use geo_types::{Coord, Rect};

use crate::draw::pdf::text_width;
use crate::shape::sin_cos_degrees;

/// How far the middle of a number may stand off its point, the nearest first, in letter sizes.
const OFF: [f64; 4] = [1.1, 1.7, 2.5, 3.5];
/// Degrees by which a number may stand off the way that leads out of the edge.
const ASIDE: [f64; 7] = [0.0, 35.0, -35.0, 70.0, -70.0, 110.0, -110.0];
/// Free room round a number, in letter sizes.
const FREE: f64 = 0.12;
/// Half the side of the square that marks a point, in millimetres.
pub(super) const POINT: f64 = 0.55;

/// Where the middle of each number stands; `points` in page coordinates run counter-clockwise round the piece. Numbers
/// stand within the piece, where there are no words of the cloth, unless there is only room outside.
pub(super) fn number_places(points: &[Coord<f64>], size: f64) -> Vec<Coord<f64>> {
    let mut taken: Vec<Rect<f64>> = points.iter().map(|point| around(*point, [POINT, POINT])).collect();
    let mut places = Vec::new();
    for (index, point) in points.iter().enumerate() {
        let inwards = inwards(points, index);
        let half = [text_width(&(index + 1).to_string()) * size / 2.0, 0.4 * size];
        let tried = || {
            OFF.iter().flat_map(|off| [0.0, 180.0].map(|side| (*off, side))).flat_map(|(off, side)| {
                ASIDE.iter().map(move |aside| *point + turned(inwards, side + aside) * (off * size))
            })
        };
        let free = |place: &Coord<f64>| {
            let there = around(*place, half.map(|half| half + FREE * size));
            taken.iter().all(|other| !overlap(other, &there))
        };
        let place = tried().find(free).unwrap_or(*point + inwards * (OFF[0] * size));
        taken.push(around(place, half));
        places.push(place);
    }
    places
}

/// The way into the piece at a point, which is to the left of a ring that runs counter-clockwise; of length one.
fn inwards(points: &[Coord<f64>], index: usize) -> Coord<f64> {
    let count = points.len();
    let unit = |way: Coord<f64>| way / libm::hypot(way.x, way.y).max(f64::MIN_POSITIVE);
    let before = unit(points[index] - points[(index + count - 1) % count]);
    let after = unit(points[(index + 1) % count] - points[index]);
    unit(Coord { x: -(before.y + after.y), y: before.x + after.x })
}

fn turned(by: Coord<f64>, degrees: f64) -> Coord<f64> {
    let (sin, cos) = sin_cos_degrees(degrees);
    Coord { x: cos * by.x - sin * by.y, y: sin * by.x + cos * by.y }
}

fn around(middle: Coord<f64>, [x, y]: [f64; 2]) -> Rect<f64> {
    Rect::new(middle - Coord { x, y }, middle + Coord { x, y })
}

fn overlap(one: &Rect<f64>, other: &Rect<f64>) -> bool {
    one.min().x < other.max().x
        && other.min().x < one.max().x
        && one.min().y < other.max().y
        && other.min().y < one.max().y
}
