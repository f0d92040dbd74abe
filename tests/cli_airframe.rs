//! An airframe goes the whole way: rules, panels, pieces, lay, check of the lay, drawings.

#[path = "support/run.rs"]
mod run;

use clothwright::covering::cover;
use clothwright::draw::part_sheet;
use clothwright::job::read_text;
use clothwright::plan::LayFile;
use run::Bench;

/// A rudder with the lap on its first side, and a pair of elevators, of cloth with a right and a wrong face; a patch besides.
const TAIL: &str = r#"{ "format": 1, "units": "mm", "name": "Dunlin tail", "gap": 2,
  "cloth": [ { "name": "roll", "width": 1500, "mass": 92 } ],
  "rules": { "method": "doped", "vne": "160 mph", "wing_loading": "25 kg/m2",
    "figures": [ { "figure": "lap", "at": "empennage", "value": 60, "why": "manual of the Dunlin, p. 12" } ] },
  "airframe": [
    { "name": "rudder", "kind": "flat", "surface": "empennage", "tube": 40, "wrap": "first side",
      "outline": { "polygon": [[0, 0], [500, 0], [420, 900], [0, 900]] }, "hinge": [[0, 0], [0, 900]],
      "members": [ { "class": "rib", "from": [0, 450], "to": [460, 450] } ] },
    { "name": "elevator", "kind": "flat", "surface": "empennage", "tube": 40, "mirrored": true,
      "outline": { "polygon": [[0, 0], [400, 0], [300, 700], [0, 700]] } } ],
  "pieces": [ { "name": "doily", "outline": { "circle": 165 } } ] }"#;

const LAY: [&str; 6] = ["lay", "job.json", "--out", "out", "--effort", "1"];

#[test]
fn an_airframe_is_laid_checked_and_drawn() {
    let bench = Bench::with(TAIL);
    let ran = bench.run(&LAY);
    assert_eq!(ran.code, Some(0), "{}", ran.messages);
    assert_eq!(
        bench.names("out"),
        [
            "cut-list.csv",
            "lay-roll.svg",
            "lay.json",
            "map-elevator.svg",
            "map-rudder.svg",
            "map.csv",
            "mark-out-roll.csv",
            "mark-out-roll.pdf",
            "part-elevator.svg",
            "part-rudder.svg",
            "report.html",
            "take-off.csv"
        ]
    );
    let lay: LayFile = serde_json::from_str(&bench.read("out/lay.json")).expect("a lay file");
    let mut laid: Vec<&str> = lay.cloths.iter().flat_map(|cloth| &cloth.pieces).map(|p| p.piece.as_str()).collect();
    laid.sort_unstable();
    assert_eq!(
        laid,
        [
            "doily",
            "elevator, as drawn",
            "elevator, as drawn",
            "elevator, mirrored",
            "elevator, mirrored",
            "rudder, first side",
            "rudder, second side"
        ]
    );
    let cut_list = bench.read("out/cut-list.csv");
    assert!(cut_list.contains("rudder, second side"), "{cut_list}");
    let verified = bench.run(&["verify", "out/lay.json"]);
    assert_eq!(verified.code, Some(0), "{}{}", verified.results, verified.messages);
}

#[test]
fn a_lay_of_other_panels_is_found_out() {
    let bench = Bench::with(TAIL);
    assert_eq!(bench.run(&LAY).code, Some(0));
    std::fs::write(bench.path("job.json"), TAIL.replace("\"value\": 60", "\"value\": 62")).expect("a job file");
    let verified = bench.run(&["verify", "out/lay.json"]);
    assert_eq!(verified.code, Some(3));
    assert!(verified.results.contains("rudder, first side"), "{}", verified.results);
}

#[test]
fn check_prints_what_each_rule_gave_and_what_is_used() {
    let ran = Bench::with(TAIL).run(&["check", "job.json"]);
    assert_eq!(ran.code, Some(0), "{}", ran.messages);
    let line = |start: &str| {
        let found = ran.results.lines().find(|line| line.starts_with(start));
        found.unwrap_or_else(|| panic!("{start} is missing:\n{}", ran.results)).to_owned()
    };
    // AC 43.13-1B 2-7b(3): above 150 mph, lap 2 in and tape 3 in.
    let lap = line("lap ");
    for words in ["empennage", "60 mm", "50.8 mm", "AC 2-7b(3)", "manual of the Dunlin, p. 12"] {
        assert!(lap.contains(words), "{lap} lacks {words}");
    }
    let tape = line("tape ");
    assert_eq!(tape.matches("76.2 mm").count(), 2, "{tape}");
    // AC table 2-1: Vne of 160 mph needs grade A.
    assert!(line("cloth class needed").contains("grade A, 80 lb/in when new, not airworthy below 56 lb/in"));
    assert!(line("rudder").contains("kg·m"));
    assert!(ran.messages.contains("re-check the balance after covering (AC 2-5f)"), "{}", ran.messages);
}

