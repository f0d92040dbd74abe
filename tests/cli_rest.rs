//! `lay --rest` never lays on cloth that is gone, and never forgets a piece that is still to be cut.

#[path = "support/run.rs"]
mod run;

use std::collections::{BTreeMap, BTreeSet};

use clothwright::plan::{LaidPiece, LayFile};
use geo::{Area, BooleanOps};
use geo_types::{LineString, Polygon};
use rand::RngExt;
use rand_xoshiro::Xoshiro256PlusPlus;
use rand_xoshiro::rand_core::SeedableRng;
use run::{Bench, Ran};

/// Five kinds of pieces, a roll and an offcut on the shelf; a gap of 3 mm.
const JOB: &str = r#"{ "format": 1, "units": "mm", "name": "Dunlin rudder", "gap": 3,
  "cloth": [
    { "name": "roll", "width": 700, "selvage": 10, "price": 12, "sold_by": 500, "faces_alike": true,
      "flaws": [ { "outline": { "circle": 60, "at": [200, 300] }, "note": "oil stain" } ] },
    { "name": "wing offcut", "width": 400, "length": 500, "faces_alike": true } ],
  "pieces": [
    { "name": "face", "outline": { "polygon": [[0, 0], [600, 0], [450, 260], [0, 220]] }, "quantity": 2, "cloth": "roll" },
    { "name": "doily", "outline": { "circle": 165 }, "quantity": 5 },
    { "name": "ring", "outline": { "ring": [180, 90] }, "quantity": 2 },
    { "name": "gusset", "outline": { "polygon": [[0, 0], [140, 0], [0, 110]] }, "quantity": 4 },
    { "name": "strip", "outline": { "rect": [300, 60] }, "quantity": 3 } ] }"#;

/// Cloth and outline of each copy of each piece.
type Places = BTreeMap<(String, u32), (String, Vec<[f64; 2]>)>;

const PIECES: [(&str, u32); 5] = [("face", 2), ("doily", 5), ("ring", 2), ("gusset", 4), ("strip", 3)];

fn log(bench: &Bench, arguments: &[&str]) -> Ran {
    let ran = bench.run(&[&["log", "job.json", "--date", "2026-05-02"], arguments].concat());
    assert_eq!(ran.code, Some(0), "{arguments:?}: {}", ran.messages);
    ran
}

fn started() -> Bench {
    let bench = Bench::with(JOB);
    let ran = bench.run(&["lay", "job.json", "--out", "out", "--effort", "1"]);
    assert_eq!(ran.code, Some(0), "{}", ran.messages);
    log(&bench, &["lay", "out/lay.json"]);
    bench
}

fn lay(bench: &Bench, name: &str) -> LayFile {
    serde_json::from_str(&bench.read(name)).expect("a lay file")
}

fn polygon(outline: &[[f64; 2]]) -> Polygon<f64> {
    Polygon::new(LineString::from(outline.iter().map(|[x, y]| (*x, *y)).collect::<Vec<_>>()), Vec::new())
}

/// A piece without its holes.
fn whole(laid: &LaidPiece) -> Polygon<f64> {
    let holes = laid.holes.iter().map(|hole| polygon(hole).exterior().clone());
    Polygon::new(polygon(&laid.outline).exterior().clone(), holes.collect())
}

/// What the lines of the log say was cut, read without the program: the outlines by cloth.
fn cut_before(bench: &Bench) -> BTreeMap<String, Vec<LaidPiece>> {
    let mut cut: BTreeMap<String, Vec<LaidPiece>> = BTreeMap::new();
    for line in bench.read("job.log.jsonl").lines() {
        let line: serde_json::Value = serde_json::from_str(line).expect("JSON");
        if line["event"] == "cut" {
            let laid: Vec<LaidPiece> = serde_json::from_value(line["laid"].clone()).expect("laid pieces");
            cut.entry(line["cloth"].as_str().expect("a cloth").to_owned()).or_default().extend(laid);
        }
    }
    cut
}

