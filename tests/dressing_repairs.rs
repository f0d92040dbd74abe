//! Repairs: patch, lap and tape against AC 43.13-1B 2-42 to 2-45 (*AC*) and an approved covering manual p. 89 (*manual*).

use clothwright::covering::{RepairWork, cover};
use clothwright::job::{self, Edge, Job};
use clothwright::plan::pieces_to_cut;
use clothwright::units::Units;

const IN: f64 = 25.4;

fn job_of(vne: &str, repair: &str, figures: &str) -> Job {
    let text = format!(
        r#"{{ "format": 1, "units": "in", "cloth": [{{ "name": "roll", "width": 70 }}],
            "rules": {{ "method": "doped", "vne": "{vne}", "wing_loading": "8 lb/ft2" {figures} }},
            "airframe": [{{ "name": "hole", {repair} }}] }}"#
    );
    job::read_text("repair.json", &text).unwrap().job
}

/// The repair and the cautions.
fn worked(vne: &str, repair: &str) -> (RepairWork, Vec<String>) {
    let covering = cover(&job_of(vne, repair, "")).unwrap();
    (covering.repairs[0].clone(), covering.cautions)
}

fn inches(mm: f64) -> f64 {
    Units::In.from_mm(mm)
}

/// Lap, tape (0 for none) and size of the patch, in inches.
fn figures(vne: &str, kind: &str, opening: &str, at: &str) -> (f64, f64, [f64; 2]) {
    let (work, _) =
        worked(vne, &format!(r#""kind": "repair", "method": "{kind}", "opening": {opening}, "at": "{at}""#));
    (
        work.lap.map_or(0.0, |lap| inches(lap.used)),
        work.tape.map_or(0.0, |tape| inches(tape.used)),
        // Growing an outline is good to less than a thousandth.
        work.patch.map_or([0.0; 2], |piece| piece.size.map(|side| (inches(side) * 1e3).round() / 1e3)),
    )
}

#[test]
fn doped_patches_are_those_of_the_advisory_circular() {
    let doped = |vne, opening, at| figures(vne, "doped patch", opening, at);
    // Paragraph: AC 2-45; c; d; d; e; f; g.
    assert_eq!(doped("120 mph", r#"{ "rect": [6, 4] }"#, "wing bottom"), (2.0, 0.0, [10.0, 8.0]));
    assert_eq!(doped("180 mph", r#"{ "rect": [6, 4] }"#, "wing bottom"), (2.0, 2.0, [10.0, 8.0]));
    assert_eq!(doped("120 mph", r#"{ "rect": [12, 5] }"#, "wing bottom"), (3.0, 0.0, [18.0, 11.0]));
    assert!((doped("120 mph", r#"{ "rect": [15.9, 5] }"#, "wing bottom").0 - 3.975).abs() < 1e-9);
    assert_eq!(doped("180 mph", r#"{ "circle": 12 }"#, "wing top"), (4.0, 2.0, [20.0, 20.0]));
    assert_eq!(doped("120 mph", r#"{ "rect": [20, 10] }"#, "fuselage"), (4.0, 4.0, [28.0, 18.0]));
    assert_eq!(doped("180 mph", r#"{ "rect": [20, 10] }"#, "fuselage"), (4.0, 6.0, [28.0, 18.0]));
    // Exactly 8 in below the limit is in both rows, with the same lap.
    assert_eq!(doped("120 mph", r#"{ "rect": [8, 4] }"#, "fuselage"), (2.0, 0.0, [12.0, 8.0]));
}

#[test]
fn where_the_advisory_circular_is_silent_the_stricter_row_is_taken_and_said() {
    // Vne, longest side, place, lap, tape, words.
    let gaps = [
        ("150 mph", "6", "fuselage", (2.0, 2.0), "Vne of exactly 150 mph"),
        ("150 mph", "20", "fuselage", (4.0, 6.0), "Vne of exactly 150 mph"),
        ("120 mph", "16", "fuselage", (4.0, 4.0), "exactly 16 in"),
        ("180 mph", "16", "wing top", (4.0, 6.0), "exactly 16 in"),
        ("180 mph", "8", "fuselage", (4.0, 2.0), "exactly 8 in"),
        ("180 mph", "12", "fuselage", (4.0, 2.0), "8 to 16 in above 150 mph that is not on top of a wing"),
    ];
    for (vne, side, at, wanted, words) in gaps {
        let repair =
            format!(r#""kind": "repair", "method": "doped patch", "opening": {{ "rect": [{side}, 4] }}, "at": "{at}""#);
        let (work, cautions) = worked(vne, &repair);
        let lap = work.lap.unwrap();
        assert_eq!((inches(lap.used), inches(work.tape.unwrap().used)), wanted, "{vne} {side} {at}");
        assert!(lap.default.is_none() && lap.why.unwrap().contains(words), "{words}");
        assert!(cautions.iter().any(|caution| caution.contains(words) && caution.contains("stricter row")), "{words}");
    }
    let (clear, _) = worked(
        "120 mph",
        r#""kind": "repair", "method": "doped patch", "opening": { "rect": [12, 4] }, "at": "wing top""#,
    );
    assert_eq!(clear.lap.unwrap().why, None);
}

#[test]
fn tape_over_stitches_is_that_of_the_advisory_circular() {
    let tape = |vne, kind, opening, at| figures(vne, kind, opening, at).1;
    // AC 2-43a, b, c.
    assert_eq!(tape("120 mph", "sewn tear", r#"{ "tear": 8 }"#, "fuselage"), 3.0);
    assert_eq!(tape("120 mph", "sewn tear", r#"{ "tear": 10 }"#, "fuselage"), 4.0);
    assert_eq!(tape("170 mph", "sewn tear", r#"{ "tear": 10 }"#, "fuselage"), 6.0);
    assert_eq!(tape("120 mph", "sewn tear", r#"{ "tear": 5 }"#, "wing top"), 6.0);
    assert_eq!(tape("120 mph", "sewn tear", r#"{ "tear": 17 }"#, "fuselage"), 6.0);
    // Gaps: exactly 16 in; exactly 150 mph, which 2-43a includes and where the stricter is taken.
    assert_eq!(tape("120 mph", "sewn tear", r#"{ "tear": 16 }"#, "fuselage"), 6.0);
    let (limit, _) =
        worked("150 mph", r#""kind": "repair", "method": "sewn tear", "opening": { "tear": 5 }, "at": "fuselage""#);
    let limit = limit.tape.unwrap();
    assert_eq!((inches(limit.used), limit.default.map(inches)), (6.0, Some(3.0)));
    // AC 2-44a: half an inch is folded under on every edge of the patch.
    assert_eq!(figures("120 mph", "sewn patch", r#"{ "rect": [9, 7] }"#, "fuselage"), (0.5, 4.0, [10.0, 8.0]));
}

#[test]
fn cemented_patches_are_those_of_the_manual() {
    let cemented = |opening, at| figures("120 mph", "cemented patch", opening, at);
    // Manual p. 89: below 8 in 1 in and no tape but on a wing top; from 8 in on 2 in and 2 in tape.
    assert_eq!(cemented(r#"{ "circle": 5 }"#, "fuselage"), (1.0, 0.0, [7.0, 7.0]));
    assert_eq!(cemented(r#"{ "circle": 5 }"#, "wing top"), (1.0, 2.0, [7.0, 7.0]));
    assert_eq!(cemented(r#"{ "rect": [9, 5] }"#, "fuselage"), (2.0, 2.0, [13.0, 9.0]));
    assert_eq!(cemented(r#"{ "rect": [8, 5] }"#, "fuselage"), (2.0, 2.0, [12.0, 9.0]));
    let (_, cautions) = worked(
        "120 mph",
        r#""kind": "repair", "method": "cemented patch", "opening": { "circle": 5 }, "at": "fuselage""#,
    );
    assert!(cautions.iter().any(|caution| caution.contains("mixes two systems")), "AC 2-5");
}

#[test]
fn a_patch_that_ends_near_a_member_is_carried_past_it() {
    // AC 2-42f: the patch would end 0.8 in before the rib: it goes 3 in past, 2.8 + 3 = 5.8 in on that side.
    let near = |distance: f64| {
        worked(
            "120 mph",
            &format!(
                r#""kind": "repair", "method": "doped patch", "opening": {{ "rect": [6, 4] }}, "at": "wing bottom",
                   "members": [{{ "side": "right", "distance": {distance} }}]"#
            ),
        )
    };
    let (work, cautions) = near(2.8);
    let patch = work.patch.unwrap();
    assert!((patch.size[0] / IN - (6.0 + 2.0 + 5.8)).abs() < 1e-9 && (patch.size[1] / IN - 8.0).abs() < 1e-9);
    assert!((patch.cut.bounds().max().x / IN - 11.8).abs() < 1e-9, "on the right side");
    assert!(cautions.iter().any(|caution| caution.contains("right side") && caution.contains("repeat the lacing")));
    // 1.1 in away: left alone. Beyond the member: carried as far.
    assert!((near(3.1).0.patch.unwrap().size[0] / IN - 10.0).abs() < 1e-9);
    assert!((near(0.5).0.patch.unwrap().size[0] / IN - (6.0 + 2.0 + 3.5)).abs() < 1e-9);
}

#[test]
fn new_cloth_over_two_ribs_is_a_major_repair() {
    // AC 2-42d.
    let hole = |more: &str| {
        worked(
            "120 mph",
            &format!(r#""kind": "repair", "method": "doped patch", "opening": {{ "rect": [20, 9] }}, {more}"#),
        )
        .1
    };
    let major = |cautions: Vec<String>| cautions.iter().any(|caution| caution.contains("Form 337"));
    assert!(major(hole(r#""at": "wing top", "spans_two_ribs": true"#)));
    assert!(!major(hole(r#""at": "wing top""#)));
    // AC 2-42h: on synthetic cloth its own manual first.
    assert!(hole(r#""at": "fuselage""#).iter().any(|caution| caution.contains("approved manual comes first")));
}

#[test]
fn the_patch_is_among_the_pieces_with_its_edge_and_its_figures() {
    let repair = |opening: &str| {
        format!(
            r#""kind": "repair", "method": "doped patch", "opening": {opening}, "at": "wing bottom", "source": "sheet 3""#
        )
    };
    let pieces = pieces_to_cut(&job_of("120 mph", &repair(r#"{ "circle": 6 }"#), "")).unwrap();
    // AC 2-42e: pinked unless under tape.
    assert!(matches!(pieces[0].edge, Edge::Pinked(_)) && pieces[0].name == "hole patch");
    assert_eq!(
        pieces[0].source.as_deref(),
        Some("sheet 3; opening 6 in across; lap 2 in (AC 2-45); no tape; edge pinked (AC 2-42e)")
    );
    let taped = pieces_to_cut(&job_of("120 mph", &repair(r#"{ "rect": [20, 9] }"#), "")).unwrap();
    assert_eq!(taped[0].edge, Edge::Plain);
    let tear = r#""kind": "repair", "method": "sewn tear", "opening": { "tear": 9 }, "at": "fuselage""#;
    assert!(pieces_to_cut(&job_of("120 mph", tear, "")).unwrap().is_empty());
}

#[test]
fn tape_reaches_round_the_patch() {
    // Common practice, no source: each strip half its width past the corners. 2 × (28 + 18) + 4 × 4 in; 10 + 4 in.
    let (patch, _) = worked(
        "120 mph",
        r#""kind": "repair", "method": "doped patch", "opening": { "rect": [20, 10] }, "at": "fuselage""#,
    );
    assert!((patch.tape_length / IN - 108.0).abs() < 1e-9);
    let (tear, _) =
        worked("120 mph", r#""kind": "repair", "method": "sewn tear", "opening": { "tear": 10 }, "at": "fuselage""#);
    assert!((tear.tape_length / IN - 14.0).abs() < 1e-9);
}

#[test]
fn the_person_may_give_another_lap_and_says_why() {
    let own =
        r#", "figures": [{ "figure": "lap", "at": "repair", "value": 3, "why": "inspector's habit in open bays" }]"#;
    let repair = r#""kind": "repair", "method": "doped patch", "opening": { "rect": [6, 4] }, "at": "fuselage""#;
    let covering = cover(&job_of("120 mph", repair, own)).unwrap();
    let lap = covering.repairs[0].lap.clone().unwrap();
    assert!((lap.used - 3.0 * IN).abs() < 1e-9 && lap.default == Some(2.0 * IN));
    assert_eq!(lap.why.as_deref(), Some("inspector's habit in open bays"));
    assert!(!covering.cautions.iter().any(|caution| caution.contains("used by no part")));
    let small = own.replace("\"value\": 3", "\"value\": 1");
    let cautions = cover(&job_of("120 mph", repair, &small)).unwrap().cautions;
    assert!(cautions.iter().any(|caution| caution.contains("your own lap at the repair is 1 in, less than 2 in")));
}

#[test]
fn a_patch_named_like_a_piece_is_refused() {
    let text = r#"{ "format": 1, "units": "in", "cloth": [{ "name": "roll", "width": 70 }],
        "rules": { "method": "doped", "vne": "120 mph", "wing_loading": "8 lb/ft2" },
        "airframe": [{ "name": "hole", "kind": "repair", "method": "doped patch", "opening": { "circle": 3 }, "at": "fuselage" }],
        "pieces": [{ "name": "hole patch", "outline": { "circle": 6 } }] }"#;
    let faults = cover(&job::read_text("x.json", text).unwrap().job).unwrap_err();
    assert!(faults[0].message.contains("two pieces are called \"hole patch\"") && faults[0].at.path == "airframe[0]");
}
