//! Whatever a frame looks like and however it is parked: bays are its face and each has its drain at the lowest place, tapes
//! are as long as what they lie over, patches cover their fittings, and numbers are the job's alone.

use std::collections::BTreeSet;

use clothwright::covering::dressing::WantedShape;
use clothwright::covering::{Bay, Covering, Face, cover, height};
use clothwright::job::{self, FittingSize, Job};
use clothwright::plan::{MapKind, lies_over, map_rows, pieces_with};
use geo::{Contains, Distance, Euclidean};
use geo_types::{Coord, LineString, Point, Polygon, coord};
use proptest::prelude::*;
use serde_json::{Value, json};

/// A frame with four corners, some ribs from its front to its rear edge, and fittings.
#[derive(Clone, Debug)]
struct Frame {
    corners: [[f64; 2]; 4],
    ribs: Vec<f64>,
    fittings: Vec<(f64, f64, f64, f64)>,
    nose_up: f64,
    wing_down: f64,
    mirrored: bool,
    upright: bool,
}

fn frame() -> impl Strategy<Value = Frame> {
    let corners = (0.0..120.0_f64, 0.0..120.0_f64, 0.0..120.0_f64, 0.0..120.0_f64);
    let fitting = (0.1..0.9_f64, 0.1..0.9_f64, 10.0..120.0_f64, 10.0..80.0_f64);
    let ribs = prop::collection::btree_set(1_u32..9, 0..4);
    let parked = (-12.0..12.0_f64, prop_oneof![Just(0.0), 1.0..8.0_f64]);
    (corners, ribs, prop::collection::vec(fitting, 0..5), parked, any::<bool>(), any::<bool>()).prop_map(
        |((a, b, c, d), ribs, fittings, (nose_up, wing_down), mirrored, upright)| Frame {
            corners: [[a, 100.0 + b], [600.0 - c, 100.0], [600.0, 1300.0 - d], [0.0, 1300.0]],
            ribs: ribs.into_iter().map(|tenth| 100.0 + 120.0 * f64::from(tenth)).collect(),
            fittings,
            nose_up,
            wing_down,
            mirrored,
            upright,
        },
    )
}

/// Where the edge between two corners is at a height.
fn at([from, to]: [[f64; 2]; 2], y: f64) -> f64 {
    from[0] + (to[0] - from[0]) * (y - from[1]) / (to[1] - from[1])
}

fn job(frame: &Frame) -> Job {
    let [a, b, c, d] = frame.corners;
    let ends = |y: f64| [[at([a, d], y), y], [at([b, c], y), y]];
    let inside = frame.ribs.iter().filter(|y| **y > a[1].max(b[1]) + 20.0 && **y < c[1].min(d[1]) - 20.0);
    let members: Vec<Value> = inside
        .map(|y| {
            let [from, to] = ends(*y);
            json!({ "class": "rib", "from": from, "to": to })
        })
        .collect();
    let fittings: Vec<Value> = frame
        .fittings
        .iter()
        .enumerate()
        .map(|(index, (x, y, long, wide))| {
            json!({ "name": format!("fitting {index}"), "face": ["first side", "second side"], "kind": "fitting",
                "at": [600.0 * x, 100.0 + 1200.0 * y], "size": [long, wide], "layers": 1 + index % 2 })
        })
        .collect();
    let part = json!({ "name": "frame", "kind": "flat", "surface": "empennage", "outline": { "polygon": frame.corners }, "tube": 19,
        "mirrored": frame.mirrored, "axes": ["aft", if frame.upright { "up" } else { "right" }], "members": members,
        "fittings": fittings, "drains": {},
        "openings": [{ "name": "hatch", "face": "first side", "at": [300, 700] }] });
    let job = json!({ "format": 1, "units": "mm", "cloth": [{ "name": "roll", "width": 1780, "faces_alike": true }],
        "rules": { "method": "doped", "vne": "120 mph", "wing_loading": "6 lb/ft2" },
        "parked": { "nose_up": frame.nose_up, "wing_down": frame.wing_down },
        "airframe": [part], "pieces": [{ "name": "own", "outline": { "circle": 50 } }] });
    job::read_text("any.json", &job.to_string()).unwrap_or_else(|error| panic!("{error}")).job
}

/// Points of a bay, 9 mm apart, where a grommet of 3/4 in lies beside tubes and caps of 1/2 in (common practice, no source).
fn places_for_a_grommet(face: &Face, ring: &[Coord<f64>]) -> Vec<Coord<f64>> {
    let bay = Polygon::new(LineString::new(ring.to_vec()), vec![]);
    let edges = face.edges.iter().map(|edge| (edge.run.clone(), edge.reaches_in.unwrap_or(6.35)));
    let members = face.members.iter().map(|member| (member.run.clone(), member.width.unwrap_or(12.7) / 2.0));
    let structure: Vec<(LineString, f64)> =
        edges.chain(members).map(|(run, half)| (LineString::new(run), half)).collect();
    let bounds = face.outline.bounds();
    let steps = |from: f64, to: f64| (0..).map(move |n| from + 9.0 * f64::from(n)).take_while(move |at| *at < to);
    let all = steps(bounds.min().x, bounds.max().x)
        .flat_map(|x| steps(bounds.min().y, bounds.max().y).map(move |y| coord! { x: x, y: y }));
    let free =
        |at: &Coord<f64>| structure.iter().all(|(run, half)| Euclidean.distance(&Point(*at), run) >= half + 9.525);
    all.filter(|at| bay.contains(at) && free(at)).collect()
}

