//! `log` remembers what was done, forgives how it is typed, and says what does not fit.

#[path = "support/run.rs"]
mod run;

use std::io::Write;
use std::process::{Command, Stdio};

use run::{Bench, Ran, SMALL};

/// Runs a command of the log on a day in May, and expects it to be taken.
fn log(bench: &Bench, arguments: &[&str]) -> Ran {
    let ran = try_log(bench, arguments);
    assert_eq!(ran.code, Some(0), "{arguments:?}: {}", ran.messages);
    ran
}

fn try_log(bench: &Bench, arguments: &[&str]) -> Ran {
    let day: &[&str] = if arguments.contains(&"--date") { &[] } else { &["--date", "2026-05-02"] };
    bench.run(&[&["log", "job.json"], day, arguments].concat())
}

fn status(bench: &Bench) -> serde_json::Value {
    serde_json::from_str(&log(bench, &["status", "--json"]).results).expect("JSON")
}

#[test]
fn a_day_of_work_is_counted() {
    let bench = Bench::with(SMALL);
    assert_eq!(log(&bench, &["cut", "doily", "--count", "2"]).results, "cut: “doily”, copies 1 and 2 of 3\n");
    assert_eq!(log(&bench, &["cut", "2"]).results, "cut: “gusset, upper”, copies 1 to 4 of 4\n");
    assert_eq!(log(&bench, &["glued", "DOILY", "--copies", "2"]).results, "glued: “doily”, copy 2 of 3\n");
    log(&bench, &["spoiled", "upper gusset", "--copies", "3", "--why", "cut askew"]);
    log(&bench, &["hours", "whole", "1:30", "cutting"]);
    log(&bench, &["bought", "roll 1", "3 m"]);
    log(&bench, &["bought-tape", "2 in", "50 m"]);
    log(&bench, &["tape", "2 in", "3.2 m"]);
    let status = status(&bench);
    let part = &status["parts"][0];
    let counts = ["pieces", "cut", "glued", "left", "spoiled"].map(|key| part[key].as_u64());
    assert_eq!(counts, [7, 5, 1, 2, 1].map(Some), "{part}");
    assert_eq!(status["hours"][0]["hours"].as_f64(), Some(1.5));
    // Two discs of 165 mm and three gussets are cut, one of each is left; the pace is that of their edges.
    let (disc, gusset) = (std::f64::consts::PI * 0.165, 0.14 + 0.11 + f64::hypot(0.14, 0.11));
    let to_go = 1.5 / (2.0 * disc + 3.0 * gusset) * (disc + gusset);
    assert!((status["hours"][0]["hours_to_go"].as_f64().expect("known") - to_go).abs() < 1e-3, "{status}");
    let tape = &status["tape"][0];
    assert_eq!((tape["used"].as_f64(), tape["left"].as_f64()), (Some(3200.0), Some(46_800.0)));
    assert_eq!(bench.read("job.log.jsonl").lines().count(), 8);
    assert!(bench.read("job.log.jsonl").lines().all(|line| line.contains("\"date\":\"2026-05-02\"")));
}

#[test]
fn what_makes_no_sense_is_refused_and_changes_nothing() {
    let bench = Bench::with(SMALL);
    log(&bench, &["cut", "doily", "--copies", "1"]);
    let before = bench.read("job.log.jsonl");
    let refused: [(&[&str], &str); 17] = [
        (&["cut", "doly"], "did you mean “doily”?"),
        (&["cut", "9"], "there is no piece 9; they go from 1 to 2"),
        (&["cut", "doily", "--copies", "1"], "copy 1 is cut already (cut on 2026-05-02, line 1); if it was spoiled"),
        (&["cut", "doily", "--copies", "4"], "“doily” has 3 copies, and no copy 4"),
        (&["cut", "doily", "--copies", "2-"], "write it like 2 or 1,4-6"),
        (&["cut", "doily", "--count", "3"], "only 2 copies of “doily” can be cut now"),
        (&["glued", "gusset, upper"], "“gusset, upper” cannot be glued now: its copies are still to be cut"),
        (&["tape", "2 furlongs", "3 m"], "furlongs"),
        (&["tape", "2 in", "0"], "must be more than nothing"),
        (&["hours", "whole job", "soon", "cutting"], "write it like 2.5, 2:30"),
        (&["hours", "whole job", "2", "cuting"], "did you mean “cutting”?"),
        (&["hours", "whole job", "1:75", "gluing"], "60 minutes or more after the hours"),
        (&["hours", "whole job", "1 h 60 min", "gluing"], "60 minutes or more after the hours"),
        (&["note", " "], "a note needs words"),
        (&["note", "done", "--date", "9998-01-01"], "9998-01-01 has not come yet"),
        (&["found", "0,0", "100,0", "50,0"], "these corners make no offcut"),
        (&["undo", "7"], "line 7 cannot be undone"),
    ];
    for (arguments, wanted) in refused {
        let ran = try_log(&bench, arguments);
        assert_eq!(ran.code, Some(2), "{arguments:?}");
        assert!(ran.messages.contains(wanted), "{arguments:?}: {}", ran.messages);
        assert!(ran.messages.contains("nothing was recorded"), "{arguments:?}: {}", ran.messages);
    }
    assert_eq!(bench.read("job.log.jsonl"), before);
}

