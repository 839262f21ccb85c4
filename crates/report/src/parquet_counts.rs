//! Counts and lengths inside a Parquet file, checked before a library that trusts them reads on.
//!
//! The library makes room for as much as the file says, and a program that asks for too much memory
//! is ended, not told. So lists, rows, values and pages are looked through first, by the compact
//! encoding of Apache Thrift in which Parquet describes itself (Apache Parquet format,
//! `parquet.thrift`; Thrift compact protocol; numbers of fields from memory, held by tests against
//! files of the library).

use std::cell::Cell;
use std::io::Cursor;
use std::panic::{AssertUnwindSafe, catch_unwind};

use polars_io::SerReader;
use polars_io::parquet::read::{ParallelStrategy, ParquetReader};

use crate::compact::Walk;
use crate::error::ReportError;

/// How a Parquet file starts and ends.
const MAGIC: &[u8] = b"PAR1";
/// Most rows, and most values of one column: twenty years of minutes and then some.
const MOST_VALUES: i64 = 20_000_000;
/// Most bytes of one page once it is unpacked.
const MOST_PAGE_BYTES: i64 = 1 << 28;
/// Longest value of fixed length, and most columns below one.
const MOST_OF_SCHEMA: i64 = 4096;
/// Encodings by differences, whose own lengths are told only once a page is unpacked.
const BY_DIFFERENCES: std::ops::RangeInclusive<i64> = 5..=7;

/// Whether bytes look like a Parquet file.
#[must_use]
pub fn is_parquet(bytes: &[u8]) -> bool {
    bytes.len() > 2 * MAGIC.len() && bytes.starts_with(MAGIC) && bytes.ends_with(MAGIC)
}

/// Reads with a reader whose file has sound counts; what the library panics over is an error.
pub(crate) fn guarded<T>(
    bytes: &[u8],
    read: impl FnOnce(ParquetReader<Cursor<&[u8]>>) -> Result<T, ReportError>,
) -> Result<T, ReportError> {
    if !is_parquet(bytes) {
        return Err(damaged("it does not start and end as one"));
    }
    let checked = || {
        footer_is_sound(bytes)?;
        pages_are_sound(bytes)?;
        read(reader(bytes))
    };
    catch_unwind(AssertUnwindSafe(checked))
        .unwrap_or_else(|_| Err(damaged("its inside does not hold together")))
}

fn reader(bytes: &[u8]) -> ParquetReader<Cursor<&[u8]>> {
    ParquetReader::new(Cursor::new(bytes)).read_parallel(ParallelStrategy::None)
}

fn damaged(why: &str) -> ReportError {
    ReportError::Parquet(format!("the bytes are no sound Parquet file: {why}"))
}

/// Lists no longer than the footer that holds them, and no more rows or values than wanted.
fn footer_is_sound(bytes: &[u8]) -> Result<(), ReportError> {
    let torn = || damaged("its description is torn");
    let before_magic = &bytes[..bytes.len() - MAGIC.len()];
    let (rest, length) = before_magic.split_last_chunk::<4>().ok_or_else(torn)?;
    let start = rest.len().checked_sub(u32::from_le_bytes(*length) as usize);
    let footer = start.and_then(|start| rest.get(start..)).ok_or_else(torn)?;
    let is_sound = |path: &[i16], value: i64| match path {
        // Rows of the file and of a group, values of a column.
        [3] | [4, 3] | [4, 1, 3, 5] => (0..=MOST_VALUES).contains(&value),
        // Length of a fixed value, columns below one.
        [2, 2] | [2, 5] => (0..=MOST_OF_SCHEMA).contains(&value),
        _ => true,
    };
    Walk::through(footer, &is_sound).map(|_| ()).ok_or_else(|| {
        damaged(&format!(
            "its description is torn, or tells of more than {MOST_VALUES} rows"
        ))
    })
}

/// Every page of every column: within the file, of a size to be unpacked, no more values than wanted.
fn pages_are_sound(bytes: &[u8]) -> Result<(), ReportError> {
    let mut reader = reader(bytes);
    let about = reader
        .get_metadata()
        .map_err(|error| ReportError::Parquet(error.to_string()))?;
    for column in about.row_groups.iter().flat_map(|g| g.parquet_columns()) {
        let range = column.byte_range();
        let pages = usize::try_from(range.start)
            .ok()
            .zip(usize::try_from(range.end).ok())
            .and_then(|(start, end)| bytes.get(start..end))
            .ok_or_else(|| damaged("a column lies outside of it"))?;
        chunk_is_sound(pages, column.num_values()).map_err(|fault| match fault {
            Fault::Unsound => damaged("a page is torn or too large"),
            Fault::ByDifferences => ReportError::ByDifferences {
                column: column.descriptor().path_in_schema.join("."),
            },
        })?;
    }
    Ok(())
}

/// Why the pages of a column are not read.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Fault {
    Unsound,
    ByDifferences,
}

/// Headers of pages that follow each other, each with its packed bytes behind it.
fn chunk_is_sound(mut pages: &[u8], most_values: i64) -> Result<(), Fault> {
    while !pages.is_empty() {
        let packed = Cell::new(None);
        let fault = Cell::new(Fault::Unsound);
        let is_sound = |path: &[i16], value: i64| match path {
            [2] => (0..=MOST_PAGE_BYTES).contains(&value),
            [3] => {
                packed.set(usize::try_from(value).ok());
                packed.get().is_some()
            }
            // Values of pages and dictionaries, nulls and rows of pages of the second kind.
            [5, 1] | [7, 1] | [8, 1..=3] => (0..=most_values).contains(&value),
            [5, 2] | [8, 4] if BY_DIFFERENCES.contains(&value) => {
                fault.set(Fault::ByDifferences);
                false
            }
            _ => true,
        };
        let header = Walk::through(pages, &is_sound).ok_or_else(|| fault.get())?;
        let length = packed.get().and_then(|packed| header.checked_add(packed));
        pages = length
            .and_then(|length| pages.get(length..))
            .ok_or(Fault::Unsound)?;
    }
    Ok(())
}

#[cfg(test)]
mod tests;
