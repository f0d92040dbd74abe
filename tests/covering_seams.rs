//! Which seams divide a panel: of the ways with the fewest, the one that costs least cloth, tape and sewing, and that
//! leaves no strip or rest of the roll that is good for nothing.
//!
//! That a strip or a rest narrower than a hand's breadth, 100 mm, is good for little is common practice, no source. All
//! panels here are cut on their outlines, so that sums stay simple.

use clothwright::covering::{Panel, SeamKind, cover};
use clothwright::job::{self, MemberClass};
use serde_json::{Value, json};

/// A panel of the fuselage under which cross tubes lie, each as wide as any lap; the roll runs along its x axis.
fn panel(outline: Value, tubes: &[[[f64; 2]; 2]]) -> Panel {
    let tube = |[from, to]: &[[f64; 2]; 2]| json!({ "class": "cross tube", "from": from, "to": to, "width": 60 });
    let job = json!({ "format": 1, "units": "mm", "cloth": [{ "name": "roll", "width": 1780 }],
        "rules": { "method": "doped", "vne": "120 mph", "wing_loading": "25 kg/m2" },
        "airframe": [{ "name": "roof", "kind": "panel", "surface": "fuselage", "grain": "along", "outline": outline,
            "edges": "nothing added", "members": tubes.iter().map(tube).collect::<Vec<_>>() }] });
    let job = job::read_text("roof.json", &job.to_string()).unwrap_or_else(|faults| panic!("{faults}")).job;
    cover(&job).unwrap_or_else(|faults| panic!("{faults:?}")).parts.remove(0).panels.remove(0)
}

/// Heights of the seams, and the kinds.
fn seams(panel: &Panel) -> Vec<(f64, SeamKind)> {
    panel.seams.iter().map(|seam| (seam.ends[0].y, seam.kind)).collect()
}

const LAPPED: SeamKind = SeamKind::Lapped(MemberClass::CrossTube);

/// A tube across the panel at a height, from edge to edge.
fn at(height: f64) -> [[f64; 2]; 2] {
    [[0.0, height], [3000.0, height]]
}

/// 3000 by 1850 mm, with a waist of 2600 mm at a height.
fn waisted(height: f64) -> Value {
    let (below, above) = (height - 60.0, height + 60.0);
    json!({ "polygon": [[0, 0], [3000, 0], [3000, below], [2800, height], [3000, above], [3000, 1850],
        [0, 1850], [0, above], [200, height], [0, below]] })
}

#[test]
fn the_shorter_of_two_seams_is_taken() {
    assert_eq!(seams(&panel(waisted(900.0), &[at(950.0), at(900.0)])), [(900.0, LAPPED)]);
    assert_eq!(seams(&panel(waisted(950.0), &[at(950.0), at(900.0)])), [(950.0, LAPPED)]);
}

#[test]
fn tape_is_weighed_against_what_the_strips_take_of_the_roll() {
    // Above 960 mm the panel is 20 mm narrower. A seam at 1000 mm saves 20 mm by 862.7 mm of roll, 17 254 mm², against one at
    // 900 mm, which takes less tape 3 in wide the narrower the waist there is.
    let waist = |narrower: f64| {
        let (left, right) = (narrower / 2.0, 3000.0 - narrower / 2.0);
        json!({ "polygon": [[0, 0], [3000, 0], [3000, 840], [right, 900], [3000, 960], [2980, 961], [2980, 1850],
            [0, 1850], [0, 960], [left, 900], [0, 840]] })
    };
    // 380 mm less, 28 956 mm².
    assert_eq!(seams(&panel(waist(400.0), &[at(900.0), at(1000.0)])), [(900.0, LAPPED)]);
    // 180 mm less, 13 716 mm².
    assert_eq!(seams(&panel(waist(200.0), &[at(900.0), at(1000.0)])), [(1000.0, LAPPED)]);
}

#[test]
fn no_strip_is_narrower_than_a_hand_where_another_way_costs_nearly_the_same() {
    // A seam at 1765 mm is 400 mm shorter, but leaves a strip of 1850 − 1765 + 25.4/2 = 97.7 mm.
    assert_eq!(seams(&panel(waisted(1765.0), &[at(925.0), at(1765.0)])), [(925.0, LAPPED)]);
    // Where there is no other way it must do.
    assert_eq!(seams(&panel(waisted(1765.0), &[at(1765.0)])), [(1765.0, LAPPED)]);
}