#[test]
fn an_undo_adds_a_line_and_can_be_undone() {
    let bench = Bench::with(SMALL);
    log(&bench, &["cut", "doily"]);
    let first = bench.read("job.log.jsonl");
    let ran = log(&bench, &["undo"]);
    assert_eq!(ran.results, "undone: line 1, cut: “doily”, copies 1 to 3 from “roll 1”\n");
    assert_eq!(status(&bench)["parts"][0]["cut"], 0);
    log(&bench, &["undo", "2"]);
    assert_eq!(status(&bench)["parts"][0]["cut"], 3);
    assert!(bench.read("job.log.jsonl").starts_with(&first));
    // What a later line builds on stays.
    log(&bench, &["glued", "doily"]);
    let ran = try_log(&bench, &["undo", "1"]);
    assert!(ran.messages.contains("has not been cut"), "{}", ran.messages);
}

#[test]
fn a_torn_line_is_told_and_set_aside() {
    let bench = Bench::with(SMALL);
    log(&bench, &["cut", "doily"]);
    let mut file = std::fs::OpenOptions::new().append(true).open(bench.path("job.log.jsonl")).expect("the log");
    file.write_all(b"{\"format\":1,\"date\":\"2026-05-02\",\"event\":\"glu").expect("written");
    let ran = log(&bench, &["cut", "gusset, upper"]);
    assert!(ran.messages.contains("line 2 of the log cannot be read, since it breaks off"), "{}", ran.messages);
    let shown = status(&bench);
    assert_eq!((shown["parts"][0]["cut"].as_u64(), shown["set_aside"].as_u64()), (Some(7), Some(1)));
    assert!(bench.read("job.log.jsonl").contains("\"event\":\"glu\n"), "what was torn stays in the file");
}

#[test]
fn processes_that_add_at_once_lose_nothing() {
    const WRITERS: usize = 12;
    let bench = Bench::with(SMALL);
    let program = assert_cmd::cargo::cargo_bin("clothwright");
    let writers: Vec<_> = (0..WRITERS)
        .map(|writer| {
            let mut command = Command::new(&program);
            command.args(["log", "job.json", "note", &format!("writer {writer}")]).current_dir(bench.path(""));
            command.stdout(Stdio::null()).stderr(Stdio::null()).spawn().expect("it starts")
        })
        .collect();
    for mut writer in writers {
        assert!(writer.wait().expect("it ends").success());
    }
    let text = bench.read("job.log.jsonl");
    assert_eq!(text.lines().count(), WRITERS);
    for writer in 0..WRITERS {
        assert_eq!(text.matches(&format!("\"writer {writer}\"")).count(), 1, "{text}");
    }
}

#[test]
fn a_log_that_no_longer_fits_the_job_is_explained_piece_by_piece() {
    let bench = Bench::with(SMALL);
    log(&bench, &["cut", "doily"]);
    log(&bench, &["cut", "gusset, upper"]);
    let changed = SMALL
        .replace(
            "\"doily\", \"outline\": { \"circle\": 165 }, \"quantity\": 3",
            "\"doilly\", \"outline\": { \"circle\": 165 }, \"quantity\": 2",
        )
        .replace("[140, 0], [0, 110]", "[150, 0], [0, 110]");
    std::fs::write(bench.path("job.json"), changed).expect("a job");
    let told = log(&bench, &["status"]).messages;
    assert!(told.contains("“doily” (3 cut) is not in the job any more"), "{told}");
    assert!(told.contains("renamed \"doily\" \"doilly\""), "{told}");
    assert!(
        told.contains("“gusset, upper”, copy 1 was cut to 140 × 110 mm, and the job asks for 150 × 110 mm now"),
        "{told}"
    );
    log(&bench, &["renamed", "doily", "doilly"]);
    let told = log(&bench, &["status"]).messages;
    assert!(!told.contains("is not in the job any more"), "{told}");
    assert!(told.contains("“doilly”: 1 more cut than the 2 copies that the job asks for"), "{told}");
    assert_eq!(status(&bench)["parts"][0]["cut"], 6);
}

#[test]
fn an_offcut_is_named_by_the_program_and_may_be_measured_from_anywhere() {
    let bench = Bench::with(SMALL);
    let ran = log(&bench, &["found", "-100,50", "30 cm,50", "300,450", "-100,450"]);
    assert_eq!(ran.results, "found: “offcut 1” of “roll 1”, 0.1600 m²\n");
    assert!(log(&bench, &["found", "0,0", "1 m,0.5 m"]).results.contains("“offcut 2”"));
    assert!(bench.read("job.log.jsonl").contains("[[0.0,0.0],[400.0,0.0],[400.0,400.0],[0.0,400.0]]"));
    let cloths = status(&bench)["cloths"].clone();
    assert_eq!((cloths[1]["cloth"].as_str(), cloths[1]["length"].as_f64()), (Some("offcut 1"), Some(400.0)));
    log(&bench, &["gone", "offcut 1"]);
    let ran = try_log(&bench, &["gone", "offcut 1"]);
    assert!(ran.messages.contains("the cloth “offcut 1” is gone"), "{}", ran.messages);
}

