//! Whether the strips of a panel, laid edge on edge at their laps, are the whole panel again.

use clothwright::covering::Panel;
use clothwright::job::GrainDirection;
use geo::{Area, BooleanOps};
use geo_types::{Coord, LineString, MultiPolygon, Polygon};

/// Wherever seams do not cross each other: the strips together are the panel as it is cut, any two of them lie over each
/// other along the whole of one seam, by its overlap and no more, and each of them fits a cloth of this usable width.
///
/// Unions are those of a general geometry library, which rounds to a grid all along the edges.
pub fn restore_the_whole(panel: &Panel, usable: f64) -> Result<(), String> {
    let whole = panel.cut.polygon();
    let strips: Vec<&Polygon> = panel.strips.iter().map(|strip| strip.cut.polygon()).collect();
    if strips.len() != panel.seams.len() + 1 {
        return Err(format!("{} strips with {} seams", strips.len(), panel.seams.len()));
    }
    let rounding = 5e-5 * panel.strips.iter().map(|strip| strip.cut.perimeter()).sum::<f64>() + 1e-3;
    let none = || MultiPolygon::<f64>::new(Vec::new());
    let united = strips.iter().fold(none(), |united, strip| united.union(*strip));
    let apart = united.xor(whole).unsigned_area();
    if apart > rounding {
        return Err(format!("the strips together miss the panel by {apart} mm²"));
    }
    let pairs = strips.iter().enumerate().flat_map(|(i, one)| strips[..i].iter().map(move |other| (one, other)));
    let doubled = pairs.fold(none(), |doubled, (one, other)| doubled.union(&one.intersection(*other)));
    let bands = panel.seams.iter().fold(none(), |bands, seam| {
        let band = band(seam.ends, seam.overlap).intersection(whole);
        bands.union(&band)
    });
    let apart = doubled.xor(&bands).unsigned_area();
    if apart > rounding {
        return Err(format!("the strips lie over each other by {apart} mm² more or less than their overlaps"));
    }
    let fits = |extent: f64| extent <= usable + 0.01;
    let direction = panel.plan.grain.direction;
    let all_fit = |across: fn(&Panel, usize) -> f64| (0..panel.strips.len()).all(|i| fits(across(panel, i)));
    let along = || all_fit(|panel, i| panel.strips[i].cut.bounds().height());
    let across = || all_fit(|panel, i| panel.strips[i].cut.bounds().width());
    let fit = match direction {
        GrainDirection::Along => along(),
        GrainDirection::Across => across(),
        _ => along() || across(),
    };
    if fit { Ok(()) } else { Err(format!("a strip is wider than {usable} mm")) }
}

/// A band round a seam, long past its ends.
fn band([from, to]: [Coord<f64>; 2], width: f64) -> Polygon {
    const PAST: f64 = 1e4;
    let length = (to.x - from.x).hypot(to.y - from.y);
    let along = (to - from) / length;
    let across = Coord { x: -along.y, y: along.x } * (width / 2.0);
    let (start, end) = (from - along * PAST, to + along * PAST);
    Polygon::new(LineString::new(vec![start - across, end - across, end + across, start + across]), vec![])
}
