//! The report in a real browser: it opens from disk, ticks stay, the search finds, the keyboard zooms, it prints, and an
//! accessibility checker has nothing serious against it. The browser is chromium, driven by `tests/browser/report.mjs`.

#[path = "support/run.rs"]
mod run;

use std::path::Path;
use std::process::Command;

use run::{Bench, SMALL};

fn lay(bench: &Bench, job: &str, out: &str) {
    let ran = bench.run(&["lay", job, "--out", out, "--effort", "1"]);
    assert!(matches!(ran.code, Some(0)), "{}", ran.messages);
}

/// Holds a report to what it promises; `wish` is told to the script, beside the paths.
fn hold(bench: &Bench, report: &str, mut wish: serde_json::Value) {
    let browser = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/browser");
    assert!(browser.join("node_modules").is_dir(), "the checks need their packages: npm ci --prefix tests/browser");
    let other = Bench::with(&SMALL.replace("165", "160"));
    lay(&other, "job.json", "out");
    wish["report"] = bench.path(report).to_str().into();
    wish["other"] = other.path("out/report.html").to_str().into();
    let output =
        Command::new("node").arg(browser.join("report.mjs")).arg(wish.to_string()).output().expect("node runs");
    let told = String::from_utf8_lossy(&output.stdout);
    assert!(output.status.success(), "{told}\n{}", String::from_utf8_lossy(&output.stderr));
    assert_eq!(told.matches("ok: ").count(), 8, "every check has run");
}

#[test]
fn the_report_of_a_small_job_keeps_its_promises() {
    let bench = Bench::with(SMALL);
    lay(&bench, "job.json", "out");
    // The first page and the cautions behind it, then a page for each chapter: lays, cut list, templates, take-off, heat.
    let wish = serde_json::json!({ "search": "gusset", "found": 4, "pages": { "A4": 7, "Letter": 7 } });
    hold(&bench, "out/report.html", wish);
}

/// The whole aircraft, with several hundred pieces.
#[test]
fn the_report_of_the_dunlin_keeps_its_promises() {
    let bench = Bench::with(include_str!("../examples/dunlin/airframe.json"));
    lay(&bench, "job.json", "out");
    hold(&bench, "out/report.html", serde_json::json!({ "search": "rudder", "found": "\\d+", "pages": null }));
}
