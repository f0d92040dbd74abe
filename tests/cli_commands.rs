//! What the smaller commands print, how they end, and what they say when something is wrong.

#[path = "support/run.rs"]
mod run;

use run::{Bench, SMALL};
use serde_json::Value;

#[test]
fn check_counts_what_a_sound_job_asks_for() {
    let bench = Bench::with(SMALL);
    let ran = bench.run(&["check", "job.json"]);
    assert_eq!(ran.code, Some(0), "{}", ran.messages);
    assert!(ran.results.contains("Dunlin rudder: the job is sound"), "{}", ran.results);
    assert!(ran.results.contains("2 kinds, 7 to cut") && ran.results.contains("3 pinked"), "{}", ran.results);
    assert!(ran.results.contains("cloth “roll 1”: 600 mm wide, as long as needed"), "{}", ran.results);
    assert_eq!(bench.names("."), ["job.json"], "it writes nothing");
}

#[test]
fn every_command_refuses_a_wrong_job_with_the_place_of_each_fault() {
    let bench = Bench::with(&SMALL.replace("165", "-165").replace("\"quantity\": 4", "\"quantity\": 0"));
    for command in [&["check", "job.json"][..], &["pieces", "job.json"], &["lay", "job.json", "--out", "out"]] {
        let ran = bench.run(command);
        assert_eq!(ran.code, Some(1), "{command:?}");
        assert!(ran.messages.contains("pieces[0]") && ran.messages.contains("pieces[1]"), "{}", ran.messages);
        assert_eq!(ran.results, "");
    }
    assert_eq!(bench.names("."), ["job.json"], "nothing is written for a wrong job");
}

#[test]
fn a_missing_job_is_a_wrong_command_line() {
    let bench = Bench::with(SMALL);
    for command in [&["check", "jop.json"][..], &["pieces", "jop.json"], &["lay", "jop.json", "--out", "out"]] {
        let ran = bench.run(command);
        assert_eq!(ran.code, Some(2), "{command:?}");
        assert!(ran.messages.contains("jop.json"), "{}", ran.messages);
    }
}

#[test]
fn a_wrong_command_line_ends_with_2() {
    let bench = Bench::with(SMALL);
    for arguments in [
        &[][..],
        &["fold"],
        &["lay", "job.json"],
        &["lay", "job.json", "--out", "out", "--effort", "0"],
        &["lay", "job.json", "--out", "out", "--seconds", "0"],
        &["lay", "job.json", "--out", "out", "--seconds", "nan"],
        &["lay", "job.json", "--out", "out", "--threads", "0"],
        &["lay", "job.json", "--out", "out", "--seed", "-1"],
    ] {
        let ran = bench.run(arguments);
        assert_eq!(ran.code, Some(2), "{arguments:?}: {}", ran.messages);
        assert!(!ran.messages.is_empty());
    }
    assert_eq!(bench.names("."), ["job.json"]);
}

#[test]
fn help_names_the_commands_that_exist_and_only_those() {
    let bench = Bench::with(SMALL);
    let ran = bench.run(&["--help"]);
    assert_eq!(ran.code, Some(0));
    let commands: Vec<&str> = ran
        .results
        .lines()
        .skip_while(|line| !line.starts_with("Commands:"))
        .skip(1)
        .take_while(|line| !line.trim().is_empty())
        .filter_map(|line| line.split_whitespace().next())
        .collect();
    assert_eq!(
        commands,
        [
            "check",
            "pieces",
            "places",
            "lay",
            "log",
            "compare",
            "tapes",
            "templates",
            "mark-out",
            "verify",
            "trace",
            "schema",
            "help"
        ]
    );
    assert!(ran.results.contains("not approved data"), "{}", ran.results);
}

#[test]
fn pieces_are_a_table_or_json() {
    let bench = Bench::with(SMALL);
    let ran = bench.run(&["pieces", "job.json"]);
    assert_eq!(ran.code, Some(0));
    assert!(ran.results.contains("gusset, upper") && ran.results.contains("140 × 110 mm"), "{}", ran.results);
    assert!(ran.results.contains("2 kinds, 7 pieces to cut"), "{}", ran.results);

    let ran = bench.run(&["pieces", "job.json", "--json"]);
    let list: Value = serde_json::from_str(&ran.results).expect("JSON");
    let gusset = &list["pieces"][1];
    assert_eq!(gusset["piece"], "gusset, upper");
    assert_eq!(gusset["quantity"], 4);
    assert_eq!(gusset["grain"], "along the roll");
    assert!((gusset["area"].as_f64().unwrap_or_default() - 140.0 * 110.0 / 2.0).abs() < 1e-6);
    assert!(list["pieces"][0]["edge"].as_str().is_some_and(|edge| edge.starts_with("pinked")));
}

