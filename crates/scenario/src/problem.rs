//! What is wrong with a scenario: every problem with its place, key, value and what would do.

use std::fmt;

use quantity::QuantityError;
use thiserror::Error;

/// Where something stands.
#[derive(Clone, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub struct Place {
    /// The file, or the override.
    pub file: String,
    /// Line, from 1; 0 for an override.
    pub line: usize,
    /// Column in characters, from 1; 0 for an override.
    pub column: usize,
}

impl fmt::Display for Place {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.line {
            0 => write!(out, "{}", self.file),
            line => write!(out, "{}:{line}:{}", self.file, self.column),
        }
    }
}

/// One problem.
#[derive(Clone, Debug, Error, PartialEq)]
#[error("{place}: {key}{}{kind}", if .key.is_empty() { "" } else { ": " })]
pub struct Problem {
    /// Where it stands.
    pub place: Place,
    /// Path of the key; empty if the file as a whole is meant.
    pub key: String,
    /// What is wrong.
    pub kind: ProblemKind,
}

/// What can be wrong.
#[derive(Clone, Debug, Error, PartialEq)]
#[non_exhaustive]
pub enum ProblemKind {
    /// The file is no TOML here.
    #[error("{message}")]
    Syntax {
        /// What the TOML reader says.
        message: String,
    },
    /// The base file could not be read.
    #[error("cannot read {file}: {message}")]
    CannotRead {
        /// The base file.
        file: String,
        /// Why.
        message: String,
    },
    /// A base file lies, by way of others, over itself.
    #[error("{file} is already among the files laid under this one")]
    BaseLoop {
        /// The file met again.
        file: String,
    },
    /// No such key.
    #[error("unknown key{}", did_you_mean(.nearest))]
    UnknownKey {
        /// A known path that looks like it.
        nearest: Option<String>,
    },
    /// A key that was known once and means nothing any more.
    #[error("is gone, {why}; take the line away")]
    Gone {
        /// What became of it.
        why: &'static str,
    },
    /// A key that must be given is not there.
    #[error("missing; write for example {} = {example}", last_name(.key))]
    Missing {
        /// The key's path.
        key: String,
        /// A value as it would stand in the file.
        example: String,
    },
    /// The value is of another TOML type.
    #[error("is {found}, but {wanted} is wanted")]
    WrongType {
        /// What the file has.
        found: String,
        /// What would do.
        wanted: String,
    },
    /// The text is not the quantity wanted.
    #[error("{0}")]
    Quantity(#[from] QuantityError),
    /// The value lies outside its range.
    #[error("{value} is outside {allowed}{}", did_you_mean(.fits))]
    OutOfRange {
        /// The value as written.
        value: String,
        /// The range.
        allowed: String,
        /// The same number in a unit that would fit.
        fits: Option<String>,
    },
    /// The word is none of those to choose from.
    #[error("\"{value}\" is none of {}{}", .options.join(", "), did_you_mean(.nearest))]
    UnknownChoice {
        /// The word as written.
        value: String,
        /// The words to choose from.
        options: Vec<String>,
        /// One that looks like it.
        nearest: Option<String>,
    },
    /// A list of months is not twelve long.
    #[error("has {found} values, but 12 are wanted, January first")]
    NotTwelve {
        /// How many there are.
        found: usize,
    },
    /// The value cannot be opened for search.
    #[error("cannot be opened for search; give one value")]
    NotOpenable,
    /// An opened value is not laid out as one.
    #[error("an opened value is {{ from, to, step, start }} or {{ any, start }}: {fault}")]
    Opening {
        /// What is wrong with it.
        fault: String,
    },
    /// A range runs backwards or is a point.
    #[error("from {from} is not below to {to}")]
    RangeBackwards {
        /// Lower end as written.
        from: String,
        /// Upper end as written.
        to: String,
    },
    /// A step that leads nowhere, or to too many places.
    #[error("step {step} does not divide {from} … {to} into 2 to {most} places")]
    BadStep {
        /// Step as written.
        step: String,
        /// Lower end.
        from: String,
        /// Upper end.
        to: String,
        /// The largest number of places.
        most: u32,
    },
    /// The start lies outside the opened range.
    #[error("start {start} is outside {from} … {to}")]
    StartOutside {
        /// Start as written.
        start: String,
        /// Lower end.
        from: String,
        /// Upper end.
        to: String,
    },
    /// The start lies between two steps.
    #[error("start {start} is on no step; the nearest are {below} and {above}")]
    StartOffStep {
        /// Start as written.
        start: String,
        /// The step below it.
        below: String,
        /// The step above it.
        above: String,
    },
    /// The start is none of the values to choose from.
    #[error("start {start} is none of {}", .options.join(", "))]
    StartNotListed {
        /// Start as written.
        start: String,
        /// The values to choose from.
        options: Vec<String>,
    },
    /// A value is listed twice.
    #[error("{value} is listed twice")]
    ListedTwice {
        /// The value.
        value: String,
    },
    /// Prices in two currencies.
    #[error("{found}, but the scenario's currency is {wanted}")]
    Currency {
        /// The currency of this price.
        found: String,
        /// The scenario's.
        wanted: String,
    },
    /// Values that do not go together.
    #[error("{0}")]
    Clash(String),
}

fn did_you_mean(likely: &Option<String>) -> String {
    likely
        .as_ref()
        .map_or_else(String::new, |text| format!("; did you mean {text}?"))
}

fn last_name(path: &str) -> &str {
    path.rsplit_once('.').map_or(path, |(_, name)| name)
}

/// Every problem found in a scenario, in the order of files, lines and columns.
#[derive(Clone, Debug, Error, PartialEq)]
pub struct ScenarioErrors {
    /// The problems; never empty.
    pub problems: Vec<Problem>,
}

/// One line for each problem.
impl fmt::Display for ScenarioErrors {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        for (index, problem) in self.problems.iter().enumerate() {
            let line_end = if index == 0 { "" } else { "\n" };
            write!(out, "{line_end}{problem}")?;
        }
        Ok(())
    }
}

/// Gathers problems, so that all are told at once.
#[derive(Default)]
pub(crate) struct Problems(Vec<Problem>);

impl Problems {
    pub fn add(&mut self, place: &Place, key: &str, kind: impl Into<ProblemKind>) {
        let (place, key, kind) = (place.clone(), key.to_owned(), kind.into());
        self.0.push(Problem { place, key, kind });
    }

    /// Whether anything is wrong with one of these keys.
    pub fn touch(&self, keys: &[&str]) -> bool {
        self.0
            .iter()
            .any(|problem| keys.contains(&problem.key.as_str()))
    }

    /// `value`, unless there are problems.
    pub fn or<T>(self, value: T) -> Result<T, ScenarioErrors> {
        if self.0.is_empty() {
            return Ok(value);
        }
        let mut problems = self.0;
        problems.sort_by(|left, right| left.place.cmp(&right.place));
        Err(ScenarioErrors { problems })
    }
}
