//! The sheets of a large template: each a part of it, with marks by which they are glued together.

use geo::{BooleanOps, BoundingRect};
use geo_types::{Coord, Polygon, Rect};

use super::carried_on;
use super::foot::{FRAME, draw_foot};
use super::grid::{Cell, Tiling};
use super::lines::draw_lines;
use super::sheet::{Layout, layer};
use super::writing::write;
use crate::draw::paper::PrintSheet;
use crate::draw::pdf::{Page, Pen};
use crate::plan::{LineKind, Template};
use crate::shape::{Outline, Path, Pose};
use crate::units::Units;

/// Marks on each edge that two sheets share, by their places along it.
const MARKS_AT: [f64; 3] = [0.15, 0.5, 0.85];
/// Radius of the ring of a mark, and half the length of its cross, in millimetres.
const MARK: [f64; 2] = [1.6, 3.2];
const MARK_PEN: Pen = Pen { width: 0.13, dash: &[], ink: [0.0; 3] };
const SMALL: f64 = 2.0;
/// Grey of the sheet's own place in the miniature.
const HERE: [f64; 3] = [0.75; 3];
/// How coarsely an outline is drawn in a miniature, in millimetres of the template.
const COARSE: f64 = 2.0;

/// What a sheet of a large template belongs to.
pub(super) struct Tile<'t> {
    pub template: &'t Template,
    pub tiling: &'t Tiling,
    pub cell: Cell,
}

