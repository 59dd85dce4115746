//! Small tables of figures that can be argued about: one CSV each in `assets/tables/`, with the source of every row.

use std::collections::BTreeMap;

/// Why a table can't be used.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum TableError {
    /// The text is no CSV.
    #[error("the table can't be read: {0}")]
    Unreadable(String),
    /// A row lacks what every row must have.
    #[error("row {row} of the table has no {column}")]
    Missing {
        /// Counted from 1, without the heading.
        row: usize,
        /// The column.
        column: String,
    },
    /// A figure is no number.
    #[error("row {row} of the table has “{found}” as {column}, which is no number")]
    NoFigure {
        /// Counted from 1, without the heading.
        row: usize,
        /// The column.
        column: String,
        /// What stands there.
        found: String,
    },
}

/// One row: its cells by column.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Row {
    number: usize,
    cells: BTreeMap<String, String>,
}

impl Row {
    /// The text of a column that must not be empty.
    ///
    /// # Errors
    /// When it is empty or there is no such column.
    pub fn text(&self, column: &str) -> Result<&str, TableError> {
        self.maybe(column).ok_or_else(|| TableError::Missing { row: self.number, column: column.to_owned() })
    }

    /// The text of a column that may be empty.
    #[must_use]
    pub fn maybe(&self, column: &str) -> Option<&str> {
        self.cells.get(column).map(String::as_str).filter(|text| !text.is_empty())
    }

    /// The figure in a column.
    ///
    /// # Errors
    /// When it is missing or no finite number.
    pub fn figure(&self, column: &str) -> Result<f64, TableError> {
        let found = self.text(column)?;
        found.parse().ok().filter(|figure: &f64| figure.is_finite()).ok_or_else(|| TableError::NoFigure {
            row: self.number,
            column: column.to_owned(),
            found: found.to_owned(),
        })
    }

    /// Where the row's figures are from.
    #[must_use]
    pub fn source(&self) -> &str {
        self.maybe("source").unwrap_or_default()
    }

    /// What is to be said about them.
    #[must_use]
    pub fn note(&self) -> &str {
        self.maybe("note").unwrap_or_default()
    }
}

/// Reads a table: comma-separated with a heading (RFC 4180). Every row has a source; a `note` column may be empty.
///
/// # Errors
/// When the text is no CSV, or a row has no source.
pub fn read_table(text: &str) -> Result<Vec<Row>, TableError> {
    let unreadable = |error: csv::Error| TableError::Unreadable(error.to_string());
    let mut reader = csv::ReaderBuilder::new().trim(csv::Trim::All).from_reader(text.as_bytes());
    let columns = reader.headers().map_err(unreadable)?.clone();
    let mut rows = Vec::new();
    for (record, number) in reader.records().zip(1..) {
        let record = record.map_err(unreadable)?;
        let cells = columns.iter().zip(record.iter()).map(|(column, cell)| (column.to_owned(), cell.to_owned()));
        let row = Row { number, cells: cells.collect() };
        row.text("source")?;
        rows.push(row);
    }
    Ok(rows)
}

#[cfg(test)]
mod tests {
    use super::{TableError, read_table};

    #[test]
    fn a_row_gives_its_text_figures_and_source() {
        let rows = read_table("name,height,source,note\nletter, 279.4 ,ANSI A,\"11 in, exact\"\n").expect("table");
        let row = rows.first().expect("row");
        assert_eq!((row.text("name"), row.figure("height")), (Ok("letter"), Ok(279.4)));
        assert_eq!((row.source(), row.note()), ("ANSI A", "11 in, exact"));
        assert!(matches!(row.figure("name"), Err(TableError::NoFigure { row: 1, .. })));
        assert!(matches!(row.figure("width"), Err(TableError::Missing { row: 1, .. })));
    }

    #[test]
    fn a_row_without_a_source_is_refused() {
        assert!(matches!(read_table("name,source,note\na,,\n"), Err(TableError::Missing { row: 1, .. })));
        assert!(matches!(read_table("name,source\na,b,c\n"), Err(TableError::Unreadable(_))));
    }
}
