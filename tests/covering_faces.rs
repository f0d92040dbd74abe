//! Faces laid flat with their bays and drains: what tapes, patches and drains are placed on.

use clothwright::covering::{Bay, CoveredPart, Covering, Face, bays, cover, height};
use clothwright::job::{self, Parked};
use clothwright::shape::cells;
use geo_types::{Coord, coord};
use proptest::prelude::*;

fn covered(parked: &str, part: &str) -> Covering {
    let text = format!(
        r#"{{ "format": 1, "units": "mm", "cloth": [{{ "name": "roll", "width": 1780, "faces_alike": true }}],
            "rules": {{ "method": "doped", "vne": "120 mph", "wing_loading": "6 lb/ft2" }},
            {parked} "airframe": [ {part} ] }}"#
    );
    let job = job::read_text("faces.json", &text).unwrap_or_else(|error| panic!("{error}")).job;
    cover(&job).unwrap_or_else(|faults| panic!("{faults:?}"))
}

fn part(parked: &str, part: &str) -> CoveredPart {
    covered(parked, part).parts.remove(0)
}

fn face<'p>(part: &'p CoveredPart, name: &str) -> &'p Face {
    part.faces.iter().find(|face| face.name == name).unwrap_or_else(|| panic!("no face {name}"))
}

const LEVEL: &str = r#""parked": { "nose_up": 0 },"#;
const TAIL_DOWN: &str = r#""parked": { "nose_up": 10 },"#;

fn tail(axes: &str) -> String {
    format!(
        r#"{{ "name": "tail", "kind": "flat", "surface": "empennage", "outline": {{ "rect": [600, 1200] }}, "tube": 19, "axes": {axes}, "drains": {{}},
            "members": [ {{ "class": "rib", "from": [0, 400], "to": [600, 400] }}, {{ "class": "rib", "from": [0, 800], "to": [590, 800] }} ] }}"#
    )
}

