//! `lay` writes a whole set of checked files, or nothing, and says which.

#[path = "support/run.rs"]
mod run;

use clothwright::job::read_text;
use clothwright::plan::LayFile;
use clothwright::verify::verify_lay;
use run::{Bench, SMALL};

const LAY: [&str; 6] = ["lay", "job.json", "--out", "out", "--effort", "1"];

#[test]
fn a_job_becomes_a_lay_its_sheet_and_its_cut_list() {
    let bench = Bench::with(SMALL);
    let ran = bench.run(&LAY);
    assert_eq!(ran.code, Some(0), "{}", ran.messages);
    assert_eq!(bench.names("out"), ["cut-list.csv", "lay-roll-1.svg", "lay.json", "report.html", "take-off.csv"]);

    let lay: LayFile = serde_json::from_str(&bench.read("out/lay.json")).expect("a lay file");
    assert_eq!((lay.format, lay.seed, lay.effort, lay.job.as_str()), (1, 1, 1, "../job.json"));
    assert_eq!(lay.cloths.iter().map(|cloth| cloth.pieces.len()).sum::<usize>(), 7);
    let job = read_text("job.json", SMALL).expect("a sound job").job;
    assert_eq!(verify_lay(&lay, &job), []);

    let sheet = bench.read("out/lay-roll-1.svg");
    let sheet = roxmltree::Document::parse(&sheet).expect("well-formed XML");
    let drawn = sheet.descendants().filter(|node| node.attribute("class") == Some("piece")).count();
    assert_eq!(drawn, 7);
    let cut_list = bench.read("out/cut-list.csv");
    assert_eq!(csv::Reader::from_reader(cut_list.as_bytes()).records().count(), 7);
}

#[test]
fn the_summary_says_what_to_buy_and_whose_word_counts() {
    let bench = Bench::with(SMALL);
    let ran = bench.run(&LAY);
    for wanted in
        ["roll 1", "500 mm", "6.00", "7 of 7 pieces laid", "out/lay.json", "out/lay-roll-1.svg", "out/cut-list.csv"]
    {
        assert!(ran.results.contains(wanted), "{wanted} is missing:\n{}", ran.results);
    }
    assert!(ran.results.contains("Planning aid, not approved data"), "{}", ran.results);
    assert!(ran.results.contains("licensed inspector"), "{}", ran.results);
}

#[test]
fn waste_and_density_are_what_they_are_defined_to_be() {
    let bench = Bench::with(SMALL);
    assert_eq!(bench.run(&LAY).code, Some(0));
    let lay: LayFile = serde_json::from_str(&bench.read("out/lay.json")).expect("a lay file");
    let cloth = &lay.cloths[0];
    // Three discs and four right triangles; the polygon of a disc is up to 0.1 mm larger than the disc.
    let exact = 3.0 * std::f64::consts::PI * 82.5 * 82.5 + 4.0 * 140.0 * 110.0 / 2.0;
    let waste = 1.0 - exact / (600.0 * cloth.length_used);
    let density = exact / (580.0 * cloth.length_used);
    assert!((cloth.waste - waste).abs() < 0.002, "{} against {waste}", cloth.waste);
    assert!((cloth.density - density).abs() < 0.002, "{} against {density}", cloth.density);
}

#[test]
fn the_same_seed_and_effort_give_the_same_bytes_on_any_number_of_threads() {
    let bench = Bench::with(SMALL);
    let files = ["lay.json", "lay-roll-1.svg", "cut-list.csv", "take-off.csv", "report.html"];
    let mut first: Option<Vec<String>> = None;
    for threads in ["1", "2", "8"] {
        let ran = bench.run(&[&LAY[..], &["--threads", threads]].concat());
        assert_eq!(ran.code, Some(0), "{}", ran.messages);
        let found: Vec<String> = files.iter().map(|file| bench.read(&format!("out/{file}"))).collect();
        match &first {
            Some(first) => assert!(*first == found, "{threads} threads give another lay"),
            None => first = Some(found),
        }
    }
}

#[test]
fn a_piece_without_a_place_is_said_and_the_rest_is_written() {
    let job = SMALL.replace("\"width\": 600,", "\"width\": 600, \"length\": 400,");
    let job = job.replace("\"quantity\": 3", "\"quantity\": 9");
    let bench = Bench::with(&job);
    let ran = bench.run(&LAY);
    assert_eq!(ran.code, Some(3), "{}{}", ran.results, ran.messages);
    let lay: LayFile = serde_json::from_str(&bench.read("out/lay.json")).expect("a lay file");
    let laid: usize = lay.cloths.iter().map(|cloth| cloth.pieces.len()).sum();
    assert!(laid > 0 && !lay.unplaced.is_empty());
    assert_eq!(laid + lay.unplaced.len(), 13);
    assert!(ran.messages.contains("no place") && ran.messages.contains(&lay.unplaced[0].why), "{}", ran.messages);
    assert!(ran.results.contains(&format!("{laid} of 13 pieces laid")), "{}", ran.results);
    assert!(bench.read("out/cut-list.csv").contains("NOT PLACED"));
    let job = read_text("job.json", &job).expect("a sound job").job;
    assert_eq!(verify_lay(&lay, &job), [], "what was placed is valid");
}

