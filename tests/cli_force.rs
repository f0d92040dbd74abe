//! Results take the place of earlier results and of nothing else, unless `--force` says so.

#[path = "support/run.rs"]
mod run;

use run::{Bench, SMALL};

const DRAWING: &str = r#"<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="50mm" viewBox="0 0 100 50"><rect id="door" width="60" height="40"/></svg>"#;

fn bench() -> Bench {
    let bench = Bench::with(SMALL);
    std::fs::write(bench.path("door.svg"), DRAWING).expect("a drawing");
    bench
}

/// Every command that writes files, and files that it writes.
const WRITERS: [(&[&str], &[&str]); 7] = [
    (
        &["lay", "job.json", "--effort", "1", "--out", "out"],
        &["lay.json", "lay-roll-1.svg", "cut-list.csv", "take-off.csv"],
    ),
    (&["templates", "job.json", "--out", "out"], &["templates.pdf"]),
    (&["templates", "job.json", "--out", "out", "--format", "svg"], &["template-doily.svg"]),
    (&["templates", "job.json", "--out", "out", "--format", "dxf"], &["template-doily.dxf"]),
    (
        &["mark-out", "out/lay.json", "--large", "100mm", "--out", "out"],
        &["mark-out-roll-1.pdf", "mark-out-roll-1.csv"],
    ),
    (&["compare", "job.json", "--effort", "1", "--seeds", "1", "--out", "out"], &["compare.json", "compare.svg"]),
    (&["trace", "door.svg", "--preview", "out/seen.svg"], &["seen.svg"]),
];

#[test]
fn a_second_run_replaces_the_results_of_the_first() {
    let bench = bench();
    for round in ["first", "second"] {
        for (arguments, files) in WRITERS {
            let ran = bench.run(arguments);
            assert_eq!(ran.code, Some(0), "{round} {arguments:?}: {}", ran.messages);
            let there = bench.names("out");
            assert!(files.iter().all(|file| there.iter().any(|name| name == file)), "{arguments:?}: {there:?}");
        }
    }
}

#[test]
fn a_file_of_somebody_else_stays_and_with_it_all_others() {
    let laid = bench();
    assert_eq!(laid.run(WRITERS[0].0).code, Some(0));
    for (arguments, files) in WRITERS {
        for file in files {
            let bench = bench();
            std::fs::create_dir(bench.path("out")).expect("a folder");
            for name in laid.names("out") {
                std::fs::copy(laid.path("out").join(&name), bench.path("out").join(&name)).expect("a copy");
            }
            let job = bench.path("out").join(file);
            std::fs::write(&job, "{ \"format\": 1, \"units\": \"mm\", \"job\": \"mine\" }").expect("a file");
            let before = all(&bench);
            let ran = bench.run(arguments);
            assert_eq!(ran.code, Some(2), "{arguments:?} over {file}: {}{}", ran.results, ran.messages);
            assert!(ran.messages.contains(file) && ran.messages.contains("--force"), "{}", ran.messages);
            assert_eq!(before, all(&bench), "{arguments:?} over {file}");
            let forced: Vec<&str> = arguments.iter().copied().chain(["--force"]).collect();
            let ran = bench.run(&forced);
            assert_eq!(ran.code, Some(0), "{forced:?}: {}", ran.messages);
            assert!(!bytes(&bench, file).contains("mine"), "{forced:?}");
        }
    }
}

/// Every file of the results with what is in it.
fn all(bench: &Bench) -> Vec<(String, String)> {
    bench.names("out").into_iter().map(|name| (name.clone(), bytes(bench, &name))).collect()
}

fn bytes(bench: &Bench, name: &str) -> String {
    String::from_utf8_lossy(&std::fs::read(bench.path("out").join(name)).expect("a file")).into_owned()
}

#[test]
fn results_may_lie_beside_the_job_and_never_on_it() {
    let bench = bench();
    for _ in 0..2 {
        let ran = bench.run(&["lay", "job.json", "--effort", "1", "--out", "."]);
        assert_eq!(ran.code, Some(0), "{}", ran.messages);
        assert_eq!(bench.read("job.json"), SMALL);
    }
    std::fs::create_dir(bench.path("inner")).expect("a folder");
    std::fs::write(bench.path("inner/lay.json"), SMALL).expect("a job of an unlucky name");
    let ran = bench.run(&["lay", "inner/lay.json", "--effort", "1", "--out", "inner"]);
    assert_eq!(ran.code, Some(2), "{}", ran.messages);
    assert!(ran.messages.contains("not written by this program"), "{}", ran.messages);
    assert_eq!(bench.names("inner"), ["lay.json"]);
    assert_eq!(bench.read("inner/lay.json"), SMALL);
}

#[test]
fn a_preview_never_takes_the_place_of_what_it_shows() {
    let bench = bench();
    assert_eq!(bench.run(&["trace", "door.svg", "--preview", "seen.svg"]).code, Some(0));
    let before = bench.read("seen.svg");
    let ran = bench.run(&["trace", "seen.svg", "--layer", "pieces", "--preview", "./seen.svg"]);
    assert_eq!(ran.code, Some(2), "{}", ran.messages);
    assert_eq!(bench.read("seen.svg"), before);
}
