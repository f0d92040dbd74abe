//! A piece that fits no cloth at any turn of its grain is refused, a piece that fits is not; held against geometry
//! that is known in closed form.

use clothwright::job;
use proptest::prelude::*;
use serde_json::{Value, json};

/// What reading says about one piece on one cloth: how many faults, all of them about the fit.
fn refused(outline: Value, grain: &str, width: f64, length: Option<f64>) -> bool {
    let mut cloth = json!({ "name": "cloth", "width": width });
    if let Some(length) = length {
        cloth["length"] = json!(length);
    }
    let piece = json!({ "name": "piece", "outline": outline, "grain": grain });
    let text = json!({ "format": 1, "units": "mm", "cloth": [cloth], "pieces": [piece] }).to_string();
    match job::read_text("x.json", &text) {
        Ok(_) => false,
        Err(faults) => {
            assert!(faults.faults.iter().all(|fault| fault.message.contains("fits no cloth")), "{faults}");
            true
        }
    }
}

fn regular(corners: u32, radius: f64) -> Value {
    let corner = |n: u32| {
        let angle = std::f64::consts::TAU * f64::from(n) / f64::from(corners);
        json!([radius * angle.cos(), radius * angle.sin()])
    };
    json!({ "polygon": (0..corners).map(corner).collect::<Vec<_>>() })
}

/// The least width of a regular polygon: an even one is as wide as its two facing sides are apart, an odd one as a side
/// and the corner over it (elementary geometry).
#[test]
fn a_free_piece_needs_its_least_width_and_no_more() {
    for corners in 3..12 {
        let radius = 500.0;
        let to_side = radius * (std::f64::consts::PI / f64::from(corners)).cos();
        let least = if corners % 2 == 0 { 2.0 * to_side } else { radius + to_side };
        assert!(!refused(regular(corners, radius), "free", least + 0.001, None), "{corners} corners");
        assert!(refused(regular(corners, radius), "free", least - 0.02, None), "{corners} corners");
    }
}

#[test]
fn grain_decides_which_turns_are_tried() {
    let square = || json!({ "rect": [1000, 1000] });
    assert!(!refused(square(), "either", 1000.0, None));
    // On the bias a square is as wide as its diagonal.
    assert!(refused(square(), "bias", 1000.0 * 2.0_f64.sqrt() - 0.02, None));
    assert!(!refused(square(), "bias", 1000.0 * 2.0_f64.sqrt() + 0.001, None));
    let panel = || json!({ "rect": [3000, 1000] });
    assert!(!refused(panel(), "along", 1000.0, None));
    assert!(refused(panel(), "across", 2999.0, None));
    assert!(!refused(panel(), "across", 3000.0, Some(1000.0)));
    assert!(!refused(panel(), "either", 1000.0, Some(3000.0)));
    assert!(!refused(panel(), "either", 3000.0, Some(1000.0)));
    assert!(refused(panel(), "either", 2000.0, Some(2000.0)));
}

/// A rectangle 2000 x 1000 turned by t is 2000 sin t + 1000 cos t wide; half a turn back and forth changes nothing.
#[test]
fn tolerance_widens_what_fits() {
    let text = |tolerance: f64, width: f64| {
        let piece = json!({ "name": "p", "outline": { "rect": [2000, 1000] },
            "grain": { "direction": "bias", "tolerance": tolerance } });
        json!({ "format": 1, "units": "mm", "cloth": [{ "name": "c", "width": width }], "pieces": [piece] }).to_string()
    };
    let wide_at = |degrees: f64| 2000.0 * degrees.to_radians().sin() + 1000.0 * degrees.to_radians().cos();
    for tolerance in [0.0, 10.0, 30.0, 45.0] {
        // The narrowest turn is the one nearest to the grain line along the roll.
        let least = wide_at(45.0 - tolerance);
        assert!(job::read_text("x", &text(tolerance, least + 0.001)).is_ok(), "{tolerance}");
        assert!(job::read_text("x", &text(tolerance, least - 0.02)).is_err(), "{tolerance}");
    }
}

#[test]
fn it_says_by_how_much() {
    let text = json!({ "format": 1, "units": "in", "cloth": [{ "name": "roll", "width": 70, "selvage": 0.5 }],
        "pieces": [{ "name": "panel", "outline": { "rect": [90, 69] }, "allowance": 1 }] });
    let faults = job::read_text("x.json", &text.to_string()).unwrap_err();
    let message = &faults.faults[0].message;
    assert!(message.contains("needs 71 in across the cloth, where 69 in can be used: 2 in too wide"), "{message}");
}

#[test]
fn the_nearest_of_several_cloths_is_named() {
    let text = json!({ "format": 1, "units": "mm",
        "cloth": [{ "name": "narrow", "width": 900 }, { "name": "wide", "width": 1700 }],
        "pieces": [{ "name": "panel", "outline": { "rect": [5000, 1750] } }] });
    let faults = job::read_text("x.json", &text.to_string()).unwrap_err();
    assert!(faults.faults[0].message.contains("on \"wide\""), "{faults}");
    assert!(faults.faults[0].message.contains("50 mm too wide"), "{faults}");
}

