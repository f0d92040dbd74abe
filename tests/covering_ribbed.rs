//! Ribbed parts: the girth gives the panel, each edge has its lap and its handling, and the roll runs as it is told.

use clothwright::covering::{CoveredPart, Covering, Panel, SeamKind, cover};
use clothwright::job::{self, GrainDirection, Job, MemberClass};
use clothwright::nest::Budget;
use clothwright::plan;
use clothwright::shape::{Section, Side};
use proptest::prelude::*;
use serde_json::{Value, json};

const IN: f64 = 25.4;
const FT: f64 = 12.0 * IN;
const YD: f64 = 3.0 * FT;

/// A job with one ribbed part; keys of the roll, the rules and the part may be given otherwise.
fn job_of(roll: Value, rules: Value, part: Value) -> Job {
    let mut job = json!({ "format": 1, "units": "mm",
        "cloth": [{ "name": "roll", "width": 1778, "faces_alike": true }],
        "rules": { "method": "cemented", "vne": "120 mph", "wing_loading": "6 lb/ft2" },
        "airframe": [{ "name": "wing", "kind": "ribbed", "planform": [{ "at": 0, "chord": 1400 }, { "at": 4000, "chord": 1400 }],
            "section": { "digits": "2412" }, "nose_sheet": [15, 8] }] });
    for (place, more) in [("/cloth/0", roll), ("/rules", rules), ("/airframe/0", part)] {
        let object = job.pointer_mut(place).unwrap();
        more.as_object().unwrap().iter().for_each(|(key, value)| object[key] = value.clone());
    }
    job::read_text("wing.json", &job.to_string()).unwrap_or_else(|faults| panic!("{faults}")).job
}

fn covering(job: &Job) -> Covering {
    cover(job).unwrap_or_else(|faults| panic!("{faults:?}"))
}

fn part_of(rules: Value, part: Value) -> CoveredPart {
    covering(&job_of(json!({}), rules, part)).parts.remove(0)
}

fn bounds_around_finished(panel: &Panel) -> [f64; 4] {
    let [cut, finished] = [panel.cut.bounds(), panel.plan.finished.flatten().unwrap().bounds()];
    [
        finished.min().x - cut.min().x,
        cut.max().x - finished.max().x,
        finished.min().y - cut.min().y,
        cut.max().y - finished.max().y,
    ]
}

fn assert_near(found: &[f64], wanted: &[f64], tolerance: f64) {
    assert_eq!(found.len(), wanted.len());
    assert!(found.iter().zip(wanted).all(|(a, b)| (a - b).abs() <= tolerance), "{found:?} against {wanted:?}");
}

/// Plates have no thickness: then everything has a closed form.
fn plate() -> Value {
    json!({ "ordinates": [[0, 0, 0], [30, 0, 0], [60, 0, 0], [100, 0, 0]] })
}

/// Approved covering manual, 2008, estimate tables (pp. 127-132): the wings of a wooden homebuilt, 26 ft span and 4.5 ft
/// chord, take 22 yd of cloth 70 in wide.
///
/// Allowances used here, all of that manual: laps of 2 in at the leading edge (1 in on each panel) and of 1 in at trailing
/// edge, tip and butt (p. 15); the bottom over the face of the butt rib (pp. 21, 23); handling of 12 in at tip and butt, 6 in
/// at the trailing edge (pp. 19, 20, 23) and 1 in at the leading edge (common practice, no source). The section, the tip bow
/// of 6 in within the span and the selvage of 1/2 in are assumed; the table says nothing of them.
///
/// Why the figures may differ: the table is an order list. It rounds up to what is bought in one go and leaves a spare for
/// a spoilt piece, about a tenth; a panel of 63 in on a roll of 69 in leaves no room for anything beside it, so that the
/// length is that of four blankets, whatever the lay.
#[test]
fn a_two_panel_wing_takes_the_published_length_of_cloth() {
    let roll = json!({ "width": "70 in", "selvage": "1/2 in", "sold_by": "1 yd" });
    let half = json!({ "mirrored": true, "section": { "digits": "4412" }, "tip_bow": "6 in", "nose_sheet": 12,
        "planform": [{ "at": 0, "chord": "4.5 ft" }, { "at": "12.5 ft", "chord": "4.5 ft" }] });
    let job = job_of(roll, json!({}), half);
    let budget = Budget { seed: 1, effort: 1, time: None };
    let worked = plan::lay(&job, "wing.json", &budget, &()).unwrap();
    assert!(worked.file.unplaced.is_empty());
    let used = worked.file.cloths[0].length_used / YD;
    // Four blankets of 13 ft with 1 ft at each end are 20 yd; laps and the faces of the butt ribs come on top.
    assert!(used > 20.0 && used < 22.0, "{used} yd");
    let plan::Purchase::Buy { length, .. } = worked.accounts[0].purchase else { panic!("a roll is bought") };
    assert!((length / YD - 22.0).abs() <= 1.0, "{} yd", length / YD);
}

