//! Whatever its outline, a flat part's panel covers the face with its laps, mirrors, and comes together again from strips.

#[path = "support/strips.rs"]
mod strips;

use std::f64::consts::PI;

use clothwright::covering::{Panel, cover};
use clothwright::job;
use geo::{Area, BooleanOps, Contains};
use geo_types::{Point, coord};
use proptest::prelude::*;
use serde_json::{Value, json};
use strips::restore_the_whole;

/// Corners of a convex outline on an ellipse.
fn convex(largest: f64) -> impl Strategy<Value = Vec<[f64; 2]>> {
    let axes = (0.2 * largest..largest / 2.0, 0.2 * largest..largest / 2.0);
    (axes, proptest::collection::btree_set(0..720u32, 3..14)).prop_filter_map("too thin", move |((a, b), angles)| {
        let at = |half_degrees: &u32| (f64::from(*half_degrees) / 2.0).to_radians();
        let points: Vec<[f64; 2]> = angles.iter().map(at).map(|t| [a * t.cos(), b * t.sin()]).collect();
        let ring: Vec<_> = points.iter().map(|[x, y]| coord! { x: *x, y: *y }).collect();
        let area = geo_types::Polygon::new(geo_types::LineString::new(ring), vec![]).unsigned_area();
        (area > 0.02 * largest * largest).then_some(points)
    })
}

fn panels(points: &[[f64; 2]], tube: f64, faces_alike: bool, more: Value) -> Vec<Panel> {
    let mut part = json!({ "name": "fin", "kind": "flat", "surface": "empennage", "tube": tube,
        "measured_to": "tube centre", "outline": { "polygon": points } });
    for (key, value) in more.as_object().unwrap() {
        part[key] = value.clone();
    }
    let job = json!({ "format": 1, "units": "mm",
        "cloth": [{ "name": "roll", "width": 1780, "faces_alike": faces_alike }],
        "rules": { "method": "doped", "vne": "120 mph", "wing_loading": "25 kg/m2" }, "airframe": [part] });
    let job = job::read_text("fin.json", &job.to_string()).unwrap_or_else(|faults| panic!("{faults}")).job;
    let mut parts = cover(&job).unwrap_or_else(|faults| panic!("{faults:?}")).parts;
    parts.remove(0).panels
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(96))]

    #[test]
    fn a_panel_covers_the_face_with_its_laps(points in convex(1500.0), tube in 10.0..40.0f64) {
        let panels = panels(&points, tube, true, json!({}));
        let [panel] = &panels[..] else { panic!("one panel") };
        // Steiner: a circle as large as what is added, round every corner of the face, lies on the panel.
        let handling = 25.4;
        let added = PI * tube / 4.0 + 25.4 / 2.0 + handling - 1e-3;
        for [x, y] in &points {
            for step in 0..24 {
                let angle = PI / 12.0 * f64::from(step);
                let there = Point::new(x + added * angle.cos(), y + added * angle.sin());
                prop_assert!(panel.cut.polygon().contains(&there), "{there:?}");
            }
        }
        // And what is more than that comes from round corners drawn with straight lines alone.
        let trimmed = added - handling + 1e-3;
        let face = panel.plan.finished.flatten().unwrap();
        let steiner = face.area() + face.perimeter() * trimmed + PI * trimmed * trimmed;
        prop_assert!(panel.trimmed.area() >= steiner - 1e-3);
        prop_assert!(panel.trimmed.area() <= steiner + 2.0 * PI * trimmed * 0.11);
    }

    #[test]
    fn mirrored_parts_have_mirrored_panels(points in convex(1200.0)) {
        let panels = panels(&points, 19.0, false, json!({ "mirrored": true }));
        let [drawn, mirrored] = &panels[..] else { panic!("two panels") };
        prop_assert_eq!((drawn.plan.quantity, mirrored.plan.quantity), (2, 2));
        let flipped: Vec<_> = drawn.cut.polygon().exterior().0.iter().rev().map(|p| coord! { x: p.x, y: -p.y }).collect();
        let flipped = geo_types::Polygon::new(geo_types::LineString::new(flipped), vec![]);
        prop_assert!(flipped.xor(mirrored.cut.polygon()).unsigned_area() < 1e-3);
    }

    #[test]
    fn strips_laid_at_their_laps_restore_the_whole(points in convex(5000.0)) {
        for panel in panels(&points, 30.0, true, json!({})) {
            prop_assert_eq!(restore_the_whole(&panel, 1780.0), Ok(()));
        }
    }
}