/// Holds a lay of the rest against the lines of the log with a general geometry library.
fn hold(bench: &Bench, rest: &LayFile, to_cut: &BTreeSet<(String, u32)>, seed: u64) {
    let cut = cut_before(bench);
    for cloth in &rest.cloths {
        for laid in &cloth.pieces {
            for before in cut.get(&cloth.cloth).into_iter().flatten() {
                // What fell out of a hole is gone; round what was cut there may be a hole.
                let both = whole(laid).intersection(&polygon(&before.outline)).unsigned_area();
                // A millimetre of edge times the tolerance of the check is 0.01 mm².
                assert!(both < 1.0, "seed {seed}: {} {} lies on {} mm² of cut cloth", laid.piece, laid.copy, both);
            }
        }
    }
    let laid = rest.cloths.iter().flat_map(|cloth| &cloth.pieces).map(|laid| (laid.piece.clone(), laid.copy));
    let unplaced = rest.unplaced.iter().map(|unplaced| (unplaced.piece.clone(), unplaced.copy));
    let told: Vec<(String, u32)> = laid.chain(unplaced).collect();
    assert_eq!(told.len(), to_cut.len(), "seed {seed}: {told:?}");
    assert_eq!(told.into_iter().collect::<BTreeSet<_>>(), *to_cut, "seed {seed}");
}

#[test]
fn whatever_was_cut_and_spoiled_the_rest_is_whole_and_lies_on_cloth_that_is_there() {
    for seed in 0..4 {
        let bench = started();
        let mut random = Xoshiro256PlusPlus::seed_from_u64(seed);
        let mut to_cut: BTreeSet<(String, u32)> =
            PIECES.iter().flat_map(|(name, quantity)| (1..=*quantity).map(|copy| ((*name).to_owned(), copy))).collect();
        for (name, copy) in to_cut.clone() {
            if random.random_bool(0.5) {
                log(&bench, &["cut", &name, "--copies", &copy.to_string()]);
                to_cut.remove(&(name.clone(), copy));
                if random.random_bool(0.3) {
                    log(&bench, &["spoiled", &name, "--copies", &copy.to_string()]);
                    to_cut.insert((name, copy));
                }
            }
        }
        if random.random_bool(0.5) {
            log(&bench, &["found", "--of", "roll", "0,0", "320,200"]);
        }
        if random.random_bool(0.5) {
            log(&bench, &["bought", "roll", "2 m"]);
        }
        let ran = bench.run(&["lay", "job.json", "--rest", "--out", "rest", "--effort", "1"]);
        if to_cut.is_empty() {
            assert!(ran.messages.contains("nothing is left to cut"), "{}", ran.messages);
            continue;
        }
        assert_eq!(ran.code, Some(0), "seed {seed}: {}", ran.messages);
        hold(&bench, &lay(&bench, "rest/lay.json"), &to_cut, seed);
        // The written lay holds on its own, and still does when the log has gone on.
        log(&bench, &["lay", "rest/lay.json"]);
        let (name, copy) = to_cut.first().expect("some piece").clone();
        log(&bench, &["cut", &name, "--copies", &copy.to_string()]);
        let ran = bench.run(&["verify", "rest/lay.json"]);
        assert_eq!(ran.code, Some(0), "seed {seed}: {}{}", ran.results, ran.messages);
    }
}

#[test]
fn what_is_not_cut_stays_where_it_is_and_changes_are_told() {
    let bench = started();
    log(&bench, &["cut", "face", "--copies", "1"]);
    log(&bench, &["spoiled", "face", "--copies", "1"]);
    let ran = bench.run(&["lay", "job.json", "--rest", "--out", "rest", "--effort", "1"]);
    assert_eq!(ran.code, Some(0), "{}", ran.messages);
    assert!(ran.results.contains("15 pieces stay as in the lay in use; 1 piece lies otherwise"), "{}", ran.results);
    assert!(ran.results.contains("“face”, copy 1: elsewhere on “roll”"), "{}", ran.results);
    let places = |lay: &LayFile| -> Places {
        let cloths = lay.cloths.iter();
        let places = cloths.flat_map(|cloth| {
            cloth
                .pieces
                .iter()
                .map(|laid| ((laid.piece.clone(), laid.copy), (cloth.cloth.clone(), laid.outline.clone())))
        });
        places.collect()
    };
    let (mut before, mut after) = (places(&lay(&bench, "out/lay.json")), places(&lay(&bench, "rest/lay.json")));
    let face = ("face".to_owned(), 1);
    assert_ne!(before.remove(&face), after.remove(&face));
    assert_eq!(before, after);
}

