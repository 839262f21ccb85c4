//! What is typed.

mod check;
mod draw;
mod judge;
mod price;
mod search;
mod setout;
mod spot;
mod subject;
mod vary;
mod versus;

use clap::{Args, Parser, Subcommand, ValueEnum};
use clap_complete::Shell;
use quantity::Units;

use crate::exit;
use crate::failure::Failure;

pub use check::CheckArgs;
pub use draw::DrawArgs;
pub use judge::JudgeArgs;
pub use price::PriceArgs;
pub use search::SearchArgs;
pub use setout::SetoutArgs;
pub use spot::SpotArgs;
pub use subject::{Settings, SubjectArgs};
pub use vary::VaryArgs;
pub use versus::{Rival, VersusArgs};

/// Finds, for a field of strings of small mirrors around a tower, or of heliostats, the cheapest
/// delivered kilowatt-hour over a year.
#[derive(Debug, Parser)]
#[command(version, max_term_width = 80, after_help = exit::HELP)]
pub struct Arguments {
    /// Threads to work with [default: one for each core]; results never depend on them.
    #[arg(long, global = true, value_name = "N", value_parser = clap::value_parser!(u32).range(1..=1024))]
    threads: Option<u32>,
    /// Units to tell lengths, areas, masses and forces in; files, JSON and charts keep to SI, values of
    /// a scenario and rates to the units they are written in.
    #[arg(long, global = true, value_enum, value_name = "UNITS", default_value_t = UnitsAsked::Si)]
    pub units: UnitsAsked,
    /// What to do.
    #[command(subcommand)]
    pub verb: Verb,
}

/// What to do.
#[derive(Debug, Subcommand)]
pub enum Verb {
    /// Print a commented scenario to start from.
    New,
    /// Check a scenario and its weather; print every value with its unit and origin.
    Check(CheckArgs),
    /// Price one design: its energy, bill, money and carbon.
    Price(PriceArgs),
    /// Search for the cheapest design; write tables and charts into a run folder.
    Search(SearchArgs),
    /// Search rivals with equal effort for the same duty and hold them against one another.
    Versus(VersusArgs),
    /// Judge the fast model of light by rays, for instants or the year.
    Judge(JudgeArgs),
    /// Set a field out for crew and purchaser: posts, settings, lines, drives, loads, stock.
    Setout(SetoutArgs),
    /// Vary what the cheapest design of a finished search rests on: prices, finance, its values.
    Vary(VaryArgs),
    /// Tell where the beams of surveyed strings fall, hour by hour, and which mirrors pass.
    Spot(SpotArgs),
    /// Draw the charts of a finished run folder again.
    Draw(DrawArgs),
    /// Print every rate of the bill with its range, year, source, carbon and life, as a file to change.
    Rates(ReadArgs),
    /// Print every column of every table with its unit and meaning.
    Glossary(ReadArgs),
    /// Print the method book: every model with its equation, source, validity, and how far off it is.
    Method(ReadArgs),
    /// Print the JSON schema of scenario files.
    Schema,
    /// Print what a shell needs to complete this program's words.
    Completions {
        /// The shell.
        shell: Shell,
    },
    /// Print the manual page, of all verbs or of one.
    Man {
        /// The verb.
        verb: Option<String>,
    },
}

/// How what is known beforehand is printed.
#[derive(Debug, Args)]
pub struct ReadArgs {
    /// Print JSON.
    #[arg(long)]
    pub json: bool,
}

/// Units to tell in.
#[derive(Clone, Copy, Debug, ValueEnum)]
pub enum UnitsAsked {
    /// Metres, tonnes, newtons.
    Si,
    /// Feet, pounds, pounds of force.
    Us,
}

impl Arguments {
    /// Keeps to the number of threads asked for.
    pub fn limit_threads(&self) -> Result<(), Failure> {
        let Some(threads) = self.threads else {
            return Ok(());
        };
        rayon::ThreadPoolBuilder::new()
            .num_threads(threads as usize)
            .build_global()
            .map_err(|error| Failure::Threads(error.to_string()))
    }
}

impl From<UnitsAsked> for Units {
    fn from(asked: UnitsAsked) -> Self {
        match asked {
            UnitsAsked::Si => Self::Si,
            UnitsAsked::Us => Self::Us,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_command_line_holds_together() {
        use clap::CommandFactory;
        Arguments::command().debug_assert();
    }
}
