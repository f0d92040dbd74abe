//! How far apart the attachments of a rib are: the maker's own spacing, or figure 2-12 where that is unknown.

use thiserror::Error;

use super::chart::{Airflow, BeyondChart, figure_2_12};
use crate::covering::rules::WorkedOut;
use crate::covering::{RuleBook, RuleUsed};
use crate::job::{Location, RuleFigure, Words};
use crate::units::inches;

/// The chart is read down to this step, so that nobody laces wider than it says.
const STEP: f64 = inches(0.1);

/// No spacing is known.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum NoSpacing {
    /// The chart ends before this speed.
    #[error("{0}: give the maker's own spacing at the {place} and say where it comes from, or obtain approved data", place = .1.word())]
    BeyondChart(BeyondChart, Location),
    /// Nothing is laced there.
    #[error("the rules have no spacing of attachments at the {}", .0.word())]
    NotAttached(Location),
}

/// The greatest spacing of laces, screws, rivets or clips at a place.
///
/// The maker's own spacing is used where the person gives it (`figures`: `spacing`), for AC 43.13-1B 2-11a takes the
/// chart only where that is unknown; what the chart has stands beside it as the default. [`Location::Rib`] is outside the
/// slipstream. Tail surfaces, the fuselage: up to twice the value in the slipstream (AC 2-11b). Rounded down to 0.1 in.
///
/// # Errors
/// [`NoSpacing`] where neither the person nor the chart has one.
pub fn lace_spacing(book: &RuleBook, location: Location) -> Result<RuleUsed, NoSpacing> {
    let (airflow, times, source) = match location {
        Location::SlipstreamRib => (Airflow::Slipstream, 1.0, "AC figure 2-12, in the slipstream; 2-11a"),
        Location::Rib => (Airflow::Free, 1.0, "AC figure 2-12, outside the slipstream; 2-11a"),
        Location::Empennage | Location::Fuselage => {
            (Airflow::Slipstream, 2.0, "AC 2-11b: twice the value of figure 2-12 in the slipstream")
        }
        _ => return Err(NoSpacing::NotAttached(location)),
    };
    let chart = figure_2_12(book.vne(), airflow).map(|spacing| libm::floor(spacing * times / STEP + 1e-6) * STEP);
    let own = book.own(RuleFigure::Spacing, location);
    let worked_out = match (chart, own) {
        (Ok(chart), _) => WorkedOut { default: Some(chart), used: chart, source: source.to_owned(), gap: None },
        (Err(beyond), Some(own)) => {
            WorkedOut { default: None, used: own.value, source: format!("your own figure; {beyond}"), gap: None }
        }
        (Err(beyond), None) => return Err(NoSpacing::BeyondChart(beyond, location)),
    };
    Ok(book.own_or(RuleFigure::Spacing, location, worked_out))
}
