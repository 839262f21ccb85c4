//! A price index as it is written: a source, and a level for each year.

use std::borrow::Cow;
use std::collections::BTreeMap;

use ledger::Index;

use crate::problem::{ProblemKind, Problems};
use crate::raw::{Entry, Raw, Spot};
use crate::value::wrong_type;

const SOURCE: &str = "source";

/// Reads an index; what is wrong is told, and nothing is read then.
pub(crate) fn read(path: &str, spot: &Spot, problems: &mut Problems) -> Option<Index> {
    let Raw::Table(lines) = &spot.raw else {
        let kind = wrong_type(&spot.raw, "a table of years and a source");
        problems.add(&spot.place, path, kind);
        return None;
    };
    let mut index = Index {
        source: Cow::Borrowed(""),
        level: BTreeMap::new(),
    };
    for line in lines {
        if let Err(kind) = take(line, &mut index) {
            problems.add(&line.value.place, &format!("{path}.{}", line.name), kind);
        }
    }
    if index.source.trim().is_empty() {
        let key = format!("{path}.{SOURCE}");
        let example = "\"consumer prices, national office of statistics\"".to_owned();
        let kind = ProblemKind::Missing {
            key: key.clone(),
            example,
        };
        problems.add(&spot.place, &key, kind);
        return None;
    }
    Some(index)
}

fn take(line: &Entry, index: &mut Index) -> Result<(), ProblemKind> {
    match (line.name.as_str(), &line.value.raw) {
        (SOURCE, Raw::Text(text)) => index.source = Cow::Owned(text.clone()),
        (SOURCE, other) => return Err(wrong_type(other, "text that says which index")),
        (year, Raw::Number(text)) => {
            let Ok(year) = year.parse() else {
                return Err(ProblemKind::UnknownKey { nearest: None });
            };
            match text.replace('_', "").parse::<f64>() {
                Ok(level) if level > 0.0 && level.is_finite() => index.level.insert(year, level),
                _ => {
                    let (value, allowed) = (text.clone(), "above 0".to_owned());
                    return Err(ProblemKind::OutOfRange {
                        value,
                        allowed,
                        fits: None,
                    });
                }
            };
        }
        (_, other) => return Err(wrong_type(other, "the index's level, a number")),
    }
    Ok(())
}
