//! The same job several ways: known lengths, ties, seams that a width forces, figures changed by a line.

#[path = "support/run.rs"]
mod run;

use std::path::Path;

use clothwright::covering::cover;
use clothwright::job::{Job, JobText, Reach, read_text};
use clothwright::plan::{
    Compared, TapeSource, Verdict, Way, compare, layer_choices, of_width, on_one_cloth, pieces_with, what_if, winners,
};
use run::Bench;

/// Two panels 1 m × 0.6 m, warp along.
const HAND: &str = r#"{ "format": 1, "units": "mm", "name": "Dunlin doors",
  "cloth": [ { "name": "roll", "width": 700, "mass": 100, "price": 14 } ],
  "rates": { "panel": 3, "patch": 0.5, "cut_edge": 0, "pinked_edge": 0.25, "glued_edge": 0.5, "seam": 2 },
  "pieces": [
    { "name": "door", "outline": { "rect": [1000, 600] }, "quantity": 2, "grain": "along", "cloth": "roll" } ] }"#;

/// A tail surface that a roll of 1 m cannot hold in one strip.
const WIDE: &str = r#"{ "format": 1, "units": "mm", "name": "Dunlin tailplane",
  "cloth": [ { "name": "roll", "width": 1800, "mass": 92, "price": 14, "faces_alike": true } ],
  "rules": { "method": "doped", "vne": "135 mph", "wing_loading": "5.2 lb/ft2", "glider": true },
  "airframe": [ { "name": "tailplane", "kind": "flat", "surface": "empennage", "tube": 19, "wrap": "first side",
    "outline": { "polygon": [[0, 0], [1300, 0], [1300, 1500], [0, 1500]] } } ] }"#;

fn job_of(text: &str) -> Job {
    read_text("job.json", text).unwrap_or_else(|faults| panic!("{faults}")).job
}

fn widths(job: &Job, widths: &[f64]) -> Vec<Way> {
    let way = |width: &f64| on_one_cloth(job, of_width(&job.cloth[0], *width, None), format!("{width}"));
    widths.iter().map(way).collect()
}

fn near(got: f64, wanted: f64) {
    assert!((got - wanted).abs() < 0.02, "{got} is not {wanted}");
}

#[test]
fn two_widths_by_hand() {
    let compared = compare(&widths(&job_of(HAND), &[700.0, 1200.0]), 1, 1, 2, &());
    let [narrow, wide] = &compared[..] else { panic!("two ways: {compared:?}") };
    // One after the other on 700 mm, side by side on 1200 mm.
    for run in &narrow.runs {
        near(run.length_used, 2000.0);
        near(run.waste, 1.0 - 600.0 / 700.0);
        near(run.cost.expect("a price"), 28.0);
    }
    for run in &wide.runs {
        near(run.length_used, 1000.0);
        near(run.waste, 0.0);
        // 14 for 700 mm are 24 for 1200 mm.
        near(run.cost.expect("a price"), 24.0);
    }
    assert_eq!(narrow.runs.iter().map(|run| run.seed).collect::<Vec<_>>(), [1, 2]);
    let best = winners(&compared);
    assert_eq!((best.cost, best.waste), (Verdict::Clear("1200".into()), Verdict::Clear("1200".into())));
    assert_eq!(best.seams, Verdict::Tie(vec!["700".into(), "1200".into()]), "there are no seams on either");
}

#[test]
fn one_seed_shows_no_spread_and_a_width_too_narrow_never_wins() {
    let compared = compare(&widths(&job_of(HAND), &[500.0, 700.0]), 1, 1, 1, &());
    assert!(compared[0].impossible.as_deref().is_some_and(|why| why.contains("2 of 2 pieces")), "{compared:?}");
    assert_eq!(winners(&compared).waste, Verdict::Unsure("700".into()));
}

#[test]
fn seams_are_worked_out_anew_for_each_width() {
    let compared = compare(&widths(&job_of(WIDE), &[1000.0, 1800.0]), 1, 1, 1, &());
    let [narrow, wide] = &compared[..] else { panic!("two ways: {compared:?}") };
    assert_eq!((narrow.seams.count, wide.seams.count), (2, 0), "a seam in the panel of each side");
    // AC 43.13-1B 2-7a: no lap is shorter than the panel is long; each seam crosses 1300 or 1500 mm and what wraps round.
    assert!((2600.0..3400.0).contains(&narrow.seams.length), "{:?}", narrow.seams);
    near(narrow.seams.tape_length, narrow.seams.length + 4.0 * 25.4);
    near(narrow.seams.mass.expect("a mass"), narrow.seams.lap_area * 92e-6);
    assert_eq!(winners(&compared).seams, Verdict::Clear("1800".into()));
}

