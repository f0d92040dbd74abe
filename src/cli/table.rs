//! Plain tables: a head, a rule, columns that line up.

use std::io::{self, Write};

/// How the cells of a column line up.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Align {
    /// Words.
    Left,
    /// Numbers.
    Right,
}

/// A table that is printed when all its lines are known.
pub(super) struct Table {
    columns: Vec<(&'static str, Align)>,
    lines: Vec<Vec<String>>,
}

const BETWEEN: &str = "  ";

impl Table {
    /// An empty table.
    pub fn new(columns: &[(&'static str, Align)]) -> Self {
        Self { columns: columns.to_vec(), lines: Vec::new() }
    }

    /// Adds a line with a cell for each column.
    pub fn line(&mut self, cells: impl IntoIterator<Item = String>) {
        self.lines.push(cells.into_iter().collect());
    }

    /// Prints it; columns without any content are left out.
    pub fn print(&self, out: &mut impl Write) -> io::Result<()> {
        let used =
            |column: &usize| self.lines.iter().any(|line| line.get(*column).is_some_and(|cell| !cell.is_empty()));
        let columns: Vec<usize> = (0..self.columns.len()).filter(used).collect();
        let width = |column: usize| {
            let cells = self.lines.iter().filter_map(|line| line.get(column)).map(|cell| cell.chars().count());
            cells.max().unwrap_or(0).max(self.columns[column].0.chars().count())
        };
        let widths: Vec<usize> = columns.iter().map(|column| width(*column)).collect();
        let heads: Vec<&str> = columns.iter().map(|column| self.columns[*column].0).collect();
        let rules: Vec<String> = widths.iter().map(|width| "─".repeat(*width)).collect();
        self.row(out, &columns, &widths, &heads)?;
        self.row(out, &columns, &widths, &rules.iter().map(String::as_str).collect::<Vec<_>>())?;
        for line in &self.lines {
            let cells: Vec<&str> = columns.iter().map(|column| line.get(*column).map_or("", String::as_str)).collect();
            self.row(out, &columns, &widths, &cells)?;
        }
        Ok(())
    }

    fn row(&self, out: &mut impl Write, columns: &[usize], widths: &[usize], cells: &[&str]) -> io::Result<()> {
        let padded =
            columns.iter().zip(widths).zip(cells).map(|((column, width), cell)| match self.columns[*column].1 {
                Align::Left => format!("{cell:<width$}"),
                Align::Right => format!("{cell:>width$}"),
            });
        let row = padded.collect::<Vec<_>>().join(BETWEEN);
        writeln!(out, "{}", row.trim_end())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn columns_line_up_and_empty_ones_are_left_out() -> io::Result<()> {
        let mut table = Table::new(&[("piece", Align::Left), ("goes", Align::Left), ("copies", Align::Right)]);
        table.line(["doily".to_owned(), String::new(), "24".to_owned()]);
        table.line(["gusset, lower".to_owned(), String::new(), "4".to_owned()]);
        let mut out = Vec::new();
        table.print(&mut out)?;
        let lines = String::from_utf8_lossy(&out).into_owned();
        assert_eq!(
            lines.lines().collect::<Vec<_>>(),
            ["piece          copies", "─────────────  ──────", "doily              24", "gusset, lower       4",]
        );
        Ok(())
    }
}