#[test]
fn top_and_bottom_have_the_girth_of_their_surface_and_their_laps() {
    // Approved covering manual p. 15: 2 in at the leading edge, 1 in elsewhere; pp. 18-23 for who has the lap.
    let part = part_of(json!({}), json!({}));
    let [top, bottom] = &part.panels[..] else { panic!("two panels") };
    let section = Section::four_digit("2412").unwrap();
    for (panel, side) in [(top, Side::Top), (bottom, Side::Bottom)] {
        let finished = panel.plan.finished.flatten().unwrap().bounds();
        assert_near(&[finished.width(), finished.height()], &[4000.0, 1400.0 * section.girth(side, 0.0, 1.0)], 0.01);
    }
    // Butt, tip, trailing edge, leading edge; without a bow the tip is closed like the butt.
    let (end, edge) = ((1.0 + 12.0) * IN, (1.0 + 1.0) * IN);
    assert_near(&bounds_around_finished(top), &[end, end, 6.0 * IN, edge], 1e-6);
    // Over the whole face of the rib, 12 % deep, and round a trailing edge of 0.252 %.
    let (face, blunt) = (12.0 * IN + 0.12 * 1400.0, 1400.0 * 0.00252);
    assert_near(&bounds_around_finished(bottom), &[face, face, edge, blunt + (1.0 + 6.0) * IN], 0.1);
}

#[test]
fn a_tip_bow_lengthens_the_panel_and_both_sides_go_round_it() {
    let part = part_of(json!({}), json!({ "tip_bow": 200 }));
    for panel in &part.panels {
        assert!((panel.plan.finished.flatten().unwrap().bounds().width() - 4200.0).abs() < 0.01);
        assert!((bounds_around_finished(panel)[1] - 13.0 * IN).abs() < 1e-6);
    }
}

#[test]
fn laps_follow_the_rules() {
    // AC 43.13-1B 2-7b(1) to (4): leading edge 4 in and trailing edge 3 in above 150 mph.
    let fast = json!({ "method": "doped", "vne": "180 mph" });
    let part = part_of(fast, json!({ "section": plate() }));
    assert_near(&bounds_around_finished(&part.panels[0]), &[14.0 * IN, 14.0 * IN, 6.0 * IN, 3.0 * IN], 1e-6);
    assert!((bounds_around_finished(&part.panels[1])[3] - 9.0 * IN).abs() < 1e-6);
    // A sewn seam has its margin on each side.
    let sewn = part_of(json!({ "method": "sewn" }), json!({ "section": plate() }));
    for panel in &sewn.panels {
        let trailing = if panel.plan.name.ends_with("top") { 2 } else { 3 };
        assert!((bounds_around_finished(panel)[trailing] - 6.25 * IN).abs() < 1e-6);
        assert!((bounds_around_finished(panel)[5 - trailing] - 1.25 * IN).abs() < 1e-6);
    }
    // Every edge of an aileron is the perimeter of a control surface, AC 2-7b(3); handling of 1 in.
    let aileron = json!({ "surface": "control surface", "section": plate(), "cover": "one piece",
        "planform": [{ "at": 0, "chord": 300 }, { "at": 1500, "chord": 300 }] });
    let part = part_of(json!({ "method": "doped", "vne": "180 mph" }), aileron);
    assert_near(&bounds_around_finished(&part.panels[0]), &[3.0 * IN, 3.0 * IN, IN, 3.0 * IN], 1e-6);
}

#[test]
fn own_figures_take_the_place_of_the_rules() {
    let figures = json!([
        { "figure": "handling", "at": "wing tip", "value": "4 in", "why": "short table" },
        { "figure": "lap", "at": "wing leading edge", "value": "3 in", "why": "manual p. 9" }
    ]);
    let part = part_of(json!({ "figures": figures }), json!({ "section": plate() }));
    let [_, tip, _, nose] = bounds_around_finished(&part.panels[0]);
    assert_near(&[tip, nose], &[5.0 * IN, 2.5 * IN], 1e-6);
    let words =
        part.panels[0].plan.figures.iter().map(|figure| &figure.source).any(|source| source.contains("short table"));
    assert!(words, "{:?}", part.panels[0].plan.figures);
}

