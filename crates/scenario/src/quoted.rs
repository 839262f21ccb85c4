//! One rate as it is written: a price alone, or a table with its range, year, source, carbon and life.

use std::borrow::Cow;

use ledger::{Item, Rate};
use quantity::Dimension;

use crate::key::Measure;
use crate::problem::{Place, ProblemKind, Problems};
use crate::raw::{Entry, Raw, Spot};
use crate::value::{read_quantity, wrong_type};

/// What a table of a rate may hold.
const FIELDS: [&str; 9] = [
    "rate",
    "low",
    "high",
    "year",
    "source",
    "carbon",
    "carbon_source",
    "steel",
    "life",
];

const SECONDS_PER_YEAR: f64 = 8760.0 * 3600.0;

/// How long a part may last.
const LIFE: Measure = Measure {
    dimension: Dimension::Time,
    unit: "yr",
    range: (1.0, 200.0),
};

/// A rate on its way from a file into the bill.
pub(crate) struct Quoted<'a> {
    item: Item,
    path: &'a str,
    currency: &'a str,
    fields: &'a [Entry],
    problems: &'a mut Problems,
    /// The currency that its prices are written in.
    pub written_in: Option<String>,
}

/// Where a rate stands, and what is laid on it.
pub(crate) struct Terms<'a> {
    /// The scenario's currency.
    pub currency: &'a str,
    /// The year of a price that names none.
    pub year: u16,
    /// What is said of a price alone.
    pub source: &'static str,
}

/// Lays what is written over a rate; gives the currency it is written in. What is wrong is told, and
/// leaves the rate as it was.
pub(crate) fn lay(
    item: Item,
    path: &str,
    spot: &Spot,
    terms: &Terms<'_>,
    rate: &mut Rate,
    problems: &mut Problems,
) -> Option<String> {
    let alone;
    let fields = match &spot.raw {
        Raw::Table(fields) => fields,
        _ => {
            alone = [Entry {
                name: "rate".to_owned(),
                place: spot.place.clone(),
                value: spot.clone(),
            }];
            alone.as_slice()
        }
    };
    let is_table = matches!(spot.raw, Raw::Table(_));
    let mut quoted = Quoted {
        item,
        path,
        currency: terms.currency,
        fields,
        problems,
        written_in: None,
    };
    quoted.refuse_unknown();
    if is_table {
        quoted.refuse_unsaid(&spot.place);
    }
    let mut laid = rate.clone();
    quoted.lay_price(&mut laid, terms);
    quoted.lay_carbon(&mut laid);
    if let Some(years) = quoted.life_years() {
        laid.life_years = Some(years);
    }
    quoted.refuse_disorder(&laid, &spot.place);
    let written_in = quoted.written_in;
    *rate = laid;
    written_in
}

