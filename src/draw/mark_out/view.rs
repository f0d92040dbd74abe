//! A stretch of cloth on a page: from cloth to page, made smaller.

use geo_types::{Coord, Rect};

use crate::shape::Path;

/// A stretch of cloth at a scale.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct View {
    /// The stretch, from the cloth's end.
    pub span: [f64; 2],
    /// Width of the cloth.
    pub width: f64,
    /// Where its lower left corner is on the page.
    pub corner: Coord<f64>,
    /// Millimetres of the page for one of the cloth.
    pub scale: f64,
}

impl View {
    /// A stretch as large as it comes out in a room, in the middle of it.
    pub fn fitted(span: [f64; 2], width: f64, room: Rect<f64>) -> Self {
        let length = (span[1] - span[0]).max(f64::MIN_POSITIVE);
        let scale = (room.width() / length).min(room.height() / width);
        let middle = room.center();
        let corner = Coord { x: middle.x - scale * length / 2.0, y: middle.y - scale * width / 2.0 };
        Self { span, width, corner, scale }
    }

    /// A point of the cloth on the page.
    pub fn at(&self, point: Coord<f64>) -> Coord<f64> {
        self.corner + Coord { x: point.x - self.span[0], y: point.y } * self.scale
    }

    /// The cloth on the page.
    pub fn frame(&self) -> Rect<f64> {
        Rect::new(self.at(Coord { x: self.span[0], y: 0.0 }), self.at(Coord { x: self.span[1], y: self.width }))
    }

    /// A ring of the cloth on the page.
    pub fn ring(&self, points: &[[f64; 2]]) -> Option<Path> {
        let mut points: Vec<Coord<f64>> = points.iter().map(|[x, y]| self.at(Coord { x: *x, y: *y })).collect();
        points.push(*points.first()?);
        Path::through(&points).map(|path| Path { closed: true, ..path })
    }
}
