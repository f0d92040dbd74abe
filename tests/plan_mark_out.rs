//! A piece drawn from its mark-out is the piece: checked by drawing it again, as a person with a tape measure would.

use std::collections::BTreeSet;

use clothwright::draw::mark_out_table;
use clothwright::plan::{LaidCloth, LaidPiece, MarkOut, MarkOutWish, MarkRun, Rounding, mark_out, marked_cloth};
use clothwright::shape::{Curve, Outline, Pose};
use clothwright::units::Units;
use geo_types::{Coord, coord};
use proptest::prelude::*;

/// The marks joined by straight lines, drawn from rounded figures alone.
fn drawn(marks: &MarkOut) -> Vec<Coord<f64>> {
    let points: Vec<Coord<f64>> =
        marks.points.iter().map(|point| coord! { x: point.from_end, y: point.from_edge }).collect();
    let mut all = Vec::new();
    for (index, run) in marks.runs.iter().enumerate() {
        let (from, to) = (points[index], points[(index + 1) % points.len()]);
        all.push(from);
        if let MarkRun::Curved { offsets, .. } = run {
            let chord = (to.x - from.x).hypot(to.y - from.y);
            let along = (to - from) / chord;
            all.extend(
                offsets
                    .iter()
                    .map(|offset| from + along * offset.along + coord! { x: along.y, y: -along.x } * offset.out),
            );
        }
    }
    all
}

fn distance_to_ring(point: Coord<f64>, ring: &[Coord<f64>]) -> f64 {
    let mut least = f64::INFINITY;
    for (index, from) in ring.iter().enumerate() {
        let way = ring[(index + 1) % ring.len()] - *from;
        let arm = point - *from;
        let part = ((arm.x * way.x + arm.y * way.y) / (way.x * way.x + way.y * way.y)).clamp(0.0, 1.0);
        let foot = *from + way * part;
        least = least.min((point.x - foot.x).hypot(point.y - foot.y));
    }
    least
}

fn ring(outline: &Outline) -> Vec<Coord<f64>> {
    outline.polygon().exterior().0[1..].to_vec()
}

/// How far the drawn piece and the true one lie apart, at most.
fn apart(outline: &Outline, marks: &MarkOut) -> f64 {
    let (drawn, true_ring) = (drawn(marks), ring(outline));
    let one = drawn.iter().map(|point| distance_to_ring(*point, &true_ring));
    let other = true_ring.iter().map(|point| distance_to_ring(*point, &drawn));
    one.chain(other).fold(0.0, f64::max)
}

/// What is promised: no mark farther off than rounding puts it, no line between marks farther than the edge bends; and a
/// hair for the sums.
fn promised(marks: &MarkOut) -> f64 {
    marks.worst_rounding + marks.worst_bend + 1e-6
}

#[test]
fn a_panel_with_straight_edges_has_its_corners_and_both_diagonals() {
    let panel =
        Curve::polygon(&[[10.2, 5.0], [3010.2, 5.0], [2810.2, 1205.0], [110.2, 1305.0]], &[]).flatten().unwrap();
    let marks = mark_out(&panel, Rounding::Millimetre);
    assert_eq!(marks.points.len(), 4);
    assert_eq!(marks.points[0].from_end, 10.0);
    assert!((marks.worst_rounding - 0.2).abs() < 1e-9);
    // Pythagoras.
    let lengths: Vec<f64> = marks.diagonals.iter().map(|diagonal| diagonal.length).collect();
    assert_eq!(lengths, [3178.0, 3046.0]);
    assert!(marks.diagonals.iter().any(|diagonal| diagonal.between == [0, 2]));
}

/// The sagitta of an arc: s = r − √(r² − c²/4) (Euclid III.35).
#[test]
fn offsets_of_a_circle_are_its_sagittas() {
    let circle = Pose { at: coord! { x: 600.0, y: 600.0 }, ..Pose::unmoved() }
        .apply_to(&Curve::circle(1000.0).flatten().unwrap());
    let marks = mark_out(&circle, Rounding::Millimetre);
    for run in &marks.runs {
        let MarkRun::Curved { chord, offsets } = run else { panic!("no straight line in a circle") };
        let sagitta = 500.0 - (500.0_f64.powi(2) - chord * chord / 4.0).sqrt();
        let deepest = offsets.iter().map(|offset| offset.out).fold(0.0, f64::max);
        assert!((deepest - sagitta).abs() < 1.6, "{deepest} against {sagitta}");
        let step = offsets[0].along;
        assert!(offsets.windows(2).all(|pair| (pair[1].along - pair[0].along - step).abs() <= 1.0), "even stations");
    }
    assert!(apart(&circle, &marks) <= promised(&marks));
}

/// Where a straight edge turns into a curve without a corner, the line ends at a measured point.
#[test]
fn a_rounded_panel_keeps_its_straight_lines() {
    let path = "M 300 0 L 1700 0 A 300 300 0 0 1 2000 300 L 2000 700 A 300 300 0 0 1 1700 1000 L 300 1000 A 300 300 0 0 1 0 700 L 0 300 A 300 300 0 0 1 300 0 Z";
    let panel = Curve::from_svg_path(path, 1.0).unwrap().flatten().unwrap();
    let marks = mark_out(&panel, Rounding::Millimetre);
    let mut straight: Vec<f64> = marks
        .runs
        .iter()
        .filter_map(|run| if let MarkRun::Straight { length } = run { Some(*length) } else { None })
        .collect();
    straight.sort_by(f64::total_cmp);
    // Flattened outwards, an arc leaves its tangent up to half a step early: 15 mm at this radius, a tenth of one off it.
    assert_eq!(straight.len(), 4);
    for (found, true_length) in straight.iter().zip([400.0, 400.0, 1400.0, 1400.0]) {
        assert!((found - true_length).abs() <= 20.0, "{straight:?}");
    }
    assert!(apart(&panel, &marks) <= promised(&marks));
}

