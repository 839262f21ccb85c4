//! From file texts to a scenario.

use std::path::Path;

use ledger::Replaces;
use quantity::{Decimal, Unit};

use crate::Concept;
use crate::checks;
use crate::key::{Key, Kind, Need};
use crate::opening;
use crate::prices::{self, Written};
use crate::problem::{Place, ProblemKind, Problems, ScenarioErrors};
use crate::raw::{Entry, Layers, Lines, Raw, Spot, parse_override};
use crate::scenario::{Draft, Origin, Resolved, ResolvedEntry, Scenario};
use crate::sections::{Carrier, Delivers, WeatherSource};
use crate::space::Variable;
use crate::table;
use crate::value::{self, Value};

/// Significant digits to which the ledger's own values are written.
const LEDGER_DIGITS: usize = 12;

/// Reads a scenario from the text of the file at `path`. `read` gives the text of a base file by
/// its path (a relative one is taken from where the file naming it stands) or says why it cannot;
/// `overrides` are key paths with values, TOML or plain text, laid over everything.
///
/// # Errors
/// [`ScenarioErrors`] with every problem found.
pub fn load(
    path: &str,
    text: &str,
    read: &dyn Fn(&str) -> Result<String, String>,
    overrides: &[(String, String)],
) -> Result<Scenario, ScenarioErrors> {
    let mut problems = Problems::default();
    let mut layers = Layers::default();
    lay_overrides(overrides, &mut layers, &mut problems);
    lay_files(path, text, read, &mut layers, &mut problems);
    let mut loader = Loader {
        file: path,
        layers,
        problems,
        draft: Draft::new(),
    };
    for key in table::keys() {
        loader.take(key);
    }
    loader.settle_weather();
    loader.settle_heat();
    let rates = loader.rates_file(read);
    loader.settle_prices(&rates);
    loader.finish()
}

fn lay_overrides(overrides: &[(String, String)], layers: &mut Layers, problems: &mut Problems) {
    for (key, text) in overrides.iter().rev() {
        let value = parse_override(text);
        let place = value.place.clone();
        let (section, name) = key.rsplit_once('.').unwrap_or(("", key));
        let entry = Entry {
            name: name.to_owned(),
            place,
            value,
        };
        layers.lay_under(section, vec![entry], problems);
    }
}

fn lay_files(
    path: &str,
    text: &str,
    read: &dyn Fn(&str) -> Result<String, String>,
    layers: &mut Layers,
    problems: &mut Problems,
) {
    let mut seen = vec![path.to_owned()];
    let mut text = text.to_owned();
    loop {
        let file = seen.last().cloned().unwrap_or_default();
        let entries = Lines::new(&file, &text).parse(problems);
        let base = entries
            .iter()
            .find(|entry| entry.name == "base")
            .map(|entry| entry.value.clone());
        layers.lay_under("", entries, problems);
        let Some(Spot {
            raw: Raw::Text(base),
            place,
        }) = base
        else {
            return;
        };
        let base = beside(&file, &base);
        if seen.contains(&base) {
            problems.add(&place, "base", ProblemKind::BaseLoop { file: base });
            return;
        }
        match read(&base) {
            Ok(found) => text = found,
            Err(message) => {
                problems.add(
                    &place,
                    "base",
                    ProblemKind::CannotRead {
                        file: base,
                        message,
                    },
                );
                return;
            }
        }
        seen.push(base);
    }
}

/// The path of a base file named in `file`.
fn beside(file: &str, base: &str) -> String {
    let folder = Path::new(file).parent().unwrap_or_else(|| Path::new(""));
    folder.join(base).to_string_lossy().into_owned()
}

/// Values on their way into the draft.
struct Loader<'a> {
    file: &'a str,
    layers: Layers,
    problems: Problems,
    draft: Draft,
}

