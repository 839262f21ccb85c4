//! Scenario file, overrides and weather, read once and joined into a case.

use std::cell::RefCell;
use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};

use model::{Case, MODEL_VERSION, TALLEST_USUAL_LATTICE_M};
use scenario::Scenario;
use serde::{Deserialize, Serialize};
use store::Hash;

use crate::demand::{self, HourlyDemand};
use crate::failure::Failure;
use crate::output;
use crate::units;
use crate::weather::Weather;

/// A scenario file with all that is laid over and under it, as texts.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Source {
    /// The file as it was named.
    pub file: String,
    /// The folder it stands in, from the root.
    pub folder: PathBuf,
    /// Its text.
    pub text: String,
    /// Texts of the files laid under it.
    pub base_files: BTreeMap<String, String>,
    /// Values laid over it, the last one wins.
    pub overrides: Vec<(String, String)>,
}

/// All that a command works on.
pub struct Inputs {
    /// The texts.
    pub source: Source,
    /// The checked scenario.
    pub scenario: Scenario,
    /// The weather as it was given.
    pub weather: Weather,
    /// Scenario and weather, prepared for any number of designs.
    pub case: Case,
    /// Hash of all that light, heat and masses depend on.
    pub hash: Hash,
}

impl Inputs {
    /// Reads a scenario file and its weather.
    pub fn read(file: &Path, overrides: &[(String, String)]) -> Result<Self, Failure> {
        let unreadable = |source| Failure::Unreadable {
            path: file.to_path_buf(),
            source,
        };
        let text = fs::read_to_string(file).map_err(unreadable)?;
        let whole = std::path::absolute(file).map_err(unreadable)?;
        let mut source = Source {
            file: file.display().to_string(),
            folder: whole.parent().unwrap_or(&whole).to_path_buf(),
            text,
            base_files: BTreeMap::new(),
            overrides: overrides.to_vec(),
        };
        let met = RefCell::new(BTreeMap::new());
        let scenario = source.scenario(&|base| {
            let text = fs::read_to_string(base).map_err(|error| error.to_string())?;
            met.borrow_mut().insert(base.to_owned(), text.clone());
            Ok(text)
        })?;
        source.base_files = met.into_inner();
        Self::join(source, scenario)
    }

    /// The inputs of a kept source; its weather file is read again.
    pub fn again(source: Source) -> Result<Self, Failure> {
        let scenario = source.scenario(&|base| {
            let kept = source.base_files.get(base).cloned();
            kept.ok_or_else(|| "it was not kept with the scenario".to_owned())
        })?;
        Self::join(source, scenario)
    }

    fn join(source: Source, scenario: Scenario) -> Result<Self, Failure> {
        let weather = Weather::of(&scenario, &source.folder)?;
        let demand = demand::read(&scenario, &source.folder)?;
        let case = prepare(&scenario, &weather, demand.as_ref())?;
        let demand_text = demand.map_or_else(String::new, |hours| hours.text);
        let hash = hash(&scenario, &weather.bytes, demand_text.as_bytes());
        Ok(Self {
            source,
            scenario,
            weather,
            case,
            hash,
        })
    }

    /// The case of a scenario that differs in something, under the same weather and demand.
    pub fn otherwise(&self, change: fn(&mut Scenario)) -> Result<Case, Failure> {
        let mut scenario = self.scenario.clone();
        change(&mut scenario);
        let demand = demand::read(&scenario, &self.source.folder)?;
        prepare(&scenario, &self.weather, demand.as_ref())
    }

    /// The hash in hexadecimal.
    pub fn hash_text(&self) -> String {
        blake3::Hash::from_bytes(self.hash).to_hex().to_string()
    }

    /// Hours in which the wind keeps the field from working.
    pub fn windy_hours(&self) -> usize {
        let limit_m_s = self.scenario.structure.operating_wind_m_s;
        let winds = self.weather.year.wind_speed_m_s.iter();
        winds.filter(|wind_m_s| **wind_m_s > limit_m_s).count()
    }

    /// Tells on stderr what was noticed about the weather and about values beyond what is usual.
    pub fn say_notes(&self) {
        for note in &self.weather.year.notes {
            output::say(&format!("note: weather: {note}"));
        }
        if let Some(note) = self.tower_note() {
            output::say(&format!("note: tower: {note}"));
        }
    }

    /// What must be known of towers so tall as the scenario allows.
    pub fn tower_note(&self) -> Option<String> {
        let space = &self.scenario.space;
        let opened = space.variables().iter();
        let aim_heights_m = opened
            .filter(|variable| variable.path() == "tower.aim_height")
            .flat_map(|variable| (0..variable.count()).filter_map(|index| variable.si(index)));
        let start_m = space.design(&space.start()).aim_height_m;
        let tallest_m = aim_heights_m.fold(start_m, f64::max);
        (tallest_m > TALLEST_USUAL_LATTICE_M).then(|| {
            format!(
                "aim heights go up to {}; above {} towers are mostly slip-formed concrete, while this one is \
                 sized and priced as a steel lattice: take its cost there for a rough guess",
                units::length(tallest_m),
                units::length(TALLEST_USUAL_LATTICE_M)
            )
        })
    }
}

impl Source {
    fn scenario(&self, read: &dyn Fn(&str) -> Result<String, String>) -> Result<Scenario, Failure> {
        Ok(scenario::load(
            &self.file,
            &self.text,
            read,
            &self.overrides,
        )?)
    }
}

fn prepare(
    scenario: &Scenario,
    weather: &Weather,
    demand: Option<&HourlyDemand>,
) -> Result<Case, Failure> {
    let case = Case::prepare(scenario, weather.year.clone())?;
    Ok(match demand {
        Some(hours) => case.with_hourly_demand(hours.power_w.clone()),
        None => case,
    })
}

/// Hash of the values and the files they name; what is not given adds nothing.
fn hash(scenario: &Scenario, weather: &[u8], demand: &[u8]) -> Hash {
    let values = scenario.hash_text();
    let mut hasher = blake3::Hasher::new();
    hasher.update(&MODEL_VERSION.to_le_bytes());
    hasher.update(&(values.len() as u64).to_le_bytes());
    hasher.update(values.as_bytes());
    hasher.update(weather);
    hasher.update(demand);
    *hasher.finalize().as_bytes()
}