#[test]
fn a_lay_on_cloth_that_is_gone_is_found_out() {
    let bench = started();
    log(&bench, &["cut", "face", "--copies", "1"]);
    log(&bench, &["spoiled", "face", "--copies", "1"]);
    bench.run(&["lay", "job.json", "--rest", "--out", "rest", "--effort", "1"]);
    // The face is put back to where the first one was cut.
    let first = lay(&bench, "out/lay.json");
    let mut rest = lay(&bench, "rest/lay.json");
    let old = first.cloths.iter().flat_map(|cloth| &cloth.pieces).find(|laid| laid.piece == "face" && laid.copy == 1);
    for laid in rest.cloths.iter_mut().flat_map(|cloth| &mut cloth.pieces) {
        if (laid.piece.as_str(), laid.copy) == ("face", 1) {
            *laid = old.expect("it was laid").clone();
        }
    }
    std::fs::write(bench.path("rest/lay.json"), serde_json::to_vec(&rest).expect("JSON")).expect("written");
    let ran = bench.run(&["verify", "rest/lay.json"]);
    assert_eq!(ran.code, Some(3));
    assert!(ran.results.contains("(cut before) face 1"), "{}", ran.results);
    // A copy too many, and one that is missing.
    let mut rest = lay(&bench, "rest/lay.json");
    rest.cloths[0].pieces.pop();
    std::fs::write(bench.path("rest/lay.json"), serde_json::to_vec(&rest).expect("JSON")).expect("written");
    let ran = bench.run(&["verify", "rest/lay.json"]);
    assert!(ran.results.contains("missing"), "{}", ran.results);
}

#[test]
fn cloth_that_is_not_enough_is_told_with_what_to_buy() {
    let bench = started();
    log(&bench, &["bought", "roll", "700 mm"]);
    log(&bench, &["gone", "wing offcut"]);
    log(&bench, &["cut", "face", "--copies", "1"]);
    log(&bench, &["spoiled", "face", "--copies", "1"]);
    log(&bench, &["gone", "roll", "--up-to", "500 mm"]);
    let ran = bench.run(&["lay", "job.json", "--rest", "--out", "rest", "--effort", "1"]);
    assert_eq!(ran.code, Some(0), "{}", ran.messages);
    assert!(ran.messages.contains("is not enough, however the pieces are laid"), "{}", ran.messages);
    assert!(ran.messages.contains("still to be bought: “roll no. 2”, "), "{}", ran.messages);
    let rest = lay(&bench, "rest/lay.json");
    let on_roll = rest.cloths.iter().filter(|cloth| cloth.cloth == "roll").flat_map(|cloth| &cloth.pieces);
    assert!(on_roll.flat_map(|laid| &laid.outline).all(|[x, _]| (499.99..700.01).contains(x)));
}

#[test]
fn cloth_cut_nobody_knows_where_is_left_out() {
    let bench = started();
    log(&bench, &["cut", "doily", "--count", "1", "--from", "wing offcut"]);
    let ran = bench.run(&["lay", "job.json", "--rest", "--out", "rest", "--effort", "1"]);
    assert!(ran.messages.contains("cloth “wing offcut” is left out"), "{}", ran.messages);
    assert!(lay(&bench, "rest/lay.json").cloths.iter().all(|cloth| cloth.cloth != "wing offcut"));
}

/// A lay of the rest is marked out like any other: it is held against the log that it started from.
#[test]
fn a_lay_of_the_rest_can_be_marked_out() {
    let bench = started();
    log(&bench, &["cut", "face", "--copies", "1"]);
    let ran = bench.run(&["lay", "job.json", "--rest", "--out", "rest", "--effort", "1"]);
    assert_eq!(ran.code, Some(0), "{}", ran.messages);
    let ran = bench.run(&["mark-out", "rest/lay.json", "--out", "marks", "--large", "500"]);
    assert_eq!(ran.code, Some(0), "{}", ran.messages);
    assert!(bench.names("marks").iter().any(|name| name.ends_with(".pdf")), "{:?}", bench.names("marks"));
}