impl Loader<'_> {
    fn take(&mut self, key: &'static Key) {
        let given = self.layers.values.get(key.path).cloned();
        if key
            .concept()
            .is_some_and(|concept| concept != self.draft.scenario.concept())
        {
            return self.check_aside(key, given);
        }
        match given {
            Some(Spot {
                raw: Raw::Table(entries),
                place,
            }) => {
                let spot = Spot {
                    raw: Raw::Table(vec![]),
                    place,
                };
                if let Some(variable) = opening::read(key, &spot, &entries, &mut self.problems) {
                    self.open(variable, &spot.place);
                }
            }
            Some(spot) => {
                if let Some(value) = value::read(key, &spot, &mut self.problems) {
                    self.put(key, &value, Origin::of(&spot.place));
                }
            }
            None => self.take_default(key),
        }
    }

    /// Looks whether a value of another concept is sound, and leaves it aside.
    fn check_aside(&mut self, key: &'static Key, given: Option<Spot>) {
        match given {
            Some(Spot {
                raw: Raw::Table(entries),
                place,
            }) => {
                let spot = Spot {
                    raw: Raw::Table(vec![]),
                    place,
                };
                opening::read(key, &spot, &entries, &mut self.problems);
            }
            Some(spot) => {
                value::read(key, &spot, &mut self.problems);
            }
            None => {}
        }
    }

    fn take_default(&mut self, key: &'static Key) {
        let text = match key.need {
            Need::Optional(_) => return,
            Need::Required(example) => {
                let place = self.layers.section_place(key.section(), self.file);
                let example = as_toml(key, example);
                let kind = ProblemKind::Missing {
                    key: key.path.to_owned(),
                    example,
                };
                return self.problems.add(&place, key.path, kind);
            }
            Need::Default(text) => text.to_owned(),
            Need::ByHemisphere { north, south } => {
                let is_north = self.draft.scenario.site.latitude_rad >= 0.0;
                if is_north { north } else { south }.to_owned()
            }
            Need::Ledger(value) => ledger_text(key, value(&self.draft.scenario.finance)),
        };
        let place = Place {
            file: "default".to_owned(),
            ..Place::default()
        };
        let spot = default_spot(key, text, &place);
        if let Some(value) = value::read(key, &spot, &mut self.problems) {
            self.put(key, &value, Origin::Default);
        }
    }

    fn put(&mut self, key: &'static Key, value: &Value, origin: Origin) {
        self.draft.put(key, value);
        let (text, unit) = (value.text(), value.unit_text().to_owned());
        let shown = Resolved {
            key: key.path.to_owned(),
            text,
            unit,
            origin,
        };
        let entry = ResolvedEntry {
            shown,
            canonical: value.canonical(),
            role: key.role,
        };
        self.draft.scenario.entries.push(entry);
    }

    fn open(&mut self, variable: Variable, place: &Place) {
        let key = variable.key;
        let start = variable.value(variable.start);
        self.put(key, &start, Origin::of(place));
        if let Some(entry) = self.draft.scenario.entries.last_mut() {
            entry.shown.text = format!("{}, open {}", start.text(), variable.range_text());
            entry.canonical = variable.canonical();
        }
        self.draft.scenario.space.variables.push(variable);
    }

    /// Takes the weather file or the monthly sums, whichever is given.
    fn settle_weather(&mut self) {
        let given = |path: &str| self.layers.values.get(path).map(|spot| spot.place.clone());
        let months = ["weather.monthly_dni", "weather.monthly_temperature"];
        let file = match (given("weather.file"), given("weather.files")) {
            (Some(_), Some(place)) => {
                let fault = "give one weather file or several, not both".to_owned();
                self.problems
                    .add(&place, "weather", ProblemKind::Clash(fault));
                return;
            }
            (one, several) => one.or(several),
        };
        let source = match (file, months.map(given)) {
            (Some(_), [None, None]) => WeatherSource::File(self.draft.weather_file.clone()),
            (Some(_), [Some(place), _] | [None, Some(place)]) => {
                let fault = "give a weather file or monthly sums, not both".to_owned();
                self.problems
                    .add(&place, "weather", ProblemKind::Clash(fault));
                return;
            }
            (None, [Some(_), Some(_)]) => WeatherSource::Monthly(self.draft.monthly.clone()),
            (None, found) => {
                let place = self.layers.section_place("weather", self.file);
                for (path, _) in months
                    .iter()
                    .zip(&found)
                    .filter(|(_, given)| given.is_none())
                {
                    let example = example_of(path);
                    let kind = ProblemKind::Missing {
                        key: (*path).to_owned(),
                        example,
                    };
                    self.problems.add(&place, path, kind);
                }
                return;
            }
        };
        self.draft.scenario.weather.source = source;
    }

    /// The lines of the file of rates; none without one.
    fn rates_file(&mut self, read: &dyn Fn(&str) -> Result<String, String>) -> Vec<Entry> {
        let key = "rates.file";
        let Some(place) = self.layers.values.get(key).map(|spot| spot.place.clone()) else {
            return vec![];
        };
        let named_in = match Origin::of(&place) {
            Origin::File { file, .. } => file,
            Origin::Override | Origin::Default => self.file.to_owned(),
        };
        let file = beside(&named_in, &self.draft.rates_file);
        match read(&file) {
            Ok(text) => Lines::new(&file, &text).parse(&mut self.problems),
            Err(message) => {
                let kind = ProblemKind::CannotRead { file, message };
                self.problems.add(&place, key, kind);
                vec![]
            }
        }
    }

    /// Asks for what steam needs, and for the temperatures of salt or air; electricity takes the place of
    /// the grid's.
    fn settle_heat(&mut self) {
        let heat = &self.draft.scenario.heat;
        self.draft.scenario.finance.replaces = match heat.delivers {
            Delivers::Steam | Delivers::HotAir => Replaces::GasHeat,
            Delivers::Electricity => Replaces::GridElectricity,
        };
        let steam = ["heat.delivery_pressure", "heat.condensate_temperature"];
        let temperatures = ["heat.cold_temperature", "heat.hot_temperature"];
        let mut needed = vec![];
        if heat.delivers == Delivers::Steam {
            needed.extend(steam);
        }
        if heat.carrier != Carrier::Water {
            needed.extend(temperatures);
        }
        let place = self.layers.section_place("heat", self.file);
        for path in needed {
            if !self.layers.values.contains_key(path) {
                let kind = ProblemKind::Missing {
                    key: path.to_owned(),
                    example: example_of(path),
                };
                self.problems.add(&place, path, kind);
            }
        }
    }

    /// Brings rates to one year. Only strings are made of parts that nobody has yet built in number.
    fn settle_prices(&mut self, file: &[Entry]) {
        self.draft.scenario.finance.is_proven = self.draft.scenario.concept() != Concept::Strings;
        let section = self.layers.section_place(table::RATES, self.file);
        let written = Written {
            file,
            values: &self.layers.values,
            section: &section,
        };
        prices::settle(&written, &mut self.draft.scenario, &mut self.problems);
    }

    fn finish(mut self) -> Result<Scenario, ScenarioErrors> {
        let place_of = |path: &str| {
            let section = path.rsplit_once('.').map_or("", |(section, _)| section);
            let given = self.layers.values.get(path).map(|spot| spot.place.clone());
            given.unwrap_or_else(|| self.layers.section_place(section, self.file))
        };
        checks::check(&self.draft, place_of, &mut self.problems);
        self.problems.or(self.draft.scenario)
    }
}