#[test]
fn threads_do_not_change_a_comparison() {
    let ways = widths(&job_of(WIDE), &[1000.0, 1500.0, 1800.0]);
    let with = |threads: usize| -> Vec<Compared> {
        let pool = rayon::ThreadPoolBuilder::new().num_threads(threads).build().expect("threads");
        pool.install(|| compare(&ways, 1, 1, 2, &()))
    };
    assert_eq!(with(1), with(3));
}

#[test]
fn a_figure_is_changed_by_a_short_word_or_by_a_path() {
    let changed = |text: &str, change: &str| {
        what_if(&JobText { path: Path::new("job.json"), reach: Reach::Folder, text }, change)
            .unwrap_or_else(|fault| panic!("{fault}"))
    };
    assert_eq!(changed(HAND, "gap=5 mm").gap, 5.0);
    assert_eq!(changed(HAND, "price=16").cloth[0].price, Some(16.0));
    assert_eq!(changed(HAND, "cloth.roll.price = 17").cloth[0].price, Some(17.0));
    assert_eq!(changed(HAND, "cloth.1.selvage=1/2 in").cloth[0].selvage, [12.7, 12.7]);
    let tilted = changed(HAND, "tilt=3");
    assert_eq!(tilted.pieces[0].grain.tolerance, 3.0);
    assert_eq!(tilted.pieces[0].grain.direction, job_of(HAND).pieces[0].grain.direction);
    let faster = changed(WIDE, "Vne=160 mph");
    assert_ne!(faster.rules, job_of(WIDE).rules);
    let lapped = changed(WIDE, "lap=2 in").rules.expect("rules");
    assert!(!lapped.figures.is_empty() && lapped.figures.iter().all(|own| own.value == 50.8), "{lapped:?}");
}

#[test]
fn an_unknown_key_names_the_nearest_right_one() {
    let fault = |text: &str, change: &str| {
        what_if(&JobText { path: Path::new("job.json"), reach: Reach::Folder, text }, change)
            .expect_err(change)
            .to_string()
    };
    for (change, meant) in [
        ("gpa=5", "\"gap\""),
        ("prise=3", "\"price\""),
        ("cloth.rol.price=3", "\"roll\""),
        ("cloth.roll.widht=3", "\"width\""),
        ("pieces.door.quantty=3", "\"quantity\""),
    ] {
        let message = fault(HAND, change);
        assert!(message.contains(&format!("did you mean {meant}?")), "{change}: {message}");
    }
    assert!(fault(WIDE, "tilt=2").contains("this one gives none"));
    assert!(fault(HAND, "gap").contains("KEY=VALUE"));
    assert!(fault(HAND, "gap=-5").contains("0 or more"), "the reader's own words");
    assert!(fault(HAND, "cloth.7.price=3").contains("from 1 to 1"));
    assert!(fault(WIDE, "airframe.tailplane.tubes=3").contains("did you mean \"tube\"?"));
}

#[test]
fn patches_and_a_second_layer_by_hand() {
    let pieces =
        r#""pieces": [ { "name": "patch", "outline": { "rect": [200, 100] }, "quantity": 4, "edge": "pinked" },"#;
    let job = job_of(&HAND.replace("\"pieces\": [", pieces));
    let covering = Default::default();
    let all = pieces_with(&job, &covering);
    let choices = layer_choices(&job, &covering, &all, &["door".to_owned()]).expect("there is a door");
    let [panels, patches, whole, second] = &choices[..] else { panic!("{choices:?}") };
    // 4 patches: 4 × 0.02 m², 4 × 0.6 m of edge; 4 × 0.5 h + 2.4 m × (0.5 + 0.25) h.
    near(patches.cloth * 1e-6, 0.08);
    assert_eq!((patches.glued.round(), patches.pinked.round(), patches.pieces), (2400.0, 2400.0, 4));
    near(patches.hours, 2.0 + 2.4 * 0.75);
    // 2 doors: 1.2 m² and 120 g, 2 × 3.2 m of edge; plain as panels, pinked as a second layer.
    near(panels.hours, 2.0 * 3.0 + 6.4 * 0.5);
    near(second.hours, 2.0 * 3.0 + 6.4 * 0.75);
    near(second.mass.expect("a mass"), 120.0);
    near(whole.hours, panels.hours + patches.hours);
    assert!(second.default_rates.is_empty(), "all rates are the job's own");
    let fault = layer_choices(&job, &covering, &all, &["dor".to_owned()]).expect_err("no such face").to_string();
    assert!(fault.contains("did you mean \"door\"?"), "{fault}");
}

