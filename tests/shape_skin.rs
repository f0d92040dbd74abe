//! The promise: the skin of a wing laid flat is as long and as wide as it is on the wing, and what does not fit is told.

use clothwright::shape::{Chord, FlatSkin, Section, Side, SpanLine, lay_skin_flat};
use geo_types::Coord;
use proptest::prelude::*;

fn chord(span: f64, length: f64, nose: f64) -> Chord {
    Chord { span, length, nose }
}

/// From the trailing edge over the top round the nose to the trailing edge.
fn round_the_nose(steps: usize) -> Vec<SpanLine> {
    let places = Section::places(steps);
    let top = places.iter().rev().map(|place| SpanLine { side: Side::Top, place: *place });
    let bottom = places.iter().skip(1).map(|place| SpanLine { side: Side::Bottom, place: *place });
    top.chain(bottom).collect()
}

fn distance(a: Coord<f64>, b: Coord<f64>) -> f64 {
    (b.x - a.x).hypot(b.y - a.y)
}

fn in_space(section: &Section, chord: Chord, line: SpanLine) -> [f64; 3] {
    [chord.nose + chord.length * line.place, chord.span, chord.length * section.ordinate(line.side, line.place)]
}

fn in_space_distance(a: [f64; 3], b: [f64; 3]) -> f64 {
    ((b[0] - a[0]).powi(2) + (b[1] - a[1]).powi(2) + (b[2] - a[2]).powi(2)).sqrt()
}

fn row_length(flat: &FlatSkin, row: usize) -> f64 {
    flat.rows[row].windows(2).map(|pair| distance(pair[0], pair[1])).sum()
}

/// A section without thickness, so that everything has a closed form.
fn plate() -> Section {
    Section::from_ordinates(&[[0.0, 0.0, 0.0], [30.0, 0.0, 0.0], [60.0, 0.0, 0.0], [100.0, 0.0, 0.0]]).unwrap()
}

#[test]
fn a_straight_wing_is_a_rectangle() {
    let section = Section::four_digit("4415").unwrap();
    let chords = [0.0, 1300.0, 2000.0, 4100.0].map(|span| chord(span, 1500.0, 0.0));
    let flat = lay_skin_flat(&section, &chords, &round_the_nose(40));
    let girth = 1500.0 * section.whole_girth();
    for (row, chord) in flat.rows.iter().zip(chords) {
        assert!(row.iter().all(|point| (point.x - chord.span).abs() < 1e-6), "{row:?}");
        assert!((row[row.len() - 1].y - girth).abs() < 1e-3);
    }
    assert!(flat.misfit.iter().all(|gap| *gap < 1e-6), "{:?}", flat.misfit);
}

#[test]
fn a_swept_straight_wing_is_a_sheared_skin() {
    // Ribs in the line of flight and the nose swept back by 3 in 4: the skin of a plate is its planform.
    let flat = lay_skin_flat(
        &plate(),
        &[chord(0.0, 1000.0, 0.0), chord(400.0, 1000.0, 300.0)],
        &[SpanLine { side: Side::Top, place: 1.0 }, SpanLine { side: Side::Top, place: 0.0 }],
    );
    let [root, tip] = [&flat.rows[0], &flat.rows[1]];
    assert!((root[1].y - 1000.0).abs() < 1e-9 && root[1].x.abs() < 1e-9);
    assert!((tip[0].x - 400.0).abs() < 1e-9 && (tip[0].y + 300.0).abs() < 1e-9, "{tip:?}");
    assert!((tip[1].y - 700.0).abs() < 1e-9, "{tip:?}");
}

#[test]
fn a_plate_round_its_swept_nose_opens_like_a_folded_sheet() {
    // Both sides of a tapered plate, whose nose runs straight across: a sheet folded along the nose.
    let lines = [
        SpanLine { side: Side::Top, place: 1.0 },
        SpanLine { side: Side::Top, place: 0.0 },
        SpanLine { side: Side::Bottom, place: 1.0 },
    ];
    let straight_nose = lay_skin_flat(&plate(), &[chord(0.0, 1000.0, 0.0), chord(2000.0, 600.0, 0.0)], &lines);
    let ys: Vec<f64> = straight_nose.rows[1].iter().map(|point| point.y).collect();
    for (found, wanted) in ys.iter().zip([400.0, 1000.0, 1600.0]) {
        assert!((found - wanted).abs() < 1e-9, "{ys:?}");
    }
    // With the trailing edge straight across instead, the sheet opens to a butt with the nose as its point: each half is
    // turned by the sweep of the nose.
    let flat = lay_skin_flat(&plate(), &[chord(0.0, 1000.0, 0.0), chord(2000.0, 600.0, 400.0)], &lines);
    let sweep = libm::atan2(400.0, 2000.0);
    let nose = flat.rows[0][1];
    assert!((nose.x.abs() - 1000.0 * libm::sin(sweep)).abs() < 1e-9, "{nose:?}");
    assert!((nose.y - 1000.0 * libm::cos(sweep)).abs() < 1e-9, "{nose:?}");
}

