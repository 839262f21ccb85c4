//! How the process ends: the documented exit codes.

use std::process::ExitCode;

/// How the process ends.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Exit {
    /// Done.
    Done,
    /// Done, but no design keeps every limit.
    NothingFeasible,
    /// The command line or a file that it names is wrong; nothing was run.
    BadInput,
    /// Done, but too many evaluations failed.
    TooManyFailed,
    /// A file could not be read or written, or the run folder is damaged.
    Storage,
    /// Stopped by Ctrl-C; the run can be taken up again.
    Interrupted,
    /// Stopped by a termination signal; the run can be taken up again.
    Terminated,
}

/// The codes for people.
pub const HELP: &str = "Exit codes:
  0    done
  1    done, but no design keeps every limit
  2    the command line or a file that it names is wrong; nothing was run
  3    done, but more than 1 % of the evaluations failed
  4    a file could not be read or written, or the run folder is damaged
  130  stopped by Ctrl-C; the same command takes the run up again
  143  stopped by a termination signal; the same command takes the run up again";

/// Share of failed evaluations above which a search is not to be trusted.
pub const MOST_FAILED_SHARE: f64 = 0.01;

impl Exit {
    /// The number handed to the caller.
    pub const fn code(self) -> u8 {
        match self {
            Self::Done => 0,
            Self::NothingFeasible => 1,
            Self::BadInput => 2,
            Self::TooManyFailed => 3,
            Self::Storage => 4,
            Self::Interrupted => 130,
            Self::Terminated => 143,
        }
    }
}

impl From<Exit> for ExitCode {
    fn from(exit: Exit) -> Self {
        exit.code().into()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_code_is_told_to_people() {
        let all = [
            Exit::Done,
            Exit::NothingFeasible,
            Exit::BadInput,
            Exit::TooManyFailed,
            Exit::Storage,
            Exit::Interrupted,
            Exit::Terminated,
        ];
        for exit in all {
            let start = format!("\n  {:<5}", exit.code());
            assert!(HELP.contains(&start), "{exit:?}");
        }
        let failed = format!("{} %", 100.0 * MOST_FAILED_SHARE);
        assert!(HELP.contains(&failed));
    }
}
