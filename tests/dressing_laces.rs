//! How far apart ribs are laced, and where: against figure 2-12 of AC 43.13-1B and worked examples of an approved manual.

use clothwright::covering::dressing::{
    Airflow, NoSpacing, attachment_caution, cord_of_rib, figure_2_12, lace_spacing, laces,
};
use clothwright::covering::{RuleBook, RuleUsed, cover};
use clothwright::job::{self, Attachment, Job, Location};
use clothwright::units::Speed;
use proptest::prelude::*;

const IN: f64 = 25.4;

fn job(vne: &str, more: &str) -> Job {
    let text = format!(
        r#"{{ "format": 1, "units": "in", "cloth": [{{ "name": "roll", "width": 70 }}],
            "rules": {{ "method": "cemented", "vne": "{vne}", "wing_loading": "8.9 lb/ft2" {more} }},
            "pieces": [{{ "name": "patch", "outline": {{ "circle": 6 }} }}] }}"#
    );
    job::read_text("rules.json", &text).unwrap().job
}

fn spacing(job: &Job, location: Location) -> Result<RuleUsed, NoSpacing> {
    lace_spacing(&RuleBook::new(job.rules.as_ref().unwrap()), location)
}

fn inches(vne: &str, location: Location) -> f64 {
    spacing(&job(vne, ""), location).unwrap().used / IN
}

fn close(a: f64, b: f64) -> bool {
    (a - b).abs() < 1e-9
}

#[test]
fn the_chart_gives_the_worked_examples() {
    // Manual pp. 27-28: 115 mph: 2.5 and 3.5 in.
    assert!(close(inches("115 mph", Location::SlipstreamRib), 2.5));
    assert!(close(inches("115 mph", Location::Rib), 3.5));
    // Figure 2-12 read at 200 mph: 1.83 and 2.44 in, rounded down.
    assert!(close(inches("200 mph", Location::SlipstreamRib), 1.8));
    assert!(close(inches("200 mph", Location::Rib), 2.4));
    // AC 2-11b: tail and fuselage twice the value in the slipstream: 5.0 in at 150 mph, 4.54 in at 180 mph.
    assert!(close(inches("150 mph", Location::Empennage), 5.0));
    assert!(close(inches("180 mph", Location::Fuselage), 4.5));
}

#[test]
fn the_chart_is_straight_between_its_points_and_ends() {
    let at = |mph: f64, airflow| figure_2_12(Speed::mph(mph), airflow).map(|mm| mm / IN);
    // Figure 2-12, points read off, and half way between 200 and 205 mph.
    for (mph, slipstream, free) in [(175.0, 2.39, 3.22), (190.0, 2.04, 2.74), (225.0, 1.28, 1.68), (240.0, 1.0, 1.26)] {
        assert!(close(at(mph, Airflow::Slipstream).unwrap(), slipstream), "{mph}");
        assert!(close(at(mph, Airflow::Free).unwrap(), free), "{mph}");
    }
    assert!(close(at(202.5, Airflow::Slipstream).unwrap(), 1.77));
    assert!(close(at(248.0, Airflow::Free).unwrap(), 1.0));
    assert!(at(241.0, Airflow::Slipstream).is_err() && at(249.0, Airflow::Free).is_err());
    let none = spacing(&job("260 mph", ""), Location::Rib).unwrap_err().to_string();
    assert!(none.contains("has no spacing for a Vne of 260 mph") && none.contains("obtain approved data"), "{none}");
    assert!(matches!(spacing(&job("120 mph", ""), Location::Stringer), Err(NoSpacing::NotAttached(_))));
}

