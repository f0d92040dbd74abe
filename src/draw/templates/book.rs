//! All sheets of a job as one file: contents first, then small templates together, then large ones sheet by sheet.

use std::collections::{BTreeMap, BTreeSet};

use geo_types::Rect;
use rayon::iter::{IntoParallelIterator, IntoParallelRefIterator, ParallelIterator};

use super::contents::{Contents, contents_pages};
use super::foot::draw_foot;
use super::grid::{Tiling, tiling};
use super::lines::draw_lines;
use super::sheet::{LAYERS, Layout};
use super::small::{Laid, SmallSheet, fitting_turn, lay_small};
use super::tiles::Tile;
use super::writing::write;
use crate::draw::paper::PrintSheet;
use crate::draw::pdf::{Document, Page};
use crate::job::Job;
use crate::nest::TaskFault;
use crate::plan::Template;
use crate::shape::Outline;
use crate::wording::counted;

/// A template of more sheets than this is printed only where it is asked for: marked out by its dimensions, it is sooner
/// on the cloth.
const MANY_SHEETS: usize = 12;

/// Height of the contents on a roll, in widths of it: about that of a sheet that stands.
const CONTENTS_HEIGHT: f64 = 1.4;

/// Whether a template of so many sheets is worth gluing: a rectangle is sooner marked out with a straightedge.
fn is_worth_gluing(template: &Template, sheets: usize) -> bool {
    sheets <= if template.is_rectangle() { 1 } else { MANY_SHEETS }
}

/// Names of the pieces whose templates nobody asked for in particular are not printed, since each takes many sheets: more
/// than twelve, or a rectangle more than one.
pub fn large_pieces(templates: &[Template], sheet: &PrintSheet) -> BTreeSet<String> {
    let layout = Layout::of(sheet);
    let room = [layout.drawing.width(), layout.drawing.height()];
    let is_large = |template: &&Template| {
        fitting_turn(template, &layout).is_none()
            && !is_worth_gluing(template, tiling(template, room, sheet.overlap).cells.len())
    };
    templates.par_iter().filter(is_large).map(|template| template.name().to_owned()).collect()
}

/// Where a template is printed.
#[derive(Clone, Debug, PartialEq)]
pub enum Printed {
    /// With others on one sheet.
    Together {
        /// The page, from 1.
        page: usize,
    },
    /// On several sheets.
    Tiled {
        /// The first page and the last.
        pages: [usize; 2],
        /// Rows and columns of the sheets, those among them that carry no line and are not printed.
        grid: [usize; 2],
    },
    /// Not printed, since it takes many sheets and was not asked for.
    LeftOut {
        /// How many it would take.
        sheets: usize,
    },
}

/// A file of templates.
#[derive(Clone, Debug, PartialEq)]
pub struct Book {
    /// The PDF.
    pub file: Vec<u8>,
    /// Where each template is, in their order.
    pub printed: Vec<Printed>,
    /// Pages of contents.
    pub contents: usize,
    /// Sheets on which small templates lie together.
    pub together: usize,
    /// Sheets of large templates.
    pub tiled: usize,
}

/// Draws templates at full size on sheets. Templates of many sheets, and
/// rectangles larger than one, are left out unless `all` are wanted.
///
/// # Errors
/// [`TaskFault`] where small templates cannot be laid together.
pub fn book(job: &Job, templates: &[Template], sheet: &PrintSheet, all: bool) -> Result<Book, TaskFault> {
    let layout = Layout::of(sheet);
    let room = [layout.drawing.width(), layout.drawing.height()];
    let (small, large): (Vec<usize>, Vec<usize>) =
        (0..templates.len()).partition(|index| fitting_turn(&templates[*index], &layout).is_some());
    let tilings: Vec<(usize, Tiling)> =
        large.par_iter().map(|index| (*index, tiling(&templates[*index], room, sheet.overlap))).collect();
    let (glued, left_out): (Vec<_>, Vec<_>) =
        tilings.into_iter().partition(|(index, tiling)| all || is_worth_gluing(&templates[*index], tiling.cells.len()));
    let tiles: Vec<Tile> = glued.iter().flat_map(|(index, tiling)| tiles_of(&templates[*index], tiling)).collect();
    let taken: Vec<Vec<Outline>> = tiles.par_iter().map(|tile| tile.taken(&layout)).collect();
    let laid = lay_small(templates, small, &taken, &layout)?;

    let printed = places(&laid, &glued, &left_out);
    let sheets = laid.sheets.len() + tiles.len();
    // On a roll, contents are read in pages too.
    let page_of_contents = Layout::cut_off(sheet, CONTENTS_HEIGHT * layout.drawing.width());
    let contents = contents_pages(&Contents { job, templates, printed: &printed, sheet, sheets }, &page_of_contents);
    let pages = contents.len() + sheets;
    let printed: Vec<Printed> = printed.iter().map(|place| place.after(contents.len())).collect();
    let details = |page: usize, words: &str| format!("{words}page {page} of {pages}; {}", job.name);
    let first = contents.len() + 1;
    let together: Vec<Page> = (0..laid.sheets.len())
        .into_par_iter()
        .map(|k| together_page(job, templates, &laid.sheets[k], sheet, &details(first + k, "")))
        .collect();
    let first = first + together.len();
    let tile_pages: Vec<Page> = (0..tiles.len())
        .into_par_iter()
        .map(|k| {
            let copies = format!("{}; ", tiles[k].template.copies_words());
            let guests = laid.guests.get(&k);
            let layout = tiles[k].layout(sheet, guests.is_some());
            let mut page = tiles[k].page(&layout, &details(first + k, &copies), job.units);
            if let Some(guests) = guests {
                draw_small(&mut page, job, templates, guests, layout.drawing, 0.0);
            }
            page
        })
        .collect();
    let mut document = Document::new(&format!("{}: templates", job.name), &LAYERS);
    let counts = [contents.len(), together.len(), tile_pages.len()];
    contents.into_iter().chain(together).chain(tile_pages).for_each(|page| document.add(page));
    let [contents, together, tiled] = counts;
    Ok(Book { file: document.finish(), printed, contents, together, tiled })
}

