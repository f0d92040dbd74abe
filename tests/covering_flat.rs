//! Flat parts: what is added round the tube, how sides and hands share outlines, and how a wide panel is divided.

#[path = "support/strips.rs"]
mod strips;

use std::f64::consts::PI;

use clothwright::covering::{CoveredPart, Covering, Panel, SeamKind, cover};
use clothwright::job::{self, GrainDirection, Job, MemberClass};
use clothwright::plan::pieces_to_cut;
use strips::restore_the_whole;

const IN: f64 = 25.4;

/// A tail part of these keys on cloth of these; handling is none, so that sums stay simple.
fn job_of(cloth: &str, rules: &str, part: &str) -> Job {
    let text = format!(
        r#"{{ "format": 1, "units": "mm", "cloth": [{{ "name": "roll", {cloth} }}],
            "rules": {{ "vne": "120 mph", "wing_loading": "25 kg/m2", {rules},
                "figures": [{{ "figure": "handling", "at": "empennage", "value": 0, "why": "sums of a test" }}] }},
            "airframe": [{{ "name": "rudder", "kind": "flat", "surface": "empennage", {part} }}] }}"#
    );
    job::read_text("tail.json", &text).unwrap_or_else(|faults| panic!("{faults}")).job
}

const ROLL: &str = r#""width": 1780, "mass": 92, "faces_alike": true"#;
const ONE_FACED: &str = r#""width": 1780"#;
const DOPED: &str = r#""method": "doped""#;

fn covering(job: &Job) -> Covering {
    cover(job).unwrap_or_else(|faults| panic!("{faults:?}"))
}

fn only_part(job: &Job) -> CoveredPart {
    covering(job).parts.remove(0)
}

fn names_and_copies(job: &Job) -> Vec<(String, u32)> {
    pieces_to_cut(job).unwrap().into_iter().map(|piece| (piece.name, piece.quantity)).collect()
}

#[test]
fn cloth_follows_a_quarter_of_the_tube_and_half_the_lap() {
    // Geometry: a quarter of the circumference of a tube of 20 mm is π · 20 / 4. AC 2-7b(5): lap 1 in.
    let centre = r#""outline": { "rect": [600, 900] }, "tube": 20, "measured_to": "tube centre""#;
    let part = only_part(&job_of(ROLL, DOPED, centre));
    let panel = &part.panels[0];
    assert!((panel.wrapped.bounds().width() - (600.0 + 2.0 * PI * 20.0 / 4.0)).abs() < 1e-9);
    let past = PI * 20.0 / 4.0 + IN / 2.0;
    assert!((panel.cut.bounds().width() - (600.0 + 2.0 * past)).abs() < 1e-9);

    // An outline over the outside of the tube already has half its diameter.
    let outside = r#""outline": { "rect": [620, 920] }, "tube": 20"#;
    let from_outside = only_part(&job_of(ROLL, DOPED, outside));
    assert!((from_outside.panels[0].cut.bounds().width() - panel.cut.bounds().width()).abs() < 1e-9);
    assert!((from_outside.panels[0].cut.bounds().height() - panel.cut.bounds().height()).abs() < 1e-9);
}

#[test]
fn each_edge_has_its_own_tube() {
    let part = r#""outline": { "rect": [600, 900] }, "tube": [10, 20, 30, 40], "measured_to": "tube centre""#;
    let panel = only_part(&job_of(ROLL, DOPED, part)).panels.remove(0);
    let past = |tube: f64| PI * tube / 4.0 + IN / 2.0;
    let bounds = panel.cut.bounds();
    // The edges of a rectangle: bottom, right, top, left.
    let wanted = [-past(40.0), -past(10.0), 600.0 + past(20.0), 900.0 + past(30.0)];
    let found = [bounds.min().x, bounds.min().y, bounds.max().x, bounds.max().y];
    for (wanted, found) in wanted.iter().zip(found) {
        assert!((wanted - found).abs() < 1e-9, "{wanted} {found}");
    }
}

