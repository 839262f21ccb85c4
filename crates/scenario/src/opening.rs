//! Opened values: a range with a step, or a list to choose from.

use crate::key::{Key, Kind};
use crate::likeness::nearest;
use crate::problem::{ProblemKind, Problems};
use crate::range;
use crate::raw::{Entry, Raw, Spot};
use crate::space::{Levels, Variable};
use crate::value::{self, Value};

const WORDS: [&str; 5] = ["from", "to", "step", "start", "any"];

/// The parts of an opened value.
#[derive(Default)]
pub(crate) struct Parts<'a> {
    pub from: Option<&'a Spot>,
    pub to: Option<&'a Spot>,
    pub step: Option<&'a Spot>,
    pub start: Option<&'a Spot>,
    pub any: Option<&'a Spot>,
}

/// What is wrong with an opened value, and which part of it.
pub(crate) struct Fault<'a> {
    pub spot: &'a Spot,
    pub kind: ProblemKind,
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
    let is_list = parts.from.is_none() && parts.to.is_none() && parts.step.is_none();
    let read = match (parts.any, parts.from, parts.to) {
        (Some(any), ..) if is_list => list(key, any, parts.start, problems)?,
        (None, Some(from), Some(to)) if is_numeric(key) => {
            range::read(key, [from, to], &parts, spot, problems)?
        }
        _ if is_numeric(key) => Err(Fault {
            spot,
            kind: opening("give from and to, or any"),
        }),
        _ => Err(Fault {
            spot,
            kind: opening("give any, a list to choose from"),
        }),
    };
    read.map_err(|fault| problems.add(&fault.spot.place, key.path, fault.kind))
        .ok()
}

pub(crate) fn opening(fault: impl Into<String>) -> ProblemKind {
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

/// Reads a list; `None` if one of its values is wrong for itself, which is told.
fn list<'a>(
    key: &'static Key,
    any: &'a Spot,
    start: Option<&'a Spot>,
    problems: &mut Problems,
) -> Option<Result<Variable, Fault<'a>>> {
    let Raw::List(items) = &any.raw else {
        return Some(Err(Fault {
            spot: any,
            kind: opening("any is a list"),
        }));
    };
    let read: Vec<_> = items
        .iter()
        .map(|item| value::read(key, item, problems))
        .collect();
    let start = match start {
        None => None,
        Some(spot) => Some((spot, value::read(key, spot, problems)?)),
    };
    let values: Vec<Value> = read.into_iter().collect::<Option<_>>()?;
    Some(list_variable(key, any, items, values, start))
}

fn list_variable<'a>(
    key: &'static Key,
    any: &'a Spot,
    items: &'a [Spot],
    values: Vec<Value>,
    start: Option<(&'a Spot, Value)>,
) -> Result<Variable, Fault<'a>> {
    if values.is_empty() {
        return Err(Fault {
            spot: any,
            kind: opening("any is empty"),
        });
    }
    let canonical: Vec<_> = values.iter().map(Value::canonical).collect();
    if let Some(twice) = (1..values.len()).find(|at| canonical[..*at].contains(&canonical[*at])) {
        let kind = ProblemKind::ListedTwice {
            value: values[twice].text(),
        };
        return Err(Fault {
            spot: &items[twice],
            kind,
        });
    }
    let at = match &start {
        None => Some(0),
        Some((_, value)) => canonical
            .iter()
            .position(|known| *known == value.canonical()),
    };
    match (at.and_then(|at| u32::try_from(at).ok()), start) {
        (Some(start), _) => Ok(Variable {
            key,
            levels: Levels::Any(values),
            start,
        }),
        (None, Some((spot, value))) => {
            let options = values.iter().map(Value::text).collect();
            let kind = ProblemKind::StartNotListed {
                start: value.text(),
                options,
            };
            Err(Fault { spot, kind })
        }
        (None, None) => Err(Fault {
            spot: any,
            kind: opening("any is too long"),
        }),
    }
}
