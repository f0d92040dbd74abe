//! Laps, tapes, seams and cloth classes against the figures of their sources.
//!
//! *AC* is AC 43.13-1B with Change 1, chapter 2; *manual* is an FAA-approved covering manual for polyester cloth, 2008.

use clothwright::covering::{RuleBook, RuleUsed, class_needed, cover, lap_over, notches};
use clothwright::job::{self, ClothClass, Job, Location, MemberClass, Method, RuleFigure, Surface, Words};
use clothwright::units::{Speed, Units};

const IN: f64 = 25.4;

/// Inches in a length in millimetres.
fn inches(mm: f64) -> f64 {
    Units::In.from_mm(mm)
}

fn job(method: &str, vne: &str, more: &str) -> Job {
    let text = format!(
        r#"{{ "format": 1, "units": "in", "cloth": [{{ "name": "roll", "width": 70 }}],
            "rules": {{ "method": "{method}", "vne": "{vne}", "wing_loading": "8.9 lb/ft2" {more} }},
            "pieces": [{{ "name": "patch", "outline": {{ "circle": 6 }} }}] }}"#
    );
    job::read_text("rules.json", &text).unwrap().job
}

fn figure(job: &Job, figure: RuleFigure, location: Location) -> RuleUsed {
    RuleBook::new(job.rules.as_ref().unwrap()).figure(figure, location).unwrap()
}

/// Lap and tape in inches.
fn lap_and_tape(method: &str, vne: &str, location: Location) -> (f64, f64) {
    let job = job(method, vne, "");
    let used = |which| inches(figure(&job, which, location).used);
    (used(RuleFigure::Lap), used(RuleFigure::Tape))
}

#[test]
fn doped_laps_and_tapes_are_those_of_the_advisory_circular() {
    use Location as L;
    // Paragraph, Vne, place, lap, tape.
    let published = [
        ("2-7b(4)", "140 mph", L::WingLeadingEdge, (2.0, 3.0)),
        ("2-7b(1)", "180 mph", L::WingLeadingEdge, (4.0, 4.0)),
        ("2-7b(2)", "180 mph", L::WingTrailingEdge, (3.0, 4.0)),
        ("2-7b(5)", "120 mph", L::WingTrailingEdge, (1.0, 3.0)),
        ("2-7b(5)", "120 mph", L::WingTip, (1.0, 3.0)),
        ("2-7b(3)", "151 mph", L::WingTip, (2.0, 3.0)),
        ("2-7b(5)", "120 mph", L::WingButt, (1.0, 3.0)),
        ("2-7b(3)", "151 mph", L::WingButt, (2.0, 3.0)),
        ("2-7b(5)", "120 mph", L::ControlSurface, (1.0, 3.0)),
        ("2-7b(3)", "151 mph", L::ControlSurface, (2.0, 3.0)),
        ("2-7b(5)", "120 mph", L::Empennage, (1.0, 3.0)),
        ("2-7b(3)", "151 mph", L::Empennage, (2.0, 3.0)),
        ("2-7b(5)", "120 mph", L::Fuselage, (1.0, 3.0)),
        ("2-7b(3)", "151 mph", L::Fuselage, (2.0, 3.0)),
    ];
    for (paragraph, vne, location, wanted) in published {
        assert_eq!(lap_and_tape("doped", vne, location), wanted, "AC {paragraph}, {vne}, {}", location.word());
        let source = figure(&job("doped", vne, ""), RuleFigure::Lap, location).source;
        assert!(source.contains(paragraph), "{source} should name {paragraph}");
    }
}

#[test]
fn at_exactly_the_limit_the_default_is_the_sources_and_the_stricter_is_used() {
    // AC 2-7b(4) includes 150 mph, so lap 2 in and tape 3 in are the default; the stricter 4 in of 2-7b(1) are used, and
    // the reason is told.
    for vne in ["150 mph", "241.4016 km/h"] {
        let job = job("doped", vne, "");
        let lap = figure(&job, RuleFigure::Lap, Location::WingLeadingEdge);
        let tape = figure(&job, RuleFigure::Tape, Location::WingLeadingEdge);
        assert_eq!((lap.default.map(inches), tape.default.map(inches)), (Some(2.0), Some(3.0)));
        assert_eq!((inches(lap.used), inches(tape.used)), (4.0, 4.0));
        assert!(lap.why.unwrap().contains("exactly the limit of 150 mph"));
    }
    let below = figure(&job("doped", "149.99 mph", ""), RuleFigure::Lap, Location::WingLeadingEdge);
    assert_eq!((below.used, below.why), (2.0 * IN, None));
}

