//! TOML as it stands in the files: values with their places, before they mean anything.

use std::collections::BTreeMap;

use toml::Spanned;
use toml::de::{DeTable, DeValue};

use crate::problem::{Place, ProblemKind, Problems};
use crate::table;

/// A value with its place.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Spot {
    pub raw: Raw,
    pub place: Place,
}

/// A TOML value.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Raw {
    Text(String),
    /// A plain number, as written.
    Number(String),
    List(Vec<Spot>),
    Table(Vec<Entry>),
    /// Anything that no key wants, by its name.
    Other(&'static str),
}

/// One line of a table: the key with its place, and its value.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Entry {
    pub name: String,
    pub place: Place,
    pub value: Spot,
}

impl Raw {
    /// What it is, in words.
    pub const fn type_name(&self) -> &'static str {
        match self {
            Self::Text(_) => "text",
            Self::Number(_) => "a bare number",
            Self::List(_) => "a list",
            Self::Table(_) => "a table",
            Self::Other(name) => name,
        }
    }
}

/// Turns byte offsets of a text into places.
pub(crate) struct Lines<'a> {
    file: &'a str,
    text: &'a str,
}

impl<'a> Lines<'a> {
    pub const fn new(file: &'a str, text: &'a str) -> Self {
        Self { file, text }
    }

    fn place(&self, offset: usize) -> Place {
        let before = self.text.get(..offset).unwrap_or(self.text);
        let line_start = before.rfind('\n').map_or(0, |end| end + 1);
        Place {
            file: self.file.to_owned(),
            line: before.matches('\n').count() + 1,
            column: before[line_start..].chars().count() + 1,
        }
    }

    /// Reads the whole text as TOML.
    pub fn parse(&self, problems: &mut Problems) -> Vec<Entry> {
        let (root, errors) = DeTable::parse_recoverable(self.text);
        for error in errors {
            let place = self.place(error.span().map_or(0, |span| span.start));
            let message = error.message().to_owned();
            problems.add(&place, "", ProblemKind::Syntax { message });
        }
        self.entries(root.get_ref())
    }

    fn entries(&self, table: &DeTable<'_>) -> Vec<Entry> {
        let mut entries: Vec<_> = table
            .iter()
            .map(|(name, value)| Entry {
                name: name.get_ref().to_string(),
                place: self.place(name.span().start),
                value: self.spot(value),
            })
            .collect();
        entries.sort_by(|left, right| left.place.cmp(&right.place));
        entries
    }

    fn spot(&self, value: &Spanned<DeValue<'_>>) -> Spot {
        let raw = match value.get_ref() {
            DeValue::String(text) => Raw::Text(text.to_string()),
            DeValue::Integer(number) if number.radix() == 10 => {
                Raw::Number(number.as_str().to_owned())
            }
            DeValue::Integer(_) => Raw::Other("a number that is not decimal"),
            DeValue::Float(number) => Raw::Number(number.as_str().to_owned()),
            DeValue::Boolean(_) => Raw::Other("a truth value"),
            DeValue::Datetime(_) => Raw::Other("a date"),
            DeValue::Array(items) => Raw::List(items.iter().map(|item| self.spot(item)).collect()),
            DeValue::Table(table) => Raw::Table(self.entries(table)),
        };
        Spot {
            raw,
            place: self.place(value.span().start),
        }
    }
}

/// Reads an override's value: TOML if it is any, otherwise the text as it stands.
pub(crate) fn parse_override(text: &str) -> Spot {
    let place = Place {
        file: "--set".to_owned(),
        line: 0,
        column: 0,
    };
    let lines = Lines::new(&place.file, text);
    let mut spot = match DeValue::parse(text) {
        Ok(value) => lines.spot(&value),
        Err(_) => Spot {
            raw: Raw::Text(text.to_owned()),
            place: place.clone(),
        },
    };
    move_to(&mut spot, &place);
    spot
}

fn move_to(spot: &mut Spot, place: &Place) {
    spot.place = place.clone();
    match &mut spot.raw {
        Raw::List(items) => items.iter_mut().for_each(|item| move_to(item, place)),
        Raw::Table(entries) => entries.iter_mut().for_each(|entry| {
            entry.place = place.clone();
            move_to(&mut entry.value, place);
        }),
        Raw::Text(_) | Raw::Number(_) | Raw::Other(_) => {}
    }
}

/// Values by key path, and where each section begins, from one or several files.
#[derive(Default)]
pub(crate) struct Layers {
    pub values: BTreeMap<String, Spot>,
    sections: BTreeMap<String, Place>,
}

/// What is wrong with a key that isn't known.
fn unknown(path: &str) -> ProblemKind {
    match table::gone(path) {
        Some(why) => ProblemKind::Gone { why },
        None => ProblemKind::UnknownKey {
            nearest: table::nearest(path),
        },
    }
}

impl Layers {
    /// Lays a table under what is there already: what is there stays. Unknown keys are told.
    pub fn lay_under(&mut self, prefix: &str, entries: Vec<Entry>, problems: &mut Problems) {
        for Entry { name, place, value } in entries {
            let path = if prefix.is_empty() {
                name
            } else {
                format!("{prefix}.{name}")
            };
            if table::find(&path).is_some() || prefix == table::RATES {
                self.values.entry(path).or_insert(value);
            } else if !table::is_section(&path) {
                problems.add(&place, &path, unknown(&path));
            } else if let Raw::Table(inner) = value.raw {
                self.sections.entry(path.clone()).or_insert(place);
                self.lay_under(&path, inner, problems);
            } else {
                let found = value.raw.type_name().to_owned();
                let wanted = "a section with keys of its own".to_owned();
                problems.add(
                    &value.place,
                    &path,
                    ProblemKind::WrongType { found, wanted },
                );
            }
        }
    }

    /// Where a missing key of this section is told: at the section, or what it stands in.
    pub fn section_place(&self, section: &str, file: &str) -> Place {
        let mut path = section;
        loop {
            if let Some(place) = self.sections.get(path) {
                return place.clone();
            }
            match path.rsplit_once('.') {
                Some((outer, _)) => path = outer,
                None => {
                    return Place {
                        file: file.to_owned(),
                        line: 1,
                        column: 1,
                    };
                }
            }
        }
    }
}
