//! Values that mean something: read from raw ones by what a key declares.

use quantity::{Decimal, Dimension, Reading, Unit, accepted_units};

use crate::key::{Key, Kind, Measure};
use crate::likeness::nearest;
use crate::phrases;
use crate::problem::{ProblemKind, Problems};
use crate::raw::{Raw, Spot};
use crate::{BearingRule, Duty, FirstAxis};

const MONTHS: usize = 12;
/// A table has at least so many lines.
const LEAST_OF_COLUMN: usize = 2;

/// A value of a key.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Value {
    Quantity(Reading),
    Column(Vec<Reading>),
    Whole(u32),
    /// Index of the word, and the word.
    Choice(usize, &'static str),
    Bearing(BearingRule, String),
    FirstAxis(FirstAxis, String),
    Duty(Duty, String),
    Text(String),
    Texts(Vec<String>),
}

impl Value {
    /// As it would stand in the file, without quotes.
    pub fn text(&self) -> String {
        match self {
            Self::Quantity(reading) => reading.unit.show(reading.number),
            Self::Column(readings) => {
                let shown: Vec<_> = readings
                    .iter()
                    .map(|one| one.unit.show(one.number))
                    .collect();
                shown.join(", ")
            }
            Self::Whole(number) => number.to_string(),
            Self::Choice(_, name) => (*name).to_owned(),
            Self::Bearing(_, text)
            | Self::FirstAxis(_, text)
            | Self::Duty(_, text)
            | Self::Text(text) => text.clone(),
            Self::Texts(texts) => texts.join(", "),
        }
    }

    /// The unit it is written in; empty if it has none.
    pub fn unit_text(&self) -> &str {
        let unit = match self {
            Self::Quantity(reading) => Some(&reading.unit),
            Self::Column(readings) => readings.first().map(|reading| &reading.unit),
            Self::Whole(_)
            | Self::Choice(..)
            | Self::Bearing(..)
            | Self::FirstAxis(..)
            | Self::Duty(..)
            | Self::Text(_)
            | Self::Texts(_) => None,
        };
        unit.map(Unit::text)
            .filter(|text| *text != "1")
            .unwrap_or("")
    }

    /// The same text for the same value, however it is written: numbers in SI.
    pub fn canonical(&self) -> String {
        match self {
            Self::Quantity(reading) => format!("{:?}", reading.si),
            Self::Column(readings) => {
                let shown: Vec<_> = readings.iter().map(|one| format!("{:?}", one.si)).collect();
                shown.join(" ")
            }
            Self::Bearing(rule, _) => phrases::canonical_bearing(*rule),
            Self::FirstAxis(axis, _) => phrases::canonical_first_axis(*axis),
            Self::Duty(duty, _) => phrases::canonical_duty(*duty),
            Self::Whole(_) | Self::Choice(..) | Self::Text(_) | Self::Texts(_) => self.text(),
        }
    }
}

/// Reads one value (never an opened one) of `key`; problems are told and give `None`.
pub(crate) fn read(key: &Key, spot: &Spot, problems: &mut Problems) -> Option<Value> {
    let read = match &key.kind {
        Kind::Monthly(measure, _) => return read_months(key, measure, spot, problems),
        Kind::Column(measure, _) => return read_column(key, measure, spot, problems),
        Kind::Quantity(measure, _) => read_quantity(measure, spot).map(Value::Quantity),
        Kind::Whole { range, .. } => read_whole(*range, spot).map(Value::Whole),
        Kind::Choice { names, .. } => read_choice(&names(), spot),
        Kind::Bearing(_) => phrases::read_bearing(spot),
        Kind::FirstAxis(_) => phrases::read_first_axis(spot),
        Kind::Duty(_) => phrases::read_duty(spot),
        Kind::Text(_) => match &spot.raw {
            Raw::Text(text) => Ok(Value::Text(text.clone())),
            other => Err(wrong_type(other, "text")),
        },
        Kind::Texts(_) => read_texts(spot),
    };
    read.map_err(|kind| problems.add(&spot.place, key.path, kind))
        .ok()
}

/// Reads a list of at least one text.
fn read_texts(spot: &Spot) -> Result<Value, ProblemKind> {
    let wanted = || wrong_type(&spot.raw, "a list of texts, at least one");
    let Raw::List(items) = &spot.raw else {
        return Err(wanted());
    };
    let texts = items.iter().map(|item| match &item.raw {
        Raw::Text(text) => Ok(text.clone()),
        _ => Err(wanted()),
    });
    let texts = texts.collect::<Result<Vec<_>, _>>()?;
    if texts.is_empty() {
        return Err(wanted());
    }
    Ok(Value::Texts(texts))
}

