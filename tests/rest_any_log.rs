//! Whatever a log says, the rest of its job lies on cloth that is there, and no piece that is still to be cut is forgotten.
//!
//! The lines of the log are read here once more, in a plain way of its own, and held with a general geometry library.

use std::collections::{BTreeMap, BTreeSet};

use clothwright::covering::cover;
use clothwright::job::{self, Job};
use clothwright::nest::Budget;
use clothwright::plan::ledger::{Entry, Event, counted_pieces, fold, rest, stock_name};
use clothwright::plan::{Kept, LaidPiece, LayFile, RestWish, lay, lay_rest};
use geo::{Area, BooleanOps, Contains};
use geo_types::{LineString, Polygon, Rect, coord};
use jiff::civil::date;
use rand::RngExt;
use rand::seq::IndexedRandom;
use rand_xoshiro::Xoshiro256PlusPlus;
use rand_xoshiro::rand_core::SeedableRng;

/// Six kinds of pieces, one of them a frame that others fit into; a roll and an offcut; a gap of 3 mm.
const JOB: &str = r#"{ "format": 1, "units": "mm", "name": "Dunlin rudder", "gap": 3,
  "cloth": [
    { "name": "roll", "width": 700, "selvage": 10, "price": 12, "sold_by": 500, "faces_alike": true },
    { "name": "wing offcut", "width": 400, "length": 500, "faces_alike": true } ],
  "pieces": [
    { "name": "face", "outline": { "polygon": [[0, 0], [600, 0], [450, 260], [0, 220]] }, "quantity": 2, "cloth": "roll" },
    { "name": "doily", "outline": { "circle": 165 }, "quantity": 5 },
    { "name": "frame", "outline": { "ring": [380, 290] }, "quantity": 2 },
    { "name": "gusset", "outline": { "polygon": [[0, 0], [140, 0], [0, 110]] }, "quantity": 4 },
    { "name": "strip", "outline": { "rect": [300, 60] }, "quantity": 3 } ] }"#;
const SEEDS: u64 = 6;
/// Square millimetres that two outlines may share: a metre of edge times the hundredth of a millimetre of the check, and
/// what rounding adds.
const NOTHING: f64 = 15.0;

/// The world as somebody has it who only reads the lines.
#[derive(Default)]
struct Bench {
    to_cut: BTreeSet<(String, u32)>,
    cut: BTreeMap<String, Vec<Polygon<f64>>>,
    gone: BTreeSet<String>,
    gone_up_to: BTreeMap<String, f64>,
    found: BTreeMap<String, Polygon<f64>>,
}

fn polygon(outline: &[[f64; 2]], holes: &[Vec<[f64; 2]>]) -> Polygon<f64> {
    let ring = |points: &[[f64; 2]]| LineString::from(points.iter().map(|[x, y]| (*x, *y)).collect::<Vec<_>>());
    Polygon::new(ring(outline), holes.iter().map(|hole| ring(hole)).collect())
}

/// A log as a club may have kept it, and the world after it.
fn kept_log(job: &Job, first: &LayFile, seed: u64) -> (Vec<Event>, Bench) {
    let mut random = Xoshiro256PlusPlus::seed_from_u64(seed);
    let (mut events, mut bench) = (Vec::new(), Bench::default());
    for piece in &job.pieces {
        bench.to_cut.extend((1..=piece.quantity).map(|copy| (piece.name.clone(), copy)));
    }
    let mut laid: Vec<(String, &LaidPiece)> = Vec::new();
    for cloth in &first.cloths {
        let name = stock_name(&cloth.cloth, cloth.number);
        laid.extend(cloth.pieces.iter().map(|piece| (name.clone(), piece)));
    }
    for (cloth, piece) in laid.into_iter().filter(|_| random.random_bool(0.5)).collect::<Vec<_>>() {
        let (name, copies) = (piece.piece.clone(), vec![piece.copy]);
        let size = [0, 1].map(|axis| piece.span(axis)[1] - piece.span(axis)[0]);
        let laid = vec![piece.clone()];
        events.push(Event::Cut { piece: name.clone(), copies: copies.clone(), cloth: Some(cloth.clone()), size, laid });
        bench.to_cut.remove(&(name.clone(), piece.copy));
        // What falls out of a hole is scrap.
        bench.cut.entry(cloth).or_default().push(polygon(&piece.outline, &[]));
        if random.random_bool(0.3) {
            events.push(Event::Spoiled { piece: name.clone(), copies, why: None });
            bench.to_cut.insert((name, piece.copy));
        }
    }
    if random.random_bool(0.5) {
        events.push(Event::Bought { cloth: "roll".into(), name: "roll".into(), length: 1500.0 });
    }
    if random.random_bool(0.5) {
        let outline = vec![[0.0, 0.0], [520.0, 0.0], [400.0, 390.0], [0.0, 330.0]];
        bench.found.insert("offcut 1".into(), polygon(&outline, &[]));
        events.push(Event::Found { name: "offcut 1".into(), of: "roll".into(), outline });
    }
    let thrown = ["roll", "wing offcut", "offcut 1"].choose(&mut random).copied().unwrap_or("roll").to_owned();
    match random.random_range(0..3) {
        0 => {
            events.push(Event::Gone { cloth: thrown.clone(), up_to: None });
            bench.gone.insert(thrown);
        }
        1 => {
            events.push(Event::Gone { cloth: thrown.clone(), up_to: Some(210.0) });
            bench.gone_up_to.insert(thrown, 210.0);
        }
        _ => {}
    }
    (events, bench)
}

