//! The pages of a mark-out say what has to be drawn on the cloth: read with a general library (lopdf), without the
//! program's own code.

#[path = "support/pages.rs"]
mod pages;

use std::collections::BTreeSet;

use clothwright::draw::{Margins, MarkOutSheets, Paper, PrintSheet, large_pieces, mark_out_pdf};
use clothwright::job::{Job, read_text};
use clothwright::nest::Budget;
use clothwright::plan::{MarkOutWish, MarkRun, MarkedCloth, Rounding, WorkedLay, each_template, lay, marked_cloth};
use pages::{ReadPage, read};

/// Two sides with a curve, longer than a short table, and doilies between them.
const JOB: &str = r#"{ "format": 1, "units": "mm", "name": "Dunlin sides", "cloth": [ { "name": "roll", "width": 1780 } ],
  "pieces": [
    { "name": "side", "quantity": 2, "grain": "along",
      "outline": { "path": "M 0 0 L 2600 90 L 2600 520 C 1900 760 900 700 0 610 Z" } },
    { "name": "doily", "outline": { "circle": 165 }, "quantity": 5 } ] }"#;

struct Made {
    job: Job,
    worked: WorkedLay,
    wish: MarkOutWish,
    marked: MarkedCloth,
    file: Vec<u8>,
    pages: Vec<ReadPage>,
}

fn a4() -> PrintSheet {
    PrintSheet::new(Paper::parse("a4").expect("A4"), None, Margins::all(6.0), 10.0).expect("a sheet")
}

fn made(rounding: Rounding, table: Option<f64>) -> Made {
    let job = read_text("job.json", JOB).expect("the test's own job is sound").job;
    let worked = lay(&job, "job.json", &Budget { seed: 1, effort: 0, time: None }, &()).expect("a lay");
    let templates = each_template(&job, &worked.covering);
    let wish = MarkOutWish { rounding, large: large_pieces(&templates, &a4()), table };
    let laid = &worked.file.cloths[0];
    let marked = marked_cloth(laid, &wish).expect("a mark-out");
    let file = mark_out_pdf(&MarkOutSheets {
        job: &job,
        pieces: &worked.pieces,
        templates: &templates,
        laid,
        marked: &marked,
        wish: &wish,
        sheet: &a4(),
    });
    let pages = read(&file);
    Made { job, worked, wish, marked, file, pages }
}

/// The page whose title a text is.
fn titled<'p>(pages: &'p [ReadPage], title: &str) -> &'p ReadPage {
    pages.iter().find(|page| page.texts.iter().any(|text| text == title)).unwrap_or_else(|| panic!("no page {title}"))
}

#[test]
fn what_nobody_wants_to_glue_is_large_and_the_rest_is_not() {
    let made = made(Rounding::Millimetre, None);
    assert_eq!(made.wish.large, BTreeSet::from(["side".to_owned()]));
}

#[test]
fn each_large_piece_has_its_figures_on_a_page() {
    let made = made(Rounding::Millimetre, None);
    let laid = &made.worked.file.cloths[0];
    let mut seen = 0;
    for marked in &made.marked.steps {
        let Some(marks) = &marked.marks else { continue };
        let copy = laid.pieces[marked.piece].copy;
        let page = titled(&made.pages, &format!("1·{copy} side {copy}"));
        let has = |text: &str| page.texts.iter().any(|there| there == text);
        for (index, point) in marks.points.iter().enumerate() {
            assert!(has(&(index + 1).to_string()), "the number of point {}", index + 1);
            assert!(has(&point.from_end.to_string()) && has(&point.from_edge.to_string()), "{point:?}");
        }
        for run in &marks.runs {
            match run {
                MarkRun::Straight { length } => assert!(page.says(&format!(", {length} mm")), "{length}"),
                MarkRun::Curved { chord, offsets } => {
                    assert!(page.says(&format!("chord {chord} mm")), "{chord}");
                    assert!(offsets.iter().all(|offset| has(&offset.along.to_string())), "{offsets:?}");
                    assert!(offsets.iter().all(|offset| has(&offset.out.abs().to_string())), "{offsets:?}");
                }
            }
        }
        assert_eq!(marks.diagonals.len(), 2);
        for diagonal in &marks.diagonals {
            let [from, to] = diagonal.between.map(|end| end + 1);
            assert!(page.says(&format!("{from} to {to}: {} mm", diagonal.length)));
        }
        let worst = format!("{} from where it should be", made.job.units.show(marks.worst_rounding));
        assert!(page.says(&worst), "{worst}");
        // The edge itself where it is near, else how far off it is.
        assert!(has("warp") && page.says("lower edge") && page.says("cloth's end"), "{:?}", page.texts);
        seen += 1;
    }
    assert_eq!(seen, 2);
    assert!(made.pages.iter().all(|page| page.says("Planning aid, not approved data")));
}

