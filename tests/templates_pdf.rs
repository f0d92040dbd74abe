//! Sheets of templates are true to size, carry their check lengths, and restore a large template when they are glued.
//! What they draw is read with a general library (lopdf), without the program's own code.

#[path = "support/pages.rs"]
mod pages;

use std::f64::consts::PI;

use clothwright::covering::cover;
use clothwright::draw::{Book, Margins, Orientation, Paper, PrintSheet, Printed, book};
use clothwright::job::{Job, read_text};
use clothwright::plan::{Template, TemplateChoice, templates};
use geo::{Distance, Euclidean, Line};
use geo_types::Point as GeoPoint;
use pages::{Point, ReadPage, font_files, layers, read};

/// A doily, a panel that takes several sheets of A4, with a hole, and a gusset.
const JOB: &str = r#"{ "format": 1, "units": "mm", "name": "Dunlin patches", "cloth": [ { "name": "roll", "width": 1780 } ],
  "pieces": [
    { "name": "doily", "outline": { "circle": 165 }, "quantity": 24, "edge": "pinked" },
    { "name": "deck", "outline": { "path": "M 0 0 C 200 -60 420 -40 640 30 L 600 400 Q 300 520 20 380 Z M 250 150 L 250 250 L 350 250 L 350 150 Z" } },
    { "name": "gusset", "outline": { "polygon": [[0, 0], [140, 0], [0, 110]] }, "quantity": 4 } ] }"#;

/// The same without what could lie in the free room of its sheets.
const DECK: &str = r#"{ "format": 1, "units": "mm", "name": "Dunlin deck", "cloth": [ { "name": "roll", "width": 1780 } ],
  "pieces": [
    { "name": "deck", "outline": { "path": "M 0 0 C 200 -60 420 -40 640 30 L 600 400 Q 300 520 20 380 Z M 250 150 L 250 250 L 350 250 L 350 150 Z" } } ] }"#;

fn job(text: &str) -> Job {
    read_text("job.json", text).expect("the test's own job is sound").job
}

fn all_templates(job: &Job) -> Vec<Template> {
    let covering = cover(job).expect("it can be covered");
    templates(job, &covering, &TemplateChoice::default(), false).expect("templates")
}

fn on(paper: &str, overlap: f64) -> PrintSheet {
    let paper = Paper::parse(paper).expect("a paper");
    PrintSheet::new(paper, None, Margins::all(6.0), overlap).expect("a sheet")
}

fn printed(text: &str, sheet: &PrintSheet) -> (Vec<Template>, Book, Vec<ReadPage>) {
    let job = job(text);
    let templates = all_templates(&job);
    let book = book(&job, &templates, sheet, true).expect("a book");
    let pages = read(&book.file);
    (templates, book, pages)
}

/// Straight strokes of a length on a layer: level and upright.
fn straight(page: &ReadPage, layer: &str, length: f64) -> [usize; 2] {
    let along = |axis: usize| {
        let runs = page.on(layer).filter_map(|stroke| match stroke.pieces[..] {
            [[from, to]] => Some([(to[axis] - from[axis]).abs(), (to[1 - axis] - from[1 - axis]).abs()]),
            _ => None,
        });
        runs.filter(|[long, wide]| (long - length).abs() < 0.02 && *wide < 0.001).count()
    };
    [along(0), along(1)]
}