impl Quoted<'_> {
    fn refuse_unknown(&mut self) {
        for field in self.fields {
            if !FIELDS.contains(&field.name.as_str()) {
                let nearest = crate::likeness::nearest(&field.name, &FIELDS).map(str::to_owned);
                let path = self.path_of(&field.name);
                self.problems
                    .add(&field.place, &path, ProblemKind::UnknownKey { nearest });
            }
        }
    }

    /// Nothing stands in a bill without saying where it is from.
    fn refuse_unsaid(&mut self, place: &Place) {
        for (figure, words) in [("rate", "source"), ("carbon", "carbon_source")] {
            if self.field(figure).is_some() && self.field(words).is_none() {
                let key = self.path_of(words);
                let example = "\"offer of 3 May 2026\"".to_owned();
                let kind = ProblemKind::Missing {
                    key: key.clone(),
                    example,
                };
                self.problems.add(place, &key, kind);
            }
        }
    }

    fn refuse_disorder(&mut self, rate: &Rate, place: &Place) {
        if rate.low > rate.value || rate.value > rate.high {
            let fault = format!(
                "the rate of {} does not lie between low, {}, and high, {}",
                rate.value, rate.low, rate.high
            );
            self.problems
                .add(place, self.path, ProblemKind::Clash(fault));
        }
    }

    fn lay_price(&mut self, rate: &mut Rate, terms: &Terms<'_>) {
        if let Some(value) = self.money("rate") {
            let ratio = if rate.value > 0.0 {
                value / rate.value
            } else {
                1.0
            };
            let (low, high) = if rate.value > 0.0 {
                (rate.low * ratio, rate.high * ratio)
            } else {
                (value, value)
            };
            (rate.value, rate.low, rate.high) = (value, low, high);
            rate.price_year = terms.year;
            rate.source = Cow::Borrowed(terms.source);
        }
        if let Some(low) = self.money("low") {
            rate.low = low;
        }
        if let Some(high) = self.money("high") {
            rate.high = high;
        }
        if let Some(year) = self.year() {
            rate.price_year = year;
        }
        if let Some(source) = self.words("source") {
            rate.source = Cow::Owned(source);
        }
    }

    fn lay_carbon(&mut self, rate: &mut Rate) {
        if let Some(carbon_kg) = self.mass("carbon") {
            rate.carbon_kg_per_unit = carbon_kg;
        }
        if let Some(steel_kg) = self.mass("steel") {
            rate.steel_kg_per_unit = steel_kg;
        }
        if let Some(source) = self.words("carbon_source") {
            rate.carbon_source = Cow::Owned(source);
        }
    }

    fn path_of(&self, field: &str) -> String {
        format!("{}.{field}", self.path)
    }

    fn field(&self, name: &str) -> Option<&Spot> {
        let entry = self.fields.iter().find(|entry| entry.name == name)?;
        Some(&entry.value)
    }

    /// What `read` makes of a field; what is wrong with it is told.
    fn take<T>(
        &mut self,
        name: &str,
        read: impl FnOnce(&Spot) -> Result<T, ProblemKind>,
    ) -> Option<T> {
        let spot = self.field(name)?.clone();
        let is_alone = spot.place == self.fields.first()?.place && self.fields.len() == 1;
        let path = if is_alone {
            self.path.to_owned()
        } else {
            self.path_of(name)
        };
        read(&spot)
            .map_err(|kind| self.problems.add(&spot.place, &path, kind))
            .ok()
    }

    fn money(&mut self, name: &str) -> Option<f64> {
        let model = format!("{}/{}", self.currency, self.item.unit());
        let read = self.take(name, |spot| read_like(spot, &model))?;
        self.written_in = self.written_in.take().or(read.1);
        Some(read.0)
    }

    fn mass(&mut self, name: &str) -> Option<f64> {
        let model = format!("kg/{}", self.item.unit());
        let read = self.take(name, |spot| read_like(spot, &model))?;
        Some(read.0)
    }

    fn words(&mut self, name: &str) -> Option<String> {
        self.take(name, |spot| match &spot.raw {
            Raw::Text(text) if !text.trim().is_empty() => Ok(text.clone()),
            other => Err(wrong_type(other, "text that says where it is from")),
        })
    }

    fn year(&mut self) -> Option<u16> {
        self.take("year", read_year)
    }

    fn life_years(&mut self) -> Option<f64> {
        let read = self.take("life", |spot| read_quantity(&LIFE, spot))?;
        Some(read.si / SECONDS_PER_YEAR)
    }
}

/// A number of zero or more in the unit of `model`, and the currency it is written in.
fn read_like(spot: &Spot, model: &str) -> Result<(f64, Option<String>), ProblemKind> {
    let Raw::Text(text) = &spot.raw else {
        return Err(wrong_type(
            &spot.raw,
            &format!("text such as \"2.5 {model}\""),
        ));
    };
    let read = quantity::read_like(text, model)?;
    if read.number.is_negative() {
        let (value, allowed) = (text.clone(), "0 and above".to_owned());
        return Err(ProblemKind::OutOfRange {
            value,
            allowed,
            fits: None,
        });
    }
    Ok((read.number.to_f64(), read.currency))
}

/// A year such as 2024.
fn read_year(spot: &Spot) -> Result<u16, ProblemKind> {
    let wanted = "a year such as 2024";
    match &spot.raw {
        Raw::Number(text) => text.parse().map_err(|_| wrong_type(&spot.raw, wanted)),
        other => Err(wrong_type(other, wanted)),
    }
}
