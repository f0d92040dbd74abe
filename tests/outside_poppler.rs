//! Templates measured as they come out of a printer: drawn at 300 dpi by poppler (Debian's `poppler-utils`), an
//! independent reader of PDF.

use std::process::Command;

use clothwright::covering::cover;
use clothwright::draw::{Margins, Paper, PrintSheet, book};
use clothwright::job::read_text;
use clothwright::plan::{TemplateChoice, templates};

const DPI: f64 = 300.0;
const DOT: f64 = 25.4 / DPI;
/// What a measured length may be off, in millimetres.
const TRUE: f64 = 0.2;
/// Width of a cut line, half of it on each side.
const LINE: f64 = 0.3;
/// A dot darker than this is ink.
const INK: u8 = 128;

/// A page in grey.
struct Raster {
    width: usize,
    height: usize,
    dots: Vec<u8>,
}

impl Raster {
    fn is_ink(&self, x: usize, y: usize) -> bool {
        self.dots[y * self.width + x] < INK
    }

    /// The box round all ink within a part of the page, in millimetres: left, top, right, bottom, from its upper left.
    fn extent(&self, [left, top, right, bottom]: [f64; 4]) -> [f64; 4] {
        let dot = |mm: f64, most: usize| ((mm / DOT) as usize).min(most);
        let mut found = [f64::INFINITY, f64::INFINITY, f64::NEG_INFINITY, f64::NEG_INFINITY];
        for y in dot(top, self.height)..dot(bottom, self.height) {
            for x in dot(left, self.width)..dot(right, self.width) {
                if self.is_ink(x, y) {
                    let [x, y] = [x, y].map(|dots| dots as f64 * DOT);
                    found = [found[0].min(x), found[1].min(y), found[2].max(x + DOT), found[3].max(y + DOT)];
                }
            }
        }
        found
    }
}

/// A page of a job with one piece, drawn by poppler.
fn drawn(outline: &str, page: usize) -> Raster {
    let text = format!(
        r#"{{ "format": 1, "units": "mm", "name": "Dunlin", "cloth": [ {{ "name": "roll", "width": 1780 }} ],
           "pieces": [ {{ "name": "patch", "outline": {outline}, "grain": "along" }} ] }}"#
    );
    let job = read_text("job.json", &text).expect("the test's own job is sound").job;
    let made = templates(&job, &cover(&job).expect("nothing to cover"), &TemplateChoice::default(), false);
    let sheet = PrintSheet::new(Paper::parse("a4").expect("A4"), None, Margins::all(6.0), 10.0).expect("a sheet");
    let book = book(&job, &made.expect("a template"), &sheet, true).expect("a book");
    let folder = tempfile::tempdir().expect("a folder");
    let file = folder.path().join("templates.pdf");
    std::fs::write(&file, &book.file).expect("a file");
    let number = page.to_string();
    let ran = Command::new("pdftoppm")
        .args(["-gray", "-r", "300", "-f", &number, "-l", &number, "-singlefile"])
        .args([&file, &folder.path().join("page")])
        .status()
        .expect("pdftoppm of poppler-utils is installed");
    assert!(ran.success());
    read_pgm(&std::fs::read(folder.path().join("page.pgm")).expect("a page"))
}

/// A binary PGM: `P5`, width, height, greatest value, dots.
fn read_pgm(bytes: &[u8]) -> Raster {
    let mut words = Vec::new();
    let mut at = 0;
    while words.len() < 4 {
        let end = at + bytes[at..].iter().position(u8::is_ascii_whitespace).expect("a head");
        words.push(std::str::from_utf8(&bytes[at..end]).expect("ASCII").to_owned());
        at = end + 1;
    }
    assert_eq!((words[0].as_str(), words[3].as_str()), ("P5", "255"));
    let [width, height] = [&words[1], &words[2]].map(|word| word.parse().expect("a number"));
    Raster { width, height, dots: bytes[at..].to_vec() }
}

fn assert_true(found: f64, wanted: f64, what: &str) {
    assert!((found - wanted).abs() < TRUE, "{what}: {found:.2} mm for {wanted} mm");
}

#[test]
fn the_check_lengths_measure_right() {
    let page = drawn(r#"{ "circle": 120 }"#, 2);
    // The level one is the lowest ink on the page, the upright one the leftmost above the foot.
    let [left, _, right, bottom] = page.extent([0.0, 285.0, 110.0, 297.0]);
    let line = 0.2;
    assert_true(right - left, 100.0 + line, "level");
    assert!(bottom < 297.0 - 6.0 + 0.1, "nothing is drawn in the margin");
    let [_, top, _, bottom] = page.extent([5.5, 150.0, 6.6, 281.5]);
    assert_true(bottom - top, 100.0 + line, "upright");
}

#[test]
fn the_outlines_of_known_pieces_measure_right() {
    let known = [
        (r#"{ "circle": 120 }"#, [120.0, 120.0]),
        (r#"{ "rect": [150, 90] }"#, [150.0, 90.0]),
        (r#"{ "path": "M 0 0 H 100 A 40 40 0 0 1 100 80 H 0 Z" }"#, [140.0, 80.0]),
    ];
    for (outline, size) in known {
        let page = drawn(outline, 2);
        // Above the foot and the upright check length, whatever way the piece was turned.
        let [left, top, right, bottom] = page.extent([5.0, 5.0, 205.0, 175.0]);
        let mut found = [right - left - LINE, bottom - top - LINE];
        let mut wanted = size;
        found.sort_by(f64::total_cmp);
        wanted.sort_by(f64::total_cmp);
        assert_true(found[0], wanted[0], outline);
        assert_true(found[1], wanted[1], outline);
    }
}