#[test]
fn ribs_divide_a_frame_into_one_bay_more_than_there_are_ribs() {
    let part = part("", &tail(r#"["aft", "right"]"#));
    for face in &part.faces {
        // The second rib ends at the side of the tube.
        assert_eq!(face.bays.len(), 3);
        let area: f64 = face.bays.iter().map(Bay::area).sum();
        assert!((area - 600.0 * 1200.0).abs() < 1.0);
        assert!(face.drains.is_empty(), "nobody said how the aircraft stands");
    }
}

/// AC 43.13-1B 2-14b: drains at the lowest point of each bay, on the underside, as the aircraft is parked.
#[test]
fn a_tailplane_drains_at_its_trailing_edge_below() {
    let part = part(TAIL_DOWN, &tail(r#"["aft", "right"]"#));
    assert!(face(&part, "first side").drains.is_empty(), "the top needs none");
    let below = face(&part, "second side");
    assert_eq!(below.drains.len(), 3);
    for drain in &below.drains {
        assert!(drain.at.x > 600.0 - 30.0, "the tail is down, the rear edge is the lowest: {:?}", drain.at);
    }
    // With the nose down it would be the front edge.
    let part = self::part(r#""parked": { "nose_up": -10 },"#, &tail(r#"["aft", "right"]"#));
    assert!(face(&part, "second side").drains.iter().all(|drain| drain.at.x < 30.0));
}

#[test]
fn a_rudder_drains_at_the_foot_of_each_bay_on_one_side() {
    let part = part(TAIL_DOWN, &tail(r#"["aft", "up"]"#));
    let side = face(&part, "first side");
    assert!(face(&part, "second side").drains.is_empty());
    assert_eq!(side.drains.len(), 3);
    for (drain, foot) in side.drains.iter().zip([0.0, 400.0, 800.0]) {
        assert!((drain.at.y - foot) < 30.0 && drain.at.x > 570.0, "{:?}", drain.at);
    }
}

#[test]
fn a_wing_that_may_rest_on_either_tip_drains_at_both_ends_of_a_bay() {
    let wing = r#"{ "name": "wing", "kind": "ribbed", "planform": [ { "at": 0, "chord": 1000 }, { "at": 900, "chord": 1000 } ],
        "section": { "digits": "0012" }, "drains": {}, "ribs": [0, 300, 600, 900], "incidence": 2 }"#;
    let level = part(LEVEL, wing);
    assert!(face(&level, "top").drains.is_empty());
    let bottom = face(&level, "bottom");
    assert_eq!(bottom.bays.len(), 3);
    // The lower surface of a symmetrical section is lowest where it is thickest, 30 % aft (NACA Report 460); with the
    // trailing edge 2° down that is further aft.
    let hung = part(r#""parked": { "nose_up": 0, "wing_down": 4 },"#, wing);
    let bottom_of_hung = face(&hung, "bottom");
    for bay in 0..3 {
        let here: Vec<Coord<f64>> =
            bottom_of_hung.drains.iter().filter(|drain| drain.bay == bay).map(|drain| drain.at).collect();
        assert_eq!(here.len(), 2, "one at each rib");
        assert!((here[0].x - here[1].x).abs() > 240.0);
    }
}

/// A lowest point of a curved underside between two spars, and none on the top.
#[test]
fn a_nose_bay_and_a_tail_bay_of_a_cambered_wing_have_their_own_low_points() {
    let wing = r#"{ "name": "wing", "kind": "ribbed", "planform": [ { "at": 0, "chord": 1000 }, { "at": 400, "chord": 1000 } ],
        "section": { "digits": "0015" }, "drains": {}, "ribs": [0, 400], "spars": [30] }"#;
    let part = part(LEVEL, wing);
    let bottom = face(&part, "bottom");
    assert_eq!(bottom.bays.len(), 2);
    assert_eq!(bottom.drains.len(), 2);
    let spar = bottom.members.iter().find(|member| member.name == "spar").unwrap().run[0].y;
    for drain in &bottom.drains {
        assert!((drain.at.y - spar).abs() < 40.0, "both at the spar, where it is thickest");
    }
}

#[test]
fn the_bottom_of_a_box_drains_and_its_sides_do_not() {
    let truss = r#"{ "name": "box", "kind": "truss", "drains": {},
        "nodes": { "A": [0, -300, 0], "B": [2000, -300, 0], "C": [2000, 300, 0], "D": [0, 300, 0], "E": [0, -300, 600], "F": [2000, -300, 600], "G": [1000, -300, 0], "H": [1000, 300, 0] },
        "tubes": [ { "from": "A", "to": "G", "diameter": 20, "class": "longeron" }, { "from": "G", "to": "B", "diameter": 20, "class": "longeron" },
            { "from": "D", "to": "H", "diameter": 20, "class": "longeron" }, { "from": "H", "to": "C", "diameter": 20, "class": "longeron" },
            { "from": "A", "to": "D", "diameter": 20, "class": "cross tube" }, { "from": "B", "to": "C", "diameter": 20, "class": "cross tube" },
            { "from": "G", "to": "H", "diameter": 20, "class": "cross tube" }, { "from": "A", "to": "E", "diameter": 20, "class": "cross tube" },
            { "from": "B", "to": "F", "diameter": 20, "class": "cross tube" }, { "from": "E", "to": "F", "diameter": 20, "class": "longeron" } ],
        "faces": [ { "name": "bottom", "ring": ["A", "G", "B", "C", "H", "D"], "order": 1 },
            { "name": "side", "ring": ["A", "G", "B", "F", "E"], "order": 2 } ] }"#;
    let part = part(TAIL_DOWN, truss);
    let bottom = face(&part, "bottom");
    assert_eq!(bottom.bays.len(), 2);
    assert_eq!(bottom.drains.len(), 2);
    assert!(face(&part, "side").drains.is_empty());
    // Each lower longeron ends both faces: one of them has its tape.
    let longerons: Vec<bool> = part
        .faces
        .iter()
        .flat_map(|face| &face.edges)
        .filter(|edge| {
            edge.name == "longeron A to B" || edge.name == "longeron A to G" || edge.name == "longeron G to B"
        })
        .map(|edge| edge.own)
        .collect();
    assert_eq!(longerons.iter().filter(|own| **own).count(), 1, "{longerons:?}");
    let measure = bottom.measure(bottom.drains[0].at).unwrap();
    assert!(measure.across >= 15.0 && measure.corner.starts_with("node"), "{measure:?}");
}

/// The whole demonstration: bays are the face, drains are nowhere above their bay.
#[test]
fn every_face_of_the_dunlin_is_its_bays_and_no_drain_sits_high() {
    let path = std::path::Path::new("examples/dunlin/airframe.json");
    let job = job::read(path).unwrap_or_else(|error| panic!("{error:?}")).job;
    let covering = cover(&job).unwrap_or_else(|faults| panic!("{faults:?}"));
    let parked: Parked = job.parked.unwrap();
    let mut drained = 0;
    for face in covering.parts.iter().flat_map(|part| &part.faces) {
        let area: f64 = face.bays.iter().map(Bay::area).sum();
        assert!((area / face.outline.area() - 1.0).abs() < 1e-4, "{} {}: {area}", face.part, face.name);
        let Some(skin) = &face.skin else { continue };
        for (bay, cell) in face.bays.iter().enumerate() {
            let here: Vec<_> = face.drains.iter().filter(|drain| drain.bay == bay).collect();
            if here.is_empty() {
                continue;
            }
            drained += 1;
            for up in parked.ups() {
                let at = |point: Coord<f64>| height(skin.in_space(point), up);
                let lowest = here.iter().map(|drain| at(drain.at)).fold(f64::INFINITY, f64::min);
                let corner = cell.ring.iter().map(|point| at(*point)).fold(f64::INFINITY, f64::min);
                // The drain keeps clear of members: on a slope of 15° that is 12 mm at a corner.
                assert!(lowest <= corner + 25.0, "{} {}, bay {bay}: {lowest} over {corner}", face.part, face.name);
            }
        }
    }
    assert!(drained > 60, "{drained}");
}

proptest! {
    /// Whatever lines cross a frame, the cells are the frame and lie apart.
    #[test]
    fn cells_are_the_whole_ring(
        lines in prop::collection::vec((-100.0_f64..1100.0, -100.0_f64..700.0, -100.0_f64..1100.0, -100.0_f64..700.0), 0..9),
        notch in any::<bool>(),
    ) {
        let mut ring = vec![coord! { x: 0.0, y: 0.0 }, coord! { x: 1000.0, y: 0.0 }, coord! { x: 1000.0, y: 600.0 }];
        if notch {
            ring.push(coord! { x: 500.0, y: 250.0 });
        }
        ring.push(coord! { x: 0.0, y: 600.0 });
        let lines: Vec<Vec<Coord<f64>>> = lines.iter().map(|(a, b, c, d)| vec![coord! { x: *a, y: *b }, coord! { x: *c, y: *d }]).collect();
        let found = cells(&ring, &lines, 20.0);
        let area = |ring: &[Coord<f64>]| Bay { ring: ring.to_vec() }.area();
        let sum: f64 = found.iter().map(|cell| area(cell)).sum();
        prop_assert!((sum - area(&ring)).abs() < 60.0, "{} against {}", sum, area(&ring));
        prop_assert!(found.iter().all(|cell| area(cell) > 0.0));
    }
}

#[test]
fn a_face_can_be_divided_again() {
    let part = part("", &tail(r#"["aft", "right"]"#));
    assert_eq!(bays(&part.faces[0]), part.faces[0].bays);
}