#[test]
fn speeds_in_other_units_fall_into_the_same_rows() {
    // 130 kn are 149.6 mph, 131 kn are 150.8 mph (NIST SP 811, appendix B.8: 1 kn = 1.852 km/h, 1 mile = 1.609344 km).
    assert_eq!(lap_and_tape("doped", "130 kn", Location::Empennage), (1.0, 3.0));
    assert_eq!(lap_and_tape("doped", "131 kn", Location::Empennage), (2.0, 3.0));
}

#[test]
fn cemented_laps_do_not_depend_on_speed() {
    // Manual p. 15: 2 in at the leading edge, 1 in everywhere else; tape 2 in.
    for vne in ["60 mph", "150 mph", "240 mph"] {
        use Location as L;
        let edges = [L::WingTrailingEdge, L::WingTip, L::WingButt, L::ControlSurface, L::Empennage, L::Fuselage];
        assert_eq!(lap_and_tape("cemented", vne, L::WingLeadingEdge), (2.0, 2.0), "{vne}");
        for location in edges {
            assert_eq!(lap_and_tape("cemented", vne, location), (1.0, 2.0), "{} at {vne}", location.word());
        }
    }
}

/// Approved covering manual pp. 20-21: at least 1 in is folded down inside the recess of a control surface.
#[test]
fn whatever_joins_the_cloth_an_inch_is_folded_into_a_recess() {
    for method in ["doped", "cemented", "sewn"] {
        let job = job(method, "120 mph", "");
        assert_eq!(inches(figure(&job, RuleFigure::Fold, Location::Recess).used), 1.0, "{method}");
    }
}

#[test]
fn sewn_seams_have_their_tape_and_margins_and_no_lap() {
    let job = job("sewn", "120 mph", "");
    let tape = |location| inches(figure(&job, RuleFigure::Tape, location).used);
    // AC 2-7a(4), (5), (6) and (7).
    assert_eq!(tape(Location::WingLeadingEdge), 4.0);
    assert_eq!(tape(Location::WingTrailingEdge), 3.0);
    assert_eq!(tape(Location::ControlSurface), 3.0);
    assert_eq!(tape(Location::PanelSeam), 3.0);
    // Manual p. 81: a plain overlap seam is 1/2 in wide, so each side goes 1/4 in past its line; so does the flange of a
    // single-stitch closing seam.
    assert_eq!(inches(figure(&job, RuleFigure::Margin, Location::PanelSeam).used), 0.25);
    assert_eq!(inches(figure(&job, RuleFigure::Margin, Location::Empennage).used), 0.25);
    let none = RuleBook::new(job.rules.as_ref().unwrap()).figure(RuleFigure::Lap, Location::WingTip).unwrap_err();
    assert_eq!(none.to_string(), "the rules for sewn covering have no lap at the wing tip");
}

#[test]
fn tape_over_sewn_trailing_edges_of_fast_aircraft_is_notched() {
    // AC 2-7a(5): 48 in at no more than 6 in apart leaves 7 notches between the ends; 1 in by 1/4 in.
    let found = notches(Speed::mph(210.0), 48.0 * IN, 3.0 * IN).unwrap();
    assert_eq!((found.on_each_edge, found.depth, found.width), (7, 1.0 * IN, 0.25 * IN));
    assert_eq!(found.spacing, 6.0 * IN);
    // Tape narrower than 3 in: a third of its width, 0.667 in.
    let narrow = notches(Speed::mph(210.0), 48.0 * IN, 2.0 * IN).unwrap();
    assert!((narrow.depth - 16.933).abs() < 0.001);
    assert_eq!(notches(Speed::mph(200.0), 48.0 * IN, 3.0 * IN), None);
}

