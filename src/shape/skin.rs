//! The skin of a wing laid flat: rib by rib along the girth, and along the straight lines that run from rib to rib.
//!
//! Between two ribs with the same section and no twist the skin is part of a cone (of a cylinder where the chords are
//! alike), so that it can be laid flat exactly: all the straight lines of the cone meet in one point, and each strip
//! between two of them is a plane trapezium. Where the taper changes the flat bays on both sides of a rib do not quite
//! fit each other; what they lack is told, not hidden.

use geo_types::Coord;

use super::polyline::distance;
use super::space::{cross, dot, length, minus};
use super::{Section, Side};

/// A place where the planform is given: the chord there and how far aft its nose lies.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Chord {
    /// Millimetres along the span.
    pub span: f64,
    /// Millimetres from nose to trailing edge.
    pub length: f64,
    /// Millimetres that the nose lies aft of the line from which all are measured.
    pub nose: f64,
}

/// A line along the span, at the same part of every chord.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SpanLine {
    /// On which surface.
    pub side: Side,
    /// The part of the chord.
    pub place: f64,
}

/// A skin laid flat, seen from outside: x from the first chord to the last one, y along the girth in the order of the
/// lines.
#[derive(Clone, Debug, PartialEq)]
pub struct FlatSkin {
    /// For each chord the flat place of each line.
    pub rows: Vec<Vec<Coord<f64>>>,
    /// For each chord the widest gap, in millimetres, between the flat bays on its two sides when they are fitted to
    /// each other as well as they go; the row lies half way between them. 0 at the first and the last chord.
    pub misfit: Vec<f64>,
}

impl Chord {
    /// The chord at another place of the span, on the straight lines through two.
    pub fn between(self, other: Self, span: f64) -> Self {
        let part = (span - self.span) / (other.span - self.span);
        let mixed = |from: f64, to: f64| from + (to - from) * part;
        Self { span, length: mixed(self.length, other.length), nose: mixed(self.nose, other.nose) }
    }
}

/// Lays the skin between the first and the last of some lines flat.
///
/// Chords are in the order of the span, no two at the same place and none without length; lines are in their order along
/// the girth, no two at the same place. Fewer than two of either lay nothing flat. Girths are exact; lengths along the span
/// are true to half a millimetre where some sixty lines follow the bend of each surface.
///
/// ```
/// use clothwright::shape::{Chord, Section, Side, SpanLine, lay_skin_flat};
///
/// // The top of a straight wing is a rectangle as wide as the girth.
/// let section = Section::four_digit("2412")?;
/// let chords = [0.0, 4000.0].map(|span| Chord { span, length: 1400.0, nose: 0.0 });
/// let lines: Vec<SpanLine> =
///     [1.0, 0.6, 0.3, 0.1, 0.0].map(|place| SpanLine { side: Side::Top, place }).to_vec();
/// let flat = lay_skin_flat(&section, &chords, &lines);
/// let corner = flat.rows[1][4];
/// assert!((corner.x - 4000.0).abs() < 1e-9);
/// assert!((corner.y - 1400.0 * section.girth(Side::Top, 0.0, 1.0)).abs() < 1e-4);
/// # Ok::<(), clothwright::shape::SectionFault>(())
/// ```
pub fn lay_skin_flat(section: &Section, chords: &[Chord], lines: &[SpanLine]) -> FlatSkin {
    let profile = Profile::new(section, lines);
    let mut rows: Vec<Vec<Coord<f64>>> = Vec::new();
    let mut misfit = Vec::new();
    for pair in chords.windows(2) {
        let [near, far] = profile.bay(pair[0], pair[1]);
        match rows.last_mut() {
            None => {
                rows.extend([near, far]);
                misfit.extend([0.0, 0.0]);
            }
            Some(row) => {
                let fit = Fit::of(&near, row);
                let near: Vec<_> = near.into_iter().map(|point| fit.moved(point)).collect();
                let gaps = near.iter().zip(row.iter()).map(|(a, b)| distance(*a, *b));
                let last = misfit.len() - 1;
                misfit[last] = gaps.fold(0.0, f64::max);
                for (point, other) in row.iter_mut().zip(&near) {
                    *point = (*point + *other) / 2.0;
                }
                rows.push(far.into_iter().map(|point| fit.moved(point)).collect());
                misfit.push(0.0);
            }
        }
    }
    squared_to_first_row(&mut rows);
    FlatSkin { rows, misfit }
}

