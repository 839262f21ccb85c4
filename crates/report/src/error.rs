//! What can go wrong while a table or a chart is made.

/// A table or chart that could not be made, with what to change.
#[derive(Debug, thiserror::Error, PartialEq)]
pub enum ReportError {
    /// The table holds columns that [`crate::COLUMNS`] does not declare, or lacks some that it does.
    #[error(
        "table `{table}`: missing columns [{missing}], undeclared columns [{undeclared}]; \
         give every column that COLUMNS declares for this table and no other"
    )]
    Columns {
        /// Name of the table.
        table: &'static str,
        /// Declared names without data, comma separated.
        missing: String,
        /// Names with data but without a declaration, comma separated.
        undeclared: String,
    },
    /// A column appears twice.
    #[error("table `{table}`: column `{column}` is given twice; give it once")]
    Doubled {
        /// Name of the table.
        table: &'static str,
        /// Name of the column.
        column: String,
    },
    /// A column's data has another type than declared.
    #[error("table `{table}`: column `{column}` is declared as {declared} but holds {given}")]
    Type {
        /// Name of the table.
        table: &'static str,
        /// Name of the column.
        column: String,
        /// Declared type.
        declared: &'static str,
        /// Type of the data.
        given: &'static str,
    },
    /// Columns of one table differ in length.
    #[error("table `{table}`: column `{column}` has {given} rows, the first column has {wanted}")]
    Length {
        /// Name of the table.
        table: &'static str,
        /// Name of the column.
        column: String,
        /// Rows of this column.
        given: usize,
        /// Rows of the first column.
        wanted: usize,
    },
    /// A number is infinite or not a number.
    #[error(
        "table `{table}`: column `{column}` row {row} is not a finite number; \
         give no value (null) where there is none"
    )]
    NotFinite {
        /// Name of the table.
        table: &'static str,
        /// Name of the column.
        column: String,
        /// Row, counted from 0.
        row: usize,
    },
    /// The Parquet library refused to write or read.
    #[error("Parquet: {0}")]
    Parquet(String),
    /// Values stand in the file as differences, which are not read.
    #[error(
        "Parquet: column `{column}` is packed by differences, which is not read; write the file again \
         with plain or dictionary pages (DuckDB: parquet_version v1; pyarrow: write_table without \
         column_encoding), or as CSV"
    )]
    ByDifferences {
        /// Name of the column.
        column: String,
    },
    /// The file carries no readable description of its columns.
    #[error("Parquet file key `{key}`: {problem}; was the file written by this program?")]
    FileKey {
        /// Name of the key.
        key: &'static str,
        /// What is wrong with it.
        problem: String,
    },
    /// The chart could not be drawn.
    #[error("chart: {0}")]
    Drawing(String),
}
