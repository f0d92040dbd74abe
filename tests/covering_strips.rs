//! Whatever the part, the strips of a divided panel laid edge on edge at their laps restore the whole, lapped or sewn.

#[path = "support/strips.rs"]
mod strips;

use clothwright::covering::{Panel, SeamKind, cover};
use clothwright::job;
use proptest::prelude::*;
use serde_json::{Value, json};
use strips::restore_the_whole;

fn panels(width: f64, method: &str, part: Value) -> Vec<Panel> {
    let job = json!({ "format": 1, "units": "mm", "cloth": [{ "name": "roll", "width": width, "faces_alike": true }],
        "rules": { "method": method, "vne": "120 mph", "wing_loading": "25 kg/m2" }, "airframe": [part] });
    let job = job::read_text("part.json", &job.to_string()).unwrap_or_else(|faults| panic!("{faults}")).job;
    let mut parts = cover(&job).unwrap_or_else(|faults| panic!("{faults:?}")).parts;
    parts.remove(0).panels
}

fn check(panels: &[Panel], width: f64) -> Result<(), TestCaseError> {
    for panel in panels {
        prop_assert_eq!(restore_the_whole(panel, width), Ok(()), "{}", panel.plan.name);
    }
    Ok(())
}

fn method() -> impl Strategy<Value = &'static str> {
    prop_oneof![Just("doped"), Just("cemented"), Just("sewn")]
}

/// A deck of bays between two longerons that draw together aft; the tubes across it are of one class.
fn deck(bays: &[f64], widths: [f64; 2], class: &str) -> Value {
    let mut stations = vec![0.0];
    stations.extend(bays.iter().scan(0.0, |at, bay| {
        *at += bay;
        Some(*at)
    }));
    let length = stations[bays.len()];
    let half = |x: f64| (widths[0] + (widths[1] - widths[0]) * x / length) / 2.0;
    let mut nodes = serde_json::Map::new();
    let mut tubes = Vec::new();
    for (i, x) in stations.iter().enumerate() {
        nodes.insert(format!("R{i}"), json!([x, half(*x), 0]));
        nodes.insert(format!("L{i}"), json!([x, -half(*x), 0]));
        let class = if i == 0 || i == bays.len() { "cross tube" } else { class };
        tubes.push(json!({ "from": format!("L{i}"), "to": format!("R{i}"), "diameter": 20, "class": class }));
        for side in ["L", "R"].into_iter().filter(|_| i > 0) {
            let from = format!("{side}{}", i - 1);
            tubes.push(json!({ "from": from, "to": format!("{side}{i}"), "diameter": 20, "class": "longeron" }));
        }
    }
    let ring: Vec<String> =
        (0..=bays.len()).map(|i| format!("L{i}")).chain((0..=bays.len()).rev().map(|i| format!("R{i}"))).collect();
    json!({ "name": "deck", "kind": "truss", "nodes": nodes, "tubes": tubes,
        "faces": [{ "name": "top", "ring": ring, "order": 1 }] })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    #[test]
    fn strips_of_ribbed_parts_restore_the_whole(
        chords in (900.0..2600.0f64, 700.0..2600.0f64), span in 1500.0..7000.0f64, sweep in 0.0..200.0f64,
        width in 900.0..1800.0f64, method in method(), one_piece in any::<bool>(), spanwise in any::<bool>(),
        tip_bow in proptest::option::of(100.0..200.0f64),
    ) {
        let mut part = json!({ "name": "wing", "kind": "ribbed", "surface": "wing", "section": { "digits": "4412" },
            "planform": [{ "at": 0, "chord": chords.0 }, { "at": span, "chord": chords.1, "leading_edge": sweep }],
            "cover": if one_piece { "one piece" } else { "top and bottom" },
            "roll": if spanwise { "spanwise" } else { "chordwise" }, "nose_sheet": [15, 8] });
        if let Some(bow) = tip_bow {
            part["tip_bow"] = json!(bow);
        }
        check(&panels(width, method, part), width)?;
    }

    #[test]
    fn strips_of_trusses_restore_the_whole(
        bays in proptest::collection::vec(500.0..1200.0f64, 2..5), widths in (1300.0..2200.0f64, 1300.0..2200.0f64),
        width in 1500.0..1800.0f64, method in method(), lapped in any::<bool>(),
    ) {
        let class = if lapped { "cross tube" } else { "stringer" };
        check(&panels(width, method, deck(&bays, widths.into(), class)), width)?;
    }

    #[test]
    fn strips_of_given_panels_restore_the_whole(
        size in (1900.0..4000.0f64, 1900.0..3500.0f64), slants in (0.0..600.0f64, 0.0..600.0f64),
        places in proptest::collection::vec(0.3..0.7f64, 0..3), method in method(),
        tube in proptest::option::of(17.0..40.0f64),
    ) {
        let (length, height) = size;
        let line = |share: &f64| {
            let at = slants.0 + (length - slants.0 - slants.1) * share;
            json!({ "class": "cross tube", "from": [at, 0], "to": [at, height], "width": 30 })
        };
        let edge = tube.map_or(json!("fuselage"), |tube| json!({ "at": "fuselage", "tube": tube }));
        let part = json!({ "name": "roof", "kind": "panel", "surface": "fuselage",
            "outline": { "polygon": [[0, 0], [length, 0], [length - slants.1, height], [slants.0, height]] },
            "edges": [edge, "fuselage", "nothing added", edge], "members": places.iter().map(line).collect::<Vec<_>>() });
        check(&panels(1780.0, method, part), 1780.0)?;
    }
}

/// That the parts above are divided at all, and both ways: over the tubes of a truss and along a sewn line.
#[test]
fn both_kinds_of_seams_are_tried() {
    let seams = |class: &str| {
        let deck = deck(&[1000.0, 1000.0], [1900.0, 1800.0], class);
        panels(1500.0, "doped", deck).remove(0).seams.into_iter().map(|seam| seam.kind).collect::<Vec<_>>()
    };
    assert_eq!(seams("cross tube"), [SeamKind::Lapped(job::MemberClass::CrossTube)]);
    assert_eq!(seams("stringer"), [SeamKind::Sewn]);
}

/// Edges of these faces have corners in line but for rounding; they were once taken for narrower than they are.
#[test]
fn corners_in_line_by_rounding_do_not_make_a_panel_fit() -> Result<(), TestCaseError> {
    let two = deck(&[1149.8819540405646, 558.5613492413714], [1470.2681917310501, 2149.4582011494595], "stringer");
    check(&panels(1500.0, "sewn", two), 1500.0)?;
    let widths = [1508.398193371611, 2014.075739275652];
    let three = deck(&[1095.6065893800594, 1074.3300519979496, 1107.1012762743137], widths, "cross tube");
    check(&panels(1500.0, "doped", three), 1500.0)
}
