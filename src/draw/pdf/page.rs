//! One page: lines, areas and text on layers.

use std::collections::BTreeSet;

use geo_types::{Coord, Rect};
use pdf_writer::types::{LineCapStyle, LineJoinStyle};
use pdf_writer::{Content, Name, Str};

use super::POINTS;
use super::document::{FONT, layer_name};
use super::font::glyph;
use crate::shape::{Path, Stretch, sin_cos_degrees};

/// A colour as shares of red, green and blue.
pub(in crate::draw) type Ink = [f64; 3];

/// How a line is drawn.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(in crate::draw) struct Pen {
    /// Width in millimetres.
    pub width: f64,
    /// Lengths of dashes and of the spaces between them, in millimetres; none for a full line.
    pub dash: &'static [f64],
    /// Its colour.
    pub ink: Ink,
}

/// A page at work.
pub(in crate::draw) struct Page {
    size: [f64; 2],
    content: Content,
    letters: BTreeSet<char>,
    pen: Option<Pen>,
    fill: Option<Ink>,
}

impl Page {
    /// An empty page of a width and a height.
    pub fn new(size: [f64; 2]) -> Self {
        let mut content = Content::new();
        let scale = POINTS as f32;
        content.transform([scale, 0.0, 0.0, scale, 0.0, 0.0]);
        content.set_line_join(LineJoinStyle::RoundJoin).set_line_cap(LineCapStyle::RoundCap);
        Self { size, content, letters: BTreeSet::new(), pen: None, fill: None }
    }

    /// Width and height.
    pub fn size(&self) -> [f64; 2] {
        self.size
    }

    /// Draws on one of the document's layers.
    pub fn on(&mut self, layer: usize, draw: impl FnOnce(&mut Self)) {
        self.content.begin_marked_content_with_properties(Name(b"OC")).properties_named(Name(&layer_name(layer)));
        draw(self);
        self.content.end_marked_content();
    }

    /// Draws what lies within a rectangle, and nothing outside it.
    pub fn within(&mut self, frame: Rect<f64>, draw: impl FnOnce(&mut Self)) {
        self.content.save_state();
        let [x, y, width, height] = [frame.min().x, frame.min().y, frame.width(), frame.height()].map(written);
        self.content.rect(x, y, width, height).clip_nonzero().end_path();
        draw(self);
        self.content.restore_state();
        (self.pen, self.fill) = (None, None);
    }

    /// Draws a line.
    pub fn stroke(&mut self, path: &Path, pen: &Pen) {
        self.take(pen);
        self.trace(path);
        self.content.stroke();
    }

    /// Fills the inside of several rings; rings within rings are holes.
    pub fn fill(&mut self, rings: &[Path], ink: Ink) {
        if rings.is_empty() {
            return;
        }
        self.take_fill(ink);
        for ring in rings {
            self.trace(ring);
        }
        self.content.fill_even_odd();
    }

    /// Writes a line of text from a point on its base line, turned by degrees counter-clockwise. `size` is that of the
    /// letters, in millimetres.
    pub fn text(&mut self, words: &str, at: Coord<f64>, size: f64, angle: f64) {
        let mut glyphs = Vec::new();
        for letter in words.chars().map(|letter| if letter.is_control() { ' ' } else { letter }) {
            self.letters.insert(letter);
            glyphs.extend(glyph(letter).to_be_bytes());
        }
        let (sin, cos) = sin_cos_degrees(angle);
        let [sin, cos] = [sin as f32, cos as f32];
        self.take_fill([0.0; 3]);
        self.content
            .begin_text()
            .set_font(FONT, written(size))
            .set_text_matrix([cos, sin, -sin, cos, written(at.x), written(at.y)])
            .show(Str(&glyphs))
            .end_text();
    }

    /// The letters that the page uses, and its content.
    pub fn into_content(self) -> (BTreeSet<char>, Vec<u8>) {
        (self.letters, self.content.finish().to_vec())
    }

    fn take(&mut self, pen: &Pen) {
        if self.pen == Some(*pen) {
            return;
        }
        let [red, green, blue] = pen.ink.map(|share| share as f32);
        let dash = pen.dash.iter().map(|length| *length as f32);
        self.content.set_line_width(written(pen.width)).set_dash_pattern(dash, 0.0).set_stroke_rgb(red, green, blue);
        self.pen = Some(*pen);
    }

    fn take_fill(&mut self, ink: Ink) {
        if self.fill == Some(ink) {
            return;
        }
        let [red, green, blue] = ink.map(|share| share as f32);
        self.content.set_fill_rgb(red, green, blue);
        self.fill = Some(ink);
    }

    fn trace(&mut self, path: &Path) {
        let [x, y] = point(path.start);
        self.content.move_to(x, y);
        let mut from = path.start;
        for (index, stretch) in path.stretches.iter().enumerate() {
            let closes = path.closed && index + 1 == path.stretches.len();
            match stretch {
                Stretch::Line(_) if closes => {}
                Stretch::Line(to) => {
                    let [x, y] = point(*to);
                    self.content.line_to(x, y);
                }
                curved => {
                    for (controls, to) in curved.cubics(from) {
                        let ([[x1, y1], [x2, y2]], [x3, y3]) = (controls.map(point), point(to));
                        self.content.cubic_to(x1, y1, x2, y2, x3, y3);
                    }
                }
            }
            from = stretch.end();
        }
        if path.closed {
            self.content.close_path();
        }
    }
}

fn point(at: Coord<f64>) -> [f32; 2] {
    [written(at.x), written(at.y)]
}

/// A length as it is written: to a thousandth of a millimetre, which keeps the file small.
fn written(length: f64) -> f32 {
    ((length * 1000.0).round() / 1000.0 + 0.0) as f32
}
