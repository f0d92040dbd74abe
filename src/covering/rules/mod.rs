//! The figures that laps, tapes and sewn seams must have, each with its source, and the person's own in their place.
//!
//! ```
//! use clothwright::covering::RuleBook;
//! use clothwright::job::{self, Location, RuleFigure};
//!
//! let text = r#"{ "format": 1, "units": "in", "cloth": [{ "name": "roll", "width": 70 }],
//!     "rules": { "method": "doped", "vne": "180 mph", "wing_loading": "8 lb/ft2" },
//!     "pieces": [{ "name": "patch", "outline": { "circle": 6 } }] }"#;
//! let job = job::read_text("tail.json", text)?.job;
//! let book = RuleBook::new(job.rules.as_ref().ok_or("no rules")?);
//!
//! let lap = book.figure(RuleFigure::Lap, Location::WingLeadingEdge)?;
//! assert_eq!((lap.used, lap.source.as_str()), (4.0 * 25.4, "AC 2-7b(1)"));
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

mod cloth_class;
mod dressing_table;
mod notches;
mod places;
mod table;

use thiserror::Error;

use crate::job::{Attachment, Location, Method, OwnFigure, RuleFigure, Rules, Words};
use crate::units::Speed;

pub use cloth_class::{ClassNeeded, class_needed};
use dressing_table::DRESSING;
pub use notches::{Notches, notches};
pub use places::{NotStructure, lap_over};
use table::{LIMIT, RULES, Rule, When};

/// The rules of a job, ready to be asked.
#[derive(Clone, Copy, Debug)]
pub struct RuleBook<'r> {
    rules: &'r Rules,
}

/// A figure with where it comes from. Lengths in millimetres.
#[derive(Clone, Debug, PartialEq)]
pub struct RuleUsed {
    /// Which figure.
    pub figure: RuleFigure,
    /// Where on the aircraft.
    pub location: Location,
    /// What is used.
    pub used: f64,
    /// What the set of rules gives; `None` where it has nothing and the person gave a figure.
    pub default: Option<f64>,
    /// Where the default comes from, or that the figure is the person's own.
    pub source: String,
    /// Why the figure used is not the default.
    pub why: Option<String>,
}

impl RuleUsed {
    /// Where the figure comes from, with the reason where it is not the default.
    pub fn source_in_words(&self) -> String {
        match &self.why {
            Some(why) => format!("{}; {why}", self.source),
            None => self.source.clone(),
        }
    }
}

/// A figure worked out from more than place and speed. Lengths in millimetres.
#[derive(Clone, Debug, PartialEq)]
pub struct WorkedOut {
    /// What the source gives; `None` where it has nothing.
    pub default: Option<f64>,
    /// What is used where the person has no figure of their own.
    pub used: f64,
    /// Where it comes from.
    pub source: String,
    /// Why what is used is not what the source gives.
    pub gap: Option<String>,
}

/// A set of rules has no figure for a place.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
#[error("the rules for {} covering have no {} at the {}", .method.word(), .figure.word(), .location.word())]
pub struct NoRule {
    /// The set of rules.
    pub method: Method,
    /// What was asked for.
    pub figure: RuleFigure,
    /// Where.
    pub location: Location,
}

impl<'r> RuleBook<'r> {
    /// The rules of a job.
    pub fn new(rules: &'r Rules) -> Self {
        Self { rules }
    }

    /// How cloth is joined.
    pub fn method(&self) -> Method {
        self.rules.method
    }

    /// Never-exceed speed.
    pub fn vne(&self) -> Speed {
        self.rules.vne
    }

    /// What holds the cloth to ribs.
    pub fn attachment(&self) -> Attachment {
        self.rules.attachment
    }

    /// A figure that no table has, since it hangs on more than place and speed: the person's own, or the one worked out.
    ///
    /// `worked_out` is the figure in millimetres with its source, `gap` why the source's own figure is not it.
    pub fn own_or(&self, figure: RuleFigure, location: Location, worked_out: WorkedOut) -> RuleUsed {
        let WorkedOut { default, used, source, gap } = worked_out;
        match self.own(figure, location) {
            Some(own) => RuleUsed { used: own.value, why: Some(own.why.clone()), figure, location, default, source },
            None => RuleUsed { figure, location, used, default, source, why: gap },
        }
    }

    /// The person's own figure for a place.
    pub fn own(&self, figure: RuleFigure, location: Location) -> Option<&'r OwnFigure> {
        self.rules.figures.iter().find(|own| (own.figure, own.location) == (figure, location))
    }

    /// The figure for a place: the person's own, or the rule's; at exactly a limit of speed the stricter one.
    ///
    /// # Errors
    /// [`NoRule`] where neither has a figure: nothing is taken in silence.
    pub fn figure(&self, figure: RuleFigure, location: Location) -> Result<RuleUsed, NoRule> {
        let own = self.own(figure, location);
        let found: Vec<&Rule> =
            RULES.iter().chain(DRESSING).filter(|rule| self.is_about(rule, figure, location)).collect();
        let default = found.iter().find(|rule| self.holds(rule.when));
        match (own, default) {
            (Some(own), default) => Ok(own_figure(own, default.copied())),
            (None, Some(default)) => Ok(self.by_rule(default, &found)),
            (None, None) => Err(NoRule { method: self.rules.method, figure, location }),
        }
    }

    fn is_about(&self, rule: &Rule, figure: RuleFigure, location: Location) -> bool {
        rule.figure == figure && rule.at == location && rule.method.is_none_or(|method| method == self.rules.method)
    }

    fn holds(&self, when: When) -> bool {
        match when {
            When::Always => true,
            When::Slow => self.rules.vne.below(LIMIT) || self.at_limit(),
            When::Fast => LIMIT.below(self.rules.vne),
        }
    }

    fn at_limit(&self) -> bool {
        self.rules.vne.equals(LIMIT)
    }

    fn by_rule(&self, default: &Rule, found: &[&Rule]) -> RuleUsed {
        let strictest = found.iter().map(|rule| rule.value).fold(default.value, f64::max);
        let stricter = self.at_limit() && strictest > default.value;
        RuleUsed {
            figure: default.figure,
            location: default.at,
            used: if stricter { strictest } else { default.value },
            default: Some(default.value),
            source: default.source.to_owned(),
            why: stricter.then(|| format!("Vne is exactly the limit of {LIMIT}: the stricter figure is taken")),
        }
    }
}

fn own_figure(own: &OwnFigure, default: Option<&Rule>) -> RuleUsed {
    RuleUsed {
        figure: own.figure,
        location: own.location,
        used: own.value,
        default: default.map(|rule| rule.value),
        source: default.map_or("your own figure, the rules have none".to_owned(), |rule| rule.source.to_owned()),
        why: Some(own.why.clone()),
    }
}