#[test]
fn page_boxes_are_those_of_the_standards() {
    // ISO 216: A series in millimetres. ASME Y14.1: sizes A to E in inches. Legal, 8.5 × 14 in: common practice, no source.
    let inches = |width: f64, height: f64| [width * 25.4, height * 25.4];
    let sheets = [
        ("a4", [210.0, 297.0]),
        ("A3", [297.0, 420.0]),
        ("a2", [420.0, 594.0]),
        ("a1", [594.0, 841.0]),
        ("a0", [841.0, 1189.0]),
        ("letter", inches(8.5, 11.0)),
        ("legal", inches(8.5, 14.0)),
        ("ansi-a", inches(8.5, 11.0)),
        ("ansi b", inches(11.0, 17.0)),
        ("ANSI-C", inches(17.0, 22.0)),
        ("ansi-d", inches(22.0, 34.0)),
        ("ansi-e", inches(34.0, 44.0)),
        ("600x900", [600.0, 900.0]),
        ("24x36 in", inches(24.0, 36.0)),
    ];
    let job = job(&JOB.replace("\"deck\"", "\"deck \""));
    let small: Vec<Template> = all_templates(&job).into_iter().filter(|template| template.name() != "deck ").collect();
    for (name, size) in sheets {
        let book = book(&job, &small, &on(name, 10.0), false).expect("a book");
        for page in read(&book.file) {
            for found in page.boxes {
                assert!((0..2).all(|axis| (found[axis] - size[axis]).abs() < 0.1), "{name}: {found:?} for {size:?}");
            }
        }
    }
    let lying = PrintSheet::new(Paper::parse("a4").expect("A4"), Some(Orientation::Landscape), Margins::all(6.0), 10.0);
    let book = book(&job, &small, &lying.expect("a sheet"), false).expect("a book");
    assert!(read(&book.file).iter().all(|page| (page.boxes[0][0] - 297.0).abs() < 0.1));
}

#[test]
fn every_sheet_carries_its_check_lengths_and_the_first_one_says_what_to_do() {
    let (_, _, pages) = printed(JOB, &on("a4", 10.0));
    for (index, page) in pages.iter().enumerate() {
        let [level, upright] = straight(page, "sheet", 100.0);
        assert!(level >= 1 && upright >= 1, "page {}: {level} level, {upright} upright", index + 1);
    }
    // On the first page 100 mm once more, and 4 in, both ways.
    assert_eq!(straight(&pages[0], "text", 100.0), [1, 1]);
    assert_eq!(straight(&pages[0], "text", 4.0 * 25.4), [1, 1]);
    assert!(pages[0].says("Print at 100 %") && pages[0].says("measure"), "{:?}", pages[0].texts);
    assert!(pages[0].says("Planning aid, not approved data"));
    for name in ["1  doily", "2  deck", "3  gusset"] {
        assert!(pages[0].texts.iter().any(|text| text.replace("  ", " ") == name.replace("  ", " ")), "{name}");
    }
}

#[test]
fn a_file_has_a_layer_for_each_kind_of_line_and_one_small_embedded_font() {
    let (_, book, pages) = printed(JOB, &on("a4", 10.0));
    assert_eq!(layers(&book.file), ["cut line", "wrap and lap lines", "member lines", "text", "sheet"]);
    let fonts = font_files(&book.file);
    assert!(matches!(fonts[..], [size] if size < 60_000), "{fonts:?}");
    assert!(book.file.len() < 60_000 + 8_000 * pages.len(), "{} bytes for {} pages", book.file.len(), pages.len());
}

#[test]
fn the_same_job_gives_the_same_bytes() {
    let sheet = on("a4", 10.0);
    assert!(printed(JOB, &sheet).1.file == printed(JOB, &sheet).1.file);
}

/// The cut line of a template on its sheets, put together by rows and columns that the sheets name.
fn reassembled(
    book: &Book,
    pages: &[ReadPage],
    template: usize,
    sheet: &PrintSheet,
    room: [f64; 2],
) -> Vec<[Point; 2]> {
    let Printed::Tiled { pages: [first, last], .. } = book.printed[template] else { panic!("on several sheets") };
    let margins = sheet.margins;
    let foot = sheet.size[1] - margins.top - margins.bottom - room[1];
    let mut found = Vec::new();
    for page in &pages[first - 1..last] {
        let place = page.texts.iter().find(|text| text.starts_with("row ")).expect("a place");
        let numbers: Vec<f64> =
            place.split(|letter: char| !letter.is_ascii_digit()).filter_map(|word| word.parse().ok()).collect();
        let (row, column) = (numbers[0], numbers[1]);
        let corner = [
            (column - 1.0) * (room[0] - sheet.overlap) - margins.left,
            -(row - 1.0) * (room[1] - sheet.overlap) - margins.bottom - foot,
        ];
        let pieces = page.on("cut line").flat_map(|stroke| &stroke.pieces);
        found.extend(pieces.map(|piece| piece.map(|point| [point[0] + corner[0], point[1] + corner[1]])));
    }
    found
}