#[test]
fn laps_lie_on_structure_only() {
    use MemberClass as M;
    // Manual pp. 15-16, 53; AC 2-8 NOTE.
    for method in [Method::Doped, Method::Cemented] {
        for (surface, class) in [
            (Surface::Fuselage, M::Stringer),
            (Surface::Fuselage, M::Former),
            (Surface::Wing, M::Rib),
            (Surface::Wing, M::Spar),
            (Surface::Wing, M::Longeron),
        ] {
            let refused = lap_over(method, surface, class).unwrap_err().to_string();
            assert!(refused.contains(class.word()) && refused.contains("sew the seam or move it"), "{refused}");
        }
        for (surface, class, location) in [
            (Surface::Fuselage, M::Longeron, Location::Fuselage),
            (Surface::Fuselage, M::CrossTube, Location::Fuselage),
            (Surface::Wing, M::LeadingEdge, Location::WingLeadingEdge),
            (Surface::Wing, M::TrailingEdge, Location::WingTrailingEdge),
            (Surface::Wing, M::TipBow, Location::WingTip),
            (Surface::Wing, M::ButtRib, Location::WingButt),
            (Surface::Empennage, M::TrailingEdge, Location::Empennage),
        ] {
            assert_eq!(lap_over(method, surface, class), Ok(location));
        }
    }
    assert!(lap_over(Method::Sewn, Surface::Fuselage, M::Longeron).is_err());
}

#[test]
fn longerons_have_the_figures_of_the_fuselage() {
    // AC 2-7b(5) and (3): lap 1 in up to 150 mph, 2 in above; tape 3 in.
    let place = lap_over(Method::Doped, Surface::Fuselage, MemberClass::Longeron).unwrap();
    assert_eq!(lap_and_tape("doped", "120 mph", place), (1.0, 3.0));
    assert_eq!(lap_and_tape("doped", "151 mph", place), (2.0, 3.0));
}

#[test]
fn cloth_classes_are_those_of_table_2_1() {
    // Wing loading, Vne, glider, class, strength new and in service (AC table 2-1, 2-33b, 2-33c).
    let published = [
        ("9 lb/ft2", "120 mph", false, ClothClass::GradeA, 80.0, 56.0),
        ("8.9 lb/ft2", "159 mph", false, ClothClass::Intermediate, 65.0, 46.0),
        ("8.9 lb/ft2", "160 mph", false, ClothClass::GradeA, 80.0, 56.0),
        ("8 lb/ft2", "135 mph", true, ClothClass::Light, 50.0, 35.0),
        ("8 lb/ft2", "136 mph", true, ClothClass::Intermediate, 65.0, 46.0),
        ("8.1 lb/ft2", "135 mph", true, ClothClass::Intermediate, 65.0, 46.0),
        ("8 lb/ft2", "135 mph", false, ClothClass::Intermediate, 65.0, 46.0),
    ];
    for (loading, vne, glider, class, new, in_service) in published {
        let mut rules = job("doped", vne, &format!(", \"glider\": {glider}")).rules.unwrap();
        rules.wing_loading = clothwright::units::WingLoading::parse(loading).unwrap();
        let needed = class_needed(&rules);
        assert_eq!((needed.class, needed.new, needed.in_service), (class, new, in_service), "{loading}, {vne}");
    }
}

#[test]
fn weaker_cloth_than_needed_is_a_caution() {
    let weak = cover(&job("doped", "165 mph", ", \"cloth_class\": \"intermediate\"")).unwrap();
    assert!(weak.cautions.iter().any(|caution| caution.contains("needs grade A cloth, 80 lb/in")), "{weak:?}");
    assert!(cover(&job("doped", "165 mph", ", \"cloth_class\": \"grade A\"")).unwrap().cautions.is_empty());
}

#[test]
fn a_figure_of_ones_own_stands_beside_the_default() {
    let own =
        r#", "figures": [{ "figure": "lap", "at": "wing tip", "value": 3, "why": "manual of the Dunlin, p. 12" }]"#;
    let lap = figure(&job("doped", "120 mph", own), RuleFigure::Lap, Location::WingTip);
    assert_eq!((inches(lap.used), lap.default), (3.0, Some(1.0 * IN)));
    assert_eq!((lap.source.as_str(), lap.why.as_deref()), ("AC 2-7b(5)", Some("manual of the Dunlin, p. 12")));
    // Where the rules have nothing, the person's figure is all there is.
    let lap = figure(&job("sewn", "120 mph", own), RuleFigure::Lap, Location::WingTip);
    assert_eq!((inches(lap.used), lap.default), (3.0, None));
}
