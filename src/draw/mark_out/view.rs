//! A part of the cloth on a page: from cloth to page, made smaller.

use geo_types::{Coord, Rect};

use crate::shape::Path;

/// A part of the cloth at a scale.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct View {
    /// The part, in the cloth's coordinates.
    pub part: Rect<f64>,
    /// Where its lower left corner is on the page.
    corner: Coord<f64>,
    /// Millimetres of the page for one of the cloth.
    pub scale: f64,
}

impl View {
    /// A part of the cloth as large as it comes out in a room, in the middle of it.
    pub fn fitted(part: Rect<f64>, room: Rect<f64>) -> Self {
        let scale = (room.width() / part.width()).min(room.height() / part.height());
        let corner = room.center() - Coord { x: part.width(), y: part.height() } * (scale / 2.0);
        Self { part, corner, scale }
    }

    /// A point of the cloth on the page.
    pub fn at(&self, point: Coord<f64>) -> Coord<f64> {
        self.corner + (point - self.part.min()) * self.scale
    }

    /// The part on the page.
    pub fn frame(&self) -> Rect<f64> {
        Rect::new(self.at(self.part.min()), self.at(self.part.max()))
    }

    /// A ring of the cloth on the page.
    pub fn ring(&self, points: &[[f64; 2]]) -> Option<Path> {
        let mut points: Vec<Coord<f64>> = points.iter().map(|[x, y]| self.at(Coord { x: *x, y: *y })).collect();
        points.push(*points.first()?);
        Path::through(&points).map(|path| Path { closed: true, ..path })
    }
}