fn distance(point: Point, pieces: &[[Point; 2]]) -> f64 {
    let from = GeoPoint::new(point[0], point[1]);
    let to = |[one, other]: &[Point; 2]| {
        let line = Line::new(GeoPoint::new(one[0], one[1]), GeoPoint::new(other[0], other[1]));
        Euclidean.distance(&from, &line)
    };
    pieces.iter().map(to).fold(f64::INFINITY, f64::min)
}

#[test]
fn sheets_that_are_put_together_restore_the_outline_of_a_large_template() {
    for overlap in [10.0, 0.0, 25.0] {
        let sheet = on("a4", overlap);
        let (templates, book, pages) = printed(DECK, &sheet);
        let room = drawing_of(&pages[book.contents + book.together]);
        let found = reassembled(&book, &pages, 0, &sheet, room);
        let wanted: Vec<Point> = templates[0]
            .lines
            .iter()
            .flat_map(|line| {
                let points = line.path.points(0.02);
                points
                    .windows(2)
                    .flat_map(|ends| between([ends[0].x, ends[0].y], [ends[1].x, ends[1].y]))
                    .collect::<Vec<Point>>()
            })
            .collect();
        let pose = fitted(&wanted, &found);
        for point in &wanted {
            let away = distance(pose(*point), &found);
            assert!(away < 0.1, "overlap {overlap}: {point:?} is {away} mm from any line on the sheets");
        }
        // And nothing is drawn that is not there.
        let carried: Vec<Point> = wanted.iter().map(|point| pose(*point)).collect();
        let outline: Vec<[Point; 2]> = carried.windows(2).map(|ends| [ends[0], ends[1]]).collect();
        for piece in &found {
            assert!(distance(piece[0], &outline) < 0.1, "overlap {overlap}: {piece:?} is nowhere on the template");
        }
    }
}

/// Points along a straight piece, half a millimetre apart.
fn between(from: Point, to: Point) -> Vec<Point> {
    let count = ((to[0] - from[0]).hypot(to[1] - from[1]) / 0.5).ceil().max(1.0) as usize;
    (0..=count).map(|k| [0, 1].map(|axis| from[axis] + (to[axis] - from[axis]) * k as f64 / count as f64)).collect()
}

/// The frame of the drawing on a sheet of a large template.
fn drawing_of(page: &ReadPage) -> [f64; 2] {
    let frames = page.on("sheet").filter(|stroke| stroke.pieces.len() == 4);
    let size = |stroke: &pages::Stroke| {
        [0, 1].map(|axis| {
            let values = stroke.pieces.iter().flatten().map(|point| point[axis]);
            values.clone().fold(f64::NEG_INFINITY, f64::max) - values.fold(f64::INFINITY, f64::min)
        })
    };
    frames.map(size).max_by(|one, other| one[0].total_cmp(&other[0])).expect("a frame")
}

