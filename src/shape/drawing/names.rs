//! The names by which lines may be asked for, shared by all that lies in one group: a long name on a group of many lines
//! takes its room once.

use std::iter::successors;
use std::sync::Arc;

use super::limits;

/// Names of an element and of all that is around it.
#[derive(Clone, Debug, Default)]
pub(super) struct Names(Option<Arc<Level>>);

#[derive(Debug)]
struct Level {
    own: Vec<String>,
    around: Names,
}

impl Names {
    /// These names with those of an element within; the last of `own` is the innermost. Names too long or too many to be
    /// asked for are left out.
    pub fn with<'n>(&self, own: impl IntoIterator<Item = &'n str>) -> Self {
        let own = own.into_iter().filter(|name| name.len() <= limits::NAME_BYTES).take(limits::NAMES);
        let own: Vec<String> = own.map(str::to_owned).collect();
        if own.is_empty() { self.clone() } else { Self(Some(Arc::new(Level { own, around: self.clone() }))) }
    }

    /// Every name, the innermost first.
    pub fn iter(&self) -> impl Iterator<Item = &str> {
        let levels = successors(self.0.as_deref(), |level| level.around.0.as_deref());
        levels.flat_map(|level| level.own.iter().rev().map(String::as_str))
    }

    /// Whether a name is among them.
    pub fn contain(&self, name: &str) -> bool {
        self.iter().any(|own| own == name)
    }
}

/// A name without what a terminal would take for orders.
pub(super) fn shown(name: &str) -> String {
    name.chars().filter(|letter| !letter.is_control()).collect()
}

/// The same of what is no name to ask for, of any length: its beginning.
pub(super) fn shown_short(words: &str) -> String {
    const LETTERS: usize = 60;
    shown(words).chars().take(LETTERS).collect()
}