#[test]
fn one_piece_goes_round_the_nose() {
    let part = part_of(
        json!({}),
        json!({ "cover": "one piece", "planform": [{ "at": 0, "chord": 600 }, { "at": 3000, "chord": 600 }] }),
    );
    let [panel] = &part.panels[..] else { panic!("one panel") };
    let section = Section::four_digit("2412").unwrap();
    let finished = panel.plan.finished.flatten().unwrap().bounds();
    assert!((finished.height() - 600.0 * section.whole_girth()).abs() < 0.01);
    // The nose lies where the top ends.
    let nose = panel.plan.members.iter().find(|member| member.class == MemberClass::LeadingEdge).unwrap();
    assert!((nose.ends[0].y - 600.0 * section.girth(Side::Top, 0.0, 1.0)).abs() < 0.01);
}

#[test]
fn ribs_spars_and_nose_sheet_lie_under_the_panel() {
    let part = part_of(json!({}), json!({ "ribs": [0, 500, 1500, 4000], "spars": [15, 65] }));
    let count = |panel: &Panel, class| panel.plan.members.iter().filter(|member| member.class == class).count();
    for panel in &part.panels {
        assert_eq!(count(panel, MemberClass::ButtRib), 1);
        assert_eq!(count(panel, MemberClass::Rib), 3);
        assert_eq!(count(panel, MemberClass::Spar), 2);
        assert_eq!(count(panel, MemberClass::NoseSheet), 1);
    }
    let section = Section::four_digit("2412").unwrap();
    let spar = part.panels[1].plan.members.iter().filter(|member| member.class == MemberClass::Spar).nth(1).unwrap();
    // Along the bottom, from the nose.
    assert!((spar.ends[0].y - 1400.0 * section.girth(Side::Bottom, 0.0, 0.65)).abs() < 0.01, "{spar:?}");
}

#[test]
fn the_roll_runs_as_it_is_told() {
    let seams = |roll: &str| -> (Vec<usize>, GrainDirection) {
        let part = part_of(json!({}), json!({ "roll": roll }));
        let seams = part.panels.iter().map(|panel| panel.seams.len()).collect();
        (seams, part.panels[0].plan.grain.direction)
    };
    assert_eq!(seams("spanwise"), (vec![0, 0], GrainDirection::Along));
    // 4.66 m of top and 4.95 m of bottom on a roll of 1.778 m: three widths each, sewn.
    assert_eq!(seams("chordwise"), (vec![2, 2], GrainDirection::Across));
    // The better way is the one with fewer seams.
    assert_eq!(seams("better"), (vec![0, 0], GrainDirection::Along));
    let part = part_of(json!({}), json!({ "roll": "better" }));
    let compared = part.panels[0].plan.figures.iter().find(|figure| figure.what.starts_with("roll spanwise")).unwrap();
    assert!(compared.source.contains("has 4 seams"), "{compared:?}");
    // Short and deep: along the chord the wing fits the roll, along the span it does not.
    let stub = json!({ "planform": [{ "at": 0, "chord": 2600 }, { "at": 900, "chord": 2600 }], "cover": "one piece", "section": plate() });
    let panel = part_of(json!({}), stub).panels.remove(0);
    assert_eq!((panel.plan.grain.direction, panel.seams.len()), (GrainDirection::Across, 0));
}

#[test]
fn strips_as_wide_as_the_roll_can_be_laid() {
    let roll = json!({ "width": 1780, "selvage": "1/2 in" });
    let part = json!({ "roll": "chordwise", "planform": [{ "at": 0, "chord": 1420 }, { "at": 3600, "chord": 1420 },
        { "at": 5950, "chord": 1010, "leading_edge": 90 }], "section": { "digits": "4415" } });
    let job = job_of(roll, json!({}), part);
    let worked = plan::lay(&job, "wing.json", &Budget { seed: 1, effort: 1, time: None }, &()).unwrap();
    assert!(worked.file.unplaced.is_empty(), "{:?}", worked.file.unplaced);
    assert!(worked.file.cloths[0].pieces.len() > 6);
}

#[test]
fn a_wide_piece_round_the_nose_is_lapped_there_where_the_nose_is_wide_enough() {
    let one_piece = |more: Value| {
        let mut part = json!({ "cover": "one piece", "roll": "spanwise" });
        more.as_object().unwrap().iter().for_each(|(key, value)| part[key] = value.clone());
        covering(&job_of(json!({}), json!({}), part))
    };
    let lapped = one_piece(json!({}));
    let seam = &lapped.parts[0].panels[0].seams[0];
    assert_eq!((seam.kind, seam.overlap), (SeamKind::Lapped(MemberClass::LeadingEdge), 2.0 * IN));
    // Without a nose sheet nothing is known to carry the lap: then it is sewn, and at the nose that is risky.
    let sewn = one_piece(json!({ "nose_sheet": [0.3, 0.3], "section": plate() }));
    assert_eq!(sewn.parts[0].panels[0].seams[0].kind, SeamKind::Sewn);
    assert!(sewn.cautions.iter().any(|caution| caution.contains("AC 2-7a(1)")), "{:?}", sewn.cautions);
}