/// The section between the lines, on a chord of 1.
struct Profile {
    points: Vec<[f64; 2]>,
    /// True length along the surface from each point to the next, over the straight line between them.
    girth_ratios: Vec<f64>,
}

impl Profile {
    fn new(section: &Section, lines: &[SpanLine]) -> Self {
        let points: Vec<[f64; 2]> =
            lines.iter().map(|line| [line.place, section.ordinate(line.side, line.place)]).collect();
        let girth = |pair: &[SpanLine]| match (pair[0].side, pair[1].side) {
            (from, to) if from == to => section.girth(from, pair[0].place, pair[1].place).abs(),
            (from, to) => section.girth(from, 0.0, pair[0].place) + section.girth(to, 0.0, pair[1].place),
        };
        let straight = |pair: &[[f64; 2]]| (pair[1][0] - pair[0][0]).hypot(pair[1][1] - pair[0][1]);
        let girth_ratios =
            lines.windows(2).zip(points.windows(2)).map(|(lines, points)| girth(lines) / straight(points)).collect();
        Self { points, girth_ratios }
    }

    /// The flat rows of two chords, strip by strip; the first line runs along the x axis.
    fn bay(&self, near: Chord, far: Chord) -> [Vec<Coord<f64>>; 2] {
        let in_space = |chord: Chord| -> Vec<[f64; 3]> {
            let point = |[x, y]: [f64; 2]| [chord.nose + chord.length * x, chord.span, chord.length * y];
            self.points.iter().copied().map(point).collect()
        };
        let [a, b] = [near, far].map(in_space);
        let mut rows = [vec![Coord { x: 0.0, y: 0.0 }], vec![Coord { x: length(minus(b[0], a[0])), y: 0.0 }]];
        for (index, ratio) in self.girth_ratios.iter().enumerate() {
            let [start, end] = [rows[0][index], rows[1][index]];
            let along = (end - start) / distance(start, end);
            let generator = minus(b[index], a[index]);
            for (row, points) in rows.iter_mut().zip([&a, &b]) {
                let step = minus(points[index + 1], points[index]);
                let size = length(generator);
                let forward = ratio * dot(step, generator) / size;
                let aside = ratio * length(cross(generator, step)) / size;
                let from = row[index];
                row.push(from + along * forward + Coord { x: -along.y, y: along.x } * aside);
            }
        }
        rows
    }
}

/// A move and a turn that brings some points as near to others as it goes (least squares).
struct Fit {
    cos: f64,
    sin: f64,
    from: Coord<f64>,
    to: Coord<f64>,
}

impl Fit {
    fn of(points: &[Coord<f64>], others: &[Coord<f64>]) -> Self {
        let [from, to] = [points, others].map(|all| {
            let sum = all.iter().fold(Coord { x: 0.0, y: 0.0 }, |sum, point| sum + *point);
            sum / all.len() as f64
        });
        let [mut cos, mut sin] = [0.0, 0.0];
        for (point, other) in points.iter().zip(others) {
            let [arm, wanted] = [*point - from, *other - to];
            cos += arm.x * wanted.x + arm.y * wanted.y;
            sin += arm.x * wanted.y - arm.y * wanted.x;
        }
        let size = cos.hypot(sin);
        Self { cos: cos / size, sin: sin / size, from, to }
    }

    fn moved(&self, point: Coord<f64>) -> Coord<f64> {
        let arm = point - self.from;
        self.to + Coord { x: self.cos * arm.x - self.sin * arm.y, y: self.sin * arm.x + self.cos * arm.y }
    }
}

/// Turns everything so that the straight line between the ends of the first row runs along y: then x is across the line
/// of flight.
fn squared_to_first_row(rows: &mut [Vec<Coord<f64>>]) {
    let Some([first, .., last]) = rows.first().map(Vec::as_slice) else { return };
    let (origin, across) = (*first, (*last - *first) / distance(*first, *last));
    for point in rows.iter_mut().flatten() {
        let arm = *point - origin;
        *point = Coord { x: arm.x * across.y - arm.y * across.x, y: arm.x * across.x + arm.y * across.y };
    }
}
