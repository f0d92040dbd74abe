//! Wing sections: ordinates, the four-digit formula, and how far it is along the surface.
//!
//! Everything is in fractions of the chord, 0 at the nose and 1 at the trailing edge, so that one section serves every
//! rib of a wing; multiply by the chord.

mod fault;
mod four_digit;
mod ordinates;

use std::f64::consts::PI;

pub use fault::SectionFault;
use four_digit::FourDigit;
use ordinates::Ordinates;

use super::integral::integral;

/// What the parts of a girth may be off together, in chords; where curvature jumps, a hundred times that.
const GIRTH_TOLERANCE: f64 = 1e-9;
/// Places at which the depth of a section is looked at: it is flat where it is greatest.
const DEPTH_STEPS: usize = 100;
/// Bisections that bring a place along the surface down to the last digits of a number.
const BISECTIONS: u32 = 60;

/// The upper or the lower surface.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Side {
    /// The upper surface.
    Top,
    /// The lower surface.
    Bottom,
}

/// The outline of a rib, in fractions of the chord.
///
/// ```
/// use clothwright::shape::{Section, Side};
///
/// let section = Section::four_digit("2412")?;
/// // Cloth for the top of a rib of 1400 mm, nose to trailing edge: longer than the chord by 39 mm.
/// let top = 1400.0 * section.girth(Side::Top, 0.0, 1.0);
/// assert_eq!(top.round(), 1439.0);
/// # Ok::<(), clothwright::shape::SectionFault>(())
/// ```
#[derive(Clone, Debug, PartialEq)]
pub struct Section(Kind);

#[derive(Clone, Debug, PartialEq)]
enum Kind {
    FourDigit(FourDigit),
    /// Top and bottom.
    Ordinates([Ordinates; 2]),
}

/// A point of the surface and how it moves with the angle that runs along it.
#[derive(Clone, Copy, Debug)]
struct Moving {
    at: [f64; 2],
    speed: [f64; 2],
}

impl Section {
    /// A section of NACA's four-digit family: camber and its place, thickness (NACA Report 460, 1933).
    ///
    /// The digits are camber in hundredths of the chord, its place in tenths, thickness in hundredths.
    ///
    /// # Errors
    /// [`SectionFault`] where these are not four digits, the thickness is 0, or only one of camber and its place is 0.
    pub fn four_digit(digits: &str) -> Result<Self, SectionFault> {
        Ok(Self(Kind::FourDigit(FourDigit::new(digits)?)))
    }

    /// A section by its ordinates: rows of station, upper and lower ordinate in per cent of the chord, from the nose
    /// (station 0, where both are the same) to the trailing edge (station 100).
    ///
    /// Between the rows the surface is a smooth curve that may be round at the nose. Stations as far apart as those of
    /// published tables give the girth of a side within a thousandth of the chord: what bulges before the nose of a
    /// cambered section stands in no row.
    ///
    /// # Errors
    /// [`SectionFault`] names the first row that is wrong.
    pub fn from_ordinates(rows: &[[f64; 3]]) -> Result<Self, SectionFault> {
        Ok(Self(Kind::Ordinates(ordinates::both_sides(rows)?)))
    }

    /// The height of the surface over the chord line at a chordwise place.
    pub fn ordinate(&self, side: Side, x: f64) -> f64 {
        self.moving(side, self.angle(side, x)).at[1]
    }

    /// The distance along the surface from one chordwise place to another; negative where `to` lies before `from`.
    pub fn girth(&self, side: Side, from: f64, to: f64) -> f64 {
        self.girth_between(side, self.angle(side, from), self.angle(side, to))
    }

    /// How thick the trailing edge is.
    ///
    /// ```
    /// use clothwright::shape::Section;
    /// // The four-digit sections are blunt: 0.25 % of the chord where they are 12 % thick.
    /// let blunt = Section::four_digit("0012")?.trailing_edge_thickness();
    /// assert!((blunt - 0.00252).abs() < 1e-5);
    /// # Ok::<(), clothwright::shape::SectionFault>(())
    /// ```
    pub fn trailing_edge_thickness(&self) -> f64 {
        self.ordinate(Side::Top, 1.0) - self.ordinate(Side::Bottom, 1.0)
    }