fn tiles_of<'t>(template: &'t Template, tiling: &'t Tiling) -> impl Iterator<Item = Tile<'t>> {
    in_reading_order(tiling).into_iter().map(move |cell| Tile { template, tiling, cell })
}

/// Where each template is printed, by pages without those of contents.
fn places(laid: &Laid, glued: &[(usize, Tiling)], left_out: &[(usize, Tiling)]) -> Vec<Printed> {
    let mut places: BTreeMap<usize, Printed> = BTreeMap::new();
    let mut page = 0;
    for sheet in &laid.sheets {
        page += 1;
        places.extend(sheet.placed.iter().map(|(index, _)| (*index, Printed::Together { page })));
    }
    for (tile, guests) in &laid.guests {
        let page = page + tile + 1;
        places.extend(guests.placed.iter().map(|(index, _)| (*index, Printed::Together { page })));
    }
    for (index, tiling) in glued {
        let pages = [page + 1, page + tiling.cells.len()];
        page = pages[1];
        places.insert(*index, Printed::Tiled { pages, grid: [tiling.count[1], tiling.count[0]] });
    }
    for (index, tiling) in left_out {
        places.insert(*index, Printed::LeftOut { sheets: tiling.cells.len() });
    }
    places.into_values().collect()
}

/// Rows from the top, each from the left.
fn in_reading_order(tiling: &Tiling) -> Vec<[usize; 2]> {
    let mut cells = tiling.cells.clone();
    cells.sort_by_key(|[x, y]| (std::cmp::Reverse(*y), *x));
    cells
}

fn together_page(job: &Job, templates: &[Template], laid: &SmallSheet, sheet: &PrintSheet, details: &str) -> Page {
    let layout = Layout::cut_off(sheet, laid.height);
    let whole = Layout::of(sheet);
    // A stretch of a roll ends higher up than the longest does.
    let up = whole.page[1] - layout.page[1];
    let mut page = Page::new(layout.page);
    draw_small(&mut page, job, templates, laid, layout.drawing, up);
    let title = counted(laid.placed.len(), "template", "templates");
    let mut numbers: Vec<usize> = laid.placed.iter().map(|(index, _)| templates[*index].number).collect();
    numbers.sort_unstable();
    let numbers: Vec<String> = numbers.iter().map(usize::to_string).collect();
    draw_foot(&mut page, &layout, &format!("{title}: {}", numbers.join(", ")), details);
    page
}

/// Draws small templates where they lie; on a page that is so much shorter than the whole sheet.
fn draw_small(page: &mut Page, job: &Job, templates: &[Template], laid: &SmallSheet, room: Rect<f64>, shorter: f64) {
    for (index, pose) in &laid.placed {
        let mut pose = *pose;
        pose.at.y -= shorter;
        let template = templates[*index].carried(&pose);
        draw_lines(page, &template, room);
        write(page, &template, std::slice::from_ref(template.cut.polygon()), room, job.units);
    }
}

impl Printed {
    /// The same with other pages before.
    pub(super) fn after(&self, before: usize) -> Self {
        match self {
            Self::Together { page } => Self::Together { page: page + before },
            Self::Tiled { pages, grid } => Self::Tiled { pages: pages.map(|page| page + before), grid: *grid },
            Self::LeftOut { sheets } => Self::LeftOut { sheets: *sheets },
        }
    }

    /// `page 4`, `pages 7 to 12`, `not printed: 62 sheets`.
    pub fn words(&self) -> String {
        match self {
            Self::Together { page } => format!("page {page}"),
            Self::Tiled { pages: [first, last], .. } if first == last => format!("page {first}"),
            Self::Tiled { pages: [first, last], grid: [rows, columns] } => {
                format!("pages {first} to {last}, {rows} × {columns}")
            }
            Self::LeftOut { sheets } => format!("not printed: {sheets} sheets"),
        }
    }
}