/// Holds a lay of the rest against the world.
fn hold(file: &LayFile, bench: &Bench, seed: u64) {
    let mut told: Vec<(String, u32)> = Vec::new();
    for cloth in &file.cloths {
        assert!(!bench.gone.contains(&cloth.cloth), "seed {seed}: “{}” is gone", cloth.cloth);
        let up_to = bench.gone_up_to.get(&cloth.cloth).copied().unwrap_or(0.0);
        let gone =
            Rect::new(coord! { x: -1.0, y: -1.0 }, coord! { x: up_to.max(-0.5), y: cloth.width + 1.0 }).to_polygon();
        for piece in &cloth.pieces {
            let whole = polygon(&piece.outline, &piece.holes);
            let named = format!("seed {seed}: {} {} on “{}”", piece.piece, piece.copy, cloth.cloth);
            for before in bench.cut.get(&cloth.cloth).into_iter().flatten() {
                assert!(whole.intersection(before).unsigned_area() < NOTHING, "{named} lies where something was cut");
            }
            assert!(whole.intersection(&gone).unsigned_area() < NOTHING, "{named} lies where cloth was thrown away");
            if let Some(offcut) = bench.found.get(&cloth.cloth) {
                let beyond = whole.difference(offcut).unsigned_area();
                assert!(offcut.contains(&whole) || beyond < NOTHING, "{named} lies beside the offcut");
            }
            told.push((piece.piece.clone(), piece.copy));
        }
    }
    told.extend(file.unplaced.iter().map(|left| (left.piece.clone(), left.copy)));
    assert_eq!(told.len(), bench.to_cut.len(), "seed {seed}: {told:?}");
    assert_eq!(told.into_iter().collect::<BTreeSet<_>>(), bench.to_cut, "seed {seed}");
}

#[test]
fn the_rest_of_any_log_is_whole_and_lies_on_cloth_that_is_there() {
    let job = job::read_text("job.json", JOB).expect("the job is sound").job;
    let covering = cover(&job).expect("nothing to cover");
    let pieces = counted_pieces(&job, &covering);
    let budget = Budget { seed: 1, effort: 1, time: None };
    let first = lay(&job, "job.json", &budget, &()).expect("a lay").file;
    let mut in_all = 0;
    for seed in 0..SEEDS {
        let (events, bench) = kept_log(&job, &first, seed);
        let entry =
            |(index, event): (usize, &Event)| Entry { line: index + 1, date: date(2026, 5, 2), event: event.clone() };
        let entries: Vec<Entry> = events.iter().enumerate().map(entry).collect();
        let standing = fold(&entries);
        let left = rest(&job, &pieces, &standing).expect("sound outlines");
        let wish = RestWish { job_path: "job.json", lines: entries.len(), budget: &budget };
        let found = lay_rest(&left, &Kept::new(), Some(&first), &wish, &()).expect("a lay of the rest");
        hold(&found.file, &bench, seed);
        in_all += found.file.cloths.iter().map(|cloth| cloth.pieces.len()).sum::<usize>();
    }
    assert!(in_all > 20, "the logs leave something to be laid");
}
