//! `clothwright mark-out`: from a written lay, with the same figures that `lay` wrote; what it refuses.

#[path = "support/run.rs"]
mod run;

use run::{Bench, SMALL};

/// A piece that takes many sheets, and a doily.
const LARGE: &str = r#"{ "format": 1, "units": "mm", "name": "Dunlin belly", "cloth": [ { "name": "roll 1", "width": 900 } ],
  "pieces": [ { "name": "belly", "outline": { "polygon": [[0, 0], [2400, 60], [2300, 700], [0, 640]] }, "grain": "along" },
              { "name": "doily", "outline": { "circle": 165 } } ] }"#;

fn laid(job: &str) -> Bench {
    let bench = Bench::with(job);
    let ran = bench.run(&["lay", "job.json", "--out", "out", "--effort", "1"]);
    assert_eq!(ran.code, Some(0), "{}", ran.messages);
    bench
}

#[test]
fn a_lay_with_large_pieces_is_marked_out_and_again_from_its_file() {
    let bench = laid(LARGE);
    let names = bench.names("out");
    assert!(["mark-out-roll-1.csv", "mark-out-roll-1.pdf"].iter().all(|name| names.contains(&(*name).to_owned())));
    let ran = bench.run(&["mark-out", "out/lay.json", "--out", "again"]);
    assert_eq!(ran.code, Some(0), "{}", ran.messages);
    assert_eq!(bench.names("again"), ["mark-out-roll-1.csv", "mark-out-roll-1.pdf"]);
    for name in ["mark-out-roll-1.csv", "mark-out-roll-1.pdf"] {
        let read = |folder: &str| std::fs::read(bench.path(&format!("{folder}/{name}"))).expect("a file");
        assert!(read("out") == read("again"), "{name} is the same");
    }
    let table = bench.read("again/mark-out-roll-1.csv");
    let lines: Vec<csv::StringRecord> =
        csv::Reader::from_reader(table.as_bytes()).records().collect::<Result<_, _>>().expect("records");
    assert_eq!(lines.len(), 4, "a line a point: {table}");
    assert!(lines.iter().all(|line| &line[3] == "1" && &line[4] == "belly"), "{table}");
    let inches = bench.run(&["mark-out", "out/lay.json", "--out", "inches", "--round", "1/16in", "--table", "4 ft"]);
    assert_eq!(inches.code, Some(0), "{}", inches.messages);
    assert!(bench.read("inches/mark-out-roll-1.csv").contains("from cloth end (in)"));
}

#[test]
fn small_pieces_are_left_to_templates_unless_asked_for() {
    let bench = laid(SMALL);
    assert!(!bench.names("out").iter().any(|name| name.starts_with("mark-out")));
    let ran = bench.run(&["mark-out", "out/lay.json", "--out", "again"]);
    assert_eq!(ran.code, Some(0), "{}", ran.messages);
    assert!(ran.messages.contains("no piece of this lay is large"), "{}", ran.messages);
    let ran = bench.run(&["mark-out", "out/lay.json", "--out", "again", "--large", "15 cm"]);
    assert_eq!(bench.names("again"), ["mark-out-roll-1.csv", "mark-out-roll-1.pdf"], "{}", ran.messages);
    assert!(!bench.read("again/mark-out-roll-1.csv").contains("gusset"), "it is 140 mm long");
}

#[test]
fn what_is_no_sound_lay_is_not_marked_out() {
    let bench = laid(LARGE);
    let spoilt = bench.read("out/lay.json").replacen("\"turn\": 0", "\"turn\": 7", 1);
    assert_ne!(spoilt, bench.read("out/lay.json"));
    std::fs::write(bench.path("out/spoilt.json"), spoilt).expect("a file");
    let ran = bench.run(&["mark-out", "out/spoilt.json", "--out", "again"]);
    assert_eq!(ran.code, Some(3), "{}", ran.messages);
    assert!(ran.messages.contains("is no valid lay of its job, and nothing was written"), "{}", ran.messages);
    assert!(!bench.path("again").exists());
}

#[test]
fn a_bad_choice_is_refused_with_what_would_be_right() {
    let bench = Bench::with(LARGE);
    let cases = [
        (&["--table", "30"][..], "a table is 500 mm long or longer"),
        (&["--table", "long"], "long"),
        (&["--large", "0"], "give a length greater than 0, such as 900mm"),
        (&["--round", "1cm"], "1/16in"),
        (&["--paper", "foolscap"], "is no paper that is known"),
    ];
    for (arguments, words) in cases {
        for command in [&["lay", "job.json"][..], &["mark-out", "lay.json"]] {
            let ran = bench.run(&[command, &["--out", "out"], arguments].concat());
            assert_eq!(ran.code, Some(2), "{arguments:?}: {}{}", ran.results, ran.messages);
            assert!(ran.messages.contains(words), "{arguments:?}: {}", ran.messages);
        }
    }
    assert!(!bench.path("out").exists());
}
