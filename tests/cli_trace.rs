//! `clothwright trace`, and outlines of a job that come from drawings.

#[path = "support/run.rs"]
mod run;

use run::Bench;

const JOB: &str = r#"{ "format": 1, "units": "mm", "cloth": [ { "name": "roll", "width": 600 } ],
  "pieces": [ { "name": "horn", "outline": { "file": "gussets.svg", "id": "horn-left" } } ] }"#;

fn bench(job: &str) -> Bench {
    let bench = Bench::with(job);
    for name in ["gussets.svg", "no-size.svg", "plate.dxf", "loose.dxf"] {
        let from = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("fixtures/drawings").join(name);
        std::fs::copy(from, bench.path(name)).expect("a copy");
    }
    bench
}

#[test]
fn traced_pieces_stand_in_a_job_as_they_are_printed() {
    let bench = bench(JOB);
    for (file, units) in [("gussets.svg", "mm"), ("plate.dxf", "in")] {
        let traced = bench.run(&["trace", file, "--units", units, "--preview", "seen.svg"]);
        assert_eq!(traced.code, Some(0), "{}", traced.messages);
        let job = format!(
            "{{ \"format\": 1, \"units\": \"{units}\", \"cloth\": [ {{ \"name\": \"roll\", \"width\": \"2 m\" }} ], {} }}",
            traced.results
        );
        std::fs::write(bench.path("traced.json"), job).expect("a job");
        let pieces = bench.run(&["pieces", "traced.json"]);
        assert_eq!(pieces.code, Some(0), "{}", pieces.messages);
        assert!(bench.read("seen.svg").contains(file));
    }
}

#[test]
fn a_job_takes_an_outline_from_a_drawing_and_says_its_size() {
    let bench = bench(JOB);
    let ran = bench.run(&["pieces", "job.json"]);
    assert_eq!(ran.code, Some(0), "{}", ran.messages);
    assert!(ran.results.contains("60 × 50 mm"), "{}", ran.results);
    assert!(ran.messages.contains("outline from \"gussets.svg\", “horn-left”: 60 mm × 50 mm"), "{}", ran.messages);
}

#[test]
fn what_a_job_may_not_ask_of_a_drawing() {
    let bench = bench(JOB);
    std::fs::create_dir(bench.path("inner")).expect("a folder");
    let job = JOB.replace("gussets.svg", "../gussets.svg");
    std::fs::write(bench.path("inner/job.json"), job).expect("a job");
    let ran = bench.run(&["check", "inner/job.json"]);
    assert_eq!(ran.code, Some(1));
    assert!(ran.messages.contains("lies outside the job's folder"), "{}", ran.messages);
    assert_eq!(bench.run(&["check", "inner/job.json", "--allow-outside"]).code, Some(0));
    for (outline, words) in [
        (r#"{ "file": "gusets.svg" }"#, "there is no file \"gusets.svg\""),
        (r#"{ "file": "gussets.svg", "id": "horns" }"#, "has 2 shapes there"),
        (r#"{ "file": "no-size.svg" }"#, "does not say how large it is"),
        (r#"{ "file": "gussets.svg", "id": "door", "unit": 0 }"#, "a unit must be greater than 0"),
        (r#"{ "circle": 20, "id": "door" }"#, "only a \"file\" has \"id\""),
        (r#"{ "file": "no-size.svg", "width": 20, "unit": 1 }"#, "both \"unit\" and \"width\""),
        (r#"{ "file": "inner" }"#, "\"inner\" is no file"),
    ] {
        let text = JOB.replace(r#"{ "file": "gussets.svg", "id": "horn-left" }"#, outline);
        std::fs::write(bench.path("job.json"), text).expect("a job");
        let ran = bench.run(&["check", "job.json"]);
        assert_eq!(ran.code, Some(1), "{outline}");
        assert!(ran.messages.contains(words), "{outline}: {}", ran.messages);
    }
}

#[test]
fn a_preview_takes_no_other_file_away() {
    let bench = bench(JOB);
    let before = bench.read("job.json");
    let ran = bench.run(&["trace", "gussets.svg", "--preview", "job.json"]);
    assert_eq!(ran.code, Some(2), "{}", ran.messages);
    assert!(ran.messages.contains("add --force"), "{}", ran.messages);
    assert_eq!(bench.read("job.json"), before);
    assert_eq!(bench.run(&["trace", "gussets.svg", "--preview", "job.json", "--force"]).code, Some(0));
}

#[test]
fn plotter_files_read_back_as_the_same_pieces() {
    let text = JOB.replace("} } ]", "} }, { \"name\": \"ring\", \"outline\": { \"ring\": [130, 95] } }, { \"name\": \"tab\", \"outline\": { \"path\": \"M0 0H90A20 20 0 0 1 90 40H0Z\" } } ]");
    let bench = bench(&text);
    for (format, layer, holes) in
        [("dxf", "CUT_LINE", "CUT_AFTER_SHRINKING"), ("svg", "cut-line", "cut-after-shrinking")]
    {
        assert_eq!(bench.run(&["templates", "job.json", "--out", "out", "--format", format]).code, Some(0));
        for (name, size, area) in [
            ("ring", "130 × 130 mm", "61.85 cm²"),
            ("tab", "110 × 40 mm", "42.28 cm²"),
            ("horn", "60 × 50 mm", "27.13 cm²"),
        ] {
            let file = format!("out/template-{name}.{format}");
            let mut arguments = vec!["trace", &file, "--layer", layer];
            // Only the ring has a hole, and a layer that is not there is a mistake.
            arguments.extend(["--layer", holes].into_iter().filter(|_| name == "ring"));
            let ran = bench.run(&arguments);
            let said = format!("{file}: {}{}", ran.results, ran.messages);
            assert!(ran.results.contains(size) && ran.results.contains(area), "{said}");
            assert_eq!(ran.results.matches("\"outline\"").count(), 1, "{said}");
        }
    }
}
