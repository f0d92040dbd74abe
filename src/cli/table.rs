//! Plain tables: a head, a rule, columns that line up.

use std::io::{self, Write};

use terminal_size::terminal_size_of;

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

    /// Cuts the cells of a column short, so that no line is wider than `room` where that can be had; a column keeps a
    /// width that still says something.
    fn shorten(&mut self, column: usize, room: usize) {
        const LEAST: usize = 12;
        let excess = self.width().saturating_sub(room);
        let most = self.column_width(column).saturating_sub(excess).max(LEAST);
        for cell in self.lines.iter_mut().filter_map(|line| line.get_mut(column)) {
            if let Some((at, _)) = cell.char_indices().nth(most - 1)
                && cell.chars().count() > most
            {
                cell.truncate(at);
                cell.push('…');
            }
        }
    }

    /// Cuts columns short, one after the other, where a terminal is too narrow; a file or another program gets everything.
    pub fn fit_terminal(&mut self, columns: &[usize]) {
        if let Some((width, _)) = terminal_size_of(io::stdout()) {
            columns.iter().for_each(|column| self.shorten(*column, usize::from(width.0)));
        }
    }

    fn column_width(&self, column: usize) -> usize {
        let cells = self.lines.iter().filter_map(|line| line.get(column)).map(|cell| cell.chars().count());
        cells.max().unwrap_or(0).max(self.columns[column].0.chars().count())
    }

    fn used_columns(&self) -> Vec<usize> {
        let used =
            |column: &usize| self.lines.iter().any(|line| line.get(*column).is_some_and(|cell| !cell.is_empty()));
        (0..self.columns.len()).filter(used).collect()
    }

    fn width(&self) -> usize {
        let columns = self.used_columns();
        let cells: usize = columns.iter().map(|column| self.column_width(*column)).sum();
        cells + columns.len().saturating_sub(1) * BETWEEN.len()
    }

    /// Prints it; columns without any content are left out.
    pub fn print(&self, out: &mut impl Write) -> io::Result<()> {
        let columns = self.used_columns();
        let widths: Vec<usize> = columns.iter().map(|column| self.column_width(*column)).collect();
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
    fn a_long_column_is_cut_to_the_room_that_there_is() {
        let mut table = Table::new(&[("piece", Align::Left), ("goes", Align::Left), ("copies", Align::Right)]);
        table.line(["doily".to_owned(), "inspection rings of both wings".to_owned(), "24".to_owned()]);
        let full = table.width();
        table.shorten(1, full);
        assert_eq!(table.lines[0][1], "inspection rings of both wings");
        table.shorten(1, full - 10);
        assert_eq!((table.lines[0][1].as_str(), table.width()), ("inspection rings of…", full - 10));
        table.shorten(1, 0);
        assert_eq!(table.lines[0][1], "inspection …");
    }

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
