//! Opened values: a range with a step, or a list to choose from.

use quantity::{Decimal, Reading, Unit};

use crate::key::{Key, Kind};
use crate::likeness::nearest;
use crate::problem::{ProblemKind, Problems};
use crate::raw::{Entry, Raw, Spot};
use crate::space::{Levels, Variable};
use crate::value::{self, Value};

/// The most places a range may be divided into.
const MOST_LEVELS: u32 = 1_000_001;

/// A range without a step is divided into this power of ten.
const DEFAULT_DIVISION_TENS: i32 = 3;

const WORDS: [&str; 5] = ["from", "to", "step", "start", "any"];

/// The parts of an opened value.
#[derive(Default)]
struct Parts<'a> {
    from: Option<&'a Spot>,
    to: Option<&'a Spot>,
    step: Option<&'a Spot>,
    start: Option<&'a Spot>,
    any: Option<&'a Spot>,
}

/// Reads an opened value of `key`; problems are told and give `None`.
pub(crate) fn read(
    key: &'static Key,
    spot: &Spot,
    entries: &[Entry],
    problems: &mut Problems,
) -> Option<Variable> {
    if !key.is_openable() {
        problems.add(&spot.place, key.path, ProblemKind::NotOpenable);
        return None;
    }
    let parts = parts(key, entries, problems)?;
    match (parts.any, parts.from, parts.to) {
        (Some(any), None, None) if parts.step.is_none() => list(key, any, parts.start, problems),
        (None, Some(from), Some(to)) if is_numeric(key) => {
            range(key, [from, to], &parts, spot, problems)
        }
        _ => {
            let fault = if is_numeric(key) {
                "give from and to, or any"
            } else {
                "give any, a list to choose from"
            };
            problems.add(&spot.place, key.path, opening(fault));
            None
        }
    }
}

fn opening(fault: impl Into<String>) -> ProblemKind {
    ProblemKind::Opening {
        fault: fault.into(),
    }
}

const fn is_numeric(key: &Key) -> bool {
    matches!(key.kind, Kind::Quantity(..) | Kind::Whole { .. })
}

fn parts<'a>(key: &Key, entries: &'a [Entry], problems: &mut Problems) -> Option<Parts<'a>> {
    let mut parts = Parts::default();
    let mut sound = true;
    for entry in entries {
        let part = match entry.name.as_str() {
            "from" => &mut parts.from,
            "to" => &mut parts.to,
            "step" => &mut parts.step,
            "start" => &mut parts.start,
            "any" => &mut parts.any,
            other => {
                let hint = nearest(other, &WORDS)
                    .map_or_else(String::new, |word| format!("; did you mean {word}?"));
                let fault = format!("\"{other}\" is no part of it{hint}");
                problems.add(&entry.place, key.path, opening(fault));
                sound = false;
                continue;
            }
        };
        *part = Some(&entry.value);
    }
    sound.then_some(parts)
}

fn list(
    key: &'static Key,
    any: &Spot,
    start: Option<&Spot>,
    problems: &mut Problems,
) -> Option<Variable> {
    let Raw::List(items) = &any.raw else {
        problems.add(&any.place, key.path, opening("any is a list"));
        return None;
    };
    let read: Vec<_> = items
        .iter()
        .map(|item| value::read(key, item, problems))
        .collect();
    let values: Vec<Value> = read.into_iter().collect::<Option<_>>()?;
    if values.is_empty() {
        problems.add(&any.place, key.path, opening("any is empty"));
        return None;
    }
    for (index, value) in values.iter().enumerate() {
        let canonical = value.canonical();
        if values[..index]
            .iter()
            .any(|other| other.canonical() == canonical)
        {
            let kind = ProblemKind::ListedTwice {
                value: value.text(),
            };
            problems.add(&items[index].place, key.path, kind);
            return None;
        }
    }
    let start = match start {
        None => 0,
        Some(spot) => {
            let wanted = value::read(key, spot, problems)?;
            let canonical = wanted.canonical();
            let found = values
                .iter()
                .position(|value| value.canonical() == canonical);
            found.or_else(|| {
                let options = values.iter().map(Value::text).collect();
                let kind = ProblemKind::StartNotListed {
                    start: wanted.text(),
                    options,
                };
                problems.add(&spot.place, key.path, kind);
                None
            })?
        }
    };
    Some(Variable {
        key,
        levels: Levels::Any(values),
        start: u32::try_from(start).ok()?,
    })
}

/// A number in the unit of the range's lower end, with what was written.
struct Mark {
    number: Decimal,
    text: String,
}