#[test]
fn the_skin_of_a_cone_is_a_sector() {
    // A wing of circular section that tapers to a point far outside is a frustum of an oblique cone; with its axis square
    // to the ribs it is a right one. Slant height and sector angle in closed form.
    let rows: Vec<[f64; 3]> = (0..=90)
        .map(|index| {
            let (sin, cos) = (std::f64::consts::PI * f64::from(index) / 90.0).sin_cos();
            let station = if index == 90 { 100.0 } else { 50.0 * (1.0 - cos) };
            let height = if index == 0 { 0.0 } else { 50.0 * sin };
            [station, height, -height]
        })
        .collect();
    let section = Section::from_ordinates(&rows).unwrap();
    // Diameters 1000 and 600 over 1500: the nose moves aft by half the difference.
    let flat = lay_skin_flat(&section, &[chord(0.0, 1000.0, 0.0), chord(1500.0, 600.0, 200.0)], &round_the_nose(200));
    let slant = 1500f64.hypot(200.0);
    for (near, far) in flat.rows[0].iter().zip(&flat.rows[1]) {
        assert!((distance(*near, *far) - slant).abs() < 0.05, "{near:?} {far:?}");
    }
    let apex_slant = slant * 1000.0 / 400.0;
    let angle = 2.0 * std::f64::consts::PI * 500.0 / apex_slant;
    let ends = distance(flat.rows[0][0], *flat.rows[0].last().unwrap());
    let wanted = 2.0 * apex_slant * (angle / 2.0).sin();
    assert!((ends - wanted).abs() < 0.5, "{ends} against {wanted}");
}

#[test]
fn a_change_of_taper_tells_its_misfit() {
    let section = Section::four_digit("4415").unwrap();
    let chords = [chord(0.0, 1500.0, 0.0), chord(3000.0, 1500.0, 0.0), chord(5000.0, 900.0, 200.0)];
    let flat = lay_skin_flat(&section, &chords, &round_the_nose(40));
    assert_eq!(flat.misfit[0], 0.0);
    assert!(flat.misfit[1] > 1.0 && flat.misfit[1] < 200.0, "{:?}", flat.misfit);
    assert_eq!(flat.misfit[2], 0.0);
    // A top alone fits far better: it is nearly plane.
    let top: Vec<SpanLine> = round_the_nose(40).into_iter().filter(|line| line.side == Side::Top).collect();
    let flat = lay_skin_flat(&section, &chords, &top);
    assert!(flat.misfit[1] < 15.0, "{:?}", flat.misfit);
}

fn tapered() -> impl Strategy<Value = [Chord; 2]> {
    (500.0..2000.0, 0.4..1.0f64, 500.0..5000.0, -100.0..400.0)
        .prop_map(|(root, taper, span, nose)| [chord(0.0, root, 0.0), chord(span, root * taper, nose)])
}

proptest! {
    /// Laying a cone flat keeps the girth of every rib and the length of every line along the span, and the ways from any
    /// point of one rib to any point of the other are no shorter than in space.
    #[test]
    fn a_tapered_skin_keeps_its_lengths(chords in tapered(), thickness in 6u32..=18, camber in 0u32..=4) {
        let digits = if camber == 0 { format!("00{thickness:02}") } else { format!("{camber}4{thickness:02}") };
        let section = Section::four_digit(&digits).unwrap();
        let lines = round_the_nose(60);
        let flat = lay_skin_flat(&section, &chords, &lines);
        for (row, chord) in chords.iter().enumerate() {
            let girth = chord.length * section.whole_girth();
            prop_assert!((row_length(&flat, row) - girth).abs() < 0.01, "{} against {girth}", row_length(&flat, row));
        }
        for (index, line) in lines.iter().enumerate() {
            let apart = distance(flat.rows[0][index], flat.rows[1][index]);
            let space = in_space_distance(in_space(&section, chords[0], *line), in_space(&section, chords[1], *line));
            // The strips are true to the girth, so that bends between two lines move the others a little along the span.
            prop_assert!((apart - space).abs() < 0.5, "{digits} line {index}: {apart} against {space}");
        }
        for (from, to) in [(0, 60), (10, 110), (120, 0), (60, 120)] {
            let apart = distance(flat.rows[0][from], flat.rows[1][to]);
            let ends = [in_space(&section, chords[0], lines[from]), in_space(&section, chords[1], lines[to])];
            prop_assert!(apart > in_space_distance(ends[0], ends[1]) - 0.5);
        }
    }
}
