//! Any good job reads, whatever mixture of units, outlines and keys it is made of; and the schema takes it as well.

use clothwright::job;
use proptest::prelude::*;
use serde_json::{Value, json};

/// A size in millimetres, written in one of the ways that a person may choose.
fn size(range: std::ops::Range<u32>) -> impl Strategy<Value = Value> {
    (range, 0..5_u8).prop_map(|(mm, way)| match way {
        0 => json!(mm),
        1 => json!(f64::from(mm)),
        2 => json!(format!("{mm} mm")),
        3 => json!(format!("{} cm", f64::from(mm) / 10.0)),
        _ => json!(format!("{} m", f64::from(mm) / 1000.0)),
    })
}

fn outline() -> impl Strategy<Value = Value> {
    prop_oneof![
        (size(50..900), size(50..900)).prop_map(|(w, h)| json!({ "rect": [w, h] })),
        size(50..900).prop_map(|d| json!({ "circle": d })),
        (size(500..900), size(50..499)).prop_map(|(outer, inner)| json!({ "ring": [outer, inner] })),
        (size(50..3000), size(50..100)).prop_map(|(l, w)| json!({ "strip": [l, w] })),
        (size(50..900), size(50..900)).prop_map(|(w, h)| json!({ "polygon": [[0, 0], [w, 0], [0, h]] })),
        (100..900_u32, 100..900_u32)
            .prop_map(|(w, h)| json!({ "path": format!("M0 0H{w}V{h}Q{} {} 0 {h}Z", w / 2, h + 50) })),
        (100..900_u32).prop_map(|s| json!({ "polygon": [[0, 0], [s, 0], [s, s], [0, s]],
            "holes": [[[s / 4, s / 4], [s / 2, s / 4], [s / 2, s / 2]]], "at": [s, "-3/8 in"] })),
    ]
}

fn grain() -> impl Strategy<Value = Value> {
    prop_oneof![
        prop::sample::select(vec!["along", "across", "either", "bias", "free"]).prop_map(|word| json!(word)),
        (prop::sample::select(vec!["along", "across", "either", "bias"]), 0.0..45.0_f64, any::<bool>())
            .prop_map(|(word, off, one)| json!({ "direction": word, "tolerance": off, "one_way": one })),
    ]
}

fn edge() -> impl Strategy<Value = Value> {
    prop_oneof![
        Just(json!("plain")),
        Just(json!("pinked")),
        (3..8_u32).prop_map(|pitch| json!({ "pinked": { "pitch": pitch } })),
        (3..8_u32, 1..5_u32).prop_map(|(pitch, depth)| json!({ "pinked": { "pitch": pitch, "depth": depth } })),
    ]
}

prop_compose! {
    fn piece()(
        outline in outline(), quantity in prop::option::of(1..20_u32), allowance in prop::option::of(size(0..40)),
        round in any::<bool>(), grain in prop::option::of(grain()), edge in prop::option::of(edge()),
        flip in prop::option::of(any::<bool>()), goes in prop::option::of("\\PC{0,20}"),
    ) -> Value {
        let mut piece = json!({ "outline": outline, "join": if round { "round" } else { "mitred" } });
        let keys = [("quantity", quantity.map(Value::from)), ("allowance", allowance), ("grain", grain), ("edge", edge),
            ("flip", flip.map(Value::from)), ("goes", goes.map(Value::from))];
        for (key, value) in keys {
            if let Some(value) = value {
                piece[key] = value;
            }
        }
        piece
    }
}

fn jobs() -> impl Strategy<Value = Value> {
    let pieces = prop::collection::vec((piece(), "\\PC{0,12}"), 1..8);
    (pieces, size(3400..3500), prop::option::of(size(0..20)), 0..30_u32).prop_map(|(pieces, width, selvage, gap)| {
        let named = |(index, (mut piece, name)): (usize, (Value, String))| {
            piece["name"] = json!(format!("{index} {name}"));
            piece
        };
        let pieces: Vec<_> = pieces.into_iter().enumerate().map(named).collect();
        let mut roll = json!({ "name": "roll", "width": width });
        if let Some(selvage) = selvage {
            roll["selvage"] = selvage;
        }
        json!({ "format": 1, "units": "mm", "gap": gap, "cloth": [roll], "pieces": pieces })
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(300))]

    #[test]
    fn any_good_job_reads(job in jobs(), indented in any::<bool>()) {
        let text = if indented { format!("{job:#}") } else { job.to_string() };
        let reading = job::read_text("x.json", &text);
        let reading = reading.map_err(|faults| TestCaseError::fail(faults.to_string()))?;
        prop_assert_eq!(reading.job.pieces.len(), job["pieces"].as_array().unwrap().len());
        for (piece, written) in reading.job.pieces.iter().zip(job["pieces"].as_array().unwrap()) {
            prop_assert_eq!(&piece.name, written["name"].as_str().unwrap().trim());
            prop_assert_eq!(u64::from(piece.quantity), written["quantity"].as_u64().unwrap_or(1));
            prop_assert!(piece.cut.area() >= piece.outline.flatten().unwrap().area() - 1e-6);
        }
        prop_assert_eq!(job::read_text("x.json", &text).unwrap(), reading);
        let validator = jsonschema::draft202012::new(&job::schema()).unwrap();
        let problems: Vec<_> = validator.iter_errors(&job).map(|e| format!("{}: {e}", e.instance_path())).collect();
        prop_assert!(problems.is_empty(), "{problems:?}");
    }
}
