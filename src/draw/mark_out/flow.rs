//! Words, tables and drawings one below the other, on as many pages as they take.

use geo_types::{Coord, Rect};

use super::frame::{FOOT, page_size, room};
use super::rows::{Columns, Table, fitted};
use super::{MarkOutSheets, layer};
use crate::draw::lettering::LINE_STEP;
use crate::draw::paper::PrintSheet;
use crate::draw::pdf::{Page, Pen, text_width};
use crate::plan::PLANNING_AID;
use crate::shape::Path;

/// Sizes of letters, in millimetres.
const TITLE: f64 = 5.0;
pub(super) const TEXT: f64 = 2.8;
pub(super) const SMALL: f64 = 2.2;
/// The finest line, between the rows of a table.
pub(super) const HAIRLINE: Pen = Pen { width: 0.1, dash: &[], ink: [0.6; 3] };
const RULE: Pen = Pen { width: 0.4, dash: &[], ink: [0.0; 3] };
/// From row to row of a table, in letter sizes.
const ROW: f64 = 1.6;

/// Pages at work: where the next thing goes.
pub(super) struct Flow {
    size: [f64; 2],
    room: Rect<f64>,
    heading: String,
    done: Vec<Page>,
    page: Page,
    down: f64,
}

impl Flow {
    /// An empty page.
    pub fn new(sheet: &PrintSheet) -> Self {
        let (size, room) = (page_size(sheet), room(sheet));
        let page = Page::new(size);
        Self { size, room, heading: String::new(), done: Vec::new(), page, down: room.max().y }
    }

    /// Writes a heading; it stands again, smaller, on each page that what follows runs on to.
    pub fn begin(&mut self, heading: &str) {
        self.heading = heading.to_owned();
        self.words(heading, TITLE);
    }

    /// Begins a new page, unless nothing is on this one.
    pub fn new_page(&mut self) {
        if self.down < self.room.max().y {
            self.done.push(std::mem::replace(&mut self.page, Page::new(self.size)));
            self.down = self.room.max().y;
        }
    }

    /// Pages before this one.
    pub fn before(&self) -> usize {
        self.done.len()
    }

    /// A line across the page between two things on it.
    pub fn rule(&mut self) {
        self.gap(2.0);
        let (left, right, y) = (self.room.min().x, self.room.max().x, self.down);
        self.page.on(layer::DRAWING, |page| {
            page.stroke(&Path::line(Coord { x: left, y }, Coord { x: right, y }), &RULE);
        });
        self.gap(4.0);
    }

    /// All pages.
    pub fn finish(mut self) -> Vec<Page> {
        self.done.push(self.page);
        self.done
    }

    /// Width of what can be written on.
    pub fn width(&self) -> f64 {
        self.room.width()
    }

    /// Height of what can be written on.
    pub fn height(&self) -> f64 {
        self.room.height()
    }

    /// Height that is left on the page.
    pub fn left(&self) -> f64 {
        self.down - self.room.min().y
    }

    /// Goes to the next page where so much height is not left.
    pub fn need(&mut self, height: f64) {
        if self.left() >= height {
            return;
        }
        self.new_page();
        let heading = format!("{}, continued", self.heading);
        self.lines(&heading, TEXT);
        self.gap(1.0);
    }

    /// Leaves a gap.
    pub fn gap(&mut self, height: f64) {
        self.down -= height;
    }

    /// Writes a paragraph.
    pub fn words(&mut self, words: &str, size: f64) {
        let count = fitted(words, self.width(), size).len() as f64;
        self.need(count * LINE_STEP * size);
        self.lines(words, size);
        self.gap(0.4 * size);
    }

    fn lines(&mut self, words: &str, size: f64) {
        for line in fitted(words, self.width(), size) {
            let at = Coord { x: self.room.min().x, y: self.down - 0.85 * size };
            self.page.on(layer::TEXT, |page| page.text(&line, at, size, 0.0));
            self.down -= LINE_STEP * size;
        }
    }

    /// Takes room for a drawing, over the whole width, and draws.
    pub fn drawing(&mut self, height: f64, draw: impl FnOnce(&mut Page, Rect<f64>)) {
        self.need(height);
        let top = Coord { x: self.room.max().x, y: self.down };
        let low = Coord { x: self.room.min().x, y: self.down - height };
        draw(&mut self.page, Rect::new(low, top));
        self.gap(height + 2.0);
    }

    /// Writes a table; its head, where it has one, stands again on each page.
    pub fn table(&mut self, table: &Table) {
        let columns = table.columns(self.width(), TEXT);
        let step = ROW * TEXT;
        self.need((table.rows.len().min(2) as f64 + 1.0) * step);
        let mut head = !table.head.iter().all(String::is_empty);
        for row in &table.rows {
            let cells = columns.cells(row);
            let lines = cells.iter().map(Vec::len).max().unwrap_or(1) as f64;
            let height = step + (lines - 1.0) * LINE_STEP * TEXT;
            let before = self.done.len();
            self.need(height);
            if head || (self.done.len() > before && !table.head.is_empty()) {
                self.row(&columns, &columns.cells(&table.head), SMALL, step);
                head = false;
            }
            self.row(&columns, &cells, TEXT, height);
        }
        self.gap(1.5);
    }

    fn row(&mut self, columns: &Columns, cells: &[Vec<String>], size: f64, height: f64) {
        let left = self.room.min().x;
        let top = self.down - 0.5 * (ROW - 1.0) * TEXT;
        self.page.on(layer::TEXT, |page| {
            for (lines, (from, to_the_right)) in cells.iter().zip(columns.starts()) {
                for (index, line) in lines.iter().enumerate() {
                    let back = if to_the_right { text_width(line) * size } else { 0.0 };
                    let y = top - 0.85 * TEXT - index as f64 * LINE_STEP * TEXT;
                    page.text(line, Coord { x: left + from - back, y }, size, 0.0);
                }
            }
        });
        self.down -= height;
        let y = self.down;
        self.page.on(layer::DRAWING, |page| {
            page.stroke(&Path::line(Coord { x: left, y }, Coord { x: left + columns.width(), y }), &HAIRLINE);
        });
    }
}

/// Writes the foot of every page: the job, the cloth, the number of the page.
pub(super) fn feet(pages: &mut [Page], sheets: &MarkOutSheets) {
    let count = pages.len();
    let room = room(sheets.sheet);
    for (index, page) in pages.iter_mut().enumerate() {
        let words = format!("{}; {}; page {} of {count}", sheets.job.name, sheets.cloth_words(), index + 1);
        let (left, right, y) = (room.min().x, room.max().x, room.min().y - 1.5);
        page.on(layer::DRAWING, |page| {
            page.stroke(&Path::line(Coord { x: left, y }, Coord { x: right, y }), &HAIRLINE);
        });
        page.on(layer::TEXT, |page| {
            for (line, words) in [words.as_str(), PLANNING_AID].into_iter().enumerate() {
                let size = SMALL.min(room.width() / text_width(words));
                let down = 1.5 + 0.4 * FOOT * line as f64 + SMALL;
                page.text(words, Coord { x: left, y: room.min().y - down }, size, 0.0);
            }
        });
    }
}
