//! The search as a line on the terminal; nothing where the error stream is no terminal.

use indicatif::{ProgressBar, ProgressStyle};

use crate::nest::{Progress, Watch};
use crate::plan::percent;
use crate::units::Units;

use super::interrupt;

/// Shows how far the search has come, and passes Ctrl-C on to it.
pub(super) struct ShownProgress {
    bar: ProgressBar,
    units: Units,
}

/// Steps of the bar.
const STEPS: u64 = 1000;
const TEMPLATE: &str = "{bar:30} {percent:>3} %  {msg}";

impl ShownProgress {
    /// A bar at its beginning.
    pub fn new(units: Units) -> Self {
        let bar = ProgressBar::new(STEPS);
        if let Ok(style) = ProgressStyle::with_template(TEMPLATE) {
            bar.set_style(style);
        }
        Self { bar, units }
    }

    /// Takes the bar off the terminal.
    pub fn finish(&self) {
        self.bar.finish_and_clear();
    }
}

impl Watch for ShownProgress {
    fn interrupted(&self) -> bool {
        interrupt::asked()
    }

    fn report(&self, progress: Progress) {
        self.bar.set_position((progress.spent.clamp(0.0, 1.0) * STEPS as f64) as u64);
        let length = progress.length.map(|length| format!("length {}", self.units.show(length)));
        let density = progress.density.map(|density| format!("density {}", percent(density)));
        self.bar.set_message(length.into_iter().chain(density).collect::<Vec<_>>().join(", "));
    }
}