#[test]
fn sixteenths_of_an_inch_are_read_off_an_inch_rule() {
    let panel = Curve::rect(1000.0, 500.0).flatten().unwrap();
    let marks = mark_out(&panel, Rounding::SixteenthInch);
    let sixteenths = marks.points[2].from_end / 25.4 * 16.0;
    assert!((sixteenths - 630.0).abs() < 1e-9, "39-3/8 in, the nearest to 39.37");
    assert!(marks.worst_rounding < 25.4 / 16.0 * 0.7072);
}

/// A roll of 7 m with a long panel over two windows of a 4 m table, and a patch.
fn roll() -> LaidCloth {
    let laid = |piece: &str, outline: Vec<[f64; 2]>| LaidPiece {
        piece: piece.into(),
        copy: 1,
        turn: 0.0,
        flipped: false,
        at: outline[0],
        outline,
        holes: Vec::new(),
    };
    LaidCloth {
        cloth: "roll".into(),
        number: 1,
        width: 1780.0,
        usable: [0.0, 1780.0],
        length_used: 7000.0,
        waste: 0.4,
        density: 0.6,
        pieces: vec![
            laid("patch", vec![[100.0, 1500.0], [200.0, 1500.0], [200.0, 1600.0], [100.0, 1600.0]]),
            laid("side", vec![[0.0, 0.0], [7000.0, 0.0], [7000.0, 400.0], [0.0, 1200.0]]),
        ],
    }
}

#[test]
fn a_short_table_breaks_the_cloth_into_windows() {
    let wish =
        MarkOutWish { rounding: Rounding::Millimetre, large: BTreeSet::from(["side".to_owned()]), table: Some(4000.0) };
    let marked = marked_cloth(&roll(), &wish).unwrap();
    assert_eq!(marked.windows.iter().map(|window| window.span).collect::<Vec<_>>(), [[0.0, 4000.0], [4000.0, 7000.0]]);
    let [first, second] = &marked.windows[..] else { panic!("two windows") };
    let side = marked.steps.iter().position(|step| step.piece == 1).unwrap();
    let patch = marked.steps.iter().position(|step| step.piece == 0).unwrap();
    assert_eq!(first.whole, [patch]);
    assert_eq!((first.crossing[0].step, &first.crossing[0].marks), (side, &vec![0.0, 743.0]), "1200 - 800 x 4/7");
    assert!(second.crossing.is_empty() && second.whole.is_empty());
    assert!(marked.steps[patch].marks.is_none(), "a patch is traced from its template");
    let whole = marked_cloth(&roll(), &MarkOutWish { table: None, ..wish.clone() }).unwrap();
    assert_eq!(whole.windows.len(), 1);
    assert_eq!(whole.windows[0].whole.len(), 2);
}

#[test]
fn the_table_has_a_line_for_each_point() {
    let wish = MarkOutWish { rounding: Rounding::Millimetre, large: BTreeSet::from(["side".to_owned()]), table: None };
    let laid = roll();
    let marked = marked_cloth(&laid, &wish).unwrap();
    let table = String::from_utf8(mark_out_table(&[(&laid, &marked)], &[], Units::Mm).unwrap()).unwrap();
    let lines: Vec<&str> = table.lines().collect();
    assert_eq!(lines.len(), 5, "{table}");
    assert!(
        lines[0].starts_with("cloth,cloth number,cut,number,piece,copy,point,from cloth end (mm),from lower edge (mm)")
    );
    assert_eq!(lines[1], "roll,1,1,,side,1,1,0,0,straight,7000,,to 3: 7011");
}

proptest! {
    /// Whatever is marked out, drawn again from the figures it lies within the error that is told.
    #[test]
    fn what_is_drawn_is_the_piece(
        radii in prop::collection::vec(300.0_f64..900.0, 5..14),
        round in any::<bool>(),
        inches in any::<bool>(),
    ) {
        let count = radii.len();
        let at = |index: usize| {
            let angle = index as f64 / count as f64 * std::f64::consts::TAU;
            let radius = radii[index % count];
            [1000.0 + radius * angle.cos(), 1000.0 + radius * angle.sin()]
        };
        let curve = if round {
            // Smooth through the middles of the sides, with the corners as control points.
            let middle = |index: usize| { let (a, b) = (at(index), at(index + 1)); [(a[0] + b[0]) / 2.0, (a[1] + b[1]) / 2.0] };
            let start = middle(count - 1);
            let mut path = format!("M {} {}", start[0], start[1]);
            for index in 0..count {
                let (control, end) = (at(index), middle(index));
                path.push_str(&format!(" Q {} {} {} {}", control[0], control[1], end[0], end[1]));
            }
            Curve::from_svg_path(&format!("{path} Z"), 1.0).unwrap()
        } else {
            Curve::polygon(&(0..count).map(at).collect::<Vec<_>>(), &[])
        };
        let Ok(outline) = curve.flatten() else { return Ok(()) };
        let rounding = if inches { Rounding::SixteenthInch } else { Rounding::Millimetre };
        let marks = mark_out(&outline, rounding);
        prop_assert_eq!(marks.points.len(), marks.runs.len());
        prop_assert!(apart(&outline, &marks) <= promised(&marks), "{} against {}", apart(&outline, &marks), promised(&marks));
    }
}
