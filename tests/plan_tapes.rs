//! Finishing tape onto rolls: every run is cut once from tape of its kind, joined only where it may be, and what cannot be
//! cut is named.

#[path = "support/run.rs"]
mod run;

use std::collections::BTreeMap;

use clothwright::covering::{TapeRun, cover};
use clothwright::job::{self, GrainDirection, Job};
use clothwright::plan::{LayFile, TapePlan, cut_tapes, pieces_with};
use clothwright::verify::{Fault, verify_lay};
use proptest::prelude::*;
use run::Bench;
use serde_json::{Value, json};

/// A rudder: a rectangle of tubes with one rib across it, taped on both sides.
fn rudder(tape: Value, cutting: Value) -> Value {
    json!({ "format": 1, "units": "mm", "name": "Dunlin rudder",
        "cloth": [{ "name": "roll", "width": 1500, "price": 10, "faces_alike": true }],
        "rules": { "method": "doped", "vne": "120 mph", "wing_loading": "25 kg/m2" },
        "airframe": [{ "name": "rudder", "kind": "flat", "surface": "empennage", "tube": 20,
            "outline": { "rect": [600, 1200] },
            "members": [{ "class": "rib", "from": [0, 600], "to": [600, 600] }] }],
        "tape": tape, "tape_cutting": cutting })
}

fn read(job: &Value) -> Job {
    job::read_text("job.json", &job.to_string()).unwrap_or_else(|faults| panic!("{faults}")).job
}

fn planned(job: &Value) -> (Job, Vec<TapeRun>, TapePlan) {
    let job = read(job);
    let covering = cover(&job).expect("it can be covered");
    let plan = cut_tapes(&job, &covering);
    let runs = covering.parts.into_iter().flat_map(|part| part.dressed.tapes).collect();
    (job, runs, plan)
}

fn roll(name: &str, width: f64, length: f64, price: f64) -> Value {
    json!({ "name": name, "width": width, "length": length, "price": price })
}

/// Every run is on rolls once or is named as unplaced, in pieces that come to its length and their overlaps; no roll is cut
/// past its end.
fn assert_sound(job: &Job, runs: &[TapeRun], plan: &TapePlan) {
    let mut pieces: BTreeMap<&str, Vec<f64>> = BTreeMap::new();
    for roll in &plan.rolls {
        let mut at = 0.0;
        for piece in &roll.pieces {
            assert!((piece.from - at).abs() < 0.01, "{roll:?}");
            at += piece.length;
            pieces.entry(&piece.run).or_default().push(piece.length);
        }
        assert!(roll.left >= 0.0 && (at + roll.left - roll.length).abs() < 0.01, "{roll:?}");
    }
    for run in runs {
        for copy in 1..=run.quantity {
            let name = if run.quantity == 1 { run.number.clone() } else { format!("{}·{copy}", run.number) };
            let unplaced = plan.unplaced.iter().filter(|one| one.run == name).count();
            let Some(lengths) = pieces.remove(name.as_str()) else {
                assert_eq!(unplaced, 1, "{name} is lost");
                continue;
            };
            assert_eq!(unplaced, 0, "{name} is cut and unplaced");
            let joints = lengths.len() as f64 - 1.0;
            let sum: f64 = lengths.iter().sum::<f64>() - joints * job.tape_cutting.overlap;
            assert!((sum - run.length).abs() < 0.05 * (joints + 1.0), "{name}: {sum}, not {}", run.length);
            assert!(joints == 0.0 || lengths.iter().all(|length| *length >= job.tape_cutting.shortest - 0.02));
        }
    }
    assert!(pieces.is_empty(), "cut and not wanted: {pieces:?}");
}

/// By hand: tapes hang over by 25.4 mm at each end (approved covering manual p. 43). The rib, 600 mm, has a tape of 2 in on
/// each side: 2 × 650.8 = 1301.6 mm. Laps round a tail are taped with 3 in (approved covering manual p. 52), each edge once:
/// 2 × (600 + 50.8) + 2 × (1200 + 50.8) = 3803.2 mm.
#[test]
fn a_rudder_worked_by_hand() {
    let stock = json!([
        roll("narrow", 50.8, 2000.0, 4.0),
        roll("wide", 76.2, 2000.0, 5.0),
        roll("wide, long", 76.2, 4000.0, 9.0)
    ]);
    let (job, runs, plan) = planned(&rudder(stock, json!({ "joins": "never" })));
    assert_sound(&job, &runs, &plan);
    assert_eq!(plan.unplaced, []);
    let kinds: Vec<_> = plan.kinds.iter().map(|kind| (kind.kind.as_str(), kind.runs, kind.rolls, kind.cost)).collect();
    // The wide tape goes onto one long roll for 9, where two short ones would cost 10.
    assert_eq!(kinds, [("50.8 mm straight, pinked", 2, 1, 4.0), ("76.2 mm straight, pinked", 4, 1, 9.0)]);
    let lengths: Vec<f64> = plan.kinds.iter().map(|kind| kind.length).collect();
    assert!((lengths[0] - 1301.6).abs() < 0.01 && (lengths[1] - 3803.2).abs() < 0.01, "{lengths:?}");
    assert!((plan.kinds[1].left - 196.8).abs() < 0.05);
    assert!(plan.kinds.iter().all(|kind| kind.proof_words() == "proven least"));
}