/// Of a known cloth; a roll that is still to be bought has no length yet, but a width.
#[test]
fn an_offcut_is_no_larger_than_the_cloth_that_it_is_of() {
    let bench = Bench::with(SMALL);
    let refused = |corners: &str, wanted: &str| {
        let ran = try_log(&bench, &["found", "0,0", corners]);
        assert_eq!(ran.code, Some(2), "{corners}: {}", ran.results);
        assert!(ran.messages.contains(wanted), "{corners}: {}", ran.messages);
    };
    refused("20 m,700", "“roll 1” is 600 mm wide, and this would be 20000 × 700 mm; measure again");
    refused("9,9", "less than 1 cm² is of no use, and this would be 9 × 9 mm");
    log(&bench, &["found", "0,0", "20 m,600"]);
    log(&bench, &["bought", "roll 1", "3 m"]);
    refused("20 m,600", "“roll 1” is 3000 mm long and 600 mm wide, and this would be 20000 × 600 mm; measure again");
    log(&bench, &["bought", "roll 1", "25 m"]);
    log(&bench, &["found", "0,0", "20 m,600"]);
}

#[test]
fn minutes_alone_may_be_more_than_an_hour() {
    let bench = Bench::with(SMALL);
    log(&bench, &["hours", "whole job", "90 min", "gluing"]);
    assert_eq!(status(&bench)["hours"][0]["hours"].as_f64(), Some(1.5));
}

/// The old name is one that only the log has, the new one that of a piece as `cut` finds it.
#[test]
fn only_what_the_job_has_lost_gets_another_name() {
    let bench = Bench::with(SMALL);
    log(&bench, &["cut", "doily"]);
    let refused = |arguments: [&str; 2], wanted: &str| {
        let ran = try_log(&bench, &["renamed", arguments[0], arguments[1]]);
        assert_eq!(ran.code, Some(2), "{arguments:?}: {}", ran.results);
        assert!(ran.messages.contains(wanted), "{arguments:?}: {}", ran.messages);
    };
    refused(["doily", "gusset, upper"], "“doily” is in the job still");
    refused(["dolly", "gusset, upper"], "the log has nothing called “dolly” that needs another name");
    let changed = SMALL.replace("\"doily\"", "\"doily, every one\"");
    std::fs::write(bench.path("job.json"), changed).expect("a job");
    refused(["doily", "doily, evry one"], "did you mean “doily, every one”?");
    // A piece is no part.
    refused(["doily", "whole job"], "there is no piece “whole job”");
    refused(["gusset, upper", "doily, every one"], "is in the job still, under that name; only the log has “doily”");
    log(&bench, &["renamed", "doily", "1"]);
    assert_eq!(status(&bench)["misfits"].as_array().map(Vec::len), Some(0));
    assert_eq!(status(&bench)["parts"][0]["cut"], 3);
}

/// What `status` proposes is taken as it stands.
#[test]
fn the_rename_that_status_proposes_is_taken() {
    let bench = Bench::with(SMALL);
    log(&bench, &["cut", "gusset, upper"]);
    std::fs::write(bench.path("job.json"), SMALL.replace("gusset, upper", "gusset, uper")).expect("a job");
    let told = log(&bench, &["status"]).messages;
    let (_, proposed) = told.split_once("say so: ").expect("a proposal");
    let names: Vec<&str> =
        proposed.trim_start_matches("renamed ").split('"').filter(|name| !name.trim().is_empty()).collect();
    assert_eq!(log(&bench, &["renamed", names[0], names[1]]).code, Some(0));
    assert_eq!(status(&bench)["parts"][0]["cut"], 4);
}

#[test]
fn cloth_whose_purchase_was_undone_is_told_so() {
    let bench = Bench::with(SMALL);
    log(&bench, &["bought", "roll 1", "3 m"]);
    log(&bench, &["bought", "roll 1", "4 m"]);
    log(&bench, &["cut", "doily", "--copies", "1", "--from", "roll 1 no. 2"]);
    log(&bench, &["undo", "2"]);
    let told = log(&bench, &["status"]).messages;
    let wanted = "the purchase of “roll 1 no. 2”, from which 1 piece was cut, was undone (line 2)";
    assert!(told.contains(wanted) && !told.contains("not in the job"), "{told}");
    log(&bench, &["bought", "roll 1", "5 m"]);
    assert_eq!(status(&bench)["misfits"].as_array().map(Vec::len), Some(0));
    log(&bench, &["undo", "1"]);
    log(&bench, &["undo", "5"]);
    let ran = try_log(&bench, &["cut", "doily", "--copies", "2", "--from", "roll 1"]);
    assert!(
        ran.messages.contains("nothing can be cut from “roll 1”, whose purchase was undone (line 1)"),
        "{}",
        ran.messages
    );
}