#[test]
fn an_out_folder_that_is_a_file_is_said_before_the_search() {
    let bench = Bench::with(SMALL);
    std::fs::write(bench.path("out"), "mine").expect("a file");
    let ran = bench.run(&["lay", "job.json", "--out", "out", "--effort", "100000000"]);
    assert_eq!(ran.code, Some(2));
    assert!(ran.messages.contains("out is a file, and the results need a folder"), "{}", ran.messages);
    assert_eq!(bench.read("out"), "mine");
}

#[cfg(unix)]
#[test]
#[allow(clippy::print_stderr)]
fn a_folder_that_may_not_be_written_is_said() {
    use std::os::unix::fs::PermissionsExt;
    let bench = Bench::with(SMALL);
    std::fs::create_dir(bench.path("out")).expect("a folder");
    std::fs::set_permissions(bench.path("out"), PermissionsExt::from_mode(0o555)).expect("permissions");
    if std::fs::write(bench.path("out/probe"), "").is_ok() {
        let _ = std::fs::remove_file(bench.path("out/probe"));
        eprintln!("not tested: this user may write everywhere");
        return;
    }
    let ran = bench.run(&LAY);
    assert_eq!(ran.code, Some(2), "{}", ran.messages);
    assert!(ran.messages.contains("the folder out cannot be used"), "{}", ran.messages);
    assert!(bench.names("out").is_empty());
}

#[test]
fn when_one_file_cannot_be_written_none_is() {
    let bench = Bench::with(SMALL);
    std::fs::create_dir_all(bench.path("out/cut-list.csv")).expect("a folder in the way");
    let ran = bench.run(&LAY);
    assert_eq!(ran.code, Some(2), "{}", ran.messages);
    assert!(ran.messages.contains("cut-list.csv"), "{}", ran.messages);
    assert_eq!(bench.names("out"), ["cut-list.csv"], "nothing half-written stays behind");
}

#[test]
fn sheets_of_an_earlier_lay_are_pointed_out() {
    let bench = Bench::with(SMALL);
    std::fs::create_dir(bench.path("out")).expect("a folder");
    std::fs::write(bench.path("out/lay-old-roll.svg"), "<svg/>").expect("a file");
    let ran = bench.run(&LAY);
    assert!(ran.messages.contains("lay-old-roll.svg is left from an earlier lay"), "{}", ran.messages);
    assert_eq!(bench.read("out/lay-old-roll.svg"), "<svg/>", "it is the person's file");
}

#[test]
fn cautions_are_printed_counted_and_kept_in_the_lay() {
    let bench = Bench::with(&SMALL.replace("\"grain\": \"along\"", "\"grain\": \"free\""));
    let ran = bench.run(&LAY);
    assert_eq!(ran.code, Some(0), "{}", ran.messages);
    assert!(ran.messages.contains("caution:") && ran.messages.contains("1 caution"), "{}", ran.messages);
    let lay: LayFile = serde_json::from_str(&bench.read("out/lay.json")).expect("a lay file");
    assert_eq!(lay.cautions.len(), 1);
}

#[cfg(unix)]
#[test]
fn an_interrupt_writes_the_best_lay_so_far() {
    use std::process::{Command, Stdio};
    use std::time::Duration;
    let bench = Bench::with(SMALL);
    let program = assert_cmd::cargo::cargo_bin("clothwright");
    let child = Command::new(program)
        .args(["lay", "job.json", "--out", "out", "--effort", "1000000000"])
        .current_dir(bench.path("."))
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("it starts");
    std::thread::sleep(Duration::from_secs(2));
    let sent = Command::new("kill").args(["-INT", &child.id().to_string()]).status().expect("kill");
    assert!(sent.success(), "the program ended before it was interrupted");
    let output = child.wait_with_output().expect("it ends");
    let messages = String::from_utf8_lossy(&output.stderr);
    assert_eq!(output.status.code(), Some(130), "{messages}");
    assert!(messages.contains("interrupted"), "{messages}");
    assert!(String::from_utf8_lossy(&output.stdout).contains("best lay so far"));
    let lay: LayFile = serde_json::from_str(&bench.read("out/lay.json")).expect("a lay file");
    let job = read_text("job.json", SMALL).expect("a sound job").job;
    assert_eq!(verify_lay(&lay, &job), []);
}

#[test]
fn a_time_limit_ends_a_long_search_and_is_no_fault() {
    let bench = Bench::with(SMALL);
    let ran = bench.run(&["lay", "job.json", "--out", "out", "--effort", "1000000000", "--seconds", "0.5"]);
    assert_eq!(ran.code, Some(0), "{}", ran.messages);
    assert!(ran.results.contains("time was up"), "{}", ran.results);
    assert_eq!(bench.names("out").len(), 5);
}