pub(crate) fn wrong_type(found: &Raw, wanted: &str) -> ProblemKind {
    let (found, wanted) = (found.type_name().to_owned(), wanted.to_owned());
    ProblemKind::WrongType { found, wanted }
}

/// Reads a quantity within its range. A bare number is one without a unit.
pub(crate) fn read_quantity(measure: &Measure, spot: &Spot) -> Result<Reading, ProblemKind> {
    let text = match &spot.raw {
        Raw::Text(text) | Raw::Number(text) => text,
        other => {
            let example = accepted_units(measure.dimension)
                .first()
                .copied()
                .unwrap_or("1");
            return Err(wrong_type(
                other,
                &format!("text with a unit such as {example}"),
            ));
        }
    };
    let reading = quantity::read(text, measure.dimension)?;
    if measure.holds(reading.si) {
        return Ok(reading);
    }
    let fits = unit_that_fits(measure, reading.number);
    let (value, allowed) = (text.clone(), measure.range_text());
    Err(ProblemKind::OutOfRange {
        value,
        allowed,
        fits,
    })
}

/// The same number in another usual unit that would lie in the range.
fn unit_that_fits(measure: &Measure, number: Decimal) -> Option<String> {
    let units = accepted_units(measure.dimension).iter();
    units
        .filter_map(|text| Unit::parse(text, measure.dimension).ok())
        .find(|unit| measure.dimension != Dimension::Number && measure.holds(unit.to_si(number)))
        .map(|unit| unit.show(number))
}

fn read_months(
    key: &Key,
    measure: &Measure,
    spot: &Spot,
    problems: &mut Problems,
) -> Option<Value> {
    let Raw::List(items) = &spot.raw else {
        problems.add(
            &spot.place,
            key.path,
            wrong_type(&spot.raw, "a list of twelve"),
        );
        return None;
    };
    if items.len() != MONTHS {
        problems.add(
            &spot.place,
            key.path,
            ProblemKind::NotTwelve { found: items.len() },
        );
        return None;
    }
    read_items(key, measure, items, problems)
}

/// Reads a column of a table: of two values or more.
fn read_column(
    key: &Key,
    measure: &Measure,
    spot: &Spot,
    problems: &mut Problems,
) -> Option<Value> {
    match &spot.raw {
        Raw::List(items) if items.len() >= LEAST_OF_COLUMN => {
            read_items(key, measure, items, problems)
        }
        other => {
            let kind = wrong_type(other, "a list of two or more");
            problems.add(&spot.place, key.path, kind);
            None
        }
    }
}

fn read_items(
    key: &Key,
    measure: &Measure,
    items: &[Spot],
    problems: &mut Problems,
) -> Option<Value> {
    let mut readings = Vec::with_capacity(items.len());
    for item in items {
        match read_quantity(measure, item) {
            Ok(reading) => readings.push(reading),
            Err(kind) => problems.add(&item.place, key.path, kind),
        }
    }
    (readings.len() == items.len()).then_some(Value::Column(readings))
}

/// Reads a whole number within its range.
fn read_whole(range: (u32, u32), spot: &Spot) -> Result<u32, ProblemKind> {
    let wanted = "a whole number";
    let Raw::Number(text) = &spot.raw else {
        return Err(wrong_type(&spot.raw, wanted));
    };
    let Ok(number) = text.replace('_', "").parse::<i128>() else {
        let (found, wanted) = (text.clone(), wanted.to_owned());
        return Err(ProblemKind::WrongType { found, wanted });
    };
    let in_range = |number: &u32| (range.0..=range.1).contains(number);
    u32::try_from(number).ok().filter(in_range).ok_or_else(|| {
        let (value, allowed) = (text.clone(), format!("{} … {}", range.0, range.1));
        ProblemKind::OutOfRange {
            value,
            allowed,
            fits: None,
        }
    })
}

pub(crate) fn read_choice(names: &[&'static str], spot: &Spot) -> Result<Value, ProblemKind> {
    let Raw::Text(text) = &spot.raw else {
        return Err(wrong_type(
            &spot.raw,
            &format!("one of {}", names.join(", ")),
        ));
    };
    let found = names.iter().enumerate().find(|(_, name)| *name == text);
    found
        .map(|(index, name)| Value::Choice(index, name))
        .ok_or_else(|| ProblemKind::UnknownChoice {
            value: text.clone(),
            options: names.iter().map(|name| (*name).to_owned()).collect(),
            nearest: nearest(text, names).map(|name| format!("\"{name}\"")),
        })
}