#[test]
fn the_makers_own_spacing_comes_first() {
    // AC 2-11a: the chart only where the maker's spacing is unknown.
    let own = r#", "figures": [{ "figure": "spacing", "at": "rib", "value": 3, "why": "maker's drawing 12" }]"#;
    let used = spacing(&job("120 mph", own), Location::Rib).unwrap();
    assert!(close(used.used, 3.0 * IN) && close(used.default.unwrap(), 3.5 * IN));
    assert!(used.source.contains("figure 2-12") && used.why.as_deref() == Some("maker's drawing 12"));
    let beyond = spacing(&job("260 mph", own), Location::Rib).unwrap();
    assert!(close(beyond.used, 3.0 * IN) && beyond.default.is_none());
}

#[test]
fn fifty_inches_at_two_and_a_half_have_twenty_laces() {
    // AC 2-10 NOTE (first at half the spacing), manual p. 28 (last no farther than one spacing); derived: 20 laces.
    let found = laces(50.0 * IN, 2.5 * IN);
    assert_eq!(found.at.len(), 20);
    assert!(close(found.at[0] / IN, 1.25) && close(found.at[1] / IN, 3.75) && close(found.at[19] / IN, 48.75));
    assert!(close(found.first_to_last() / IN, 47.5) && close(found.to_trailing_edge / IN, 1.25));
    // Common practice, no source: 20 × (2 × 0.5 + 2 × 6 + 2.5) + 24 = 334 in.
    let cord = cord_of_rib(Attachment::Lacing, &found, 0.5 * IN, 6.0 * IN).unwrap();
    assert!(close(cord.length / IN, 334.0));
    assert_eq!(cord_of_rib(Attachment::Rivets, &found, 0.5 * IN, 6.0 * IN), None);
}

#[test]
fn a_wing_held_by_nothing_but_cement_is_cautioned() {
    let asked = |more: &str| {
        let job = job("120 mph", more);
        attachment_caution(&RuleBook::new(job.rules.as_ref().unwrap()))
    };
    assert_eq!(asked(""), None);
    // Manual pp. 26-27; AC 2-10a.
    assert!(asked(r#", "attachment": "none""#).unwrap().contains("strongly advised"));
    assert!(asked(r#", "attachment": "rivets""#).unwrap().contains("major alteration"));
    let with_part = r#"{ "format": 1, "units": "mm", "cloth": [{ "name": "roll", "width": 1780 }],
        "rules": { "method": "cemented", "vne": "120 mph", "wing_loading": "5 lb/ft2", "attachment": "none" },
        "airframe": [{ "name": "fin", "kind": "flat", "surface": "empennage", "tube": 19, "outline": { "rect": [500, 700] } }] }"#;
    let covering = cover(&job::read_text("fin.json", with_part).unwrap().job).unwrap();
    assert!(covering.cautions.iter().any(|caution| caution.contains("resists shear, not peel")));
}

proptest! {
    /// AC 2-10 NOTE and 2-11a, manual p. 28: no gap is wider than it may be, and every lace lies on the rib.
    #[test]
    fn no_gap_is_too_wide_and_no_lace_too_many(length in 10.0..3000.0_f64, spacing in 20.0..130.0_f64) {
        let found = laces(length, spacing);
        prop_assert!(found.at[0] <= spacing / 2.0 + 1e-9);
        prop_assert!(found.at.windows(2).all(|pair| pair[1] - pair[0] <= spacing + 1e-9));
        // A lace at or past the trailing edge would be one too many.
        prop_assert!((1e-9..=spacing + 1e-6).contains(&found.to_trailing_edge));
    }

    /// The chart never rises with speed, and what is used is never above it.
    #[test]
    fn faster_is_never_wider(mph in 60.0..235.0_f64, more in 0.0..5.0_f64) {
        for airflow in [Airflow::Slipstream, Airflow::Free] {
            let [slow, fast] = [mph, mph + more].map(|mph| figure_2_12(Speed::mph(mph), airflow).unwrap());
            prop_assert!(fast <= slow + 1e-9);
        }
        let used = spacing(&job(&format!("{mph} mph"), ""), Location::Rib).unwrap().used;
        prop_assert!(used <= figure_2_12(Speed::mph(mph), Airflow::Free).unwrap() + 1e-3);
    }
}
