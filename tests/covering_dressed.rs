//! Everything that goes onto the panels: tapes, patches, rings, drains and laces, each at its place.

use std::collections::BTreeSet;
use std::path::Path;

use clothwright::covering::dressing::{TapeCut, WantedShape};
use clothwright::covering::{CoveredPart, Covering, LacesOnFace, TapeOrder, cover};
use clothwright::job::{self, Job};

const INCH: f64 = 25.4;

fn read(rules: &str, part: &str) -> (Job, Covering) {
    let text = format!(
        r#"{{ "format": 1, "units": "mm", "cloth": [{{ "name": "roll", "width": 1780, "faces_alike": true }}],
            "rules": {{ {rules}, "wing_loading": "6 lb/ft2" }}, "parked": {{ "nose_up": 8 }}, "airframe": [ {part} ] }}"#
    );
    let job = job::read_text("dressed.json", &text).unwrap_or_else(|error| panic!("{error}")).job;
    let covering = cover(&job).unwrap_or_else(|faults| panic!("{faults:?}"));
    (job, covering)
}

fn dressed(rules: &str, part: &str) -> CoveredPart {
    read(rules, part).1.parts.remove(0)
}

const DOPED: &str = r#""method": "doped", "vne": "120 mph""#;
const CEMENTED: &str = r#""method": "cemented", "vne": "115 mph""#;

/// A straight wing of 1000 mm chord with a nose sheet to 10 %.
fn wing(more: &str) -> String {
    format!(
        r#"{{ "name": "wing", "kind": "ribbed", "planform": [ {{ "at": 0, "chord": 1000 }}, {{ "at": 1500, "chord": 1000 }} ],
            "section": {{ "digits": "0012" }}, "ribs": [0, 300, 600, 900, 1200, 1500], "spars": [15, 65], "nose_sheet": 10 {more} }}"#
    )
}

/// Approved covering manual p. 43: the tape of a rib in one piece, top, nose and bottom, and about 1 in past each end.
#[test]
fn a_rib_has_one_tape_round_its_nose() {
    let part = dressed(DOPED, &wing(""));
    let rib = part.dressed.tapes.iter().find(|tape| tape.over == "rib 3").unwrap();
    assert_eq!(rib.legs.len(), 2);
    assert_eq!(rib.order, TapeOrder::Chordwise);
    // NACA 0012 by Report 460: its girth is 2.0413 chords (by quadrature of the published formula, from memory 2.04).
    assert!((rib.length - 2.0 * INCH - 2041.0).abs() < 3.0, "{}", rib.length);
    // AC 43.13-1B 2-13b: 2 in over laces.
    assert!((rib.width - 2.0 * INCH).abs() < 1e-9);
    assert!(!rib.joined);
    // Ribs 2 to 6: over the first the butt has its own.
    assert_eq!(part.dressed.tapes.iter().filter(|tape| tape.over.starts_with("rib ")).count(), 5);
}

