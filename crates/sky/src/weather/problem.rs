//! What can be wrong with a weather file.

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
    #[error("{}", spelled_out(problems, *counted))]
    Hours {
        /// Every problem, in the order of lines.
        problems: Vec<Problem>,
        /// What its rows are counted by.
        counted: Counted,
    },
    /// Columns that were handed over do not hold what they must.
    #[error("{what}")]
    Columns {
        /// What is missing or wrong.
        what: String,
    },
    /// A file without times has another number of hours than a year.
    #[error("{found} hours of data; a year has 8760, a leap year 8784")]
    NotAYear {
        /// Hours found.
        found: usize,
    },
    /// Rows are not evenly spread over the hour.
    #[error("rows are {minutes} min apart; an hour must hold a whole number of them")]
    Step {
        /// Commonest distance of two rows, minutes.
        minutes: usize,
    },
    /// More than one year where one is wanted.
    #[error("the file holds the years {first} to {last}; cut it down to one of them")]
    SeveralYears {
        /// First year.
        first: i32,
        /// Last year.
        last: i32,
    },
    /// Nothing in the bytes tells the format.
    #[error(
        "the format of the weather file is not recognised: it is no Parquet, and its first lines are \
         of none of {}; say which it is, or write it as one of them",
        known.join(", ")
    )]
    UnknownFormat {
        /// Formats of text that can be read.
        known: Vec<&'static str>,
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

/// What the rows of a file are counted by.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Counted {
    /// Lines of a text, its head among them, from 1.
    #[default]
    Lines,
    /// Rows of values, from 1.
    Rows,
}

impl Counted {
    const fn word(self) -> &'static str {
        match self {
            Self::Lines => "line",
            Self::Rows => "row",
        }
    }
}

/// One thing wrong with one line.
#[derive(Debug, Clone, PartialEq)]
pub struct Problem {
    /// Line or row of the file, from 1.
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
    /// Beam while the sun is well below the horizon.
    BeamAtNight {
        /// Name of the column with its unit.
        column: &'static str,
        /// Value found [W/m²].
        value: f64,
    },
    /// A time lies between those that the other rows lead to expect.
    BetweenSteps {
        /// Minutes from row to row.
        step_min: usize,
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
        /// Its start on the file's clock, hours after midnight.
        hour: u32,
        /// Minutes after that hour.
        minute: u32,
        /// How many hours in a row are absent.
        hours: f64,
    },
    /// A run of missing values is longer than may be bridged; the line is the last one before it.
    LongGap {
        /// Name of the column.
        column: &'static str,
        /// Length of the run, hours.
        hours: f64,
        /// Longest run that may be bridged, hours.
        max_hours: f64,
    },
}

impl Fault {
    /// Whether bridging covers it when that is asked for.
    pub(super) fn is_bridged(&self) -> bool {
        matches!(
            self,
            Self::Missing { .. } | Self::Impossible { .. } | Self::BeamAtNight { .. }
        )
    }
}

impl Problem {
    /// What is wrong, and where, in words.
    #[must_use]
    pub fn words(&self, counted: Counted) -> String {
        let at = format!("{} {}", counted.word(), self.line);
        match &self.fault {
            Fault::TooFewColumns { found, needed } => {
                format!("{at}: {found} columns, at least {needed} needed")
            }
            Fault::NotANumber { column, text } => {
                format!("{at}: {column} is \"{text}\", not a number")
            }
            Fault::Missing { column } => format!("{at}: {column} is missing"),
            Fault::Impossible {
                column,
                value,
                low,
                high,
            } => format!("{at}: {column} is {value}, outside {low} to {high}"),
            Fault::BeamAtNight { column, value } => {
                format!("{at}: {column} is {value} while the sun is below the horizon")
            }
            Fault::BetweenSteps { step_min } => {
                format!("{at}: the time does not lie on the rows' steps of {step_min} min")
            }
            Fault::NoSuchHour { text } => format!("{at}: no such hour: {text}"),
            Fault::Repeated { first_line } => {
                format!(
                    "{at}: this hour was given on {} {first_line}",
                    counted.word()
                )
            }
            Fault::Absent {
                month,
                day,
                hour,
                minute,
                hours,
            } => format!(
                "after {at}: {hours} h absent from month {month} day {day} {hour:02}:{minute:02}"
            ),
            Fault::LongGap {
                column,
                hours,
                max_hours,
            } => format!(
                "after {at}: {column} is missing for {hours} h, at most {max_hours} h are bridged"
            ),
        }
    }
}

fn spelled_out(problems: &[Problem], counted: Counted) -> String {
    let mut text = match problems.len() {
        1 => "1 problem in the hours".to_owned(),
        many => format!("{many} problems in the hours"),
    };
    for problem in problems.iter().take(SPELLED_OUT) {
        text.push_str("\n  ");
        text.push_str(&problem.words(counted));
    }
    let unsaid = problems.len().saturating_sub(SPELLED_OUT);
    if unsaid > 0 {
        text.push_str(&format!("\n  and {unsaid} more"));
    }
    if problems
        .iter()
        .any(|Problem { fault, .. }| fault.is_bridged() || matches!(fault, Fault::Absent { .. }))
    {
        text.push_str("\n  missing and impossible values are bridged only when that is asked for");
    }
    text
}