#[test]
fn an_offcut_is_no_larger_than_its_outline() {
    let text = |outline: Value| {
        json!({ "format": 1, "units": "mm",
            "cloth": [{ "name": "offcut", "width": 1000, "length": 1000, "outline": outline }],
            "pieces": [{ "name": "panel", "outline": { "rect": [800, 800] } }] })
        .to_string()
    };
    assert!(job::read_text("x.json", &text(json!({ "rect": [1000, 1000] }))).is_ok());
    let faults = job::read_text("x.json", &text(json!({ "rect": [1000, 700], "at": [0, 100] }))).unwrap_err();
    assert!(faults.faults[0].message.contains("100 mm too wide"), "{faults}");
}

/// Whether a rectangle p x q (p >= q) fits into one of a x b (a >= b), in general position: W. B. Carver, Problem
/// E 1225, American Mathematical Monthly 64 (1957); J. E. Wetzel, "Rectangles in Rectangles", Mathematics Magazine 73
/// (2000). From memory.
fn fits_by_carver([p, q]: [f64; 2], [a, b]: [f64; 2]) -> bool {
    let slanted = || ((a + b) / (p + q)).powi(2) + ((a - b) / (p - q)).powi(2) >= 2.0;
    (p <= a && q <= b) || (p > a && q <= b && slanted())
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(2000))]

    #[test]
    fn rectangles_in_rectangles_agree_with_carver(
        p in 800.0..1500.0_f64, q in 10.0..700.0_f64, a in 800.0..1300.0_f64, b in 300.0..1300.0_f64,
    ) {
        let room = [a.max(b), a.min(b)];
        let smaller = [p * 0.9999, q * 0.9999];
        let larger = [p * 1.0001, q * 1.0001];
        prop_assume!(fits_by_carver(smaller, room) == fits_by_carver(larger, room)); // not on the very edge
        let got = refused(json!({ "rect": [p, q] }), "free", a, Some(b));
        prop_assert_eq!(got, !fits_by_carver([p, q], room));
    }

}

proptest! {
    // Each case sweeps 18 000 turns.
    #![proptest_config(ProptestConfig::with_cases(300))]

    /// No turn of a fine sweep finds a place that was called impossible, and what fits at some turn is not refused.
    #[test]
    fn no_sweep_of_turns_finds_a_better_one(
        corners in prop::collection::vec((0.0..360.0_f64, 200.0..900.0_f64), 3..12), across in 300.0..1700.0_f64,
        along in 300.0..1700.0_f64,
    ) {
        let mut corners = corners;
        corners.sort_by(|one, other| one.0.total_cmp(&other.0));
        corners.dedup_by(|one, other| one.0 - other.0 < 5.0);
        let points: Vec<[f64; 2]> =
            corners.iter().map(|(at, far)| [far * at.to_radians().cos(), far * at.to_radians().sin()]).collect();
        let widest_gap = corners.iter().zip(corners.iter().cycle().skip(1)).map(|(one, other)| (other.0 - one.0).rem_euclid(360.0));
        // Stars seen from inside are simple.
        prop_assume!(points.len() >= 3 && widest_gap.fold(0.0, f64::max) < 175.0);
        let least = (0..18_000).map(|step| {
            let (sin, cos) = (f64::from(step) * 0.01).to_radians().sin_cos();
            let extent = |f: &dyn Fn(&[f64; 2]) -> f64| {
                let all: Vec<f64> = points.iter().map(f).collect();
                all.iter().copied().fold(f64::MIN, f64::max) - all.iter().copied().fold(f64::MAX, f64::min)
            };
            let wide = extent(&|[x, y]| sin * x + cos * y);
            let long = extent(&|[x, y]| cos * x - sin * y);
            (wide - across).max(long - along)
        }).fold(f64::MAX, f64::min);
        let got = refused(json!({ "polygon": points }), "free", across, Some(along));
        // A hundredth of a degree moves the rim of a piece of 1.8 m by 0.3 mm.
        if least <= 0.0 {
            prop_assert!(!got, "fits by {} and was refused", -least);
        } else if least > 0.35 {
            prop_assert!(got, "misses by {} and was taken", least);
        }
    }
}

/// Sides that lean, and corners that lie in line, but for rounding: an outline is no narrower for them.
#[test]
fn corners_in_line_by_rounding_change_nothing() {
    let one: &[[f64; 2]] = &[
        [-94.58185307179583, 261.9631890666532],
        [1131.4422506334406, 18.260831211661426],
        [1803.0251563537317, -115.23274132456875],
        [1803.0251563537317, 2264.6909424740284],
        [1131.4422506334408, 2131.197369937798],
        [-94.58185307179573, 1887.4950120828069],
    ];
    let other: &[[f64; 2]] = &[
        [1082.9065893800598, 80.79339586356643],
        [1088.8192620096006, 80.33720556913399],
        [2163.14931400755, -2.552373043749199],
        [3365.269770724119, -95.30157792157505],
        [3365.2697707241196, 2109.3773171972275],
        [2163.14931400755, 2016.6281123194008],
        [1088.8192620096006, 1933.7385337065175],
        [1082.9065893800598, 1933.282343412085],
    ];
    for (corners, width) in [(one, 1897.6), (other, 2204.6)] {
        for first in 0..corners.len() {
            let mut corners = corners.to_vec();
            corners.rotate_left(first);
            let piece = || json!({ "polygon": corners });
            assert!(refused(piece(), "either", width - 0.5, None), "from corner {first}");
            assert!(!refused(piece(), "either", width + 0.5, None), "from corner {first}");
        }
    }
}