/// Order: chordwise, then spanwise, the tip bow last (approved covering manual p. 42).
#[test]
fn tapes_are_numbered_in_the_order_of_the_work() {
    let part = dressed(DOPED, &wing(r#", "tip_bow": 200"#));
    let orders: Vec<TapeOrder> = part.dressed.tapes.iter().map(|tape| tape.order).collect();
    assert!(orders.windows(2).all(|pair| pair[0] <= pair[1]));
    let bow = part.dressed.tapes.last().unwrap();
    assert_eq!(bow.order, TapeOrder::TipBow);
    // Manual p. 46: 4 in bias tape for a bow, a little under 3 in when it is pulled.
    assert!(matches!(bow.cut, TapeCut::Bias { stock, .. } if (stock - 4.0 * INCH).abs() < 1e-9), "{:?}", bow.cut);
    // Half an ellipse of 1040 mm by 2 x 200 mm is longer than its chord and shorter than the way round its box.
    assert!(bow.length > 1040.0 && bow.length < 1040.0 + 400.0, "{}", bow.length);
    let numbers: Vec<&str> = part.dressed.tapes.iter().map(|tape| tape.number.as_str()).collect();
    assert_eq!(numbers[0], "T1");
    assert_eq!(numbers.len(), numbers.iter().collect::<BTreeSet<_>>().len());
}

/// Doped, Vne up to 150 mph: 3 in at leading and trailing edge by AC 2-7b(4) and (5); over a leading edge 4 in by the
/// manual p. 42, the wider of both.
#[test]
fn an_edge_has_the_wider_tape_of_its_seam_and_its_member() {
    let part = dressed(DOPED, &wing(""));
    let width = |over: &str| part.dressed.tapes.iter().find(|tape| tape.over == over).unwrap().width / INCH;
    assert!((width("leading edge") - 4.0).abs() < 1e-9);
    assert!((width("trailing edge") - 3.0).abs() < 1e-9);
    assert!((width("butt") - 3.0).abs() < 1e-9);
    let edges: Vec<&str> = part.dressed.tapes.iter().map(|tape| tape.over.as_str()).collect();
    assert_eq!(edges.iter().filter(|over| **over == "leading edge").count(), 1, "one for top and bottom");
    assert_eq!(edges.iter().filter(|over| **over == "butt").count(), 2, "top and bottom each end there");
}

/// A tape round the corner of a rudder is cut on the bias, along its straight post it is straight.
#[test]
fn tape_round_a_sharp_bend_is_bias_and_along_a_line_is_straight() {
    let rudder = r#"{ "name": "rudder", "kind": "flat", "surface": "empennage", "tube": 19,
        "outline": { "path": "M 0 0 L 200 0 A 200 200 0 0 1 400 200 L 400 900 A 200 200 0 0 1 200 1100 L 0 1100 Z" } }"#;
    let part = dressed(DOPED, rudder);
    let cuts: Vec<&TapeCut> = part.dressed.tapes.iter().map(|tape| &tape.cut).collect();
    assert_eq!(cuts.len(), 2, "the post, and the rest in one pull");
    assert_eq!(cuts.iter().filter(|cut| matches!(cut, TapeCut::Straight)).count(), 1);
    // 3 in round 200 mm: 19 % too much at the inner edge.
    assert_eq!(cuts.iter().filter(|cut| matches!(cut, TapeCut::Bias { .. })).count(), 1);
}

/// Vne 115 mph: 2.5 in in the slipstream and 3.5 in outside; the first lace half a spacing behind the nose sheet
/// (approved covering manual pp. 27-28).
#[test]
fn laces_follow_the_chart_in_and_outside_the_slipstream() {
    let part = dressed(CEMENTED, &wing(r#", "slipstream": [0, 350]"#));
    let spacing = |name: &str| part.dressed.ribs.iter().find(|rib| rib.rib == name).unwrap().spacing / INCH;
    assert!((spacing("rib 2") - 2.5).abs() < 1e-6, "within");
    assert!((spacing("rib 3") - 2.5).abs() < 1e-6, "the next one too, AC 2-9c");
    assert!((spacing("rib 4") - 3.5).abs() < 1e-6);
    let rib = &part.dressed.ribs[0];
    assert!((rib.at[0] - 1.25 * INCH).abs() < 1e-6);
    for LacesOnFace { face, at: places, .. } in &rib.places {
        assert_eq!(places.len(), rib.at.len());
        let (low, high) = (part.faces[*face].outline.bounds().min().y, part.faces[*face].outline.bounds().max().y);
        assert!(places.iter().all(|at| at.y > low && at.y < high));
    }
    // The first lace lies behind the sheet, 10 % of 1000 mm and a little more along the cloth, on both faces.
    let nose_of_top = part.faces[0].outline.bounds().max().y;
    let from_nose = nose_of_top - rib.places[0].at[0].y;
    assert!((from_nose - 1.25 * INCH - rib_sheet(&part)).abs() < 1.0, "{from_nose}");
    assert!((rib.places[1].at[0].y - 1.25 * INCH - rib_sheet(&part)).abs() < 1.0);
}

fn rib_sheet(part: &CoveredPart) -> f64 {
    part.faces[0].members.iter().find_map(|member| member.rib).unwrap().sheet
}

#[test]
fn beyond_the_chart_approved_data_is_asked_for() {
    let text = format!(
        r#"{{ "format": 1, "units": "mm", "cloth": [{{ "name": "roll", "width": 1780 }}],
            "rules": {{ "method": "doped", "vne": "260 mph", "wing_loading": "12 lb/ft2" }}, "airframe": [ {} ] }}"#,
        wing("")
    );
    let job = job::read_text("fast.json", &text).unwrap_or_else(|error| panic!("{error}")).job;
    let faults = cover(&job).unwrap_err();
    assert!(faults.iter().any(|fault| fault.message.contains("approved data")), "{faults:?}");
}

/// A patch reaches 3/8 in past its fitting (approved covering manual p. 43), is pinked, and many share a template.
#[test]
fn every_patch_covers_its_fitting_and_its_margin() {
    let mut fittings = Vec::new();
    for index in 0..12 {
        fittings.push(format!(
            r#"{{ "name": "f{index}", "face": "bottom", "at": [{}, 40], "kind": "fitting", "size": [{}, {}], "layers": {} }}"#,
            100 + 100 * index,
            40 + index,
            20 + (index % 3),
            1 + index % 2
        ));
    }
    let (job, covering) = read(DOPED, &wing(&format!(r#", "mirrored": true, "fittings": [ {} ]"#, fittings.join(","))));
    let patches = &covering.parts[0].dressed.patches;
    assert_eq!(patches.len(), 12);
    for (patch, fitting) in patches.iter().zip(&job.airframe[0].places.fittings) {
        let (WantedShape::Rect(size), job::FittingSize::Rect(inner)) = (patch.shape, fitting.size) else { panic!() };
        assert!((0..2).all(|side| size[side] >= inner[side] + 2.0 * 0.375 * INCH - 1e-9), "{patch:?}");
        assert!(covering.dressing.iter().any(|piece| piece.name == patch.piece));
    }
    let cut: u32 = covering.dressing.iter().map(|piece| piece.quantity).sum();
    assert_eq!(cut, 2 * (6 + 6 * 2), "both hands, and both layers of every other one");
    assert!(covering.dressing.len() < 12 && covering.patch_choice.templates_saved > 0);
}

/// AC 43.13-1B 2-14a: openings at every bellcrank; a doily of 6-1/2 in over each ring (manual p. 40).
#[test]
fn a_control_without_an_opening_within_reach_is_told() {
    let places = r#", "openings": [ { "name": "aileron bellcrank", "face": "bottom", "at": [900, 60] } ],
        "controls": [ { "name": "bellcrank", "kind": "bellcrank", "face": "bottom", "at": [920, 62] },
                      { "name": "root pulley", "kind": "pulley", "face": "bottom", "at": [60, 40] } ]"#;
    let (_, covering) = read(DOPED, &wing(places));
    let ring = &covering.parts[0].dressed.rings[0];
    assert!((ring.doily - 6.5 * INCH).abs() < 1e-9 && (ring.inside - 3.5625 * INCH).abs() < 1e-9);
    let told: Vec<&String> =
        covering.cautions.iter().filter(|caution| caution.contains("no opening within reach")).collect();
    assert_eq!(told.len(), 1, "{told:?}");
    assert!(told[0].contains("root pulley"));
    assert_eq!(covering.dressing.iter().filter(|piece| piece.name.starts_with("doily")).count(), 1);
}

/// The whole demonstration: everything has a number of its own, tapes are as long as what they lie over.
#[test]
fn the_dunlin_is_dressed() {
    let job = job::read(Path::new("examples/dunlin/airframe.json")).unwrap_or_else(|error| panic!("{error:?}")).job;
    let covering = cover(&job).unwrap_or_else(|faults| panic!("{faults:?}"));
    let mut numbers = BTreeSet::new();
    let (mut patches, mut rings, mut drains) = (0, 0, 0);
    for part in &covering.parts {
        let dressed = &part.dressed;
        for tape in &dressed.tapes {
            let over: f64 = tape.legs.iter().map(|leg| length(&leg.run)).sum();
            assert!(tape.length >= over, "{}: {} over {over}", tape.over, tape.length);
            assert!(numbers.insert(tape.number.clone()));
        }
        let patch_numbers = dressed.patches.iter().map(|patch| &patch.number);
        let ring_numbers = dressed.rings.iter().map(|ring| &ring.number);
        let drain_numbers = dressed.drains.iter().map(|drain| &drain.number);
        for number in patch_numbers.chain(ring_numbers).chain(drain_numbers) {
            assert!(numbers.insert(number.clone()));
        }
        patches += dressed.patches.iter().map(|patch| patch.hands * patch.layers).sum::<u32>();
        rings += dressed.rings.iter().map(|ring| ring.hands).sum::<u32>();
        drains += dressed.drains.iter().map(|drain| drain.hands).sum::<u32>();
    }
    assert!(patches >= 100, "{patches} patches");
    assert!(rings >= 24, "{rings} rings");
    assert!(drains >= 60, "{drains} drains");
    let classes: BTreeSet<u64> =
        covering.parts.iter().flat_map(|part| &part.dressed.tapes).map(|tape| tape.width.to_bits()).collect();
    assert!(classes.len() >= 3, "several widths of tape");
}

fn length(run: &[geo_types::Coord<f64>]) -> f64 {
    run.windows(2).map(|pair| (pair[1].x - pair[0].x).hypot(pair[1].y - pair[0].y)).sum()
}

/// AC 43.13-1B 2-9c: above 250 mph strips of the cover's cloth lie under the reinforcing tape; in the slipstream from
/// trailing edge to trailing edge, elsewhere they end at the front spar on the underside.
#[test]
fn fast_aircraft_have_anti_tear_strips() {
    let own = r#", "figures": [{ "figure": "spacing", "at": "rib", "value": 50, "why": "maker's manual" },
        { "figure": "spacing", "at": "rib in slipstream", "value": 25, "why": "maker's manual" }]"#;
    let fast = format!(r#""method": "doped", "vne": "260 mph" {own}"#);
    let (_, covering) = read(&fast, &wing(r#", "slipstream": [0, 350]"#));
    let part = &covering.parts[0];
    let strip =
        |rib: &str| part.dressed.ribs.iter().find(|laced| laced.rib == rib).and_then(|laced| laced.anti_tear).unwrap();
    let tape = |rib: &str| part.dressed.tapes.iter().find(|tape| tape.over == rib).unwrap().length - 2.0 * INCH;
    // Cap of 1/2 in and 1/2 in more on each side.
    assert!((strip("rib 2")[1] - 1.5 * INCH).abs() < 1e-9, "{:?}", strip("rib 2"));
    assert!((strip("rib 2")[0] - tape("rib 2")).abs() < 0.1, "all round in the slipstream");
    // The front spar stands at 15 % of 1000 mm: round the nose of a NACA 0012 half of the girth to there is a little more.
    let below = strip("rib 5")[0] - tape("rib 5") / 2.0;
    assert!((150.0..190.0).contains(&below), "{below}");
    let cut: u32 = covering
        .dressing
        .iter()
        .filter(|piece| piece.name.starts_with("anti-tear strip"))
        .map(|piece| piece.quantity)
        .sum();
    assert_eq!(cut as usize, part.dressed.ribs.len());
    assert!(dressed(&format!("{DOPED}{own}"), &wing("")).dressed.ribs.iter().all(|rib| rib.anti_tear.is_none()));
}

/// The person may choose the sizes of patches, or how many there are.
#[test]
fn patches_take_the_sizes_that_the_person_chose() {
    let fitting = |name: &str, x: f64, size: &str| {
        format!(r#"{{ "name": "{name}", "kind": "fitting", "face": "top", "at": [{x}, 50], "size": {size} }}"#)
    };
    let fittings =
        [fitting("a", 200.0, "[20, 60]"), fitting("b", 500.0, "[30, 30]"), fitting("c", 800.0, "[90, 90]")].join(",");
    let part = wing(&format!(r#", "fittings": [{fittings}]"#));
    let shapes = |sizes: &str| -> Vec<WantedShape> {
        let part = dressed(&format!(r#"{DOPED}, "patch_sizes": {sizes}"#), &part);
        part.dressed.patches.iter().map(|patch| patch.shape).collect()
    };
    // 3/8 in past the fitting all round (approved covering manual p. 43): 40 by 80, 50 by 50, 110 by 110.
    let rect = |a: f64, b: f64| WantedShape::Rect([a, b]);
    assert_eq!(shapes("[[80, 40], [60, 60], [110, 110]]"), [rect(40.0, 80.0), rect(60.0, 60.0), rect(110.0, 110.0)]);
    assert_eq!(shapes("[[100, 60], [120, 120]]"), [rect(60.0, 100.0), rect(100.0, 60.0), rect(120.0, 120.0)]);
    assert_eq!(shapes("1"), [rect(110.0, 110.0); 3]);
    // One that none covers has its own size, and a caution names it.
    let (_, covering) = read(&format!(r#"{DOPED}, "patch_sizes": [[80, 50]]"#), &part);
    assert_eq!(covering.parts[0].dressed.patches[2].shape, rect(110.0, 110.0));
    assert!(
        covering.cautions.iter().any(|caution| caution.contains("\"c\"") && caution.contains("110 mm × 110 mm")),
        "{:?}",
        covering.cautions
    );
}

/// The cut edges of a recess are taped on either side, as the trailing edge is (common practice, no source).
#[test]
fn the_edges_of_a_recess_are_taped() {
    let part = dressed(DOPED, &wing(r#", "recesses": [{ "from": 600, "to": 1200, "front": 75 }]"#));
    let front: Vec<_> = part.dressed.tapes.iter().filter(|tape| tape.over == "recess" && tape.length > 600.0).collect();
    assert_eq!(front.len(), 2, "one on top and one below");
    let trailing = part.dressed.tapes.iter().find(|tape| tape.over == "trailing edge").unwrap();
    assert!(front.iter().all(|tape| tape.width == trailing.width));
}

/// A lace goes through the rib square to the chord: of a symmetrical section the marks below are those on top, wherever
/// the nose sheet ends on either side.
#[test]
fn laces_below_lie_under_those_on_top() {
    let part = wing("").replace(r#""nose_sheet": 10"#, r#""nose_sheet": [15, 8]"#);
    let part = dressed(DOPED, &part);
    let rib = &part.dressed.ribs[0];
    let nose_of_top = part.faces[0].outline.bounds().max().y;
    let [top, bottom] = [&rib.places[0], &rib.places[1]];
    for (above, below) in top.at.iter().zip(&bottom.at) {
        assert!((nose_of_top - above.y - below.y).abs() < 0.1, "{above:?} over {below:?}");
    }
    // Told from where the sheet of each side ends: below it ends earlier, and the first lace is farther from it.
    assert!(bottom.along[0] > top.along[0] + 60.0, "{:?} {:?}", top.along, bottom.along);
}

/// A lace goes round the rib and not round the tube that it ends on.
#[test]
fn laces_of_a_flat_rib_lie_between_the_tubes() {
    let part = r#"{ "name": "fin", "kind": "flat", "surface": "empennage", "outline": { "rect": [445, 900] }, "tube": 22,
        "members": [{ "class": "rib", "from": [0, 450], "to": [445, 450] }] }"#;
    let part = dressed(DOPED, part);
    for laces in &part.dressed.ribs[0].places {
        assert!(laces.at.iter().all(|at| at.x > 22.0 && at.x < 423.0), "{:?}", laces.at);
        // AC 43.13-1B 2-10 by its first lace: half a spacing from where lacing begins.
        assert!((laces.at[0].x - 22.0 - part.dressed.ribs[0].spacing / 2.0).abs() < 1e-6);
    }
}

/// Each longeron has one tape, whichever hand its tube is written for, and so has a tube in the middle.
#[test]
fn every_longeron_of_a_mirrored_fuselage_has_one_tape() {
    let job = job::read(Path::new("examples/dunlin/airframe.json")).unwrap_or_else(|error| panic!("{error}")).job;
    let covering = cover(&job).unwrap_or_else(|faults| panic!("{faults:?}"));
    let fuselage = covering.parts.iter().find(|part| part.name == "fuselage").unwrap();
    let count = |over: &str| -> u32 {
        fuselage.dressed.tapes.iter().filter(|tape| tape.over.starts_with(over)).map(|tape| tape.quantity).sum()
    };
    assert_eq!([count("longeron LL1 to LL7"), count("longeron LR1 to LR7")], [1, 1]);
    assert_eq!([count("longeron UL1 to UL7"), count("longeron S4 to S7")], [2, 1]);
}

/// In a job in inches patches are sixteenths: 4 by 2-1/2 in and 3/8 in all round is 4-3/4 by 3-1/4.
#[test]
fn patches_of_a_job_in_inches_are_sixteenths() {
    let fitting =
        r#", "fittings": [{ "name": "step", "kind": "fitting", "face": "top", "at": [30, 50], "size": [4, 2.5] }]"#;
    let part =
        r#"{ "name": "wing", "kind": "ribbed", "planform": [ { "at": 0, "chord": 40 }, { "at": 60, "chord": 40 } ],
        "section": { "digits": "0012" }, "ribs": [0, 30, 60] FITTING }"#
            .replace("FITTING", fitting);
    let text = format!(
        r#"{{ "format": 1, "units": "in", "cloth": [{{ "name": "roll", "width": 70 }}],
            "rules": {{ {DOPED}, "wing_loading": "6 lb/ft2" }}, "airframe": [ {part} ] }}"#
    );
    let job = job::read_text("inches.json", &text).unwrap_or_else(|error| panic!("{error}")).job;
    let covering = cover(&job).unwrap_or_else(|faults| panic!("{faults:?}"));
    assert_eq!(covering.parts[0].dressed.patches[0].piece, "patch 4-3/4 in × 3-1/4 in");
}

/// A rib that is no longer than the tube under it has nothing to lace, and those after it are laced all the same.
#[test]
fn a_rib_with_nothing_to_lace_ends_no_lacing() {
    let part = r#"{ "name": "fin", "kind": "flat", "surface": "empennage", "outline": { "rect": [445, 900] }, "tube": 22,
        "members": [ { "class": "rib", "from": [0, 100], "to": [20, 100] },
            { "class": "rib", "from": [0, 450], "to": [445, 450] } ] }"#;
    let laced: Vec<String> = dressed(DOPED, part).dressed.ribs.into_iter().map(|rib| rib.rib).collect();
    assert_eq!(laced, ["rib 2"]);
}
