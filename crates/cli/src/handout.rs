//! A folder of tables for people: every table as CSV and as Parquet, charts and texts beside them.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use report::chart::Chart;
use report::{FileMeta, Table, csv_text, parquet_bytes};
use store::{NoHooks, RunFolder};

use crate::failure::Failure;
use crate::inputs::Inputs;
use crate::run::file_meta;

/// A folder that is being filled.
pub struct Handout {
    folder: RunFolder,
    meta: FileMeta,
    written: Vec<String>,
}

impl Handout {
    /// Opens the folder, and makes it if it is missing.
    pub fn open(path: &Path, inputs: &Inputs) -> Result<Self, Failure> {
        Ok(Self {
            folder: RunFolder::open(path, Arc::new(NoHooks))?,
            meta: file_meta(inputs),
            written: Vec::new(),
        })
    }

    /// Writes a table as CSV and as Parquet.
    pub fn table(&mut self, table: &Table) -> Result<(), Failure> {
        let name = table.kind.name();
        self.file(&format!("{name}.csv"), csv_text(table)?.as_bytes())?;
        self.file(
            &format!("{name}.parquet"),
            &parquet_bytes(table, &self.meta)?,
        )
    }

    /// Writes a chart as SVG and as PNG.
    pub fn chart(&mut self, name: &str, chart: &Chart) -> Result<(), Failure> {
        self.file(&format!("{name}.svg"), chart.svg.as_bytes())?;
        self.file(&format!("{name}.png"), &chart.png)
    }

    /// Writes a file.
    pub fn file(&mut self, name: &str, bytes: &[u8]) -> Result<(), Failure> {
        self.folder.write(name, bytes)?;
        self.written.push(name.to_owned());
        Ok(())
    }

    /// The files written, with the folder.
    pub fn files(&self) -> Vec<PathBuf> {
        let names = self.written.iter();
        names.map(|name| self.folder.path().join(name)).collect()
    }
}