#[test]
fn a_run_that_is_too_long_is_named() {
    let stock = json!([roll("narrow", 50.8, 2000.0, 4.0), roll("wide", 76.2, 1000.0, 5.0)]);
    let (job, runs, plan) = planned(&rudder(stock, json!({ "joins": "never" })));
    assert_sound(&job, &runs, &plan);
    assert_eq!(plan.unplaced.len(), 2);
    let why = "it is 1250.8 mm long and may not be joined, and the longest roll of this kind is 1000 mm";
    assert!(plan.unplaced.iter().all(|one| one.why == why && one.over.starts_with("rudder: ")), "{:?}", plan.unplaced);
}

#[test]
fn a_kind_that_no_tape_has_is_named_with_the_nearest() {
    let stock = json!([roll("fifty", 50.0, 2000.0, 4.0), roll("wide", 76.0, 4000.0, 5.0)]);
    let (.., plan) = planned(&rudder(stock, json!({ "joins": "never" })));
    let [words] = &plan.cautions()[..] else { panic!("{:?}", plan.cautions()) };
    assert!(
        words.ends_with(
            "the job has no tape that is 50.8 mm straight, pinked; the nearest is “fifty”, 50 mm straight, pinked"
        ),
        "50 mm is less than 2 in, 76 mm is sold as 3 in: {words}"
    );
}

#[test]
fn what_there_is_not_enough_of_is_named() {
    let counted = json!({ "name": "narrow", "width": 50.8, "length": 700, "count": 1 });
    let (job, runs, plan) = planned(&rudder(json!([counted, roll("wide", 76.2, 4000.0, 5.0)]), json!({})));
    assert_sound(&job, &runs, &plan);
    assert_eq!(plan.unplaced.len(), 1);
    assert!(plan.unplaced[0].why.starts_with("there is not enough of “narrow”"), "{:?}", plan.unplaced);
    assert_eq!(plan.kinds[0].cost, 0.0, "what is there costs nothing");
}

#[test]
fn the_person_decides_between_pinked_and_plain() {
    let plain = json!({ "name": "plain", "width": 50.8, "length": 4000, "price": 1, "pinked": false });
    let stock = json!([plain, roll("pinked", 50.8, 4000.0, 9.0), roll("wide", 76.2, 4000.0, 5.0)]);
    let (.., plan) = planned(&rudder(stock.clone(), json!({})));
    assert_eq!(plan.kinds[0].kind, "50.8 mm straight, pinked");
    let (.., plan) = planned(&rudder(stock, json!({ "edge": "plain" })));
    assert_eq!((plan.kinds[0].kind.as_str(), plan.kinds[0].cost), ("50.8 mm straight, plain", 1.0));
}

/// By hand: the longest run, 1250.8 mm, needs 1300 mm of cloth, which is cut off by half decimetres. Two runs of 650.8 mm are
/// 1301.6 mm, so each of the six runs has a strip of its own: two of 50.8 mm, four of 76.2 mm, 406.4 mm of the width; the wide
/// ones are three quarters of that. Four strips are five cuts: 6.5 m, an hour's work as this job has it.
#[test]
fn tape_from_cloth_is_worked_by_hand() {
    let stock = json!([roll("narrow", 50.8, 4000.0, 4.0), roll("wide", 76.2, 4000.0, 9.0)]);
    let cutting = json!({ "joins": "never", "cut_from_cloth": { "cloth": "roll", "edge_an_hour": "6.5 m" } });
    let (.., plan) = planned(&rudder(stock, cutting));
    let [narrow, wide] = &plan.from_cloth[..] else { panic!("{:?}", plan.from_cloth) };
    assert_eq!((narrow.strips, narrow.strip, narrow.cloth, narrow.saves), (2, 1300.0, 325.0, 4.0));
    assert_eq!((wide.strips, wide.cloth, wide.cost, wide.saves), (4, 975.0, Some(9.75), 9.0));
    assert_eq!((wide.edge, wide.hours), (6500.0, 1.0));
}

