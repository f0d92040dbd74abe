//! "Did you mean": the known word that is nearest to one that nobody knows; and words in quotes.

/// The known word that differs least from `seen`, if it is near enough to be meant.
///
/// Near is: two slips of the keyboard at most, and fewer than half of the letters; capitals, and `-` for `_`, do not
/// count as slips.
pub(crate) fn nearest<'w>(seen: &str, words: impl IntoIterator<Item = &'w str>) -> Option<&'w str> {
    let plain = |word: &str| word.trim().to_lowercase().replace([' ', '-'], "_");
    let seen = plain(seen);
    // Far longer texts cannot be near, and the measure is quadratic.
    if seen.chars().count() > 100 {
        return None;
    }
    // Of words as near as each other one of the same length is meant: a letter was hit beside the right one.
    let slips = |word: &str| {
        let word = plain(word);
        (strsim::damerau_levenshtein(&seen, &word), word.chars().count() != seen.chars().count())
    };
    let mut ranked: Vec<((usize, bool), &str)> = words.into_iter().map(|word| (slips(word), word)).collect();
    ranked.sort_by_key(|(rank, _)| *rank);
    let ((slips, longer), best) = *ranked.first()?;
    // Names such as LL3 and LR2 stand for different things: whichever is as near as another is no slip of the keyboard.
    let numbered = seen.chars().any(|letter| letter.is_ascii_digit());
    let tied = ranked.get(1).is_some_and(|(next, _)| *next == (slips, longer));
    (slips <= 2 && 2 * slips < best.chars().count() && !(numbered && tied)).then_some(best)
}

/// `, did you mean "lap"?` where a known word is near enough, else nothing.
pub(crate) fn did_you_mean<'w>(seen: &str, words: impl IntoIterator<Item = &'w str>) -> String {
    nearest(seen, words).map_or(String::new(), |near| format!(", did you mean {near:?}?"))
}

/// A text that the person wrote, in quotes and cut short.
pub(super) fn quoted(text: &str) -> String {
    const MOST: usize = 60;
    match text.char_indices().nth(MOST) {
        Some((cut, _)) => format!("{:?}…", &text[..cut]),
        None => format!("{text:?}"),
    }
}

/// `"a", "b" or "c"`.
pub(super) fn one_of<'w>(words: impl IntoIterator<Item = &'w str>) -> String {
    let mut words: Vec<_> = words.into_iter().map(|word| format!("{word:?}")).collect();
    let last = words.pop().unwrap_or_default();
    if words.is_empty() { last } else { format!("{} or {last}", words.join(", ")) }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn slips_are_forgiven_and_strangers_are_not() {
        let words = ["quantity", "quality", "sold_by"];
        assert_eq!(nearest("quantty", words), Some("quantity"));
        assert_eq!(nearest("Sold-By", words), Some("sold_by"));
        assert_eq!(nearest("colour", words), None);
        // The same length before one that is longer or shorter.
        assert_eq!(nearest("LL13", ["LL3", "LL14"]), Some("LL14"));
        // A node that is missing is not another one.
        assert_eq!(nearest("LR3", ["LL3", "LR2", "LR4"]), None);
    }

    #[test]
    fn a_choice_reads_like_a_sentence() {
        assert_eq!(one_of(["a"]), "\"a\"");
        assert_eq!(one_of(["a", "b", "c"]), "\"a\", \"b\" or \"c\"");
    }
}
