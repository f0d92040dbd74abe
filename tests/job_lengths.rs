//! Lengths are read and written as people write them, and a unit is exactly what the standard says it is.

use clothwright::units::{Units, parse_length, parse_length_in, trimmed};
use proptest::prelude::*;

/// NIST Special Publication 811 (2008), appendix B.8, factors in bold (exact): inch 2.54 E+01 mm, foot 3.048 E-01 m,
/// yard 9.144 E-01 m. Metric prefixes: the same publication, table 5.
#[test]
fn units_have_the_factors_of_nist_sp_811() {
    for (text, mm) in [
        ("1 in", 25.4),
        ("1 ft", 304.8),
        ("1 yd", 914.4),
        ("1 mm", 1.0),
        ("1 cm", 10.0),
        ("1 m", 1000.0),
        ("1 inch", 25.4),
        ("1 inches", 25.4),
        ("1 foot", 304.8),
        ("1 feet", 304.8),
        ("1 yard", 914.4),
        ("1\"", 25.4),
        ("1'", 304.8),
    ] {
        assert_eq!(parse_length(text), Ok(mm), "{text}");
    }
    for (units, mm) in [(Units::Mm, 1.0), (Units::Cm, 10.0), (Units::M, 1000.0), (Units::In, 25.4), (Units::Ft, 304.8)]
    {
        assert_eq!(units.to_mm(1.0), mm);
        assert_eq!(units.from_mm(mm), 1.0);
    }
}

#[test]
fn a_length_may_be_written_in_many_ways() {
    for (text, mm) in [
        ("3-1/2 in", 88.9),
        ("3 1/2 in", 88.9),
        ("3½ in", 88.9),
        ("3-1/2\"", 88.9),
        ("3.5in", 88.9),
        ("3/8 in", 9.525),
        ("⅜\"", 9.525),
        ("90 cm", 900.0),
        ("1.2 m", 1200.0),
        ("12'6\"", 3810.0),
        ("12' 6-1/2\"", 3822.7),
        ("12'-6\"", 3810.0),
        ("12′ 6½″", 3822.7),
        ("12 ft 6 1/2 in", 3822.7),
        ("5 ft", 1524.0),
        ("5 FT.", 1524.0),
        ("2 yd", 1828.8),
        ("2 yd 1 ft 1 in", 2159.0),
        ("1 m 20 cm 5 mm", 1205.0),
        ("  70 in ", 1778.0),
        ("-1/2 in", -12.7),
        ("−12'6\"", -3810.0),
        ("0 mm", 0.0),
        (".5 in", 12.7),
    ] {
        assert_eq!(parse_length(text), Ok(mm), "{text}");
    }
}

#[test]
fn what_is_no_length_is_named() {
    for (text, words) in [
        ("", "is not a length"),
        ("-", "is not a length"),
        ("wide", "a number is missing"),
        ("in 5", "a number is missing"),
        ("NaN", "is not a finite number"),
        ("-inf", "is not a finite number"),
        ("90", "has no unit"),
        ("3-1/2", "has no unit"),
        ("90 km", "\"km\" in \"90 km\" is not a unit of length"),
        ("90 µm", "is not a unit of length"),
        ("90 #", "is not a unit of length"),
        ("1,5 m", "has a comma"),
        ("1.2.3 m", "is not a number"),
        ("1/0 in", "divides by zero"),
        ("1/ in", "is not a number"),
        ("6 in 1 ft", "from a large unit to a smaller one"),
        ("1 ft 1 ft", "from a large unit to a smaller one"),
        ("1 m 3 in", "from a large unit to a smaller one"),
        ("12' 6", "has no unit at its end"),
        ("12' -", "a number is missing"),
        ("1e5 mm", "is not a unit of length"),
        (&format!("{} m", "9".repeat(400)), "too long for a length"),
    ] {
        let fault = parse_length(text).expect_err(text);
        assert!(fault.message.contains(words), "{text:?}: {}", fault.message);
        assert!(fault.hint.contains("mm"), "{text:?}: {}", fault.hint);
    }
}

