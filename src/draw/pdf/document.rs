//! Pages bound into a file.

use std::collections::BTreeSet;

use miniz_oxide::deflate::compress_to_vec_zlib;
use pdf_writer::{Filter, Finish, Name, Pdf, Rect, Ref, TextStr};

use super::POINTS;
use super::font::{FontRefs, PACKING, embed};
use super::page::Page;

/// The name of the font in every page.
pub(super) const FONT: Name = Name(b"F0");

/// A document: its title, its layers, its pages.
pub(in crate::draw) struct Document {
    title: String,
    layers: Vec<&'static str>,
    pages: Vec<Page>,
}

/// Numbers objects one after the other.
struct Numbers(i32);

impl Numbers {
    fn next(&mut self) -> Ref {
        self.0 += 1;
        Ref::new(self.0)
    }
}

impl Document {
    /// A document without pages, with the layers that its pages draw on, by their places in the list.
    pub fn new(title: &str, layers: &[&'static str]) -> Self {
        Self { title: title.to_owned(), layers: layers.to_vec(), pages: Vec::new() }
    }

    /// Adds a page at the end.
    pub fn add(&mut self, page: Page) {
        self.pages.push(page);
    }

    /// The file.
    pub fn finish(self) -> Vec<u8> {
        let mut pdf = Pdf::new();
        let mut numbers = Numbers(0);
        let [catalog, tree, info] = [numbers.next(), numbers.next(), numbers.next()];
        let font = FontRefs {
            font: numbers.next(),
            part: numbers.next(),
            descriptor: numbers.next(),
            file: numbers.next(),
            letters: numbers.next(),
            map: numbers.next(),
        };
        let layers: Vec<Ref> = self.layers.iter().map(|_| numbers.next()).collect();
        let pages: Vec<[Ref; 2]> = self.pages.iter().map(|_| [numbers.next(), numbers.next()]).collect();

        write_catalog(&mut pdf, catalog, tree, &layers);
        pdf.document_info(info).title(TextStr(&self.title)).creator(TextStr("clothwright"));
        for (layer, name) in layers.iter().zip(&self.layers) {
            let mut group = pdf.indirect(*layer).dict();
            group.pair(Name(b"Type"), Name(b"OCG")).pair(Name(b"Name"), TextStr(name));
        }
        pdf.pages(tree).kids(pages.iter().map(|[page, _]| *page)).count(pages.len() as i32);
        let mut used = BTreeSet::new();
        for (page, [id, content]) in self.pages.into_iter().zip(pages) {
            write_page(&mut pdf, page.size(), [id, content, tree], font.font, &layers);
            let (letters, drawn) = page.into_content();
            used.extend(letters);
            pdf.stream(content, &compress_to_vec_zlib(&drawn, PACKING)).filter(Filter::FlateDecode);
        }
        embed(&mut pdf, &font, &used);
        pdf.finish()
    }
}

fn write_catalog(pdf: &mut Pdf, catalog: Ref, tree: Ref, layers: &[Ref]) {
    let mut catalog = pdf.catalog(catalog);
    catalog.pages(tree);
    // A print that is fitted to the paper is no longer true to size.
    catalog.viewer_preferences().display_doc_title(true).pair(Name(b"PrintScaling"), Name(b"None"));
    let mut content = catalog.insert(Name(b"OCProperties")).dict();
    content.insert(Name(b"OCGs")).array().items(layers.iter().copied());
    let mut shown = content.insert(Name(b"D")).dict();
    shown.pair(Name(b"BaseState"), Name(b"ON"));
    shown.insert(Name(b"Order")).array().items(layers.iter().copied());
    shown.finish();
    content.finish();
}

fn write_page(pdf: &mut Pdf, size: [f64; 2], [id, content, tree]: [Ref; 3], font: Ref, layers: &[Ref]) {
    let [width, height] = size.map(|length| (length * POINTS) as f32);
    let sheet = Rect::new(0.0, 0.0, width, height);
    let mut page = pdf.page(id);
    page.parent(tree).media_box(sheet).crop_box(sheet).trim_box(sheet).contents(content);
    let mut resources = page.resources();
    resources.fonts().pair(FONT, font);
    let mut properties = resources.insert(Name(b"Properties")).dict();
    for (index, layer) in layers.iter().enumerate() {
        properties.pair(Name(&layer_name(index)), *layer);
    }
}

/// The name of a layer in the resources of a page.
pub(super) fn layer_name(layer: usize) -> Vec<u8> {
    format!("L{layer}").into_bytes()
}
