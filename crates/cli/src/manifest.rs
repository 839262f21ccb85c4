//! The manifest of a run folder: what was searched, with what, how it ended.

use std::collections::BTreeMap;
use std::fs;
use std::io::ErrorKind;
use std::path::Path;

use model::MODEL_VERSION;
use serde::{Deserialize, Serialize};
use study::StopReason;

use crate::clock;
use crate::failure::Failure;
use crate::inputs::{Inputs, Source};

/// Version of the run folder's files and of printed JSON; any other is refused.
pub const FORMAT_VERSION: u32 = 5;

/// Name of the file.
pub const NAME: &str = "manifest.json";

/// What was searched, with what, how it ended.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Manifest {
    pub format_version: u32,
    pub program: Program,
    /// Hash of all that light, heat and masses depend on.
    pub hash: String,
    pub seed: u32,
    pub total: u32,
    pub run: Run,
    pub weather: WeatherMark,
    /// The scenario's texts.
    pub scenario: Source,
    /// Every value as it was taken.
    pub resolved: Vec<Resolved>,
    /// Values that light, heat and masses depend on, in SI.
    pub physics: BTreeMap<String, String>,
    /// Values that only money and carbon depend on, in SI.
    pub prices: BTreeMap<String, String>,
}

/// The program that wrote the folder.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Program {
    pub name: String,
    pub version: String,
    pub model_version: u32,
}

/// Where the weather came from.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct WeatherMark {
    pub origin: String,
    /// Hash of the file's bytes; of nothing for a year made from monthly sums.
    pub hash: String,
}

/// A value as it was taken, and where it came from.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Resolved {
    pub key: String,
    pub value: String,
    pub unit: String,
    pub origin: String,
}

/// How the run went.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct Run {
    /// `running` until it has ended.
    pub stop_reason: String,
    pub started_unix_s: u64,
    pub ended_unix_s: Option<u64>,
    pub threads: usize,
    /// Designs asked for.
    pub designs: usize,
    /// Designs whose evaluation failed.
    pub failed: usize,
    /// Row of the cheapest design.
    pub best_row: Option<u32>,
    /// Members of the front.
    pub front: usize,
}

impl Manifest {
    /// The manifest of a search that begins.
    pub fn begin(inputs: &Inputs) -> Self {
        let scenario = &inputs.scenario;
        Self {
            format_version: FORMAT_VERSION,
            program: Program {
                name: env!("CARGO_PKG_NAME").to_owned(),
                version: env!("CARGO_PKG_VERSION").to_owned(),
                model_version: MODEL_VERSION,
            },
            hash: inputs.hash_text(),
            seed: scenario.search.seed,
            total: scenario.search.total,
            run: Run {
                stop_reason: "running".to_owned(),
                started_unix_s: clock::unix_seconds(),
                threads: rayon::current_num_threads(),
                ..Run::default()
            },
            weather: WeatherMark {
                origin: inputs.weather.origin.clone(),
                hash: blake3::hash(&inputs.weather.bytes).to_hex().to_string(),
            },
            scenario: inputs.source.clone(),
            resolved: scenario.resolved().into_iter().map(Resolved::of).collect(),
            physics: values(&scenario.hash_text()),
            prices: values(&scenario.price_text()),
        }
    }

    /// The manifest in a folder; nothing if there is none.
    pub fn read(folder: &Path) -> Result<Option<Self>, Failure> {
        let path = folder.join(NAME);
        let bytes = match fs::read(&path) {
            Err(error) if error.kind() == ErrorKind::NotFound => return Ok(None),
            other => other.map_err(|source| Failure::Unreadable {
                path: path.clone(),
                source,
            })?,
        };
        let damaged = |error: serde_json::Error| Failure::Manifest {
            path: path.clone(),
            problem: error.to_string(),
        };
        let raw: serde_json::Value = serde_json::from_slice(&bytes).map_err(damaged)?;
        match raw["format_version"].as_u64() {
            Some(found) if found != u64::from(FORMAT_VERSION) => Err(Failure::OtherFormat {
                folder: folder.to_path_buf(),
                found,
                known: FORMAT_VERSION,
            }),
            _ => serde_json::from_value(raw).map(Some).map_err(damaged),
        }
    }

    /// The manifest as a file.
    pub fn to_bytes(&self) -> Result<Vec<u8>, Failure> {
        let mut bytes = serde_json::to_vec_pretty(self).map_err(|error| Failure::Folder {
            path: NAME.into(),
            problem: error.to_string(),
        })?;
        bytes.push(b'\n');
        Ok(bytes)
    }

    /// What differs in light, heat or masses between this manifest and `now`, a line each; empty
    /// if their evaluations are of the same making.
    pub fn differences(&self, now: &Self) -> Vec<String> {
        if self.hash == now.hash {
            return Vec::new();
        }
        let mut found = self.value_differences(now);
        if self.weather.hash != now.weather.hash {
            let (was, is) = (&self.weather.origin, &now.weather.origin);
            found.push(format!("  weather: the hours of {was} differ, now {is}"));
        }
        let (was, is) = (self.program.model_version, now.program.model_version);
        if was != is {
            found.push(format!("  model: was version {was}, now {is}"));
        }
        found
    }

    /// Whether a price differs.
    pub fn has_other_prices(&self, now: &Self) -> bool {
        self.prices != now.prices
    }

    fn value_differences(&self, now: &Self) -> Vec<String> {
        let keys = self.physics.keys().chain(now.physics.keys());
        let mut keys: Vec<&String> = keys
            .filter(|key| self.physics.get(*key) != now.physics.get(*key))
            .collect();
        keys.sort_unstable();
        keys.dedup();
        let told = |key: &&String| {
            let (was, is) = (self.shown(key), now.shown(key));
            format!("  {key}: was {was}, now {is}")
        };
        keys.iter().map(told).collect()
    }

    fn shown(&self, key: &str) -> String {
        let resolved = self.resolved.iter().find(|value| value.key == key);
        resolved.map_or_else(|| "not given".to_owned(), |value| value.value.clone())
    }
}

impl Resolved {
    fn of(resolved: scenario::Resolved) -> Self {
        Self {
            key: resolved.key,
            value: resolved.text,
            unit: resolved.unit,
            origin: resolved.origin.to_string(),
        }
    }
}

/// Lines of `key = value`.
fn values(lines: &str) -> BTreeMap<String, String> {
    lines
        .lines()
        .filter_map(|line| line.split_once(" = "))
        .map(|(key, value)| (key.to_owned(), value.to_owned()))
        .collect()
}

/// The word for why a search ended.
pub const fn stop_word(reason: StopReason) -> &'static str {
    match reason {
        StopReason::BudgetSpent => "budget_spent",
        StopReason::Exhausted => "exhausted",
        StopReason::Interrupted => "interrupted",
        StopReason::NoFeasible => "no_feasible",
    }
}