#[test]
fn lengths_are_shown_in_the_unit_of_the_job() {
    for (units, mm, text) in [
        (Units::Mm, 165.0, "165 mm"),
        (Units::Mm, 88.94, "88.9 mm"),
        (Units::Mm, 1780.0, "1780 mm"),
        (Units::Cm, 165.1, "16.51 cm"),
        (Units::M, 1780.0, "1.78 m"),
        (Units::In, 88.9, "3-1/2 in"),
        (Units::In, 9.525, "3/8 in"),
        (Units::In, 1778.0, "70 in"),
        (Units::In, 100.0, "3.94 in"),
        (Units::In, -12.7, "-1/2 in"),
        (Units::Ft, 3822.7, "12 ft 6-1/2 in"),
        (Units::Ft, 3657.6, "12 ft"),
        (Units::Ft, 88.9, "3-1/2 in"),
        (Units::Ft, -3810.0, "-12 ft 6 in"),
        // A hair under a foot is a foot, not "11 ft 12 in".
        (Units::Ft, 3657.599, "12 ft"),
    ] {
        assert_eq!(units.show(mm), text);
    }
    assert_eq!(Units::Ft.show_number(3810.0), "12.5");
    assert_eq!(Units::In.show_number(88.9), "3-1/2");
}

#[test]
fn zero_has_no_sign() {
    for units in Units::ALL {
        for mm in [0.0, -0.0, 1e-6, -1e-6, -1e-12] {
            assert!(!units.show(mm).contains('-'), "{mm} {units:?}: {}", units.show(mm));
            assert!(!units.show_number(mm).contains('-'), "{mm} {units:?}");
        }
    }
    assert_eq!(trimmed(-0.0001, 3), "0");
    assert_eq!(trimmed(1.5, 3), "1.5");
    assert_eq!(trimmed(100.0, 0), "100");
}

#[test]
fn symbols_name_their_units() {
    for units in Units::ALL {
        assert_eq!(Units::from_symbol(units.symbol()), Some(units));
    }
    assert_eq!(Units::from_symbol("furlong"), None);
}

/// What a shown length may be off by: half of the last decimal.
fn rounding(units: Units) -> f64 {
    match units {
        Units::Mm | Units::Cm => 0.05,
        Units::M => 0.5,
        Units::In | Units::Ft => 0.127,
    }
}

proptest! {
    #[test]
    fn what_is_shown_can_be_read_again(mm in -100_000.0..100_000.0_f64, unit in 0..5_usize) {
        let units = Units::ALL[unit];
        let read = parse_length(&units.show(mm)).unwrap();
        prop_assert!((read - mm).abs() <= rounding(units) + 1e-9, "{} became {}", mm, units.show(mm));
    }

    #[test]
    fn sixteenths_of_an_inch_come_back_exactly(parts in -160_000..160_000_i32) {
        let mm = f64::from(parts) * 25.4 / 16.0;
        prop_assert!((parse_length(&Units::In.show(mm)).unwrap() - mm).abs() < 1e-9);
        prop_assert!((parse_length(&Units::Ft.show(mm)).unwrap() - mm).abs() < 1e-9);
    }

    #[test]
    fn no_text_makes_it_panic(text in "\\PC{0,20}") {
        let _ = parse_length(&text);
    }

    #[test]
    fn nothing_that_looks_like_a_length_makes_it_panic(text in "[-−0-9./ '\"½inftmcyd,]{0,12}") {
        if let Ok(mm) = parse_length(&text) {
            prop_assert!(mm.is_finite());
        }
    }
}

#[test]
fn a_missing_unit_is_advised_in_the_unit_of_the_job() {
    let hint = |job, text| parse_length_in(job, text).expect_err(text).hint;
    assert_eq!(hint(Units::In, "1/8"), "write \"1/8 in\"", "a fraction cannot stand without quotes");
    assert_eq!(hint(Units::Cm, " 60 "), "write \"60 cm\", or 60 without quotes");
}
