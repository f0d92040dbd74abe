//! A small job with a lay made by hand, so that drawings are tested without the engine.

#![allow(dead_code)]

use clothwright::draw::{LaySheet, lay_sheet};
use clothwright::job::{Job, read_text};
use clothwright::plan::{LaidCloth, LaidPiece, account};
use clothwright::shape::Pose;
use geo_types::Coord;

/// A job with one piece of every kind on one roll.
pub const MIXED: &str = r#"{ "format": 1, "units": "mm", "name": "Tail <left> & \"right\"", "gap": 4,
  "cloth": [ { "name": "roll & rest", "width": 1500, "selvage": [10, 20], "faces_alike": true,
    "flaws": [ { "outline": { "circle": 60, "at": [900, 1200] }, "note": "oil & <grease>" } ] } ],
  "pieces": [
    { "name": "panel <A>", "outline": { "polygon": [[0,0],[900,0],[1000,300],[0,400]] }, "quantity": 2, "grain": "along", "flip": true,
      "goes": "fin, left & right" },
    { "name": "ring", "outline": { "ring": [180, 110] }, "grain": "along" },
    { "name": "doily", "outline": { "circle": 165 }, "quantity": 3, "edge": "pinked", "grain": "free" },
    { "name": "a very long name for a drain patch", "outline": { "circle": 30 }, "quantity": 12, "grain": "free" },
    { "name": "bias tape", "outline": { "strip": [400, 75] }, "grain": "bias" },
    { "name": "door", "outline": { "rect": [300, 200] }, "grain": "across" } ] }"#;

/// Where the pieces of [`MIXED`] lie: name, copy, turn, flipped, place of the origin.
pub const MIXED_PLACES: [(&str, u32, f64, bool, [f64; 2]); 8] = [
    ("panel <A>", 1, 0.0, false, [0.0, 10.0]),
    ("panel <A>", 2, 180.0, true, [1000.0, 430.0]),
    ("ring", 1, 0.0, false, [120.0, 950.0]),
    ("doily", 1, 33.3, false, [350.0, 950.0]),
    ("doily", 3, 0.0, false, [550.0, 950.0]),
    ("a very long name for a drain patch", 11, 0.0, false, [120.0, 950.0]),
    ("bias tape", 1, 45.0, false, [700.0, 950.0]),
    ("door", 1, 90.0, false, [300.0, 1100.0]),
];

pub fn job(text: &str) -> Job {
    read_text("test.json", text).expect("the test's own job is sound").job
}

/// A lay from places.
pub fn laid(job: &Job, places: &[(&str, u32, f64, bool, [f64; 2])]) -> LaidCloth {
    let cloth = &job.cloth[0];
    let pieces: Vec<LaidPiece> = places.iter().map(|place| piece(job, place)).collect();
    let length_used = pieces.iter().flat_map(|piece| &piece.outline).map(|point| point[0]).fold(0.0, f64::max);
    LaidCloth {
        cloth: cloth.name.clone(),
        number: 1,
        width: cloth.width,
        usable: cloth.usable(),
        length_used,
        waste: 0.25,
        density: 0.8,
        pieces,
    }
}

fn piece(job: &Job, (name, copy, turn, flipped, at): &(&str, u32, f64, bool, [f64; 2])) -> LaidPiece {
    let piece = job.pieces.iter().find(|piece| piece.name == *name).expect("a piece of the job");
    let pose = Pose { turn: *turn, flipped: *flipped, at: Coord { x: at[0], y: at[1] } };
    let outline = pose.apply_to(&piece.cut);
    let ring = |ring: &geo_types::LineString<f64>| ring.0[1..].iter().map(|point| [point.x, point.y]).collect();
    LaidPiece {
        piece: piece.name.clone(),
        copy: *copy,
        turn: *turn,
        flipped: *flipped,
        at: *at,
        outline: ring(outline.polygon().exterior()),
        holes: outline.polygon().interiors().iter().map(ring).collect(),
    }
}

/// The sheet of a lay made by hand.
pub fn sheet(job: &Job, laid: &LaidCloth) -> String {
    let account = account(&job.cloth[0], laid, &job.pieces);
    lay_sheet(&LaySheet { job, pieces: &job.pieces, cloth: &job.cloth[0], laid, account: &account })
}