fn drained_well(job: &Job, covering: &Covering) -> Result<(), TestCaseError> {
    let parked = job.parked.ok_or_else(|| TestCaseError::fail("parked"))?;
    // Downhill in steps of a tenth of a millimetre; drains of two attitudes that are less than 40 mm apart are one.
    let slack = if parked.wing_down == 0.0 {
        1.0
    } else {
        1.0 + 40.0 * (parked.wing_down + parked.nose_up.abs()).to_radians().sin()
    };
    for face in covering.parts.iter().flat_map(|part| &part.faces) {
        let area: f64 = face.bays.iter().map(Bay::area).sum();
        // Corners count as one within 0.01 mm, along some metres of edges.
        prop_assert!((area - face.outline.area()).abs() < 60.0, "bays of {area} against {}", face.outline.area());
        if face.drains.is_empty() {
            continue;
        }
        let skin = face.skin.as_ref().ok_or_else(|| TestCaseError::fail("a skin"))?;
        for (bay, cell) in face.bays.iter().enumerate() {
            let here: Vec<_> = face.drains.iter().filter(|drain| drain.bay == bay).collect();
            prop_assert!(!here.is_empty(), "bay {bay} has no drain");
            for up in parked.ups() {
                let at = |point: Coord<f64>| height(skin.in_space(point), up);
                let lowest = here.iter().map(|drain| at(drain.at)).fold(f64::INFINITY, f64::min);
                let sunk = places_for_a_grommet(face, &cell.ring).into_iter().map(at).fold(f64::INFINITY, f64::min);
                prop_assert!(lowest <= sunk + slack, "bay {bay}: {lowest} over {sunk}");
            }
        }
    }
    // The underside of what lies, one side of what stands.
    let drained = covering.parts.iter().flat_map(|part| &part.faces).filter(|face| !face.drains.is_empty()).count();
    prop_assert_eq!(drained, 1);
    Ok(())
}

fn covers(shape: WantedShape, least: [f64; 2]) -> bool {
    match shape {
        WantedShape::Rect(sides) => sides[0] >= least[0] - 1e-9 && sides[1] >= least[1] - 1e-9,
        WantedShape::Circle(diameter) => diameter >= least[0].hypot(least[1]) - 1e-9,
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    #[test]
    fn any_frame_is_dressed_as_the_rules_say(frame in frame()) {
        let job = job(&frame);
        let covering = cover(&job).map_err(|faults| TestCaseError::fail(format!("{faults:?}")))?;
        drained_well(&job, &covering)?;
        let part = &covering.parts[0];
        for tape in &part.dressed.tapes {
            let over: f64 = tape.legs.iter().flat_map(|leg| leg.run.windows(2)).map(|pair| (pair[1].x - pair[0].x).hypot(pair[1].y - pair[0].y)).sum();
            prop_assert!(tape.length >= over, "{}: {} over {over}", tape.over, tape.length);
        }
        // 3/8 in past the fitting (approved covering manual p. 43), both sides in the same order as written.
        let of_side = |face: usize| part.dressed.patches.iter().filter(move |patch| patch.face == face);
        for face in 0..2 {
            for (patch, fitting) in of_side(face).zip(&job.airframe[0].places.fittings) {
                let FittingSize::Rect(size) = fitting.size else { return Err(TestCaseError::fail("a rectangle")) };
                prop_assert_eq!(&patch.over, &fitting.name);
                prop_assert!(covers(patch.shape, size.map(|side| side + 2.0 * 9.525)), "{patch:?}");
            }
        }
        numbers_are_the_same_everywhere(&job, &covering)?;
    }
}

/// A number stands for one thing on the map, and the copies that it names are those of a piece in cut list and lay.
fn numbers_are_the_same_everywhere(job: &Job, covering: &Covering) -> Result<(), TestCaseError> {
    let pieces = pieces_with(job, covering);
    let over = lies_over(covering);
    let mut numbers = BTreeSet::new();
    let mut copies = 0;
    for row in map_rows(job, covering).iter().filter(|row| row.kind != MapKind::Laces) {
        prop_assert!(numbers.insert(row.number.clone()), "{} twice", row.number);
    }
    for part in &covering.parts {
        let dressed = &part.dressed;
        let patches = dressed.patches.iter().map(|patch| (&patch.number, &patch.piece, &patch.over));
        let rings = dressed.rings.iter().map(|ring| (&ring.number, &ring.piece, &ring.name));
        let drains = dressed
            .drains
            .iter()
            .filter_map(|drain| Some((drain.patch_number.as_ref()?, drain.piece.as_ref()?, &drain.number)));
        for (number, piece, what) in patches.chain(rings).chain(drains) {
            let (index, which) = number.split_once('·').unwrap_or((number.as_str(), "1"));
            let index: usize = index.parse().map_err(|_| TestCaseError::fail(number.clone()))?;
            prop_assert_eq!(&pieces[index - 1].name, piece, "number {}", number);
            let ends: Vec<u32> = which.split('–').filter_map(|copy| copy.parse().ok()).collect();
            let (first, last) = (ends[0], ends[ends.len() - 1]);
            prop_assert!(last <= pieces[index - 1].quantity);
            for copy in first..=last {
                let words = over.get(&(piece.as_str(), copy)).cloned().unwrap_or_default();
                prop_assert!(words.starts_with(what.as_str()), "{number}: copy {copy} is for {words}");
            }
            copies += last - first + 1;
        }
    }
    let cut: u32 = covering.dressing.iter().map(|piece| piece.quantity).sum();
    prop_assert_eq!(copies, cut, "every copy that is cut has its place");
    Ok(())
}