fn ledger_text(key: &Key, si: f64) -> String {
    match &key.kind {
        Kind::Quantity(measure, _) => Unit::parse(measure.unit, measure.dimension).map_or_else(
            |_| Decimal::default().to_string(),
            |unit| unit.show(unit.from_si_rounded(si, LEDGER_DIGITS)),
        ),
        _ => String::new(),
    }
}

/// A default as if it stood in a file; monthly ones are the same all year.
fn default_spot(key: &Key, text: String, place: &Place) -> Spot {
    let raw = match key.kind {
        Kind::Whole { .. } => Raw::Number(text),
        Kind::Monthly(..) => {
            let month = Spot {
                raw: Raw::Text(text),
                place: place.clone(),
            };
            Raw::List(vec![month; 12])
        }
        _ => Raw::Text(text),
    };
    Spot {
        raw,
        place: place.clone(),
    }
}

/// A value as it would stand in a file.
pub(crate) fn as_toml(key: &Key, text: &str) -> String {
    match &key.kind {
        Kind::Whole { .. } => text.to_owned(),
        Kind::Quantity(measure, _) if measure.unit == "1" => text.to_owned(),
        Kind::Monthly(..) => format!("[{}]", vec![format!("\"{text}\""); 12].join(", ")),
        Kind::Texts(_) => format!("[\"{text}\"]"),
        Kind::Column(..) => format!("[{text}]"),
        _ => format!("\"{text}\""),
    }
}

fn example_of(path: &str) -> String {
    match table::find(path).map(|key| (key, key.need)) {
        Some((key, Need::Optional(example))) => as_toml(key, example),
        _ => String::new(),
    }
}
