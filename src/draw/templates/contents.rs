//! The first pages: how to print, check lengths, and every template small, with where it is.

use geo_types::{Coord, Rect};

use super::book::Printed;
use super::foot::{CHECK, CHECK_INCHES, check_length, draw_foot};
use super::lines::{layer_of, pen};
use super::sheet::{Layout, layer};
use crate::draw::lettering::LINE_STEP;
use crate::draw::paper::PrintSheet;
use crate::draw::pdf::Page;
use crate::draw::title_block::wrapped;
use crate::job::{Edge, Job};
use crate::plan::{LineKind, PLANNING_AID, Template};
use crate::shape::{Path, Pose};
use crate::wording::counted;

/// The sentence that stands before everything.
const PRINT_TRUE: &str = "Print at 100 %, never fitted to the page, and measure the check lengths first, in both \
                          directions: if one is off by more than half a millimetre, do not cut.";
const GLUE: &str = "Sheets of a large template: cut each off along its frame where another sheet joins it at the left or \
                    above, lay it on that sheet so that the ringed crosses fall on each other, and glue.";
const LINES: &str = "The triangles on a cut line point to the side that is kept. A pinked piece is measured from tip to tip, \
                     along the dotted line. Edges are not enlarged for shrinkage; what is dashed inside a piece is cut after \
                     shrinking.";

/// Sizes of letters, in millimetres.
const TITLE: f64 = 5.0;
const TEXT: f64 = 2.8;
const SMALL: f64 = 2.2;
/// Side of the square that a template is drawn small in, and least width of a column, in millimetres.
const PICTURE: f64 = 22.0;
const COLUMN: f64 = 86.0;
const BETWEEN: f64 = 4.0;
/// Width that the upright check lengths take.
const UPRIGHTS: f64 = 22.0;
/// How coarsely lines are drawn small, in millimetres of the page.
const COARSE: f64 = 0.05;

/// What the contents tell.
pub(super) struct Contents<'c> {
    pub job: &'c Job,
    pub templates: &'c [Template],
    pub printed: &'c [Printed],
    pub sheet: &'c PrintSheet,
    /// Sheets beside the contents.
    pub sheets: usize,
}

/// Pages at work: where the next entry goes.
struct Flow<'l> {
    layout: &'l Layout,
    pages: Vec<Page>,
    columns: usize,
    column: usize,
    /// Where the first column, those between and the last one begin.
    tops: Tops,
    down: f64,
}

/// How far down a page the columns begin: the last one below the upright check lengths.
#[derive(Clone, Copy)]
struct Tops {
    last: f64,
    others: f64,
}

/// Draws the contents.
pub(super) fn contents_pages(contents: &Contents, layout: &Layout) -> Vec<Page> {
    // How many pages there are is known when they are laid out; the places of templates move behind them.
    let mut count = 1;
    loop {
        let pages = laid_out(contents, layout, count);
        if pages.len() == count {
            return pages;
        }
        count = pages.len();
    }
}

/// The room of a page beside its upright check length.
fn beside_upright(layout: &Layout) -> Rect<f64> {
    let low = layout.drawing.min();
    Rect::new(Coord { x: layout.upright.max().x + 1.0, y: low.y }, layout.drawing.max())
}

fn laid_out(contents: &Contents, layout: &Layout, count: usize) -> Vec<Page> {
    let mut first = Page::new(layout.page);
    let tops = heading(&mut first, contents, layout, count);
    let columns = ((beside_upright(layout).width() + BETWEEN) / (COLUMN + BETWEEN)).floor().max(1.0) as usize;
    let mut flow = Flow { layout, pages: vec![first], columns, column: 0, tops, down: 0.0 };
    flow.down = flow.top();
    for (template, printed) in contents.templates.iter().zip(contents.printed) {
        flow.entry(contents, template, &printed.after(count));
    }
    let all = count + contents.sheets;
    let mut pages = flow.pages;
    for (index, page) in pages.iter_mut().enumerate() {
        let title = format!("Contents, page {} of {all}", index + 1);
        draw_foot(page, layout, &title, &contents.job.name);
    }
    pages
}

/// Title, how to print, check lengths of 100 mm and 4 in; gives how far down the page the entries begin.
fn heading(page: &mut Page, contents: &Contents, layout: &Layout, count: usize) -> Tops {
    let room = beside_upright(layout);
    let (left, top, room) = (room.min().x, room.max().y, room.width() - 2.0);
    let (mut down, mut uprights) = (top - TITLE, top);
    let words = |page: &mut Page, text: &str, size: f64, room: f64, down: &mut f64| {
        for line in wrapped(text, room / size) {
            page.text(&line, Coord { x: left, y: *down }, size, 0.0);
            *down -= LINE_STEP * size;
        }
        *down -= 0.4 * size;
    };
    page.on(layer::TEXT, |page| {
        words(page, &format!("{}: templates", contents.job.name), TITLE, room, &mut down);
        let sheets = format!(
            "{} at full size on {}: {}, of them {} of contents.",
            counted(contents.templates.len(), "template", "templates"),
            contents.sheet.name,
            counted(contents.sheets + count, "page", "pages"),
            count
        );
        words(page, &sheets, TEXT, room, &mut down);
        words(page, PRINT_TRUE, 1.25 * TEXT, room, &mut down);
        // The upright lengths stand beside the other words.
        let (beside, from) = (room - UPRIGHTS, down);
        words(page, GLUE, TEXT, beside, &mut down);
        words(page, LINES, TEXT, beside, &mut down);
        words(page, PLANNING_AID, TEXT, beside, &mut down);
        let lengths = [(CHECK, "100 mm, to be measured"), (CHECK_INCHES, "4 in, to be measured")];
        for (index, (length, told)) in lengths.into_iter().enumerate() {
            down -= 5.0;
            check_length(page, Coord { x: left, y: down }, length, false, told);
            down -= 2.0;
            let x = left + room - 12.0 + 10.0 * index as f64;
            check_length(page, Coord { x, y: from - CHECK_INCHES }, length, true, told);
        }
        down = legend(page, contents.templates, Coord { x: left, y: down }, beside);
        uprights = from - CHECK_INCHES - 4.0;
    });
    Tops { last: down.min(uprights), others: down }
}

