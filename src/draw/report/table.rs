//! Tables of the report: words on the left, figures under each other at the decimal.

/// A table.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Table {
    /// What it shows.
    pub caption: String,
    /// Its columns.
    pub columns: Vec<Column>,
    /// Its rows, each with a cell for every column. The first cell names the row.
    pub rows: Vec<Vec<String>>,
}

/// A column.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Column {
    /// Its heading.
    pub head: String,
    /// Whether it holds figures.
    pub figures: bool,
}

/// A column of words.
pub(super) fn words(head: impl Into<String>) -> Column {
    Column { head: head.into(), figures: false }
}

/// A column of figures.
pub(super) fn figures(head: impl Into<String>) -> Column {
    Column { head: head.into(), figures: true }
}

impl Table {
    /// A table without rows.
    pub fn new(caption: impl Into<String>, columns: impl IntoIterator<Item = Column>) -> Self {
        Self { caption: caption.into(), columns: columns.into_iter().collect(), rows: Vec::new() }
    }

    /// Adds a row.
    pub fn row<const N: usize>(&mut self, cells: [String; N]) {
        self.rows.push(cells.into());
    }

    /// The table ready to be shown: figures aligned, columns that say nothing left out.
    pub fn done(mut self) -> Self {
        for column in (1..self.columns.len()).rev() {
            if self.rows.iter().all(|row| row[column].is_empty()) {
                self.columns.remove(column);
                self.rows.iter_mut().for_each(|row| drop(row.remove(column)));
            }
        }
        for (column, of) in self.columns.iter().enumerate().filter(|(_, column)| column.figures) {
            debug_assert!(!of.head.is_empty());
            let cells: Vec<&mut String> = self.rows.iter_mut().map(|row| &mut row[column]).collect();
            align(cells);
        }
        self
    }
}

/// Fills figures up on the right so that, set in letters of one width and flush right, their decimal points stand under
/// each other.
pub(super) fn align(cells: Vec<&mut String>) {
    let places = |cell: &str| cell.find('.').map_or(0, |point| cell[point..].chars().count());
    let is_number = |cell: &str| !cell.is_empty() && cell.parse::<f64>().is_ok();
    let most = cells.iter().filter(|cell| is_number(cell)).map(|cell| places(cell)).max().unwrap_or(0);
    for cell in cells.into_iter().filter(|cell| is_number(cell)) {
        let lacking = most - places(cell);
        cell.extend(std::iter::repeat_n('\u{a0}', lacking));
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn decimal_points_stand_under_each_other() {
        let mut table = Table::new("t", [words("what"), figures("mm"), figures("empty")]);
        for figure in ["811.25", "1200", "7.5", "3-1/2", ""] {
            table.row([String::new(), figure.to_owned(), String::new()]);
        }
        let table = table.done();
        let cells: Vec<&str> = table.rows.iter().map(|row| row[1].as_str()).collect();
        assert_eq!(cells, ["811.25", "1200\u{a0}\u{a0}\u{a0}", "7.5\u{a0}", "3-1/2", ""]);
        assert_eq!(table.columns.len(), 2, "a column that says nothing is left out");
    }
}
