//! Tables and charts as bytes: plain numbers in, Parquet, SVG, PNG and text out.
//!
//! * [`COLUMNS`] declares every column of every table once; [`parquet_bytes`] writes a
//!   [`Table`] in that order, [`read_parquet`] reads it back, [`csv_text`] writes it for people.
//! * [`plain_columns()`] reads columns of Parquet files that others wrote.
//! * [`chart`] draws the charts of a run, [`page`] binds them with what is told of it.
//! * [`figures`] and [`text`] lay numbers out for a terminal of 80 columns; a [`Section`] tells
//!   one thing under its heading.
//!
//! The same input gives the same bytes: nothing here reads a clock, a path, the
//! system's fonts or the number of threads.

pub mod chart;
mod columns;
mod compact;
mod csv;
mod error;
pub mod figures;
pub mod page;
mod parquet;
mod parquet_counts;
mod plain_columns;
mod section;
mod table;
pub mod text;

pub use columns::{COLUMNS, Column, Kind, TableKind};
pub use csv::csv_text;
pub use error::ReportError;
pub use parquet::{ColumnKey, FILE_KEY, FileKey, FileMeta, parquet_bytes, read_parquet};
pub use parquet_counts::is_parquet;
pub use plain_columns::{PlainValues, plain_columns};
pub use section::{Part, Section};
pub use table::{Data, FamilyColumn, Table};