#[test]
fn the_lap_may_be_the_first_sides_alone_and_a_single_sides_own() {
    let width = |part: &str, rules: &str| -> Vec<f64> {
        let part = format!(r#""outline": {{ "rect": [600, 900] }}, "tube": 20, "measured_to": "tube centre"{part}"#);
        only_part(&job_of(ROLL, rules, &part))
            .panels
            .iter()
            .map(|panel| panel.cut.bounds().width() - 600.0 - PI * 10.0)
            .collect()
    };
    let near = |found: Vec<f64>, wanted: &[f64]| {
        assert_eq!(found.len(), wanted.len());
        assert!(found.iter().zip(wanted).all(|(a, b)| (a - b).abs() < 1e-9), "{found:?} {wanted:?}");
    };
    near(width(r#", "wrap": "first side""#, DOPED), &[2.0 * IN, 0.0]);
    near(width(r#", "sides": "one""#, DOPED), &[2.0 * IN]);
    // Manual p. 81, single-stitch closing seam: 1/4 in on each side of it.
    near(width("", r#""method": "sewn""#), &[0.5 * IN]);
}

/// Perimeter of an ellipse by the arithmetic-geometric mean (NIST Digital Library of Mathematical Functions, 19.8.6 with
/// 19.30.2): 2π/M(a, b) · (a² − Σ 2ⁿ⁻¹ cₙ²), c₀² = a² − b².
fn ellipse_perimeter(a: f64, b: f64) -> f64 {
    let (mut x, mut y) = (a, b);
    let (mut sum, mut power) = ((a * a - b * b) / 2.0, 1.0);
    for _ in 0..40 {
        let c = (x - y) / 2.0;
        (x, y) = ((x + y) / 2.0, (x * y).sqrt());
        sum += power * c * c;
        power *= 2.0;
    }
    2.0 * PI / x * (a * a - sum)
}

#[test]
fn the_panel_of_an_elliptic_rudder_has_the_area_of_its_parallel_curve() {
    // A published value: the ellipse of half axes 1 and 1/2 has the perimeter 4.84422411 (4 E(m), m = 3/4; Abramowitz
    // and Stegun, table 17.1, E = 1.21105603).
    assert!((ellipse_perimeter(1.0, 0.5) - 4.844_224_11).abs() < 1e-7);
    // Steiner's formula: grown by d, a convex outline of area A and perimeter P has the area A + P d + π d².
    let (a, b) = (600.0, 350.0);
    let part = r#""outline": { "path": "M 600 0 A 600 350 0 0 1 -600 0 A 600 350 0 0 1 600 0 Z" }, "tube": 19, "measured_to": "tube centre""#;
    let panel = only_part(&job_of(ROLL, DOPED, part)).panels.remove(0);
    let grown = PI * 19.0 / 4.0 + IN / 2.0;
    let exact = PI * a * b + ellipse_perimeter(a, b) * grown + PI * grown * grown;
    let area = panel.cut.area();
    // The polygon holds the curve, and lies no more than 0.1 mm outside it twice: once flattened, once grown.
    let most = 0.2 * ellipse_perimeter(a + grown, b + grown);
    assert!(area >= exact && area - exact < most, "{area} {exact}");
}

#[test]
fn hands_are_told_apart_where_the_faces_of_the_cloth_are_not_alike() {
    let outline = r#""outline": { "polygon": [[0, 0], [600, 0], [300, 900], [0, 900]] }, "tube": 19"#;
    let twice = format!(r#"{outline}, "mirrored": true"#);
    let first = format!(r#"{twice}, "wrap": "first side""#);
    let names = |cloth: &str, part: &str| names_and_copies(&job_of(cloth, DOPED, part));
    let row = |name: &str, copies: u32| (format!("rudder, {name}"), copies);
    assert_eq!(names(ROLL, outline), [row("every side", 2)]);
    assert_eq!(names(ROLL, &twice), [row("every side", 4)]);
    assert_eq!(names(ROLL, &first), [row("first side", 2), row("second side", 2)]);
    assert_eq!(names(ONE_FACED, outline), [row("first side", 1), row("second side", 1)]);
    assert_eq!(names(ONE_FACED, &twice), [row("as drawn", 2), row("mirrored", 2)]);
    assert_eq!(
        names(ONE_FACED, &first),
        [
            row("first side", 1),
            row("second side", 1),
            row("first side of its mirror image", 1),
            row("second side of its mirror image", 1)
        ]
    );
}

#[test]
fn the_second_side_is_the_mirror_image_of_the_first() {
    let outline = r#""outline": { "polygon": [[0, 0], [600, 0], [300, 900], [0, 900]] }, "tube": [19, 22, 25, 28]"#;
    let part = only_part(&job_of(ONE_FACED, DOPED, outline));
    let [first, second] = &part.panels[..] else { panic!("two panels") };
    let mirror = |panel: &Panel| -> Vec<[f64; 2]> {
        let mut points: Vec<_> = panel.cut.polygon().exterior().0.iter().map(|p| [p.x, 0.0 - p.y]).collect();
        points.reverse();
        points
    };
    let points: Vec<_> = second.cut.polygon().exterior().0.iter().map(|p| [p.x, p.y]).collect();
    assert_eq!(points, mirror(first));
    assert!(!first.mirrored && second.mirrored);
}

#[test]
fn what_weighs_behind_the_hinge_is_told() {
    // 600 × 900 mm of 92 g/m² cloth and 170 g/m² of coats on both sides; the middle lies 300 mm off the hinge.
    let part = r#""outline": { "rect": [600, 900] }, "tube": 19, "hinge": [[0, 0], [0, 900]]"#;
    let job = job_of(ROLL, r#""method": "doped", "coats": 170"#, part);
    let covering = covering(&job);
    let balance = covering.parts[0].balance.unwrap();
    let area = 2.0 * covering.parts[0].panels[0].trimmed.area() * 1e-6;
    assert!((balance.cloth.unwrap() - 92.0 * area).abs() < 1e-9);
    assert!((balance.coats.unwrap() - 170.0 * area).abs() < 1e-9);
    assert!((balance.arm.unwrap() - 300.0).abs() < 1e-6);
    assert!((balance.moment().unwrap() - 300.0 * 262.0 * area).abs() < 1e-3);
    // AC 2-5f.
    assert!(covering.cautions.iter().any(|caution| caution.contains("re-check the balance")));
}

/// A part of 2.6 by 2.2 m, which no roll of 1.78 m takes in one piece.
const WIDE: &str = r#""outline": { "rect": [2600, 2200] }, "tube": 30"#;

#[test]
fn a_panel_wider_than_the_roll_is_sewn_where_no_structure_carries_a_lap() {
    let part = only_part(&job_of(ROLL, r#""method": "cemented""#, WIDE));
    let panel = &part.panels[0];
    let [seam] = &panel.seams[..] else { panic!("one seam: {:?}", panel.seams) };
    // The shorter way through: 2200 mm and what is grown, not 2600.
    assert_eq!(seam.kind, SeamKind::Sewn);
    assert!((seam.length() - panel.cut.bounds().height()).abs() < 1e-6);
    // Manual p. 81: 1/2 in of overlap, 2 in of tape.
    assert_eq!((seam.overlap / IN, seam.tape / IN), (0.5, 2.0));
    assert_eq!(panel.strips.len(), 2);
    restores_the_whole(panel);
    // Both strips lie the same way on the roll, which runs along the seam.
    assert_eq!(panel.plan.grain.direction, GrainDirection::Across);
}

#[test]
fn a_spar_as_wide_as_the_lap_carries_a_doped_seam() {
    let spar = |width: &str| {
        let members = format!(
            r#""members": [{{ "class": "rib", "from": [0, 1100], "to": [2600, 1100], "width": 30 }},
                {{ "class": "spar", "from": [1200, 0], "to": [1250, 2200]{width} }}]"#
        );
        only_part(&job_of(ROLL, DOPED, &format!("{WIDE}, {members}"))).panels.remove(0)
    };
    let lapped = spar(r#", "width": 26"#);
    assert_eq!(lapped.seams[0].kind, SeamKind::Lapped(MemberClass::Spar));
    assert_eq!(lapped.seams[0].overlap, IN);
    restores_the_whole(&lapped);
    // AC 2-8 NOTE: structure as wide as the whole seam; a rib never counts, manual pp. 15-16.
    assert_eq!(spar(r#", "width": 25"#).seams[0].kind, SeamKind::Sewn);
    assert_eq!(spar("").seams[0].kind, SeamKind::Sewn);
}

#[test]
fn the_grain_of_a_part_is_kept_by_its_seams() {
    let grain = |word: &str| {
        let part = format!(r#"{WIDE}, "grain": "{word}""#);
        let panel = only_part(&job_of(ROLL, DOPED, &part)).panels.remove(0);
        (panel.plan.grain.direction, panel.seams[0].length().round())
    };
    // Along the roll the panel is divided along its x axis, 2600 mm and what is grown, else along y.
    let grown = 2.0 * (std::f64::consts::PI * 30.0 / 4.0 - 15.0 + IN / 2.0);
    assert_eq!(grain("along"), (GrainDirection::Along, (2600.0 + grown).round()));
    assert_eq!(grain("across"), (GrainDirection::Across, (2200.0 + grown).round()));
}

#[test]
fn a_very_wide_panel_takes_several_seams() {
    let part = r#""outline": { "rect": [5200, 5200] }, "tube": 30"#;
    let panel = only_part(&job_of(ROLL, DOPED, part)).panels.remove(0);
    // With what is grown 5242.5 mm: three strips of 1780 mm, less the margins of two seams, are enough.
    assert_eq!((panel.seams.len(), panel.strips.len()), (2, 3));
    restores_the_whole(&panel);
}

#[test]
fn a_panel_that_no_seam_helps_is_refused_with_its_measures() {
    let short = r#""width": 1780, "length": 1500"#;
    let faults = cover(&job_of(short, DOPED, WIDE)).unwrap_err();
    let words = faults[0].to_string();
    assert!(
        words.starts_with("airframe[0] (line 4, column 26): panel \"rudder, first side\" fits no cloth"),
        "{words}"
    );
    assert!(words.contains("across the cloth, where 1780 mm can be used"), "{words}");
}

fn restores_the_whole(panel: &Panel) {
    assert_eq!(restore_the_whole(panel, 1780.0), Ok(()));
}

#[test]
fn what_keeps_a_part_from_being_covered_is_told_with_its_place() {
    let part = r#""outline": { "rect": [600, 900] }, "tube": 19, "wrap": "first side""#;
    let faults = cover(&job_of(ROLL, r#""method": "sewn""#, part)).unwrap_err();
    assert!(faults[0].to_string().contains("a sewn seam has no lap for the first side"), "{faults:?}");

    let mut taken = job_of(ROLL, DOPED, r#""outline": { "rect": [600, 900] }, "tube": 19"#);
    let mut piece = pieces_to_cut(&taken).unwrap().remove(0);
    piece.quantity = 1;
    taken.pieces.push(piece);
    let faults = cover(&taken).unwrap_err();
    assert!(faults[0].message.contains("two pieces are called \"rudder, every side\""), "{faults:?}");
}

#[test]
fn a_lap_wider_than_the_tube_carries_is_a_caution() {
    // AC 2-8 NOTE; half the circumference of a 16 mm tube is 25.13 mm, less than 1 in.
    let with = |tube: u32| {
        let part = format!(r#""outline": {{ "rect": [600, 900] }}, "tube": {tube}"#);
        covering(&job_of(ROLL, DOPED, &part)).cautions
    };
    assert!(with(16).iter().any(|caution| caution.contains("AC 2-8 NOTE")));
    assert!(!with(17).iter().any(|caution| caution.contains("AC 2-8 NOTE")));
}

#[test]
fn figures_of_a_panel_are_told_apart_with_their_sources() {
    let job = job_of(ROLL, DOPED, r#""outline": { "rect": [600, 900] }, "tube": 19, "source": "Dunlin drawing T-02""#);
    let source = pieces_to_cut(&job).unwrap()[0].source.clone().unwrap();
    for words in [
        "Dunlin drawing T-02",
        "finished 600 mm × 900 mm",
        "wrap to the middle of the 19 mm tube 5.42 mm (πD/4",
        "share of the 25.4 mm lap, past the middle 12.7 mm (AC 2-7b(5))",
        "handling 0 mm",
        "sums of a test",
        "not enlarged for shrinkage",
    ] {
        assert!(source.contains(words), "{source} lacks {words}");
    }
}
