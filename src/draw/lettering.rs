//! Lettering: sizes, how wide a text comes out, and how a name breaks into lines.

/// Letter heights in millimetres: the √2 series of ISO 3098-1:2015 (2.5 to 20) carried on upwards for sheets that are
/// metres long.
const SIZES: [f64; 16] =
    [1.8, 2.5, 3.5, 5.0, 7.0, 10.0, 14.0, 20.0, 28.0, 40.0, 56.0, 80.0, 112.0, 160.0, 224.0, 320.0];

/// The largest size of the series that is no more than `height`; the smallest of the series below that.
pub(super) fn size_within(height: f64) -> f64 {
    SIZES.iter().copied().rev().find(|size| *size <= height).unwrap_or(SIZES[0])
}

/// Distance from one line of text to the next, in letter sizes.
pub(super) const LINE_STEP: f64 = 1.2;

/// Width of a text in letter sizes, on the wide side: nobody knows which sans-serif font the reader has.
pub(super) fn text_width(text: &str) -> f64 {
    text.chars().map(letter_width).sum()
}

fn letter_width(letter: char) -> f64 {
    match letter {
        'i' | 'j' | 'l' | 'I' | '.' | ',' | ':' | ';' | '\'' | '|' | ' ' | '!' => 0.36,
        'f' | 't' | 'r' | '(' | ')' | '[' | ']' | '/' | '-' | '"' => 0.43,
        'm' | 'w' | 'M' | 'W' | '@' | '%' | '—' | '…' => 1.0,
        'A'..='Z' => 0.76,
        '\u{0}'..='\u{24f}' | '\u{2000}'..='\u{22ff}' => 0.65,
        _ => 1.0,
    }
}

/// Width of the widest of several lines.
pub(super) fn block_width(lines: &[String]) -> f64 {
    lines.iter().map(|line| text_width(line)).fold(0.0, f64::max)
}

/// The ways in which a text breaks at its spaces into one, two or three lines of like length.
pub(super) fn broken(text: &str) -> Vec<Vec<String>> {
    let words: Vec<&str> = text.split_whitespace().collect();
    (1..=words.len().min(3)).map(|count| into_lines(&words, count)).collect()
}

fn into_lines(words: &[&str], count: usize) -> Vec<String> {
    let goal = text_width(&words.join(" ")) / count as f64;
    let mut lines: Vec<String> = Vec::new();
    for word in words {
        let may_open = lines.len() < count;
        match lines.last_mut() {
            Some(line) if !may_open || text_width(line) + text_width(word) / 2.0 <= goal => {
                line.push(' ');
                line.push_str(word);
            }
            _ => lines.push((*word).to_owned()),
        }
    }
    lines
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sizes_come_from_the_series_of_the_standard() {
        assert_eq!(size_within(6.9), 5.0);
        assert_eq!(size_within(7.0), 7.0);
        assert_eq!(size_within(0.1), 1.8);
    }

    #[test]
    fn a_name_breaks_at_its_spaces_only() {
        let ways = broken("gusset, upper longeron 12");
        assert_eq!(ways.len(), 3);
        assert_eq!(ways[0], ["gusset, upper longeron 12"]);
        assert_eq!(ways[1], ["gusset, upper", "longeron 12"]);
        assert!(ways.iter().all(|lines| lines.join(" ") == "gusset, upper longeron 12"), "{ways:?}");
    }
}
