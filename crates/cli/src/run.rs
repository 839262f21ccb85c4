//! A run folder as this program keeps it: manifest, journal, tables and charts.

use std::fs;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use report::chart::Chart;
use report::page::Page;
use report::{FileMeta, Table, TableKind, parquet_bytes, read_parquet};
use store::{CrashAt, Hooks, Journal, NoHooks, Opened, RunFolder};

use crate::failure::Failure;
use crate::inputs::Inputs;
use crate::manifest::{self, FORMAT_VERSION, Manifest};
use crate::output;

/// Names a point of a durable write at which the process ends itself; for tests.
const CRASH_AT: &str = "TAUTFIELD_CRASH_AT";

/// A run folder held by this process.
pub struct Run {
    folder: RunFolder,
    manifest: Manifest,
    written: Vec<String>,
}

impl Run {
    /// Opens the folder for a search, makes it if it is missing, and refuses it if it holds a
    /// search of other inputs. Other prices are fine: they need no new evaluation.
    pub fn begin(path: &Path, inputs: &Inputs) -> Result<Self, Failure> {
        let folder = RunFolder::open(path, hooks()?)?;
        let manifest = Manifest::begin(inputs);
        if let Some(before) = Manifest::read(path)? {
            refuse_others(path, &before, &manifest)?;
            if before.has_other_prices(&manifest) {
                output::say(
                    "note: prices differ from the folder's last search; its evaluations are kept",
                );
            }
        }
        let run = Self {
            folder,
            manifest,
            written: Vec::new(),
        };
        run.write_manifest()?;
        Ok(run)
    }

    /// Opens the folder of a finished search, for more files from the same inputs.
    pub fn again(path: &Path) -> Result<(Self, Inputs), Failure> {
        let manifest = finished(path)?;
        let inputs = Inputs::again(manifest.scenario.clone())?;
        refuse_others(path, &manifest, &Manifest::begin(&inputs))?;
        let run = Self {
            folder: RunFolder::open(path, hooks()?)?,
            manifest,
            written: Vec::new(),
        };
        Ok((run, inputs))
    }

    /// The journal of evaluations.
    pub fn journal(&self, inputs: &Inputs) -> Result<(Journal, Opened), Failure> {
        let (journal, opened) = self.folder.journal(&inputs.hash)?;
        if opened.dropped_bytes > 0 {
            output::say(&format!(
                "note: the journal's last {} bytes were cut short and are dropped",
                opened.dropped_bytes
            ));
        }
        if opened.damaged_bytes > 0 {
            output::say(&format!(
                "note: {} bytes inside the journal are damaged; the designs in them are computed again",
                opened.damaged_bytes
            ));
        }
        Ok((journal, opened))
    }

    /// The folder's path.
    pub fn path(&self) -> &Path {
        self.folder.path()
    }

    /// Row of the cheapest design, if the search found one.
    pub fn best_row(&self) -> Option<u32> {
        self.manifest.run.best_row
    }

    /// What was written, in order.
    pub fn written(&self) -> &[String] {
        &self.written
    }

    /// Writes a table.
    pub fn write_table(&mut self, table: &Table, meta: &FileMeta) -> Result<(), Failure> {
        let name = table_name(table.kind);
        self.write(name, &parquet_bytes(table, meta)?)
    }

    /// Writes a chart as SVG and as PNG.
    pub fn write_chart(&mut self, name: &str, chart: &Chart) -> Result<(), Failure> {
        self.write(format!("charts/{name}.svg"), chart.svg.as_bytes())?;
        self.write(format!("charts/{name}.png"), &chart.png)
    }

    /// Writes a page.
    pub fn write_page(&mut self, name: &str, page: &Page) -> Result<(), Failure> {
        self.write(name.to_owned(), page.html().as_bytes())
    }

    /// Notes in the manifest how the search ended.
    pub fn end(&mut self, run: impl FnOnce(&mut manifest::Run)) -> Result<(), Failure> {
        run(&mut self.manifest.run);
        self.write_manifest()
    }

    fn write(&mut self, name: String, bytes: &[u8]) -> Result<(), Failure> {
        self.folder.write(&name, bytes)?;
        self.written.push(name);
        Ok(())
    }

    fn write_manifest(&self) -> Result<(), Failure> {
        Ok(self
            .folder
            .write(manifest::NAME, &self.manifest.to_bytes()?)?)
    }
}

/// What every table of a run says of it.
pub fn file_meta(inputs: &Inputs) -> FileMeta {
    FileMeta {
        scenario_hash: inputs.hash_text(),
        seed: u64::from(inputs.scenario.search.seed),
        format_version: FORMAT_VERSION,
        currency: inputs.scenario.currency.clone(),
    }
}

/// The manifest of a search that has ended and left its tables.
pub fn finished(run: &Path) -> Result<Manifest, Failure> {
    let missing = |problem: &str| Failure::Folder {
        path: run.to_path_buf(),
        problem: problem.to_owned(),
    };
    let manifest = Manifest::read(run)?.ok_or_else(|| missing("is no run folder"))?;
    match manifest.run.stop_reason.as_str() {
        "running" | "interrupted" => Err(missing("holds a search that has not ended")),
        _ => Ok(manifest),
    }
}

/// A table of a finished search.
pub fn read_table(run: &Path, kind: TableKind) -> Result<Table, Failure> {
    let path = run.join(table_name(kind));
    let bytes = fs::read(&path).map_err(|source| Failure::Folder {
        path: path.clone(),
        problem: source.to_string(),
    })?;
    let (table, _) = read_parquet(&bytes).map_err(|error| Failure::Folder {
        path,
        problem: error.to_string(),
    })?;
    Ok(table)
}

fn table_name(kind: TableKind) -> String {
    format!("{}.parquet", kind.name())
}

fn refuse_others(folder: &Path, before: &Manifest, now: &Manifest) -> Result<(), Failure> {
    let differences = before.differences(now);
    if differences.is_empty() {
        return Ok(());
    }
    Err(Failure::OtherInputs {
        folder: PathBuf::from(folder),
        differences: differences.join("\n"),
    })
}

fn hooks() -> Result<Arc<dyn Hooks>, Failure> {
    match std::env::var(CRASH_AT) {
        Ok(text) => Ok(Arc::new(CrashAt::parse(&text)?)),
        Err(_) => Ok(Arc::new(NoHooks)),
    }
}
