//! The scenario: every value in SI, what it was written as, and the space of designs.

use std::fmt;

use ledger::{Finance, RateTerms, Rates};

use crate::heliostats::{Concept, FieldArea, Heliostats};
use crate::key::{Key, Kind, Put, Role};
use crate::norms::{Labour, Upkeep};
use crate::problem::Place;
use crate::sections::{
    Heat, Mirror, MonthlyWeather, PowerSet, Receiver, Search, Site, Stock, Storage, Strings,
    Weather, WeatherFile,
};
use crate::space::{self, Space};
use crate::strength::{GlassStrength, Structure};
use crate::value::Value;

/// A checked scenario in SI.
#[derive(Clone, Debug, PartialEq)]
pub struct Scenario {
    /// What the scenario is about.
    pub title: String,
    /// Three letters; every price is in this currency.
    pub currency: String,
    /// Where the field stands.
    pub site: Site,
    /// What the sky gives.
    pub weather: Weather,
    /// Where mirrors stand.
    pub field: FieldArea,
    /// What all strings have in common.
    pub strings: Strings,
    /// What all heliostats have in common.
    pub heliostats: Heliostats,
    /// The panels.
    pub mirror: Mirror,
    /// What takes the light.
    pub receiver: Receiver,
    /// What the works takes and how heat gets there.
    pub heat: Heat,
    /// The store.
    pub storage: Storage,
    /// The turbine set.
    pub power: PowerSet,
    /// Wind, steel and ground.
    pub structure: Structure,
    /// What is bought from stock.
    pub stock: Stock,
    /// Strength of the glass.
    pub glass: GlassStrength,
    /// Work to build.
    pub labour: Labour,
    /// What keeps the plant running.
    pub upkeep: Upkeep,
    /// Money terms.
    pub finance: Finance,
    /// What all rates are brought to.
    pub rate_terms: RateTerms,
    /// A rate for every item of the bill, settled.
    pub rates: Rates,
    /// Which price index has brought rates to one year.
    pub index_source: String,
    /// How far to look.
    pub search: Search,
    /// The space of designs.
    pub space: Space,
    pub(crate) entries: Vec<ResolvedEntry>,
}

/// A value with where it came from.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Resolved {
    /// Path of the key.
    pub key: String,
    /// The value as it would stand in the file; of an opened one its start, then its range.
    pub text: String,
    /// The unit it is written in; empty if it has none.
    pub unit: String,
    /// Where it came from.
    pub origin: Origin,
}

/// Where a value came from.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Origin {
    /// A line of a file.
    File {
        /// The file.
        file: String,
        /// The line, from 1.
        line: usize,
    },
    /// An override.
    Override,
    /// Nothing was given.
    Default,
}

impl Origin {
    pub(crate) fn of(place: &Place) -> Self {
        match place.line {
            0 => Self::Override,
            line => Self::File {
                file: place.file.clone(),
                line,
            },
        }
    }
}

impl fmt::Display for Origin {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::File { file, line } => write!(out, "{file}:{line}"),
            Self::Override => write!(out, "--set"),
            Self::Default => write!(out, "default"),
        }
    }
}

#[derive(Clone, Debug, PartialEq)]
pub(crate) struct ResolvedEntry {
    pub shown: Resolved,
    pub canonical: String,
    pub role: Role,
}

impl Scenario {
    /// What kind of field it stands for.
    #[must_use]
    pub const fn concept(&self) -> Concept {
        self.space.fixed.field.concept()
    }

    /// Every value with its unit and where it came from, in the order of the file.
    #[must_use]
    pub fn resolved(&self) -> Vec<Resolved> {
        self.entries
            .iter()
            .map(|entry| entry.shown.clone())
            .collect()
    }

    /// One line for each value that has a say in light, heat or masses, in SI: the same text for
    /// the same values, however they are written. Prices, titles, file names and effort are left
    /// out, so weather from a file has to be added by its bytes.
    #[must_use]
    pub fn hash_text(&self) -> String {
        self.lines_of(Role::Physical)
    }

    /// One line for each value that has a say in money or carbon only.
    #[must_use]
    pub fn price_text(&self) -> String {
        self.lines_of(Role::Price)
    }

    fn lines_of(&self, role: Role) -> String {
        let of_role = self.entries.iter().filter(|entry| entry.role == role);
        of_role
            .map(|entry| format!("{} = {}\n", entry.shown.key, entry.canonical))
            .collect()
    }
}

/// A scenario while its values are put in.
pub(crate) struct Draft {
    pub scenario: Scenario,
    pub weather_file: WeatherFile,
    pub monthly: MonthlyWeather,
    pub rates_file: String,
}

impl Draft {
    /// A scenario in which nothing has been put yet.
    pub fn new() -> Self {
        let scenario = Scenario {
            title: String::new(),
            currency: String::new(),
            site: Site::default(),
            weather: Weather::default(),
            field: FieldArea::default(),
            strings: Strings::default(),
            heliostats: Heliostats::default(),
            mirror: Mirror::default(),
            receiver: Receiver::default(),
            heat: Heat::default(),
            storage: Storage::default(),
            power: PowerSet::default(),
            structure: Structure::default(),
            stock: Stock::default(),
            glass: GlassStrength::default(),
            labour: Labour::default(),
            upkeep: Upkeep::default(),
            finance: Finance::starting_point(),
            rate_terms: RateTerms::starting_point(),
            rates: Rates::default_usd(),
            index_source: String::new(),
            search: Search::default(),
            space: Space::default(),
            entries: vec![],
        };
        Self {
            scenario,
            weather_file: WeatherFile::default(),
            monthly: MonthlyWeather::default(),
            rates_file: String::new(),
        }
    }

    /// Puts a value where its key says.
    pub fn put(&mut self, key: &Key, value: &Value) {
        space::put(key, &mut self.scenario.space.fixed, value);
        match (&key.kind, value) {
            (Kind::Quantity(_, Put::Case(put)), Value::Quantity(reading)) => put(self, reading.si),
            (
                Kind::Whole {
                    put: Put::Case(put),
                    ..
                },
                Value::Whole(number),
            ) => put(self, *number),
            (
                Kind::Choice {
                    put: Put::Case(put),
                    ..
                },
                Value::Choice(index, _),
            ) => {
                put(self, *index);
            }
            (Kind::Duty(put), Value::Duty(duty, _)) => put(self, *duty),
            (Kind::Text(put), Value::Text(text)) => put(self, text.clone()),
            (Kind::Texts(put), Value::Texts(texts)) => put(self, texts.clone()),
            (Kind::Monthly(_, put), Value::Column(readings)) => {
                let mut values = [0.0; 12];
                for (value, reading) in values.iter_mut().zip(readings) {
                    *value = reading.si;
                }
                put(self, values);
            }
            (Kind::Column(_, put), Value::Column(readings)) => {
                put(self, readings.iter().map(|reading| reading.si).collect());
            }
            _ => {}
        }
    }
}
