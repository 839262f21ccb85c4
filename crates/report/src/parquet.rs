//! Tables as Parquet bytes and back: one row group, one thread, one file-level key.

use std::io::Cursor;

use polars::prelude::{BooleanType, Float64Type, StringType, UInt32Type};
use polars::prelude::{ChunkedArray, Column, DataFrame, DataType, IntoColumn, NewChunkedArray};
use polars_io::SerReader;
use polars_io::parquet::read::ParquetReader;
use polars_io::parquet::write::{KeyValueMetadata, ParquetCompression, ParquetWriter};
use serde::{Deserialize, Serialize};

use crate::columns::TableKind;
use crate::error::ReportError;
use crate::parquet_counts::guarded;
use crate::table::{Data, Described, FamilyColumn, Table};

/// Name of the file-level key that describes the columns; its value is the JSON of [`FileKey`].
pub const FILE_KEY: &str = "tautfield.columns";

/// Facts about the run that every table carries.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct FileMeta {
    /// Hash of the scenario, hexadecimal.
    pub scenario_hash: String,
    /// Seed of the run.
    pub seed: u64,
    /// Version of the run folder's format.
    pub format_version: u32,
    /// Three-letter currency code.
    pub currency: String,
}

/// Value of the file-level key.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct FileKey {
    /// Version of the run folder's format.
    pub format_version: u32,
    /// Name of the table.
    pub table: String,
    /// Hash of the scenario, hexadecimal.
    pub scenario_hash: String,
    /// Seed of the run.
    pub seed: u64,
    /// Three-letter currency code.
    pub currency: String,
    /// Columns in file order.
    pub columns: Vec<ColumnKey>,
}

/// Description of one column inside the file.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct ColumnKey {
    /// Name of the column.
    pub name: String,
    /// Unit of the values; `1` for shares, empty where none applies.
    pub unit: String,
    /// Type of the values.
    #[serde(rename = "type")]
    pub kind: String,
    /// What the value means.
    pub description: String,
}

/// Writes the table, columns in declared order, as one row group.
///
/// The bytes depend on the table and the facts alone.
///
/// # Errors
/// If the table does not match [`crate::COLUMNS`], holds a number that is not finite, or
/// cannot be encoded.
pub fn parquet_bytes(table: &Table, meta: &FileMeta) -> Result<Vec<u8>, ReportError> {
    let ordered = table.in_file_order()?;
    let rows = ordered.first().map_or(0, |column| column.data.len());
    let columns = ordered.iter().map(polars_column).collect();
    let mut frame = DataFrame::new(rows, columns).map_err(parquet_error)?;
    let key = file_key(table.kind, &ordered, meta)?;
    let mut bytes = Vec::new();
    ParquetWriter::new(&mut bytes)
        .with_compression(ParquetCompression::Zstd(None))
        .with_row_group_size(Some(rows.max(1)))
        .with_key_value_metadata(Some(KeyValueMetadata::from_static(vec![(
            FILE_KEY.to_owned(),
            key,
        )])))
        .set_parallel(false)
        .finish(&mut frame)
        .map_err(parquet_error)?;
    Ok(bytes)
}

/// Reads a table that [`parquet_bytes`] wrote, with its description.
///
/// # Errors
/// If the bytes are no sound Parquet file, or the file lacks the key [`FILE_KEY`].
pub fn read_parquet(bytes: &[u8]) -> Result<(Table, FileKey), ReportError> {
    guarded(bytes, table_of)
}

fn table_of(mut reader: ParquetReader<Cursor<&[u8]>>) -> Result<(Table, FileKey), ReportError> {
    let key = read_key(&mut reader)?;
    let frame = reader.finish().map_err(parquet_error)?;
    let kind = TableKind::ALL
        .into_iter()
        .find(|kind| kind.name() == key.table)
        .ok_or_else(|| key_error(format!("unknown table `{}`", key.table)))?;
    let columns = frame
        .columns()
        .iter()
        .map(|column| Ok((column.name().to_string(), data_of(column)?)))
        .collect::<Result<_, ReportError>>()?;
    let families = families_of(kind, &key);
    let table = Table {
        kind,
        columns,
        families,
    };
    Ok((table, key))
}

fn polars_column(column: &Described) -> Column {
    let name = column.name.into();
    match column.data {
        Data::Number(values) => {
            ChunkedArray::<Float64Type>::from_iter_options(name, values.iter().copied())
                .into_column()
        }
        Data::Count(values) => {
            ChunkedArray::<UInt32Type>::from_iter_options(name, values.iter().copied())
                .into_column()
        }
        Data::Text(values) => {
            ChunkedArray::<StringType>::from_iter_options(name, values.iter().map(Option::as_deref))
                .into_column()
        }
        Data::Flag(values) => {
            ChunkedArray::<BooleanType>::from_iter_options(name, values.iter().copied())
                .into_column()
        }
    }
}

fn data_of(column: &Column) -> Result<Data, ReportError> {
    Ok(match column.dtype() {
        DataType::Float64 => Data::Number(column.f64().map_err(parquet_error)?.iter().collect()),
        DataType::UInt32 => Data::Count(column.u32().map_err(parquet_error)?.iter().collect()),
        DataType::Boolean => Data::Flag(column.bool().map_err(parquet_error)?.iter().collect()),
        DataType::String => {
            let texts = column.str().map_err(parquet_error)?;
            Data::Text(texts.iter().map(|text| text.map(str::to_owned)).collect())
        }
        other => {
            return Err(ReportError::Parquet(format!(
                "column `{}` has the type {other}, which no table of ours holds",
                column.name()
            )));
        }
    })
}

fn file_key(
    kind: TableKind,
    ordered: &[Described],
    meta: &FileMeta,
) -> Result<String, ReportError> {
    let key = FileKey {
        format_version: meta.format_version,
        table: kind.name().to_owned(),
        scenario_hash: meta.scenario_hash.clone(),
        seed: meta.seed,
        currency: meta.currency.clone(),
        columns: ordered
            .iter()
            .map(|column| ColumnKey {
                name: column.name.to_owned(),
                unit: column.unit.replace("{currency}", &meta.currency),
                kind: column.data.kind().name().to_owned(),
                description: column.description.to_owned(),
            })
            .collect(),
    };
    serde_json::to_string(&key).map_err(|error| key_error(error.to_string()))
}

fn read_key(reader: &mut ParquetReader<Cursor<&[u8]>>) -> Result<FileKey, ReportError> {
    let metadata = reader.get_metadata().map_err(parquet_error)?;
    let json = metadata
        .key_value_metadata()
        .iter()
        .flatten()
        .find(|pair| pair.key == FILE_KEY)
        .and_then(|pair| pair.value.as_deref())
        .ok_or_else(|| key_error("absent".to_owned()))?;
    serde_json::from_str(json).map_err(|error| key_error(error.to_string()))
}

fn families_of(kind: TableKind, key: &FileKey) -> Vec<FamilyColumn> {
    let prefixes: Vec<_> = kind.columns().filter_map(|c| c.family_prefix()).collect();
    key.columns
        .iter()
        .filter(|column| {
            prefixes
                .iter()
                .any(|prefix| column.name.starts_with(prefix))
        })
        .map(|column| FamilyColumn {
            name: column.name.clone(),
            unit: column.unit.clone(),
            description: column.description.clone(),
        })
        .collect()
}

fn parquet_error(error: polars::prelude::PolarsError) -> ReportError {
    ReportError::Parquet(error.to_string())
}

fn key_error(problem: String) -> ReportError {
    ReportError::FileKey {
        key: FILE_KEY,
        problem,
    }
}

#[cfg(test)]
mod tests;
