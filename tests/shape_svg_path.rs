//! The promise: SVG path data means what W3C SVG 1.1 §8.3 says, and a fault in it is found with its place.
//!
//! The paths marked with a section are the examples of the recommendation (W3C SVG 1.1, second edition; strings from
//! memory), closed where the recommendation only strokes them.

use clothwright::shape::{Curve, FLATTENING};
use kurbo::{BezPath, Shape};
use std::f64::consts::PI;

fn read(data: &str) -> Curve {
    Curve::from_svg_path(data, 1.0).unwrap_or_else(|fault| panic!("{data}: {fault}"))
}

fn assert_near(value: f64, expected: f64, what: &str) {
    assert!((value - expected).abs() <= 1e-9 * expected.abs().max(1.0), "{what}: {value}, expected {expected}");
}

#[test]
fn the_pie_of_section_8_3_8_is_three_quarters_and_one_quarter_of_a_circle() {
    let circle = PI * 150.0 * 150.0;
    assert_near(read("M300,200 h-150 a150,150 0 1,0 150,-150 z").area(), 0.75 * circle, "three quarters");
    assert_near(read("M275,175 v-150 a150,150 0 0,0 -150,150 z").area(), 0.25 * circle, "one quarter");
}

#[test]
fn the_four_arcs_of_section_8_3_8_are_the_small_and_large_parts_of_two_ellipses() {
    let arc = |flags: &str| read(&format!("M 125,75 a100,50 0 {flags} 100,50 z"));
    let ellipse = PI * 100.0 * 50.0;
    // The chord joins two ends of the half axes: the small part is a quarter ellipse less a triangle.
    let small = ellipse / 4.0 - 100.0 * 50.0 / 2.0;
    for (flags, area) in [("0,0", small), ("0,1", small), ("1,0", ellipse - small), ("1,1", ellipse - small)] {
        assert_near(arc(flags).area(), area, flags);
    }
    // Sweep 1 turns towards rising angles, from x to y (§8.3.8): round (125, 125) the small arc bows to the upper right
    // of its chord in drawing coordinates, that is to smaller y.
    let bounds = |flags: &str| arc(flags).flatten().unwrap().bounds();
    assert_near(bounds("0,1").max().x, 225.0, "the arc round (125, 125) ends at its rightmost point");
    assert!((bounds("1,1").min().x - 125.0).abs() < 100.0 && bounds("1,1").max().x > 320.0, "centre (225, 75)");
    assert!((bounds("1,0").min().x - 25.0).abs() <= FLATTENING, "centre (125, 125)");
}

#[test]
fn radii_out_of_range_follow_appendix_f_6_6() {
    let half_disc = PI * 50.0 * 50.0 / 2.0;
    assert_near(read("M 0 0 A 1 1 0 0 1 100 0 Z").area(), half_disc, "radii too small are scaled up");
    assert_near(read("M 0 0 A -50 -50 0 0 1 100 0 Z").area(), half_disc, "negative radii lose their sign");
    assert_near(read("M 0 0 A 0 50 0 0 1 100 0 L 100 100 Z").area(), 5000.0, "a radius of zero is a line");
    assert_eq!(read("M 0 0 A 50 50 0 0 1 0 0 L 100 0 L 0 100 Z").edge_count(), 3, "equal ends are left out");
}

#[test]
fn smooth_cubics_of_section_8_3_6_reflect_the_control_point() {
    let smooth = read("M100,200 C100,100 250,100 250,200 S400,300 400,200 L 250,900 z");
    let spelled = read("M100,200 C100,100 250,100 250,200 C250,300 400,300 400,200 L 250,900 z");
    assert_eq!(smooth, spelled);
    // After anything but a cubic the control point is the current point (§8.3.6).
    let after_line = read("M 0 0 L 100 0 S 150 50 100 100 Z");
    assert_eq!(after_line, read("M 0 0 L 100 0 C 100 0 150 50 100 100 Z"));
}

#[test]
fn smooth_quadratics_of_section_8_3_7_reflect_the_control_point() {
    let smooth = read("M200,300 Q400,50 600,300 T1000,300 L 600 900 z");
    assert_eq!(smooth, read("M200,300 Q400,50 600,300 Q800,550 1000,300 L 600 900 z"));
    let chain = read("M200,300 Q400,50 600,300 T1000,300 T1400,300 L 600 900 z");
    assert_eq!(chain, read("M200,300 Q400,50 600,300 Q800,550 1000,300 Q1200,50 1400,300 L 600 900 z"));
    assert_eq!(read("M 0 0 H 10 T 20 10 V 30 Z"), read("M 0 0 H 10 Q 10 0 20 10 V 30 Z"));
}

