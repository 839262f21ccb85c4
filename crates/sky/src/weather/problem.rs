//! What can be wrong with a weather file.

use std::fmt;

use thiserror::Error;

use crate::sun::SunError;

/// How many problems an error message spells out; the error itself holds all.
const SPELLED_OUT: usize = 20;

/// Why a weather file was refused.
#[derive(Debug, Clone, PartialEq, Error)]
#[non_exhaustive]
pub enum WeatherError {
    /// The head of the file does not say what it must.
    #[error("line {line}: {what}")]
    Head {
        /// Line of the file, from 1.
        line: u64,
        /// What is missing or wrong.
        what: String,
    },
    /// Hours are missing, repeated, unreadable or impossible.
    #[error("{}", spelled_out(problems))]
    Hours {
        /// Every problem, in the order of lines.
        problems: Vec<Problem>,
    },
    /// A file without times has another number of hours than a year.
    #[error("{found} hours of data; a year has 8760, a leap year 8784")]
    NotAYear {
        /// Hours found.
        found: usize,
    },
    /// Too much of the beam falls where the sun is below the horizon.
    #[error(
        "{:.1} % of the year's beam falls into hours without sun, its middle lies {beam_centre_h:+.1} \
         hours from solar noon; check the UTC offset, the longitude and whether times label the \
         start or the end of the hour",
        100.0 * dark_share
    )]
    OutOfStep {
        /// Share of the yearly beam in hours that have the sun below the horizon throughout [-].
        dark_share: f64,
        /// Beam-weighted mean of the solar time less noon, hours.
        beam_centre_h: f64,
    },
    /// The sun's position is not defined for the place or year the file states.
    #[error(transparent)]
    Sun(#[from] SunError),
}

/// One thing wrong with one line.
#[derive(Debug, Clone, PartialEq)]
pub struct Problem {
    /// Line of the file, from 1.
    pub line: u64,
    /// What is wrong.
    pub fault: Fault,
}

/// What is wrong with a line.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub enum Fault {
    /// The line ends before the columns that are needed.
    TooFewColumns {
        /// Columns found.
        found: usize,
        /// Columns needed.
        needed: usize,
    },
    /// A value is not a number.
    NotANumber {
        /// Name of the column.
        column: &'static str,
        /// Text found.
        text: String,
    },
    /// A value is flagged as missing, or empty.
    Missing {
        /// Name of the column.
        column: &'static str,
    },
    /// A value lies outside what is possible.
    Impossible {
        /// Name of the column with its unit.
        column: &'static str,
        /// Value found, in the unit of the file.
        value: f64,
        /// Lowest possible value.
        low: f64,
        /// Highest possible value.
        high: f64,
    },
    /// Date and time name no hour of a year.
    NoSuchHour {
        /// Text found.
        text: String,
    },
    /// The hour was given before.
    Repeated {
        /// Line that gave it first.
        first_line: u64,
    },
    /// Hours that no line gives; the problem's line is the last one before them.
    Absent {
        /// Month of the first absent hour, 1 … 12.
        month: u32,
        /// Its day of the month.
        day: u32,
        /// Its start, hours after midnight.
        hour: u32,
        /// How many hours in a row are absent.
        hours: usize,
    },
    /// A run of missing values is longer than may be bridged; the line is the last one before it.
    LongGap {
        /// Name of the column.
        column: &'static str,
        /// Length of the run, hours.
        hours: usize,
        /// Longest run that may be bridged, hours.
        max_hours: usize,
    },
}

impl fmt::Display for Problem {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let line = self.line;
        match &self.fault {
            Fault::TooFewColumns { found, needed } => {
                write!(f, "line {line}: {found} columns, at least {needed} needed")
            }
            Fault::NotANumber { column, text } => {
                write!(f, "line {line}: {column} is \"{text}\", not a number")
            }
            Fault::Missing { column } => write!(f, "line {line}: {column} is missing"),
            Fault::Impossible {
                column,
                value,
                low,
                high,
            } => {
                write!(
                    f,
                    "line {line}: {column} is {value}, outside {low} to {high}"
                )
            }
            Fault::NoSuchHour { text } => write!(f, "line {line}: no such hour: {text}"),
            Fault::Repeated { first_line } => {
                write!(f, "line {line}: this hour was given on line {first_line}")
            }
            Fault::Absent {
                month,
                day,
                hour,
                hours,
            } => write!(
                f,
                "after line {line}: {hours} h absent from month {month} day {day} {hour:02}:00"
            ),
            Fault::LongGap {
                column,
                hours,
                max_hours,
            } => write!(
                f,
                "after line {line}: {column} is missing for {hours} h, at most {max_hours} h are bridged"
            ),
        }
    }
}

fn spelled_out(problems: &[Problem]) -> String {
    let mut text = format!("{} problems in the hours", problems.len());
    for problem in problems.iter().take(SPELLED_OUT) {
        text.push_str("\n  ");
        text.push_str(&problem.to_string());
    }
    let unsaid = problems.len().saturating_sub(SPELLED_OUT);
    if unsaid > 0 {
        text.push_str(&format!("\n  and {unsaid} more"));
    }
    if problems
        .iter()
        .any(|problem| matches!(problem.fault, Fault::Missing { .. } | Fault::Absent { .. }))
    {
        text.push_str("\n  missing values are bridged only when that is asked for");
    }
    text
}
