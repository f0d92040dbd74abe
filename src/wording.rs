//! Small words that messages of every floor share.

use std::fmt::Display;

/// `1 kind`, `7 kinds`: a count with the word that goes with it.
pub(crate) fn counted<N: Display + PartialEq + From<u8>>(count: N, one: &str, several: &str) -> String {
    if count == N::from(1) { format!("{count} {one}") } else { format!("{count} {several}") }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn one_is_singular_and_all_else_is_plural() {
        assert_eq!(counted(1_usize, "kind", "kinds"), "1 kind");
        assert_eq!([0_u32, 2].map(|count| counted(count, "edge", "edges")), ["0 edges", "2 edges"]);
    }
}