/// How the template lies on the sheets: the turn is searched for, coarsely and then more and more finely; the corner of
/// the box round all lines gives the place.
fn fitted(wanted: &[Point], found: &[[Point; 2]]) -> impl Fn(Point) -> Point {
    let turned = |point: Point, turn: f64| {
        let (sin, cos) = turn.to_radians().sin_cos();
        [cos * point[0] - sin * point[1], sin * point[0] + cos * point[1]]
    };
    let corner = |points: &mut dyn Iterator<Item = Point>| {
        points.fold([f64::INFINITY; 2], |low, point| [low[0].min(point[0]), low[1].min(point[1])])
    };
    let there = corner(&mut found.iter().flatten().copied());
    let at_turn = |turn: f64| {
        let here = corner(&mut wanted.iter().map(|point| turned(*point, turn)));
        let shift = [there[0] - here[0], there[1] - here[1]];
        let sample = wanted.iter().step_by(97);
        let worst = sample.map(|point| {
            let at = turned(*point, turn);
            distance([at[0] + shift[0], at[1] + shift[1]], found)
        });
        (worst.fold(0.0, f64::max), turn, shift)
    };
    let best = |turns: &mut dyn Iterator<Item = f64>| {
        turns.map(at_turn).min_by(|one, other| one.0.total_cmp(&other.0)).expect("a turn")
    };
    let mut found = best(&mut (0..180).map(|step| 2.0 * f64::from(step)));
    for finer in [0.1, 0.005, 0.000_3] {
        let from = found.1;
        found = best(&mut (-25..=25).map(|step| from + finer * f64::from(step)));
    }
    let (_, turn, shift) = found;
    move |point| {
        let at = turned(point, turn);
        [at[0] + shift[0], at[1] + shift[1]]
    }
}

#[test]
fn marks_to_glue_by_are_the_same_on_both_sheets() {
    let sheet = on("a4", 10.0);
    let (_, book, pages) = printed(JOB, &sheet);
    let Printed::Tiled { pages: [first, last], .. } = book.printed[1] else { panic!("on several sheets") };
    for page in &pages[first - 1..last] {
        // A ring of 1.6 mm and its cross, three on each edge that is shared.
        let rings = page.on("sheet").filter(|stroke| {
            let length: f64 = stroke.pieces.iter().map(|[a, b]| (b[0] - a[0]).hypot(b[1] - a[1])).sum();
            (length - PI * 3.2).abs() < 0.05
        });
        let shared = page.texts.iter().filter(|text| text.starts_with("to row")).count();
        assert!(shared > 0 && rings.count() == 3 * shared, "{:?}", page.texts);
    }
}

#[test]
fn a_small_template_is_drawn_once_at_its_size() {
    let (templates, book, pages) = printed(JOB, &on("a4", 10.0));
    let gusset = templates.iter().position(|template| template.name() == "gusset").expect("a gusset");
    let Printed::Together { page } = book.printed[gusset] else { panic!("with others") };
    let sides = |stroke: &pages::Stroke| -> Vec<f64> {
        stroke.pieces.iter().map(|[a, b]| (b[0] - a[0]).hypot(b[1] - a[1])).collect()
    };
    let hypotenuse = 140.0_f64.hypot(110.0);
    let drawn: Vec<Vec<f64>> = pages[page - 1]
        .on("cut line")
        .map(sides)
        .filter(|sides| sides.len() == 3 && sides.iter().any(|side| (side - hypotenuse).abs() < 0.01))
        .collect();
    let [triangle] = &drawn[..] else { panic!("drawn {} times", drawn.len()) };
    for wanted in [140.0, 110.0] {
        assert!(triangle.iter().any(|side| (side - wanted).abs() < 0.01), "{triangle:?}");
    }
}

#[test]
fn a_roll_is_cut_off_where_the_drawing_ends() {
    let (_, book, pages) = printed(JOB, &on("roll 914", 10.0));
    assert_eq!((book.together, book.tiled), (1, 0), "everything lies on one stretch");
    let [width, height] = pages[book.contents].boxes[0];
    assert!((width - 914.0).abs() < 0.1 && height < 800.0, "{width} × {height}");
    let [_, contents] = pages[0].boxes[0];
    assert!(contents < 1500.0, "contents {contents} mm long");
}
