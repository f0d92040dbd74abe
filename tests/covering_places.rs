//! Places on a part: on which hand they are, what lies on what, and what fits no cloth.

use clothwright::covering::{CoveredPart, Covering, CoveringFault, cover};
use clothwright::job::{self, Hand};

fn job(part: &str) -> job::Job {
    let text = format!(
        r#"{{ "format": 1, "units": "mm", "cloth": [{{ "name": "roll", "width": 1780, "faces_alike": true }}],
            "rules": {{ "method": "doped", "vne": "120 mph", "wing_loading": "6 lb/ft2" }}, "parked": {{ "nose_up": 8 }},
            "airframe": [ {part} ] }}"#
    );
    job::read_text("places.json", &text).unwrap_or_else(|error| panic!("{error}")).job
}

fn covered(part: &str) -> Covering {
    cover(&job(part)).unwrap_or_else(|faults| panic!("{faults:?}"))
}

fn faults(part: &str) -> Vec<CoveringFault> {
    cover(&job(part)).unwrap_err()
}

/// An elevator, built left and right and drawn on the right, with more keys.
fn elevator(more: &str) -> String {
    format!(
        r#"{{ "name": "elevator", "kind": "flat", "surface": "empennage", "mirrored": true, "axes": ["aft", "right"],
            "outline": {{ "polygon": [[0, 100], [420, 100], [420, 1400], [0, 1400]] }}, "tube": 19,
            "members": [ {{ "class": "rib", "from": [0, 500], "to": [420, 500] }} ] {more} }}"#
    )
}

fn fitting(more: &str) -> String {
    elevator(&format!(
        r#", "fittings": [{{ "name": "trim horn", "face": "second side", "at": [200, 300], "kind": "fitting", "size": [40, 20] {more} }}]"#
    ))
}

