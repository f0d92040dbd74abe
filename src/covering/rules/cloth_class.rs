//! Which strength class of cloth an aircraft needs: AC 43.13-1B table 2-1 and paragraph 2-33.

use crate::job::{ClothClass, Rules};
use crate::units::{Speed, WingLoading};

/// From here on, wing loading and Vne each need grade A, AC table 2-1.
const GRADE_A: (WingLoading, Speed) = (WingLoading::lb_ft2(9.0), Speed::mph(160.0));
/// Up to here, wing loading and Vne together let a glider do with light cloth, AC 2-33c, the limits included. A reprint
/// of FAA-H-8083-31 has "or" here; "and" is the stricter.
const LIGHT: (WingLoading, Speed) = (WingLoading::lb_ft2(8.0), Speed::mph(135.0));

/// The class of cloth that an aircraft needs.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ClassNeeded {
    /// The weakest class that may be used.
    pub class: ClothClass,
    /// Strength of new cloth, warp and fill, at least; pounds an inch of width.
    pub new: f64,
    /// Strength below which cloth in service is not airworthy; pounds an inch of width.
    pub in_service: f64,
    /// Where this comes from.
    pub source: &'static str,
}

/// The class of cloth for a wing loading and a Vne.
pub fn class_needed(rules: &Rules) -> ClassNeeded {
    let exceeds = |loading: WingLoading, vne: Speed| loading.below(rules.wing_loading) || vne.below(rules.vne);
    let needs_grade_a = !rules.wing_loading.below(GRADE_A.0) || !rules.vne.below(GRADE_A.1);
    if needs_grade_a {
        let source = "AC table 2-1, 2-33b: wing loading of 9 lb/ft² or Vne of 160 mph, or more";
        ClassNeeded { class: ClothClass::GradeA, new: 80.0, in_service: 56.0, source }
    } else if rules.glider && !exceeds(LIGHT.0, LIGHT.1) {
        let source = "AC 2-33c: glider, wing loading of 8 lb/ft² and Vne of 135 mph, or less";
        ClassNeeded { class: ClothClass::Light, new: 50.0, in_service: 35.0, source }
    } else {
        let source = "AC table 2-1: wing loading below 9 lb/ft² and Vne below 160 mph";
        ClassNeeded { class: ClothClass::Intermediate, new: 65.0, in_service: 46.0, source }
    }
}