/// A frame whose hole is large enough for other pieces, on cloth that is no wider than the frame.
const FRAMED: &str = r#"{ "format": 1, "units": "mm", "name": "Dunlin frame", "gap": 3,
  "cloth": [ { "name": "roll", "width": 520, "selvage": 0, "price": 12 } ],
  "pieces": [
    { "name": "frame", "outline": { "ring": [510, 440] } },
    { "name": "doily", "outline": { "circle": 165 }, "quantity": 2 },
    { "name": "strip", "outline": { "rect": [300, 60] } } ] }"#;

#[test]
fn what_lies_in_the_hole_of_a_frame_is_cut_before_it_or_after_it() {
    for order in [["doily", "frame"], ["frame", "doily"]] {
        let bench = Bench::with(FRAMED);
        assert_eq!(bench.run(&["lay", "job.json", "--out", "out", "--effort", "2"]).code, Some(0));
        let first = lay(&bench, "out/lay.json");
        let span = |name: &str| {
            let laid = first.cloths[0].pieces.iter().find(|laid| laid.piece == name).expect("it is laid");
            laid.span(0)
        };
        let ([left, right], [low, high]) = (span("frame"), span("doily"));
        assert!(left < low && high < right, "the doily lies in the hole of the frame");
        log(&bench, &["lay", "out/lay.json"]);
        log(&bench, &["cut", order[0]]);
        log(&bench, &["cut", order[1]]);
    }
}

#[test]
fn a_frame_stays_round_what_was_cut_from_its_hole() {
    let bench = Bench::with(FRAMED);
    assert_eq!(bench.run(&["lay", "job.json", "--out", "out", "--effort", "2"]).code, Some(0));
    log(&bench, &["lay", "out/lay.json"]);
    log(&bench, &["bought", "roll", "2 m"]);
    log(&bench, &["cut", "doily"]);
    log(&bench, &["spoiled", "doily", "--copies", "1"]);
    let ran = bench.run(&["lay", "job.json", "--rest", "--out", "rest", "--effort", "1"]);
    assert_eq!(ran.code, Some(0), "{}", ran.messages);
    assert!(!ran.results.contains("“frame”"), "{}", ran.results);
    assert_eq!(bench.run(&["verify", "rest/lay.json"]).code, Some(0));
    hold(
        &bench,
        &lay(&bench, "rest/lay.json"),
        &BTreeSet::from([("frame", 1), ("doily", 1), ("strip", 1)].map(|(name, copy)| (name.to_owned(), copy))),
        0,
    );
}

