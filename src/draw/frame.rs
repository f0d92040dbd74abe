//! From cloth to paper: where a point of the cloth lies on the sheet, and how numbers are written there.

use geo_types::{Coord, LineString, Polygon};

/// Carries cloth coordinates (x along the roll, y up from the lower edge) to sheet coordinates (y down), true to size.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Frame {
    /// Sheet x of the roll's end.
    pub left: f64,
    /// Sheet y of the upper edge of the cloth.
    pub top: f64,
    /// Full width of the cloth.
    pub width: f64,
}

impl Frame {
    /// Sheet x of a cloth x.
    pub fn x(&self, x: f64) -> f64 {
        self.left + x
    }

    /// Sheet y of a cloth y.
    pub fn y(&self, y: f64) -> f64 {
        self.top + self.width - y
    }

    /// A point of the cloth on the sheet.
    pub fn point(&self, point: Coord<f64>) -> Coord<f64> {
        Coord { x: self.x(point.x), y: self.y(point.y) }
    }

    /// Path data of a polygon of the cloth: every ring a closed subpath.
    pub fn path(&self, polygon: &Polygon<f64>) -> String {
        let mut data = String::new();
        self.ring(&mut data, polygon.exterior());
        for hole in polygon.interiors() {
            self.ring(&mut data, hole);
        }
        data
    }

    fn ring(&self, data: &mut String, ring: &LineString<f64>) {
        let open = &ring.0[..ring.0.len().saturating_sub(1)];
        for (index, point) in open.iter().enumerate() {
            let point = self.point(*point);
            data.push(if index == 0 { 'M' } else { 'L' });
            data.push_str(&number(point.x));
            data.push(' ');
            data.push_str(&number(point.y));
        }
        data.push('Z');
    }
}

/// A length for the sheet: a thousandth of a millimetre, no trailing zeros, no negative zero.
pub(super) fn number(value: f64) -> String {
    let rounded = libm::round(value * 1000.0) / 1000.0 + 0.0;
    rounded.to_string()
}

/// Path data of a straight line between two points of the sheet.
pub(super) fn line(from: (f64, f64), to: (f64, f64)) -> String {
    format!("M{} {}L{} {}", number(from.0), number(from.1), number(to.0), number(to.1))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_upper_edge_of_the_cloth_is_at_the_top_of_the_sheet() {
        let frame = Frame { left: 10.0, top: 20.0, width: 1780.0 };
        assert_eq!(frame.point(Coord { x: 5.0, y: 1780.0 }), Coord { x: 15.0, y: 20.0 });
        assert_eq!(frame.point(Coord { x: 0.0, y: 0.0 }), Coord { x: 10.0, y: 1800.0 });
    }

    #[test]
    fn numbers_are_short_and_far_places_keep_their_thousandths() {
        assert_eq!(number(50_000.123_456), "50000.123");
        assert_eq!(number(-0.000_04), "0");
        assert_eq!(number(12.0), "12");
    }
}