fn range(
    key: &'static Key,
    ends: [&Spot; 2],
    parts: &Parts<'_>,
    spot: &Spot,
    problems: &mut Problems,
) -> Option<Variable> {
    let from = value::read(key, ends[0], problems);
    let to = value::read(key, ends[1], problems);
    let start = parts.start.map(|start| value::read(key, start, problems));
    let (from, to) = (from?, to?);
    let unit = match &from {
        Value::Quantity(reading) => Some(reading.unit.clone()),
        _ => None,
    };
    let from = mark(&from, unit.as_ref())?;
    let to = mark(&to, unit.as_ref())?;
    let span = to.number.minus(from.number)?;
    if span.is_negative() || span.is_zero() {
        let kind = ProblemKind::RangeBackwards {
            from: from.text,
            to: to.text,
        };
        problems.add(&spot.place, key.path, kind);
        return None;
    }
    let step = match parts.step {
        Some(step) => read_step(key, step, unit.as_ref(), problems)?,
        None => default_step(span, unit.as_ref())?,
    };
    let count = span.divided_by(step.number).map(|(steps, _)| steps + 1);
    let Some(count) = count
        .and_then(|count| u32::try_from(count).ok())
        .filter(is_fair)
    else {
        let kind = ProblemKind::BadStep {
            step: step.text,
            from: from.text,
            to: to.text,
            most: MOST_LEVELS,
        };
        problems.add(&parts.step.unwrap_or(spot).place, key.path, kind);
        return None;
    };
    let levels = Levels::Steps {
        from: from.number,
        step: step.number,
        count,
        unit,
    };
    let mut variable = Variable {
        key,
        levels,
        start: (count - 1) / 2,
    };
    if let (Some(value), Some(place)) = (start, parts.start.map(|start| &start.place)) {
        let exact = parts.step.is_some();
        match start_index(&variable, &value?, exact) {
            Ok(index) => variable.start = index,
            Err(kind) => {
                problems.add(place, key.path, kind);
                return None;
            }
        }
    }
    Some(variable)
}

fn is_fair(count: &u32) -> bool {
    (2..=MOST_LEVELS).contains(count)
}

fn mark(value: &Value, unit: Option<&Unit>) -> Option<Mark> {
    let number = match (value, unit) {
        (Value::Quantity(reading), Some(unit)) => in_unit(reading, unit),
        (Value::Whole(number), _) => Decimal::new(i128::from(*number), 0),
        _ => return None,
    };
    Some(Mark {
        number,
        text: value.text(),
    })
}

fn in_unit(reading: &Reading, unit: &Unit) -> Decimal {
    if reading.unit == *unit {
        reading.number
    } else {
        unit.from_si_rounded(reading.si, 15)
    }
}

/// A step has the unit of its range but not its bounds.
fn read_step(key: &Key, spot: &Spot, unit: Option<&Unit>, problems: &mut Problems) -> Option<Mark> {
    let (Raw::Text(text) | Raw::Number(text)) = &spot.raw else {
        problems.add(
            &spot.place,
            key.path,
            opening("step is a number with a unit"),
        );
        return None;
    };
    let read = match (&key.kind, unit) {
        (Kind::Quantity(measure, _), Some(unit)) => {
            quantity::read(text, measure.dimension).map(|reading| in_unit(&reading, unit))
        }
        _ => Decimal::parse(text),
    };
    match read {
        Ok(number)
            if unit.is_none()
                && number
                    .divided_by(Decimal::new(1, 0))
                    .is_none_or(|parts| !parts.1) =>
        {
            problems.add(
                &spot.place,
                key.path,
                opening(format!("step {text} is no whole number")),
            );
            None
        }
        Ok(number) => Some(Mark {
            number,
            text: text.clone(),
        }),
        Err(flaw) => {
            problems.add(&spot.place, key.path, flaw);
            None
        }
    }
}

/// A thousandth of the range; for whole numbers at least 1.
fn default_step(span: Decimal, unit: Option<&Unit>) -> Option<Mark> {
    let number = match unit {
        Some(_) => span.shifted(-DEFAULT_DIVISION_TENS),
        None => {
            let (thousands, _) = span.divided_by(Decimal::new(1, DEFAULT_DIVISION_TENS))?;
            Decimal::new(thousands.max(1), 0)
        }
    };
    Some(Mark {
        number,
        text: number.to_string(),
    })
}

/// The index of the start; off the steps it is refused (`exact`) or set on the step below.
fn start_index(variable: &Variable, start: &Value, exact: bool) -> Result<u32, ProblemKind> {
    let Levels::Steps {
        from,
        step,
        count,
        unit,
    } = &variable.levels
    else {
        return Ok(0);
    };
    let last = count - 1;
    let outside = || ProblemKind::StartOutside {
        start: start.text(),
        from: variable.text(0),
        to: variable.text(last),
    };
    let number = mark(start, unit.as_ref()).ok_or_else(outside)?.number;
    let offset = number.minus(*from).filter(|offset| !offset.is_negative());
    let (index, on_step) = offset
        .and_then(|offset| offset.divided_by(*step))
        .ok_or_else(outside)?;
    let index = u32::try_from(index)
        .ok()
        .filter(|index| *index <= last)
        .ok_or_else(outside)?;
    if on_step || !exact {
        return Ok(index);
    }
    if index == last {
        return Err(outside());
    }
    let (below, above) = (variable.text(index), variable.text(index + 1));
    Err(ProblemKind::StartOffStep {
        start: start.text(),
        below,
        above,
    })
}