/// What the lines mean; only those that are there.
fn legend(page: &mut Page, templates: &[Template], at: Coord<f64>, room: f64) -> f64 {
    let used = |kind: &LineKind| templates.iter().any(|template| template.lines.iter().any(|line| line.kind == *kind));
    let (mut x, mut y) = (at.x, at.y - 4.0);
    for kind in LineKind::ALL.into_iter().filter(used) {
        let width = 16.0 + crate::draw::pdf::text_width(kind.words()) * SMALL + 5.0;
        if x + width > at.x + room && x > at.x {
            (x, y) = (at.x, y - 4.0);
        }
        let middle = y + 0.35 * SMALL;
        page.stroke(&Path::line(Coord { x, y: middle }, Coord { x: x + 14.0, y: middle }), &pen(kind, false));
        page.text(kind.words(), Coord { x: x + 16.0, y }, SMALL, 0.0);
        x += width;
    }
    y - 4.0
}

impl Flow<'_> {
    /// Where the column at work begins.
    fn top(&self) -> f64 {
        if self.column + 1 == self.columns { self.tops.last } else { self.tops.others }
    }

    /// One template: small, with its words beside it.
    fn entry(&mut self, contents: &Contents, template: &Template, printed: &Printed) {
        let across = beside_upright(self.layout);
        let width = (across.width() + BETWEEN) / self.columns as f64 - BETWEEN;
        let room = (width - PICTURE - 3.0) / SMALL;
        let title = template.title();
        let mut lines: Vec<(String, f64)> =
            wrapped(&title, room / 1.2).into_iter().map(|line| (line, 1.2 * SMALL)).collect();
        let figures = template.figures().into_iter().map(str::to_owned);
        let words = std::iter::once(printed.words()).chain(template.words(contents.job.units)).chain(figures);
        lines.extend(words.flat_map(|words| wrapped(&words, room)).map(|line| (line, SMALL)));
        let high: f64 = lines.iter().map(|(_, size)| size * LINE_STEP).sum();
        let height = high.max(PICTURE) + BETWEEN;
        self.make_room(height);
        let corner = Coord { x: across.min().x + self.column as f64 * (width + BETWEEN), y: self.down };
        let Some(page) = self.pages.last_mut() else { return };
        picture(page, template, corner);
        page.on(layer::TEXT, |page| {
            let mut y = corner.y;
            for (line, size) in &lines {
                page.text(line, Coord { x: corner.x + PICTURE + 3.0, y: y - 0.85 * size }, *size, 0.0);
                y -= LINE_STEP * size;
            }
        });
        self.down -= height;
    }

    /// Goes to the next column or the next page where an entry has no room; one that is higher than a page runs off it.
    fn make_room(&mut self, height: f64) {
        let foot = self.layout.drawing.min().y;
        let high = self.layout.drawing.max().y;
        if self.down - height >= foot || self.down >= high {
            return;
        }
        if self.column + 1 < self.columns {
            self.column += 1;
        } else {
            self.pages.push(Page::new(self.layout.page));
            self.column = 0;
            self.tops = Tops { last: high, others: high };
        }
        self.down = self.top();
    }
}

/// The lines of a template in a square.
fn picture(page: &mut Page, template: &Template, corner: Coord<f64>) {
    let [low, high] = template.corners();
    let size = high - low;
    let scale = (PICTURE - 1.0) / size.x.max(size.y);
    let middle = Coord { x: corner.x + PICTURE / 2.0, y: corner.y - PICTURE / 2.0 };
    let shift = Pose { at: (low + high) / -2.0, ..Pose::unmoved() };
    let pinked = matches!(template.edge, Edge::Pinked(_));
    // Teeth would be a smear at this size: the line from tip to tip stands for them.
    for line in template.lines.iter().filter(|line| line.kind != LineKind::Teeth) {
        let points: Vec<Coord<f64>> =
            line.path.carried(&shift).points(COARSE / scale).into_iter().map(|point| middle + point * scale).collect();
        if let Some(path) = Path::through(&points) {
            let pen = pen(line.kind, pinked && line.kind != LineKind::Cut);
            page.on(layer_of(line.kind), |page| page.stroke(&path, &pen));
        }
    }
}