#[test]
fn the_schema_is_json_and_accepts_the_job() {
    let bench = Bench::with(SMALL);
    let ran = bench.run(&["schema"]);
    assert_eq!(ran.code, Some(0));
    let schema: Value = serde_json::from_str(&ran.results).expect("JSON");
    let job: Value = serde_json::from_str(SMALL).expect("JSON");
    let validator = jsonschema::validator_for(&schema).expect("a JSON Schema");
    assert!(validator.is_valid(&job));
    assert!(!validator.is_valid(&serde_json::json!({ "format": 2 })));
}

#[test]
fn verify_accepts_what_lay_wrote_and_finds_what_was_moved() {
    let bench = Bench::with(SMALL);
    assert_eq!(bench.run(&["lay", "job.json", "--out", "out", "--effort", "1"]).code, Some(0));
    let ran = bench.run(&["verify", "out/lay.json"]);
    assert_eq!(ran.code, Some(0), "{}{}", ran.results, ran.messages);
    assert!(ran.results.contains("valid"), "{}", ran.results);

    let mut lay: Value = serde_json::from_str(&bench.read("out/lay.json")).expect("JSON");
    let pieces = lay["cloths"][0]["pieces"].as_array_mut().expect("pieces");
    let (first, second) = (pieces[0].clone(), &mut pieces[1]);
    for part in ["at", "outline", "turn"] {
        second[part] = first[part].clone();
    }
    std::fs::write(bench.path("out/moved.json"), lay.to_string()).expect("a file");
    let ran = bench.run(&["verify", "out/moved.json"]);
    assert_eq!(ran.code, Some(3), "{}", ran.results);
    assert!(ran.results.contains("overlaps") && ran.results.contains("not valid"), "{}", ran.results);
}

#[test]
fn verify_finds_the_job_beside_the_lay_or_where_it_is_told() {
    let bench = Bench::with(SMALL);
    assert_eq!(bench.run(&["lay", "job.json", "--out", "out", "--effort", "1"]).code, Some(0));
    std::fs::rename(bench.path("job.json"), bench.path("renamed.json")).expect("renamed");
    let ran = bench.run(&["verify", "out/lay.json"]);
    assert_eq!(ran.code, Some(2));
    assert!(ran.messages.contains("--job"), "{}", ran.messages);
    assert_eq!(bench.run(&["verify", "out/lay.json", "--job", "renamed.json"]).code, Some(0));
}

#[test]
fn verify_says_when_a_file_is_no_lay() {
    let bench = Bench::with(SMALL);
    let ran = bench.run(&["verify", "job.json"]);
    assert_eq!(ran.code, Some(2));
    assert!(ran.messages.contains("job.json is no lay file"), "{}", ran.messages);
    assert_eq!(bench.run(&["verify", "none.json"]).code, Some(2));
    let ran = bench.run(&["verify", "."]);
    assert_eq!(ran.code, Some(2));
    assert!(ran.messages.contains("is a folder; name the lay.json in it"), "{}", ran.messages);
}

#[test]
fn verify_says_that_a_lay_with_unplaced_pieces_is_not_complete() {
    // Two of three doilies fill the offcut.
    let job = SMALL.replace("\"selvage\": 10, \"price\": 12, \"sold_by\": 500", "\"length\": 180");
    let bench = Bench::with(&job.replace("\"width\": 600", "\"width\": 340"));
    assert_eq!(bench.run(&["lay", "job.json", "--out", "out", "--effort", "1"]).code, Some(3));
    let ran = bench.run(&["verify", "out/lay.json"]);
    assert_eq!(ran.code, Some(3));
    assert!(ran.results.contains("not complete") && !ran.results.contains("valid"), "{}", ran.results);
    assert!(ran.results.contains("of 7 pieces are without a place"), "{}", ran.results);
}

#[test]
fn numbers_out_of_range_are_told_what_the_range_is() {
    let bench = Bench::with(SMALL);
    for (flag, range) in
        [("--seed", "from 0 to"), ("--effort", "1 or more"), ("--seconds", "above 0"), ("--threads", "1..=1024")]
    {
        let ran = bench.run(&["lay", "job.json", "--out", "out", flag, "-1"]);
        assert_eq!(ran.code, Some(2), "{flag}");
        assert!(ran.messages.contains(range), "{flag}: {}", ran.messages);
    }
}

#[cfg(unix)]
#[test]
fn a_closed_pipe_is_a_quiet_success() {
    use std::process::{Command, Stdio};
    let bench = Bench::with(SMALL);
    let program = assert_cmd::cargo::cargo_bin("clothwright");
    for arguments in
        [&["schema"][..], &["pieces", "job.json"], &["pieces", "job.json", "--json"], &["check", "job.json"]]
    {
        let (reader, writer) = std::io::pipe().expect("a pipe");
        drop(reader);
        let output = Command::new(&program)
            .args(arguments)
            .current_dir(bench.path("."))
            .stdout(writer)
            .stderr(Stdio::piped())
            .output()
            .expect("it runs");
        assert_eq!(output.status.code(), Some(0), "{arguments:?}");
        assert_eq!(String::from_utf8_lossy(&output.stderr), "", "{arguments:?}");
    }
}
