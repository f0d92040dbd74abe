//! The words that a job file has for a choice: one home for reader, schema, messages and tables.

/// A choice that is written as a word.
pub trait Words: Copy + PartialEq + 'static {
    /// Every choice with its word.
    const ALL: &'static [(Self, &'static str)];

    /// The word of this choice.
    fn word(self) -> &'static str {
        Self::ALL.iter().find(|(choice, _)| *choice == self).map_or("", |(_, word)| word)
    }

    /// All words, in order.
    fn words() -> Vec<&'static str> {
        Self::ALL.iter().map(|(_, word)| *word).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::job::{ClothClass, Location, MeasuredTo, MemberClass, Method, RuleFigure, Sides, Surface, Wrap};

    fn each_has_its_own<T: Words>() {
        let mut words = T::words();
        words.sort_unstable();
        words.dedup();
        assert_eq!(words.len(), T::ALL.len());
        assert!(T::ALL.iter().all(|(choice, word)| choice.word() == *word && !word.is_empty()));
    }

    #[test]
    fn every_choice_has_a_word_of_its_own() {
        each_has_its_own::<Method>();
        each_has_its_own::<ClothClass>();
        each_has_its_own::<RuleFigure>();
        each_has_its_own::<Location>();
        each_has_its_own::<Surface>();
        each_has_its_own::<MeasuredTo>();
        each_has_its_own::<Sides>();
        each_has_its_own::<Wrap>();
        each_has_its_own::<MemberClass>();
    }
}