#[test]
fn what_is_risky_is_said() {
    let cautions = |part: Value| covering(&job_of(json!({}), json!({}), part)).cautions;
    assert!(cautions(json!({})).is_empty());
    // AC 43.13-1B 2-8 NOTE: structure as wide as the seam. Half a per cent of the chord on both sides is some 40 mm.
    let narrow = cautions(json!({ "nose_sheet": [0.5, 0.5] }));
    assert!(narrow.len() == 1 && narrow[0].contains("AC 2-8 NOTE"), "{narrow:?}");
    let bent = json!({ "planform": [{ "at": 0, "chord": 1400 }, { "at": 2000, "chord": 1400 },
        { "at": 4000, "chord": 900, "leading_edge": 150 }] });
    let bent = cautions(bent);
    assert!(bent.iter().any(|caution| caution.contains("at 2000 mm the taper changes")), "{bent:?}");
    let aileron = cautions(json!({ "surface": "control surface", "hinge": 20 }));
    assert!(aileron.iter().any(|caution| caution.contains("AC 2-5f")), "{aileron:?}");
}

#[test]
fn the_covering_has_its_moment_about_the_hinge() {
    // A plate of 400 mm with its hinge at a quarter: its middle lies 100 mm aft of it.
    for cover in ["top and bottom", "one piece"] {
        let part = json!({ "surface": "control surface", "section": plate(), "hinge": 25, "cover": cover,
            "planform": [{ "at": 0, "chord": 400 }, { "at": 1000, "chord": 400 }] });
        let job = job_of(json!({ "mass": 100 }), json!({ "coats": 150 }), part);
        let balance = covering(&job).parts[0].balance.unwrap();
        assert!((balance.arm.unwrap() - 100.0).abs() < 1e-6, "{cover}: {balance:?}");
        let finished = 2.0 * 400.0 * 1000.0;
        assert!(balance.area > finished && balance.area < 1.2 * finished);
        assert!((balance.mass().unwrap() - balance.area * 1e-6 * 250.0).abs() < 1e-9);
    }
}

#[test]
fn hands_share_their_pieces_where_the_faces_are_alike() {
    let names = |faces_alike: bool| -> Vec<(String, u32)> {
        let job = job_of(json!({ "faces_alike": faces_alike }), json!({}), json!({ "mirrored": true }));
        plan::pieces_to_cut(&job).unwrap().into_iter().map(|piece| (piece.name, piece.quantity)).collect()
    };
    assert_eq!(names(true), [("wing, top".to_owned(), 2), ("wing, bottom".to_owned(), 2)]);
    let apart = names(false);
    let wanted = ["wing, top", "wing, top of its mirror image", "wing, bottom", "wing, bottom of its mirror image"];
    assert_eq!(apart, wanted.map(|name| (name.to_owned(), 1)));
}

#[test]
fn what_fits_no_cloth_is_refused_in_words() {
    let short = |roll: &str| job_of(json!({ "length": "2 m" }), json!({}), json!({ "section": plate(), "roll": roll }));
    let job = short("spanwise");
    let faults = cover(&job).unwrap_err();
    assert_eq!(faults.len(), 1, "{faults:?}");
    assert_eq!((faults[0].at.path.as_str(), faults[0].at.line), ("airframe[0]", 1));
    assert!(faults[0].message.starts_with("panel \"wing, top\" fits no cloth"), "{}", faults[0].message);
    // Along the chord strips fit, and the better way is the one that fits.
    assert!(cover(&short("chordwise")).is_ok());
    assert_eq!(covering(&short("better")).parts[0].panels[0].plan.grain.direction, GrainDirection::Across);
}

#[test]
fn a_bent_member_is_drawn_once() {
    let part = json!({ "ribs": [0, 1000, 4000], "planform": [{ "at": 0, "chord": 1400 },
        { "at": 4000, "chord": 1000, "leading_edge": 150 }] });
    let job = job_of(json!({}), json!({}), part);
    let covering = covering(&job);
    let sheet = clothwright::draw::part_sheet(&job, &covering.parts[0]);
    let sheet = roxmltree::Document::parse(&sheet).expect("sound XML");
    // On top and bottom each.
    for (word, times) in [("butt rib", 2), ("rib", 4), ("nose sheet", 2)] {
        let texts =
            sheet.descendants().filter(|node| node.has_tag_name("text") && node.text().map(str::trim) == Some(word));
        assert_eq!(texts.count(), times, "{word}");
    }
}

