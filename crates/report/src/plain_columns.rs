//! Columns of a Parquet file that others wrote, as plain values.

use std::io::Cursor;

use polars::prelude::{Column, DataType, TimeUnit};
use polars_io::SerReader;
use polars_io::parquet::read::ParquetReader;

use crate::error::ReportError;
use crate::parquet_counts::guarded;

/// Values of a column; none where one is missing.
#[derive(Debug, Clone, PartialEq)]
pub enum PlainValues {
    /// Numbers of any width.
    Numbers(Vec<Option<f64>>),
    /// Texts.
    Texts(Vec<Option<String>>),
    /// Dates with times.
    Times {
        /// Seconds after 1970 began; times between two seconds are rounded down.
        epoch_s: Vec<Option<i64>>,
        /// Whether the file says that they are of universal time.
        is_universal: bool,
    },
}

/// Reads those of the wanted columns that a Parquet file has, by name, in the order wanted. Others
/// are left alone, whatever their types.
///
/// # Errors
/// If the bytes are no sound Parquet file, or a wanted column holds neither numbers nor texts nor
/// times.
pub fn plain_columns(
    bytes: &[u8],
    wanted: &[&str],
) -> Result<Vec<(String, PlainValues)>, ReportError> {
    guarded(bytes, |reader| columns(reader, wanted))
}

fn columns(
    mut reader: ParquetReader<Cursor<&[u8]>>,
    wanted: &[&str],
) -> Result<Vec<(String, PlainValues)>, ReportError> {
    let error = |error: polars::prelude::PolarsError| ReportError::Parquet(error.to_string());
    let schema = reader.schema().map_err(error)?;
    let found: Vec<String> = wanted
        .iter()
        .filter(|name| schema.contains(name))
        .map(|name| (*name).to_owned())
        .collect();
    if found.is_empty() {
        return Ok(Vec::new());
    }
    let frame = reader
        .with_columns(Some(found.clone()))
        .finish()
        .map_err(error)?;
    let values = |name: String| {
        let column = frame.column(&name).map_err(error)?;
        Ok((name, values_of(column)?))
    };
    found.into_iter().map(values).collect()
}

fn values_of(column: &Column) -> Result<PlainValues, ReportError> {
    let error = |error: polars::prelude::PolarsError| ReportError::Parquet(error.to_string());
    match column.dtype() {
        DataType::String => {
            let texts = column.str().map_err(error)?;
            let texts = texts.iter().map(|text| text.map(str::to_owned)).collect();
            Ok(PlainValues::Texts(texts))
        }
        DataType::Datetime(unit, zone) => {
            let per_s = match unit {
                TimeUnit::Nanoseconds => 1_000_000_000,
                TimeUnit::Microseconds => 1_000_000,
                TimeUnit::Milliseconds => 1000,
            };
            let counts = column.to_physical_repr();
            let counts = counts.i64().map_err(error)?;
            Ok(PlainValues::Times {
                epoch_s: counts
                    .iter()
                    .map(|count| count.map(|count: i64| count.div_euclid(per_s)))
                    .collect(),
                is_universal: zone.is_some(),
            })
        }
        kind if kind.is_primitive_numeric() => {
            let numbers = column.cast(&DataType::Float64).map_err(error)?;
            let numbers = numbers.f64().map_err(error)?.iter().collect();
            Ok(PlainValues::Numbers(numbers))
        }
        other => Err(ReportError::Parquet(format!(
            "column `{}` has the type {other}; numbers, texts or times are wanted",
            column.name()
        ))),
    }
}

#[cfg(test)]
mod tests;
