//! The text of a job file and the places in it, counted as people count: lines and characters from 1.

use unicode_width::UnicodeWidthChar;

/// Widest excerpt of a line, in columns of the terminal.
const EXCERPT: usize = 100;
/// How much of a long line is shown before the place that is meant.
const BEFORE: usize = 40;
/// What a tab is shown as; the line and the carets below it must agree.
const TAB: &str = "    ";

/// A job file's text.
#[derive(Debug)]
pub(super) struct Source<'t> {
    /// What the messages call the file.
    pub name: &'t str,
    /// The text, without a byte order mark.
    pub text: &'t str,
    line_starts: Vec<usize>,
    /// Characters before each block of bytes, so that places in one long line are found without counting it anew.
    block_starts: Vec<usize>,
}

/// Bytes in a block.
const BLOCK: usize = 1024;

/// A place, from 1.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Place {
    pub line: usize,
    pub column: usize,
}

/// A line, or the part of it that matters, and where the carets go below it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Excerpt {
    pub text: String,
    pub indent: usize,
    pub carets: usize,
}

impl<'t> Source<'t> {
    pub fn new(name: &'t str, text: &'t str) -> Self {
        let text = text.strip_prefix('\u{feff}').unwrap_or(text);
        let bytes = text.as_bytes();
        let ends_line = |at: usize| bytes[at] == b'\n' || (bytes[at] == b'\r' && bytes.get(at + 1) != Some(&b'\n'));
        let after_breaks = (0..bytes.len()).filter(|at| ends_line(*at)).map(|at| at + 1);
        let line_starts = std::iter::once(0).chain(after_breaks).collect();
        let counts = bytes.chunks(BLOCK).map(characters);
        let sums = counts.scan(0, |sum, count| {
            *sum += count;
            Some(*sum)
        });
        Self { name, text, line_starts, block_starts: std::iter::once(0).chain(sums).collect() }
    }

    /// Line and column of a byte offset.
    pub fn place(&self, offset: usize) -> Place {
        let line = self.line_starts.partition_point(|start| *start <= offset);
        let start = self.line_starts[line - 1];
        Place { line, column: self.characters_before(offset) - self.characters_before(start) + 1 }
    }

    fn characters_before(&self, offset: usize) -> usize {
        let offset = self.boundary(offset);
        let block = offset / BLOCK;
        self.block_starts[block] + characters(&self.text.as_bytes()[block * BLOCK..offset])
    }

    /// The text between two byte offsets, whatever they are.
    pub fn slice(&self, start: usize, end: usize) -> &'t str {
        let end = self.boundary(end);
        &self.text[self.boundary(start).min(end)..end]
    }

    /// Byte offset of a line and a column in bytes, both from 1.
    pub fn offset(&self, line: usize, byte_column: usize) -> usize {
        let start = self.line_starts.get(line.saturating_sub(1)).copied().unwrap_or(self.text.len());
        self.boundary(start + byte_column.saturating_sub(1))
    }

    /// The offset, or the start of the character that it falls into.
    fn boundary(&self, offset: usize) -> usize {
        let offset = offset.min(self.text.len());
        (0..=offset).rev().find(|at| self.text.is_char_boundary(*at)).unwrap_or(0)
    }

    /// The line that `start` lies on, with carets from `start` to `end` or the end of the line.
    pub fn excerpt(&self, start: usize, end: usize) -> Excerpt {
        let line = self.line_starts.partition_point(|first| *first <= start);
        let first = self.line_starts[line - 1];
        let last = self.line_starts.get(line).copied().unwrap_or(self.text.len());
        let whole = self.slice(first, last).trim_end_matches(['\r', '\n']);
        let split = self.slice(first, start.min(first + whole.len())).len();
        let (before, after) = whole.split_at(split);
        let marked = self.slice(start, end.min(first + whole.len()));

        let (mut before, mut after) = (shown(before), shown(after));
        let carets = width(&shown(marked)).clamp(1, EXCERPT - BEFORE);
        if width(&before) + width(&after) > EXCERPT {
            before = tail(&before, BEFORE);
            after = head(&after, EXCERPT - BEFORE);
        }
        Excerpt { indent: width(&before), text: format!("{before}{after}"), carets }
    }
}

/// A text as it is safe to print: tabs as spaces, control characters (which may steer a terminal) as `�`.
pub(super) fn shown(text: &str) -> String {
    text.replace('\t', TAB).chars().map(|c| if c.is_control() { '\u{fffd}' } else { c }).collect()
}

/// Characters that begin among some bytes of UTF-8.
fn characters(bytes: &[u8]) -> usize {
    bytes.iter().filter(|byte| **byte & 0b1100_0000 != 0b1000_0000).count()
}

fn width(text: &str) -> usize {
    text.chars().map(|c| c.width().unwrap_or(0)).sum()
}

/// The last `columns` of a text, with `…` where it began earlier.
fn tail(text: &str, columns: usize) -> String {
    let mut left = columns;
    for (at, c) in text.char_indices().rev() {
        match left.checked_sub(c.width().unwrap_or(0)) {
            Some(rest) => left = rest,
            None => return format!("…{}", &text[at + c.len_utf8()..]),
        }
    }
    text.to_owned()
}

/// The first `columns` of a text, with `…` where it goes on.
fn head(text: &str, columns: usize) -> String {
    let mut left = columns;
    for (at, c) in text.char_indices() {
        match left.checked_sub(c.width().unwrap_or(0)) {
            Some(rest) => left = rest,
            None => return format!("{}…", &text[..at]),
        }
    }
    text.to_owned()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn columns_count_characters_and_lines_end_in_three_ways() {
        let source = Source::new("x", "\u{feff}aü€b\r\nc\rd\ne");
        let place = |sign: char| {
            let place = source.place(source.text.find(sign).unwrap());
            (place.line, place.column)
        };
        assert_eq!([place('a'), place('€'), place('b')], [(1, 1), (1, 3), (1, 4)]);
        assert_eq!([place('c'), place('d'), place('e')], [(2, 1), (3, 1), (4, 1)]);
    }

    #[test]
    fn columns_are_right_far_into_a_long_line() {
        let text = "aü€😀".repeat(2000);
        let source = Source::new("x", &text);
        for (index, (at, _)) in text.char_indices().enumerate() {
            assert_eq!(source.place(at), Place { line: 1, column: index + 1 });
        }
        assert_eq!(source.place(text.len()).column, 8001);
    }

    #[test]
    fn carets_stand_below_what_is_meant_after_tabs_and_wide_signs() {
        let source = Source::new("x", "\t漢 bad\n");
        let start = source.text.find("bad").unwrap();
        let excerpt = source.excerpt(start, start + 3);
        assert_eq!((excerpt.text.as_str(), excerpt.indent, excerpt.carets), ("    漢 bad", 7, 3));
    }

    #[test]
    fn a_long_line_is_cut_on_both_sides() {
        let text = format!("{}bad{}", "x".repeat(5000), "y".repeat(5000));
        let excerpt = Source::new("x", &text).excerpt(5000, 5003);
        assert_eq!(excerpt.indent, BEFORE + 1);
        assert!(excerpt.text.starts_with("…x") && excerpt.text.ends_with("y…"));
        assert_eq!(width(&excerpt.text), EXCERPT + 2);
    }

    #[test]
    fn control_characters_do_not_reach_the_terminal() {
        assert!(!Source::new("x", "\u{1b}[31m").excerpt(0, 1).text.contains('\u{1b}'));
    }
}
