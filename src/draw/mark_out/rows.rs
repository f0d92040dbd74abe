//! A table on a page: how wide its columns come out, and where its cells break.

use crate::draw::pdf::text_width;

/// Free width between two columns, in millimetres.
const BETWEEN: f64 = 4.0;

/// A table.
#[derive(Clone, Debug, Default)]
pub(super) struct Table {
    /// What stands over the columns.
    pub head: Vec<String>,
    /// The cells.
    pub rows: Vec<Vec<String>>,
    /// Columns that are set to the right, such as numbers.
    pub right: Vec<bool>,
    /// The column that is broken into lines where the table would be too wide.
    pub broken: usize,
}

/// Columns of a table that is laid out.
pub(super) struct Columns {
    widths: Vec<f64>,
    right: Vec<bool>,
    broken: usize,
    size: f64,
}

impl Table {
    /// A table with heads, which begin with `>` where the column is set to the right; the column that may be broken.
    pub fn new(head: &[&str], broken: usize) -> Self {
        Self {
            head: head.iter().map(|head| head.trim_start_matches('>').to_owned()).collect(),
            right: head.iter().map(|head| head.starts_with('>')).collect(),
            broken,
            ..Self::default()
        }
    }

    /// Lays the columns out in a width, in letters of a size.
    pub fn columns(&self, width: f64, size: f64) -> Columns {
        let widest = |column: usize| {
            let cells = self.rows.iter().map(|row| &row[column]).chain([&self.head[column]]);
            cells.map(|cell| text_width(cell) * size).fold(0.0, f64::max)
        };
        let mut widths: Vec<f64> = (0..self.head.len()).map(widest).collect();
        let all: f64 = widths.iter().sum::<f64>() + BETWEEN * (widths.len() as f64 - 1.0);
        widths[self.broken] = (widths[self.broken] - (all - width).max(0.0)).max(8.0 * size);
        Columns { widths, right: self.right.clone(), broken: self.broken, size }
    }
}

impl Columns {
    /// The lines of each cell of a row.
    pub fn cells(&self, row: &[String]) -> Vec<Vec<String>> {
        let cell = |(column, words): (usize, &String)| match column == self.broken {
            true => fitted(words, self.widths[column] + 0.01, self.size),
            false => vec![words.clone()],
        };
        row.iter().enumerate().map(cell).collect()
    }

    /// Width of the table.
    pub fn width(&self) -> f64 {
        self.widths.iter().sum::<f64>() + BETWEEN * (self.widths.len() as f64 - 1.0)
    }

    /// Where each column begins, or ends where it is set to the right.
    pub fn starts(&self) -> Vec<(f64, bool)> {
        let mut from = 0.0;
        let start = |(column, width): (usize, &f64)| {
            let start = if self.right[column] { (from + width, true) } else { (from, false) };
            from += width + BETWEEN;
            start
        };
        self.widths.iter().enumerate().map(start).collect()
    }
}

/// Breaks words into lines of a width, in letters of a size; a word that is wider stands alone.
pub(super) fn fitted(words: &str, width: f64, size: f64) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for word in words.split_whitespace() {
        match lines.last_mut() {
            Some(line) if (text_width(line) + text_width(" ") + text_width(word)) * size <= width => {
                line.push(' ');
                line.push_str(word);
            }
            _ => lines.push(word.to_owned()),
        }
    }
    if lines.is_empty() {
        lines.push(String::new());
    }
    lines
}
