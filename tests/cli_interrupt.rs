//! Ctrl-C at any moment: code 130, and either all of the results or none.

#![cfg(unix)]

#[path = "support/run.rs"]
mod run;

use std::os::unix::process::ExitStatusExt;
use std::process::{Command, Output, Stdio};
use std::thread::sleep;
use std::time::{Duration, Instant};

use run::{Bench, SMALL};

/// Ends the program with Ctrl-C after so many milliseconds, so many times.
fn interrupted(bench: &Bench, arguments: &[&str], after: u64, times: u32) -> Output {
    let child = Command::new(env!("CARGO_BIN_EXE_clothwright"))
        .args(arguments)
        .current_dir(bench.path(""))
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("it starts");
    for _ in 0..times {
        sleep(Duration::from_millis(after));
        let _ = Command::new("kill").args(["-INT", &child.id().to_string()]).stderr(Stdio::null()).status();
    }
    child.wait_with_output().expect("it ends")
}

/// It was done before, or it ended because of Ctrl-C; a signal before the program listens is as good as the code.
fn ended_rightly(output: &Output) -> bool {
    matches!(output.status.code(), Some(0 | 130)) || output.status.signal() == Some(2)
}

fn whole_or_nothing(bench: &Bench, folder: &str, whole: &[&str]) {
    let there = if bench.path(folder).exists() { bench.names(folder) } else { Vec::new() };
    assert!(there.iter().all(|name| !name.contains("unfinished")), "{there:?}");
    let count = whole.iter().filter(|name| there.iter().any(|there| there == *name)).count();
    assert!(count == 0 || count == whole.len(), "half-written: {there:?}");
}

#[test]
fn a_search_that_is_interrupted_writes_its_best_lay() {
    let bench = Bench::with(SMALL);
    let arguments = ["lay", "job.json", "--effort", "1000000", "--out", "out"];
    let begun = Instant::now();
    let output = interrupted(&bench, &arguments, 1_500, 1);
    assert_eq!(output.status.code(), Some(130), "{}", String::from_utf8_lossy(&output.stderr));
    assert!(String::from_utf8_lossy(&output.stderr).contains("finishing with the best lay so far"));
    assert!(begun.elapsed() < Duration::from_secs(20), "{:?}", begun.elapsed());
    assert_eq!(bench.run(&["verify", "out/lay.json"]).code, Some(0));
    whole_or_nothing(&bench, "out", &["lay.json", "cut-list.csv", "lay-roll-1.svg", "take-off.csv"]);
}

#[test]
fn ctrl_c_at_any_moment_leaves_all_or_nothing() {
    let writers: [(&[&str], &[&str]); 4] = [
        (&["lay", "job.json", "--effort", "1", "--out", "out"], &["lay.json", "cut-list.csv", "lay-roll-1.svg"]),
        (
            &["templates", "job.json", "--format", "svg", "--out", "out"],
            &["template-doily.svg", "template-gusset-upper.svg"],
        ),
        (&["compare", "job.json", "--effort", "20", "--out", "out"], &["compare.json", "compare.svg"]),
        (&["pieces", "job.json"], &[]),
    ];
    for (arguments, whole) in writers {
        for after in [0, 5, 15, 30, 60, 120, 250] {
            for times in [1, 2] {
                let bench = Bench::with(SMALL);
                let output = interrupted(&bench, arguments, after, times);
                let words = String::from_utf8_lossy(&output.stderr).into_owned();
                assert!(ended_rightly(&output), "{arguments:?} after {after} ms: {:?} {words}", output.status);
                assert!(output.status.code() != Some(130) || words.contains("interrupted"), "{arguments:?}: {words}");
                whole_or_nothing(&bench, "out", whole);
            }
        }
    }
}

#[test]
fn a_log_that_is_interrupted_has_whole_lines() {
    let bench = Bench::with(SMALL);
    for after in [0, 2, 4, 8, 16, 32, 64] {
        assert!(ended_rightly(&interrupted(&bench, &["log", "job.json", "note", "an evening"], after, 1)));
    }
    let status = bench.run(&["log", "job.json", "status"]);
    assert_eq!(status.code, Some(0), "{}", status.messages);
    assert!(!status.messages.contains("cannot be read"), "{}", status.messages);
}
