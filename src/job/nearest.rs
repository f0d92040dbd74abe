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
    let slips = |word: &str| strsim::damerau_levenshtein(&seen, &plain(word));
    let best = words.into_iter().map(|word| (slips(word), word)).min_by_key(|(slips, _)| *slips)?;
    (best.0 <= 2 && 2 * best.0 < best.1.chars().count()).then_some(best.1)
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
    }

    #[test]
    fn a_choice_reads_like_a_sentence() {
        assert_eq!(one_of(["a"]), "\"a\"");
        assert_eq!(one_of(["a", "b", "c"]), "\"a\", \"b\" or \"c\"");
    }
}