#[test]
fn the_wings_of_the_dunlin_can_be_covered() {
    let text = include_str!("../examples/dunlin/wings.json");
    let job = job::read_text("wings.json", text).expect("a sound job").job;
    let names: Vec<(String, u32)> =
        plan::pieces_to_cut(&job).unwrap().into_iter().map(|piece| (piece.name, piece.quantity)).collect();
    let wanted = ["wing, top", "wing, bottom", "aileron, one piece round the nose"];
    assert_eq!(names, wanted.map(|name| (name.to_owned(), 2)));
}

/// The area of a skin in space, as a net of triangles.
fn area_in_space(section: &Section, side: Side, chords: [[f64; 3]; 2]) -> f64 {
    let steps = 400;
    let place = |step: usize| (step as f64 / steps as f64).powi(2);
    let point = |[span, length, nose]: [f64; 3], x: f64| [nose + length * x, span, length * section.ordinate(side, x)];
    let triangle = |a: [f64; 3], b: [f64; 3], c: [f64; 3]| {
        let [u, v] = [b, c].map(|p| [p[0] - a[0], p[1] - a[1], p[2] - a[2]]);
        let cross = [u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]];
        cross.iter().map(|value| value * value).sum::<f64>().sqrt() / 2.0
    };
    (0..steps)
        .map(|step| {
            let [a, b] = chords.map(|chord| point(chord, place(step)));
            let [c, d] = chords.map(|chord| point(chord, place(step + 1)));
            triangle(a, b, c) + triangle(b, d, c)
        })
        .sum()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    /// A finished panel is as large as the skin that it covers, and what is cut holds it with its laps.
    #[test]
    fn a_panel_is_as_large_as_the_skin_in_space(
        root in 500.0..1450.0f64,
        taper in 0.5..1.0f64,
        span in 1000.0..6000.0f64,
        sweep in 0.0..0.06f64,
        thickness in 8u32..=18,
    ) {
        let (tip, nose) = (root * taper, span * sweep);
        let digits = format!("24{thickness:02}");
        let part = json!({ "section": { "digits": digits }, "roll": "spanwise",
            "planform": [{ "at": 0, "chord": root }, { "at": span, "chord": tip, "leading_edge": nose }] });
        let wide = json!({ "width": 3000 });
        let part = covering(&job_of(wide, json!({}), part)).parts.remove(0);
        let section = Section::four_digit(&digits).unwrap();
        for (panel, side) in part.panels.iter().zip([Side::Top, Side::Bottom]) {
            let in_space = area_in_space(&section, side, [[0.0, root, 0.0], [span, tip, nose]]);
            let finished = panel.plan.finished.flatten().unwrap();
            prop_assert!((finished.area() / in_space - 1.0).abs() < 1e-3, "{} against {in_space}", finished.area());
            let added = panel.trimmed.area() - finished.area();
            // An inch at the butt's top, half of two inches along the nose: more than that is added, on both panels.
            prop_assert!(added > 0.9 * IN * span, "{added}");
            prop_assert!(panel.cut.area() > panel.trimmed.area());
            prop_assert_eq!(panel.strips.len(), 1);
        }
    }

    /// The panel of the other hand is the mirror image.
    #[test]
    fn mirrored_wings_have_mirrored_panels(taper in 0.5..1.0f64, sweep in 0.0..200.0f64) {
        let part = json!({ "mirrored": true, "planform": [{ "at": 0, "chord": 1300 },
            { "at": 3000, "chord": 1300.0 * taper, "leading_edge": sweep }] });
        let part = covering(&job_of(json!({ "faces_alike": false }), json!({}), part)).parts.remove(0);
        for pair in part.panels.chunks(2) {
            let drawn: Vec<[f64; 2]> = pair[0].cut.polygon().exterior().0.iter().map(|p| [p.x, -p.y]).collect();
            let mirrored: Vec<[f64; 2]> = pair[1].cut.polygon().exterior().0.iter().map(|p| [p.x, p.y]).collect();
            prop_assert_eq!(drawn.len(), mirrored.len());
            for [x, y] in &drawn {
                prop_assert!(mirrored.iter().any(|[u, v]| (u - x).abs() < 1e-9 && (v - y).abs() < 1e-9));
            }
        }
    }
}