#[test]
fn a_place_is_on_both_hands_unless_the_job_says_one() {
    let patch = |more: &str| {
        let covering = covered(&fitting(more));
        let patch = covering.parts[0].dressed.patches[0].clone();
        let cut: u32 = covering.dressing.iter().map(|piece| piece.quantity).sum();
        (patch.hands, cut, patch.notes)
    };
    assert_eq!(patch(""), (2, 2, Vec::new()));
    assert_eq!(patch(r#", "hand": "left""#), (1, 1, vec!["on the left one only".to_owned()]));
    assert_eq!(patch(r#", "hand": "right", "layers": 2"#), (1, 2, vec!["on the right one only".to_owned()]));
    assert_eq!(covered(&elevator("")).parts[0].faces[0].drawn, Some(Hand::Right), "y runs to the right");
}

#[test]
fn a_hand_that_is_not_there_or_not_known_is_refused() {
    let once = fitting(r#", "hand": "left""#).replace(r#""mirrored": true, "#, "");
    let fault = &faults(&once)[0];
    assert!(fault.message.contains("\"trim horn\": the face \"second side\" is built once"), "{fault:?}");
    assert_eq!(fault.at.path, "airframe[0].fittings[0].hand");
    let unknown = fitting(r#", "hand": "left""#).replace(r#""axes": ["aft", "right"],"#, "");
    let fault = &faults(&unknown)[0];
    assert!(fault.message.contains("which hand of \"elevator\" is drawn is not known"), "{fault:?}");
    assert!(fault.hint.contains("\"axes\""), "{fault:?}");
}

/// A box whose side is there on both hands, drawn on the right.
fn fuselage(at: &str, hand: &str) -> String {
    format!(
        r#"{{ "name": "box", "kind": "truss",
            "nodes": {{ "A": [0, 300, 0], "B": [2000, 300, 0], "C": [2000, 300, 600], "D": [0, 300, 600] }},
            "tubes": [ {{ "from": "A", "to": "B", "diameter": 20, "class": "longeron" }}, {{ "from": "B", "to": "C", "diameter": 20, "class": "cross tube" }},
                {{ "from": "C", "to": "D", "diameter": 20, "class": "longeron" }}, {{ "from": "D", "to": "A", "diameter": 20, "class": "cross tube" }},
                {{ "from": "A", "to": "C", "diameter": 20, "class": "diagonal" }} ],
            "faces": [ {{ "name": "side", "ring": ["A", "B", "C", "D"], "order": 1, "mirrored": true }} ],
            "fittings": [ {{ "name": "step", "face": "side", "at": {at}, "hand": "{hand}", "kind": "fitting", "size": [60, 40] }} ] }}"#
    )
}

#[test]
fn in_a_truss_the_coordinates_must_lie_on_that_hand() {
    assert_eq!(covered(&fuselage("[700, 300, 500]", "right")).parts[0].dressed.patches[0].hands, 1);
    assert_eq!(covered(&fuselage("[700, -300, 500]", "left")).parts[0].dressed.patches[0].hands, 1);
    let fault = &faults(&fuselage("[700, 300, 500]", "left"))[0];
    assert!(fault.message.contains("to be on the left hand, and its y lies on the other side"), "{fault:?}");
}

#[test]
fn a_diagonal_has_a_class_of_its_own() {
    let part = covered(&fuselage("[700, 300, 500]", "right")).parts.remove(0);
    assert_eq!(part.faces[0].members[0].name, "diagonal A to C");
    assert_eq!(part.faces[0].bays.len(), 2);
}

/// A control on both hands needs an opening on both (AC 43.13-1B 2-14a).
#[test]
fn an_opening_on_one_hand_serves_that_hand_only() {
    let cautions = |hands: &[&str]| {
        let openings: Vec<String> = hands
            .iter()
            .map(|hand| {
                format!(r#"{{ "name": "horn, {hand}", "face": "first side", "at": [200, 800], "hand": "{hand}" }}"#)
            })
            .collect();
        let more = format!(
            r#", "openings": [{}], "controls": [{{ "name": "horn", "kind": "bellcrank", "face": "first side", "at": [210, 830] }}]"#,
            openings.join(",")
        );
        covered(&elevator(&more)).cautions.iter().filter(|caution| caution.contains("no opening within reach")).count()
    };
    assert_eq!(cautions(&["left"]), 1);
    assert_eq!(cautions(&["left", "right"]), 0);
}

/// Cautions of an elevator with things on its first side.
fn cautions(more: &str) -> Vec<String> {
    covered(&elevator(more)).cautions
}

fn told(cautions: &[String], words: &[&str]) -> bool {
    cautions.iter().any(|caution| words.iter().all(|word| caution.contains(word)))
}

#[test]
fn what_lies_on_something_else_is_told() {
    let opening = |x: f64, y: f64| {
        cautions(&format!(r#", "openings": [{{ "name": "horn", "face": "first side", "at": [{x}, {y}] }}]"#))
    };
    // A rim of 4-1/2 in: 57 mm from a cap of 1/2 in; a doily of 6-1/2 in and a tape of 3 in over the rib.
    assert!(told(&opening(200.0, 540.0), &["the ring \"horn\"", "sits on the rib", "40 mm from it"]));
    assert!(told(&opening(200.0, 590.0), &["the doily", "lies over the tape", "(rib"]));
    assert!(told(&opening(30.0, 900.0), &["sits on perimeter, edge"]));
    let clear = opening(210.0, 900.0);
    assert!(!told(&clear, &["sits on"]) && !told(&clear, &["lies over"]), "{clear:?}");
    let two = cautions(
        r#", "fittings": [ { "name": "one", "face": "first side", "at": [200, 800], "kind": "fitting", "size": [60, 40] },
            { "name": "two", "face": "first side", "at": [250, 820], "kind": "fitting", "size": [60, 40] },
            { "name": "three", "face": "second side", "at": [250, 820], "kind": "fitting", "size": [60, 40] } ]"#,
    );
    assert!(told(&two, &["the patch", "\"two\"", "lies over the patch", "\"one\""]));
    assert!(!told(&two, &["\"three\" lies over"]), "it is on the other side");
}

#[test]
fn what_lies_outside_its_face_is_told() {
    let at = |x: f64| {
        cautions(&format!(
            r#", "fittings": [{{ "name": "hinge", "face": "first side", "at": [{x}, 800], "kind": "fitting", "size": [40, 20] }}]"#
        ))
    };
    assert!(told(&at(-20.0), &["the middle of the fitting \"hinge\" lies 20 mm outside the outline"]));
    assert!(!told(&at(0.0), &["outside the outline"]));
}

#[test]
fn per_cent_that_look_like_a_share_are_told() {
    let wing = |chord: &str| {
        format!(
            r#"{{ "name": "wing", "kind": "ribbed", "planform": [ {{ "at": 0, "chord": 1000 }}, {{ "at": 900, "chord": 1000 }} ],
                "section": {{ "digits": "0012" }}, "ribs": [0, 300, 600, 900],
                "fittings": [{{ "name": "strut", "face": "bottom", "at": [450, {chord}], "kind": "fitting", "size": [40, 20] }}] }}"#
        )
    };
    assert!(told(&covered(&wing("0.65")).cautions, &["\"strut\" lies at 0.65 per cent of the chord", "write 65"]));
    assert!(!told(&covered(&wing("65")).cautions, &["per cent of the chord"]));
}

#[test]
fn ribs_past_the_frame_or_short_of_it_are_told() {
    let rib = |to: f64| covered(&elevator("").replace("\"to\": [420, 500]", &format!("\"to\": [{to}, 500]"))).cautions;
    assert!(told(&rib(470.0), &["the rib is drawn 50 mm past the frame"]));
    assert!(told(&rib(350.0), &["the rib ends 70 mm short of the frame"]));
    // Drawn to the inside of the tube, or to its outside.
    for right in [401.0, 420.0] {
        assert!(!told(&rib(right), &["the rib"]), "{right}");
    }
}

#[test]
fn a_doily_or_a_patch_that_fits_no_cloth_is_refused_before_any_lay() {
    let narrow = |part: &str| {
        let mut job = job(part);
        job.cloth[0].length = Some(1500.0);
        cover(&job)
    };
    let opening = r#", "openings": [{ "name": "hatch", "face": "first side", "at": [210, 900], "outside": 1800 }]"#;
    let fault = narrow(&elevator(opening)).unwrap_err().remove(0);
    assert!(fault.message.contains("\"doily ") && fault.message.contains("fits no cloth"), "{fault:?}");
    let patch = fitting("").replace("[40, 20]", "[2000, 1600]");
    assert!(narrow(&patch).unwrap_err()[0].message.contains("\"patch "));
    assert!(narrow(&fitting("")).is_ok());
}

/// A part wider than the roll is divided; the tape over the seam has its line on each face.
#[test]
fn the_tape_over_a_seam_has_a_line_on_every_face() {
    let legs = |part: &CoveredPart| -> Vec<(String, Vec<usize>, u32)> {
        let seams = part.dressed.tapes.iter().filter(|tape| tape.is_over_a_seam());
        seams.map(|tape| (tape.over.clone(), tape.legs.iter().map(|leg| leg.face).collect(), tape.quantity)).collect()
    };
    let flat = r#"{ "name": "tailplane", "kind": "flat", "surface": "empennage", "mirrored": true, "grain": "along",
        "outline": { "rect": [2600, 2000] }, "tube": 25 }"#;
    let part = covered(flat).parts.remove(0);
    let seam = |side: &str| format!("seam in tailplane, {side}");
    assert_eq!(legs(&part), [(seam("first side"), vec![0], 2), (seam("second side"), vec![1], 2)]);
    for tape in part.dressed.tapes.iter().filter(|tape| tape.is_over_a_seam()) {
        let face = &part.faces[tape.legs[0].face];
        let bounds = face.outline.bounds();
        assert!(tape.legs[0].run.iter().all(|at| at.y > bounds.min().y && at.y < bounds.max().y), "{tape:?}");
    }
    let wing = r#"{ "name": "wing", "kind": "ribbed", "cover": "one piece", "roll": "spanwise",
        "planform": [ { "at": 0, "chord": 1000 }, { "at": 3000, "chord": 1000 } ], "section": { "digits": "0012" },
        "ribs": [0, 500, 1000, 1500, 2000, 2500, 3000], "nose_sheet": 10 }"#;
    let part = covered(wing).parts.remove(0);
    assert!(!part.panels[0].seams.is_empty(), "2041 mm of girth are wider than the roll");
    for tape in part.dressed.tapes.iter().filter(|tape| tape.is_over_a_seam()) {
        let drawn: f64 = tape
            .legs
            .iter()
            .flat_map(|leg| leg.run.windows(2))
            .map(|pair| (pair[1].x - pair[0].x).hypot(pair[1].y - pair[0].y))
            .sum();
        // Its ends lie in the handling past the outline.
        assert!(drawn > 2900.0 && drawn <= tape.length, "{drawn} of {}", tape.length);
    }
}

/// Half of a tape over an edge lies on the other face: it is drawn there too, and said.
#[test]
fn a_tape_round_an_edge_is_on_both_faces() {
    let part = covered(&elevator("")).parts.remove(0);
    let edges: Vec<_> = part.dressed.tapes.iter().filter(|tape| tape.over.starts_with("perimeter")).collect();
    assert_eq!(edges.len(), 4);
    for tape in edges {
        assert_eq!((tape.legs.len(), tape.round.len()), (1, 1), "{}", tape.over);
        assert!(
            tape.notes
                .iter()
                .any(|note| note.contains("half of its width lies on the other side of it, on second side"))
        );
        let length = |run: &[geo_types::Coord<f64>]| -> f64 {
            run.windows(2).map(|pair| (pair[1].x - pair[0].x).hypot(pair[1].y - pair[0].y)).sum()
        };
        assert!((length(&tape.legs[0].run) - length(&tape.round[0].run)).abs() < 1e-6);
    }
}

/// Each edge of a frame has one name, whichever side one looks at.
#[test]
fn both_sides_call_an_edge_the_same() {
    let rudder = r#"{ "name": "rudder", "kind": "flat", "surface": "empennage", "tube": [19, 19, 22, 19, 19], "axes": ["aft", "up"],
        "outline": { "path": "M 0 0 L 400 0 Q 620 500 300 900 L 100 950 L 0 900 Z" } }"#;
    let part = covered(rudder).parts.remove(0);
    let named = |face: usize| -> Vec<(String, i64)> {
        let edges = &part.faces[face].edges;
        let mut names: Vec<_> =
            edges.iter().map(|edge| (edge.name.clone(), (edge.length() * 10.0).round() as i64)).collect();
        names.sort();
        names
    };
    assert_eq!(named(0), named(1));
    assert!(named(0).iter().any(|(name, _)| name == "perimeter, edge 1 (lower)"), "{:?}", named(0));
    assert!(part.faces[1].datums.iter().all(|datum| !datum.corner.contains("drawing")));
}

/// A ring that sits on rib 1 is not the end of what is told of rib 10.
#[test]
fn rib_1_does_not_stand_for_rib_10() {
    let ribs: Vec<String> = (0..10)
        .map(|rib| {
            let y = if rib == 9 { 580 } else { 500 + 80 * rib + if rib == 0 { 0 } else { 60 } };
            format!(r#"{{ "class": "rib", "from": [0, {y}], "to": [420, {y}] }}"#)
        })
        .collect();
    let old = r#"{ "class": "rib", "from": [0, 500], "to": [420, 500] }"#;
    let opening = r#", "openings": [{ "name": "horn", "face": "first side", "at": [200, 502] }]"#;
    let cautions = covered(&elevator(opening).replace(old, &ribs.join(","))).cautions;
    assert!(told(&cautions, &["the ring \"horn\"", "sits on rib 1:"]), "{cautions:?}");
    assert!(!told(&cautions, &["the ring \"horn\"", "sits on rib 10"]), "{cautions:?}");
    assert!(told(&cautions, &["the doily", "lies over the tape", "(rib 10, "]), "{cautions:?}");
    assert!(!told(&cautions, &["lies over the tape", "(rib 1, "]), "what a ring sits on is told once: {cautions:?}");
}

/// A slip that puts many fittings onto one place is told once for each, and not once for every two of them.
#[test]
fn many_things_on_one_place_have_one_caution_each() {
    const THINGS: usize = 300;
    let fittings: Vec<String> = (0..THINGS)
        .map(|n| {
            format!(
                r#"{{ "name": "f{n}", "face": "first side", "at": [200, 800], "kind": "fitting", "size": [60, 40] }}"#
            )
        })
        .collect();
    let cautions = cautions(&format!(r#", "fittings": [{}]"#, fittings.join(",")));
    let over: Vec<&String> = cautions.iter().filter(|caution| caution.contains("lies over the patch")).collect();
    assert_eq!(over.len(), THINGS - 1);
    assert!(over[0].contains("of \"f1\" lies over the patch") && over[0].ends_with("of \"f0\""), "{}", over[0]);
    assert!(over[1].ends_with("of \"f0\" and 1 other"), "{}", over[1]);
    assert!(over[THINGS - 2].ends_with("of \"f0\" and 298 others"), "{}", over[THINGS - 2]);
}