#[test]
fn relative_commands_and_shorthand_numbers_mean_the_same_as_absolute_ones() {
    let absolute = read("M 10 10 L 40 10 L 40 30 C 30 40 20 40 10 30 Z");
    assert_eq!(read("m10,10h30v20c-10,10-20,10-30,0z"), absolute);
    assert_eq!(read("M10 10 40 10 40 30C30 40 20 40 10 30Z"), absolute, "§8.3.2: pairs after M are lines");
    assert_eq!(read("m10 10 30 0 0 20c-10 10-20 10-30 0z"), absolute);
    assert_eq!(read("M1e1 10H4.0e1V30C30 40 20 40 10 30z"), absolute);
    assert_eq!(read("M.5.5L1.5.5 1.5 1.5Z"), read("M 0.5 0.5 L 1.5 0.5 L 1.5 1.5 Z"));
}

#[test]
fn areas_agree_with_a_general_curve_library() {
    for data in [
        "M100,200 C100,100 250,100 250,200 S400,300 400,200 L 250,900 z",
        "M200,300 Q400,50 600,300 T1000,300 L 600 900 z",
        "m10,10h30v20c-10,10-20,10-30,0z",
        "M 0 0 c 40 -60 200 -60 240 0 s 60 90 0 120 q -120 60 -240 0 t 0 -120 z",
    ] {
        let expected = BezPath::from_svg(data).unwrap().area().abs();
        assert_near(read(data).area(), expected, data);
    }
}

#[test]
fn the_unit_scales_everything() {
    let inches = Curve::from_svg_path("M 0 0 H 4 A 1 1 0 0 1 4 2 H 0 Z", 25.4).unwrap();
    assert_near(inches.area(), (8.0 + PI / 2.0) * 25.4 * 25.4, "area in mm²");
}

#[test]
fn the_largest_subpath_is_the_piece_and_the_others_are_holes() {
    let curve = read("M 10 10 h 5 v 5 h -5 z M 0 0 H 100 V 100 H 0 Z m 50 50 h 20 v 20 h -20 z");
    let outline = curve.flatten().unwrap();
    assert_eq!(outline.polygon().interiors().len(), 2);
    assert_eq!(outline.area(), 10_000.0 - 25.0 - 400.0);
    assert_eq!(curve.edge_count(), 4);
    // §8.3.3: after Z the next subpath starts where the last one did, even without M.
    let fault = read("M 0 0 H 100 V 100 Z L 20 5 L 20 10 Z").flatten().unwrap_err();
    assert_eq!(fault.to_string().split(" at ").next(), Some("hole 1 touches the outer ring"));
}

#[test]
fn an_outline_that_ends_where_it_began_needs_no_z() {
    assert_eq!(read("M 0 0 L 30 0 L 30 20 L 0 0"), read("M 0 0 L 30 0 L 30 20 Z"));
    let relative = read("m 0.1 0.2 l 0.1 0 l 0.2 0.7 l -0.3 -0.7");
    assert_eq!(relative.edge_count(), 3, "sums of decimals that miss the start by a rounding still close");
}

#[test]
fn faults_say_what_is_wrong_and_where() {
    let cases = [
        ("", 0, "the path draws nothing"),
        ("   ", 0, "the path draws nothing"),
        ("M 0 0 M 5 5", 0, "the path draws nothing"),
        ("L 10 10 Z", 0, "begins with M or m, not with “L”"),
        (" circle 5", 1, "begins with M or m, not with “circle”"),
        ("M 0 0 L 10 0 x 5", 13, "“x” stands where a command letter"),
        ("M 0 0 L 10 abc Z", 11, "“abc” stands where a finite number"),
        ("M 0 0 L 1e400 5 Z", 8, "“1e400” stands where a finite number"),
        ("M 0 0 L NaN 5 Z", 8, "“NaN” stands where a finite number"),
        ("M 0 0 L 10", 10, "ends too early"),
        ("M 0 0 A 5 5 0 2 1 10 10 Z", 14, "“2” stands where"),
        ("M 0 0 L 30 0 L 30 20", 0, "close it with Z"),
        ("M 0 0 H 9 V 9 Z M 20 0 L 30 0 L 30 20", 16, "it starts at (20, 0) and ends at (30, 20); close it with Z"),
        ("M 0 0 L 1 1 L 5 0 M 20 0 h 3 v 3 z", 0, "close it with Z"),
    ];
    for (data, at, message) in cases {
        let fault = Curve::from_svg_path(data, 1.0).expect_err(data);
        assert_eq!(fault.at, at, "{data}: {fault}");
        assert!(fault.to_string().contains(message), "{data}: {fault}");
        assert!(fault.to_string().contains(&format!("character {}", at + 1)), "{data}: {fault}");
    }
}

#[test]
fn places_are_counted_in_characters_and_not_in_bytes() {
    let fault = Curve::from_svg_path("M 0 0 L ½ 5 Z", 1.0).unwrap_err();
    assert_eq!(fault.at, 8);
    assert!(fault.message.contains("½"), "{fault}");
}