#[test]
fn the_drawing_is_the_outline_made_smaller() {
    let made = made(Rounding::Millimetre, None);
    let laid = &made.worked.file.cloths[0].pieces[made.marked.steps[0].piece];
    let page = titled(&made.pages, &format!("1·{0} side {0}", laid.copy));
    // The thick closed line.
    let edge = page
        .on("drawing")
        .find(|stroke| (stroke.width - 0.4).abs() < 1e-6 && stroke.pieces.len() == laid.outline.len());
    let edge = edge.expect("the outline");
    let spans = |axis: usize| {
        let there = edge.pieces.iter().map(|piece| piece[0][axis]);
        there.clone().fold(f64::NEG_INFINITY, f64::max) - there.fold(f64::INFINITY, f64::min)
    };
    let [x, y] = [0, 1].map(|axis| laid.span(axis)[1] - laid.span(axis)[0]);
    assert!((spans(0) / spans(1) - x / y).abs() < 0.01, "as long for its width");
}

#[test]
fn the_order_of_cutting_names_every_piece_and_its_page() {
    let made = made(Rounding::Millimetre, None);
    let first = &made.pages[0];
    assert!(first.says("Cutting order"));
    let laid = &made.worked.file.cloths[0];
    for marked in &made.marked.steps {
        let piece = &laid.pieces[marked.piece];
        let number = made.worked.pieces.iter().position(|given| given.name == piece.piece).expect("a piece") + 1;
        assert!(first.texts.contains(&format!("{number}·{}", piece.copy)));
    }
    assert_eq!(first.texts.iter().filter(|text| *text == "template").count(), 5);
    // Of the rows of the sides, the fourth cell is the page on which they are.
    for (row, text) in first.texts.iter().enumerate().filter(|(_, text)| text.starts_with("side ")) {
        let page: usize = first.texts[row + 1].parse().expect("a page");
        assert!(made.pages[page - 1].texts.iter().any(|title| title.ends_with(text) && title.starts_with("1·")));
    }
    assert_eq!(made.job.name, "Dunlin sides");
}

/// A table of a metre: what each window shows, together, is the whole lay.
#[test]
fn windows_together_show_every_piece() {
    let made = made(Rounding::Millimetre, Some(1000.0));
    let laid = &made.worked.file.cloths[0];
    let count = made.marked.windows.len();
    assert!(count >= 3, "{} m of cloth", laid.length_used / 1000.0);
    let mut shown = BTreeSet::new();
    for (index, window) in made.marked.windows.iter().enumerate() {
        let end = |at: f64| format!("{} mm", at.round());
        let [from, to] = window.span.map(end);
        let page = titled(&made.pages, &format!("On the table, {} of {count}: from {from} to {to}", index + 1));
        for (step, marked) in made.marked.steps.iter().enumerate() {
            let piece = &laid.pieces[marked.piece];
            let [least, most] = piece.span(0);
            if least < window.span[1] - 1e-9 && most > window.span[0] + 1e-9 {
                let number = if piece.piece == "side" { 1 } else { 2 };
                let key = format!("{number}·{}", piece.copy);
                assert!(page.texts.contains(&key), "{key} in window {}", index + 1);
                shown.insert(step);
            }
        }
        for crossing in &window.crossing {
            let marks: Vec<String> = crossing.marks.iter().map(f64::to_string).collect();
            assert!(page.texts.join(" ").contains(&format!("at {} mm", marks.join(" and "))), "{crossing:?}");
        }
    }
    assert_eq!(shown.len(), laid.pieces.len(), "nothing is lost");
    let whole: usize = made.marked.windows.iter().map(|window| window.whole.len()).sum();
    let crossing: BTreeSet<usize> =
        made.marked.windows.iter().flat_map(|window| &window.crossing).map(|crossing| crossing.step).collect();
    assert_eq!(whole + crossing.len(), laid.pieces.len(), "each is whole in one window or goes on from one");
}

#[test]
fn a_rule_in_inches_is_read_in_sixteenths() {
    let made = made(Rounding::SixteenthInch, None);
    assert!(made.pages[0].says("to the nearest sixteenth of an inch"));
    let page = made.pages.iter().find(|page| page.says("Prove before you cut")).expect("a page");
    assert!(
        page.says(" in;") && page.texts.iter().any(|text| text.contains("-") && text.contains("/16")),
        "{:?}",
        page.texts
    );
}

#[test]
fn any_number_of_threads_gives_the_same_bytes() {
    let with = |threads: usize| {
        let pool = rayon::ThreadPoolBuilder::new().num_threads(threads).build().expect("threads");
        pool.install(|| made(Rounding::Millimetre, Some(1000.0)).file)
    };
    assert_eq!(with(1), with(2));
}