/// What may be cut from one cloth only is not laid on another when that one is gone.
#[test]
fn a_piece_whose_only_cloth_is_gone_has_no_place() {
    let bound = JOB
        .replace(r#""quantity": 4 }"#, r#""quantity": 4, "cloth": "wing offcut" }"#)
        .replace(r#""length": 500"#, r#""length": 1500"#);
    let bench = Bench::with(&bound);
    assert_eq!(bench.run(&["lay", "job.json", "--out", "out", "--effort", "1"]).code, Some(0));
    log(&bench, &["lay", "out/lay.json"]);
    log(&bench, &["gone", "wing offcut"]);
    let ran = bench.run(&["lay", "job.json", "--rest", "--out", "rest", "--effort", "1"]);
    assert_eq!(ran.code, Some(3), "{}{}", ran.results, ran.messages);
    let rest = lay(&bench, "rest/lay.json");
    let copies: Vec<u32> = rest.unplaced.iter().filter(|left| left.piece == "gusset").map(|left| left.copy).collect();
    assert_eq!(copies, [1, 2, 3, 4], "{:?}", rest.unplaced);
    assert!(rest.unplaced.iter().all(|left| left.why.contains("“wing offcut”")), "{:?}", rest.unplaced);
    assert!(rest.cloths.iter().flat_map(|cloth| &cloth.pieces).all(|laid| laid.piece != "gusset"));
    // The check has nothing against that lay, and does find a gusset that lies on the roll all the same.
    let ran = bench.run(&["verify", "rest/lay.json"]);
    assert!(!ran.results.contains("gusset"), "{}", ran.results);
    let mut wrong = rest.clone();
    let mut gusset = lay(&bench, "out/lay.json").cloths.into_iter().flat_map(|cloth| cloth.pieces);
    let gusset = gusset.find(|laid| laid.piece == "gusset" && laid.copy == 1).expect("it was laid");
    wrong.unplaced.retain(|left| left.copy != 1);
    wrong.cloths[0].pieces.push(gusset);
    std::fs::write(bench.path("rest/lay.json"), serde_json::to_vec(&wrong).expect("JSON")).expect("written");
    let ran = bench.run(&["verify", "rest/lay.json"]);
    assert!(ran.results.contains("gusset 1 may not be cut from"), "{}", ran.results);
}

#[test]
fn a_piece_is_not_cut_from_what_was_thrown_away() {
    let bench = started();
    let face = |copy: u32| {
        let first = lay(&bench, "out/lay.json");
        let mut laid = first.cloths.into_iter().flat_map(|cloth| cloth.pieces);
        laid.find(|laid| laid.piece == "face" && laid.copy == copy).expect("it was laid").span(0)
    };
    let (near, far) = if face(1)[0] < face(2)[0] { (1, 2) } else { (2, 1) };
    // All up to the middle of the face that lies nearer the roll's end.
    let up_to = ((face(near)[0] + face(near)[1]) / 2.0).round();
    log(&bench, &["gone", "roll", "--up-to", &format!("{up_to} mm")]);
    let before = bench.read("job.log.jsonl");
    let cut = |copy: u32| {
        let copy = copy.to_string();
        bench.run(&["log", "job.json", "--date", "2026-05-02", "cut", "face", "--copies", &copy])
    };
    let ran = cut(near);
    assert_eq!(ran.code, Some(2), "{}", ran.messages);
    assert!(ran.messages.contains("on “roll”, which is gone up to"), "{}", ran.messages);
    assert_eq!(bench.read("job.log.jsonl"), before);
    if face(far)[0] >= up_to {
        assert_eq!(cut(far).code, Some(0));
    }
}

#[test]
fn a_piece_that_is_cut_already_is_told_so_and_not_blamed_on_the_lay() {
    let bench = started();
    log(&bench, &["cut", "face", "--copies", "1"]);
    let cut_again = || bench.run(&["log", "job.json", "cut", "face", "--copies", "1"]);
    let wanted = "“face”, copy 1 is cut already (cut on 2026-05-02, line 2); if it was spoiled, log that first";
    assert!(cut_again().messages.contains(wanted), "{}", cut_again().messages);
    let ran = bench.run(&["lay", "job.json", "--rest", "--out", "rest", "--effort", "1"]);
    assert_eq!(ran.code, Some(0), "{}", ran.messages);
    log(&bench, &["lay", "rest/lay.json"]);
    assert!(cut_again().messages.contains(wanted), "{}", cut_again().messages);
}

#[test]
fn nothing_is_cut_beyond_the_end_of_the_cloth_or_from_one_whose_purchase_was_undone() {
    let bench = started();
    log(&bench, &["bought", "roll", "100 mm"]);
    let used =
        lay(&bench, "out/lay.json").cloths.iter().find(|cloth| cloth.cloth == "roll").map(|cloth| cloth.length_used);
    let ran = log(&bench, &["lay", "out/lay.json"]);
    let short = used.expect("the roll is cut") - 100.0;
    let told = ran.messages.split("which is 100 mm long: ").nth(1).and_then(|rest| rest.split(" mm is lacking").next());
    let told: f64 = told.expect(&ran.messages).parse().expect("a length");
    assert!((told - short).abs() < 0.1, "{told} {short}");
    let cut = || bench.run(&["log", "job.json", "cut", "face", "--copies", "1"]);
    assert_eq!(cut().code, Some(2));
    assert!(cut().messages.contains("on “roll”, which is 100 mm long: "), "{}", cut().messages);
    log(&bench, &["undo", "2"]);
    assert!(cut().messages.contains("on “roll”, whose purchase was undone (line 2)"), "{}", cut().messages);
    log(&bench, &["bought", "roll", "20 m"]);
    assert_eq!(cut().code, Some(0), "{}", cut().messages);
}
