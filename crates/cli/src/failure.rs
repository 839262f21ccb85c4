//! What can go wrong, where, what to do about it, and the exit code it ends in.

use std::io;
use std::path::PathBuf;

use model::{CaseError, DemandFault, RaysError};
use report::ReportError;
use scenario::ScenarioErrors;
use sky::{SunError, SyntheticError, WeatherError};
use store::{CrashAtError, StoreError};
use study::SpaceError;

use crate::exit::Exit;
use crate::lines::LineProblem;

/// Why a command could not be carried out.
#[derive(Debug, thiserror::Error)]
pub enum Failure {
    /// A file that was named cannot be read.
    #[error("cannot read {}: {source}", path.display())]
    Unreadable {
        /// The file.
        path: PathBuf,
        /// The reason given by the operating system.
        source: io::Error,
    },
    /// The scenario is wrong.
    #[error("{} in the scenario\n{}", counted(.0), indented(.0))]
    Scenario(#[from] ScenarioErrors),
    /// The weather file is wrong.
    #[error("{}: {source}", path.display())]
    Weather {
        /// The file.
        path: PathBuf,
        /// What is wrong with it.
        source: WeatherError,
    },
    /// The weather's columns cannot be taken from their file.
    #[error("{}: {source}", path.display())]
    Columns {
        /// The file.
        path: PathBuf,
        /// What is wrong with it.
        source: ReportError,
    },
    /// The hourly demand is wrong.
    #[error("{}: {source}", path.display())]
    Demand {
        /// The file.
        path: PathBuf,
        /// What is wrong with it.
        source: DemandFault,
    },
    /// No year can be made from the monthly sums.
    #[error("[weather] {0}")]
    Synthetic(#[from] SyntheticError),
    /// Lines of a table are wrong.
    #[error("{} in {}\n{}", report::figures::counted(problems.len(), "problem"), path.display(), listed(problems))]
    Lines {
        /// The file.
        path: PathBuf,
        /// What is wrong, line by line.
        problems: Vec<LineProblem>,
    },
    /// The field cannot be traced.
    #[error("{0}")]
    Rays(#[from] RaysError),
    /// The sun cannot be told where the field stands.
    #[error("{0}")]
    Sun(#[from] SunError),
    /// The scenario's parts don't go together.
    #[error("{0}")]
    Case(#[from] CaseError),
    /// The opened values make no space to search.
    #[error("the opened values make no space to search: {0}")]
    Space(#[from] SpaceError),
    /// The run folder holds a search of something else.
    #[error("{} holds a search of other inputs\n{differences}", folder.display())]
    OtherInputs {
        /// The run folder.
        folder: PathBuf,
        /// What is different, a line each.
        differences: String,
    },
    /// The run folder lacks something, or holds something that cannot be read.
    #[error("{}: {problem}", path.display())]
    Folder {
        /// The file or folder.
        path: PathBuf,
        /// What is wrong with it.
        problem: String,
    },
    /// The manifest of a run folder cannot be read.
    #[error("{}: {problem}", path.display())]
    Manifest {
        /// The file.
        path: PathBuf,
        /// What is wrong with it.
        problem: String,
    },
    /// The run folder is of another format.
    #[error("{} has format {found}, this program reads and writes format {known}", folder.display())]
    OtherFormat {
        /// The run folder.
        folder: PathBuf,
        /// Its format.
        found: u64,
        /// The program's.
        known: u32,
    },
    /// The row asked for is none of the run's.
    #[error("{} has no design {row}; its rows go from 0 to {last}", run.display())]
    NoSuchRow {
        /// The run folder.
        run: PathBuf,
        /// The row asked for.
        row: u32,
        /// The last row.
        last: usize,
    },
    /// A value of a row cannot be found in the space of designs any more.
    #[error("design {row} has a {key} that the scenario no longer allows")]
    OffSpace {
        /// The row asked for.
        row: u32,
        /// The opened key.
        key: &'static str,
    },
    /// No verb has this name.
    #[error("there is no verb {verb:?}; there are {verbs}")]
    NoSuchVerb {
        /// The name.
        verb: String,
        /// All names.
        verbs: String,
    },
    /// The threads asked for cannot be started.
    #[error("cannot start the threads: {0}")]
    Threads(String),
    /// A crash point for tests is not one.
    #[error("TAUTFIELD_CRASH_AT: {0}")]
    CrashAt(#[from] CrashAtError),
    /// The signals that stop a search cannot be listened to.
    #[error("cannot listen to signals: {0}")]
    Signals(io::Error),
    /// The run folder cannot be used.
    #[error("{0}")]
    Store(#[from] StoreError),
    /// A table or chart cannot be made.
    #[error("{0}")]
    Report(#[from] ReportError),
    /// Stdout cannot be written.
    #[error("cannot write the result: {0}")]
    Output(io::Error),
}

impl Failure {
    /// The exit it ends in.
    pub const fn exit(&self) -> Exit {
        match self {
            Self::Unreadable { .. }
            | Self::Scenario(_)
            | Self::Weather { .. }
            | Self::Columns { .. }
            | Self::Demand { .. }
            | Self::Synthetic(_)
            | Self::Lines { .. }
            | Self::Rays(_)
            | Self::Sun(_)
            | Self::Case(_)
            | Self::Space(_)
            | Self::OtherInputs { .. }
            | Self::NoSuchRow { .. }
            | Self::OffSpace { .. }
            | Self::NoSuchVerb { .. }
            | Self::Threads(_)
            | Self::CrashAt(_)
            | Self::Store(StoreError::OtherScenario { .. }) => Exit::BadInput,
            Self::Folder { .. }
            | Self::Manifest { .. }
            | Self::OtherFormat { .. }
            | Self::Signals(_)
            | Self::Store(_)
            | Self::Report(_)
            | Self::Output(_) => Exit::Storage,
        }
    }

    /// What to do about it, where the message does not say so itself.
    pub const fn hint(&self) -> Option<&'static str> {
        match self {
            Self::Unreadable { .. } => Some(
                "paths are taken from where you stand, weather files from where the scenario \
                 stands; `tautfield new > FILE` writes a scenario to start from",
            ),
            Self::Scenario(_) => {
                Some("`tautfield new` prints every key with its unit, range and default")
            }
            Self::Weather {
                source: WeatherError::Hours { .. },
                ..
            } => Some(
                "mend the file, or let weather.bridged_gap, such as \"3 h\", bridge what is missing or \
                 impossible with straight lines",
            ),
            Self::OtherInputs { .. } => {
                Some("choose another --out, or bring the old values back; prices may change freely")
            }
            Self::Store(StoreError::Io { .. }) => Some(
                "make room, or make the folder one that you may write to, and run the same command \
                 again; what it has evaluated is kept",
            ),
            Self::Folder { .. } => {
                Some("run the search with this --out again; what it has evaluated is kept")
            }
            Self::Manifest { .. } => Some(
                "take the manifest away and run the search with this --out again; what it has \
                 evaluated is kept in the journal",
            ),
            Self::OtherFormat { .. } => {
                Some("search again into a new folder, or use the program that wrote this one")
            }
            _ => None,
        }
    }
}

fn counted(errors: &ScenarioErrors) -> String {
    report::figures::counted(errors.problems.len(), "problem")
}

fn indented(errors: &ScenarioErrors) -> String {
    let lines: Vec<String> = errors
        .problems
        .iter()
        .map(|problem| format!("  {problem}"))
        .collect();
    lines.join("\n")
}

/// Most lines of a table that are told at once.
const MOST_LINES: usize = 20;

fn listed(problems: &[LineProblem]) -> String {
    let mut lines: Vec<String> = problems
        .iter()
        .take(MOST_LINES)
        .map(|problem| format!("  {problem}"))
        .collect();
    if problems.len() > MOST_LINES {
        lines.push(format!("  and {} more", problems.len() - MOST_LINES));
    }
    lines.join("\n")
}