    /// The greatest distance between the surfaces, square to the chord, to about a thousandth of itself.
    ///
    /// ```
    /// use clothwright::shape::Section;
    /// let depth = Section::four_digit("0012")?.greatest_depth();
    /// assert!((depth - 0.12).abs() < 1e-4);
    /// # Ok::<(), clothwright::shape::SectionFault>(())
    /// ```
    pub fn greatest_depth(&self) -> f64 {
        let depth = |x: f64| self.ordinate(Side::Top, x) - self.ordinate(Side::Bottom, x);
        Self::places(DEPTH_STEPS).into_iter().map(depth).fold(0.0, f64::max)
    }

    /// Places from the nose (0) to the trailing edge (1), close together where the surface bends most.
    pub fn places(steps: usize) -> Vec<f64> {
        (0..=steps)
            .map(|step| {
                let sin = libm::sin(PI / 2.0 * step as f64 / steps as f64);
                if step == steps { 1.0 } else { sin * sin }
            })
            .collect()
    }

    /// The distance from the trailing edge over the top, round the nose and along the bottom to the trailing edge; the
    /// thickness of a blunt trailing edge is not in it.
    pub fn whole_girth(&self) -> f64 {
        self.girth(Side::Top, 0.0, 1.0) + self.girth(Side::Bottom, 0.0, 1.0)
    }

    /// The chordwise place that lies a distance along the surface from the nose: [`Section::girth`] turned round.
    ///
    /// Beyond the trailing edge it is the trailing edge, before the nose it is the nose.
    ///
    /// ```
    /// use clothwright::shape::{Section, Side};
    /// let section = Section::four_digit("4415")?;
    /// let girth = section.girth(Side::Bottom, 0.0, 0.3);
    /// assert!((section.place_at(Side::Bottom, girth) - 0.3).abs() < 1e-8);
    /// # Ok::<(), clothwright::shape::SectionFault>(())
    /// ```
    pub fn place_at(&self, side: Side, girth: f64) -> f64 {
        if girth >= self.girth(side, 0.0, 1.0) {
            return 1.0;
        }
        let angle = bisected(|angle| self.girth_between(side, 0.0, angle) - girth);
        self.moving(side, angle).at[0].clamp(0.0, 1.0)
    }

    fn girth_between(&self, side: Side, from: f64, to: f64) -> f64 {
        let speed = |angle: f64| {
            let [x, y] = self.moving(side, angle).speed;
            x.hypot(y)
        };
        integral(&speed, from, to, GIRTH_TOLERANCE)
    }

    /// The angle at which the surface passes a chordwise place: 0 at the nose, π at the trailing edge.
    ///
    /// The surface is followed by an angle with x = sin²(angle/2), since both a round nose and a round end are smooth
    /// in it, where ordinates over x have no bound to their slope.
    fn angle(&self, side: Side, x: f64) -> f64 {
        if x <= 0.0 {
            return 0.0;
        }
        if x >= 1.0 {
            return PI;
        }
        match &self.0 {
            Kind::Ordinates(_) => angle_of(x),
            // Ordinates stand square to the mean line, so that a point's own x is not that of its ordinate.
            Kind::FourDigit(_) => bisected(|angle| self.moving(side, angle).at[0] - x),
        }
    }

    fn moving(&self, side: Side, angle: f64) -> Moving {
        match &self.0 {
            Kind::FourDigit(formula) => formula.moving(side, angle),
            Kind::Ordinates([top, bottom]) => match side {
                Side::Top => top.moving(angle),
                Side::Bottom => bottom.moving(angle),
            },
        }
    }
}

/// The angle whose x is sin²(angle/2).
fn angle_of(x: f64) -> f64 {
    2.0 * libm::asin(x.sqrt())
}

/// The angle between nose and trailing edge at which something passes from less than zero to more.
fn bisected(over: impl Fn(f64) -> f64) -> f64 {
    let [mut low, mut high] = [0.0, PI];
    for _ in 0..BISECTIONS {
        let middle = f64::midpoint(low, high);
        if over(middle) < 0.0 {
            low = middle;
        } else {
            high = middle;
        }
    }
    f64::midpoint(low, high)
}