#[test]
fn the_rest_of_the_roll_stays_wide_enough_to_be_of_use() {
    // A seam at 1690 mm is 400 mm shorter, 30 480 mm² of tape, but beside its strip of 1702.7 mm a rest of 77.3 mm of the
    // roll, 3000 mm long, is lost.
    assert_eq!(seams(&panel(waisted(1690.0), &[at(925.0), at(1690.0)])), [(925.0, LAPPED)]);
    // At 1600 mm the rest is 167.3 mm wide, and nothing is lost.
    assert_eq!(seams(&panel(waisted(1600.0), &[at(925.0), at(1600.0)])), [(1600.0, LAPPED)]);
}

#[test]
fn sewn_strips_of_a_tapered_panel_are_no_slivers() {
    // As wide as the roll from the long side, the second strip would have the shortest seam and 82.8 mm.
    let tapered = panel(json!({ "polygon": [[0, 0], [3000, 0], [2250, 1850], [750, 1850]] }), &[]);
    assert_eq!(tapered.strips.len(), 2);
    for strip in &tapered.strips {
        assert!(strip.cut.bounds().height() >= 100.0, "{}", strip.cut.bounds().height());
    }
}

#[test]
fn a_seam_needs_structure_from_edge_to_edge() {
    // AC 43.13-1B 2-8 NOTE: under the whole seam.
    let short = panel(json!({ "rect": [3000, 1850] }), &[[[0.0, 925.0], [2900.0, 925.0]]]);
    assert_eq!(short.seams[0].kind, SeamKind::Sewn);
    // Short of the edge by no more than the lap is wide, as where a perimeter tube lies.
    let long = panel(json!({ "rect": [3000, 1850] }), &[[[20.0, 925.0], [2980.0, 925.0]]]);
    assert_eq!(long.seams[0].kind, LAPPED);
}

#[test]
fn what_a_seam_costs_is_told() {
    let words = panel(json!({ "rect": [3000, 1850] }), &[at(925.0)]).figure_lines(clothwright::units::Units::Mm);
    // AC 43.13-1B 2-7b(5): 1 in of lap, 3 in of tape.
    let wanted = "seam lapped over a cross tube, 3000 mm long, takes 25.4 mm of cloth and 3000 mm of 76.2 mm tape";
    assert!(words.iter().any(|line| line.starts_with(wanted)), "{words:?}");
}

/// Cloth that is only held on to and trimmed off is no reason for a seam: 1700 mm and the lap fit 1780 mm, the handling
/// of 25.4 mm on both sides does not.
#[test]
fn handling_is_cut_back_before_a_seam_is_made() {
    let panel = |height: f64| {
        let job = json!({ "format": 1, "units": "mm", "cloth": [{ "name": "roll", "width": 1780 }],
            "rules": { "method": "doped", "vne": "120 mph", "wing_loading": "25 kg/m2" },
            "airframe": [{ "name": "roof", "kind": "panel", "surface": "fuselage", "grain": "along",
                "outline": { "rect": [3000, height] }, "edges": "fuselage" }] });
        let job = job::read_text("roof.json", &job.to_string()).unwrap_or_else(|faults| panic!("{faults}")).job;
        cover(&job).unwrap_or_else(|faults| panic!("{faults:?}")).parts.remove(0).panels.remove(0)
    };
    // A lap of 1 in on both sides (AC 43.13-1B 2-7b(5)).
    let stays = 1700.0 + 2.0 * 25.4;
    let cut_back = panel(1700.0);
    assert!(cut_back.seams.is_empty());
    assert!((cut_back.cut.bounds().height() - 1780.0).abs() < 0.02, "{}", cut_back.cut.bounds().height());
    assert!((cut_back.trimmed.bounds().height() - stays).abs() < 0.01, "what stays is whole");
    let told = cut_back.plan.figures.iter().find(|figure| figure.what.starts_with("handling cut back")).unwrap();
    assert!((told.value - (1780.0 - stays) / 2.0).abs() < 0.02, "{}", told.value);
    // With 5 mm to hold on to nobody trims a lap: there a seam is better.
    assert_eq!(panel(1720.0).seams.len(), 1);
}