/// A tail surface with its tape: bought for 31 a roll, or cut from the cloth; the strips are pieces then, and cost cloth.
#[test]
fn bought_tape_stands_beside_tape_that_is_cut_from_the_cloth() {
    let tape = r#""tape": [ { "name": "any", "width": "2 in", "length": "50 yd", "price": 31 },
                     { "name": "wide", "width": "3 in", "length": "50 yd", "price": 40 } ], "airframe""#;
    let job = job_of(&WIDE.replace("\"airframe\"", tape));
    let way = || on_one_cloth(&job, job.cloth[0].clone(), "roll".to_owned());
    let ways = [TapeSource::Bought, TapeSource::Cut].map(|source| way().with_tape(source));
    let alone = compare(&[way()], 1, 1, 1, &());
    let compared = compare(&ways, 1, 1, 1, &());
    let [bought, cut] = &compared[..] else { panic!("two ways: {compared:?}") };
    let cost = |way: &Compared| way.runs[0].cost.expect("a price");
    let rolls = bought.tape.as_ref().expect("tape").rolls_cost;
    assert!(rolls == 31.0 || rolls == 40.0 || rolls == 71.0, "{rolls}");
    near(cost(bought), cost(&alone[0]) + rolls);
    let strips = cut.tape.as_ref().expect("tape");
    assert_eq!((strips.rolls_cost, cut.pieces), (0.0, alone[0].pieces + u64::from(strips.strips)));
    assert!(cut.runs[0].length_used > bought.runs[0].length_used, "strips take cloth");
    assert!(strips.hours > 0.0 && strips.edge > 0.0);
    let bench = Bench::with(WIDE);
    let refused = bench.run(&["compare", "job.json", "--tape", "both"]);
    assert_eq!(refused.code, Some(2));
    assert!(refused.messages.contains("the job has no \"tape\""), "{}", refused.messages);
    let ran = bench.run(&["compare", "job.json", "--tape", "cut", "--seeds", "1"]);
    assert_eq!(ran.code, Some(0), "{}", ran.messages);
    assert!(ran.results.contains("roll 1800 mm, tape cut from it"), "{}", ran.results);
}

/// Strips for tape that the job lays weigh on no single way: they are left aside until somebody asks for them.
#[test]
fn strips_for_tape_are_no_pieces_of_a_comparison_that_is_not_about_tape() {
    let two = r#""faces_alike": true }, { "name": "other", "width": 1800, "price": 14 } ],
        "tape_cutting": { "cut_from_cloth": { "cloth": "roll", "in_lay": true } },"#;
    let job = job_of(&WIDE.replace(r#""faces_alike": true } ],"#, two));
    let ways: Vec<Way> = job.cloth.iter().map(|cloth| on_one_cloth(&job, cloth.clone(), cloth.name.clone())).collect();
    let compared = compare(&ways, 1, 1, 1, &());
    assert_eq!(compared[0].pieces, compared[1].pieces);
}

/// One builder's log has 130 hours for a fuselage with its patches: common practice, no source. The default rates give the
/// same order of size.
#[test]
fn the_default_rates_have_the_order_of_size_of_a_log() {
    let job = job_of(include_str!("../examples/dunlin/fuselage.json"));
    assert!(job.rates.0.is_empty(), "no rates of its own");
    let covering = cover(&job).expect("it can be covered");
    let pieces = pieces_with(&job, &covering);
    let choices = layer_choices(&job, &covering, &pieces, &["side".to_owned()]).expect("there are sides");
    let hours = choices[..2].iter().map(|choice| choice.hours).sum::<f64>();
    assert!((130.0 / 3.0..130.0 * 3.0).contains(&hours), "{hours}");
    assert!(!choices[0].default_rates.is_empty());
}

#[test]
fn the_command_writes_data_and_a_drawing_and_names_its_winner() {
    let bench = Bench::with(HAND);
    let ran = bench.run(&["compare", "job.json", "--widths", "700,1.2m@30", "--seeds", "2", "--out", "out"]);
    assert_eq!(ran.code, Some(0), "{}", ran.messages);
    assert_eq!(bench.names("out"), ["compare.json", "compare.svg"]);
    assert!(ran.results.contains("least money:  700 mm wide\n"), "a price of its own: {}", ran.results);
    assert!(ran.results.contains("least waste:  1200 mm wide\n"), "{}", ran.results);
    let file: serde_json::Value = serde_json::from_str(&bench.read("out/compare.json")).expect("JSON");
    assert_eq!(file["ways"].as_array().map(Vec::len), Some(2));
    let drawing = bench.read("out/compare.svg");
    let tree = roxmltree::Document::parse(&drawing).expect("SVG");
    let best = tree.descendants().filter(|node| node.attribute("class") == Some("best")).count();
    assert_eq!(best, 2, "one bar for money, one for waste");
    let changed = bench.run(&["compare", "job.json", "--what-if", "gap=50", "--seeds", "1"]);
    assert!(
        changed.results.contains("roll 700 mm, gap=50") && changed.results.contains("2.05 m"),
        "{}",
        changed.results
    );
    let wrong = bench.run(&["compare", "job.json", "--what-if", "gpa=50"]);
    assert_eq!(wrong.code, Some(2));
    assert!(wrong.messages.contains("did you mean \"gap\"?"), "{}", wrong.messages);
    assert_eq!(bench.run(&["compare", "job.json", "--widths", "wide"]).code, Some(2));
}
