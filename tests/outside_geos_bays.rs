//! Bays against the polygonizer of GEOS (OSGeo GEOS, libgeos.org), which builds faces from noded lines by ways of its own.

use std::path::Path;

use clothwright::covering::{Face, cover};
use clothwright::job::{self, MemberClass};
use clothwright::shape::cells;
use geo::{Area, Distance, Euclidean};
use geo_types::{Coord, LineString, Point, Polygon, coord};
use geos::{Geom, Geometry};
use proptest::prelude::*;

/// Areas of the cells that GEOS finds inside a ring crossed by lines, from the smallest on.
fn by_geos(ring: &[Coord<f64>], lines: &[Vec<Coord<f64>>]) -> Vec<f64> {
    let mut closed = LineString::new(ring.to_vec());
    closed.close();
    let as_line = |line: &LineString<f64>| Geometry::try_from(line).expect("GEOS takes a line");
    let all: Vec<Geometry> = std::iter::once(as_line(&closed))
        .chain(lines.iter().map(|line| as_line(&LineString::new(line.clone()))))
        .collect();
    let noded = Geometry::create_geometry_collection(all).and_then(|all| all.unary_union()).expect("GEOS nodes lines");
    let frame = Geometry::try_from(&Polygon::new(closed, vec![])).expect("GEOS takes a polygon");
    let faces = Geometry::polygonize(&[noded]).expect("GEOS makes polygons");
    let count = faces.get_num_geometries().expect("a collection");
    let face = |n: usize| faces.get_geometry_n(n).expect("a face");
    let inside = (0..count)
        .map(face)
        .filter(|face| face.point_on_surface().and_then(|at| frame.contains(&at)).expect("a point"));
    let mut areas: Vec<f64> = inside.map(|face| face.area().expect("an area")).collect();
    areas.sort_by(f64::total_cmp);
    areas
}

fn areas(cells: impl IntoIterator<Item = Vec<Coord<f64>>>) -> Vec<f64> {
    let area = |ring: Vec<Coord<f64>>| Polygon::new(LineString::new(ring), vec![]).unsigned_area();
    let mut areas: Vec<f64> = cells.into_iter().map(area).collect();
    areas.sort_by(f64::total_cmp);
    areas
}

proptest! {
    /// Chords from edge to edge, so that all hang together; corners count as one within 0.01 mm, slivers are left out.
    #[test]
    fn chords_divide_a_frame_as_geos_says(
        chords in prop::collection::vec((0.0_f64..2.0, 0.0_f64..1.0, 0.0_f64..1.0), 0..8), dent in 0.0_f64..200.0,
    ) {
        let ring = [
            coord! { x: 0.0, y: 0.0 }, coord! { x: 500.0, y: dent }, coord! { x: 1000.0, y: 0.0 },
            coord! { x: 1000.0, y: 600.0 }, coord! { x: 0.0, y: 600.0 },
        ];
        let chord = |(way, a, b): &(f64, f64, f64)| match way {
            way if *way < 1.0 => vec![coord! { x: 1000.0 * a, y: -50.0 }, coord! { x: 1000.0 * b, y: 650.0 }],
            _ => vec![coord! { x: -50.0, y: 600.0 * a }, coord! { x: 1050.0, y: 600.0 * b }],
        };
        let lines: Vec<Vec<Coord<f64>>> = chords.iter().map(chord).collect();
        let large = |areas: Vec<f64>| areas.into_iter().filter(|area| *area > 20.0).collect::<Vec<_>>();
        let (ours, theirs) = (large(areas(cells(&ring, &lines, 10.0))), large(by_geos(&ring, &lines)));
        prop_assert_eq!(ours.len(), theirs.len(), "{:?} against {:?}", ours, theirs);
        for (one, other) in ours.iter().zip(&theirs) {
            prop_assert!((one - other).abs() < 15.0, "{} against {}", one, other);
        }
    }
}

/// Lines of members whose ends stand on nothing, prolonged as far as a tube's side may be from its middle.
///
/// Answers whether all ends stand on something, too.
fn lines_of(face: &Face, ring: &[Coord<f64>]) -> (Vec<Vec<Coord<f64>>>, bool) {
    let members = face.members.iter().filter(|member| member.class != MemberClass::NoseSheet);
    let runs: Vec<&Vec<Coord<f64>>> = members.map(|member| &member.run).collect();
    let mut frame = LineString::new(ring.to_vec());
    frame.close();
    let mut all_stand = true;
    let mut prolonged = |index: usize| {
        let run = runs[index];
        let others = runs.iter().enumerate().filter(|(other, _)| *other != index);
        let others: Vec<LineString> = others.map(|(_, run)| LineString::new(run.to_vec())).collect();
        let stands =
            |end: Coord<f64>| others.iter().chain([&frame]).any(|other| Euclidean.distance(&Point(end), other) < 0.01);
        let mut beyond = |end: Coord<f64>, before: Coord<f64>| {
            let way = end - before;
            all_stand &= stands(end);
            // GEOS has no tolerance: what stands on a line but for rounding goes a little over it.
            let reach = if stands(end) { 1.0 } else { 30.0 };
            end + way * (reach / way.x.hypot(way.y))
        };
        let count = run.len();
        let mut longer = run.clone();
        longer[0] = beyond(run[0], run[1]);
        longer[count - 1] = beyond(run[count - 1], run[count - 2]);
        longer
    };
    let lines = (0..runs.len()).map(&mut prolonged).collect();
    (lines, all_stand)
}

/// Every face with the same lines for both, and the bays themselves where every member stands on what holds it.
#[test]
fn the_bays_of_the_dunlin_are_those_of_geos() {
    let job = job::read(Path::new("examples/dunlin/airframe.json")).unwrap_or_else(|faults| panic!("{faults}")).job;
    let covering = cover(&job).unwrap_or_else(|faults| panic!("{faults:?}"));
    let mut bays = 0;
    for face in covering.parts.iter().flat_map(|part| &part.faces) {
        let mut ring = face.outline.polygon().exterior().0.clone();
        ring.pop();
        let (lines, all_stand) = lines_of(face, &ring);
        // What rounding leaves between lines that meet in one point.
        let large = |areas: Vec<f64>| areas.into_iter().filter(|area| *area > 20.0).collect::<Vec<f64>>();
        let theirs = large(by_geos(&ring, &lines));
        let mut ours = vec![areas(cells(&ring, &lines, 0.0))];
        if all_stand {
            ours.push(areas(face.bays.iter().map(|bay| bay.ring.clone())));
            bays += face.bays.len();
        }
        for ours in ours.into_iter().map(large) {
            assert_eq!(ours.len(), theirs.len(), "{}, {}", face.part, face.name);
            for (one, other) in ours.iter().zip(&theirs) {
                assert!((one - other).abs() < 30.0, "{}, {}: {one} against {other}", face.part, face.name);
            }
        }
    }
    assert!(bays > 100, "{bays} bays compared");
}
