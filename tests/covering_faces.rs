//! Faces laid flat with their bays and drains: what tapes, patches and drains are placed on.

use clothwright::covering::{Bay, CoveredPart, Covering, Face, bays, cover, height};
use clothwright::job::{self, Parked};
use clothwright::shape::cells;
use geo::{BoundingRect, Contains, Distance, Euclidean};
use geo_types::{Coord, LineString, Point, Polygon, coord};
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
        assert!(drain.at.x > 600.0 - 40.0, "the tail is down, the rear edge is the lowest: {:?}", drain.at);
    }
    // With the nose down it would be the front edge.
    let part = self::part(r#""parked": { "nose_up": -10 },"#, &tail(r#"["aft", "right"]"#));
    assert!(face(&part, "second side").drains.iter().all(|drain| drain.at.x < 40.0));
}

#[test]
fn a_rudder_drains_at_the_foot_of_each_bay_on_one_side() {
    let part = part(TAIL_DOWN, &tail(r#"["aft", "up"]"#));
    let side = face(&part, "first side");
    assert!(face(&part, "second side").drains.is_empty());
    assert_eq!(side.drains.len(), 3);
    for (drain, foot) in side.drains.iter().zip([0.0, 400.0, 800.0]) {
        assert!((drain.at.y - foot) < 40.0 && drain.at.x > 560.0, "{:?}", drain.at);
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
                let sunk = places_for_a_grommet(face, &cell.ring).into_iter().map(at).fold(f64::INFINITY, f64::min);
                // It is found on a grid of a sixtieth of the bay.
                assert!(lowest <= sunk + 4.0, "{} {}, bay {bay}: {lowest} over {sunk}", face.part, face.name);
            }
        }
    }
    assert!(drained > 60, "{drained}");
}

/// Points of a bay, 7 mm apart, where a grommet of 3/4 in lies beside tubes and caps of 1/2 in or as wide as they are.
fn places_for_a_grommet(face: &Face, ring: &[Coord<f64>]) -> Vec<Coord<f64>> {
    let bay = Polygon::new(LineString::new(ring.to_vec()), vec![]);
    let bounds = bay.bounding_rect().unwrap();
    let edges = face.edges.iter().map(|edge| (edge.run.clone(), edge.reaches_in.unwrap_or(6.35)));
    let members = face.members.iter().map(|member| (member.run.clone(), member.width.unwrap_or(12.7) / 2.0));
    let structure: Vec<(LineString, f64)> =
        edges.chain(members).map(|(run, half)| (LineString::new(run), half)).collect();
    let steps = |from: f64, to: f64| (0..).map(move |n| from + 7.0 * f64::from(n)).take_while(move |at| *at < to);
    let all = steps(bounds.min().x, bounds.max().x)
        .flat_map(|x| steps(bounds.min().y, bounds.max().y).map(move |y| coord! { x: x, y: y }));
    all.filter(|at| {
        bay.contains(at) && structure.iter().all(|(run, half)| Euclidean.distance(&Point(*at), run) >= half + 9.525)
    })
    .collect()
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

/// A member that already ends on what holds it is not prolonged beyond: no sliver of a bay behind it.
#[test]
fn an_end_that_is_held_goes_no_further() {
    let frame = [[0.0, 0.0], [900.0, 0.0], [900.0, 400.0], [0.0, 400.0]].map(|[x, y]| coord! { x: x, y: y });
    let line = |from: [f64; 2], to: [f64; 2]| vec![from.into(), to.into()];
    // A spar close to the edge, a rib that ends on it, and a diagonal that ends on the rib's foot.
    let lines =
        [line([0.0, 380.0], [900.0, 380.0]), line([450.0, 0.0], [450.0, 380.0]), line([0.0, 100.0], [450.0, 380.0])];
    assert_eq!(cells(&frame, &lines, 30.0).len(), 4);
}

/// The cloth lies to the left of every edge, on both sides of a part, whatever its outline is made of.
#[test]
fn every_face_lies_to_the_left_of_its_edges() {
    let path = r#"{ "name": "rudder", "kind": "flat", "surface": "empennage", "tube": 19,
        "outline": { "path": "M 0 0 L 400 0 Q 620 500 300 900 L 0 900 Z" } }"#;
    let dunlin = job::read(std::path::Path::new("examples/dunlin/airframe.json"))
        .unwrap_or_else(|faults| panic!("{faults}"))
        .job;
    let dunlin = cover(&dunlin).unwrap_or_else(|faults| panic!("{faults:?}"));
    let faces = dunlin.parts.iter().flat_map(|part| part.faces.clone()).chain(part("", path).faces);
    for face in faces {
        for edge in &face.edges {
            let longest = edge.run.windows(2).max_by(|a, b| {
                let length = |pair: &[Coord<f64>]| (pair[1].x - pair[0].x).hypot(pair[1].y - pair[0].y);
                length(a).total_cmp(&length(b))
            });
            let [from, to] = longest.unwrap() else { unreachable!() };
            let way = *to - *from;
            let left = Coord { x: -way.y, y: way.x } / way.x.hypot(way.y);
            let beside = (*from + *to) / 2.0 + left;
            assert!(face.outline.polygon().contains(&beside), "{}, {}: {}", face.part, face.name, edge.name);
        }
        for datum in &face.datums {
            let middle = datum.at + datum.along * (datum.length / 2.0) + datum.across;
            assert!(face.outline.polygon().contains(&middle), "{}, {}: {}", face.part, face.name, datum.edge);
        }
        let mut corners: Vec<&str> = face.datums.iter().map(|datum| datum.edge.as_str()).collect();
        corners.sort_unstable();
        corners.dedup();
        assert_eq!(corners.len(), face.datums.len(), "{}, {}: every datum has a name of its own", face.part, face.name);
    }
}

/// A grommet of 3/4 in sits beside the tube and not on it (common practice, no source).
#[test]
fn drains_keep_clear_of_tubes() {
    let grommet = 0.375 * 25.4;
    for (tube, measured) in [(19.0, "tube outside"), (38.0, "tube outside"), (38.0, "tube centre")] {
        let tail = tail(r#"["aft", "right"]"#)
            .replace("\"tube\": 19", &format!("\"tube\": {tube}, \"measured_to\": \"{measured}\""));
        let inside = if measured == "tube outside" { tube } else { tube / 2.0 };
        let part = part(TAIL_DOWN, &tail);
        for drain in &face(&part, "second side").drains {
            let from_edge = 600.0 - drain.at.x;
            assert!(from_edge >= inside + grommet - 0.02, "{measured} {tube}: {from_edge}");
            assert!(from_edge <= inside + grommet + 12.0, "{measured} {tube}: {from_edge}");
        }
    }
}

/// Bays of one shape on one slope drain at one place: the grid does not decide it.
#[test]
fn like_bays_drain_alike() {
    let wing = r#"{ "name": "aileron", "kind": "ribbed", "surface": "control surface", "planform": [ { "at": 0, "chord": 330 }, { "at": 2000, "chord": 250 } ],
        "section": { "digits": "0012" }, "drains": {}, "ribs": [0, 250, 500, 750, 1000, 1250, 1500, 1750, 2000], "spars": [30], "dihedral": 0.5 }"#;
    let part = part(TAIL_DOWN, wing);
    let bottom = face(&part, "bottom");
    let mut after_rib: Vec<f64> = bottom.drains.iter().map(|drain| drain.at.x % 250.0).collect();
    after_rib.sort_by(f64::total_cmp);
    assert!(after_rib.len() >= 16);
    assert!(after_rib.last().unwrap() - after_rib[0] < 2.0, "{after_rib:?}");
}