/// The strips of [`tape_from_cloth_is_worked_by_hand`], two of one width and four of the other, are pieces like all others:
/// laid, drawn, checked, and cut up in the tape plan. Nothing is bought for them but cloth.
#[test]
fn tape_that_is_cut_from_cloth_lies_among_the_pieces() {
    let cutting = json!({ "joins": "never", "cut_from_cloth": { "cloth": "roll", "in_lay": true } });
    let job = rudder(json!([]), cutting.clone());
    let mut job = job.as_object().expect("an object").clone();
    job.remove("tape");
    let bench = Bench::with(&Value::from(job.clone()).to_string());
    let ran = bench.run(&["lay", "job.json", "--out", "out", "--effort", "1"]);
    assert_eq!(ran.code, Some(0), "{}", ran.messages);
    assert!(ran.results.contains("tape: 6 of 6 runs on 6 rolls; cost 0.00"), "{}", ran.results);
    let lay: Value = serde_json::from_str(&bench.read("out/lay.json")).expect("JSON");
    let laid = |name: &str| {
        let pieces = lay["cloths"][0]["pieces"].as_array().expect("pieces").iter();
        pieces.filter(|piece| piece["piece"] == name).count()
    };
    assert_eq!(laid("tape strip 50.8 mm straight, pinked"), 2);
    assert_eq!(laid("tape strip 76.2 mm straight, pinked"), 4);
    assert_eq!(bench.run(&["verify", "out/lay.json"]).code, Some(0));
    let take_off = lay["take_off"].as_array().expect("a take-off");
    for line in take_off.iter().filter(|line| line["section"] == "tape") {
        assert_eq!((line["buy"].as_f64(), line["rolls"].as_u64(), line["cost"].as_f64()), (Some(0.0), None, None));
        assert!(line["rule"].as_str().is_some_and(|rule| rule.ends_with("cut from strips of the cloth")), "{line}");
    }
    let spoilt = bench.read("out/lay.json").replace("\"number\": 4", "\"number\": 5");
    std::fs::write(bench.path("out/lay.json"), spoilt).expect("written");
    let found = bench.run(&["verify", "out/lay.json"]);
    assert_eq!(found.code, Some(3));
    assert!(found.results.contains("there is no tape strip 76.2 mm straight, pinked, roll 5"), "{}", found.results);
}

/// Bias strips are cut at 45° across the cloth and sewn together, with seams along the warp (AC 43.13-1B 2-13c).
#[test]
fn bias_tape_that_is_cut_from_cloth_is_sewn_from_strips() {
    let round = json!({ "path": "M 0 0 L 300 0 A 300 300 0 0 1 300 600 L 0 600 Z" });
    let mut job = rudder(json!([]), json!({ "cut_from_cloth": { "cloth": "roll", "in_lay": true } }));
    job["airframe"][0]["outline"] = round;
    job["airframe"][0]["members"] = json!([]);
    job["airframe"][0]["tube"] = json!(12);
    let mut job = job.as_object().expect("an object").clone();
    job.remove("tape");
    let job = read(&Value::from(job));
    let covering = cover(&job).expect("it can be covered");
    let plan = cut_tapes(&job, &covering);
    let bias = plan.kinds.iter().find(|kind| kind.bias).expect("tape round a curve lies on the bias");
    assert!(plan.unplaced.is_empty(), "{:?}", plan.unplaced);
    let strips: Vec<_> = plan.rolls.iter().filter(|roll| roll.kind == bias.kind).collect();
    let pieces = pieces_with(&job, &covering);
    let piece = pieces.iter().find(|piece| piece.name == strips[0].tape).expect("its strips are pieces");
    assert_eq!(piece.quantity as usize, strips.len());
    assert_eq!(piece.grain.direction, GrainDirection::Bias);
    // Across 1500 mm at 45°, and slanted at both ends.
    let [length, width] = piece.size;
    assert!((length - (1500.0 * std::f64::consts::SQRT_2 - width)).abs() < 0.1, "{length} × {width}");
}

#[test]
fn the_command_prints_and_names_what_is_on_no_roll() {
    let stock = json!([roll("narrow", 50.8, 2000.0, 4.0)]);
    let bench = Bench::with(&rudder(stock, json!({})).to_string());
    let ran = bench.run(&["tapes", "job.json"]);
    assert_eq!(ran.code, Some(3));
    assert!(ran.results.contains("narrow, roll 1: 50.8 mm straight, pinked"), "{}", ran.results);
    assert!(ran.messages.contains("the job has no tape that is 76.2 mm straight, pinked"), "{}", ran.messages);
    let ran = bench.run(&["tapes", "job.json", "--json"]);
    let list: Value = serde_json::from_str(&ran.results).expect("JSON");
    assert_eq!(
        (list["rolls"][0]["tape"].as_str(), list["unplaced"].as_array().map(Vec::len)),
        (Some("narrow"), Some(4))
    );
}