#[test]
fn pieces_lists_every_panel_with_its_figures() {
    let ran = Bench::with(TAIL).run(&["pieces", "job.json", "--json"]);
    let list: serde_json::Value = serde_json::from_str(&ran.results).expect("JSON");
    let rows = list["pieces"].as_array().expect("a list");
    let names: Vec<&str> = rows.iter().filter_map(|row| row["piece"].as_str()).collect();
    assert_eq!(
        names,
        ["doily", "rudder, first side", "rudder, second side", "elevator, as drawn", "elevator, mirrored"]
    );
    assert_eq!(rows[3]["goes"], "elevator: first side, second side of its mirror image");
    assert!(rows[1]["source"].as_str().expect("a text").contains("lap past the middle 60 mm (AC 2-7b(3);"));

    // In words each panel has a row with its size, short enough to be read, and its figures below the table.
    let ran = Bench::with(TAIL).run(&["pieces", "job.json"]);
    let lines: Vec<&str> = ran.results.lines().collect();
    for name in &names[1..] {
        let row = lines.iter().find(|line| line.contains(&format!("  {name}  "))).expect("a row");
        assert!(row.chars().count() < 120, "{row}");
        let heading = lines.iter().position(|line| line == name).expect("a heading");
        let below: Vec<&str> = lines[heading + 1..].iter().take_while(|line| !line.is_empty()).copied().collect();
        assert!(below.iter().any(|line| line.starts_with("  finished ")), "{below:?}");
        assert!(below.iter().any(|line| line.starts_with("  handling ")), "{below:?}");
    }
    assert!(ran.results.contains("\n  goes: elevator: first side, second side of its mirror image\n"));
}

#[test]
fn a_part_that_cannot_be_covered_stops_every_command_and_writes_nothing() {
    let bench = Bench::with(&TAIL.replace("\"doped\"", "\"sewn\""));
    for command in [&["check", "job.json"][..], &["pieces", "job.json"], &LAY] {
        let ran = bench.run(command);
        assert_eq!((ran.code, ran.results.as_str()), (Some(1), ""), "{command:?}: {}", ran.messages);
        assert!(ran.messages.contains("airframe[0] (line 6, column 5)"), "{}", ran.messages);
    }
    assert!(bench.names(".") == ["job.json"] || bench.names("out").is_empty());
}

#[test]
fn a_drawing_of_a_part_shows_its_panels_lines_and_members() {
    let job = read_text("tail.json", TAIL).expect("a sound job").job;
    let covering = cover(&job).expect("it can be covered");
    let svg = part_sheet(&job, &covering.parts[0]);
    let sheet = roxmltree::Document::parse(&svg).expect("well-formed XML");
    let count = |class: &str| sheet.descendants().filter(|node| node.attribute("class") == Some(class)).count();
    // Two panels, and in the key one line of each kind.
    assert_eq!((count("panel"), count("plain")), (2, 2));
    assert_eq!([count("trim"), count("wrap"), count("finished"), count("member"), count("hinge")], [3; 5]);
    assert_eq!(count("seam"), 0);
    // True to size: the cut line of the first panel is as wide as the panel.
    let cut = sheet.descendants().find(|node| node.attribute("class") == Some("plain")).and_then(|n| n.attribute("d"));
    let xs: Vec<f64> =
        cut.expect("a path").split(['M', 'L', 'Z']).filter_map(|point| point.split(' ').next()?.parse().ok()).collect();
    let width = xs.iter().copied().fold(0.0, f64::max) - xs.iter().copied().fold(f64::INFINITY, f64::min);
    assert!((width - covering.parts[0].panels[0].cut.bounds().width()).abs() < 0.002, "{width}");
    let words: String = sheet.descendants().filter_map(|node| node.text()).collect();
    assert!(words.contains("rudder, second side") && words.contains("Planning aid, not approved data"));
}

#[test]
fn the_tail_of_the_dunlin_can_be_covered() {
    let text = include_str!("../examples/dunlin/tail.json");
    let job = read_text("tail.json", text).expect("a sound job").job;
    let covering = cover(&job).expect("it can be covered");
    let panels: Vec<(&str, u32)> = covering
        .parts
        .iter()
        .flat_map(|part| &part.panels)
        .map(|panel| (panel.plan.name.as_str(), panel.plan.quantity))
        .collect();
    assert_eq!(
        panels,
        [
            ("fin, every side", 2),
            ("rudder, first side", 1),
            ("rudder, second side", 1),
            ("tailplane, every side", 2),
            ("elevator, every side", 4)
        ]
    );
}