impl Tile<'_> {
    /// `row 2, column 3`: rows from the top, columns from the left.
    pub fn place_words(&self) -> String {
        place_words(self.tiling, self.cell)
    }

    fn printed(&self, cell: Option<Cell>) -> Option<Cell> {
        cell.filter(|cell| self.tiling.cells.contains(cell))
    }

    fn left(&self) -> Option<Cell> {
        self.printed(self.cell[0].checked_sub(1).map(|x| [x, self.cell[1]]))
    }

    fn right(&self) -> Option<Cell> {
        self.printed(Some([self.cell[0] + 1, self.cell[1]]))
    }

    fn below(&self) -> Option<Cell> {
        self.printed(self.cell[1].checked_sub(1).map(|y| [self.cell[0], y]))
    }

    fn above(&self) -> Option<Cell> {
        self.printed(Some([self.cell[0], self.cell[1] + 1]))
    }

    /// The layout of its page: of a roll, no more than the template needs where nothing else is on it.
    pub fn layout(&self, sheet: &PrintSheet, has_guests: bool) -> Layout {
        let whole = Layout::of(sheet);
        if has_guests || self.above().is_some() {
            return whole;
        }
        let parts = self.on_page(&whole).cut.polygon().intersection(&whole.drawing.to_polygon());
        let top = parts.bounding_rect().map_or(whole.drawing.max().y, |bounds| bounds.max().y);
        Layout::cut_off(sheet, top - whole.drawing.min().y)
    }

    /// What on the sheet no other template may lie on, in page coordinates: the template itself, with its holes, and what
    /// is glued.
    pub fn taken(&self, layout: &Layout) -> Vec<Outline> {
        let (frame, template) = (layout.drawing, self.on_page(layout));
        let bands = self.glued(frame).map(|(neighbour, band)| neighbour.map(|_| band.to_polygon()));
        let parts = template.cut.polygon().intersection(&frame.to_polygon()).0;
        let filled = parts.into_iter().map(|part| Polygon::new(part.exterior().clone(), Vec::new()));
        filled.chain(bands.into_iter().flatten()).filter_map(|polygon| Outline::new(polygon).ok()).collect()
    }

    /// The sheets at the left, at the right, below and above, as far as they are printed, with what lies on or under them.
    fn glued(&self, frame: Rect<f64>) -> [(Option<Cell>, Rect<f64>); 4] {
        let (low, high) = (frame.min(), frame.max());
        let [across, up] = [0, 1].map(|axis| self.tiling.room[axis] - self.tiling.step[axis]);
        [
            (self.left(), Rect::new(low, Coord { x: low.x + across, y: high.y })),
            (self.right(), Rect::new(Coord { x: high.x - across, y: low.y }, high)),
            (self.below(), Rect::new(low, Coord { x: high.x, y: low.y + up })),
            (self.above(), Rect::new(Coord { x: low.x, y: high.y - up }, high)),
        ]
    }

    /// What of the template may be written on: not where sheets are glued, if there is anything else.
    fn written_on(&self, template: &Template, frame: Rect<f64>) -> Vec<Polygon<f64>> {
        let whole = template.cut.polygon().intersection(&frame.to_polygon());
        let bands = self.glued(frame).into_iter().filter(|(neighbour, _)| neighbour.is_some());
        let free = bands.fold(whole.clone(), |free, (_, band)| free.difference(&band.to_polygon()));
        if free.0.is_empty() { whole.0 } else { free.0 }
    }

    fn on_page(&self, layout: &Layout) -> Template {
        let corner = |axis: usize| self.cell[axis] as f64 * self.tiling.step[axis];
        let on_page = Pose { at: layout.drawing.min() - Coord { x: corner(0), y: corner(1) }, ..Pose::unmoved() };
        self.template.carried(&carried_on(&self.tiling.pose, &on_page))
    }

    /// Draws the sheet, without what else may lie on it.
    pub fn page(&self, layout: &Layout, details: &str, units: Units) -> Page {
        let mut page = Page::new(layout.page);
        let (frame, template) = (layout.drawing, self.on_page(layout));
        page.within(frame, |page| {
            draw_lines(page, &template, frame);
            write(page, &template, &self.written_on(&template, frame), frame, units);
        });
        page.on(layer::SHEET, |page| {
            page.stroke(&outline_of(frame), &FRAME);
            self.marks(page, frame);
        });
        let [across, up] = self.tiling.count;
        let title = self.template.title();
        let details = format!("{} of {up} × {across}; {details}", self.place_words());
        let spare = draw_foot(&mut page, layout, &title, &details);
        page.on(layer::SHEET, |page| self.miniature(page, spare));
        page
    }

    /// Crosses in the middle of each overlap, the same on both sheets, with the name of the other.
    fn marks(&self, page: &mut Page, frame: Rect<f64>) {
        let low = frame.min();
        for (side, (neighbour, band)) in self.glued(frame).into_iter().enumerate() {
            let Some(neighbour) = neighbour else { continue };
            let (middle, upright) = (band.center(), side < 2);
            let place = if upright { middle.x } else { middle.y };
            for share in MARKS_AT {
                let at = match upright {
                    true => Coord { x: place, y: low.y + share * frame.height() },
                    false => Coord { x: low.x + share * frame.width(), y: place },
                };
                cross(page, at);
            }
            let words = format!("to {}", place_words(self.tiling, neighbour));
            let at = match upright {
                true => Coord { x: place + 0.35 * SMALL, y: low.y + 0.25 * frame.height() },
                false => Coord { x: low.x + 0.25 * frame.width(), y: place - 0.35 * SMALL },
            };
            page.text(&words, at, SMALL, if upright { 90.0 } else { 0.0 });
        }
    }

    /// The whole template small, with the sheets that are printed; this one is dark.
    fn miniature(&self, page: &mut Page, room: Rect<f64>) {
        let [across, up] =
            [0, 1].map(|axis| (self.tiling.count[axis] - 1) as f64 * self.tiling.step[axis] + self.tiling.room[axis]);
        let scale = (room.width() / across).min(room.height() / up);
        let from = Coord { x: room.max().x - across * scale, y: room.min().y };
        let small = |point: Coord<f64>| from + point * scale;
        let cell_path = |cell: &Cell| {
            let corner = Coord { x: cell[0] as f64 * self.tiling.step[0], y: cell[1] as f64 * self.tiling.step[1] };
            let size = Coord { x: self.tiling.room[0], y: self.tiling.room[1] };
            outline_of(Rect::new(small(corner), small(corner + size)))
        };
        page.fill(&[cell_path(&self.cell)], HERE);
        self.tiling.cells.iter().for_each(|cell| page.stroke(&cell_path(cell), &FRAME));
        for line in self.template.lines.iter().filter(|line| line.kind == LineKind::Cut) {
            let points: Vec<Coord<f64>> =
                line.path.carried(&self.tiling.pose).points(COARSE).into_iter().map(small).collect();
            if let Some(path) = Path::through(&points) {
                page.stroke(&path, &MARK_PEN);
            }
        }
    }
}

/// `row 2, column 3`: rows from the top, columns from the left.
pub(super) fn place_words(tiling: &Tiling, [x, y]: Cell) -> String {
    format!("row {}, column {}", tiling.count[1] - y, x + 1)
}

fn cross(page: &mut Page, at: Coord<f64>) {
    let [radius, arm] = MARK;
    let ring = crate::shape::Curve::circle(2.0 * radius).shifted(at).paths();
    ring.iter().for_each(|ring| page.stroke(ring, &MARK_PEN));
    for along in [Coord { x: arm, y: 0.0 }, Coord { x: 0.0, y: arm }] {
        page.stroke(&Path::line(at - along, at + along), &MARK_PEN);
    }
}

/// The edge of a rectangle.
pub(super) fn outline_of(frame: Rect<f64>) -> Path {
    let polygon: Polygon<f64> = frame.to_polygon();
    Path::ring(polygon.exterior()).unwrap_or_else(|| Path::line(frame.min(), frame.max()))
}