#[test]
fn a_lay_has_the_tape_plan_and_its_drawing_whatever_the_threads() {
    let stock = json!([roll("narrow", 50.8, 2000.0, 4.0), roll("wide", 76.2, 4000.0, 9.0)]);
    let bench = Bench::with(&rudder(stock, json!({})).to_string());
    let lay = |out: &str, threads: &str| {
        let ran = bench.run(&["lay", "job.json", "--out", out, "--effort", "1", "--threads", threads]);
        assert_eq!(ran.code, Some(0), "{}", ran.messages);
        assert!(ran.results.contains("tape: 6 of 6 runs on 2 rolls; cost 13.00, proven least"), "{}", ran.results);
        let files = ["lay.json", "tapes-50-8-mm-straight-pinked.svg", "tapes-76-2-mm-straight-pinked.svg"];
        files.map(|file| bench.read(&format!("{out}/{file}")))
    };
    let one = lay("one", "1");
    assert!(one[1].contains(">T1<"), "runs have the numbers of the map");
    assert_eq!(one, lay("two", "2"));
    assert_eq!(bench.run(&["verify", "one/lay.json"]).code, Some(0));
}

#[test]
fn the_independent_check_finds_what_is_wrong_with_a_tape_plan() {
    let stock = json!([roll("narrow", 50.8, 2000.0, 4.0), roll("wide", 76.2, 4000.0, 9.0)]);
    let job = read(&rudder(stock, json!({})));
    let found = |spoil: fn(&mut TapePlan)| {
        let mut plan = cut_tapes(&job, &cover(&job).expect("it can be covered"));
        spoil(&mut plan);
        let lay = LayFile {
            format: 1,
            job: "job.json".into(),
            seed: 1,
            effort: 1,
            cloths: Vec::new(),
            unplaced: Vec::new(),
            tape: Some(plan),
            cautions: Vec::new(),
            take_off: Vec::new(),
            rest: None,
        };
        let tape = verify_lay(&lay, &job).into_iter().filter(|finding| matches!(finding.fault, Fault::Tape { .. }));
        tape.map(|finding| finding.to_string()).collect::<Vec<_>>().join("; ")
    };
    assert_eq!(found(|_| ()), "");
    type Spoilt = (fn(&mut TapePlan), &'static str);
    let cases: [Spoilt; 7] = [
        (|plan| plan.rolls[0].pieces[1].from -= 1.0, "and the one before it ends at"),
        (|plan| plan.rolls[1].pieces[3].length += 500.0, "mm long"),
        (|plan| drop(plan.rolls[0].pieces.pop()), "is on no roll and not listed as unplaced"),
        (|plan| plan.rolls[0].tape = "wide".into(), "another width or weave"),
        (|plan| plan.rolls[0].tape = "broad".into(), "the job has no tape “broad”"),
        (|plan| plan.rolls[0].pieces[1].run = "T99".into(), "the job has no tape run T99"),
        (|plan| plan.rolls[0].pieces[1].length -= 9.0, "mm of tape, and should be"),
    ];
    for (spoil, words) in cases {
        assert!(found(spoil).contains(words), "{words}: {}", found(spoil));
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 48, ..ProptestConfig::default() })]

    #[test]
    fn every_run_is_cut_once_or_named(
        lengths in prop::collection::vec((700u32..6000, 1u32..20), 1..4),
        narrow in 400u32..3000, count in prop::option::of(1u32..4),
        joins in prop::sample::select(vec!["along the span", "never", "everywhere"]),
        overlap in 0u32..90,
    ) {
        let mut stock: Vec<Value> = lengths.iter().enumerate().map(|(index, (length, price))| {
            roll(&format!("wide {index}"), 76.2, f64::from(*length), f64::from(*price))
        }).collect();
        let mut one = roll("narrow", 50.8, f64::from(narrow), 3.0);
        if let Some(count) = count {
            one["count"] = json!(count);
        }
        stock.push(one);
        let cutting = json!({ "joins": joins, "overlap": overlap, "shortest": 100 });
        let (job, runs, plan) = planned(&rudder(json!(stock), cutting));
        assert_sound(&job, &runs, &plan);
    }
}
