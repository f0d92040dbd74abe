//! `clothwright templates`: what it writes, what it says, what it refuses.

#[path = "support/run.rs"]
mod run;

use run::{Bench, SMALL};

#[test]
fn a_pdf_is_written_and_the_pages_are_counted() {
    let bench = Bench::with(SMALL);
    let ran = bench.run(&["templates", "job.json", "--out", "out"]);
    assert_eq!(ran.code, Some(0), "{}", ran.messages);
    assert_eq!(bench.names("out"), ["templates.pdf"]);
    assert!(
        ran.results.contains("2 pages of A4: 1 of contents, 1 with small templates together, 0 of large ones"),
        "{}",
        ran.results
    );
    assert!(ran.results.contains("Planning aid, not approved data"));
    assert!(std::fs::read(bench.path("out/templates.pdf")).expect("a file").starts_with(b"%PDF-"));
}

#[test]
fn files_for_a_plotter_are_one_for_each_template() {
    let bench = Bench::with(SMALL);
    for format in ["svg", "dxf"] {
        let ran = bench.run(&["templates", "job.json", "--out", format, "--format", format]);
        assert_eq!(ran.code, Some(0), "{}", ran.messages);
        assert_eq!(
            bench.names(format),
            [format!("template-doily.{format}"), format!("template-gusset-upper.{format}")]
        );
    }
    let only = bench.run(&["templates", "job.json", "--out", "one", "--format", "svg", "--only", "doily"]);
    assert_eq!((only.code, bench.names("one")), (Some(0), vec!["template-doily.svg".to_owned()]));
}

#[test]
fn a_large_piece_is_left_out_with_the_number_of_its_sheets_and_drawn_when_asked_for() {
    let bench = Bench::with(&SMALL.replace("[[0, 0], [140, 0], [0, 110]]", "[[0, 0], [2900, 40], [100, 560]]"));
    let bench_run = |arguments: &[&str]| bench.run(&[&["templates", "job.json", "--out", "out"], arguments].concat());
    let ran = bench_run(&[]);
    let note = ran.messages.lines().find(|line| line.contains("is not printed")).unwrap_or_default().to_owned();
    assert!(note.contains("“gusset, upper” would take") && note.contains("--only \"gusset, upper\""), "{note}");
    let sheets: usize = note.split_whitespace().find_map(|word| word.parse().ok()).expect("a number of sheets");
    let asked = bench_run(&["--only", "gusset, upper"]);
    assert_eq!(asked.code, Some(0), "{}", asked.messages);
    assert!(asked.results.contains(&format!("{sheets} of large ones")), "{}", asked.results);
}

#[test]
fn a_bad_choice_of_paper_is_refused_with_what_would_be_right() {
    let bench = Bench::with(SMALL);
    let cases = [
        (&["--paper", "foolscap"][..], "“foolscap” is no paper that is known; name A4, A3"),
        (
            &["--margin", "110"],
            "margins of 220 mm in all at left and right are larger than the sheet, which is 210 mm wide",
        ),
        (&["--margin", "6,6,280,6"], "the sheet is 297 mm high, of which margins at top and bottom leave 11 mm"),
        (&["--margin", "6,6"], "four with commas"),
        (&["--margin", "-3"], "zero or more"),
        (&["--margin", "six"], "six"),
        (&["--overlap", "100"], "may overlap by 0 to 66 mm, not by 100 mm"),
        (&["--paper", "90x50"], "90 mm wide"),
        (&["--paper", "6000x300"], "the longest page of a PDF"),
        (&["--paper", "roll 610", "--orientation", "portrait"], "neither stands nor lies"),
        (&["--only", "doilly"], "did you mean “doily”?"),
    ];
    for (arguments, words) in cases {
        let ran = bench.run(&[&["templates", "job.json", "--out", "out"], arguments].concat());
        assert_eq!(ran.code, Some(2), "{arguments:?}: {}{}", ran.results, ran.messages);
        assert!(ran.messages.contains(words), "{arguments:?}: {}", ran.messages);
    }
    assert!(!bench.path("out").exists(), "nothing is written where nothing is drawn");
}
